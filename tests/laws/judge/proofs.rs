//! Certificates by hand: each of their rules at its limit.
//!
//! The plan cuts four pieces of 6 x 6 in from a sheet of 12 x 12 in for 1.10. Beside it the shop has a scrap for a
//! cent, from which nothing can be cut, so that every whole amount can be spent.

use super::by_hand::{Tree, above, bench, beside, piece, plan};
use super::made::Made;
use crate::bench::{offcut, sheet, size};
use cardwright::measure::{Money, Worth};
use cardwright::plan::check::{Fault, Unseen, check, check_alone};
use cardwright::plan::{Certificate, FIRST_SCHEMA, Level, Status};
use cardwright::stock::Sheet;
use cardwright::workshop::GrainRule;

fn full() -> Sheet {
    sheet("full", "fern", size("12 x 12"))
}

fn quarters() -> Tree {
    let two = above(piece("a", "6 x 6"), piece("a", "6 x 6"));
    beside(two.clone(), two)
}

fn made() -> Made {
    with(full(), Some(1))
}

/// The plan with such a sheet, and scraps for so much, or none.
fn with(full: Sheet, scrap: Option<i64>) -> Made {
    let mut made = plan(&bench(), full, &quarters());
    let price = scrap.map(Money::from_minor);
    let scraps = scrap.map(|_| Sheet { price, ..sheet("scrap", "fern", size("1 x 1")) });
    made.stock.sheets.extend(scraps);
    // What a unit is depends on all prices.
    let made = made.again();
    assert_eq!(made.judged(), Ok(()));
    made
}

/// The same plan for two sheets, of which one is at hand.
fn twice() -> Made {
    let mut made = made();
    made.plan.runs[0].count = 2;
    made.stock.sheets[0].on_hand = 1;
    made.again()
}

/// What a certificate says: its scale, the value of piece `a` and of the sheet `full`, the budget's rate.
pub fn says(scale: i64, piece: i64, sheet: i64, budget_value: Option<i64>) -> Certificate {
    let (piece_values, sheet_values) =
        ([("a".to_owned(), piece)].into(), [("full".to_owned(), sheet)].into());
    Certificate { scale, piece_values, sheet_values, budget_value }
}

fn claim<Amount: PartialEq>(level: &mut Level<Amount>, bound: Amount, certificate: Certificate) {
    (level.bound, level.certificate) = (bound, certificate);
    level.status = if level.bound == level.value { Status::Optimal } else { Status::Gap };
}

/// What is found against a bound on the spend.
pub fn spend(made: &Made, bound: i64, certificate: Certificate) -> Vec<Fault> {
    let mut made = made.clone();
    let proof = &mut made.plan.proof[0];
    // In units of price, each value is so much smaller.
    let scale = certificate.scale * proof.price_unit.minor();
    let certificate = Certificate { scale, ..certificate };
    claim(&mut proof.spend, Money::from_minor(bound), certificate);
    made.faults()
}

/// What is found against a bound on the worth of the paper used; that and all values of the certificate are in cents, of
/// which each is a whole number of units.
fn stock(made: &Made, bound: i64, certificate: Certificate) -> Vec<Fault> {
    let mut made = made.clone();
    let proof = &mut made.plan.proof[0];
    let [above, below] = proof.unit.unwrap();
    let mut certificate = certificate;
    for value in certificate.piece_values.values_mut().chain(certificate.sheet_values.values_mut())
    {
        *value *= below;
    }
    certificate.scale *= above;
    certificate.budget_value =
        certificate.budget_value.map(|value| value * below * proof.price_unit.minor());
    claim(&mut proof.stock, Worth::from_units(bound * below / above), certificate);
    made.faults()
}

/// What is proven of the worth of the paper used, in cents, where that is all there is to find.
fn proven_stock(made: &Made, bound: i64, certificate: Certificate) -> Option<i128> {
    let [above, below] = made.plan.proof[0].unit.unwrap();
    let units = proven(&stock(made, bound, certificate))?;
    assert_eq!(units * i128::from(above) % i128::from(below), 0, "{units} units");
    Some(units * i128::from(above) / i128::from(below))
}

/// What is proven instead, where that is all there is to find.
fn proven(faults: &[Fault]) -> Option<i128> {
    match faults {
        [] => None,
        [Fault::Unproven { proven, .. }] => Some(*proven),
        faults => panic!("{faults:?}"),
    }
}

#[test]
fn pieces_are_worth_no_more_than_their_sheet() {
    assert_eq!(spend(&made(), 0, says(1, 27, 108, None)), []);
    let found = spend(&made(), 0, says(1, 27, 107, None));
    assert!(
        matches!(
            found[..],
            [Fault::CertificatePattern { found: 108, most: 107, level: "spend", .. }]
        ),
        "{found:?}"
    );
    // At level 2 a sheet may also cost what it is worth, as often as the scale says.
    assert_eq!(stock(&made(), 0, says(1, 27, 0, Some(0))), []);
    assert_eq!(stock(&made(), 0, says(2, 55, 0, Some(0))), []);
    assert_eq!(stock(&made(), 0, says(1, 28, 2, Some(1))), []);
    let found = stock(&made(), 0, says(1, 28, 1, Some(1)));
    assert!(
        matches!(
            found[..],
            [Fault::CertificatePattern { found: 112_000, most: 111_000, level: "stock", .. }]
        ),
        "in thousandths of a cent: {found:?}"
    );
}

#[test]
fn packs_are_worth_no_more_than_their_price() {
    let made = with(Sheet { pack: 5, ..full() }, Some(1));
    let is_pack = |found: Vec<Fault>| match found[..] {
        [] => false,
        [Fault::CertificatePack { .. }] => true,
        _ => panic!("{found:?}"),
    };
    assert!(!is_pack(spend(&made, 0, says(2, 0, 44, None))));
    assert!(is_pack(spend(&made, 0, says(2, 0, 45, None))));
    assert!(!is_pack(stock(&made, 0, says(1, 0, 44, Some(2)))));
    assert!(is_pack(stock(&made, 0, says(9, 0, 45, Some(2)))));
    assert!(is_pack(stock(&made, 0, says(9, 0, 1, Some(0)))));
}

#[test]
fn a_bound_is_the_worth_of_all_pieces_by_the_scale_rounded_up() {
    let proven = |bound, certificate| proven(&spend(&made(), bound, certificate));
    assert_eq!(proven(108, says(1, 27, 108, None)), None);
    assert_eq!(proven(109, says(1, 27, 108, None)), Some(108));
    assert_eq!(proven(108, says(2, 54, 216, None)), None);
    assert_eq!(proven(109, says(2, 54, 216, None)), Some(108));
    // 328 / 3 is 109 and a third.
    assert_eq!(proven(110, says(3, 82, 330, None)), None);
    assert_eq!(proven(110, says(3, 81, 330, None)), Some(108));
    assert_eq!(proven(1, says(1, 0, 0, None)), Some(0));
}

#[test]
fn spares_are_to_be_cut_as_well() {
    let mut made = made();
    (made.bill.pieces[0].shares[0].need, made.bill.pieces[0].shares[0].spares) = (1, 3);
    (made.plan.pieces[0].need, made.plan.pieces[0].spares) = (1, 3);
    assert_eq!(spend(&made, 108, says(1, 27, 108, None)), []);
}

#[test]
fn a_sheet_at_hand_takes_its_worth_off_the_bound() {
    let made = twice();
    assert_eq!(made.plan.proof[0].spend.value, Money::from_minor(110));
    let proven = |bound, certificate| proven(&spend(&made, bound, certificate));
    assert_eq!(proven(108, says(1, 27, 108, None)), None);
    assert_eq!(proven(109, says(1, 27, 108, None)), Some(108));
    assert_eq!(proven(1, says(1, 13, 104, None)), Some(0));
    assert_eq!(proven(2, says(1, 14, 110, None)), None);
    assert_eq!(proven(3, says(1, 14, 110, None)), Some(2));
}

#[test]
fn at_level_two_the_budget_takes_its_rate_off_the_bound() {
    let proven = |bound, certificate| proven_stock(&made(), bound, certificate);
    assert_eq!(proven(110, says(1, 55, 110, Some(1))), None);
    assert_eq!(proven(107, says(1, 54, 110, Some(1))), Some(106));
    assert_eq!(proven(1, says(1, 27, 110, Some(1))), Some(0));
}

/// It is not searched again here: what it claims beyond its certificate is told as on trust.
#[test]
fn a_search_may_claim_more_than_its_certificate_and_is_told() {
    let mut made = made();
    made.plan.proof[0].spend.complete_search = true;
    claim(&mut made.plan.proof[0].spend, Money::from_minor(110), says(1, 0, 0, None));
    let verdict = check(&made.plan, &made.job()).unwrap();
    let [searched] = &verdict.searched[..] else { panic!("{verdict:?}") };
    assert_eq!((searched.level, searched.bound, searched.proven), ("spend", 110, 0));
    assert_eq!(verdict.unseen, [Unseen::Settings]);
    // Nobody has to take on trust what the certificate proves.
    claim(&mut made.plan.proof[0].spend, Money::from_minor(108), says(1, 27, 108, None));
    let verdict = check(&made.plan, &made.job()).unwrap();
    assert_eq!((verdict.searched, verdict.unseen), (vec![], vec![Unseen::Settings]));
}

/// Only whole packs are bought, so that what is proven is rounded up to their prices.
#[test]
fn without_scraps_a_sheet_is_bought_or_not() {
    let made = with(full(), None);
    assert_eq!(spend(&made, 110, says(1, 1, 4, None)), []);
    assert_eq!(proven(&spend(&made, 110, says(1, 0, 0, None))), Some(0));
}

/// At level 2 there are as many sheets as are at hand and the budget buys. Of the saved strips, of 5 each, there are
/// three: nothing lies between 15 and 110.
#[test]
fn what_is_used_is_at_hand_or_within_the_budget() {
    let mut made = twice();
    made.stock.sheets.truncate(1);
    let mut saved = offcut("saved", "fern", size("5 x 4"));
    saved.on_hand = 3;
    made.stock.sheets.push(saved);
    let made = made.again();
    // In units of 0.11 cents a sheet counts 1000, and a strip that is worth 4.58 cents counts 41.
    assert_eq!(made.plan.proof[0].unit, Some([11, 100]));
    let proven = |bound, piece| proven(&stock(&made, bound, says(1, piece, 0, Some(0))));
    assert_eq!(proven(9, 1), None, "8 cents are 73 units, and two strips the next sum");
    assert_eq!(proven(10, 1), Some(82));
    assert_eq!(proven(110, 2), None);
    assert_eq!(proven(111, 2), Some(1000));
    assert_eq!(proven(114, 14), None, "1019 are proven, and 1000 + 41 is the next sum");
    assert_eq!(proven(115, 14), Some(1041));
}

/// A budget of 1.10 buys no more than two scraps for 40: two of them and a sheet make 190, three would make 120.
#[test]
fn a_budget_buys_no_more_than_it_pays_for() {
    let mut made = twice();
    made.stock.sheets[1].price = Some(Money::from_minor(40));
    let made = made.again();
    let proven = |bound| proven_stock(&made, bound, says(1, 14, 0, Some(0)));
    assert_eq!((proven(150), proven(151)), (None, Some(150)));
}

/// A pack of five for 1.10: each sheet counts 22, and the budget buys one pack.
#[test]
fn a_budget_buys_packs_of_sheets() {
    let made = with(Sheet { pack: 5, ..full() }, None);
    assert_eq!(stock(&made, 22, says(4, 1, 0, Some(0))), []);
    let mut made = made;
    made.plan.runs[0].count = 2;
    let made = made.again();
    let proven = |bound| proven_stock(&made, bound, says(4, 1, 0, Some(0)));
    assert_eq!((proven(22), proven(23)), (None, Some(22)));
}

/// A line of no cards asks for no paper, and nothing is to be proven of it.
#[test]
fn a_piece_of_which_none_is_needed_makes_no_group() {
    let mut made = made();
    let mut none = made.bill.pieces[0].clone();
    (none.id, none.papers) = ("none".to_owned(), vec!["moss".to_owned()]);
    none.shares[0].need = 0;
    let mut planned = made.plan.pieces[0].clone();
    (planned.id, planned.papers) = (none.id.clone(), none.papers.clone());
    (planned.need, planned.cut) = (0, 0);
    made.bill.pieces.push(none);
    made.plan.pieces.push(planned);
    assert_eq!(made.judged(), Ok(()));
}

#[test]
fn paper_given_away_is_no_trouble() {
    let made = with(full(), Some(0));
    assert_eq!(spend(&made, 108, says(1, 27, 108, None)), []);
    assert_eq!(stock(&made, 108, says(1, 27, 0, Some(0))), []);
}

#[test]
fn no_number_of_a_certificate_is_below_nothing() {
    let is_number = |found: Vec<Fault>| matches!(found[..], [Fault::CertificateNumber { .. }, ..]);
    assert!(is_number(spend(&made(), 0, says(1, -1, 0, None))));
    assert!(is_number(spend(&made(), 0, says(1, 0, -1, None))));
    assert!(is_number(stock(&made(), 0, says(1, 0, 0, Some(-1)))));
    for scale in [0, -1] {
        assert!(is_number(stock(&made(), 0, says(scale, 0, 0, Some(0)))));
    }
}

#[test]
fn values_too_large_for_a_table_are_told() {
    let found = spend(&made(), 0, says(i64::MAX / 200, i64::MAX / 8, 0, None));
    assert!(matches!(found[..], [Fault::CertificateTooLarge { .. }, ..]), "{found:?}");
}

/// Alone, a plan may value sheets that it does not use, and those that it uses are held against their price.
#[test]
fn alone_unused_sheets_are_unknown() {
    let mut made = made();
    let mut certificate = says(1, 27, 108, None);
    certificate.sheet_values.insert("scrap".to_owned(), 1);
    claim(&mut made.plan.proof[0].spend, Money::from_minor(108), certificate);
    assert_eq!(check_alone(&made.plan, &made.workshop).map(drop), Ok(()));
    claim(&mut made.plan.proof[0].spend, Money::ZERO, says(1, 27, 107, None));
    let found = check_alone(&made.plan, &made.workshop).unwrap_err();
    assert!(matches!(found[..], [Fault::CertificatePattern { .. }]), "{found:?}");
    made.workshop.grain = GrainRule::Strict;
    assert_eq!(check_alone(&made.plan, &made.workshop).unwrap_err(), found, "grain is recorded");
    made.plan.schema = FIRST_SCHEMA.to_owned();
    made.plan.sheets[0].rough_edges = Default::default();
    made.plan.sheets[0].value = Worth::from_units(110);
    let proof = &mut made.plan.proof[0];
    (proof.price_unit, proof.unit) = (Money::from_minor(1), None);
    (proof.stock.value, proof.stock.bound) = (Worth::from_units(110), Worth::from_units(0));
    let verdict = check_alone(&made.plan, &made.workshop).unwrap();
    assert!(verdict.unseen.contains(&Unseen::Bounds), "who knows how pieces may lie");
}
