//! `cardwright check`: inputs and plans judged without planning.

use super::access;
use super::console::{Console, Exit};
use super::files;
use super::json;
use super::settings::{CheckSettings, NamedFile, Sources};
use crate::batch::{self, By, Inputs, Judgement, SoundPlan, Source};
use crate::diagnostics::{Problem, Problems, counted};
use crate::reports::verdict::{Against, Judged};
use crate::settling::{self, Trouble};
use crate::shelf::Origin;
use std::path::Path;

/// Reads all files and tells every mistake in them, and of each sound plan how much of it is proven.
pub fn run(settings: &CheckSettings, console: &mut Console) -> Exit {
    let mut unread = Problems::new();
    let mut problems = Problems::new();
    let mut inputs = None;
    if let Some(sources) = &settings.sources {
        match read(sources, settings, console) {
            Ok(read) => {
                problems.append(batch::check(&read));
                inputs = Some(read).filter(|read| !read.orders.is_empty());
            }
            Err(others) => unread.append(others),
        }
    }
    let bench = bench(settings, &mut unread);
    let mut judged = Vec::new();
    for path in &settings.plans {
        if let Some(plan) = files::required(path, &mut unread) {
            let is_named = settings.workshop.named;
            let judge = Judge { path, inputs: inputs.as_ref(), bench: bench.as_ref(), is_named };
            let found = judge.judge(&plan, &mut unread);
            problems.append(found.problems);
            judged.extend(found.sound);
        }
    }
    let (files_fail, mistakes) = (!unread.is_empty(), problems.has_errors());
    unread.append(problems);
    let told = match settings.json {
        true => console.result(json::text(&json::checked(&unread, &judged)).as_bytes()),
        false => {
            console.problems(&unread);
            Exit::Done
        }
    };
    match (files_fail, mistakes) {
        (true, _) => Exit::Use,
        (false, true) => Exit::Mistakes,
        (false, false) if settings.json => told,
        (false, false) => {
            let plans: String = judged.iter().map(Judged::text).collect();
            console.page(&format!("{}: no mistakes\n{plans}", checked(settings)))
        }
    }
}

/// All files of the orders. Where plans are held against them, what is set aside for others counts, too.
fn read(
    sources: &Sources,
    settings: &CheckSettings,
    console: &mut Console,
) -> Result<Inputs, Problems> {
    let inputs = files::inputs(sources)?;
    if settings.plans.is_empty() || inputs.orders.is_empty() {
        return Ok(inputs);
    }
    let reserved = match access::view(sources, console) {
        Ok(view) => view.map(|view| view.journal.reserved()).unwrap_or_default(),
        Err(Trouble::Problems(problems)) => return Err(problems),
        Err(trouble) => {
            access::troubled(trouble, console);
            let title = "the journal of these files cannot be read";
            return Err(Problem::error("file-unreadable", title).into());
        }
    };
    Ok(Inputs { reserved, ..inputs })
}

/// The bench for plans: the one that is named, or that lies beside the first file.
fn bench(settings: &CheckSettings, unread: &mut Problems) -> Option<Source> {
    match &settings.sources {
        _ if settings.plans.is_empty() => None,
        // It was read with the orders, and told if it could not be.
        Some(_) => files::optional(&settings.workshop, &mut Problems::new()),
        None => files::optional(&settings.workshop, unread),
    }
}

/// A plan to be judged.
struct Judge<'a> {
    path: &'a Path,
    /// The orders that it is held against, where they are named.
    inputs: Option<&'a Inputs>,
    bench: Option<&'a Source>,
    /// Whether the bench is named.
    is_named: bool,
}

/// What came of it.
struct Found {
    problems: Problems,
    sound: Option<Judged>,
}

impl Judge<'_> {
    fn judge(&self, plan: &Source, unread: &mut Problems) -> Found {
        if let Some(inputs) = self.inputs {
            // A plan beside the note of its folder may be one for a part of the order, or for the rest of a batch.
            let origin = self.origin(&mut Problems::new()).ok().flatten();
            let kept = origin.and_then(|it| it.copies).map(|copies| settling::kept(&copies));
            let (sets, rest) = kept.map(|kept| (kept.sets, kept.rest)).unwrap_or_default();
            let inputs = Inputs { sets, rest, ..inputs.clone() };
            return self.told(batch::judge(plan, By::Inputs(&inputs)), Against::Named);
        }
        let origin = match self.origin(unread) {
            Ok(origin) => origin,
            Err(problem) => return Found { problems: (*problem).into(), sound: None },
        };
        if let Some(copies) = origin.as_ref().and_then(|origin| origin.copies.as_ref()) {
            let named = self.bench.filter(|_| self.is_named);
            let against = match named {
                Some(bench) => Against::KeptBut(bench.name.clone()),
                None => Against::Kept,
            };
            let kept = settling::kept(copies);
            let kept = Inputs { workshop: named.cloned().or(kept.workshop), ..kept };
            return self.told(batch::judge(plan, By::Kept(&kept)), against);
        }
        match self.bench.cloned().or_else(|| self.own_bench(&origin?, unread)) {
            Some(bench) => {
                let against = Against::Bench(bench.name.clone());
                self.told(batch::judge(plan, By::Bench(&bench)), against)
            }
            None => self.told(batch::judge(plan, By::Defaults), Against::Defaults),
        }
    }

    fn told(&self, Judgement { problems, sound }: Judgement, against: Against) -> Found {
        let name = self.path.display().to_string();
        let sound =
            sound.map(|SoundPlan { plan, verdict, .. }| Judged { name, against, plan, verdict });
        Found { problems, sound }
    }

    /// The note beside the plan; `None` where there is none.
    fn origin(&self, unread: &mut Problems) -> Result<Option<Origin>, Box<Problem>> {
        let note = self.path.with_file_name("origin.json");
        let note = if note.is_file() { files::required(&note, unread) } else { None };
        note.map(|note| settling::origin(&note)).transpose()
    }

    /// The bench that the note of an earlier version names, counted from the folder in which the report lies, too.
    fn own_bench(&self, origin: &Origin, unread: &mut Problems) -> Option<Source> {
        access::is_here(self.path.parent()?, origin).ok()?;
        let path = access::noted(&origin.workshop, "workshop").ok()?;
        files::optional(&NamedFile { path, named: false }, unread)
    }
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
