//! Worked suites: what a finished set weighs, and what envelopes and sundries cost, recomputed by hand from the tables.
//!
//! A square inch is 645.16 mm2 (international yard and pound agreement, 1959). The papers, envelopes and sundries are an
//! invented workshop's, so weights and prices are those of its tables; shares and sums are arithmetic.

use crate::bench::instances::shipped;
use cardwright::batch::{self, Made, Options};
use cardwright::quote::{FinishedSet, LineQuote, quote};

fn made(order: &str) -> Made {
    let outcome = batch::plan(&shipped(order), &Options::default());
    outcome.made.unwrap_or_else(|| panic!("{:?}", outcome.problems))
}

fn line(made: &Made, name: &str) -> LineQuote {
    quote(made).lines.into_iter().find(|line| line.line == name).unwrap()
}

/// What so many square inches of a paper weigh, in grams.
fn grams(square_inches: f64, gsm: f64) -> f64 {
    square_inches * 645.16 * gsm / 1e6
}

#[track_caller]
fn weighs(set: &FinishedSet, grams: f64) {
    let found = set.weight.unwrap().picograms() as f64 / 1e12;
    assert!((found - grams).abs() < 1e-6, "{found} g, by hand {grams} g");
}

/// An invitation with its liner and mat in a bought envelope, and a reply card with an envelope that is cut. Wren has 216,
/// mist 104, fern 176, the bought envelope 118 g/m2.
#[test]
fn the_wedding_suite() {
    let made = made("orders/wedding.csv");
    // Four corners of 1 in, beside flaps of 3 1/2 and 2 1/16 in, are cut out of the blank.
    let blank = 7.25 * 9.1875 - 2.0 * (3.5 + 2.0625);
    let reply = grams(5.0 * 3.5, 216.0) + grams(blank, 104.0);
    weighs(&line(&made, "reply").set, reply);
    let card = grams(8.5 * 5.5, 216.0) + grams(3.75 * 5.0, 104.0) + grams(4.0 * 5.25, 176.0);
    // US A6, 6 1/2 x 4 3/4 in: front and back, and a tenth for the seams.
    let envelope = grams(6.5 * 4.75 * 2.2, 118.0);
    let invitation = line(&made, "invitation");
    weighs(&invitation.set, card + envelope + reply);
    assert_eq!(invitation.set.holds, ["reply"]);
    // 11.50 for 50: 23.00 for 100.
    assert_eq!(invitation.costs.envelopes.minor(), 2300);
    let a6 = made.plan.supplies.iter().find(|supply| supply.id == "A6 ivory").unwrap();
    // 30 are there, 5 % more than 100 are wanted.
    assert_eq!((a6.need, a6.spares, a6.packs_bought), (100, 5, 2));
}

/// A card with ribbon and seal in a bought envelope of 118 g/m2.
#[test]
fn the_winter_card() {
    let made = made("orders/winter.csv");
    let winter = line(&made, "winter");
    let card = grams(10.0 * 7.0, 216.0) + grams(4.5 * 6.5, 176.0);
    let envelope = grams(7.25 * 5.25 * 2.2, 118.0);
    weighs(&winter.set, card + envelope + 22.0 * 0.02 + 0.4);
    // 6.75 for 25: 10.80 for 40. Ribbon 4.80 for 360 in, of which 880 are taken, and seals 3.60 for 24: 11.73 and 6.00.
    assert_eq!((winter.costs.envelopes.minor(), winter.costs.sundries.minor()), (1080, 1773));
    let packs = made.plan.supplies.iter().map(|supply| supply.packs_bought);
    // 42 of each are wanted: 30 more envelopes, 724 in of ribbon, 24 seals.
    assert_eq!(packs.collect::<Vec<_>>(), [2, 3, 1]);
    // USPS DMM 101.1.2d: uneven contents are not machinable.
    let post = winter.set.post.unwrap();
    assert_eq!(post.verdict.class.unwrap().name, "letter nonmachinable");
    // A card more of 35 s than the bench alone takes: 25 for the ribbon, 10 for the seal.
    let packing = made.schedule.times.packing;
    assert_eq!(packing, 40 * (made.job.workshop.rates.pack + 35));
}

/// The keepsake, whose envelope is cut from a whole letter sheet: nothing of it is bought but paper.
#[test]
fn the_keepsake() {
    let made = made("examples/keepsake/keepsake.csv");
    let keepsake = line(&made, "keepsake");
    assert!(made.plan.supplies.is_empty());
    assert_eq!((keepsake.costs.envelopes.minor(), keepsake.costs.sundries.minor()), (0, 0));
    let gsm = |paper: &str| {
        let known = made.job.stock.sheets.iter().find(|sheet| sheet.paper == paper).unwrap();
        known.milligrams_per_square_metre.unwrap() as f64 / 1000.0
    };
    let card = grams(70.0, gsm("sage")) + grams(9.75 * 6.75, gsm("chalk"));
    let inside = grams(4.0 * 5.5, gsm("chalk")) + grams(10.9375 * 1.25, gsm("umber"));
    let envelope = made.job.bill.pieces.iter().find(|it| it.id == "keepsake.envelope").unwrap();
    let ticks = |at: usize| envelope.scores[at].at.ticks() as f64 / 1_016_000.0;
    // Its side flaps are as wide as the first score is far in; its corners beside both flaps are cut out.
    let (side, bottom, top) = (ticks(0), ticks(2), 11.0 - ticks(3));
    let envelope = grams(8.5 * 11.0 - 2.0 * side * (bottom + top), gsm("drift"));
    let lining = grams(7.0 * 7.375, gsm("chalk"));
    weighs(&keepsake.set, card + inside + envelope + lining);
}
