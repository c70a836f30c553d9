//! Codes of the pieces that an order asks for.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "piece-vanishes",
        "a liner or mat would have no size left",
        "A liner is the card less an inset on every side, so twice the inset has to be less than the \
         card's shorter side, by a millimetre that can still be cut. The inset of liners is `liner_inset` under [envelope] in the workshop \
         file. Make it smaller, or leave the liner out of cards that small. The liner of an envelope \
         leaves room at its sides and stops short of the gum, and very small envelopes leave nothing.",
    ),
    Code::new(
        "piece-name",
        "two kinds of pieces would have the same name",
        "Pieces that are alike are cut together, and their name joins those of their lines by `+`. A \
         line whose own name holds a `+` can read the same. Leave the `+` out of it.",
    ),
    Code::new(
        "piece-envelope-flap",
        "a flap of a cut envelope does not suit its pocket",
        "The envelope is planned as the workshop file says, but it will not close well: its top flap \
         hardly overlaps the bottom flap, a flap reaches past the opposite edge, or the side flaps \
         meet; or no number of such envelopes fills the sheet that `blank` names, and it has its usual \
         flaps. The line under the mark has the measure. Change the flap under [envelope], or set it \
         to \"auto\".",
    ),
    Code::new(
        "piece-envelope-sheet",
        "envelopes are made to fill a sheet in which their paper does not come",
        "`blank` under [envelope] names a sheet, and the flaps of envelopes are such that a whole number of \
         them fills it without waste. The stock has no such sheet of their paper, so the odd flaps gain \
         nothing. Name the sheet that there is, or add the other one to the sheets; \"usual\" gives flaps as \
         they usually are.",
    ),
    Code::new(
        "piece-envelope-tight",
        "a card is nearly too thick for its envelope",
        "A thick card lifts the faces of its envelope and so uses up room on every side, about as much as it \
         is thick. With all its layers, this one uses up more than half of the room that `clear_long` and \
         `clear_short` give. Make them larger, or try one by hand first. How thick it is follows from the \
         `thickness` of the papers.",
    ),
    Code::new(
        "piece-flap-shortened",
        "the top flap of an envelope was shortened to fit a sheet",
        "With its usual top flap the blank is larger than every sheet of its paper, so the flap is \
         shortened as little as that takes. It still overlaps the bottom flap enough to be gummed. \
         Add a larger sheet of the paper if the flap is to keep its length, or set `top_flap` under \
         [envelope] if all envelopes are to have the same.",
    ),
    Code::new(
        "piece-box-height",
        "how high a box must be is not known",
        "The walls of a box are as high as the sets in it are thick, and that follows from the thickness of \
         their papers. Write it in the column `thickness` of sheets.csv, measured with a gauge or as a pile \
         of ten divided by ten; or write the weight in `gsm`, from which it is guessed.",
    ),
    Code::new(
        "piece-inside-inverted",
        "the inside of a card will be upside down",
        "Both faces of the paper have designs with an up. A card that opens like a page reads upright inside \
         where both have their up at the same edge (`one-way/one-way`); one that opens upwards, where they \
         have it at opposite edges (`one-way/tumbled`). Fold the card the other way, take another paper, or \
         cover the inside with a liner.",
    ),
    Code::new(
        "piece-too-large",
        "a piece fits no sheet of its paper, or takes too long a cut",
        "The message names the sheet that comes nearest and what it lacks. A card that folds is cut \
         open, twice as wide or twice as high as it stands. It can help to allow quarter turns, to \
         fold on the other side, to name a second paper, or to add a larger sheet. If only the knife \
         is too short, cut the sheets in half elsewhere and list the halves.",
    ),
    Code::new(
        "piece-too-small",
        "a piece is too small to be held while it is cut",
        "The last cut goes through a strip of the piece's own width or height. Both are less than \
         `smallest_hold` under [trimmer], the narrowest strip that your bench can hold. Make the card \
         larger, or order several as one piece and part them with scissors.",
    ),
    Code::new(
        "piece-grain",
        "a folded piece can lie on no sheet with its fold along the grain",
        "Under `rule = \"strict\"` a fold runs along the grain or the piece is not cut. Here the line's \
         `turn` or the paper's print forbids the way it would have to lie. Allow a quarter turn, \
         choose the other fold, or set `rule = \"prefer\"` under [grain].",
    ),
    Code::new(
        "piece-paper-none",
        "there is no sheet of a paper, and none can be bought",
        "The paper is listed, but its sheets are not on hand and have no price. Write how many there \
         are in `on hand`, or a price if more can be bought; or name a second paper in the order, \
         joined by `|`.",
    ),
];
