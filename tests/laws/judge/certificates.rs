//! Certificates that prove something: by area, since no pattern holds more area than its sheet.

use super::made::{Made, choices, make};
use crate::bench::cases;
use cardwright::measure::{Money, Size, Worth};
use cardwright::plan::check::Fault;
use cardwright::plan::{Certificate, Level, Proof, Status};
use cardwright::stock::{Counting, Prices, Sheet};
use proptest::prelude::*;
use std::collections::BTreeSet;

/// A tenth of a square inch, rounded down for pieces and up for sheets.
const UNIT: i128 = 1_016_000 * 101_600;

fn area(size: Size) -> i128 {
    size.area().square_ticks()
}

fn ceiling(above: i128, below: i128) -> i128 {
    above / below + i128::from(above % below != 0)
}

/// The sheets of a proof's papers that can be had.
fn sheets<'a>(made: &'a Made, papers: &'a [String]) -> Vec<&'a Sheet> {
    let sheets = made.stock.sheets.iter().filter(|sheet| papers.contains(&sheet.paper));
    sheets.filter(|sheet| sheet.on_hand > 0 || sheet.price.is_some()).collect()
}

/// How the sheets of some papers count.
fn counting<'a>(made: &'a Made, papers: &[String], prices: &'a Prices<'a>) -> Counting<'a> {
    let has = |paper: &str| papers.iter().any(|own| own == paper);
    Counting::of(has, &made.stock, prices, &made.workshop)
}

/// What the area certificate of a level proves, before it is rounded up to sums of sheets.
fn claim(made: &Made, papers: &[String], is_spend: bool) -> (Certificate, i128) {
    let mut certificate = Certificate { scale: 1, ..Certificate::default() };
    let mut scaled = 0;
    for piece in made.bill.pieces.iter().filter(|piece| papers.contains(&piece.papers[0])) {
        let value = area(piece.size) / UNIT;
        certificate.piece_values.insert(piece.id.clone(), value as i64);
        scaled += i128::from(piece.need() + piece.spares()) * value;
    }
    let mut scale = 1;
    let prices = Prices::of(&made.stock, &made.workshop);
    let step = i128::from(counting(made, papers, &prices).units().price.minor());
    if is_spend {
        for sheet in sheets(made, papers) {
            let value = ceiling(area(sheet.size), UNIT);
            certificate.sheet_values.insert(sheet.id.clone(), value as i64);
            scaled -= i128::from(sheet.on_hand) * value;
            if let Some(price) = sheet.price {
                let pack = i128::from(sheet.pack) * value;
                let units = i128::from(price.minor()) / step;
                scale = scale.max(ceiling(pack, units));
            }
        }
    } else {
        certificate.budget_value = Some(0);
        let prices = Prices::of(&made.stock, &made.workshop);
        let counting = counting(made, papers, &prices);
        for sheet in sheets(made, papers) {
            let value = i128::from(counting.count(sheet).units());
            scale = scale.max(ceiling(ceiling(area(sheet.size), UNIT), value));
        }
    }
    certificate.scale = scale as i64;
    (certificate, ceiling(scaled.max(0), scale) * if is_spend { step } else { 1 })
}

fn set<Amount: PartialEq>(level: &mut Level<Amount>, certificate: Certificate, bound: Amount) {
    level.certificate = certificate;
    level.bound = bound;
    level.status = if level.bound == level.value { Status::Optimal } else { Status::Gap };
}

/// Gives every level its area certificate and the bound that it proves.
fn certify(made: &mut Made) {
    for index in 0..made.plan.proof.len() {
        let papers = made.plan.proof[index].papers.clone();
        let (certificate, bound) = claim(made, &papers, true);
        set(&mut made.plan.proof[index].spend, certificate, Money::from_minor(bound as i64));
        let (certificate, bound) = claim(made, &papers, false);
        set(&mut made.plan.proof[index].stock, certificate, Worth::from_units(bound as i64));
    }
}

/// Which amounts up to the value of the second level are worths of sheets that can be had: those on hand, and as many
/// packs as the plan's spend would pay for of each kind alone.
fn sums(made: &Made, proof: &Proof) -> BTreeSet<i64> {
    let prices = Prices::of(&made.stock, &made.workshop);
    let counting = counting(made, &proof.papers, &prices);
    let most = proof.stock.value.units();
    let mut sums = BTreeSet::from([0]);
    for sheet in made.stock.sheets.iter().filter(|sheet| proof.papers.contains(&sheet.paper)) {
        let packs = sheet.price.map_or(0, |price| proof.spend.value.minor() / price.minor()) as u64;
        let value = counting.count(sheet).units();
        for _ in 0..(sheet.on_hand + packs * sheet.pack).min((most / value) as u64) {
            let more: Vec<i64> = sums.iter().map(|sum| sum + value).collect();
            sums.extend(more.into_iter().filter(|sum| *sum <= most));
        }
    }
    sums
}

fn unproven(faults: &[Fault]) -> bool {
    faults.iter().any(|fault| matches!(fault, Fault::Unproven { .. }))
}

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn area_certificates_are_accepted(choices in choices()) {
        let mut made = make(choices);
        certify(&mut made);
        prop_assert_eq!(made.judged(), Ok(()));
    }

    /// Up to the least sum of sheets that is not below what the certificate proves, and no unit further.
    #[test]
    fn a_bound_above_every_sum_is_unproven(choices in choices(), at in any::<prop::sample::Index>()) {
        let mut made = make(choices);
        certify(&mut made);
        prop_assume!(!made.plan.proof.is_empty());
        let at = at.index(made.plan.proof.len());
        let proof = &made.plan.proof[at];
        let (proven, value) = (proof.stock.bound.units(), proof.stock.value.units());
        let sums = sums(&made, proof);
        let least = *sums.range(proven..).next().unwrap();
        // Only the proof can fail, not that a bound is no higher than its value.
        prop_assume!(least < value);
        for (bound, is_proven) in [(least, true), (least + 1, false)] {
            let level = &mut made.plan.proof[at].stock;
            set(level, level.certificate.clone(), Worth::from_units(bound));
            let faults = made.faults();
            prop_assert_eq!(unproven(&faults), !is_proven, "{} of {}: {:?}", bound, value, faults);
            prop_assert_eq!(faults.is_empty(), is_proven, "{:?}", faults);
        }
    }

    #[test]
    fn a_complete_search_may_claim_more(choices in choices()) {
        let mut made = make(choices);
        certify(&mut made);
        for proof in &mut made.plan.proof {
            let value = proof.stock.value;
            let certificate = proof.stock.certificate.clone();
            set(&mut proof.stock, certificate, value);
            proof.stock.complete_search = true;
        }
        prop_assert_eq!(made.judged(), Ok(()));
    }

    #[test]
    fn a_dear_pattern_is_found(choices in choices()) {
        let mut made = make(choices);
        certify(&mut made);
        // The first piece lies on a sheet of its paper, so that a pattern is worth at least as much.
        prop_assume!(!made.plan.proof.is_empty());
        let values = &mut made.plan.proof[0].spend.certificate.piece_values;
        *values.values_mut().next().unwrap() = 1 << 40;
        let faults = made.faults();
        let found = faults.iter().any(|fault| matches!(fault, Fault::CertificatePattern { .. }));
        prop_assert!(found, "{:?}", faults);
    }

    #[test]
    fn a_dear_pack_is_found(choices in choices()) {
        let mut made = make(choices);
        certify(&mut made);
        let priced: Vec<String> = made
            .stock
            .sheets
            .iter()
            .filter(|sheet| sheet.price.is_some())
            .map(|sheet| sheet.id.clone())
            .collect();
        let mut broken = false;
        for proof in &mut made.plan.proof {
            for (id, value) in &mut proof.spend.certificate.sheet_values {
                if priced.contains(id) {
                    *value = 1 << 40;
                    broken = true;
                }
            }
        }
        let faults = made.faults();
        let found = faults.iter().any(|fault| matches!(fault, Fault::CertificatePack { .. }));
        prop_assert_eq!(found, broken, "{:?}", faults);
        prop_assume!(broken);
    }
}

/// A bound may be rounded up to the next sum of whole packs, no further.
#[test]
fn bounds_round_up_to_whole_packs() {
    let mut made = one_sheet();
    let level = &mut made.plan.proof[0].spend;
    // 36 of 144 square inches are a quarter of a sheet of 110: proven is 28, and no spend lies between
    // 0 and 110.
    let certificate = Certificate {
        scale: 1,
        piece_values: [("line.card".to_owned(), 27)].into(),
        sheet_values: [("fern-12".to_owned(), 108)].into(),
        budget_value: None,
    };
    set(level, certificate, Money::from_minor(110));
    assert_eq!(made.judged(), Ok(()));
    // Without a value for the piece nothing is proven.
    let level = &mut made.plan.proof[0].spend;
    level.certificate.piece_values.clear();
    assert!(unproven(&made.faults()));
}

/// One piece of 6 x 6 in from a sheet of 12 x 12 in, everything else thrown away.
fn one_sheet() -> Made {
    use crate::bench::{inches, line, order, sheet, size, workshop};
    use cardwright::cuts::Cut;
    use cardwright::measure::{Axis, Length};
    use cardwright::plan::{Content, Leaf, Node};
    let mut made = make(vec![]);
    made.workshop = workshop();
    (made.workshop.spares.percent, made.workshop.spares.at_least) = (0, 0);
    made.workshop.keep.short = inches("100");
    let mut card = line("line", size("6 x 6"), cardwright::folds::Fold::FLAT);
    card.count.value = 1;
    let mut problems = cardwright::diagnostics::Problems::new();
    made.bill =
        cardwright::pieces::pieces(&order(vec![card]), &made.stock, &made.workshop, &mut problems);
    made.stock.sheets = vec![sheet("fern-12", "fern", size("12 x 12"))];
    let plate = |x: &str, y: &str, text: &str, content| Node {
        x: inches(x),
        y: inches(y),
        size: size(text),
        content,
    };
    let cut = |axis, parts| Content::Cut(Cut::new(axis, inches("6"), parts));
    let piece = plate("0", "0", "6 x 6", Content::Leaf(Leaf::Piece("line.card".to_owned(), false)));
    let below = plate("0", "6", "6 x 6", Content::Leaf(Leaf::Waste));
    let right = plate("6", "0", "6 x 12", Content::Leaf(Leaf::Waste));
    let left = plate("0", "0", "6 x 12", cut(Axis::Height, [piece, below]));
    let layout = plate("0", "0", "12 x 12", cut(Axis::Width, [left, right]));
    let whole = size("12 x 12").area();
    let part = size("6 x 6").area();
    let cost = Money::from_minor(110);
    made.plan = serde_json::from_value(serde_json::json!({
        "schema": "cardwright-plan-1",
        "ticks_per_mm": Length::TICKS_PER_MM,
        "order": "spring",
        "currency": "USD",
        "pieces": [{
            "id": "line.card", "line": "line", "part": "base", "papers": ["fern"],
            "width": inches("6"), "height": inches("6"), "turn": "free",
            "need": 1, "spares": 0, "cut": 1, "scores": [],
        }],
        "sheets": [{
            "id": "fern-12", "kind": "sheet", "paper": "fern",
            "width": inches("12"), "height": inches("12"),
            "on_hand": 0, "used": 1, "packs_bought": 1, "pack": 1, "price": 110, "value": 110,
        }],
        "runs": [{ "id": "R1", "sheet": "fern-12", "count": 1, "layout": layout }],
        "offcuts": [],
        "totals": {
            "spend": cost, "stock": cost, "kept": 0, "sheets_used": 1,
            "sheet_area": whole, "piece_area": part, "offcut_area": "0",
            "waste_area": whole - part, "blade_area": "0", "gauge_settings": 2, "runs": 1,
        },
        "proof": [{
            "papers": ["fern"],
            "spend": {
                "value": cost, "bound": 0, "status": "gap", "complete_search": false,
                "certificate": { "scale": 1, "piece_values": {}, "sheet_values": {} },
            },
            "stock": {
                "value": cost, "bound": 0, "status": "gap", "complete_search": false,
                "certificate":
                    { "scale": 1, "piece_values": {}, "sheet_values": {}, "budget_value": 0 },
            },
        }],
    }))
    .unwrap();
    assert_eq!(made.judged(), Ok(()));
    made
}
