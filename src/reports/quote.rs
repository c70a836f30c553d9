//! What the batch costs, ready to be told.

use super::{Batch, answers, words};
use crate::diagnostics::listed;
use crate::formats::{self, PostRules};
use crate::job::Job;
use crate::measure::{Money, Unit};
use crate::quote::{
    self, Costs, FinishedSet, LinePrices, LineQuote, MoreSheets, PostAnswer, RoomierEnvelope, STEPS,
};

/// What a batch costs, line by line and in all.
#[derive(Clone, Debug, PartialEq)]
pub struct QuoteReport {
    /// The lines.
    pub rows: Vec<QuoteRow>,
    /// The sums.
    pub total: Amounts,
    /// Whether any sundries are charged.
    pub has_sundries: bool,
    /// Whether any finishes are.
    pub has_finishes: bool,
    /// The currency's code.
    pub currency: String,
    /// What the customer is asked for.
    pub asked: AskedRows,
    /// What resellers pay, in a sentence; empty where there are none.
    pub wholesale: String,
    /// The answer in short.
    pub sentence: String,
    /// Whether it is asked for: somebody has set a rate or a price, and it comes to something.
    pub is_asked: bool,
    /// What was reckoned with.
    pub rates: String,
    /// Whose rules for letters, as of when.
    pub rules: String,
    /// The papers that are cut and have no price, sorted; they are not counted.
    pub unpriced: Vec<String>,
    /// Which lines the post takes as what, in a sentence; `None` where none is posted.
    pub posted: Option<String>,
}

/// What the customer is asked for, without the currency; what does not matter is empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AskedRows {
    /// What is added to reach the least order.
    pub least: String,
    /// Percent of tax, and the tax.
    pub tax: Option<PartAsked>,
    /// All that is to be paid.
    pub total: String,
    /// Percent of the deposit, and the deposit.
    pub deposit: Option<PartAsked>,
}

/// A part of a sum.
#[derive(Clone, Debug, PartialEq)]
pub struct PartAsked {
    /// So many percent of it.
    pub percent: String,
    /// The amount.
    pub amount: String,
}

/// What one line costs.
#[derive(Clone, Debug, PartialEq)]
pub struct QuoteRow {
    /// Its name.
    pub line: String,
    /// Cards ordered.
    pub cards: u64,
    /// The amounts.
    pub amounts: Amounts,
    /// What a card costs, to the nearest minor unit.
    pub card_cost: String,
    /// What a card should sell for, to the nearest minor unit.
    pub card_price: String,
    /// What resellers pay for all cards; empty where there are none.
    pub wholesale: String,
    /// What a finished set weighs; empty where it is not known.
    pub weight: String,
    /// How thick it is; empty where it is not known.
    pub thickness: String,
    /// What the post says; empty for a card that is not posted.
    pub post: Posting,
    /// What a card would sell for if so many were ordered of this line alone; empty where it is not known.
    pub steps: Vec<String>,
    /// What one more card would add to the price of the batch; empty where it is not known.
    pub one_more: String,
    /// Why that is much; empty where it is not, or nobody knows.
    pub why_more: String,
}

/// What the post says to a finished set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Posting {
    /// The lines whose sets lie in its envelope, or that it goes alone where it also lies in another: `with reply in it`,
    /// `alone`; empty where there is nothing of that kind.
    pub with: String,
    /// The class that takes it, and up to which weight; `not taken` where none does.
    pub class: String,
    /// Why not something better.
    pub why: String,
    /// How much it could grow within that; empty where it is no letter.
    pub room: String,
    /// The roomier envelope that the post takes better, and as what: `US A7: letter`, with the weight where that differs; empty
    /// where there is none.
    pub roomier: String,
    /// What it saves for all cards, with the currency; empty where the workshop does not say what stamps cost.
    pub saves: String,
    /// What to do about a dark envelope; empty where it is none.
    pub dark: String,
    /// What a stamp costs; empty where the workshop does not say so.
    pub stamp: String,
}

/// The parts of a price, without the currency.
#[derive(Clone, Debug, PartialEq)]
pub struct Amounts {
    /// Paper used, less what is kept.
    pub paper: String,
    /// Envelopes bought.
    pub envelopes: String,
    /// Ribbon, seals and the like.
    pub sundries: String,
    /// What finishes cost beside the work.
    pub finishes: String,
    /// Work at the bench.
    pub labour: String,
    /// On all of these.
    pub overhead: String,
    /// All of these.
    pub cost: String,
    /// What is earned.
    pub margin: String,
    /// What it should sell for.
    pub price: String,
}

/// What machines and people need to read an address (common practice, no source).
const DARK: &str = "Dark envelope: write the address on a light label";

/// Lines that are named for a class of the post; the rest is counted.
const NAMED: usize = 4;

/// The quote of a batch.
pub fn quote(batch: &Batch) -> QuoteReport {
    let quote = quote::quote(batch.made);
    let rates = &batch.made.job.workshop.rates;
    let has_sundries = quote.total.sundries > Money::ZERO;
    let has_finishes = quote.total.finishes > Money::ZERO;
    let rules = formats::rules_of(&batch.made.job.workshop.post.rules);
    let lines = quote.lines.iter().enumerate();
    let rows: Vec<QuoteRow> =
        lines.map(|(at, line)| row(line, batch.prices.get(at), batch)).collect();
    QuoteReport {
        posted: by_class(&rows),
        rows,
        has_sundries,
        has_finishes,
        total: amounts(&quote.total, batch),
        currency: batch.made.job.workshop.currency.code().to_owned(),
        asked: asked(&quote, batch),
        wholesale: wholesale(&quote, batch),
        sentence: sentence(&quote, batch),
        is_asked: quote.total.price() > Money::ZERO && has_prices(&batch.made.job),
        rates: format!(
            "{}Paper: what is used, offcuts like new paper, less what is kept, shared by area. Work: {} an hour{}. \
             Overhead: {} % of paper, envelopes{}{} and work. Margin: {} % of the price.",
            answers::made_of(batch)
                .map(|part| format!("For what is made: {part}. "))
                .unwrap_or_default(),
            batch.made.job.workshop.currency.with_code(rates.labour_per_hour),
            match rates.setup_minutes {
                0 => String::new(),
                minutes => format!(", with {minutes} min for each line"),
            },
            rates.overhead_percent,
            if has_sundries { ", sundries" } else { "" },
            if has_finishes { ", finishes" } else { "" },
            rates.margin_percent
        ),
        rules: rules.map(PostRules::told).unwrap_or_default(),
        unpriced: quote.unpriced,
    }
}

fn asked(quote: &quote::Quote, batch: &Batch) -> AskedRows {
    let (currency, rates) = (&batch.made.job.workshop.currency, &batch.made.job.workshop.rates);
    let asked = &quote.asked;
    let part = |percent: String, amount: Money| {
        (amount > Money::ZERO).then(|| PartAsked { percent, amount: currency.number(amount) })
    };
    let least =
        if asked.least > Money::ZERO { currency.number(asked.least) } else { String::new() };
    AskedRows {
        least,
        tax: part(rates.tax_percent.to_string(), asked.tax),
        total: currency.number(asked.total()),
        deposit: part(rates.deposit_percent.to_string(), asked.deposit),
    }
}

/// `Wholesale, 60 % of the price: 317.53 USD, 0.12 to 1.58 a card.`
fn wholesale(quote: &quote::Quote, batch: &Batch) -> String {
    let workshop = &batch.made.job.workshop;
    let Some(percent) = workshop.rates.wholesale_percent else { return String::new() };
    let prices = quote.lines.iter().map(|line| line.wholesale.unwrap_or_default());
    let all = workshop.currency.with_code(prices.clone().sum());
    let each = a_card(
        quote.lines.iter().zip(prices).map(|(line, price)| price.shared_by(line.cards)),
        batch,
    );
    format!("Wholesale, {percent} % of the price: {all}, {each}.")
}

/// `2.61 a card`, `0.20 to 2.61 a card`.
fn a_card(each: impl Iterator<Item = Money> + Clone, batch: &Batch) -> String {
    let currency = &batch.made.job.workshop.currency;
    match (each.clone().min(), each.max()) {
        (Some(least), Some(most)) if least == most => {
            format!("{} a card", currency.number(least))
        }
        (Some(least), Some(most)) => {
            format!("{} to {} a card", currency.number(least), currency.number(most))
        }
        _ => String::new(),
    }
}

/// Whether anybody has said what work, paper or envelopes cost.
fn has_prices(Job { stock, workshop, .. }: &Job) -> bool {
    let priced = stock.sheets.iter().any(|sheet| sheet.price.is_some());
    let bought = stock.supplies().any(|(_, supply)| supply.price.is_some());
    workshop.has_rates || priced || bought || workshop.envelope.price > Money::ZERO
}

fn row(line: &LineQuote, prices: Option<&LinePrices>, batch: &Batch) -> QuoteRow {
    let currency = &batch.made.job.workshop.currency;
    let told = |money: Option<Money>| money.map(|it| currency.number(it)).unwrap_or_default();
    let steps = prices.map(|prices| {
        let each = prices
            .steps
            .iter()
            .zip(STEPS)
            .map(|(price, count)| told(price.map(|price| price.shared_by(count))));
        each.collect()
    });
    let each = |money: Money| batch.made.job.workshop.currency.number(money.shared_by(line.cards));
    let LineQuote { costs, set, .. } = line;
    QuoteRow {
        line: line.line.clone(),
        cards: line.cards,
        amounts: amounts(costs, batch),
        card_cost: each(costs.cost()),
        card_price: each(costs.price()),
        wholesale: told(line.wholesale),
        weight: set
            .weight
            .map(|weight| weight.told(batch.made.job.workshop.unit))
            .unwrap_or_default(),
        thickness: thickness(set, batch),
        post: posted(line, batch).unwrap_or_default(),
        steps: steps.unwrap_or_default(),
        one_more: told(prices.and_then(|prices| prices.one_more)),
        why_more: prices.map(|prices| why_more(line, prices)).unwrap_or_default(),
    }
}

/// Why one more card of a line costs more than two of the others, or takes another pack: `1 more pack of 25 fern-12 has
/// to be bought`.
fn why_more(line: &LineQuote, prices: &LinePrices) -> String {
    let packs: Vec<String> =
        prices.takes.iter().filter(|more| more.packs > 0).map(more_packs).collect();
    let each = line.costs.price().shared_by(line.cards);
    let is_much = prices.one_more.is_some_and(|more| more > each * 2);
    let sheets: Vec<String> = prices
        .takes
        .iter()
        .filter(|more| is_much && more.packs == 0 && more.used > 0)
        .map(|more| format!("{} more {}", more.used, more.sheet))
        .collect();
    let have =
        |all: &[String], first: u64| if all.len() == 1 && first == 1 { "has" } else { "have" };
    let count = |of: fn(&MoreSheets) -> u64| prices.takes.iter().map(of).find(|count| *count > 0);
    if !packs.is_empty() {
        let first = count(|more| more.packs).unwrap_or_default();
        return format!("{} {} to be bought", listed(&packs), have(&packs, first));
    }
    match sheets.is_empty() {
        true => String::new(),
        false => {
            let first = count(|more| more.used).unwrap_or_default();
            format!("{} {} to be cut", listed(&sheets), have(&sheets, first))
        }
    }
}

/// `1 more pack of 25 fern-12`; `1 more fern-12` where they are sold one by one.
fn more_packs(more: &MoreSheets) -> String {
    let MoreSheets { sheet, packs, pack, .. } = more;
    match (packs, pack) {
        (_, 1) => format!("{packs} more {sheet}"),
        (1, _) => format!("1 more pack of {pack} {sheet}"),
        _ => format!("{packs} more packs of {pack} {sheet}"),
    }
}

/// `letter, up to 1 oz: invitation and reply; parcel: box`, in the order of the lines; behind it the roomier envelope
/// that the post takes better: `letter nonmachinable, up to 1.00 oz: thanks (in US A7: letter)`.
fn by_class(rows: &[QuoteRow]) -> Option<String> {
    let mut classes: Vec<(&Posting, Vec<String>)> = Vec::new();
    for row in rows.iter().filter(|row| !row.post.class.is_empty()) {
        let same = |it: &Posting| (&it.class, &it.roomier) == (&row.post.class, &row.post.roomier);
        let known = classes.iter_mut().find(|(post, _)| same(post));
        match known {
            Some((_, lines)) => lines.push(row.posted()),
            None => classes.push((&row.post, vec![row.posted()])),
        }
    }
    let told = classes.into_iter().map(|(post, mut lines)| {
        let more = lines.split_off(lines.len().min(NAMED)).len();
        if more > 0 {
            lines.push(format!("{more} more"));
        }
        let roomier = match post.roomier.as_str() {
            "" => String::new(),
            roomier => format!(" (in {roomier})"),
        };
        format!("{}: {}{roomier}", post.class, listed(&lines))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| told.join("; "))
}

fn amounts(costs: &Costs, batch: &Batch) -> Amounts {
    let number = |money: Money| batch.made.job.workshop.currency.number(money);
    Amounts {
        paper: number(costs.paper),
        envelopes: number(costs.envelopes),
        sundries: number(costs.sundries),
        finishes: number(costs.finishes),
        labour: number(costs.labour),
        overhead: number(costs.overhead),
        cost: number(costs.cost()),
        margin: number(costs.margin),
        price: number(costs.price()),
    }
}

/// `0.052 in`, `1.31 mm`; with `about` before it where it is a guess.
fn thickness(set: &FinishedSet, batch: &Batch) -> String {
    let Some(thickness) = set.thickness else { return String::new() };
    let about = if set.guessed { "about " } else { "" };
    format!("{about}{}", batch.made.job.workshop.style().thickness(thickness.length()))
}

fn posted(line: &LineQuote, batch: &Batch) -> Option<Posting> {
    let LineQuote { set, cards, .. } = line;
    let post = set.post.as_ref()?;
    let currency = &batch.made.job.workshop.currency;
    let (style, unit) = (batch.made.job.workshop.style(), batch.made.job.workshop.unit);
    let told = |money: Option<Money>| money.map(|it| currency.with_code(it)).unwrap_or_default();
    let better = |it: &RoomierEnvelope| match it.post.up_to == post.up_to {
        true => format!("{}: {}", it.name, it.post.verdict.word()),
        false => format!("{}: {}", it.name, goes_as(&it.post, unit)),
    };
    let saves = set.roomier.as_ref().and_then(|it| it.saves).map(|each| each * *cards);
    Some(Posting {
        with: with(set),
        class: goes_as(post, unit),
        why: post.verdict.why(style),
        room: post.room.map(|room| room.told(style, set.guessed)).unwrap_or_default(),
        roomier: set.roomier.as_ref().map(better).unwrap_or_default(),
        saves: told(saves),
        dark: if set.is_dark { DARK.to_owned() } else { String::new() },
        stamp: told(post.price),
    })
}

/// What is judged together: `with reply in it`; or `alone`, of what is sent back by itself.
fn with(set: &FinishedSet) -> String {
    match set.holds.as_slice() {
        [] if set.is_enclosed => "alone".to_owned(),
        [] => String::new(),
        inner => format!("with {} in it", listed(inner)),
    }
}

/// `letter, up to 1.00 oz`; `postcard`, where all have one price; `parcel`.
fn goes_as(post: &PostAnswer, unit: Unit) -> String {
    match (post.verdict.class, post.up_to) {
        (None, _) => post.verdict.word().to_owned(),
        (Some(class), None) if class.steps.is_empty() => class.name.clone(),
        (Some(class), None) => format!("{}, if it is light enough", class.name),
        (Some(class), Some(up_to)) => {
            let up_to = match unit {
                Unit::Inch => up_to.ounces(),
                Unit::Millimetre | Unit::Centimetre => up_to.grams(),
            };
            format!("{}, up to {up_to}", class.name)
        }
    }
}

impl QuoteRow {
    /// What is posted: `invitation`, `invitation with reply in it`, `reply alone`.
    fn posted(&self) -> String {
        match self.post.with.as_str() {
            "" => self.line.clone(),
            with => format!("{} {with}", self.line),
        }
    }
}

impl Posting {
    /// Why not something better, how much room there is, and what a roomier envelope would bring, each a sentence.
    pub fn remarks(&self) -> String {
        let Posting { with, why, room, roomier, saves, dark, .. } = self;
        let dark = Some(dark.clone()).filter(|dark| !dark.is_empty());
        let with = (!with.is_empty()).then(|| format!("Judged {with}"));
        let room = (!room.is_empty()).then(|| format!("Could be {room}"));
        let saves = if saves.is_empty() { String::new() } else { format!(", saves {saves}") };
        let roomier = (!roomier.is_empty()).then(|| format!("In {roomier}{saves}"));
        let why = Some(why.clone()).filter(|why| !why.is_empty());
        [with, why, roomier, room, dark].into_iter().flatten().collect::<Vec<_>>().join(". ")
    }
}

/// `521.81 USD, 0.20 to 2.61 a card; your cost 365.27: paper 129.42, work 188.21, overhead 47.64`.
fn sentence(quote: &quote::Quote, batch: &Batch) -> String {
    let currency = &batch.made.job.workshop.currency;
    let Costs { paper, envelopes, sundries, finishes, labour, overhead, .. } = quote.total;
    let parts = [
        ("paper", paper),
        ("envelopes", envelopes),
        ("sundries", sundries),
        ("finishes", finishes),
        ("work", labour),
        ("overhead", overhead),
    ];
    let parts = parts.into_iter().filter(|(_, money)| *money > Money::ZERO);
    let parts = parts.map(|(name, money)| format!("{name} {}", currency.number(money)));
    let parts = parts.collect::<Vec<_>>().join(", ");
    let parts = if parts.is_empty() { parts } else { format!(": {parts}") };
    let each = quote.lines.iter().map(|line| line.costs.price().shared_by(line.cards));
    let card = a_card(each, batch);
    let tax = match quote.asked.tax {
        Money::ZERO => String::new(),
        _ => format!(" ({} with tax)", currency.number(quote.asked.total())),
    };
    let least = match quote.asked.least {
        Money::ZERO => String::new(),
        _ => ", your least order".to_owned(),
    };
    let unpriced = words::not_counted(&quote.unpriced);
    format!(
        "{}{tax}{least}, {card}; your cost {}{parts}{unpriced}",
        currency.with_code(quote.asked.net),
        currency.number(quote.total.cost()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;

    #[test]
    fn the_lines_add_up_to_the_batch() {
        for made in [fixture::lesson(), fixture::fair()] {
            let report = quote(&made.batch());
            let currency = &made.job.workshop.currency;
            let sum = |what: fn(&Amounts) -> &String| -> (i64, i64) {
                let minor = |text: &String| currency.parse(text).unwrap().minor();
                let rows = report.rows.iter().map(|row| minor(what(&row.amounts))).sum();
                (rows, minor(what(&report.total)))
            };
            for (rows, total) in [
                sum(|it| &it.paper),
                sum(|it| &it.envelopes),
                sum(|it| &it.sundries),
                sum(|it| &it.finishes),
                sum(|it| &it.labour),
                sum(|it| &it.overhead),
                sum(|it| &it.cost),
                sum(|it| &it.margin),
                sum(|it| &it.price),
            ] {
                assert_eq!(rows, total);
            }
        }
    }

    #[test]
    fn only_parts_that_cost_something_are_told() {
        let mut made = fixture::fair();
        let told = quote(&made.batch()).sentence;
        assert!(told.contains(" USD, ") && told.contains(" a card; your cost "), "{told}");
        assert!(told.contains(": paper ") && !told.contains("envelopes"), "{told}");
        made.job.stock.sheets.iter_mut().for_each(|sheet| sheet.price = None);
        made.job.workshop.rates.overhead_percent = 0;
        let told = quote(&made.batch()).sentence;
        assert!(told.contains(": work ") && !told.contains("paper "), "{told}");
        assert!(!told.contains("overhead"), "{told}");
        assert!(
            told.ends_with("; fern, kraft and plum have no price and are not counted"),
            "{told}"
        );
    }

    #[test]
    fn what_the_post_says_fits_in_a_line() {
        let mut row = quote(&fixture::lesson().batch()).rows.remove(0);
        let mut of = |line: &str, class: &str, roomier: &str| {
            row.line = line.to_owned();
            row.post.class = class.to_owned();
            row.post.roomier = roomier.to_owned();
            row.clone()
        };
        let letter = "letter, up to 1.00 oz";
        let [a, b] = ["a", "b"].map(|line| of(line, letter, ""));
        let c = of("c", "letter nonmachinable", "US A7: letter");
        let rows = [a, c, b, of("d", "parcel", ""), of("e", "", "")];
        let told =
            "letter, up to 1.00 oz: a and b; letter nonmachinable: c (in US A7: letter); parcel: d";
        assert_eq!(by_class(&rows).as_deref(), Some(told));
        assert_eq!(by_class(&rows[4..]), None, "nothing is posted");
    }

    #[test]
    fn remarks_are_sentences() {
        let mut posting = Posting { room: "0.47 oz heavier".to_owned(), ..Posting::default() };
        assert_eq!(posting.remarks(), "Could be 0.47 oz heavier");
        posting.why = "no letter: length to height is 1, at least 1.3".to_owned();
        posting.roomier = "US A7: letter".to_owned();
        posting.saves = "8.00 USD".to_owned();
        assert_eq!(
            posting.remarks(),
            "no letter: length to height is 1, at least 1.3. In US A7: letter, saves 8.00 USD. \
             Could be 0.47 oz heavier"
        );
        assert_eq!(Posting::default().remarks(), "");
    }

    /// 18 USD an hour, 15 % on the cost, 30 % of the price.
    #[test]
    fn a_price_follows_from_the_rates() {
        let made = fixture::lesson();
        let report = quote(&made.batch());
        let minor = |text: &String| made.job.workshop.currency.parse(text).unwrap().minor();
        let seconds = made.schedule.times.total() as i64;
        assert_eq!(minor(&report.total.labour), (seconds * 1800 + 1800) / 3600);
        let base = minor(&report.total.paper) + minor(&report.total.labour);
        assert_eq!(minor(&report.total.overhead), (base * 15 + 50) / 100);
        let (cost, price) = (minor(&report.total.cost), minor(&report.total.price));
        assert!((price * 70 - cost * 100).abs() <= 50, "{cost} {price}");
    }
}
