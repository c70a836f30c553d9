//! The folder of a desk: which files it has, what is in them, and how one of them is saved.
//!
//! The files on disk are the truth. A file is replaced in one step, under the lock of the shelf, and only while it is what the page
//! last knew: what another window, a spreadsheet or a command has written since is never lost unseen.

use super::names::{is_order, is_plain, is_shown, is_stock, names_in, stock_names};
use super::replace::{beside, create, replace};
#[cfg(feature = "command-line")]
use super::replace::{is_left, keep_left};
use crate::batch::{Source, read_workshop};
use crate::cli::access::{PAUSE, SILENT};
use crate::diagnostics::{Place, Problem, Problems};
use crate::shelf::{Disk, JOURNAL, Locks, Sharing, Spot, StoreError, SystemDisk, digest, look};
use crate::stock::{PerFile, USUAL_NAMES};
use crate::table;
use serde_json::{Map, Value, json};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, OnceLock, PoisonError};
use std::thread::sleep;

/// Largest file that is shown, in bytes.
const LARGEST: u64 = 16 << 20;

/// The name of the bench's file.
pub const WORKSHOP: &str = "workshop.toml";

/// A folder with a workshop in it.
#[derive(Debug)]
pub struct Folder {
    /// Where commands run.
    pub home: PathBuf,
    /// Where orders and stock lie, as seen from there: here, or in `orders`.
    pub shelf: PathBuf,
    /// Held while a file is saved: two windows come one after the other.
    saving: Mutex<()>,
    /// Held while a command changes the shelf: two presses come one after the other.
    acting: Mutex<()>,
    phone: OnceLock<PhoneLink>,
}

/// The link by which a phone comes in.
#[derive(Debug)]
pub struct PhoneLink {
    /// The link.
    pub link: String,
    /// The same as a picture to scan, in SVG.
    pub code: Option<String>,
}

/// How a file was to be saved.
#[derive(Debug)]
pub struct Saving<'a> {
    /// The file.
    pub name: &'a str,
    /// The digest of what it was; `None` where it was not there.
    pub was: Option<&'a str>,
    /// What is to be in it.
    pub text: &'a str,
}

/// What came of it.
#[derive(Debug)]
pub enum Saved {
    /// It is there, with this digest.
    As(String),
    /// It is another file than was thought, with this in it; nothing was written.
    Differs(Option<Vec<u8>>),
    /// No file of a desk has such a name.
    NoName,
}

/// A file of the workshop that is there.
#[derive(Debug)]
pub struct FolderFile {
    /// The digest of what is in it; of a file that is too large, what else tells it from another.
    pub digest: String,
    /// What is in it, or why that is not shown.
    pub text: Result<String, Problems>,
}

impl Folder {
    /// The workshop in a folder.
    pub fn of(home: &Path) -> Folder {
        let inner = home.join("orders").join(USUAL_NAMES.sheets).is_file();
        let outer = home.join(USUAL_NAMES.sheets).is_file();
        let shelf = if inner && !outer { PathBuf::from("orders") } else { PathBuf::new() };
        Folder::at(home.to_owned(), shelf)
    }

    /// A workshop in a folder, with its shelf in another one.
    pub fn at(home: PathBuf, shelf: PathBuf) -> Folder {
        let [saving, acting] = [Mutex::new(()), Mutex::new(())];
        Folder { home, shelf, saving, acting, phone: OnceLock::new() }
    }

    /// Shows the link of the phone with all files.
    pub fn show_phone(&self, link: PhoneLink) {
        self.phone.get_or_init(|| link);
    }

    /// Keeps others at this desk from changing the shelf by a command.
    pub fn hold(&self) -> MutexGuard<'_, ()> {
        self.acting.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What a step on the shelf goes by, as a digest: the stock, its journal, and the report that is settled.
    pub fn seen(&self, report: &Path) -> String {
        let shelf = stock_names().map(|(_, name)| name).into_iter().chain([JOURNAL]);
        let shelf = shelf.map(|name| self.shelf.join(name));
        let report = ["plan.json", "origin.json"].map(|name| report.join(name));
        let digests = shelf.chain(report).map(|path| self.bytes(&path).as_deref().map(digest));
        digest(format!("{:?}", digests.collect::<Vec<_>>()).as_bytes())
    }

    /// A file of the workshop.
    pub fn path(&self, name: &str) -> PathBuf {
        self.home.join(&self.shelf).join(name)
    }

    /// A file of the workshop; `None` where it is not there.
    pub fn shown(&self, name: &str) -> Option<FolderFile> {
        let path = self.path(name);
        let found = path.metadata().ok().filter(|found| !found.is_dir())?;
        if found.len() > LARGEST {
            let digest = format!("{} bytes", found.len());
            return Some(FolderFile { digest, text: Err(too_large(name).into()) });
        }
        let read = if found.is_file() { SystemDisk.read(&path) } else { Ok(None) };
        match read {
            Ok(Some(bytes)) => {
                let digest = digest(&bytes);
                Some(FolderFile { digest, text: as_text(name, bytes) })
            }
            _ => {
                let problem = Problem::error("file-unreadable", format!("{name} cannot be read"))
                    .help("check that it is a file, and that you may read it");
                Some(FolderFile { digest: "unread".to_owned(), text: Err(problem.into()) })
            }
        }
    }

    /// What is in a file of the workshop; `None` where it is not there, or is no text.
    pub fn text(&self, name: &str) -> Option<String> {
        self.shown(name)?.text.ok()
    }

    /// What stands in the way of a plan beside what the page has: files of these names that are there and cannot be read, and
    /// what a command says of the journal.
    pub fn troubles(&self, names: &[&str]) -> Problems {
        let mut problems = Problems::new();
        let names = names.iter().filter(|name| is_shown(name));
        let unread = names.filter_map(|name| self.shown(name)?.text.err());
        unread.for_each(|found| problems.append(found));
        problems.append(self.of_journal());
        problems
    }

    /// What is told of the journal before anything is planned. While a command holds the shelf, it has the last word.
    fn of_journal(&self) -> Problems {
        let paths = USUAL_NAMES.map(|name| self.path(name));
        let Ok(spot) = Spot::of(&SystemDisk, paths.each().map(PathBuf::as_path)) else {
            return Problems::new();
        };
        match look(&SystemDisk, &spot, &mut patient(SILENT)) {
            Ok(view) => self.by_name(view.told),
            Err(StoreError::Problem(problem)) => self.by_name((*problem).into()),
            Err(StoreError::Stopped(_)) => Problems::new(),
            Err(_) => {
                let title = format!("{JOURNAL} cannot be read");
                Problem::error("file-unreadable", title).help("check that you may read it").into()
            }
        }
    }

    /// The folder of a report that is there.
    pub fn report(&self, name: &str) -> Option<PathBuf> {
        let path = Path::new("reports").join(name);
        (is_plain(name) && self.is_own(&path) && self.home.join(&path).join("plan.json").is_file())
            .then_some(path)
    }

    /// A file of a report; `None` where it is not there.
    pub fn report_file(&self, report: &Path, name: &str) -> Option<Vec<u8>> {
        let path = report.join(name);
        (is_plain(name) && self.is_own(&path)).then(|| self.bytes(&path)).flatten()
    }

    /// Whether something lies where its name says: a link may lead to anything on this machine.
    fn is_own(&self, path: &Path) -> bool {
        self.home.join(path).symlink_metadata().is_ok_and(|found| !found.is_symlink())
    }

    /// The same with files called by their names alone, as the page calls them.
    fn by_name(&self, problems: Problems) -> Problems {
        let folder = self.path("").display().to_string();
        let plain = |text: &str| match folder.is_empty() {
            true => text.to_owned(),
            false => text.replace(&folder, ""),
        };
        let mut told = Problems::new();
        told.extend(problems.iter().cloned().map(|mut problem| {
            problem.title = plain(&problem.title);
            problem.help.iter_mut().for_each(|help| *help = plain(help));
            problem.place =
                problem.place.map(|place| Place { file: plain(&place.file).into(), ..place });
            problem
        }));
        told
    }

    /// What is in a file below the folder; `None` where it is not there.
    pub fn bytes(&self, path: &Path) -> Option<Vec<u8>> {
        SystemDisk.read(&self.home.join(path)).ok().flatten()
    }

    /// The names of its orders, in order.
    pub fn orders(&self) -> Vec<String> {
        let names = names_in(&self.home.join(&self.shelf));
        names.into_iter().filter(|name| is_order(name)).collect()
    }

    /// The names of tables that may be orders, but for names that no order of a desk can have.
    fn odd_names(&self) -> Vec<String> {
        let entries = self.home.join(&self.shelf).read_dir().into_iter().flatten().flatten();
        let odd = entries.filter_map(|entry| {
            let name = entry.file_name();
            let is_known = name.to_str().is_some_and(|name| is_order(name) || is_stock(name));
            let name = name.to_string_lossy().into_owned();
            let is_table = name.to_ascii_lowercase().ends_with(".csv") && !name.starts_with('.');
            (is_table && !is_known && entry.path().is_file()).then_some(name)
        });
        let mut names: Vec<String> = odd.collect();
        names.sort();
        names
    }

    /// The reports in it, each with the names of its files.
    pub fn reports(&self) -> Vec<Value> {
        let reports = self.home.join("reports");
        let with_files = |name: String| {
            self.report(&name)?;
            let files = names_in(&reports.join(&name));
            Some(json!({ "name": name, "order": self.order_of(&name), "files": files }))
        };
        names_in(&reports).into_iter().filter_map(with_files).collect()
    }

    /// The file of the order that a report was made from, if that is here.
    fn order_of(&self, report: &str) -> Option<String> {
        let mut stem = report;
        // A rest has the number of its part behind the name.
        let is_here = |stem: &str| {
            self.orders().into_iter().find(|name| name.strip_suffix(".csv") == Some(stem))
        };
        while let Some((shorter, number)) =
            stem.rsplit_once('-').filter(|_| is_here(stem).is_none())
        {
            if number.parse::<u64>().is_err() {
                break;
            }
            stem = shorter;
        }
        is_here(stem)
    }

    /// All files with what is in them.
    pub fn document(&self) -> Value {
        let file = |name: &str| {
            let FolderFile { digest, text } = self.shown(name)?;
            let problems = text.as_ref().err().into_iter().flat_map(Problems::iter);
            let problems: Vec<Value> = problems.map(Problem::document).collect();
            let text = text.as_ref().ok();
            Some(json!({ "name": name, "digest": digest, "text": text, "problems": problems }))
        };
        let mut files = Map::new();
        for (kind, name) in stock_names() {
            files.insert(kind.word().to_owned(), json!(file(name)));
        }
        files.insert("workshop".to_owned(), json!(file(WORKSHOP)));
        let orders: Vec<Value> = self.orders().iter().filter_map(|name| file(name)).collect();
        let name = self.home.canonicalize().ok();
        let name = name.as_deref().and_then(Path::file_name).unwrap_or_default();
        json!({
            "folder": name.to_string_lossy(),
            "orders": orders,
            "odd_names": self.odd_names(),
            "files": files,
            "reports": self.reports(),
            "phone": self.phone.get().map(|phone| &phone.link),
            "phone_code": self.phone.get().and_then(|phone| phone.code.as_ref()),
        })
    }

    /// The digest of each file, by its name.
    pub fn digests(&self) -> Value {
        let names = stock_names().map(|(_, name)| name.to_owned()).into_iter();
        let names = names.chain([WORKSHOP.to_owned(), JOURNAL.to_owned()]).chain(self.orders());
        let known = names.filter_map(|name| {
            let FolderFile { digest, .. } = self.shown(&name)?;
            Some((name, json!(digest)))
        });
        Value::Object(known.collect())
    }

    /// Saves a file, if it is still what the page last knew.
    ///
    /// # Errors
    /// The system refuses.
    pub fn save(&self, Saving { name, was, text }: &Saving) -> Result<Saved, StoreError> {
        if !is_shown(name) {
            return Ok(Saved::NoName);
        }
        let _held = self.saving.lock().unwrap_or_else(PoisonError::into_inner);
        let path = self.path(name);
        let _locks = self.locked()?;
        let now = SystemDisk.read(&path).map_err(|error| failed("read", &path, error))?;
        if now.as_deref().map(digest).as_deref() != *was {
            return Ok(Saved::Differs(now));
        }
        match replace(&path, text.as_bytes(), *was)
            .map_err(|error| failed("write", &path, error))?
        {
            None => Ok(Saved::As(digest(text.as_bytes()))),
            other => Ok(Saved::Differs(other)),
        }
    }

    /// Puts a file beside those of a report while it is what was known; otherwise gives what is there now.
    ///
    /// # Errors
    /// The system refuses.
    pub fn put(&self, path: &Path, bytes: &[u8], was: Option<&str>) -> io::Result<Option<Vec<u8>>> {
        let _held = self.saving.lock().unwrap_or_else(PoisonError::into_inner);
        let path = self.home.join(path);
        match SystemDisk.read(&path)? {
            Some(found) if Some(digest(&found).as_str()) != was => return Ok(Some(found)),
            _ => {}
        }
        let fresh = beside(&path, "part")?;
        create(&fresh, bytes, None)?;
        SystemDisk.rename(&fresh, &path)?;
        Ok(None)
    }

    /// Clears what saves that were cut off have left.
    #[cfg(feature = "command-line")]
    pub fn clear_left(&self) {
        // A desk that only looks leaves nothing, not even a lock.
        let entries = self.path("").read_dir().into_iter().flatten().flatten();
        if !entries.map(|entry| entry.file_name()).any(|name| is_left(&name.to_string_lossy())) {
            return;
        }
        let Ok(_locks) = self.locked() else { return };
        let stock = stock_names().map(|(_, name)| name.to_owned()).into_iter();
        for name in stock.chain([WORKSHOP.to_owned()]).chain(self.orders()) {
            // What cannot be cleared now is met by the next save, which tells of it.
            let _ = SystemDisk.resolve(&self.path(&name)).and_then(|path| keep_left(&path));
        }
    }

    /// The lock of the shelf, so that no command is in the middle of it; none where there is no shelf yet.
    fn locked(&self) -> Result<Option<Locks<<SystemDisk as Disk>::Lock>>, StoreError> {
        let paths = USUAL_NAMES.map(|name| self.path(name));
        let files: PerFile<&Path> = paths.each().map(PathBuf::as_path);
        if !files.sheets.is_file() {
            return Ok(None);
        }
        let spot = Spot::of(&SystemDisk, files)?;
        Locks::take(&SystemDisk, &spot, Sharing::Writer, &mut patient(20 * SILENT)).map(Some)
    }
}

/// Waits for another command this often.
fn patient(most: u32) -> impl FnMut(&Path, u32) -> bool {
    move |_, tries| {
        sleep(PAUSE);
        tries < most
    }
}

/// What is in a file, or why it is no text, as a command says it.
pub fn as_text(name: &str, bytes: Vec<u8>) -> Result<String, Problems> {
    String::from_utf8(bytes).map_err(|error| {
        let (name, bytes) = (name.to_owned(), error.into_bytes());
        let mut problems = Problems::new();
        match name == WORKSHOP {
            true => drop(read_workshop(Some(&Source { name, bytes }), &mut problems)),
            false => drop(table::read(&name, &bytes, &mut problems)),
        }
        problems
    })
}

fn too_large(name: &str) -> Problem {
    Problem::error("table-size", format!("{name} is larger than 16 MiB"))
        .help("split it into several files")
}

fn failed(act: &'static str, path: &Path, source: io::Error) -> StoreError {
    StoreError::System { act, path: path.to_owned(), source }
}

#[cfg(test)]
mod tests {
    #[cfg(unix)]
    use super::*;

    #[cfg(unix)]
    #[test]
    fn a_link_among_the_reports_is_no_report() {
        use std::os::unix::fs::symlink;
        let home = tempfile::tempdir().unwrap();
        let other = tempfile::tempdir().unwrap();
        let folder = Folder::of(home.path());
        let [own, link] = ["own", "link"].map(|name| home.path().join("reports").join(name));
        std::fs::create_dir_all(&own).unwrap();
        for report in [&own, &other.path().to_owned()] {
            SystemDisk.create(&report.join("plan.json"), b"{}", None).unwrap();
        }
        SystemDisk.create(&other.path().join("secret"), b"secret", None).unwrap();
        symlink(other.path(), &link).unwrap();
        symlink(other.path().join("secret"), own.join("schedule.html")).unwrap();
        assert_eq!(folder.report("link"), None);
        assert_eq!(folder.reports().len(), 1);
        let report = folder.report("own").unwrap();
        assert_eq!(folder.report_file(&report, "schedule.html"), None);
        assert_eq!(folder.report_file(&report, "plan.json").as_deref(), Some(b"{}".as_slice()));
    }
}
