//! Codes of report folders.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "folder-restored",
        "an earlier plan was interrupted while it wrote its reports",
        "A new report folder is written beside the old one and replaces it in one step, along with your own \
         files. If the program is stopped or the power fails, the rest stays in a folder `.cardwright`, and the \
         next plan into the same parent folder puts it right. You have all of the old reports or all of the new \
         ones, and every file of your own.",
    ),
    Code::new(
        "folder-both",
        "a file of your own changed while the reports were replaced",
        "Your own files in a report folder move on to the new one. One of them was saved at that very moment, \
         or after a plan was interrupted, so there are two versions. The newer one keeps its name, where the \
         system says which that is; the other lies beside it, with a number after its name. Look at both and \
         delete the one you do not want.",
    ),
    Code::new(
        "folder-left",
        "an old report folder could not be cleared away",
        "The reports are complete, but something old could not be moved or removed. It is in the folder \
         `.cardwright` beside the report folder, and may hold files of your own. Allow it, as the message says, \
         and plan again: that clears it away.",
    ),
];
