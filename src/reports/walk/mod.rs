//! The whole work one step at a time, in the order in which hands do it: for a screen at arm's length.
//!
//! In: the batch and the rows of its cuts. Out: stops, each with its words, its picture in exact lengths, and the time that
//! is left. The page shows them; `svg` draws what lies there.

mod fence;
mod work;

pub use fence::{FenceView, LyingPart, SideView};
pub use work::{HostPanel, HostView, PanelView, SideLengths, WorkStop};

use super::Batch;
use super::answers::duration;
use super::report::{Setting, Step};
use crate::measure::Length;

/// One thing to do at a time.
#[derive(Clone, Debug, PartialEq)]
pub struct WalkStop {
    /// Where in the work it is, such as `Cut: step 12 of 61`.
    pub place: String,
    /// How long all takes from here on, in words; nothing where no time is reckoned.
    pub left: String,
    /// What is done.
    pub task: Doing,
}

/// What is done at a stop.
#[derive(Clone, Debug, PartialEq)]
pub enum Doing {
    /// What a part of the schedule says, by its name in addresses.
    Section(&'static str),
    /// A step at the trimmer.
    Cut(Box<CutStop>),
    /// Work on pieces of one kind, or packing.
    Work(Box<WorkStop>),
    /// All is done: what is left is to say so.
    Finish,
}

/// A step at the trimmer.
#[derive(Clone, Debug, PartialEq)]
pub struct CutStop {
    /// What its row says.
    pub step: Step,
    /// Sheets in a lift.
    pub lift: u64,
    /// The stack at the fence.
    pub view: FenceView,
    /// How long its edge is there.
    pub edge: String,
    /// Whether the strip under the hand is narrow.
    pub is_narrow: bool,
}

/// Strips narrower than this are pressed down with something else than fingers: 2 in (common practice, no source).
const NARROW: Length = Length::from_inch_parts(2, 1);

/// A task and the seconds that it takes.
struct Timed {
    place: String,
    task: Doing,
    seconds: u64,
}

/// All stops in order; `cutting` holds the rows of the cuts.
pub fn walk(batch: &Batch, cutting: &[Setting]) -> Vec<WalkStop> {
    let made = batch.made;
    let is_bought = made.plan.sheets.iter().any(|sheet| sheet.packs_bought > 0)
        || made.plan.supplies.iter().any(|supply| supply.packs_bought > 0);
    let is_kept = !made.plan.offcuts.is_empty();
    let mut stops = sections(&[("care", true), ("buy", is_bought), ("fetch", true), ("how", true)]);
    stops.extend(cuts(batch, cutting));
    stops.extend(section("count", "Count"));
    stops.extend(work::stops(batch));
    stops.extend(is_kept.then(|| section("drawer", "Put away")).flatten());
    stops.push(Timed { place: "Finished".to_owned(), task: Doing::Finish, seconds: 0 });
    let mut left = 0;
    let mut told: Vec<WalkStop> = Vec::new();
    for Timed { place, task, seconds } in stops.into_iter().rev() {
        left += seconds;
        let left = if left > 0 { duration(left) } else { String::new() };
        told.push(WalkStop { place, left, task });
    }
    told.reverse();
    told
}

fn section(id: &'static str, place: &str) -> Option<Timed> {
    Some(Timed { place: place.to_owned(), task: Doing::Section(id), seconds: 0 })
}

/// What is done before the first cut.
fn sections(all: &[(&'static str, bool)]) -> Vec<Timed> {
    let there = all.iter().filter(|(_, is_there)| *is_there);
    there.filter_map(|(id, _)| section(id, "Before you cut")).collect()
}

fn cuts(batch: &Batch, cutting: &[Setting]) -> Vec<Timed> {
    let rows = cutting.iter().flat_map(|setting| &setting.steps);
    let cuts = batch.made.schedule.in_order();
    let (rates, of) = (&batch.made.job.workshop.rates, cuts.len());
    let style = batch.made.job.workshop.style();
    rows.zip(cuts)
        .map(|(step, (run, cut))| Timed {
            place: format!("Cut: step {} of {of}", cut.number),
            seconds: cut.seconds(rates),
            task: Doing::Cut(Box::new(CutStop {
                step: step.clone(),
                lift: run.lift,
                view: fence::view(batch, cut, step),
                edge: style.with_unit(cut.from.size.along(cut.fence.axis().other())),
                is_narrow: cut.gauge < NARROW,
            })),
        })
        .collect()
}

#[cfg(test)]
mod tests;
