//! Codes of any CSV file.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "table-binary",
        "the file is not a text file",
        "Orders, sheets and offcuts are CSV files: plain text with a line a row. A spreadsheet's own \
         format, a picture or a PDF cannot be read. Open the file in the spreadsheet and save it as \
         CSV in UTF-8.",
    ),
    Code::new(
        "table-encoding",
        "the file is not written in UTF-8",
        "Letters beyond a to z are stored differently in different encodings, and a wrong guess \
         would change names silently. Save the file as CSV in UTF-8; a byte order mark does no harm.",
    ),
    Code::new(
        "table-size",
        "the file is larger than 16 MiB",
        "That is far more than any order or drawer: a hundred thousand rows take less. Look whether \
         it is the file you meant, or split it.",
    ),
    Code::new(
        "table-rows",
        "the file has more than a hundred thousand rows",
        "That is far more than any order or drawer. Look whether it is the file you meant, or split it.",
    ),
    Code::new(
        "table-cell-long",
        "a cell is longer than 10000 characters",
        "No name and no note needs that much. Most often a quote that opens a cell was meant to close \
         earlier, so that the rows behind it became part of the cell.",
    ),
    Code::new(
        "table-empty",
        "the file has no lines to read",
        "All of its lines are blank or comments. The first line names the columns, the lines below \
         it are the rows.",
    ),
    Code::new(
        "table-header",
        "the first line does not name the columns, or names too many",
        "The first line that is neither blank nor a comment must hold the names of the columns, \
         separated by commas, semicolons or tabs. Their order is free, and case makes no difference.",
    ),
    Code::new(
        "table-column-missing",
        "a needed column is not there",
        "Add the column to the header and fill it in every row. Look for a slip in its name: an \
         unknown column is warned of separately.",
    ),
    Code::new(
        "table-column-doubled",
        "a column stands twice in the header",
        "It is not clear which of the two counts. Rename one of them (an unknown column is only \
         warned of) or delete it.",
    ),
    Code::new(
        "table-column-unknown",
        "a column whose name means nothing here",
        "The column is not read. That is fine for columns of your own; otherwise mend its name.",
    ),
    Code::new(
        "table-row",
        "a row has more cells than the header",
        "Most often a cell holds a comma itself: put the cell in double quotes, as in \
         \"red, with gold\". Blank cells at the end of a row are no error.",
    ),
    Code::new(
        "table-separator",
        "a row's cells are separated otherwise than the header's",
        "The header says what stands between the cells of a file: commas, semicolons or tabs. A row that \
         holds another of these and none of its own is one long cell. Separate all lines alike: most often \
         a line was typed by hand into a file that a spreadsheet wrote, or the other way round.",
    ),
    Code::new(
        "table-quote",
        "a quoted cell never ends, or goes on behind its closing quote",
        "A cell that begins with a double quote ends with one. Inside it, a double quote or inch \
         mark is written twice: \"8 1/2\"\" wide\". A cell that does not begin with a quote can hold \
         inch marks as they are: 8 1/2\".",
    ),
    Code::new(
        "table-cell-blank",
        "a cell that every row needs is blank",
        "Fill the cell, or delete the row. To keep a row for later without planning it, begin its \
         line with `# `.",
    ),
    Code::new(
        "table-comment",
        "a line that begins with # could be meant as a row",
        "Lines that begin with # are comments and are not read. This one has as many cells as the \
         header, and no blank behind the #. If it is a row, put its first cell in double quotes; if \
         it is a comment, put a blank behind the #.",
    ),
];
