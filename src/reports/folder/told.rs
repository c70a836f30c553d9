//! What a person has to know of what became of a report folder.

use super::FolderError;
use crate::diagnostics::{Problem, Problems, listed};
use std::error::Error;
use std::path::{Path, PathBuf};

/// What was brought from one folder to another.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Brought {
    /// What was not there yet.
    came: Vec<PathBuf>,
    /// What was there in another version, and where the older one is now.
    doubled: Vec<(PathBuf, PathBuf)>,
}

impl Brought {
    /// Something came there.
    pub fn came(&mut self, to: &Path) {
        self.came.push(to.to_owned());
    }

    /// Two versions are there.
    pub fn doubled(&mut self, to: &Path, beside: &Path) {
        self.doubled.push((to.to_owned(), beside.to_owned()));
    }

    /// Names of what was not there yet, counted from this folder.
    pub fn names(&self, folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = self.came.iter().map(|path| within(path, folder)).collect();
        names.sort();
        names
    }

    /// Warns of what is there twice; the folder as the person calls it.
    pub fn problems(&self, folder: &Path, shown: &Path) -> Problems {
        let mut problems = Problems::new();
        for (path, beside) in &self.doubled {
            let name = |path: &Path| shown.join(within(path, folder)).display().to_string();
            let title = format!("{} changed while the reports were replaced", name(path));
            problems.push(
                Problem::warning("folder-both", title)
                    .help(format!("the other version is {}: keep the one you want", name(beside))),
            );
        }
        problems
    }
}

fn within(path: &Path, folder: &Path) -> String {
    path.strip_prefix(folder).unwrap_or(path).display().to_string()
}

/// A run that was interrupted had not replaced anything yet.
pub fn unfinished(parent: &Path) -> Problem {
    let title =
        format!("an earlier plan was interrupted while it wrote reports in {}", parent.display());
    Problem::warning("folder-restored", title)
        .help("its unfinished files are gone: every report folder is as it was before that plan")
}

/// A run that was interrupted had moved a folder away.
pub fn brought_back(folder: &Path) -> Problem {
    let title = format!("an earlier plan was interrupted while it replaced {}", folder.display());
    Problem::warning("folder-restored", title).help("the folder is back as it was before that plan")
}

/// A run that was interrupted had replaced a folder, but not cleared away the old one.
pub fn completed(folder: &Path, came: &[String]) -> Problem {
    let title =
        format!("an earlier plan was interrupted after it had replaced {}", folder.display());
    let problem = Problem::warning("folder-restored", title)
        .help("its reports are complete, and the old ones are gone");
    match came {
        [] => problem,
        names => problem.help(format!("moved over from the old folder: {}", listed(names))),
    }
}

/// Something cannot be put right now.
pub fn left(error: &FolderError, room: &Path) -> Problem {
    let cause = error.source().map(|cause| format!(": {cause}")).unwrap_or_default();
    let title = format!("what is in {} could not be cleared away", room.display());
    Problem::warning("folder-left", title)
        .help(format!("{error}{cause}"))
        .help("your own files are there or in the report folder; the next plan tries again")
}
