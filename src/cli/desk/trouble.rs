//! What stands in the way, in words for a page: what is wrong and what to do, without the numbers of the system.

use super::super::access::in_full;
use crate::shelf::StoreError;
use std::io::{self, ErrorKind};
use std::path::Path;

/// Another command has the lock of the shelf.
pub const BUSY: &str =
    "Another command is using your shelf. Nothing was changed. Try again when it has ended.";
/// What was looked at is not what is there now.
pub const CHANGED: &str = "Your shelf has changed since you looked. Nothing was recorded. Look again at what will change.";
/// There is no such folder any more.
pub const GONE: &str = "The folder of this desk has gone: it was moved or renamed, or its disk was taken out. Put it back, or \
                        start the desk again where the folder is now.";
/// The file of the program is another one, or none.
#[cfg(not(target_family = "wasm"))]
const REPLACED: &str = "Cardwright was updated or moved while this desk was running. Press Ctrl-C in the terminal, start the \
                        desk again, and open the new link.";

/// A system's error as a sentence. One that was made here is a sentence already.
pub fn sentence(error: &io::Error) -> String {
    match error.get_ref() {
        Some(told) => match capital(&told.to_string()) {
            whole if whole.ends_with('.') => whole,
            what => format!("{what}. Change that, then try again."),
        },
        None => capital(&reason(error)),
    }
}

/// The same error with what it keeps from being done.
pub fn keeps(what: &str, error: &io::Error) -> io::Error {
    io::Error::new(error.kind(), format!("{what}: {}", reason(error)))
}

/// Why the program cannot be run.
#[cfg(not(target_family = "wasm"))]
pub fn of_program(error: &io::Error, home: &Path) -> io::Error {
    let told = match error.kind() {
        ErrorKind::NotFound if home.is_dir() => REPLACED,
        ErrorKind::NotFound => GONE,
        ErrorKind::InvalidInput => {
            "A name holds a character that no name can have. Load the page again."
        }
        _ => return keeps("cardwright cannot be run", error),
    };
    io::Error::new(error.kind(), told)
}

/// Why a file is not saved.
pub fn of_save(error: &StoreError) -> String {
    match error {
        StoreError::Stopped(_) => BUSY.to_owned(),
        StoreError::System { act: "find", path, .. } => format!(
            "The link {} leads nowhere. Put back what it leads to, or delete the link. Then save again.",
            name(path)
        ),
        StoreError::System { act: "lock", source, .. } => {
            sentence(&keeps("your shelf cannot be locked", source))
        }
        StoreError::System { source, .. } => sentence(source),
        StoreError::Problem(problem) => {
            let told: Vec<String> = std::iter::once(&problem.title)
                .chain(&problem.help)
                .map(|it| capital(it))
                .collect();
            told.join(". ") + "."
        }
        error => capital(&in_full(error)),
    }
}

fn name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

fn reason(error: &io::Error) -> String {
    let told = match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            "the disk is full. Make room on it, then try again."
        }
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            "you may not write there. Change that for the folder or the file, then try again."
        }
        ErrorKind::NotFound => "its folder is not there. Put it back, then try again.",
        ErrorKind::IsADirectory | ErrorKind::DirectoryNotEmpty => {
            "a folder has its name. Rename that folder, then try again."
        }
        ErrorKind::AlreadyExists => {
            "there is a file of its name. Rename one of them, then try again."
        }
        _ => {
            return format!(
                "the system says “{}”. Try again.",
                without_numbers(&error.to_string())
            );
        }
    };
    told.to_owned()
}

/// A text without the numbers that the system has for its errors.
pub fn without_numbers(told: &str) -> String {
    let mut parts = told.split(" (os error ");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |told, part| told + part.split_once(')').map_or("", |(_, rest)| rest))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::path::PathBuf;

    #[test]
    fn the_system_is_told_in_words_with_what_to_do() {
        let full = io::Error::from(ErrorKind::StorageFull);
        assert_eq!(sentence(&full), "The disk is full. Make room on it, then try again.");
        let told = sentence(&keeps("a trial copy cannot be made", &full));
        assert_eq!(
            told,
            "A trial copy cannot be made: the disk is full. Make room on it, then try again."
        );
        let odd = sentence(&io::Error::from_raw_os_error(4));
        assert!(odd.starts_with("The system says “") && !odd.contains("os error"), "{odd}");
        assert_eq!(without_numbers("a: b (os error 28)\nc (os error 2) d\n"), "a: b\nc d\n");
        let protected = io::Error::new(ErrorKind::PermissionDenied, "it is write-protected");
        assert_eq!(sentence(&protected), "It is write-protected. Change that, then try again.");
    }

    #[test]
    fn a_program_that_was_replaced_is_not_a_folder_that_has_gone() {
        let home = tempfile::tempdir().unwrap();
        let missing = io::Error::from(ErrorKind::NotFound);
        assert_eq!(of_program(&missing, home.path()).to_string(), REPLACED);
        assert_eq!(of_program(&missing, &home.path().join("gone")).to_string(), GONE);
    }

    #[test]
    fn a_save_that_is_refused_names_no_path() {
        let system = |act: &'static str, kind: ErrorKind| StoreError::System {
            act,
            path: PathBuf::from("/home/x/envelopes.csv"),
            source: kind.into(),
        };
        for (error, begins) in [
            (system("find", ErrorKind::NotFound), "The link envelopes.csv leads nowhere. "),
            (system("write", ErrorKind::ReadOnlyFilesystem), "You may not write there. "),
            (system("read", ErrorKind::IsADirectory), "A folder has its name. "),
            (StoreError::Stopped(PathBuf::from("/home/x/.shelf.lock")), "Another command is using"),
        ] {
            let told = of_save(&error);
            assert!(told.starts_with(begins) && !told.contains('/'), "{told}");
        }
    }
}
