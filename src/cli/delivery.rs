//! Reports brought to their folder, and paper set aside with them: both or neither.
//!
//! Everything that can be refused is done first: the new folder is written beside the old one, the shelf is locked and
//! the paper found free. Then the folders are exchanged, and the reservation is entered in the journal. Where that
//! fails, the old folder comes back. So paper is never set aside for reports that are not there. One who is killed in
//! between has the reports of a plan without `--reserve`: nothing in them says that paper is set aside, `shelf` does
//! not list it, and planning once more sets it aside.

use super::access::{self, PAUSE, SILENT, in_full};
use super::console::{Console, Exit};
use super::settings::Sources;
use super::today::day;
use crate::batch::Made;
use crate::reports::ReportFile;
use crate::reports::folder::{Destination, FolderError, Swapped, Workspace, Written};
use crate::reports::visible::shown;
use crate::settling::{Reservation, Trouble};
use std::path::Path;
use std::thread::sleep;

/// What is to be brought where.
pub struct Delivery<'a> {
    /// The report folder.
    pub folder: &'a Path,
    /// What goes into it.
    pub files: &'a [ReportFile],
    /// What the batch was planned from.
    pub sources: &'a Sources,
    /// Whose paper is set aside, where that is wanted.
    pub reserve: Option<Paper<'a>>,
}

/// The paper of a plan.
#[derive(Clone, Copy)]
pub struct Paper<'a> {
    /// The plan.
    pub made: &'a Made,
    /// What tells it from others.
    pub identity: &'a str,
}

/// Why nothing was changed.
enum Failure {
    Folder(FolderError),
    Trouble(Trouble),
}

impl From<FolderError> for Failure {
    fn from(error: FolderError) -> Failure {
        Failure::Folder(error)
    }
}

impl From<Trouble> for Failure {
    fn from(trouble: Trouble) -> Failure {
        Failure::Trouble(trouble)
    }
}

/// The place of a report folder, which must not hold what the batch is planned from.
///
/// # Errors
/// It is told already why none may be there.
pub fn place(folder: &Path, sources: &Sources, console: &mut Console) -> Result<Destination, Exit> {
    let place =
        Destination::of(folder, &sources.paths()).map_err(|error| refused(&error, console))?;
    match place.holds_the_person() {
        true => Err(refused(&FolderError::NoName(folder.to_owned()), console)),
        false => Ok(place),
    }
}

fn refused(error: &FolderError, console: &mut Console) -> Exit {
    console.refused(&in_full(error), help(error))
}

fn help(error: &FolderError) -> &'static str {
    match error {
        FolderError::NotOurs(_) => "name another folder with --out, or move away what is there",
        FolderError::NoName(_)
        | FolderError::HoldsInput { .. }
        | FolderError::HoldsShelf { .. } => "name a folder with --out, such as --out reports/may",
        FolderError::InTheWay(_) => "rename your folder, or name another one with --out",
        FolderError::Stopped(_) => "wait for the other plan, or name another folder with --out",
        FolderError::System { .. } => "check that you may write there and that the disk has room",
    }
}

impl Delivery<'_> {
    /// Brings it there.
    ///
    /// # Errors
    /// It is told already why nothing was changed.
    pub fn deliver(&self, console: &mut Console) -> Result<(), Exit> {
        let place = place(self.folder, self.sources, console)?;
        let line = format!(
            "waiting for another plan to finish writing beside {}\n",
            shown(&self.folder.display().to_string())
        );
        let interrupt = console.interrupt.clone();
        // One that was pressed before was meant for the search.
        let was_pressed = interrupt.is_pressed();
        let patience = access::patience();
        let work = Workspace::begin(place, &mut |tries| {
            if tries == SILENT {
                console.say(&line);
            }
            sleep(PAUSE);
            (was_pressed || !interrupt.is_pressed()) && tries < patience
        });
        let mut work = match work {
            Ok(work) => work,
            Err(FolderError::Stopped(_)) => return Err(console.stopped("nothing was written")),
            Err(error) => return Err(refused(&error, console)),
        };
        console.problems(&std::mem::take(&mut work.told));
        // The second Ctrl-C waits from here on.
        let held = interrupt.hold();
        let delivered = self.written(work, console);
        drop(held);
        match delivered {
            Ok(()) => Ok(()),
            Err(Failure::Folder(error)) => Err(refused(&error, console)),
            Err(Failure::Trouble(trouble)) => Err(access::troubled(trouble, console)),
        }
    }

    fn written(&self, work: Workspace, console: &mut Console) -> Result<(), Failure> {
        let written = work.write(self.files)?;
        let swapped = match self.reserve {
            None => written.swap()?,
            Some(paper) => self.with_paper(written, paper, console)?,
        };
        console.problems(&swapped.finish());
        Ok(())
    }

    fn with_paper(
        &self,
        written: Written,
        Paper { made, identity }: Paper,
        console: &mut Console,
    ) -> Result<Swapped, Failure> {
        let mut shelf = access::open(self.sources.shelf(), console)?;
        console.problems(&std::mem::take(&mut shelf.told));
        let reservation = Reservation::of(&made.plan, identity, &made.job.workshop, &shelf)?;
        let swapped = written.swap()?;
        match reservation.enter(day(None), &mut shelf) {
            Ok(()) => Ok(swapped),
            Err(trouble) => {
                match swapped.back() {
                    Ok(told) => console.problems(&told),
                    Err(error) => drop(refused(&error, console)),
                }
                Err(trouble.into())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_tells_its_causes() {
        let source = std::io::Error::other("no space left");
        let error = FolderError::System { act: "write", path: "reports/x".into(), source };
        assert_eq!(in_full(&error), "cannot write reports/x: no space left");
    }
}
