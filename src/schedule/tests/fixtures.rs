//! A workshop, a plan, an order for tests.

use super::super::{Schedule, schedule};
use crate::job::Job;
use crate::measure::{Currency, Length, Money, Size, Thickness, Unit, Worth};
use crate::orders::Order;
use crate::pieces::Bill;
use crate::plan::{Node, Plan, Run, SCHEMA, Totals, UsedSheet};
use crate::stock::{Back, Print, RoughEdges, Sheet, SheetKind, Stock};
use crate::workshop::{
    EnvelopeKind, EnvelopeRules, GrainRule, Keep, Lift, PageSize, Rates, Spares, Trimmer, Workshop,
};

/// `numerator / denominator` inches.
pub fn inch(numerator: i64, denominator: i64) -> Length {
    Length::from_inch_parts(numerator, denominator)
}

pub fn workshop() -> Workshop {
    Workshop {
        unit: Unit::Inch,
        currency: Currency::new("USD").unwrap(),
        page: PageSize::Letter,
        labels: None,
        trimmer: Trimmer {
            knife: inch(15, 1),
            graduation: inch(1, 16),
            blade: Length::ZERO,
            squaring: Length::ZERO,
            lift: Lift { thickness: Thickness::from_micrometres(1500), sheets: Some(5) },
            smallest_hold: Length::ZERO,
            reach: inch(15, 1),
            waiting: 1_000,
            stages: None,
        },
        keep: Keep { short: inch(1, 1), long: inch(4, 1), value: 30 },
        spares: Spares { percent: 5, at_least: 1 },
        grain: GrainRule::Prefer,
        envelope: EnvelopeRules {
            kind: EnvelopeKind::Wrap,
            clear_long: inch(1, 4),
            clear_short: inch(1, 8),
            side_flap: None,
            top_flap: None,
            liner_inset: inch(1, 4),
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
            stack: 10,
            score: 8,
            fold: 6,
            stick: 20,
            envelope: 60,
            ..Rates::default()
        },
        ..Workshop::default()
    }
}

/// A sheet of fern at hand, 12 x 12 in.
pub fn sheet(id: &str) -> Sheet {
    Sheet { on_hand: 1, ..Sheet::plain(id, "fern", Size::new(inch(12, 1), inch(12, 1))) }
}

/// A plan of these layouts, each with its number of sheets and the kind of its sheet.
pub fn plan(runs: Vec<(Node, u64, SheetKind)>) -> Plan {
    let sheets = runs.iter().enumerate().map(|(number, (layout, count, kind))| UsedSheet {
        id: format!("S{number}"),
        kind: *kind,
        paper: "fern".to_owned(),
        width: layout.size.width,
        height: layout.size.height,
        grain: None,
        print: Print::Free,
        back: Back::Free,
        rough_edges: if *kind == SheetKind::Sheet { RoughEdges::Four } else { RoughEdges::None },
        on_hand: *count,
        used: *count,
        packs_bought: 0,
        pack: 1,
        price: None,
        value: Worth::default(),
    });
    Plan {
        supplies: Vec::new(),
        schema: SCHEMA.to_owned(),
        ticks_per_mm: Length::TICKS_PER_MM,
        order: "test".to_owned(),
        currency: "USD".to_owned(),
        pieces: Vec::new(),
        sheets: sheets.collect(),
        runs: (1..)
            .zip(runs)
            .map(|(number, (layout, count, _))| Run {
                id: format!("R{number}"),
                sheet: format!("S{}", number - 1),
                count,
                layout,
            })
            .collect(),
        offcuts: Vec::new(),
        totals: Totals::default(),
        proof: Vec::new(),
    }
}

/// The schedule of a plan for a job of these.
pub fn scheduled(
    plan: &Plan,
    bill: &Bill,
    order: &Order,
    workshop: &Workshop,
    stock: &Stock,
) -> Schedule {
    schedule(plan, &job(bill, order, workshop, stock))
}

/// A job of these.
pub fn job(bill: &Bill, order: &Order, workshop: &Workshop, stock: &Stock) -> Job {
    Job {
        order: order.clone(),
        stock: stock.clone(),
        workshop: workshop.clone(),
        bill: bill.clone(),
        before: None,
        part: Vec::new(),
    }
}

/// The schedule of the cuts of a plan alone.
pub fn cuts(plan: &Plan, workshop: &Workshop) -> Schedule {
    let order = Order { name: "test".to_owned(), lines: Vec::new() };
    scheduled(plan, &Bill::default(), &order, workshop, &Stock::default())
}
