//! The schedule up to a step or a lift: what is finished by then, and what lies on the bench.
//!
//! It is played from the steps alone, as a hand follows them: each takes plates off a stack and lays down what the cut brings.
//! Plates that are spoiled leave their stack, and are missing from all that follows. What is still rough of a plate is known
//! as well: an edge is rough until a squaring cut, or a cut that parts it from the rest, has taken it off.

mod layouts;

pub use layouts::{Indexed, UncutSheets};

use super::{CutStep, Fate, RunCuts, Schedule};
use crate::measure::{Area, Axis, Length, Size};
use crate::plan::{Plan, Reached};
use crate::stock::RoughEdges;
use crate::workshop::Trimmer;
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// A schedule while it is followed.
pub struct Replay<'a> {
    trimmer: &'a Trimmer,
    runs: &'a [RunCuts],
    steps: Vec<(&'a RunCuts, &'a CutStep)>,
    /// Where the next step stands among them.
    next: usize,
    /// Lifts of the next step that are cut.
    lifts: u64,
    /// Stacks by their letters, and what was not begun.
    stacks: BTreeMap<&'a str, Pile<'a>>,
    bench: OnBench,
    /// Whether the sheets that need no cut were taken, too.
    is_ended: bool,
}

/// A stack on the bench.
#[derive(Clone, Copy)]
struct Pile<'a> {
    run: &'a RunCuts,
    size: Size,
    count: u64,
    rough: RoughSides,
}

/// How many rough edges a plate has that lie across from each other, one or two in each direction.
#[derive(Clone, Copy, Default)]
struct RoughSides {
    width: u8,
    height: u8,
}

impl RoughSides {
    fn along(&mut self, axis: Axis) -> &mut u8 {
        match axis {
            Axis::Width => &mut self.width,
            Axis::Height => &mut self.height,
        }
    }

    fn or(self, other: RoughSides) -> RoughSides {
        RoughSides { width: self.width.max(other.width), height: self.height.max(other.height) }
    }
}

/// What the bench looks like.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OnBench {
    /// Sheets that were cut into, by run.
    pub begun: BTreeMap<String, u64>,
    /// Finished pieces, by id.
    pub pieces: BTreeMap<String, u64>,
    /// Strips for the drawer.
    pub offcuts: Vec<KeptStrips>,
    /// Stacks that are not cut to their end, in the order of their letters.
    pub stacks: Vec<WaitingStack>,
    /// Area thrown away.
    pub waste: Area,
    /// Area lost under the blade.
    pub blade: Area,
    /// How often the gauge was set.
    pub settings: u64,
    /// How often the knife came down.
    pub strokes: u64,
    /// How often a stack was fetched, turned or put aside.
    pub moves: u64,
}

/// Strips for the drawer that a run has left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptStrips {
    /// Their id in the plan.
    pub offcut: String,
    /// The run.
    pub run: String,
    /// How many.
    pub count: u64,
}

/// A stack that waits for its next cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WaitingStack {
    /// Its letter.
    pub letter: String,
    /// The run it belongs to.
    pub run: String,
    /// Size of its plates as they lie there.
    pub size: Size,
    /// The same without the edges that are rough still.
    pub inner: Size,
    /// Plates.
    pub count: u64,
}

/// Why a schedule cannot be followed to a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Astray {
    /// It has fewer steps.
    NoStep {
        /// Its last one.
        last: u32,
    },
    /// The step has fewer lifts.
    NoLift {
        /// All of them.
        lifts: u64,
    },
    /// It was followed further already.
    Behind {
        /// As far as this.
        reached: Reached,
    },
}

impl<'a> Replay<'a> {
    /// Before the first cut; all sheets lie there uncut.
    pub fn new(schedule: &'a Schedule, plan: &Plan, trimmer: &'a Trimmer) -> Replay<'a> {
        let runs = &schedule.runs;
        let sheets = runs.iter().filter_map(|run| {
            let sheet = plan.sheets.iter().find(|sheet| sheet.id == run.sheet);
            let edges = sheet.map(|sheet| sheet.rough_edges).unwrap_or_default();
            let rough = if edges == RoughEdges::None { 0 } else { 2 };
            let rough = if trimmer.squaring.is_positive() { rough } else { 0 };
            let rough = RoughSides { width: rough, height: rough };
            let lying = Pile { run, size: run.size, count: run.sheets, rough };
            Some((run.cuts.first()?.from.letter.as_str(), lying))
        });
        let (next, lifts, bench, is_ended) = Default::default();
        let (stacks, steps) = (sheets.collect(), schedule.in_order());
        Replay { trimmer, runs, steps, next, lifts, stacks, bench, is_ended }
    }

    /// How far it was followed; `None` before the first cut.
    pub fn reached(&self) -> Option<Reached> {
        match (self.lifts, self.next) {
            (0, 0) => None,
            (0, next) => Some(Reached { step: next as u32, lifts: None }),
            (lifts, next) => Some(Reached { step: next as u32 + 1, lifts: Some(lifts) }),
        }
    }

    /// Whether all is cut.
    pub fn is_over(&self) -> bool {
        self.next == self.steps.len()
    }

    /// Follows it to the end of a step, or of one of its lifts.
    ///
    /// # Errors
    /// There is no such step or lift, or it was followed further.
    pub fn follow(&mut self, to: Reached) -> Result<(), Astray> {
        let last = self.steps.len() as u32;
        let at = to.step as usize - 1;
        let Some(&(_, step)) = self.steps.get(at) else { return Err(Astray::NoStep { last }) };
        let lifts = to.lifts.unwrap_or(step.lifts);
        if lifts > step.lifts {
            return Err(Astray::NoLift { lifts: step.lifts });
        }
        let place = if lifts == step.lifts { (at + 1, 0) } else { (at, lifts) };
        match (place.cmp(&(self.next, self.lifts)), self.reached()) {
            (Ordering::Less, Some(reached)) => return Err(Astray::Behind { reached }),
            (Ordering::Equal, _) => return Ok(()),
            _ => {}
        }
        while self.next < at {
            self.end_step();
        }
        match lifts == step.lifts {
            true => self.end_step(),
            false => self.cut_lifts(lifts),
        }
        if self.is_over() {
            self.finish();
        }
        Ok(())
    }

    /// Follows it to its end.
    pub fn finish(&mut self) {
        while !self.is_over() {
            self.end_step();
        }
        if std::mem::replace(&mut self.is_ended, true) {
            return;
        }
        for run in self.runs.iter().filter(|run| run.cuts.is_empty()) {
            for place in &run.places {
                self.put(run, &place.what, EqualPlates { size: place.size, count: run.sheets });
            }
        }
    }

    /// Takes spoiled plates off a stack.
    ///
    /// # Errors
    /// How many there are, where these are fewer; nothing is taken then.
    pub fn spoil(&mut self, letter: &str, count: u64) -> Result<(), u64> {
        let there = self.waiting(letter);
        if count > there {
            return Err(there);
        }
        if let Some(lying) = self.stacks.get_mut(letter) {
            lying.count -= count;
            self.bench.waste += lying.size.area() * count;
        }
        Ok(())
    }

    /// Plates that wait on a stack; none on one that is not begun, or cut to its end.
    fn waiting(&self, letter: &str) -> u64 {
        let lying = self.stacks.get(letter).filter(|lying| !is_uncut(letter, lying.run));
        lying.map_or(0, |lying| lying.count)
    }

    /// What the bench looks like now.
    pub fn standing(&self) -> OnBench {
        let mut bench = self.bench.clone();
        for run in self.runs {
            let uncut = match run.cuts.first() {
                Some(first) => self.stacks.get(first.from.letter.as_str()).map_or(0, |it| it.count),
                None if self.is_ended => 0,
                None => run.sheets,
            };
            if uncut < run.sheets {
                bench.begun.insert(run.run.clone(), run.sheets - uncut);
            }
        }
        let waiting = self
            .stacks
            .iter()
            .filter(|(letter, lying)| lying.count > 0 && !is_uncut(letter, lying.run));
        bench.stacks = waiting.map(|(letter, lying)| self.told(letter, lying)).collect();
        bench.stacks.sort_by_key(|stack| (stack.letter.len(), stack.letter.clone()));
        bench
    }

    fn told(&self, letter: &str, lying: &Pile) -> WaitingStack {
        let margin = |sides: u8| self.trimmer.squaring * i64::from(sides);
        let Pile { run, size, count, rough } = *lying;
        let inner = Size::new(
            (size.width - margin(rough.width)).max(Length::ZERO),
            (size.height - margin(rough.height)).max(Length::ZERO),
        );
        let run = run.run.clone();
        WaitingStack { letter: letter.to_owned(), run, size, inner, count }
    }

    /// Cuts what is left of the next step.
    fn end_step(&mut self) {
        let Some(&(_, step)) = self.steps.get(self.next) else { return };
        self.cut_lifts(step.lifts);
        self.stacks.remove(step.from.letter.as_str());
        (self.next, self.lifts) = (self.next + 1, 0);
    }

    /// Cuts the next step up to so many lifts of it.
    fn cut_lifts(&mut self, lifts: u64) {
        let Some(&(run, step)) = self.steps.get(self.next) else { return };
        let more = lifts - self.lifts;
        let Some(lying) = self.stacks.get_mut(step.from.letter.as_str()) else { return };
        // The last lift takes all that is left.
        let most = if lifts == step.lifts { lying.count } else { more.saturating_mul(run.lift) };
        let count = lying.count.min(most);
        lying.count -= count;
        let from = Pile { count, ..*lying };
        let is_begun = self.lifts == 0;
        self.bench.settings += u64::from(is_begun && step.new_setting);
        self.bench.moves += if is_begun { step.moves } else { 0 };
        self.bench.strokes += step.cuts_per_lift * count.div_ceil(run.lift);
        self.lifts = lifts;
        let mut area = from.size.area() * count;
        for (at, part) in step.yields.iter().enumerate() {
            let plates = EqualPlates { size: part.size, count: step.per_plate(part) * count };
            area = area - plates.size.area() * plates.count;
            match &part.what {
                Fate::Stack(letter) => self.lay(letter, plates, rough(step, at, from), run),
                what => self.put(run, what, plates),
            }
        }
        self.bench.blade += area;
    }

    fn lay(&mut self, letter: &'a str, plates: EqualPlates, rough: RoughSides, run: &'a RunCuts) {
        let EqualPlates { size, count } = plates;
        let empty = Pile { run, size, count: 0, rough };
        let lying = self.stacks.entry(letter).or_insert(empty);
        lying.count += count;
        lying.rough = lying.rough.or(rough);
    }

    /// Puts down what is cut no further.
    fn put(&mut self, run: &RunCuts, what: &Fate, EqualPlates { size, count }: EqualPlates) {
        match what {
            Fate::Stack(_) => {}
            Fate::Piece(id, _) => *self.bench.pieces.entry(id.clone()).or_insert(0) += count,
            Fate::Waste => self.bench.waste += size.area() * count,
            Fate::Offcut(id) => {
                let all = &mut self.bench.offcuts;
                match all.iter_mut().find(|it| it.offcut == *id && it.run == run.run) {
                    Some(strips) => strips.count += count,
                    None => {
                        let (offcut, run) = (id.clone(), run.run.clone());
                        all.push(KeptStrips { offcut, run, count });
                    }
                }
            }
        }
    }

    /// The step that cuts a stack.
    fn step_of(&self, letter: &str) -> Option<&'a CutStep> {
        let mut steps = self.steps.iter().map(|(_, step)| *step);
        steps.find(|step| step.from.letter == letter)
    }

    /// Pieces that a plate of a stack becomes, by id.
    pub fn pieces_of(&self, letter: &str) -> BTreeMap<String, u64> {
        let mut pieces = BTreeMap::new();
        self.add_pieces(letter, 1, &mut pieces);
        pieces
    }

    fn add_pieces(&self, letter: &str, times: u64, pieces: &mut BTreeMap<String, u64>) {
        let Some(step) = self.step_of(letter) else { return };
        for part in &step.yields {
            let times = times * step.per_plate(part);
            match &part.what {
                Fate::Stack(next) => self.add_pieces(next, times, pieces),
                Fate::Piece(id, _) => *pieces.entry(id.clone()).or_insert(0) += times,
                Fate::Offcut(_) | Fate::Waste => {}
            }
        }
    }
}

/// Equal plates.
#[derive(Clone, Copy)]
struct EqualPlates {
    size: Size,
    count: u64,
}

/// Whether a stack is the sheets of its run, of which no cut was made.
fn is_uncut(letter: &str, run: &RunCuts) -> bool {
    run.cuts.first().is_some_and(|first| first.from.letter == letter)
}

/// What is rough of a part: strips come off at a true edge, what is left keeps the edge across from it. Of a part to which
/// both belong, any plate may be the one that is left.
fn rough(step: &CutStep, part: usize, from: Pile) -> RoughSides {
    let mut rough = from.rough;
    let sides = rough.along(step.across);
    if step.squaring {
        *sides = sides.saturating_sub(1);
    } else if step.beyond != Some(part) {
        *sides = 0;
    }
    rough
}
