//! From cuts in order to steps at the bench: letters on the stacks, lifts, what comes out.

use super::arrange::{arrange, outcome, places};
use super::cuts::{CutList, CutOf, GaugeCut, list};
use super::moves::moves;
use super::sequence::{self, BenchEffort, Sequence};
use super::squaring::{Squared, Trim, square};
use super::stacks::{Catalogue, KindId, Treatment};
use super::strips::{Plate, flatten};
use super::{CutLine, CutStep, Edge, Fate, RunCuts, Stack, Yield};
use crate::measure::{Length, Size};
use crate::plan::{Node, Plan, Run, UsedSheet};
use crate::stock::{RoughEdges, Stock};
use crate::workshop::Trimmer;
use std::collections::BTreeMap;

/// All runs cut, cuts with one gauge setting together.
pub(super) struct AllCuts {
    pub runs: Vec<RunCuts>,
    pub effort: BenchEffort,
}

/// Cuts all runs.
pub(super) fn cut_all(plan: &Plan, stock: &Stock, trimmer: &Trimmer) -> AllCuts {
    let mut jobs: Vec<Assignment> =
        plan.runs.iter().map(|run| Assignment::new(run, plan, stock, trimmer)).collect();
    let works: Vec<&[GaugeCut]> = jobs.iter().map(|job| job.sheets.work.cuts.as_slice()).collect();
    let papers = papers(&jobs);
    let mut cuts = together(&works);
    cuts.iter_mut().for_each(|cut| cut.paper = papers[cut.run]);
    let Sequence { order, effort } = sequence::order(&cuts, trimmer.waiting);
    // Which run a cut belongs to, and its place there.
    let places: Vec<(usize, usize)> = works
        .iter()
        .enumerate()
        .flat_map(|(job, cuts)| (0..cuts.len()).map(move |cut| (job, cut)))
        .collect();
    let order: Vec<(usize, usize)> = order.into_iter().map(|number| places[number]).collect();
    for (at, job) in jobs.iter_mut().enumerate() {
        let own = order.iter().filter(|(of, _)| *of == at).map(|&(_, cut)| cut);
        job.sheets.arrange(own.collect(), trimmer.blade);
    }
    let mut bench = Running { trimmer, gauge: None, steps: 0, letters: 0 };
    let mut floors: Vec<Floor> = jobs.iter().map(Floor::new).collect();
    let mut steps: Vec<Vec<CutStep>> = vec![Vec::new(); jobs.len()];
    let mut made: Vec<(usize, CutStep)> = Vec::new();
    for (job, cut) in order {
        made.push((job, floors[job].step(&jobs[job].sheets.work.cuts[cut], &mut bench)));
    }
    let moves = moves(&made.iter().map(|(_, step)| step).collect::<Vec<_>>());
    for ((job, step), moves) in made.into_iter().zip(moves) {
        steps[job].push(CutStep { moves, ..step });
    }
    let runs = jobs.iter().zip(steps).map(|(job, cuts)| job.told(cuts)).collect();
    AllCuts { runs, effort }
}

/// The cuts of several runs as one list.
pub(super) fn together(works: &[&[GaugeCut]]) -> Vec<GaugeCut> {
    let mut all: Vec<GaugeCut> = Vec::new();
    for (run, cuts) in works.iter().enumerate() {
        let first = all.len();
        all.extend(cuts.iter().map(|cut| {
            let after = cut.after.iter().map(|before| before + first).collect();
            GaugeCut { run, after, ..cut.clone() }
        }));
    }
    all
}

/// The number of each run's paper.
fn papers(jobs: &[Assignment]) -> Vec<usize> {
    let mut papers: BTreeMap<&str, usize> = BTreeMap::new();
    let mut numbers = Vec::new();
    for job in jobs {
        let paper = job.sheet.map(|sheet| sheet.paper.as_str()).unwrap_or_default();
        let next = papers.len();
        numbers.push(*papers.entry(paper).or_insert(next));
    }
    numbers
}

/// One run, ready to be cut.
struct Assignment<'plan> {
    run: &'plan Run,
    sheet: Option<&'plan UsedSheet>,
    lift: u64,
    sheets: Prepared<'plan>,
}

/// A sheet, its divisions, and the cuts that they take.
pub(super) struct Prepared<'plan> {
    trims: Vec<Trim>,
    plate: Plate<'plan>,
    catalogue: Catalogue<'plan>,
    whole: KindId,
    pub work: CutList,
}

impl<'plan> Prepared<'plan> {
    /// From the cut tree of a sheet; only rough edges are squared.
    pub fn new(layout: &'plan Node, edges: RoughEdges, trimmer: &Trimmer) -> Prepared<'plan> {
        let Trimmer { blade, smallest_hold, squaring, .. } = *trimmer;
        let squaring = if edges.any() { squaring } else { Length::ZERO };
        let Squared { trims, inner } = square(layout, squaring, blade);
        let mut catalogue = Catalogue::default();
        let plate = flatten(inner, smallest_hold);
        let whole = catalogue.add(&plate);
        let work = list(&trims, &catalogue, trimmer);
        Prepared { trims, plate, catalogue, whole, work }
    }

    /// Plates of a kind that a sheet yields.
    pub fn plates(&self, kind: KindId) -> u64 {
        self.catalogue.kinds[kind].spots.len() as u64
    }

    /// Lays the strips of the drawing in the order of the cuts.
    fn arrange(&mut self, order: Vec<usize>, blade: Length) {
        let cuts: Vec<GaugeCut> =
            order.into_iter().map(|cut| self.work.cuts[cut].clone()).collect();
        arrange(&mut self.plate, &mut self.catalogue, &self.work, &cuts, blade);
    }
}

impl<'plan> Assignment<'plan> {
    fn new(
        run: &'plan Run,
        plan: &'plan Plan,
        stock: &Stock,
        trimmer: &Trimmer,
    ) -> Assignment<'plan> {
        let sheet = plan.sheets.iter().find(|sheet| sheet.id == run.sheet);
        let known = stock.sheets.iter().find(|known| known.id == run.sheet);
        let lift = trimmer.lift.of(known.and_then(|known| known.thickness));
        let edges = sheet.map(|sheet| sheet.rough_edges).unwrap_or_default();
        let sheets = Prepared::new(&run.layout, edges, trimmer);
        Assignment { run, sheet, lift, sheets }
    }

    /// Whether edges of its sheets were rough.
    fn is_rough(&self) -> bool {
        !self.sheets.trims.is_empty()
    }

    fn told(&self, cuts: Vec<CutStep>) -> RunCuts {
        RunCuts {
            run: self.run.id.clone(),
            sheet: self.run.sheet.clone(),
            paper: self.sheet.map(|sheet| sheet.paper.clone()).unwrap_or_default(),
            size: self.run.layout.size,
            sheets: self.run.count,
            lift: self.lift,
            cuts,
            places: places(&self.sheets.trims, &self.sheets.plate),
        }
    }
}

/// The trimmer through the whole schedule: what its gauge is set to, the number of the next step and
/// the next letter.
#[derive(Debug)]
struct Running<'a> {
    trimmer: &'a Trimmer,
    gauge: Option<Length>,
    steps: u32,
    letters: u64,
}

impl Running<'_> {
    /// The next letter: `A` … `Z`, `AA` … `AZ`, `BA` …
    fn letter(&mut self) -> String {
        self.letters += 1;
        letters(self.letters)
    }
}

/// The name of the `number`th stack, counted from 1.
fn letters(mut number: u64) -> String {
    let mut name = Vec::new();
    while number > 0 {
        number -= 1;
        name.push(char::from(b'A' + (number % 26) as u8));
        number /= 26;
    }
    name.iter().rev().collect()
}

/// The stacks of one run while it is cut.
struct Floor<'a, 'plan> {
    job: &'a Assignment<'plan>,
    /// Letters of the kinds that are cut on.
    letters: BTreeMap<KindId, String>,
    /// The stack that is being squared, once it is begun.
    sheet: String,
    /// What is left of the kinds that are being cut: letter and size.
    open: BTreeMap<KindId, (String, Size)>,
    /// Cuts that each kind still waits for.
    waiting: BTreeMap<KindId, usize>,
}

impl<'a, 'plan> Floor<'a, 'plan> {
    fn new(job: &'a Assignment<'plan>) -> Self {
        let mut waiting = BTreeMap::new();
        for cut in &job.sheets.work.cuts {
            if let CutOf::Plates(kind) = cut.of {
                *waiting.entry(kind).or_insert(0) += 1;
            }
        }
        let (letters, open) = (BTreeMap::new(), BTreeMap::new());
        Floor { job, letters, sheet: String::new(), open, waiting }
    }

    fn step(&mut self, cut: &GaugeCut, bench: &mut Running) -> CutStep {
        let Parted { from, yields, beyond, lines } = match cut.of {
            CutOf::Trim(number) => self.trim(number, bench),
            CutOf::Plates(kind) => self.divide(cut, kind, bench),
        };
        let (count, lift) = (from.count, self.job.lift);
        let gauge = cut.gauge;
        let graduation = bench.trimmer.graduation;
        bench.steps += 1;
        CutStep {
            number: bench.steps,
            squaring: matches!(cut.of, CutOf::Trim(_)),
            from,
            across: cut.axis,
            fence: match cut.of {
                CutOf::Trim(number) => self.job.sheets.trims[number].fence,
                // The strips of a division are laid in the order in which they come off.
                CutOf::Plates(_) => Edge::start(cut.axis),
            },
            side_lay: match cut.of {
                CutOf::Trim(number) => self.job.sheets.trims[number].side_lay,
                CutOf::Plates(_) => self.job.is_rough().then(|| Edge::start(cut.axis.other())),
            },
            gauge,
            new_setting: bench.gauge.replace(gauge) != Some(gauge),
            off_graduation: graduation.is_positive() && !gauge.is_multiple_of(graduation),
            cuts_per_lift: cut.per_lift(),
            lifts: count.div_ceil(lift),
            short_lift: Some(count % lift).filter(|short| *short > 0),
            moves: 0,
            yields,
            beyond,
            lines,
        }
    }

    fn trim(&mut self, number: usize, bench: &mut Running) -> Parted {
        let (trims, sheets) = (&self.job.sheets.trims, self.job.run.count);
        let trim = trims[number];
        if number == 0 {
            self.sheet = bench.letter();
        }
        let from = Stack { letter: self.sheet.clone(), size: trim.from, count: sheets };
        let what = if number + 1 == trims.len() {
            self.outcome(self.job.sheets.whole, bench)
        } else {
            self.sheet = bench.letter();
            Fate::Stack(self.sheet.clone())
        };
        let kept = Yield { what, size: trim.rest, count: sheets };
        let waste = Yield { what: Fate::Waste, size: trim.waste, count: sheets };
        Parted::new(from, vec![kept, waste], Some(1), vec![trim.line])
    }

    fn divide(&mut self, cut: &GaugeCut, kind: KindId, bench: &mut Running) -> Parted {
        let job = self.job;
        let count = job.run.count * job.sheets.plates(kind);
        let remainder = job.sheets.work.remainders.get(&kind).copied();
        let (letter, size) = self.take(kind, bench);
        let is_last = self.is_last(kind);
        let mut strips: BTreeMap<KindId, u64> = BTreeMap::new();
        for strip in cut.strips.iter().copied().chain(remainder.filter(|_| is_last)) {
            *strips.entry(strip).or_insert(0) += count;
        }
        let mut beyond = strips.keys().position(|strip| Some(*strip) == remainder);
        let mut yields: Vec<Yield> =
            strips.into_iter().map(|(strip, count)| self.strips(strip, count, bench)).collect();
        if !is_last {
            let (letter, size) = (bench.letter(), rest(cut, size, bench.trimmer.blade));
            beyond = Some(yields.len());
            yields.push(Yield { what: Fate::Stack(letter.clone()), size, count });
            self.open.insert(kind, (letter, size));
        }
        let lines =
            remainder.map(|remainder| job.sheets.catalogue.lines(kind, remainder, cut.gauge));
        Parted::new(Stack { letter, size, count }, yields, beyond, lines.unwrap_or_default())
    }

    /// Counts a cut of a kind off; whether it was the last.
    fn is_last(&mut self, kind: KindId) -> bool {
        let waiting = self.waiting.entry(kind).or_insert(1);
        *waiting -= 1;
        *waiting == 0
    }

    fn strips(&mut self, kind: KindId, count: u64, bench: &mut Running) -> Yield {
        Yield {
            what: self.outcome(kind, bench),
            size: self.job.sheets.catalogue.kinds[kind].size,
            count,
        }
    }

    /// The stack to cut: what is left of plates that are being cut, or whole plates.
    fn take(&mut self, kind: KindId, bench: &mut Running) -> (String, Size) {
        match self.open.remove(&kind) {
            Some(open) => open,
            None => (self.letter_of(kind, bench), self.job.sheets.catalogue.kinds[kind].size),
        }
    }

    fn letter_of(&mut self, kind: KindId, bench: &mut Running) -> String {
        self.letters.entry(kind).or_insert_with(|| bench.letter()).clone()
    }

    fn outcome(&mut self, kind: KindId, bench: &mut Running) -> Fate {
        match self.job.sheets.catalogue.kinds[kind].form {
            Treatment::Done(leaf) => outcome(leaf),
            Treatment::Strips(..) => Fate::Stack(self.letter_of(kind, bench)),
        }
    }
}

/// A plate after a cut.
fn rest(cut: &GaugeCut, size: Size, blade: Length) -> Size {
    let taken = (cut.gauge + blade) * cut.strips.len() as i64;
    size.with(cut.axis, size.along(cut.axis) - taken)
}

/// A stack and what a step makes of it.
struct Parted {
    from: Stack,
    yields: Vec<Yield>,
    beyond: Option<usize>,
    lines: Vec<CutLine>,
}

impl Parted {
    /// Without remnants that the blade has used up.
    fn new(from: Stack, yields: Vec<Yield>, beyond: Option<usize>, lines: Vec<CutLine>) -> Parted {
        let is_real = |part: &Yield| part.size.is_positive();
        let beyond = beyond.filter(|at| yields.get(*at).is_some_and(is_real));
        let beyond = beyond.map(|at| yields[..at].iter().filter(|part| is_real(part)).count());
        let yields = yields.into_iter().filter(is_real).collect();
        Parted { from, yields, beyond, lines }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!(
            [1, 2, 26, 27, 52, 53, 702, 703].map(letters),
            ["A", "B", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]
        );
    }
}
