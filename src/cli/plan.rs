//! `cardwright plan`: from order files to a report folder.

use super::access::{self, in_full};
use super::claim;
use super::console::{Console, Exit};
use super::delivery::{self, Delivery, Paper};
use super::files;
use super::settings::PlanSettings;
use super::watch;
use crate::batch::{
    self, Inputs, Made, Outcome, Progress, Rest, Searched, Watch, buying, on_threads, pricing,
};
use crate::desk;
use crate::diagnostics::{Problem, Problems};
use crate::reports::{self, Batch, Offered, Report, ReportError, ReportFile, terminal};
use crate::settling::{self, Begun};
use crate::shelf::{Copies, Journal, ORIGIN_SCHEMA, Origin, digest, identity, inside, noted};
use crate::stock::PerFile;
use std::error::Error;
use std::path::{Path, PathBuf};

/// Plans once, or again and again.
pub fn run(settings: &PlanSettings, console: &mut Console) -> Exit {
    match settings.watch {
        true => {
            console.interrupt.listen();
            watch::run(settings, console)
        }
        false => once(settings, console),
    }
}

/// Reads, plans, writes the reports and tells the summary.
pub fn once(settings: &PlanSettings, console: &mut Console) -> Exit {
    if let Some(out) = &settings.out
        && let Err(exit) = delivery::place(out, &settings.sources, console)
    {
        return exit;
    }
    let (inputs, journal) = match read(settings, console) {
        Ok(read) => read,
        Err(exit) => return exit,
    };
    let begun = match begun(settings, &inputs, &journal) {
        Ok(begun) => begun,
        Err(problem) => {
            console.problems(&(*problem).into());
            return Exit::Mistakes;
        }
    };
    let rest = begun.as_ref().map(|begun| rest(begun, &journal));
    let inputs = Inputs { rest, ..inputs };
    let asked = Asked { settings, inputs: &inputs, journal: &journal, begun: begun.as_ref() };
    if let Err(exit) = claim::check(&asked.folder(&inputs.name()), settings, console) {
        return exit;
    }
    // Until here, Ctrl-C ends the program at once, even where an order comes through a pipe that says nothing.
    console.interrupt.listen();
    let progress = (!settings.quiet).then(|| console.spinner("planning"));
    let tell = |far: &Progress| {
        if let Some(progress) = &progress {
            progress.say(desk::told(far));
        }
    };
    let interrupt = console.interrupt.clone();
    let watch = Watch { tell: &tell, stop: &|| interrupt.is_pressed() };
    let outcome = batch::plan_watched(&inputs, &settings.options, watch);
    drop(progress);
    finish(outcome, asked, console)
}

/// What was asked for, and what was read for it.
#[derive(Clone, Copy)]
struct Asked<'a> {
    settings: &'a PlanSettings,
    inputs: &'a Inputs,
    /// That of the shelf when it was read.
    journal: &'a Journal,
    /// What was settled of the batch, where its rest is to be made.
    begun: Option<&'a Begun>,
}

impl Asked<'_> {
    /// Where the reports of a batch go: as named, else [`default_folder`]; those of a rest beside those of before.
    fn folder(&self, batch: &str) -> PathBuf {
        let named = self.settings.out.clone();
        named.unwrap_or_else(|| match self.begun {
            None => default_folder(batch),
            Some(begun) => default_folder(&format!("{batch}-{}", begun.before.parts + 1)),
        })
    }
}

/// What was settled of the batch, where its rest is asked for.
fn begun(
    settings: &PlanSettings,
    inputs: &Inputs,
    journal: &Journal,
) -> Result<Option<Begun>, Box<Problem>> {
    settings.rest.then(|| settling::begun(&inputs.name(), journal)).transpose()
}

/// What is known of the rest: a plan for it too, if the report of before is still there.
fn rest(begun: &Begun, journal: &Journal) -> Rest {
    let folder = begun.report.as_deref().and_then(inside);
    let report = folder.and_then(|folder| files::report_now(&folder));
    let known = report.and_then(|report| settling::remainder(&report, &begun.plan, journal));
    Rest { before: begun.before.clone(), known: known.unwrap_or_default() }
}

/// All files, of one moment of the shelf, and its journal then.
fn read(settings: &PlanSettings, console: &mut Console) -> Result<(Inputs, Journal), Exit> {
    loop {
        let view = match access::view(&settings.sources, console) {
            Ok(view) => view,
            Err(trouble) => return Err(access::troubled(trouble, console)),
        };
        let inputs = files::inputs(&settings.sources);
        let journal = match view {
            Some(view) if access::is_overtaken(&view) => continue,
            Some(view) => {
                console.problems(&view.told);
                console.problems(&access::vanished(&view, &settings.sources));
                view.journal
            }
            None => Journal::default(),
        };
        return match inputs {
            Ok(inputs) => Ok((Inputs { reserved: journal.reserved(), ..inputs }, journal)),
            Err(problems) => {
                console.problems(&problems);
                Err(Exit::Use)
            }
        };
    }
}

fn finish(outcome: Outcome, asked: Asked, console: &mut Console) -> Exit {
    // What a plan is called off for may look as if there were none.
    if outcome.made.is_some() || !console.interrupt.is_pressed() {
        console.problems(&outcome.problems);
    }
    if !outcome.faults.is_empty() {
        return console.fault(&outcome.faults);
    }
    match outcome.made {
        None if console.interrupt.is_pressed() => console.stopped("nothing was written"),
        None if outcome.problems.has_errors() => Exit::Mistakes,
        None => console.fault(&["there is no plan, and no reason why".to_owned()]),
        Some(made) => {
            if asked.begun.is_none() {
                console.problems(&half_settled(&made.plan.order, asked.journal));
            }
            let exit = deliver(&made, &outcome.searched, asked, console);
            match exit == Exit::Done && console.interrupt.is_pressed() {
                true => console.stopped("the best plan found so far is written"),
                false => exit,
            }
        }
    }
}

fn deliver(made: &Made, searched: &Searched, asked: Asked, console: &mut Console) -> Exit {
    let settings = asked.settings;
    let interrupt = console.interrupt.clone();
    let stop = || interrupt.is_pressed();
    let prices = pricing::prices(made, searched, &settings.options, &stop);
    let other_buying = buying::otherwise(made, searched, &settings.options, &stop);
    // New offcuts carry no date yet: they go in the drawer when the batch is cut, not when it is planned.
    let offered = Offered { customer: settings.customer.as_deref(), on: settings.on };
    let batch = Batch { made, since: None, prices: &prices, other_buying: &other_buying, offered };
    let (report, mut files) = match prepared(&batch, settings.options.threads) {
        Ok(prepared) => prepared,
        Err(error) => return console.fault(&[in_full(&error)]),
    };
    let folder = asked.folder(&made.plan.order);
    // Another plan may have come there during the search.
    if let Err(exit) = claim::check(&folder, settings, console) {
        return exit;
    }
    let (origin, identity) = match noted_origin(made, asked, &folder) {
        Ok(noted) => noted,
        Err(error) => return console.fault(&[in_full(error.as_ref())]),
    };
    files.push(("origin.json".to_owned(), origin));
    let delivery = Delivery {
        folder: &folder,
        files: &files,
        sources: &settings.sources,
        reserve: settings.reserve.then_some(Paper { made, identity: &identity }),
    };
    if let Err(exit) = delivery.deliver(console) {
        return exit;
    }
    if settings.json {
        let plan = files.iter().find(|(name, _)| name == "plan.json");
        return console.result(plan.map(|(_, plan)| plan.as_slice()).unwrap_or_default());
    }
    if settings.quiet {
        return Exit::Done;
    }
    let schedule = folder.join("schedule.html").display().to_string();
    let summary = terminal::summary(&report, Some(&schedule), console.colour_out);
    let learned = settling::learned_sentence(asked.journal, &made.job.workshop);
    console.page(&learned.map(|learned| format!("{summary}\n{learned}\n")).unwrap_or(summary))
}

/// Warns where a part of an earlier plan of the batch was settled, and the rest was not.
fn half_settled(batch: &str, journal: &Journal) -> Problems {
    match journal.last_of(batch).filter(|(_, settled)| !settled.whole) {
        None => Problems::new(),
        Some((entry, _)) => {
            let title = format!("part of {batch} is already settled, as entry {}", entry.number);
            Problem::warning("settle-open", title)
                .help("this plan makes all its cards, those already cut too")
                .help("`--rest` plans only what is left")
                .into()
        }
    }
}

/// The note of what the plan was made from, as a file, and what tells both from others.
fn noted_origin(
    made: &Made,
    asked: Asked,
    folder: &Path,
) -> Result<(Vec<u8>, String), Box<dyn Error>> {
    let sources = &asked.settings.sources;
    let PerFile { sheets, offcuts, envelopes, sundries } = sources.shelf().map(noted);
    let origin = Origin {
        schema: ORIGIN_SCHEMA.to_owned(),
        report: noted(folder),
        sheets,
        offcuts,
        envelopes,
        sundries,
        workshop: noted(&sources.workshop.path),
        entries: asked.journal.entries().len() as u64,
        steps: Some(digest(made.schedule.steps_in_short().as_bytes())),
        rest_of: asked.begun.map(|begun| begun.plan.clone()),
        copies: Some(Copies { sets: made.job.sets(), ..settling::copies(asked.inputs)? }),
    };
    Ok((origin.bytes()?, identity(&made.plan, &origin)?))
}

fn prepared(
    batch: &Batch,
    threads: Option<usize>,
) -> Result<(Report, Vec<ReportFile>), ReportError> {
    on_threads(threads, || {
        let report = Report::of(batch)?;
        let files = reports::files(batch, &report)?;
        Ok((report, files))
    })
}

/// `reports/<order>`; an order without a usable name gets `reports/order`.
fn default_folder(order: &str) -> PathBuf {
    let plain = !order.is_empty()
        && !matches!(order, "." | "..")
        && !order.contains(['/', '\\', ':', '\0']);
    Path::new("reports").join(if plain { order } else { "order" })
}

#[cfg(test)]
mod tests {
    use super::super::tests::Kept;
    use super::*;
    use crate::batch::Source;
    use crate::reports::fixture;
    use std::fs;

    /// How an outcome ends, and what is said on both streams.
    fn end(outcome: Outcome, change: impl Fn(&mut PlanSettings)) -> (Exit, String, String) {
        end_after(|_| (), outcome, change)
    }

    fn end_after(
        happened: impl Fn(&Console),
        outcome: Outcome,
        change: impl Fn(&mut PlanSettings),
    ) -> (Exit, String, String) {
        let typed = "cardwright plan lesson.csv".split(' ');
        let arguments = <super::super::Arguments as clap::Parser>::parse_from(typed);
        let super::super::Command::Plan(arguments) = arguments.command else { unreachable!() };
        let mut settings = arguments.into();
        change(&mut settings);
        let (out, err) = (Kept::default(), Kept::default());
        let mut console = Console::kept(Box::new(out.clone()), Box::new(err.clone()));
        happened(&console);
        let none = |name: &str| Source { name: name.to_owned(), bytes: Vec::new() };
        let inputs = Inputs {
            orders: vec![none("lesson.csv")],
            sheets: none("sheets.csv"),
            ..Inputs::default()
        };
        let journal = &Journal::default();
        let asked = Asked { settings: &settings, inputs: &inputs, journal, begun: None };
        let exit = finish(outcome, asked, &mut console);
        (exit, out.text(), err.text())
    }

    fn lesson() -> Outcome {
        Outcome { made: Some(fixture::lesson()), ..Outcome::default() }
    }

    #[test]
    fn a_plan_becomes_a_folder_and_a_summary() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("may");
        let (exit, out, err) = end(lesson(), |settings| settings.out = Some(folder.clone()));
        assert_eq!((exit, err.as_str()), (Exit::Done, ""));
        assert!(out.starts_with("lesson: all 7 cards of 2 kinds can be made\n"));
        let schedule = folder.join("schedule.html");
        assert!(out.ends_with(&format!("Schedule: {}\n", schedule.display())));
        for name in
            ["schedule.html", "plan.json", "cuts.csv", "pieces.csv", "offcuts.csv", "buy.csv"]
        {
            assert!(folder.join(name).is_file(), "{name}");
        }
    }

    #[test]
    fn a_script_gets_the_plan_itself() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("may");
        let (_, out, _) = end(lesson(), |settings| {
            settings.out = Some(folder.clone());
            settings.json = true;
        });
        assert_eq!(out, fs::read_to_string(folder.join("plan.json")).unwrap());
    }

    #[test]
    fn quiet_says_nothing_of_what_goes_well() {
        let home = tempfile::tempdir().unwrap();
        let (exit, out, err) = end(lesson(), |settings| {
            settings.out = Some(home.path().join("may"));
            settings.quiet = true;
        });
        assert_eq!((exit, out.as_str(), err.as_str()), (Exit::Done, "", ""));
    }

    #[test]
    fn mistakes_and_faults_end_differently_and_write_nothing() {
        let home = tempfile::tempdir().unwrap();
        let out = |settings: &mut PlanSettings| settings.out = Some(home.path().join("may"));
        let mut problems = Problems::new();
        problems.push(Problem::error("order-count", "count is not a whole number"));
        let mistakes = Outcome { problems, ..Outcome::default() };
        assert_eq!(end(mistakes, out).0, Exit::Mistakes);
        let faulty = Outcome { faults: vec!["two pieces overlap".to_owned()], ..lesson() };
        let (exit, _, err) = end(faulty, out);
        assert_eq!(exit, Exit::Fault);
        assert!(err.contains("  - two pieces overlap\n = note: nothing was written\n"), "{err}");
        assert_eq!(end(Outcome::default(), out).0, Exit::Fault);
        assert!(!home.path().join("may").exists());
    }

    #[test]
    fn what_is_called_off_says_what_came_of_it() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("may");
        let out = |settings: &mut PlanSettings| settings.out = Some(folder.clone());
        let called_off = |outcome| end_after(|console| console.interrupt.press(), outcome, out);
        // No plan was found in so short a time, which is no mistake of the order.
        let mut problems = Problems::new();
        problems.push(Problem::error("program-stock-short", "no way was found"));
        let (exit, out, err) = called_off(Outcome { problems, ..Outcome::default() });
        assert_eq!((exit, out.as_str()), (Exit::Stopped, ""));
        assert_eq!(err, "stopped by Ctrl-C: nothing was written\n");
        assert!(!folder.exists());
        let (exit, out, err) = called_off(lesson());
        assert!(out.starts_with("lesson: all 7 cards of 2 kinds can be made\n"));
        assert_eq!((exit, exit.code()), (Exit::Stopped, 130));
        assert_eq!(err, "stopped by Ctrl-C: the best plan found so far is written\n");
        assert!(folder.join("plan.json").is_file());
    }

    #[test]
    fn a_folder_of_something_else_is_a_matter_of_access() {
        let home = tempfile::tempdir().unwrap();
        fs::File::create(home.path().join("photo.jpg")).unwrap();
        let (exit, out, err) =
            end(lesson(), |settings| settings.out = Some(home.path().to_owned()));
        assert_eq!((exit, out.as_str()), (Exit::Use, ""));
        assert!(
            err.contains("exists already and is not a report folder\n = help: name another folder")
        );
    }

    #[test]
    fn a_report_folder_never_leaves_reports() {
        assert_eq!(default_folder("wedding"), Path::new("reports/wedding"));
        for order in ["", ".", "..", "a/b", "a\\b", "c:d", "/etc"] {
            assert_eq!(default_folder(order), Path::new("reports/order"), "{order}");
        }
    }
}
