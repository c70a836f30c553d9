//! The way to a shelf's files, and what is said where it is blocked.
//!
//! A command that waits for a lock asks for it every 20 ms, says so after half a second, and ends at once on Ctrl-C.

use super::console::{Console, Exit};
use super::settings::Sources;
use super::typed::as_typed;
use crate::diagnostics::{Problem, Problems};
use crate::reports::visible::shown;
use crate::settling::Trouble;
use crate::shelf::{Origin, Shelf, Spot, StoreError, SystemDisk, View, check_names, inside, look};
use crate::stock::PerFile;
use std::error::Error;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

/// A shelf of the system's disk.
pub type SystemShelf = Shelf<SystemDisk>;

/// Between two tries to take a lock.
pub const PAUSE: Duration = Duration::from_millis(20);

/// So many tries are waited without a word.
pub const SILENT: u32 = 25;

/// The variable by which a program that runs this one says how many seconds a lock is waited for: nobody is there to press Ctrl-C.
pub const PATIENCE: &str = "CARDWRIGHT_PATIENCE";

/// How often a lock is tried before a command ends.
pub fn patience() -> u32 {
    let seconds = std::env::var(PATIENCE).ok().and_then(|text| text.parse::<u32>().ok());
    seconds.map_or(u32::MAX, |seconds| seconds.saturating_mul(2 * SILENT))
}

/// Opens the shelf of these files for a change.
///
/// # Errors
/// The system refuses, the journal is broken, or a file is another shelf's.
pub fn open(files: PerFile<&Path>, console: &mut Console) -> Result<SystemShelf, Trouble> {
    let spot = Spot::of(&SystemDisk, files)?;
    Ok(Shelf::open_while(SystemDisk, spot, &mut waiting(console))?)
}

/// Looks at the shelf of a batch's files; `None` where there are no such files.
///
/// # Errors
/// The system refuses, the journal is broken, or a file is another shelf's.
pub fn view(sources: &Sources, console: &mut Console) -> Result<Option<View<File>>, Trouble> {
    // Files that are not there are told when they are read.
    let Ok(spot) = Spot::of(&SystemDisk, sources.shelf()) else { return Ok(None) };
    Ok(Some(look(&SystemDisk, &spot, &mut waiting(console))?))
}

/// Waits for other commands until Ctrl-C, and says so where it takes long.
fn waiting(console: &mut Console) -> impl FnMut(&Path, u32) -> bool {
    // One that was pressed before was meant for something else.
    let was_pressed = console.interrupt.is_pressed();
    let patience = patience();
    move |path, tries| {
        if tries == 1 {
            console.interrupt.listen();
        }
        if tries == SILENT {
            let path = shown(&path.display().to_string());
            console.say(&format!(
                "waiting for {path}: another command is using this shelf; Ctrl-C stops waiting\n"
            ));
        }
        sleep(PAUSE);
        let goes_on = !console.interrupt.is_pressed() || (was_pressed && tries < SILENT);
        goes_on && tries < patience
    }
}

/// Whether another command has come to the shelf while it was looked at without a lock, since there was none yet.
pub fn is_overtaken(view: &View<File>) -> bool {
    view.locks.missing.iter().any(|lock| lock.exists())
}

/// Whether the journal is that of these files.
///
/// # Errors
/// It is that of others.
pub fn is_theirs(view: &View<File>) -> Result<(), Trouble> {
    Ok(check_names(&view.journal, &view.spot)?)
}

/// Warns of files that the journal knows and that are gone.
pub fn vanished(view: &View<File>, sources: &Sources) -> Problems {
    let known = view.journal.after().cloned().unwrap_or_default();
    // Where the journal knows a file of another name, this one was never there.
    if check_names(&view.journal, &view.spot).is_err() {
        return Problems::new();
    }
    let files = sources.shelf().with(known).array().into_iter();
    let gone = files.filter(|(path, known)| known.is_some() && path.symlink_metadata().is_err());
    let help = format!("`{}` writes it again from the journal", view.spot.command("rebuild"));
    let mut told = Problems::new();
    told.extend(gone.map(|(path, _)| {
        let title = format!("{} is gone", path.display());
        Problem::warning("shelf-vanished", title).help(help.clone())
    }));
    told
}

/// Where the note of a report says that a file lies.
///
/// # Errors
/// It says nothing, or leads out of this folder.
pub fn noted(noted: &Option<String>, usual: &'static str) -> Result<PathBuf, Box<Problem>> {
    let what = usual.split('.').next().unwrap_or_default();
    let title = match noted {
        Some(path) => match inside(path) {
            Some(path) => return Ok(path),
            None => format!("origin.json names a file outside this folder: {path}"),
        },
        None => format!("the {what} file of this batch was outside the folder it was planned in"),
    };
    Err(Box::new(Problem::error("settle-path", title).help(format!("name the file with --{what}"))))
}

/// Whether a report lies where its note says, counted from this folder: else the paths in its note lead from another.
///
/// # Errors
/// It was planned in another folder, or moved since.
pub fn is_here(report: &Path, origin: &Origin) -> Result<(), Box<Problem>> {
    let full = |path: &Path| path.canonicalize().ok();
    let found = full(report);
    let is = |path: PathBuf| found.is_some() && full(&path) == found;
    let Some(noted) = origin.report.as_deref().and_then(inside) else {
        return lies_below(report, origin);
    };
    if is(noted.clone()) {
        return Ok(());
    }
    let title = format!("{} was planned from another folder", report.display());
    let problem = Problem::error("settle-path", title);
    let depth = noted.components().count();
    let home = found.as_deref().and_then(|found| found.ancestors().nth(depth));
    let planned_in = home.filter(|home| is(home.join(&noted)));
    Err(Box::new(match planned_in {
        Some(home) => problem.help(format!(
            "go to the folder it was planned in: `cd {}`, then `cardwright settle {}`",
            as_typed(home),
            as_typed(&noted)
        )),
        None => problem.help(format!(
            "it was planned as {} and has been moved: name its sheets.csv with --sheets",
            noted.display()
        )),
    }))
}

/// Whether a report that does not say where it lay is below this folder, and no folder between has such a shelf, too.
fn lies_below(report: &Path, origin: &Origin) -> Result<(), Box<Problem>> {
    let full = |path: &Path| path.canonicalize().ok();
    let refused = |title: String| {
        Err(Box::new(
            Problem::error("settle-path", title)
                .help("go to the folder it was planned in, or name its sheets.csv with --sheets"),
        ))
    };
    let (Some(here), Some(found)) = (full(Path::new(".")), full(report)) else {
        return refused(format!("{} cannot be found", report.display()));
    };
    if !found.starts_with(&here) {
        return refused(format!("{} is not in this folder", report.display()));
    }
    let Some(sheets) = origin.sheets.as_deref().and_then(inside) else { return Ok(()) };
    let mut between = found.ancestors().skip(1).take_while(|folder| **folder != here);
    match between.find(|folder| folder.join(&sheets).exists()) {
        None => Ok(()),
        Some(other) => refused(format!(
            "{} may have been planned in {}, which has a {} too",
            report.display(),
            other.display(),
            sheets.display()
        )),
    }
}

/// Tells why a shelf was not changed.
pub fn troubled(trouble: Trouble, console: &mut Console) -> Exit {
    match trouble {
        Trouble::Problems(problems) => {
            console.problems(&problems);
            Exit::Mistakes
        }
        Trouble::Fault(fault) => console.fault(&[fault]),
        Trouble::Store(error @ StoreError::Stopped(_)) if !console.interrupt.is_pressed() => {
            console.refused(&in_full(&error), "nothing was changed: try again when it has ended");
            Exit::Stopped
        }
        Trouble::Store(StoreError::Stopped(_)) => console.stopped("nothing was changed"),
        Trouble::Store(error) => {
            let help = match &error {
                StoreError::Unfinished(_) => {
                    "the next command on this shelf finishes it".to_owned()
                }
                StoreError::NoText { rebuild, .. } => format!(
                    "save it in UTF-8, or move it away: `{rebuild}` then writes it again from the journal"
                ),
                StoreError::System { act: "find", .. } => {
                    "check the spelling, the folder you are in, and where links lead".to_owned()
                }
                _ => {
                    "nothing was changed: check that you may write there and that the disk has room"
                        .to_owned()
                }
            };
            console.refused(&in_full(&error), &help)
        }
    }
}

/// An error with all its causes: `cannot write x: no space left`.
pub fn in_full(error: &dyn Error) -> String {
    let mut text = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        text.push_str(&format!(": {error}"));
        cause = error.source();
    }
    text
}
