//! Codes of files that cannot be read at all.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "file-missing",
        "a file that is needed is not there",
        "An order needs its own file and sheets.csv, which lists the paper you have or can buy. \
         sheets.csv, offcuts.csv and workshop.toml are looked for beside the order; --sheets, \
         --offcuts and --workshop name them elsewhere. offcuts.csv and workshop.toml may be missing, \
         unless you named them.",
    ),
    Code::new(
        "file-folder",
        "a folder is named where a file is expected",
        "Orders are single CSV files. Name the file in the folder; several orders may be named one \
         after the other and are planned as one batch.",
    ),
    Code::new(
        "file-kind",
        "a pipe or a device is named where a file is expected",
        "What is read has to have an end, so only files are read, and the streams that the command is started \
         with: `/dev/stdin`, and `<(…)` of a shell. Save the table in a file and name that.",
    ),
    Code::new(
        "file-size",
        "a file is too large",
        "Files above 64 MiB are not read. An order of a hundred thousand lines needs a tenth of that, \
         so it is most likely another file.",
    ),
    Code::new(
        "file-unreadable",
        "the system does not let a file be read",
        "The message ends with what the system says. Check that you may read the file, that no other \
         program holds it, and that its disk is there.",
    ),
];
