//! Codes of files that cannot be read at all.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "file-missing",
        "a file that is needed is missing",
        "An order needs its own file and sheets.csv, the list of paper you have or can buy. sheets.csv, \
         offcuts.csv, envelopes.csv, sundries.csv and workshop.toml are looked for beside the order; --sheets, --offcuts, \
         --envelopes, --sundries and --workshop name them elsewhere. You can do without all but sheets.csv, unless you \
         name them.",
    ),
    Code::new(
        "file-folder",
        "a folder is named where a file is expected",
        "An order is one CSV file. Name the file in the folder. Name several orders one after the other to \
         plan them as one batch.",
    ),
    Code::new(
        "file-kind",
        "a pipe or a device is named where a file is expected",
        "Only files are read, and the streams that the command is started with: `/dev/stdin`, and `<(…)` in \
         a shell. Save the table in a file and name that.",
    ),
    Code::new(
        "file-size",
        "a file is too large",
        "Files above 64 MiB are not read. An order of a hundred thousand lines needs a tenth of that, so \
         this is probably another file.",
    ),
    Code::new(
        "file-unreadable",
        "a file cannot be read",
        "The message ends with the reason that the system gives. Check that you may read the file, that no \
         other program holds it, and that its disk is there.",
    ),
];
