//! Codes of the pieces that an order asks for.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "piece-vanishes",
        "there is no room for a liner or mat, or for the panels of a fold",
        "A liner is smaller than its card by the inset on every side. Twice the inset has to be less than the \
         card's shorter side, with at least 1 mm left to cut. For liners, that is `liner_inset` under \
         [envelope] in workshop.toml. Make it smaller, or leave the liner out of such small cards. The liner \
         of an envelope leaves room at the sides and stops short of the gum, so a very small envelope has no \
         room for one. The panel of a letter fold that is folded in is shorter by what its paper uses up, and \
         a gate's halves leave a gap between them, so such cards need a certain width.",
    ),
    Code::new(
        "piece-name",
        "two kinds of pieces have the same name",
        "Pieces that are alike are cut together, and their names are joined by `+`. A line with a `+` in its \
         own name can end up with the same name. Leave the `+` out of it.",
    ),
    Code::new(
        "piece-envelope-flap",
        "a flap of a cut envelope does not suit it",
        "The envelope is planned as workshop.toml says, but it will not close well. The top flap barely \
         covers the bottom flap, a flap reaches past the opposite edge, or the side flaps overlap. Or no number \
         of such blanks fills the sheet that `blank` names, and the flaps are the usual ones. The line under \
         the mark has the measure. Change the flap under [envelope], or set it to \"auto\".",
    ),
    Code::new(
        "piece-envelope-sheet",
        "envelopes are sized to fill a sheet that you do not have",
        "`blank` under [envelope] names a sheet, and the flaps are such that a whole number of envelopes fills \
         it without waste. Their paper is not listed in that size, so the odd flaps save nothing. Name a size \
         that you have, or add that sheet to sheets.csv; \"usual\" gives the usual flaps.",
    ),
    Code::new(
        "piece-envelope-tight",
        "a card is nearly too thick for its envelope",
        "A thick card takes up room on every side of its envelope, about as much as it is thick. With all its \
         layers, this one takes more than half of the room that `clear_long` and `clear_short` give. Make them \
         larger, or try one by hand first. The thickness comes from the `thickness` of the papers.",
    ),
    Code::new(
        "piece-flap-shortened",
        "the top flap of an envelope was shortened to fit a sheet",
        "With its usual top flap the blank is larger than every sheet of its paper, so the flap is shortened \
         as little as possible. It still covers the bottom flap enough to be gummed. Add a larger sheet of the \
         paper to keep the full length, or set `top_flap` under [envelope] to make all envelopes alike.",
    ),
    Code::new(
        "piece-box-height",
        "the height of a box is not known",
        "A box is as high as the sets in it are thick, so the thickness of their papers must be known. Write \
         it in the column `thickness` of sheets.csv: measure one sheet with a gauge, or a pile of ten and \
         divide by ten. Or write the weight in `gsm`; the thickness is then guessed from it.",
    ),
    Code::new(
        "piece-inside-inverted",
        "the inside of a card will be upside down",
        "Both faces of the paper have designs with an up. A card that opens like a book reads upright inside \
         if both have their up at the same edge (`one-way/one-way`); a card that opens upwards, if they have \
         it at opposite edges (`one-way/tumbled`). Fold the card the other way, take another paper, or cover the \
         inside with a liner. A french fold shows the face itself inside, always on its head, and has no room \
         for a liner: there only another fold or another paper helps.",
    ),
    Code::new(
        "piece-board",
        "board is too thick to be folded",
        "Paper of 1 mm (0.04 in) and more is board (common practice, no source): it cracks at a score instead of \
         folding, however often it is scored. Order the card as `flat`, or take a thinner paper and glue the \
         board on as a mat. The thickness is the column `thickness` of sheets.csv, or is guessed from `gsm`.",
    ),
    Code::new(
        "piece-too-large",
        "a piece fits no sheet of its paper, or needs too long a cut",
        "The message names the sheet that comes nearest and how much is missing. A card that folds is cut \
         open, twice as wide or twice as high as it stands. To help, allow quarter turns, fold on the other \
         side, name a second paper, or add a larger sheet. If only the knife is too short, have the sheets cut \
         in half elsewhere and list the halves.",
    ),
    Code::new(
        "piece-too-small",
        "a piece is too small to hold while it is cut",
        "The last cut goes through a strip as narrow as one side of the piece. Both sides are less than \
         `smallest_hold` under [trimmer], the narrowest strip you can hold. Make the card larger, or order \
         several as one piece and part them with scissors.",
    ),
    Code::new(
        "piece-grain",
        "a folded piece fits no sheet with its fold along the grain",
        "With `rule = \"strict\"`, the fold of a card runs along the grain, and what is glued to it lies along \
         the fold, or the piece is not cut. Here the line's `turn`, the paper's print or the size of the sheets \
         forbids the way it would have to lie. Allow a quarter turn, choose the other fold, take a paper whose \
         grain runs the other way, or set `rule = \"prefer\"` under [grain].",
    ),
    Code::new(
        "piece-paper-none",
        "none of a paper is on hand, and none can be bought",
        "The paper is listed, but its sheets are not on hand and have no price. Write how many you have in \
         `on hand`, or a price if more can be bought; or name a second paper in the order, joined by `|`.",
    ),
];
