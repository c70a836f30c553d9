//! The short answers of a report: can it be made, what to buy, take and leave, how sure, how long.

use super::report::{Answers, Purchase};
use super::{Batch, sureness};
use crate::diagnostics::{counted, listed};
use crate::measure::{Area, Ratio};
use crate::plan::Totals;
use crate::schedule::{self, Schedule, Stage};
use crate::stock::SheetKind;

/// Whether the order can be made; a plan is the proof that it can.
pub fn verdict(batch: &Batch) -> String {
    let lines = &batch.made.job.order.lines;
    let cards: u64 = lines.iter().map(|line| line.count.value).sum();
    match (cards, lines.len()) {
        (1, _) => "the card can be made".to_owned(),
        (cards, 1) => format!("all {cards} cards can be made"),
        (cards, kinds) => format!("all {cards} cards of {kinds} kinds can be made"),
    }
}

/// The answers to what a person asks first.
pub fn answers(batch: &Batch, purchases: &[Purchase]) -> Answers {
    Answers {
        buy: buy(batch, purchases),
        take: take(batch),
        leave: leave(
            &batch.made.plan.totals,
            batch.made.plan.offcuts.iter().map(|kept| kept.count).sum(),
        ),
        sure: sureness::sentence(batch),
        work: format!(
            "{}; the gauge is set {}, the knife comes down {}",
            time(batch),
            times_over(batch.made.schedule.gauge_settings),
            times_over(batch.made.schedule.strokes),
        ),
    }
}

/// `about 10 h 27 min, 2 days of 6 h, to begin on 2027-03-18 at the latest`.
fn time(batch: &Batch) -> String {
    let table = schedule::timetable(
        &batch.made.schedule,
        &batch.made.job.order,
        &batch.made.job.workshop.rates,
    );
    let work = format!("about {}", duration(batch.made.schedule.times.total()));
    let days = match table.days {
        0 | 1 => work,
        days => format!("{work}, {days} days of {}", duration(table.day)),
    };
    match table.dates.first() {
        Some(begin) => format!("{days}, to begin on {begin} at the latest"),
        None => days,
    }
}

/// How near the gauge settings come to the fewest that there can be.
pub fn settings(schedule: &Schedule) -> String {
    let Schedule { gauge_settings, gauges, .. } = *schedule;
    match gauge_settings {
        0 => "Nothing has to be cut.".to_owned(),
        _ if gauge_settings == gauges => {
            format!(
                "The gauge is set {}, to as many distances: fewer cannot do.",
                times_over(gauges)
            )
        }
        _ => format!(
            "The gauge is set {}; there are {gauges} distances to set, and fewer times than that no order can do.",
            times_over(gauge_settings)
        ),
    }
}

fn buy(batch: &Batch, purchases: &[Purchase]) -> String {
    if purchases.is_empty() {
        return "nothing".to_owned();
    }
    let bought = |single: bool| -> u64 {
        let those = purchases.iter().filter(|purchase| (purchase.pack == 1) == single);
        those.map(|purchase| purchase.packs).sum()
    };
    let parts: Vec<String> = [(bought(true), "sheet"), (bought(false), "pack")]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, noun)| counted(count, noun))
        .collect();
    let cost = batch.made.job.workshop.currency.with_code(batch.made.plan.totals.spend);
    format!("{} for {cost}", listed(&parts))
}

fn take(batch: &Batch) -> String {
    let used = |kind: SheetKind| -> u64 {
        let sheets = batch.made.plan.sheets.iter();
        sheets.filter(|sheet| sheet.kind == kind).map(|sheet| sheet.used).sum()
    };
    let totals = &batch.made.plan.totals;
    let share = percent(totals.piece_area, totals.sheet_area);
    let taken = match (used(SheetKind::Sheet), used(SheetKind::Offcut)) {
        (sheets, 0) => counted(sheets, "sheet"),
        (0, offcuts) => format!("{} from the drawer", counted(offcuts, "offcut")),
        (sheets, offcuts) => {
            format!(
                "{} and {} from the drawer",
                counted(sheets, "sheet"),
                counted(offcuts, "offcut")
            )
        }
    };
    format!("{taken}; {share} of the paper becomes pieces")
}

fn leave(totals: &Totals, offcuts: u64) -> String {
    let waste = percent(totals.waste_area + totals.blade_area, totals.sheet_area);
    match offcuts {
        0 => format!("no offcuts worth keeping; {waste} is waste"),
        offcuts => format!("{} for the drawer; {waste} is waste", counted(offcuts, "offcut")),
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

fn times_over(count: u64) -> String {
    match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        count => format!("{count} times"),
    }
}

/// The word for a stage.
pub const fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Cutting => "Cutting",
        Stage::Scoring => "Scoring",
        Stage::Folding => "Folding",
        Stage::Sticking => "Sticking",
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
    use crate::reports::fixture;

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

    #[test]
    fn a_small_batch_is_told_in_its_own_words() {
        let made = fixture::lesson();
        assert_eq!(verdict(&made.batch()), "all 7 cards of 2 kinds can be made");
        let answers = answers(&made.batch(), &[]);
        assert_eq!(answers.buy, "nothing");
        assert_eq!(answers.take, "1 sheet; 87.7 % of the paper becomes pieces");
        assert_eq!(answers.leave, "1 offcut for the drawer; 1.9 % is waste");
    }

    #[test]
    fn single_sheets_are_no_packs() {
        let made = fixture::fair();
        let pack = crate::reports::lists::purchases(&made.batch()).remove(0);
        let single = Purchase { pack: 1, packs: 7, ..pack.clone() };
        let told = |purchases: &[Purchase]| answers(&made.batch(), purchases).buy;
        assert_eq!(told(std::slice::from_ref(&pack)), "2 packs for 12.00 USD");
        assert_eq!(told(std::slice::from_ref(&single)), "7 sheets for 12.00 USD");
        assert_eq!(told(&[pack, single]), "7 sheets and 2 packs for 12.00 USD");
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
