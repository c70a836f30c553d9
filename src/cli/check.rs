//! `cardwright check`: inputs and plans judged without planning.

use super::access;
use super::console::{Console, Exit};
use super::files;
use super::json;
use super::settings::{CheckSettings, Wanted};
use crate::batch::{self, Source};
use crate::diagnostics::{Problems, counted};
use crate::settling;
use std::path::{Path, PathBuf};

/// Reads all files and tells every mistake in them.
pub fn run(settings: &CheckSettings, console: &mut Console) -> Exit {
    let mut unread = Problems::new();
    let mut problems = Problems::new();
    if let Some(sources) = &settings.sources {
        match files::inputs(sources) {
            Ok(inputs) => problems.append(batch::check(&inputs)),
            Err(others) => unread.append(others),
        }
    }
    problems.append(judged(&settings.plans, settings, &mut unread));
    let (files_fail, mistakes) = (!unread.is_empty(), problems.has_errors());
    unread.append(problems);
    let told = match settings.json {
        true => console.result(json::text(&json::problems(&unread)).as_bytes()),
        false => {
            console.problems(&unread);
            Exit::Done
        }
    };
    match (files_fail, mistakes) {
        (true, _) => Exit::Use,
        (false, true) => Exit::Mistakes,
        (false, false) if settings.json => told,
        (false, false) => console.page(&format!("{}: no mistakes\n", checked(settings))),
    }
}

fn judged(plans: &[PathBuf], settings: &CheckSettings, unread: &mut Problems) -> Problems {
    let mut problems = Problems::new();
    if plans.is_empty() {
        return problems;
    }
    let bench = match &settings.sources {
        // The bench was read with the orders, and told if it could not be.
        Some(_) => files::optional(&settings.workshop, &mut Problems::new()),
        None => files::optional(&settings.workshop, unread),
    };
    for path in plans {
        if let Some(plan) = files::required(path, unread) {
            let own = if bench.is_none() { own_bench(path, unread) } else { None };
            problems.append(batch::judge(&plan, bench.as_ref().or(own.as_ref())));
        }
    }
    problems
}

/// The bench of a plan that lies in its report folder: the note there says where it is, counted from the folder in
/// which the report lies, too.
fn own_bench(plan: &Path, unread: &mut Problems) -> Option<Source> {
    let folder = plan.parent()?;
    let note = folder.join("origin.json");
    if !note.is_file() || !access::is_here(plan) {
        return None;
    }
    let origin = settling::origin(&files::required(&note, unread)?).ok()?;
    let path = access::noted(&origin.workshop, "workshop").ok()?;
    files::optional(&Wanted { path, named: false }, unread)
}

/// `2 orders with their stock, 1 plan`.
fn checked(settings: &CheckSettings) -> String {
    let orders = settings.sources.as_ref().map(|sources| sources.orders.len() as u64);
    let mut parts = Vec::new();
    match orders {
        Some(0) => parts.push("workshop files".to_owned()),
        Some(orders) => parts.push(format!("{} and workshop files", counted(orders, "order"))),
        None => {}
    }
    if !settings.plans.is_empty() {
        parts.push(counted(settings.plans.len() as u64, "plan"));
    }
    parts.join(", ")
}
