//! The built program, run in a folder of its own.

#[cfg(target_os = "linux")]
mod disk;

#[cfg(target_os = "linux")]
pub use disk::SmallDisk;

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
#[cfg(unix)]
use std::process::Child;
use std::process::{Command, Output};
use tempfile::TempDir;

/// Files by their names.
pub type Files = BTreeMap<String, Vec<u8>>;

/// A folder that goes away with the test.
pub struct Home {
    folder: TempDir,
}

/// What a call of the program came to.
pub struct Answer {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Home {
    pub fn new() -> Home {
        Home { folder: tempfile::tempdir().unwrap() }
    }

    /// One on this disk.
    pub fn on(disk: &Path) -> Home {
        Home { folder: tempfile::tempdir_in(disk).unwrap() }
    }

    /// A home with these folders of the project, where they are in the project.
    pub fn with(folders: &[&str]) -> Home {
        let home = Home::new();
        folders.iter().for_each(|folder| copy(&project(folder), &home.path(folder)));
        home
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn put(&self, name: &str, bytes: impl AsRef<[u8]>) {
        put(&self.path(name), bytes.as_ref());
    }

    pub fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    /// The program with these arguments, parted by blanks.
    pub fn command(&self, arguments: &str) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_cardwright"));
        command.args(arguments.split_whitespace()).current_dir(self.folder.path());
        command.env_remove("NO_COLOR");
        command
    }

    pub fn run(&self, arguments: &str) -> Answer {
        Answer::of(self.command(arguments).output().unwrap())
    }

    /// The answer of a call that has to end well.
    #[track_caller]
    pub fn done(&self, arguments: &str) -> Answer {
        let answer = self.run(arguments);
        assert_eq!(answer.code, Some(0), "{arguments}: {}", answer.err);
        answer
    }
}

impl Answer {
    pub fn of(output: Output) -> Answer {
        Answer {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

/// Sends a signal to a program that is at work, as a terminal would.
#[cfg(unix)]
pub fn signal(child: &Child, name: &str) {
    let sent = Command::new("kill").args([&format!("-{name}"), &child.id().to_string()]).status();
    assert!(sent.unwrap().success());
}

/// A file or folder of the project.
pub fn project(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// Names of what is in a folder, sorted.
pub fn listing(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap_or_else(|error| panic!("{folder:?}: {error}"));
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// All Rust files below a folder of the project, sorted: their paths, such as `src/stock/read.rs`, and what they say.
pub fn rust_files(folder: &str) -> Vec<(String, String)> {
    let paths = listing(&project(folder)).into_iter().map(|name| format!("{folder}/{name}"));
    let found = paths.flat_map(|path| match project(&path) {
        file if file.is_dir() => rust_files(&path),
        file if path.ends_with(".rs") => vec![(path, fs::read_to_string(file).unwrap())],
        _ => Vec::new(),
    });
    found.collect()
}

/// The commands of the program, as its help lists them.
pub fn commands() -> Vec<String> {
    let help = Home::new().done("--help").out;
    let lines = help.lines().skip_while(|line| *line != "Commands:").skip(1);
    let lines = lines.take_while(|line| !line.is_empty());
    lines.filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect()
}

/// All files of a folder.
pub fn files(folder: &Path) -> Files {
    let names = listing(folder).into_iter();
    names.map(|name| (name.clone(), fs::read(folder.join(name)).unwrap())).collect()
}

/// Writes a file, and its folder where there is none.
pub fn put(path: &Path, bytes: &[u8]) {
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::File::create(path).unwrap().write_all(bytes).unwrap();
}

/// A folder as it came with the project: what settling has left beside the files is none of it.
fn copy(from: &Path, to: &Path) {
    let kept = |name: &String| !["shelf.jsonl", ".shelf.lock"].contains(&name.as_str());
    for name in listing(from).into_iter().filter(kept) {
        let (from, to) = (from.join(&name), to.join(&name));
        if from.is_dir() {
            copy(&from, &to);
        } else {
            put(&to, &fs::read(from).unwrap());
        }
    }
}
