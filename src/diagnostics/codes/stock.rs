//! Codes of sheets, offcuts, envelopes and sundries.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "stock-sheet-doubled",
        "two things of the stock have the same name",
        "Plans and the shelf go by these names, so each sheet, offcut, envelope and sundry needs its own, across all \
         files of the stock together.",
    ),
    Code::new(
        "stock-size",
        "the width or height of a sheet cannot be read",
        "Both are lengths above zero, such as 12, 8 1/2, 215.9 mm or 21.59 cm. A number alone is in the \
         workshop's unit. Measure the sheet itself: a 12 in sheet and a 300 mm sheet differ.",
    ),
    Code::new(
        "stock-count",
        "a count or an amount cannot be read",
        "Sheets on hand, offcuts and envelopes are whole numbers from 0; a pack holds at least 1. Write plain digits. A \
         sundry is counted in its `unit`: whole ones where that is blank, else also parts, such as 12 1/2 in or 0.5 g. \
         Lengths may be written in any unit of length.",
    ),
    Code::new(
        "stock-price",
        "the price of a pack cannot be read",
        "Write the price of one pack in the workshop's currency, without a currency sign and with no more \
         decimals than that currency has. Leave the cell blank if you cannot buy more.",
    ),
    Code::new(
        "stock-price-free",
        "a sheet has the price 0",
        "The plan takes any number of packs for nothing. If you cannot buy more, leave the cell blank.",
    ),
    Code::new(
        "stock-envelope",
        "the size of an envelope cannot be read",
        "Write a name that `cardwright sizes envelopes` lists or that your workshop.toml adds, or width and height outside, \
         either way round, such as 7 1/4 x 5 1/4 or 162 x 114 mm.",
    ),
    Code::new(
        "stock-envelope-paper",
        "an envelope is called like a paper",
        "The column `envelope` of an order takes either the paper that an envelope is cut from, or the name of one that is \
         bought. Give the envelope a name that no paper has.",
    ),
    Code::new(
        "stock-supply-name",
        "an envelope or a sundry has a name that no order can mean",
        "`bought` and `posted without` say something else in the column `envelope` of an order, and a + stands between two \
         sundries in the column `with`. Give it another name.",
    ),
    Code::new(
        "stock-grams",
        "the weight of a sundry cannot be read",
        "It is what one unit of it weighs, in grams: of ribbon that is counted in inches, one inch. Weigh a whole roll and \
         divide. Without it, the weight of a set with it in is not known.",
    ),
    Code::new(
        "stock-post",
        "what a sundry does to a letter is not known",
        "Write `rigid` for what does not bend, such as a wooden tag, and `uneven` for what makes a letter thicker in one \
         place, such as a seal or a bow. Leave the cell blank for what does neither.",
    ),
    Code::new(
        "stock-edges",
        "it is not clear which edges of a sheet are rough",
        "Leave the cell blank, or write 0, for a sheet that was trimmed. Write 4 if all its edges are to be cut true \
         before anything is measured, or 2 if two that meet are, and the cuts that follow take the other two off. No \
         piece or offcut has a rough edge either way; `squaring` under [trimmer] says how much of it goes.",
    ),
    Code::new(
        "stock-edges-none",
        "the trimmer squares, but no sheet has rough edges",
        "`squaring` is taken off rough edges, and off no others. Which sheets have them, the column `rough edges` of \
         sheets.csv says; without it, all sheets are cut from edge to edge as they are.",
    ),
    Code::new(
        "stock-edges-unsquared",
        "sheets have rough edges, but the trimmer squares nothing",
        "Nothing is taken off a rough edge, since `squaring` under [trimmer] is 0. Set it to what you cut off such an \
         edge, common are 1/8 in or 3 mm.",
    ),
    Code::new(
        "stock-untrimmed",
        "a sheet of this size is sold untrimmed",
        "Parent sheets, and those of ISO RA and SRA, come from the mill with rough edges that are neither straight \
         nor square. Say in a column `rough edges` whether yours still has them.",
    ),
    Code::new(
        "stock-grain",
        "the grain is not known",
        "Grain is the direction of the fibres: along the `width` or the `height` of the sheet as you give its \
         size. Leave the cell blank if you do not know it.",
    ),
    Code::new(
        "stock-print",
        "the print is not known",
        "It says how the design may lie: `free` (plain paper, any way), `two-way` (stripes: half turns only) \
         or `one-way` (the design has an up). A blank cell means free. If the back has a design too, write the \
         same for it after a `/`: `one-way` if its up is at the same edge as that of the face, `tumbled` if it \
         is at the other.",
    ),
    Code::new(
        "stock-print-tumbled",
        "a back is tumbled although the face has no up",
        "`tumbled` says that the up of the back is where the face has its foot. A face that may lie any way, \
         or by half turns, has no foot, so the back is read as `one-way`: it has an up. Write that, or \
         `one-way` for the face too, if its design has an up.",
    ),
    Code::new(
        "stock-gsm",
        "the weight of a paper cannot be read",
        "Write grams per square metre, above zero and with at most three decimals, or pounds with the grade. \
         Pounds alone mean little: 110 lb index and 110 lb cover are different papers.",
    ),
    Code::new(
        "stock-thickness",
        "the thickness of a paper cannot be read",
        "The thickness of one sheet is a length above zero, such as 0.29 mm or 0.011 in. Leave the cell blank \
         if you have not measured it.",
    ),
    Code::new(
        "stock-date",
        "the day an offcut was saved cannot be read",
        "Write dates as year-month-day (ISO 8601), such as 2026-05-30.",
    ),
    Code::new(
        "stock-paper",
        "an offcut's paper is spelled almost like a sheet's",
        "An offcut is used only for the paper it names, letter by letter. If it is the same paper, give it \
         the same name.",
    ),
];
