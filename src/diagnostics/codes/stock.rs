//! Codes of sheets and offcuts.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "stock-sheet-doubled",
        "two sheets or offcuts have the same name",
        "Plans and the drawer name each kind of sheet, so each needs a name of its own, over \
         sheets.csv and offcuts.csv together.",
    ),
    Code::new(
        "stock-size",
        "the width or height of a sheet cannot be read",
        "Both are lengths above zero, such as 12, 8 1/2, 215.9 mm or 21.59 cm. A bare number is in \
         the workshop's unit. Measure the sheet itself: a 12 in sheet and a 300 mm sheet differ.",
    ),
    Code::new(
        "stock-count",
        "a number of sheets cannot be read",
        "Sheets on hand and offcuts are whole numbers from 0, packs hold at least 1 sheet. Write \
         digits without separators.",
    ),
    Code::new(
        "stock-price",
        "the price of a pack cannot be read",
        "Write the price of one pack as a number in the workshop's currency, without a currency \
         sign, no finer than its smallest coin. Leave the cell blank where the sheet cannot be \
         bought.",
    ),
    Code::new(
        "stock-price-free",
        "a sheet has the price 0",
        "It is planned as if any number of packs could be had for nothing. If it cannot be bought, \
         leave the cell blank.",
    ),
    Code::new(
        "stock-grain",
        "the grain is not known",
        "Grain is the direction of the fibres: along the `width` or along the `height` of the sheet \
         as its size is given. Leave the cell blank where you do not know it.",
    ),
    Code::new(
        "stock-print",
        "the print is not known",
        "It says how the design may lie: `free` (plain paper, any way), `two-way` (stripes: half \
         turns only) or `one-way` (the design has an up). A blank cell means free. Behind a `/` stands the \
         same of the back, where that has a design: `one-way` there means that its up is at the same edge as \
         that of the face, `tumbled` that it is at the other.",
    ),
    Code::new(
        "stock-print-tumbled",
        "a back is tumbled although the face has no up",
        "`tumbled` says that the back has its up at the edge where the face has its foot. A face that may lie \
         any way, or by half turns, has neither, so the back has an up and no more: it is read as `one-way`. \
         Write that, or `one-way` for the face too, if its design has an up.",
    ),
    Code::new(
        "stock-gsm",
        "the weight of a paper cannot be read",
        "Grams per square metre, above zero, with at most three decimals. Pounds are no measure of \
         their own: 110 lb index and 110 lb cover are different papers.",
    ),
    Code::new(
        "stock-thickness",
        "the thickness of a paper cannot be read",
        "The thickness of one sheet as a length above zero, such as 0.29 mm or 0.011 in. Leave the \
         cell blank where you have not measured it.",
    ),
    Code::new(
        "stock-date",
        "the day an offcut was saved cannot be read",
        "Dates are written year-month-day as in ISO 8601, such as 2026-05-30.",
    ),
    Code::new(
        "stock-paper",
        "an offcut names a paper that is nearly that of a sheet",
        "An offcut is used only for the paper it names, letter by letter. If it is the same paper, \
         give it the same name.",
    ),
];
