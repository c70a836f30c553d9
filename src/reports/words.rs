//! What both schedules say in the same words, on the screen and on pages.

use super::report::Report;
use crate::diagnostics::listed;
use crate::measure::{Area, Unit};
use crate::pieces::Part;

/// What to mind before anything is cut.
pub const CAUTIONS: [&str; 6] = [
    "A trimmer is for adults, one person at a time.",
    "Keep all fingers behind the guard at every cut, those of the holding hand too. Leave the guard on.",
    "Press the stack down before you cut: paper that slips pulls your hand along.",
    "Lower and latch the blade after every cut, even if you only turn the paper.",
    "Let strips fall. Never catch them.",
    "If one easy stroke does not cut through, the stack is too thick: take fewer sheets, never force it.",
];

/// The same in short, at every cut.
pub const AT_THE_KNIFE: &str = "Fingers behind the guard. Press the stack down. Latch the blade after every cut. Let strips fall.";

/// Whose rules come first.
pub const CARE: &str = "The trimmer’s own instructions and your local safety rules come before this schedule. The post decides what it takes, and at what price.";

/// What to mind where corners, notches and slits are cut without the trimmer (common practice, no source).
pub const BY_HAND: [&str; 2] = [
    "By hand: cut with scissors, or with a knife along a metal ruler on a cutting mat, in light strokes away from you.",
    "Keep your fingers behind the ruler, and cover the blade as soon as you put it down.",
];

/// Who decides about letters.
pub const POST: &str = "The post decides. These answers follow its published limits, for an address along the long side and nothing else in the envelope. Glue and stamps are not weighed.";

/// How prices of other counts are found.
pub const STEPS: &str = "The price of a card if its line alone were ordered in these counts, and what one more card adds to the price of the whole order. Each is planned again from the same shelf. Where one more card fits into paper that is cut already, it adds little or nothing; where it takes another sheet or pack, it adds much.";

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

/// What spares are for.
pub const SPARES: &str =
    "Score, fold and make up the spares, too: they take the place of what goes wrong.";

/// How a stack is known.
pub const LETTERED: &str = "Lay its label from labels.pdf on each stack, the arrow towards the top of the drawing, or a slip with its letter and such an arrow. Write on slips, not on the paper: both its sides may be seen.";

/// How sheets lie.
pub const WAY_UP: &str = "Keep all sheets the way up they are drawn. Where paper has a design, that side is up, and the top of the drawing is the top of the design. Where both sides have one, put up the one that you want outside, on every sheet the same; it is the one that sheets.csv names first.";

/// What becomes of stacks between two cuts.
pub const ASIDE: &str = "Put waiting stacks aside, letter on top.";

/// How score lines are measured.
pub const SCORE: &str = "Lay the piece outer side up, the way the card is read, and measure from its left or top edge. The outer side is outside once the piece is folded: of a liner, it is the side that is glued. The ridge of the score line then lies inside the fold. Score all lines of a piece before you take the next.";

/// The same for pieces of one kind.
pub const fn score(part: Part) -> &'static str {
    match part {
        Part::Card | Part::Mat | Part::Insert => {
            "The outside of the card is up, as it was when you cut. Measure from the left or top edge."
        }
        Part::Liner | Part::EnvelopeLiner => {
            "The side that will be glued is up; if the paper has a design, that faces down. Measure from the left or top edge."
        }
        Part::Envelope | Part::Band | Part::Box => {
            "The side that will be outside is up. Measure from the left or top edge, and score all lines of a piece before you take the next."
        }
    }
}

/// Where the shape of a blank is to be seen.
pub const FULL_SIZE: &str = "templates.pdf shows the shape in full size.";

/// How offcuts are put away.
pub const DRAWER: &str = "Bundle the offcuts of one name, and put their label from labels.pdf on the bundle, or a slip with name and size: not on the paper. The first number of a size is the width as it lay on the sheet, and so tells the grain.";

/// What the limits of a proof mean, and what was made good without one.
pub fn proof(report: &Report) -> String {
    let is_proven = report.proofs.iter().all(|proof| proof.spend.proven && proof.stock.proven);
    let limits = match is_proven {
        true => {
            "For money and for paper, a limit was worked out that no plan can get below. This plan reaches both: \
             that is what proven means."
        }
        false => {
            "For money and for paper, a limit was worked out that no plan can get below. Proven: this plan reaches \
             it. Not proven: there may be a better plan between the two figures, or there may be none."
        }
    };
    format!(
        "{limits} Anyone can check the limits from the numbers in plan.json. Money comes first, then paper. Paper \
         counts at its price, offcuts at their lower value, so that the drawer is used first. Areas are rounded down \
         to small units; “to within” says how much that may hide. Among plans that cost the same, the offcuts for the \
         drawer and then the work at the bench were improved as far as could be found, without a proof: {}.",
        report.improved
    )
}
