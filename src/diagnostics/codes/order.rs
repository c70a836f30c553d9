//! Codes of orders.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "order-empty",
        "the order has no lines",
        "There is a header but nothing below it. Write one line for each kind of card.",
    ),
    Code::new(
        "order-line-doubled",
        "two lines of an order have the same name",
        "Pieces, drawings and labels are named after their line, so each line needs a name of its \
         own. If both are the same card, add their counts and delete one.",
    ),
    Code::new(
        "order-card",
        "the card format is not known",
        "The column `card` holds a finished size, width x height, or the name of a format, such as \
         `US A2`, `ISO A6` or `place card`. Short names such as A6 have several meanings in the trade: \
         write `ISO A6` or `US A6`.",
    ),
    Code::new(
        "order-size",
        "the finished size of a card cannot be read",
        "A size is width x height, such as 5 1/2 x 4 1/4 or 105 x 148 mm. Width is across when the \
         card stands as read. Both must be at least 1 mm, which no trimmer goes below, and exact: whole multiples of 0.000025 mm, \
         which holds for every 1/64 in, 0.001 in and 0.001 mm but not for 1/3 in.",
    ),
    Code::new(
        "order-size-small",
        "a card is smaller than an inch both ways",
        "A bare number is read in the unit of the workshop, so that 4 x 6 on a bench in millimetres is \
         smaller than a stamp. Write the unit where another is meant: 4 x 6 in. A card that is really so \
         small is planned like any other.",
    ),
    Code::new(
        "order-fold",
        "the fold is not known",
        "A card folds at the `side` (like a book, spine left), at the `top`, or not at all (`flat`). \
         A blank cell means flat, unless the card's format has a usual fold.",
    ),
    Code::new(
        "order-count",
        "the count of cards is not a whole number from 1 to 1 000 000",
        "Write the count in digits without separators: 12, not twelve, 12.0 or 1,000. Spares are \
         added by the workshop's rule, so order only what is wanted.",
    ),
    Code::new(
        "order-paper",
        "the list of papers has a gap",
        "Several papers joined by | may be mixed freely for one kind of card. There must be a name \
         on both sides of each |.",
    ),
    Code::new(
        "order-paper-doubled",
        "the same paper stands twice in a list",
        "The list of papers joined by | says what may be used; once is enough.",
    ),
    Code::new(
        "order-paper-unknown",
        "no sheet of this paper is in the stock",
        "The order names a paper that neither the sheets nor the offcuts have. Mend the name, letter \
         by letter, or add the paper to the sheets with a price so that it can be bought. Only a card can be \
         of one paper or another, joined by |: every other part has a single paper.",
    ),
    Code::new(
        "order-mat",
        "the list of mats has a gap",
        "Several mats joined by + lie on each other, the lowest first. There must be a paper on both \
         sides of each +.",
    ),
    Code::new(
        "order-mat-inset",
        "the inset of a mat cannot be read or leaves nothing of it",
        "The inset is what shows on each side of a mat of what lies below it, so it is smaller than that by \
         twice the inset. One length holds for all mats of a card; as many as there are mats, joined by +, \
         hold for each. It must be at least 0 and less than half of the card's shorter \
         side. A blank cell means 1/8 in, or 3 mm where the workshop measures in mm (common practice, no \
         source).",
    ),
    Code::new(
        "order-mat-missing",
        "an inset is given, but no mat",
        "Without a paper in the column `mat` no mat is cut. Name its paper, or clear the inset.",
    ),
    Code::new(
        "order-liner-kind",
        "the kind of a liner is not known, or does not suit its card",
        "A `panel` is glued to the inside; a `folded` liner is a sheet as large as the open card that lies \
         in its fold and is glued there. A flat card has no fold, so its liner is a panel.",
    ),
    Code::new(
        "order-insert-size",
        "an insert is larger than its card",
        "An insert lies loose inside the card, and envelope and box are made for the card. Make it smaller, \
         or order it as a line of its own.",
    ),
    Code::new(
        "order-band-width",
        "the width of a band cannot be read or is more than the card is high",
        "A band goes round the card from left to right; its width is how much of the card's height it \
         covers. A blank cell means 1 1/2 in, or 40 mm where the workshop measures in mm (common practice, \
         no source).",
    ),
    Code::new(
        "order-per-box",
        "the number of sets in a box cannot be read",
        "It is a whole number from 1 to 1000: how many finished sets go into one box. As many boxes are cut \
         as hold all cards of the line, and as high as so many sets are thick. A blank cell means 1.",
    ),
    Code::new(
        "order-unused",
        "a cell says more of something that the line does not have",
        "The columns `liner kind`, `insert size`, `band width`, `per box` and `envelope liner` tell more of \
         what stands in `liner`, `insert`, `band`, `box` and `envelope`. Where that is blank, they say \
         nothing. Name the paper, or clear the cell.",
    ),
    Code::new(
        "order-turn",
        "the turn is not known",
        "It says how the pieces of a line may lie on the sheet, whatever the paper's print says: \
         `free` (any way), `half` (half turns only) or `none` (as it is).",
    ),
    Code::new(
        "order-date",
        "the due date cannot be read",
        "Dates are written year-month-day as in ISO 8601, such as 2026-05-30: other orders of day \
         and month can be read two ways.",
    ),
];
