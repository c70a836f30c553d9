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
        "Pieces, drawings and labels are named after their line, so each line needs its own name. If both \
         are the same card, add up their counts and delete one.",
    ),
    Code::new(
        "order-name-doubled",
        "two orders of a batch have the same name",
        "An order is called after its file, and its lines after the order. Two files of one name in two folders would \
         give lines that nobody can tell apart. Rename one of them.",
    ),
    Code::new(
        "order-card",
        "the card format is not known",
        "The column `card` holds a finished size, width x height, or the name of a format, such as \
         `US A2`, `ISO A6` or `place card`. Short names such as A6 have several meanings in the trade: \
         write `ISO A6` or `US A6`. `DIN A6` is `ISO A6`, and `DL` is the card that goes into a DL envelope.",
    ),
    Code::new(
        "order-size",
        "the finished size of a card cannot be read",
        "A size is width x height, such as 5 1/2 x 4 1/4 or 105 x 148 mm, or a square, such as square 6. \
         Width goes across the card as you read it. Both are at least 1 mm, which no trimmer goes below, \
         and exact multiples of 0.000025 mm. Every 1/64 in, 0.001 in and 0.001 mm is such a multiple; 1/3 in is not.",
    ),
    Code::new(
        "order-size-small",
        "a card is smaller than an inch both ways",
        "A number alone is read in the workshop's unit, so 4 x 6 at a millimetre bench is smaller than a \
         stamp. If you mean another unit, write it: 4 x 6 in. A card that is meant to be this small is \
         planned like any other.",
    ),
    Code::new(
        "order-fold",
        "the fold is not known",
        "A card folds at the `side` (like a book, spine on the left), at the `top`, or not at all (`flat`); as a \
         `gate`, whose halves meet in front; as a `letter`, with one panel folded in; as a `french` fold, in half \
         both ways; or as an `accordion 4`, of 3 to 12 panels to and fro. ` top` behind gate, letter or \
         accordion lays the panels below each other. A blank cell means flat, unless the card's format has a usual fold.",
    ),
    Code::new(
        "order-count",
        "the count of cards is not a whole number from 1 to 1 000 000",
        "Write the count in plain digits: 12, not twelve, 12.0 or 1,000. Spares are added by the workshop's \
         rule, so order only the cards you need.",
    ),
    Code::new(
        "order-paper",
        "the list of papers has a gap",
        "Papers joined by | may be mixed freely for one kind of card. Each | needs a name on both sides.",
    ),
    Code::new(
        "order-paper-doubled",
        "the same paper appears twice in a list",
        "The list of papers joined by | says what may be used; once is enough.",
    ),
    Code::new(
        "order-paper-unknown",
        "a paper is not listed in sheets.csv or offcuts.csv",
        "The order names a paper that neither list has. Correct the name, letter by letter, or add the paper \
         to sheets.csv, with a price if it can be bought. Only the card itself can take either of two papers, \
         joined by |; every other part has one paper. An envelope may also be `bought`, or one that envelopes.csv lists.",
    ),
    Code::new(
        "order-mat",
        "the list of mats has a gap",
        "Mats joined by + lie on each other, the lowest first. Each + needs a paper on both sides.",
    ),
    Code::new(
        "order-mat-inset",
        "the inset of a mat cannot be read or leaves nothing of it",
        "The inset is the visible border around a mat, so the mat is smaller than what it lies on by twice \
         that. Give one length for all mats of a card, or one for each, joined by +. It is at least 0 and less \
         than half of the card's shorter side. A blank cell means 1/8 in, or 3 mm where the workshop measures \
         in mm (common practice, no source).",
    ),
    Code::new(
        "order-mat-missing",
        "an inset is given, but no mat",
        "Without a paper in the column `mat`, no mat is cut. Name its paper, or clear the inset.",
    ),
    Code::new(
        "order-liner-kind",
        "the kind of a liner is not known, or does not suit its card",
        "A `panel` is glued to the inside. A `folded` liner is nearly as large as the open card, lies in its \
         fold and is glued there. A flat card has no fold, so its liner is a panel. Inside an accordion it lies on the \
         panel that is named: `panel 1` is the inside of the front, and the next ones follow it.",
    ),
    Code::new(
        "order-insert-size",
        "an insert is larger than its card",
        "An insert lies loose inside the card, and the envelope and box fit the card. Make it smaller, or \
         order it as its own line.",
    ),
    Code::new(
        "order-goes-in",
        "a line goes in an envelope that is not there",
        "The column `goes in` names another line of the same order: one finished set of this line lies in the envelope of each \
         of its sets, as a reply card with its envelope does in that of an invitation. That line needs an envelope of its own, \
         and no line can lie in itself, not by way of others either.",
    ),
    Code::new(
        "order-goes-in-count",
        "a line goes in envelopes of another count",
        "One finished set goes in each envelope, so both lines should order as many. With more, some are left over; with fewer, \
         some envelopes go out without. If that is what you want, there is nothing to do.",
    ),
    Code::new(
        "order-liner-fold",
        "a liner does not suit the fold of its card",
        "A liner lies on one panel, or folds with a card of two. Inside a french fold, every panel is creased, \
         so it is glued to none. Glue a mat on the front, or lay an insert in.",
    ),
    Code::new(
        "order-finish",
        "the workshop knows no finish of this name",
        "The column `finish` names what is done to each card by hand beside folding and gluing, such as corners \
         that are rounded: names joined by +, a name twice for what is done twice. Each has a section of its own in \
         workshop.toml, such as [finish.corners], with the `seconds` it takes and its `price` for a card.",
    ),
    Code::new(
        "order-with",
        "a sundry is not listed in sundries.csv",
        "The column `with` names what else is put on or in each card, and how much of it, joined by +: `ribbon 12 in + seal \
         + foam pad 4`. The longest name that sundries.csv has counts; what stands behind it is the amount, 1 where nothing \
         does.",
    ),
    Code::new(
        "order-with-amount",
        "how much of a sundry a card takes cannot be read",
        "Behind the name stands a number, in the unit that sundries.csv gives it; of lengths any unit may be written. It is \
         more than nothing.",
    ),
    Code::new(
        "order-envelope-small",
        "a bought envelope is too small for its card",
        "The envelope that the order names is smaller outside than the card, or than what lies in it together. Name a larger \
         one of envelopes.csv, or write `bought`: then the closest that holds the card is taken.",
    ),
    Code::new(
        "order-envelope-none",
        "no envelope of envelopes.csv holds a card",
        "With `bought`, the closest of your envelopes is taken that has at least 1/8 in of room on both sides and can be \
         had: on hand, or with a price. Add one to envelopes.csv, or name a paper to cut it from.",
    ),
    Code::new(
        "order-band-width",
        "the width of a band cannot be read or is more than the card's height",
        "A band goes round the card from left to right; its width is how much of the card's height it \
         covers. A blank cell means 1 1/2 in, or 40 mm where the workshop measures in mm (common practice, \
         no source).",
    ),
    Code::new(
        "order-per-box",
        "the number of sets in a box cannot be read",
        "Write how many finished sets go into one box, a whole number from 1 to 1000. There are enough boxes \
         for all cards of the line, each high enough for its sets. A blank cell means 1.",
    ),
    Code::new(
        "order-unused",
        "a cell describes a part that the line does not have",
        "The columns `liner kind`, `insert size`, `band width`, `per box` and `envelope liner` say more about \
         the part in `liner`, `insert`, `band`, `box` or `envelope`. If that cell is blank, they have no \
         effect. Name the paper, or clear the cell.",
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
        "Write dates as year-month-day (ISO 8601), such as 2026-05-30. In any other order, day and month can \
         be mixed up.",
    ),
    Code::new(
        "rest-none",
        "nothing of a batch is settled yet",
        "`plan ORDER --rest` plans what is left of a batch once a part of it is cut. Record what is cut first: \
         `cardwright settle REPORT --done 30` for all steps up to 30.",
    ),
    Code::new(
        "rest-done",
        "nothing is left to cut of a batch",
        "All pieces of the order are finished, and none is missing. To make the same cards again, plan the order \
         without `--rest`. If pieces were spoiled, say so: `cardwright settle REPORT --spoiled invitation.card=5`.",
    ),
    Code::new(
        "rest-unknown",
        "the journal does not say what was finished of a batch",
        "An earlier version of Cardwright settled it, and noted the paper but not the pieces. Undo that with \
         `settle REPORT --undo` and settle it again; then the rest can be planned.",
    ),
    Code::new(
        "rest-changed",
        "a line changed its size or its papers after cutting began",
        "Pieces of this line are cut already, and do not fit what the line asks for now. The count of a line may \
         change at any time. For cards of another size or paper, add a line of their own, and give this one its \
         size and papers back.",
    ),
    Code::new(
        "rest-gone",
        "pieces were cut for a line that is no longer in the order",
        "They are left over. If you gave the line another name, give it its old one: pieces are known by the name of \
         their line.",
    ),
];
