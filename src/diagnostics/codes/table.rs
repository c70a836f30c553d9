//! Codes of any CSV file.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "table-binary",
        "the file is not a text file",
        "Orders, sheets and offcuts are CSV files: plain text, one row a line. A spreadsheet's own format, a \
         picture or a PDF cannot be read. Open the file in the spreadsheet and save it as CSV in UTF-8.",
    ),
    Code::new(
        "table-encoding",
        "the file is not written in UTF-8",
        "Letters beyond a to z are stored in different ways, and a wrong guess would change names without a \
         word. Save the file as CSV in UTF-8; a byte order mark does no harm.",
    ),
    Code::new(
        "table-size",
        "the file is larger than 16 MiB",
        "No order or drawer is that large: a hundred thousand rows take less. Check that it is the right \
         file, or split it.",
    ),
    Code::new(
        "table-rows",
        "the file has more than a hundred thousand rows",
        "No order or drawer is that long. Check that it is the right file, or split it.",
    ),
    Code::new(
        "table-cell-long",
        "a cell is longer than 10000 characters",
        "No name and no note needs that much. Most often a quote at the start of a cell was not closed, so \
         the rows after it became part of the cell.",
    ),
    Code::new(
        "table-empty",
        "the file has nothing to read",
        "All of its lines are blank or comments. The first line names the columns; the rows follow below it.",
    ),
    Code::new(
        "table-header",
        "the first line does not name the columns, or names too many",
        "The first line that is neither blank nor a comment holds the names of the columns, with commas, \
         semicolons or tabs between them. They may come in any order, in small or capital letters.",
    ),
    Code::new(
        "table-column-missing",
        "a needed column is missing",
        "Add the column to the header and fill it in every row. Check the spelling too: a column with an \
         unknown name has its own warning.",
    ),
    Code::new(
        "table-column-doubled",
        "a column appears twice in the header",
        "It is not clear which of the two counts. Delete one of them, or rename it: an unknown column is \
         only a warning.",
    ),
    Code::new(
        "table-column-unknown",
        "a column has nearly the name of a known one",
        "The column is not read. If it is one of your own, give it a name that is less like it; otherwise correct it. \
         Columns of other names are yours, and nothing is said of them.",
    ),
    Code::new(
        "table-row",
        "a row has more cells than the header",
        "Most often a cell holds a comma itself: put that cell in double quotes, as in \
         \"red, with gold\". Blank cells at the end of a row do no harm.",
    ),
    Code::new(
        "table-separator",
        "a row has other separators than the header",
        "The header shows what stands between the cells of a file: commas, semicolons or tabs. A row with \
         another of these and none of its own is one long cell. Use the same one in all lines. Most often, a \
         line was typed by hand into a file from a spreadsheet, or the other way round.",
    ),
    Code::new(
        "table-quote",
        "a quoted cell never ends, or has text after its closing quote",
        "A cell that begins with a double quote ends with one. Inside it, write a double quote or inch mark \
         twice: \"8 1/2\"\" wide\". A cell that does not begin with a quote can hold inch marks as they are: \
         8 1/2\".",
    ),
    Code::new(
        "table-cell-blank",
        "a cell that every row needs is blank",
        "Fill the cell, or delete the row. To keep a row for later without planning it, start its line with \
         `# `.",
    ),
    Code::new(
        "table-comment",
        "a line that begins with # could be a row",
        "Lines that begin with # are comments and are not read. This one has as many cells as the header, and \
         no space after the #. If it is a row, put its first cell in double quotes; if it is a comment, put a \
         space after the #.",
    ),
];
