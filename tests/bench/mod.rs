//! A bench, paper and orders for tests of every folder.

pub mod batches;
pub mod hostile;
#[allow(dead_code, reason = "the records bench reads what the tests do not")]
pub mod instances;
pub mod mortal;

pub use instances::shipped;

use cardwright::diagnostics::Spanned;
use cardwright::folds::Fold;
use cardwright::measure::{Currency, Length, Money, Size, Thickness, Unit};
use cardwright::orders::{Envelope, Extras, Liner, LinerKind, Mat, Order, OrderLine};
use cardwright::plan::JSON_SCHEMA;
use cardwright::stock::{RoughEdges, Sheet, SheetKind};
use cardwright::workshop::{
    EnvelopeKind, EnvelopeRules, GrainRule, Keep, Lift, PageSize, Rates, Spares, Trimmer, Workshop,
};
use proptest::prelude::ProptestConfig;

/// So many cases that a law has something to say about. Others, such as orders that cannot be made, are rejected and not
/// counted. Where these are more than twice as many, the law fails: it is asked about the wrong cases.
pub fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        max_global_rejects: cases * 2,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// What the schema of `plan.json` has against a plan.
pub fn schema_faults(plan: &serde_json::Value) -> Vec<String> {
    let schema: serde_json::Value = serde_json::from_str(JSON_SCHEMA).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    validator.iter_errors(plan).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

/// A length in inches.
pub fn inches(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

/// A length in millimetres.
pub fn mm(text: &str) -> Length {
    Length::parse(text, Unit::Millimetre).unwrap()
}

/// A size in inches.
pub fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap().unwrap()
}

/// A plain bench that measures in inches, with no blade, no squaring and a 15 in knife.
pub fn workshop() -> Workshop {
    Workshop {
        unit: Unit::Inch,
        currency: Currency::new("USD").unwrap(),
        page: PageSize::Letter,
        trimmer: Trimmer {
            knife: inches("15"),
            graduation: inches("1/16"),
            blade: Length::ZERO,
            squaring: Length::ZERO,
            lift: Lift { thickness: Thickness::from_micrometres(1500), sheets: Some(5) },
            smallest_hold: Length::ZERO,
            reach: inches("15"),
            waiting: 10,
            stages: None,
        },
        keep: Keep { short: inches("1"), long: inches("4"), value: 30 },
        spares: Spares { percent: 5, at_least: 1 },
        grain: GrainRule::Prefer,
        envelope: EnvelopeRules {
            kind: EnvelopeKind::Wrap,
            clear_long: inches("1/4"),
            clear_short: inches("1/8"),
            side_flap: None,
            top_flap: None,
            liner_inset: inches("1/4"),
            ..EnvelopeRules::default()
        },
        rates: Rates {
            labour_per_hour: Money::from_minor(1800),
            overhead_percent: 15,
            margin_percent: 30,
            hours_per_day: 6,
            days_per_week: 7,
            gauge: 20,
            stroke: 6,
            score: 8,
            fold: 6,
            stick: 20,
            envelope: 60,
            ..Rates::default()
        },
        ..Workshop::default()
    }
}

/// A full sheet, none on hand, one in a pack for 1.10.
pub fn sheet(id: &str, paper: &str, size: Size) -> Sheet {
    let rough_edges = RoughEdges::Four;
    Sheet { price: Some(Money::from_minor(110)), rough_edges, ..Sheet::plain(id, paper, size) }
}

/// An offcut, one on hand.
pub fn offcut(id: &str, paper: &str, size: Size) -> Sheet {
    Sheet { kind: SheetKind::Offcut, on_hand: 1, ..Sheet::plain(id, paper, size) }
}

/// A line that asks for ten cards of fern paper.
pub fn line(name: &str, card: Size, fold: Fold) -> OrderLine {
    OrderLine {
        name: Spanned::nowhere(name.to_owned()),
        card: Spanned::nowhere(card),
        fold,
        count: Spanned::nowhere(10),
        papers: Spanned::nowhere(vec!["fern".to_owned()]),
        liner: None,
        mats: Vec::new(),
        envelope: Envelope::None,
        goes_in: None,
        with: Vec::new(),
        finish: Vec::new(),
        extras: Extras::default(),
        turn: None,
        due: None,
        note: String::new(),
    }
}

/// A panel inside the card.
pub fn panel(paper: &str) -> Liner {
    Liner { paper: Spanned::nowhere(paper.to_owned()), kind: LinerKind::Panel }
}

/// A front layer that shows `inset` of the card on each side.
pub fn mat(paper: &str, inset: Length) -> Mat {
    Mat { paper: Spanned::nowhere(paper.to_owned()), inset }
}

/// A batch.
pub fn order(lines: Vec<OrderLine>) -> Order {
    Order { name: "spring".to_owned(), lines }
}
pub mod workroom;
