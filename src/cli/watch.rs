//! `cardwright plan --watch`: planned again whenever one of the files is saved.
//!
//! The files are looked at ten times a second, by what is in them: so it makes no difference whether an editor writes
//! into a file or puts another in its place. They have to be quiet for four looks, so that no file is read that is half
//! saved.

use super::console::{Console, Exit};
use super::files;
use super::plan;
use super::settings::PlanSettings;
use crate::diagnostics::listed;
use crate::reports::visible::shown;
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

/// Between two looks.
const PAUSE: Duration = Duration::from_millis(100);

/// So many looks in a row have to find the same before a change counts as over: editors save in several
/// steps, and several files are often saved at once.
const QUIET: u32 = 4;

/// What is in each file; `None` where it cannot be read.
type Snapshot = Vec<Reading>;

type Reading = Option<Vec<u8>>;

/// Plans, and plans again after each change, until Ctrl-C.
pub fn run(settings: &PlanSettings, console: &mut Console) -> Exit {
    let paths = settings.sources.paths();
    let mut seen = look(&paths);
    loop {
        let exit = plan::once(settings, console);
        if exit == Exit::Stopped || console.gone {
            return exit;
        }
        console.say("waiting for a file to be saved; Ctrl-C ends this\n");
        let interrupt = console.interrupt.clone();
        let next = next(&seen, || {
            sleep(PAUSE);
            (!interrupt.is_pressed()).then(|| look(&paths))
        });
        let Some(now) = next else { return Exit::Done };
        console.say(&format!("\n{}\n", told(&paths, &seen, &now)));
        seen = now;
    }
}

fn look(paths: &[&Path]) -> Snapshot {
    paths.iter().map(|path| files::now(path)).collect()
}

/// What is in the files when they have changed and are quiet again; `None` where looking has ended.
fn next(seen: &Snapshot, mut look: impl FnMut() -> Option<Snapshot>) -> Option<Snapshot> {
    let mut last = look()?;
    let mut quiet = 1;
    loop {
        if quiet >= QUIET && last != *seen {
            return Some(last);
        }
        let now = look()?;
        quiet = if now == last { quiet + 1 } else { 1 };
        last = now;
    }
}

/// `saved: orders/wedding.csv; gone: orders/workshop.toml`.
fn told(paths: &[&Path], before: &Snapshot, now: &Snapshot) -> String {
    let names = |how: &str, is: fn(&Reading, &Reading) -> bool| {
        let changes = paths.iter().zip(before.iter().zip(now));
        let names: Vec<String> = changes
            .filter(|(_, (before, now))| before != now && is(before, now))
            .map(|(path, _)| shown(&path.display().to_string()))
            .collect();
        (!names.is_empty()).then(|| format!("{how}: {}", listed(&names)))
    };
    let parts = [
        names("saved", |before, now| before.is_some() && now.is_some()),
        names("new", |before, _| before.is_none()),
        names("gone", |_, now| now.is_none()),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn is(text: &str) -> Option<Vec<u8>> {
        Some(text.as_bytes().to_vec())
    }

    /// What comes of these looks at one file, each so many times.
    fn after(looks: &[(&str, usize)]) -> Option<Snapshot> {
        let all = looks.iter().flat_map(|(text, times)| vec![vec![is(text)]; *times]);
        let mut all = all.collect::<Vec<_>>().into_iter();
        next(&vec![is("old")], || all.next())
    }

    #[test]
    fn a_change_counts_once_it_is_quiet() {
        let quiet = QUIET as usize;
        assert_eq!(after(&[("old", 50)]), None);
        assert_eq!(after(&[("old", 3), ("new", quiet - 1)]), None);
        assert_eq!(after(&[("old", 3), ("new", quiet)]), Some(vec![is("new")]));
        assert_eq!(after(&[("new", quiet)]), Some(vec![is("new")]));
    }

    #[test]
    fn several_quick_saves_are_one_change() {
        let quiet = QUIET as usize;
        let saves = [("old", 1), ("a", 1), ("b", quiet - 1), ("c", 2), ("d", quiet)];
        assert_eq!(after(&saves), Some(vec![is("d")]));
    }

    #[test]
    fn what_was_saved_and_put_back_is_no_change() {
        assert_eq!(after(&[("old", 2), ("new", QUIET as usize - 1), ("old", 20)]), None);
    }

    #[test]
    fn what_changed_is_told_in_one_line() {
        let paths = ["a.csv", "sheets.csv", "offcuts.csv", "workshop.toml"].map(Path::new);
        let before = vec![is("1"), is("1"), None, is("1")];
        let told = |now: Snapshot| told(&paths, &before, &now);
        assert_eq!(told(vec![is("2"), is("1"), None, is("1")]), "saved: a.csv");
        assert_eq!(
            told(vec![is("2"), is("2"), is("1"), None]),
            "saved: a.csv and sheets.csv; new: offcuts.csv; gone: workshop.toml"
        );
    }
}
