//! A bench that only knows the schedule: it plays the steps with real stacks and stops at the first
//! thing that does not work out.

use super::super::{CutStep, Fate, FinalPlate, RunCuts, Schedule};
use crate::cuts::Cut;
use crate::measure::{Area, Axis, Length, Size};
use crate::plan::{Content, Leaf, Node, Plan};
use std::collections::BTreeMap;

/// What lies on the table at the end.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// Pieces by id, turned or not, and size.
    pub pieces: BTreeMap<(String, bool, Size), u64>,
    /// Offcuts by id and size.
    pub offcuts: BTreeMap<(String, Size), u64>,
    /// Area of the waste.
    pub waste: Area,
    /// Area lost under the blade.
    pub blade: Area,
}

/// What the trees of a plan say should lie there.
pub fn expected(plan: &Plan) -> Table {
    let mut table = Table::default();
    for run in &plan.runs {
        count(&run.layout, run.count, &mut table);
    }
    table
}

fn count(node: &Node, times: u64, table: &mut Table) {
    match &node.content {
        Content::Cut(Cut { parts, .. }) => {
            let kept: Area = parts.iter().map(|part| part.size.area()).sum();
            table.blade += (node.size.area() - kept) * times;
            parts.iter().for_each(|part| count(part, times, table));
        }
        Content::Leaf(Leaf::Piece(id, turned)) => {
            *table.pieces.entry((id.clone(), *turned, node.size)).or_insert(0) += times;
        }
        Content::Leaf(Leaf::Offcut(id)) => {
            *table.offcuts.entry((id.clone(), node.size)).or_insert(0) += times;
        }
        Content::Leaf(Leaf::Waste) => table.waste += node.size.area() * times,
    }
}

/// What a drawing shows, on so many sheets.
pub fn shown(places: &[FinalPlate], sheets: u64) -> Table {
    let mut table = Table::default();
    for place in places {
        match &place.what {
            Fate::Piece(id, turned) => {
                *table.pieces.entry((id.clone(), *turned, place.size)).or_insert(0) += sheets;
            }
            Fate::Offcut(id) => {
                *table.offcuts.entry((id.clone(), place.size)).or_insert(0) += sheets;
            }
            Fate::Stack(letter) => panic!("stack {letter} is no end"),
            Fate::Waste => table.waste += place.size.area() * sheets,
        }
    }
    table
}

/// A bench while it works.
#[derive(Debug)]
pub struct Simulation<'a> {
    blade: Length,
    hold: Length,
    gauge: Option<Length>,
    steps: u32,
    settings: u64,
    strokes: u64,
    /// Letters ever written, with the paper of the stack.
    letters: BTreeMap<String, &'a str>,
    stacks: BTreeMap<String, (Size, u64)>,
    table: Table,
}

/// Plays a schedule and returns what lies on the table.
pub fn play(schedule: &Schedule, plan: &Plan, blade: Length, hold: Length) -> Table {
    let mut bench = Simulation {
        blade,
        hold,
        gauge: None,
        steps: 0,
        settings: 0,
        strokes: 0,
        letters: BTreeMap::new(),
        stacks: BTreeMap::new(),
        table: Table::default(),
    };
    assert_eq!(schedule.runs.len(), plan.runs.len());
    for (cuts, run) in schedule.runs.iter().zip(&plan.runs) {
        assert_eq!((&cuts.run, cuts.sheets, cuts.size), (&run.id, run.count, run.layout.size));
        bench.begin(cuts, &run.layout);
    }
    for (run, step) in schedule.in_order() {
        bench.cut(step, run);
    }
    assert_eq!(bench.stacks, BTreeMap::new(), "stacks are left uncut");
    assert_eq!(bench.settings, schedule.gauge_settings);
    assert_eq!(bench.strokes, schedule.strokes);
    bench.table
}

impl<'a> Simulation<'a> {
    /// Lays the sheets of a run ready, and looks at its drawing.
    fn begin(&mut self, run: &'a RunCuts, layout: &Node) {
        match run.cuts.first() {
            Some(first) => self.lay(&first.from.letter, (run.size, run.sheets), &run.run),
            None => count(layout, run.sheets, &mut self.table),
        }
        assert!(run.cuts.is_sorted_by_key(|step| step.number));
        let mut lines: Vec<_> = run.cuts.iter().flat_map(|step| &step.lines).collect();
        assert!(lines.iter().all(|line| line.x1 <= line.x2 && line.y1 <= line.y2));
        lines.sort_unstable_by_key(|line| (line.x1, line.y1, line.x2, line.y2));
        lines.dedup();
        let drawn: usize = run.cuts.iter().map(|step| step.lines.len()).sum();
        assert_eq!(lines.len(), drawn, "a line is drawn twice");
    }

    fn lay(&mut self, letter: &str, stack: (Size, u64), run: &'a str) {
        let owner = self.letters.entry(letter.to_owned()).or_insert(run);
        assert_eq!(*owner, run, "letter {letter} is used in two runs");
        let lying = self.stacks.entry(letter.to_owned()).or_insert((stack.0, 0));
        assert_eq!(lying.0, stack.0, "plates of two sizes on stack {letter}");
        lying.1 += stack.1;
    }

    fn cut(&mut self, step: &CutStep, run: &'a RunCuts) {
        self.steps += 1;
        assert_eq!(step.number, self.steps);
        self.set_gauge(step);
        let stack = self.stacks.remove(&step.from.letter);
        assert_eq!(stack, Some((step.from.size, step.from.count)), "step {}", step.number);
        self.strokes += step.cuts_per_lift * self.lifts(step, run.lift);
        self.compare(step, self.outcomes(step));
        for part in &step.yields {
            self.put(&part.what, part.size, part.count, &run.run);
        }
        let plates_per_sheet = step.from.count / run.sheets;
        assert_eq!(step.lines.len() as u64, step.cuts_per_lift * plates_per_sheet);
        for line in &step.lines {
            let long = match step.across {
                Axis::Width => (line.x1 == line.x2).then_some(line.y2 - line.y1),
                Axis::Height => (line.y1 == line.y2).then_some(line.x2 - line.x1),
            };
            assert_eq!(long, Some(step.from.size.along(step.across.other())));
        }
    }

    fn set_gauge(&mut self, step: &CutStep) {
        assert!(step.gauge.is_positive());
        assert_eq!(step.new_setting, self.gauge != Some(step.gauge));
        self.gauge = Some(step.gauge);
        self.settings += u64::from(step.new_setting);
    }

    /// Takes lift after lift from the stack until it is used up.
    fn lifts(&self, step: &CutStep, lift: u64) -> u64 {
        let (mut left, mut lifts, mut last) = (step.from.count, 0, lift);
        while left > 0 {
            last = left.min(lift);
            left -= last;
            lifts += 1;
        }
        assert_eq!(step.lifts, lifts);
        assert_eq!(step.short_lift, (last < lift).then_some(last));
        lifts
    }

    /// Sizes that the step's cuts bring, with their numbers.
    fn outcomes(&self, step: &CutStep) -> BTreeMap<Size, u64> {
        let (axis, count) = (step.across, step.from.count);
        let mut plate = step.from.size;
        let mut sizes = BTreeMap::new();
        for _ in 0..step.cuts_per_lift {
            assert!(plate.along(axis) >= self.hold || step.squaring, "cannot be held");
            assert!(plate.along(axis) >= step.gauge, "the plate does not reach the knife");
            *sizes.entry(plate.with(axis, step.gauge)).or_insert(0) += count;
            plate = plate.with(axis, plate.along(axis) - step.gauge - self.blade);
        }
        if plate.is_positive() {
            *sizes.entry(plate).or_insert(0) += count;
        }
        sizes
    }

    fn compare(&mut self, step: &CutStep, sizes: BTreeMap<Size, u64>) {
        let mut said = BTreeMap::new();
        for part in &step.yields {
            *said.entry(part.size).or_insert(0) += part.count;
        }
        assert_eq!(said, sizes, "step {}", step.number);
        let all = step.from.size.area() * step.from.count;
        let parts = sizes.into_iter().map(|(size, count)| size.area() * count).sum();
        self.table.blade += all - parts;
    }

    fn put(&mut self, what: &Fate, size: Size, count: u64, run: &'a str) {
        match what {
            Fate::Stack(letter) => self.lay(letter, (size, count), run),
            Fate::Piece(id, turned) => {
                *self.table.pieces.entry((id.clone(), *turned, size)).or_insert(0) += count;
            }
            Fate::Offcut(id) => {
                *self.table.offcuts.entry((id.clone(), size)).or_insert(0) += count;
            }
            Fate::Waste => self.table.waste += size.area() * count,
        }
    }
}
