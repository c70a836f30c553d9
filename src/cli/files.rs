//! Reading: from paths to bytes, with a clear word where that fails.

use super::settings::{NamedFile, Sources};
use crate::batch::{Inputs, Source};
use crate::diagnostics::{Problem, Problems};
use crate::settling::ToSettle;
use crate::stock::{PerFile, USUAL_NAMES};
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// Largest file that is read, in bytes: no order or drawer comes near it.
const LARGEST: u64 = 64 * 1024 * 1024;

/// All files of a batch.
///
/// # Errors
/// Every file that is needed or was named and cannot be read.
pub fn inputs(sources: &Sources) -> Result<Inputs, Problems> {
    let mut problems = Problems::new();
    let orders: Vec<Source> =
        sources.orders.iter().filter_map(|path| required(path, &mut problems)).collect();
    let sheets = sheets(sources, &mut problems);
    let PerFile { offcuts, envelopes, sundries, .. } = &sources.stock;
    let [offcuts, envelopes, sundries] =
        [offcuts, envelopes, sundries].map(|file| optional(file, &mut problems));
    let workshop = optional(&sources.workshop, &mut problems);
    match sheets {
        Some(sheets) if problems.is_empty() => {
            let unplanned = Inputs::default();
            Ok(Inputs { orders, sheets, offcuts, envelopes, sundries, workshop, ..unplanned })
        }
        _ => Err(problems),
    }
}

/// A file that has to be there.
pub fn required(path: &Path, problems: &mut Problems) -> Option<Source> {
    match read(path) {
        Ok(source) => Some(source),
        Err(problem) => {
            problems.push(*problem);
            None
        }
    }
}

/// A file that has to be there only where it was named.
pub fn optional(wanted: &NamedFile, problems: &mut Problems) -> Option<Source> {
    match wanted.named || is_there(&wanted.path) {
        true => required(&wanted.path, problems),
        false => None,
    }
}

fn sheets(sources: &Sources, problems: &mut Problems) -> Option<Source> {
    let wanted = &sources.stock.sheets;
    if wanted.named || is_there(&wanted.path) {
        return required(&wanted.path, problems);
    }
    // Beside a folder that was named for an order, nobody keeps any. A shelf is asked for without orders.
    let is_misled = !sources.orders.is_empty() && sources.orders.iter().all(|it| it.is_dir());
    if is_misled {
        return None;
    }
    let path = wanted.path.display();
    problems.push(
        Problem::error("file-missing", format!("there is no {path}"))
            .help("sheets.csv lists the paper you have or can buy: put one there")
            .help("or name it with --sheets"),
    );
    None
}

/// What is in a file now; `None` where that cannot be read.
pub fn now(path: &Path) -> Option<Vec<u8>> {
    bytes(path).ok()
}

/// Plan and note of a report folder, as they are now; `None` where one of them cannot be read.
pub fn report_now(folder: &Path) -> Option<ToSettle> {
    let source = |name: &str| {
        let path = folder.join(name);
        Some(Source { bytes: now(&path)?, name: path.display().to_string() })
    };
    Some(ToSettle { plan: source("plan.json")?, origin: source("origin.json")? })
}

/// A link that leads nowhere counts as there: it was meant to be.
fn is_there(path: &Path) -> bool {
    path.symlink_metadata().is_ok()
}

fn read(path: &Path) -> Result<Source, Box<Problem>> {
    let name = path.display().to_string();
    match bytes(path) {
        Ok(bytes) if bytes.len() as u64 > LARGEST => Err(Box::new(
            Problem::error("file-size", format!("{name} is larger than 64 MiB"))
                .help("no order or paper list is that large: check that it is the right file"),
        )),
        Ok(bytes) => Ok(Source { name, bytes }),
        Err(error) => Err(Box::new(unread(path, &name, &error))),
    }
}

fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    // Asked before it is opened: opening a pipe waits for somebody at its other end.
    let found = path.metadata()?;
    if found.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    if !found.is_file() && !is_stream(path) {
        return Err(ErrorKind::InvalidInput.into());
    }
    let mut bytes = Vec::new();
    File::open(path)?.take(LARGEST + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Whether it is a stream that the command was started with, or the empty file: these end.
fn is_stream(path: &Path) -> bool {
    let streams = ["/dev/fd", "/proc/self/fd"];
    [Path::new("/dev/stdin"), Path::new("/dev/null")].contains(&path)
        || path.parent().is_some_and(|folder| streams.map(Path::new).contains(&folder))
}

/// The plan or the only order in a folder.
fn meant(folder: &Path) -> Option<PathBuf> {
    let plan = folder.join("plan.json");
    if plan.is_file() {
        return Some(plan);
    }
    let is_order = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default();
        path.extension().is_some_and(|it| it == "csv")
            && USUAL_NAMES.array().iter().all(|usual| name != *usual)
    };
    let mut orders = folder.read_dir().ok()?.flatten().map(|entry| entry.path()).filter(is_order);
    let order = orders.next();
    order.filter(|_| orders.next().is_none())
}

fn unread(path: &Path, name: &str, error: &io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound => {
            let problem = Problem::error("file-missing", format!("there is no {name}"));
            match path.parent().filter(|folder| !folder.as_os_str().is_empty() && !folder.exists())
            {
                Some(folder) => {
                    problem.help(format!("the folder {} is missing too", folder.display()))
                }
                None => problem.help("check the spelling, and which folder you are in"),
            }
        }
        ErrorKind::IsADirectory => {
            let problem = Problem::error("file-folder", format!("{name} is a folder, not a file"));
            problem.help(match meant(path) {
                Some(file) => format!("did you mean {}?", file.display()),
                None => "name a file in it".to_owned(),
            })
        }
        ErrorKind::InvalidInput => {
            Problem::error("file-kind", format!("{name} is a pipe or a device, not a file"))
                .help("save the table in a file and name that, or send it to /dev/stdin")
        }
        _ => Problem::error("file-unreadable", format!("cannot read {name}: {error}"))
            .help("check that you may read it, and that no other program has locked it"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;
    use std::path::PathBuf;

    fn put(folder: &Path, name: &str) -> PathBuf {
        let path = folder.join(name);
        File::create(&path).unwrap().write_all(name.as_bytes()).unwrap();
        path
    }

    fn sources(folder: &Path, orders: &[&str]) -> Sources {
        let wanted = |name: &str| NamedFile { path: folder.join(name), named: false };
        Sources {
            orders: orders.iter().map(|name| folder.join(name)).collect(),
            stock: USUAL_NAMES.map(wanted),
            workshop: wanted("workshop.toml"),
        }
    }

    fn codes(problems: &Problems) -> Vec<&str> {
        problems.iter().map(|problem| problem.code).collect()
    }

    #[test]
    fn what_may_be_missing_may_be_missing() {
        let home = tempfile::tempdir().unwrap();
        put(home.path(), "spring.csv");
        put(home.path(), "sheets.csv");
        let inputs = inputs(&sources(home.path(), &["spring.csv"])).unwrap();
        assert_eq!(inputs.orders[0].bytes, b"spring.csv");
        assert_eq!((inputs.offcuts, inputs.workshop), (None, None));
        put(home.path(), "offcuts.csv");
        let again = super::inputs(&sources(home.path(), &["spring.csv"])).unwrap();
        assert_eq!(again.offcuts.unwrap().bytes, b"offcuts.csv");
    }

    #[test]
    fn all_files_that_fail_are_told_at_once() {
        let home = tempfile::tempdir().unwrap();
        std::fs::create_dir(home.path().join("summer.csv")).unwrap();
        let mut sources = sources(home.path(), &["spring.csv", "summer.csv"]);
        sources.workshop.named = true;
        let problems = inputs(&sources).unwrap_err();
        let expected = ["file-missing", "file-folder", "file-missing", "file-missing"];
        assert_eq!(codes(&problems), expected);
    }

    #[test]
    fn missing_sheets_say_what_to_do() {
        let home = tempfile::tempdir().unwrap();
        put(home.path(), "spring.csv");
        let problems = inputs(&sources(home.path(), &["spring.csv"])).unwrap_err();
        let problem = problems.iter().next().unwrap();
        assert!(problem.title.starts_with("there is no ") && problem.title.ends_with("sheets.csv"));
        assert!(problem.help[1].contains("--sheets"));
    }

    #[test]
    fn a_missing_folder_is_named() {
        let problem = read(Path::new("no-such-folder/spring.csv")).unwrap_err();
        assert_eq!(problem.help, ["the folder no-such-folder is missing too"]);
    }

    #[test]
    fn a_file_of_the_largest_size_is_read_and_one_above_is_not() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("big.csv");
        let file = File::create(&path).unwrap();
        file.set_len(LARGEST).unwrap();
        assert!(read(&path).is_ok());
        file.set_len(LARGEST + 1).unwrap();
        assert_eq!(read(&path).unwrap_err().code, "file-size");
    }
}
