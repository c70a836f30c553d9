//! `cardwright plan`: from order files to a report folder.

use super::console::{Console, Exit};
use super::files;
use super::settings::PlanSettings;
use crate::batch::{self, Made, Outcome};
use crate::reports::folder::{FolderError, write_folder};
use crate::reports::{self, Batch, Report, ReportError, ReportFile, terminal};
use std::error::Error;
use std::path::{Path, PathBuf};

/// Reads, plans, writes the reports and tells the summary.
pub fn run(settings: &PlanSettings, console: &mut Console) -> Exit {
    let inputs = match files::inputs(&settings.sources) {
        Ok(inputs) => inputs,
        Err(problems) => {
            console.problems(&problems);
            return Exit::Use;
        }
    };
    let progress = (!settings.quiet).then(|| console.progress("planning"));
    let outcome = batch::plan(&inputs, &settings.options);
    if let Some(progress) = progress {
        progress.finish_and_clear();
    }
    finish(outcome, settings, console)
}

fn finish(outcome: Outcome, settings: &PlanSettings, console: &mut Console) -> Exit {
    console.problems(&outcome.problems);
    if !outcome.faults.is_empty() {
        return console.fault(&outcome.faults);
    }
    match outcome.made {
        None if outcome.problems.has_errors() => Exit::Mistakes,
        None => console.fault(&["there is neither a plan nor a reason why not".to_owned()]),
        Some(made) => deliver(&made, settings, console),
    }
}

fn deliver(made: &Made, settings: &PlanSettings, console: &mut Console) -> Exit {
    let (report, files) = match prepared(&batch_of(made)) {
        Ok(prepared) => prepared,
        Err(error) => return console.fault(&[in_full(&error)]),
    };
    let folder = settings.out.clone().unwrap_or_else(|| default_folder(&made.plan.order));
    if let Err(error) = write_folder(&folder, &files) {
        return console.refused(&in_full(&error), help(&error));
    }
    if settings.json {
        let plan = files.iter().find(|(name, _)| name == "plan.json");
        return console.result(plan.map(|(_, bytes)| bytes.as_slice()).unwrap_or_default());
    }
    if settings.quiet {
        return Exit::Done;
    }
    let schedule = folder.join("schedule.html").display().to_string();
    let summary = terminal::summary(&report, Some(&schedule), console.colour_out);
    console.result(summary.as_bytes())
}

/// New offcuts carry no date yet: they go in the drawer when the batch is cut, not when it is planned.
fn batch_of(made: &Made) -> Batch<'_> {
    Batch {
        order: &made.order,
        stock: &made.stock,
        workshop: &made.workshop,
        bill: &made.bill,
        plan: &made.plan,
        schedule: &made.schedule,
        since: None,
    }
}

fn prepared(batch: &Batch) -> Result<(Report, Vec<ReportFile>), ReportError> {
    Ok((Report::of(batch)?, reports::files(batch)?))
}

/// `reports/<order>`; an order without a usable name gets `reports/order`.
fn default_folder(order: &str) -> PathBuf {
    let plain = !order.is_empty()
        && !matches!(order, "." | "..")
        && !order.contains(['/', '\\', ':', '\0']);
    Path::new("reports").join(if plain { order } else { "order" })
}

/// An error with all its causes: `cannot write x: no space left`.
fn in_full(error: &dyn Error) -> String {
    let mut text = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        text.push_str(&format!(": {error}"));
        cause = error.source();
    }
    text
}

fn help(error: &FolderError) -> &'static str {
    match error {
        FolderError::NotOurs(_) => "name another folder with --out, or move what is there away",
        FolderError::NoName(_) => "name a folder with --out, such as --out reports/may",
        FolderError::System { .. } => "check that you may write there and that the disk has room",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_report_folder_never_leaves_reports() {
        assert_eq!(default_folder("wedding"), Path::new("reports/wedding"));
        for order in ["", ".", "..", "a/b", "a\\b", "c:d", "/etc"] {
            assert_eq!(default_folder(order), Path::new("reports/order"), "{order}");
        }
    }

    #[test]
    fn an_error_tells_its_causes() {
        let source = std::io::Error::other("no space left");
        let error = FolderError::System { act: "write", path: "reports/x".into(), source };
        assert_eq!(in_full(&error), "cannot write reports/x: no space left");
    }
}
