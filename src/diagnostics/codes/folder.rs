//! Codes of report folders.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "folder-restored",
        "an earlier plan was cut off while it wrote its reports",
        "A new report folder is made beside the old one and takes its place in one step, together with all files of \
         your own. If the program is killed or the power fails meanwhile, the next plan into the same parent folder \
         finds what was left there, in a folder `.cardwright`, and puts it right: the old reports or the new ones are \
         there as a whole, and so is everything that you have put beside them.",
    ),
    Code::new(
        "folder-both",
        "a file of your own was changed while the reports were replaced",
        "Your files in a report folder are carried over into the new one. One of them was saved in that very moment, \
         or after a plan was cut off, so that there are two versions of it. The one that was changed last has kept \
         its name, where the system says which that is; the other one lies beside it, with a number behind its \
         name. Look at both and delete the one you do not want.",
    ),
    Code::new(
        "folder-left",
        "an old report folder could not be cleared away",
        "The reports are whole, but the system did not let something be moved or removed that is no longer wanted. \
         It is in the folder `.cardwright` beside the report folder, and may hold files of your own. Allow it, as the \
         message says, and plan once more: whatever is left is put right then.",
    ),
];
