//! The short answers of a report: can it be made, what to buy and use, what is left, how long, what it costs, how sure.

use super::quote::QuoteReport;
use super::report::{Answers, Purchase};
use super::{Batch, gained, rest, sureness};
use crate::diagnostics::{counted, listed};
use crate::measure::{Area, Money, Ratio};
use crate::orders::{SetCount, told_made};
use crate::plan::Totals;
use crate::schedule::{self, BenchEffort, OrderNeeds, Schedule, Stage};
use crate::stock::SheetKind;

/// Kinds of sheets to buy that are named; the rest is on the shopping list.
const NAMED: usize = 4;

/// Whether the order can be made; a plan is the proof that it can.
pub fn verdict(batch: &Batch) -> String {
    if let Some(rest) = rest::verdict(batch) {
        return rest;
    }
    let part = &batch.made.job.part;
    let lines = &batch.made.job.order.lines;
    let cards: u64 = lines.iter().map(|line| line.count.value).sum();
    if !part.is_empty() {
        let ordered: u64 = part.iter().map(|count| count.ordered).sum();
        let open = if part.iter().any(SetCount::is_open) { ", perhaps more" } else { "" };
        return match part.len() {
            1 => format!("{cards} of {ordered} cards can be made{open}"),
            kinds => {
                let made = told_made(part);
                format!("{cards} of {ordered} cards of {kinds} kinds can be made{open}: {made}")
            }
        };
    }
    match (cards, lines.len()) {
        (1, _) => "the card can be made".to_owned(),
        (cards, 1) => format!("all {cards} cards can be made"),
        (cards, kinds) => format!("all {cards} cards of {kinds} kinds can be made"),
    }
}

/// Where only a part of what was ordered is made, how much of each line that is.
pub fn made_of(batch: &Batch) -> Option<String> {
    let part = &batch.made.job.part;
    (!part.is_empty()).then(|| told_made(part))
}

/// The answers to what a person asks first.
pub fn answers(batch: &Batch, purchases: &[Purchase], quote: &QuoteReport) -> Answers {
    let plan = &batch.made.plan;
    let currency = &batch.made.job.workshop.currency;
    let priced = quote.unpriced.is_empty();
    Answers {
        before: rest::short(batch),
        buy: buy(batch, purchases),
        used: used(batch),
        left: left(&plan.totals, plan.offcuts.iter().map(|kept| kept.count).sum()),
        time: time(batch),
        price: quote.is_asked.then(|| quote.sentence.clone()),
        post: quote.posted.clone(),
        proof: sureness::sentence(batch),
        gain: gained::short(&batch.made.gains, currency, priced),
    }
}

impl Answers {
    /// Each answer with its word, in the order of the summary, without those that do not matter here.
    pub fn rows(&self) -> Vec<(&'static str, &str)> {
        let Answers { before, buy, used, left, time, price, post, proof, gain } = self;
        let rows = [
            ("Before", before.as_ref()),
            ("Buy", Some(buy)),
            ("Use", Some(used)),
            ("Left", Some(left)),
            ("Time", time.as_ref()),
            ("Price", price.as_ref()),
            ("Post", post.as_ref()),
            ("Proof", Some(proof)),
            ("Gain", gain.as_ref()),
        ];
        rows.into_iter().filter_map(|(word, answer)| Some((word, answer?.as_str()))).collect()
    }
}

/// `about 10 h 27 min: 295 cuts, 21 gauge settings, up to 9 stacks waiting; 2 days of 6 h, start by 2027-03-18`.
fn time(batch: &Batch) -> Option<String> {
    let Schedule { strokes, gauge_settings, effort, times, .. } = &batch.made.schedule;
    let job = &batch.made.job;
    let table = schedule::timetable(&batch.made.schedule, &job.order, &job.workshop.rates);
    let some = |count: u64, noun| (count > 0).then(|| counted(count, noun));
    let about = (times.total() > 0).then(|| format!("about {}", duration(times.total())));
    let cuts = joined([some(*strokes, "cut"), some(*gauge_settings, "gauge setting")], ", ");
    let waiting = some(effort.waiting, "stack").map(|stacks| format!("up to {stacks} waiting"));
    let cuts = joined([cuts, waiting], ", ");
    let days = (table.days > 1).then(|| format!("{} days of {}", table.days, duration(table.day)));
    let start = table.dates.first().map(|date| format!("start by {date}"));
    joined([joined([about, cuts], ": "), joined([days, start], ", ")], "; ")
}

/// What there is of two parts.
fn joined(parts: [Option<String>; 2], between: &str) -> Option<String> {
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join(between))
}

/// How near the gauge settings come to the fewest that there can be, and what more or less room for stacks would change.
pub fn settings(schedule: &Schedule) -> String {
    let Schedule { gauge_settings, gauges, effort, .. } = schedule;
    let settings = counted(*gauge_settings, "gauge setting");
    let first = match gauge_settings {
        0 => return "Nothing has to be cut.".to_owned(),
        1 => format!("{settings} for all cuts."),
        _ if gauge_settings == gauges => {
            format!("{settings}, one for each distance: the fewest for these layouts.")
        }
        _ => format!(
            "{settings} for {}: these layouts need {} at least.",
            counted(*gauges, "distance"),
            effort.least_settings
        ),
    };
    joined([Some(first), room(effort)], " ").unwrap_or_default()
}

/// `Up to 9 stacks wait at once, 3 at least in any order: with room for 12, 20 settings are enough; with room for 7, 24 settings are
/// needed.`
fn room(effort: &BenchEffort) -> Option<String> {
    let BenchEffort { waiting, least_waiting, with_less, with_more, .. } = effort;
    let waiting = match waiting {
        0 => return None,
        1 => "No more than 1 stack waits at any time".to_owned(),
        _ if waiting == least_waiting => {
            format!("Up to {waiting} stacks wait at once, and no order of these cuts needs fewer")
        }
        _ if *least_waiting > 0 => {
            format!("Up to {waiting} stacks wait at once, {least_waiting} at least in any order")
        }
        _ => format!("Up to {waiting} stacks wait at once"),
    };
    let others = [(with_more, "are enough"), (with_less, "are needed")];
    let others = others.map(|(other, verb)| {
        let OrderNeeds { settings, waiting } = (*other)?;
        let settings = counted(settings, "setting");
        let verb =
            if settings.starts_with("1 ") { verb.replace("are", "is") } else { verb.to_owned() };
        Some(format!("with room for {waiting}, {settings} {verb}"))
    });
    let others = joined(others, "; ");
    Some(format!("{}.", joined([Some(waiting), others], ": ").unwrap_or_default()))
}

/// `7 sheets and 2 packs, 83.20 USD: 7 fern-12 and 2 packs of 25 mist-18`.
fn buy(batch: &Batch, purchases: &[Purchase]) -> String {
    if purchases.is_empty() {
        return "nothing".to_owned();
    }
    let noun = |purchase: &Purchase| if purchase.is_single { purchase.kind } else { "pack" };
    let bought = |wanted: &str| -> u64 {
        let those = purchases.iter().filter(|purchase| noun(purchase) == wanted);
        those.map(|purchase| purchase.packs).sum()
    };
    let nouns = ["sheet", "envelope", "sundry", "pack"].map(|noun| (bought(noun), noun));
    let parts = nouns.into_iter().filter(|(count, _)| *count > 0);
    let parts: Vec<String> = parts.map(|(count, noun)| counted(count, noun)).collect();
    let cost = match batch.made.plan.spend() {
        Money::ZERO => String::new(),
        spend => format!(", {}", batch.made.job.workshop.currency.with_code(spend)),
    };
    let mut names: Vec<String> = purchases.iter().take(NAMED).map(purchase).collect();
    if purchases.len() > NAMED {
        names.push(counted((purchases.len() - NAMED) as u64, "more kind"));
    }
    format!("{}{cost}: {}", listed(&parts), listed(&names))
}

fn purchase(purchase: &Purchase) -> String {
    let Purchase { name, packs, pack, is_single, is_measured, .. } = purchase;
    let packs_of = || format!("{} of {pack}", counted(*packs, "pack"));
    match (is_single, is_measured) {
        (true, _) => format!("{packs} {name}"),
        (_, true) => format!("{} of {name}", packs_of()),
        (_, false) => format!("{} {name}", packs_of()),
    }
}

fn used(batch: &Batch) -> String {
    let used = |kind: SheetKind| -> u64 {
        let sheets = batch.made.plan.sheets.iter();
        sheets.filter(|sheet| sheet.kind == kind).map(|sheet| sheet.used).sum()
    };
    let totals = &batch.made.plan.totals;
    let share = percent(totals.piece_area, totals.sheet_area);
    let offcuts = |count| format!("{} from the drawer", counted(count, "offcut"));
    let used = match (used(SheetKind::Sheet), used(SheetKind::Offcut)) {
        (sheets, 0) => counted(sheets, "sheet"),
        (0, count) => offcuts(count),
        (sheets, count) => format!("{}, and {}", counted(sheets, "sheet"), offcuts(count)),
    };
    format!("{used}; {share} of the paper becomes pieces")
}

fn left(totals: &Totals, offcuts: u64) -> String {
    let waste = totals.waste_area + totals.blade_area;
    let waste = (waste > Area::ZERO).then(|| percent(waste, totals.sheet_area));
    let kept = (offcuts > 0).then(|| format!("{} for the drawer", counted(offcuts, "offcut")));
    match (kept, waste) {
        (None, None) => "nothing".to_owned(),
        (None, Some(waste)) => format!("only waste, {waste} of the paper"),
        (Some(kept), None) => kept,
        (Some(kept), Some(waste)) => format!("{kept}; {waste} is waste"),
    }
}

/// `92.4 %`; never `0 %` of something, never `100 %` of not quite all, and `under 0.1 %` of next to
/// nothing.
fn percent(part: Area, whole: Area) -> String {
    tenths_of_percent(part.square_ticks(), whole.square_ticks())
}

/// The same of two whole numbers.
pub fn from_ratio(part: i64, whole: i64) -> String {
    tenths_of_percent(part.into(), whole.into())
}

/// The same of two exact amounts; `part` is rounded up, so that it is never told too small.
pub fn part(part: &Ratio, whole: &Ratio) -> String {
    const MANY: i128 = 1_000_000_000;
    tenths_of_percent((&(part * MANY) / whole).ceil(), if whole.is_positive() { MANY } else { 0 })
}

fn tenths_of_percent(part: i128, whole: i128) -> String {
    if part > 0 && part * 1000 < whole {
        return "under 0.1 %".to_owned();
    }
    let permille = Area::from_square_ticks(part).permille_of(Area::from_square_ticks(whole));
    let permille = if part < whole { permille.min(999) } else { permille };
    match permille % 10 {
        0 => format!("{} %", permille / 10),
        tenths => format!("{}.{tenths} %", permille / 10),
    }
}

/// The word for a stage.
pub const fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Cutting => "Cutting",
        Stage::Scoring => "Scoring",
        Stage::Folding => "Folding",
        Stage::Finishing => "Finishing",
        Stage::Sticking => "Gluing",
        Stage::Envelopes => "Envelopes",
        Stage::Boxes => "Boxes",
        Stage::Packing => "Packing",
    }
}

/// `40 s`, `12 min`, `2 h 5 min`: rounded to the nearest minute from two minutes on.
pub fn duration(seconds: u64) -> String {
    if seconds < 120 {
        return format!("{seconds} s");
    }
    let minutes = (seconds + 30) / 60;
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::made::Made;
    use crate::reports::{fixture, quote};

    #[test]
    fn durations_turn_to_minutes_at_two() {
        assert_eq!(duration(0), "0 s");
        assert_eq!(duration(119), "119 s");
        assert_eq!(duration(120), "2 min");
        assert_eq!(duration(149), "2 min");
        assert_eq!(duration(150), "3 min");
        assert_eq!(duration(3_569), "59 min");
        assert_eq!(duration(3_570), "1 h");
        assert_eq!(duration(7_740), "2 h 9 min");
    }

    #[test]
    fn a_percentage_never_hides_a_rest() {
        assert_eq!(from_ratio(0, 10), "0 %");
        assert_eq!(from_ratio(1, 1_000_000), "under 0.1 %");
        assert_eq!(from_ratio(999, 1_000_000), "under 0.1 %");
        assert_eq!(from_ratio(1_000, 1_000_000), "0.1 %");
        assert_eq!(from_ratio(924, 1_000), "92.4 %");
        assert_eq!(from_ratio(999_999, 1_000_000), "99.9 %");
        assert_eq!(from_ratio(10, 10), "100 %");
    }

    fn told(made: &Made, purchases: &[Purchase]) -> Answers {
        answers(&made.batch(), purchases, &quote::quote(&made.batch()))
    }

    #[test]
    fn a_small_batch_is_told_in_its_own_words() {
        let made = fixture::lesson();
        assert_eq!(verdict(&made.batch()), "all 7 cards of 2 kinds can be made");
        let answers = told(&made, &[]);
        assert_eq!(answers.buy, "nothing");
        assert_eq!(answers.used, "1 sheet; 87.7 % of the paper becomes pieces");
        assert_eq!(answers.left, "1 offcut for the drawer; 1.9 % is waste");
        assert_eq!(
            answers.time.as_deref(),
            Some("about 2 h 9 min: 8 cuts, 5 gauge settings, up to 2 stacks waiting")
        );
    }

    #[test]
    fn sheets_and_packs_are_counted_and_named() {
        let made = fixture::fair();
        let pack = crate::reports::lists::purchases(&made.batch()).remove(0);
        let single = Purchase { is_single: true, packs: 7, ..pack.clone() };
        let told = |purchases: &[Purchase]| told(&made, purchases).buy;
        let packs = "2 packs, 12.00 USD: 2 packs of 25 kraft-12";
        assert_eq!(told(std::slice::from_ref(&pack)), packs);
        assert_eq!(told(std::slice::from_ref(&single)), "7 sheets, 12.00 USD: 7 kraft-12");
        let both = "7 sheets and 2 packs, 12.00 USD: 2 packs of 25 kraft-12 and 7 kraft-12";
        assert_eq!(told(&[pack, single]), both);
    }

    #[test]
    fn many_purchases_are_summed_up() {
        let made = fixture::fair();
        let pack = crate::reports::lists::purchases(&made.batch()).remove(0);
        let single = Purchase { is_single: true, name: "fern-12".to_owned(), ..pack };
        let told = |count| told(&made, &vec![single.clone(); count]).buy;
        let three = "2 fern-12, 2 fern-12, 2 fern-12";
        assert!(told(NAMED).ends_with(&format!(": {three} and 2 fern-12")));
        assert!(told(NAMED + 1).ends_with(&format!(": {three}, 2 fern-12 and 1 more kind")));
        assert!(told(NAMED + 2).ends_with(&format!(": {three}, 2 fern-12 and 2 more kinds")));
    }

    #[test]
    fn paper_that_costs_nothing_has_no_cost() {
        let mut made = fixture::fair();
        made.plan.totals.spend = Money::ZERO;
        let purchases = crate::reports::lists::purchases(&made.batch());
        assert_eq!(told(&made, &purchases).buy, "2 packs: 2 packs of 25 kraft-12");
    }

    #[test]
    fn what_is_nothing_is_not_told() {
        let mut totals = fixture::lesson().plan.totals;
        assert_eq!(left(&totals, 0), "only waste, 1.9 % of the paper");
        (totals.waste_area, totals.blade_area) = (Area::ZERO, Area::ZERO);
        assert_eq!(left(&totals, 2), "2 offcuts for the drawer");
        assert_eq!(left(&totals, 0), "nothing");
        let mut made = fixture::lesson();
        (made.schedule.strokes, made.schedule.gauge_settings) = (0, 0);
        made.schedule.effort = BenchEffort::default();
        assert_eq!(told(&made, &[]).time.as_deref(), Some("about 2 h 9 min"));
        made.schedule.times = schedule::Times::default();
        assert_eq!(told(&made, &[]).time, None);
    }

    #[test]
    fn days_and_the_day_to_start_are_told() {
        let mut made = fixture::fair();
        let told = |made: &Made| told(made, &[]).time.unwrap();
        assert!(told(&made).ends_with(" waiting; start by 2031-05-02"), "{}", told(&made));
        made.job.workshop.rates.hours_per_day = 1;
        assert!(told(&made).ends_with("; 3 days of 1 h, start by 2031-04-30"), "{}", told(&made));
        made.job.order.lines.iter_mut().for_each(|line| line.due = None);
        assert!(told(&made).ends_with("; 3 days of 1 h"), "{}", told(&made));
    }

    /// A price is asked for by whoever names a rate, or what paper or envelopes cost.
    #[test]
    fn a_price_is_told_where_somebody_asked_for_it() {
        let mut made = fixture::lesson();
        assert_eq!(told(&made, &[]).price, None);
        made.job.workshop.has_rates = true;
        assert!(told(&made, &[]).price.is_some());
        made.job.workshop.has_rates = false;
        made.job.workshop.envelope.price = Money::from_minor(5);
        assert!(told(&made, &[]).price.is_some());
        let mut made = fixture::fair();
        assert!(told(&made, &[]).price.is_some());
        made.job.stock.sheets.iter_mut().for_each(|sheet| sheet.price = None);
        assert_eq!(told(&made, &[]).price, None);
    }

    #[test]
    fn settings_are_held_against_the_fewest() {
        let told = |gauge_settings, gauges| {
            let effort = BenchEffort { least_settings: gauges, ..BenchEffort::default() };
            settings(&Schedule { gauge_settings, gauges, effort, ..fixture::lesson().schedule })
        };
        assert_eq!(told(0, 0), "Nothing has to be cut.");
        assert_eq!(told(1, 1), "1 gauge setting for all cuts.");
        let each = "5 gauge settings, one for each distance: the fewest for these layouts.";
        assert_eq!(told(5, 5), each);
        let more = "21 gauge settings for 17 distances: these layouts need 17 at least.";
        assert_eq!(told(21, 17), more);
    }

    #[test]
    fn one_card_and_one_kind_have_their_own_words() {
        let mut made = fixture::lesson();
        made.job.order.lines.pop();
        assert_eq!(verdict(&made.batch()), "all 4 cards can be made");
        made.job.order.lines[0].count.value = 1;
        assert_eq!(verdict(&made.batch()), "the card can be made");
    }
}
