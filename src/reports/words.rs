//! What both schedules say in the same words, on the screen and on pages.

use super::report::Report;
use crate::diagnostics::listed;
use crate::measure::{Area, Unit};

/// What to mind before anything is cut.
pub const CAUTIONS: [&str; 6] = [
    "A trimmer is for adults, one person at a time.",
    "Fingers stay behind the guard at every stroke, those of the holding hand too. The guard stays on.",
    "Press the stack down before you cut: paper that slips takes the hand with it.",
    "After each stroke the blade goes down and is latched, also while you only turn the paper.",
    "Let strips fall where they fall. Nobody catches offcuts.",
    "If it does not cut in one easy stroke, the stack is too thick: take fewer sheets, never force it.",
];

/// Whose rules come first.
pub const CARE: &str = "The trimmer’s own instructions and your local safety rules come before this sheet. What may go in the mail, and at what price, the post decides.";

/// What to mind where corners, notches and slits are cut without the trimmer (common practice, no source).
pub const BY_HAND: [&str; 2] = [
    "By hand: scissors, or a knife along a metal ruler on a mat, in light strokes that lead away from you.",
    "Fingers stay behind the ruler, and the blade is covered as soon as it is put down.",
];

/// Who decides about letters.
pub const POST: &str = "The post decides; what follows is read from its published limits, with the address along the long side and nothing else in the envelope. Glue and stamps are not weighed.";

/// How prices of other counts are found.
pub const STEPS: &str = "What a card would sell for if so many were ordered of its line alone, and what one more card would add to the price of all of it. Each is planned anew from the same shelf; where one card more leads to better cuts, all may even come a little cheaper.";

/// What follows a sum of money that leaves these papers out: nothing where there are none.
pub fn not_counted(unpriced: &[String]) -> String {
    match unpriced {
        [] => String::new(),
        [one] => format!("; {one} has no price and is not counted"),
        several => format!("; {} have no price and are not counted", listed(several)),
    }
}

/// An area in square inches or square centimetres, to a tenth.
pub fn area(area: Area, unit: Unit) -> String {
    in_tenths(area, unit, |square| square / 2)
}

/// The same rounded up.
pub fn area_rounded_up(area: Area, unit: Unit) -> String {
    in_tenths(area, unit, |square| square - 1)
}

fn in_tenths(area: Area, unit: Unit, more: fn(i128) -> i128) -> String {
    let (side, symbol) = match unit {
        Unit::Inch => (Unit::Inch, "sq in"),
        _ => (Unit::Centimetre, "cm2"),
    };
    let square = i128::from(side.ticks()).pow(2);
    let tenths = (area.square_ticks() * 10 + more(square)) / square;
    format!("{}.{} {symbol}", tenths / 10, tenths % 10)
}

/// What becomes of stacks between two cuts.
pub const ASIDE: &str = "Stacks that wait are put aside, their letter on top.";

/// How score lines are measured.
pub const SCORE: &str = "Measured on the piece as its card is read, width first, its outer side up, so that the ridge of the crease comes to lie inside the fold. All lines of a piece in one go, before the next piece.";

/// How strips are put away.
pub const DRAWER: &str =
    "Write the name on each strip, and keep width and height as they lay on the sheet.";

/// What the limits of a proof mean, and what was made good without one.
pub fn proof(report: &Report) -> String {
    let is_proven = report.proofs.iter().all(|proof| proof.spend.proven && proof.stock.proven);
    let limits = match is_proven {
        true => {
            "Proven means: for money and for paper a lower limit was worked out that no plan whatever can go below, \
             and this plan reaches both."
        }
        false => {
            "For money and for paper a lower limit was worked out that no plan whatever can go below. Where this plan \
             reaches it, it is proven; where it does not, a better plan may exist between the two numbers, or may not."
        }
    };
    format!(
        "{limits} Anybody can work the limits out again from the numbers in plan.json. Money comes first; paper is \
         counted at its price, offcuts at their lower value, so that the drawer is used first; what goes by area is \
         rounded down to small units, and “to within” says what that may hide. Among plans that cost the same, what \
         stays for the drawer and then the work at the bench were made as good as could be found, without a proof: {}.",
        report.improved
    )
}
