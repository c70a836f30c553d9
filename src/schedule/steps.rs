//! From cuts in order to steps at the bench: letters on the stacks, lifts, what comes out.

use super::arrange::{arrange, outcome, places};
use super::cuts::{Cut, Source, Work, list};
use super::squaring::{Squared, Trim, square};
use super::stacks::{Catalogue, Form, KindId};
use super::strips::flatten;
use super::{CutLine, CutStep, Outcome, Place, RunCuts, Stack, Yield, sequence};
use crate::measure::{Length, Size};
use crate::plan::{Plan, Run, UsedSheet};
use crate::stock::{SheetKind, Stock};
use crate::workshop::{Lift, Trimmer};
use std::collections::BTreeMap;

/// What a sheet of unknown thickness is taken to be: a usual card stock (110 lb index to 80 lb
/// cover, 0.23 to 0.32 mm; GPO/JCP paper specifications K10, 1999).
pub const ASSUMED_THICKNESS: Length = Length::from_ticks(3 * Length::TICKS_PER_MM / 10);

/// Sheets under the knife at once, at least 1. A lift given as a thickness is divided by the
/// sheet's; where that is unknown, by [`ASSUMED_THICKNESS`].
pub fn sheets_per_lift(lift: Lift, thickness: Option<Length>) -> u64 {
    let sheets = match lift {
        Lift::Sheets(sheets) => sheets,
        Lift::Thickness(most) => {
            let sheet = thickness.filter(|sheet| sheet.is_positive()).unwrap_or(ASSUMED_THICKNESS);
            u64::try_from(most.ticks() / sheet.ticks()).unwrap_or(0)
        }
    };
    sheets.max(1)
}

/// The trimmer through the whole schedule: what its gauge is set to, the number of the next step and
/// the next letter.
#[derive(Debug)]
pub(super) struct Bench<'a> {
    trimmer: &'a Trimmer,
    gauge: Option<Length>,
    steps: u32,
    letters: u64,
}

impl<'a> Bench<'a> {
    /// A trimmer that nobody has used yet.
    pub fn new(trimmer: &'a Trimmer) -> Bench<'a> {
        Bench { trimmer, gauge: None, steps: 0, letters: 0 }
    }

    /// Cuts one run.
    pub fn cut(&mut self, run: &Run, plan: &Plan, stock: &Stock) -> RunCuts {
        let sheet = plan.sheets.iter().find(|sheet| sheet.id == run.sheet);
        let known = stock.sheets.iter().find(|known| known.id == run.sheet);
        let lift = sheets_per_lift(self.trimmer.lift, known.and_then(|known| known.thickness));
        let (cuts, places) = self.steps(run, sheet, lift);
        RunCuts {
            run: run.id.clone(),
            sheet: run.sheet.clone(),
            paper: sheet.map(|sheet| sheet.paper.clone()).unwrap_or_default(),
            size: run.layout.size,
            sheets: run.count,
            lift,
            cuts,
            places,
        }
    }

    /// The steps of a run, and what lies where on its sheet.
    fn steps(
        &mut self,
        run: &Run,
        sheet: Option<&UsedSheet>,
        lift: u64,
    ) -> (Vec<CutStep>, Vec<Place>) {
        let Trimmer { blade, smallest_hold, squaring, .. } = *self.trimmer;
        let full = sheet.is_some_and(|sheet| sheet.kind == SheetKind::Sheet);
        let squaring = if full { squaring } else { Length::ZERO };
        let Squared { trims, inner } = square(&run.layout, squaring, blade);
        let mut catalogue = Catalogue::default();
        let mut plate = flatten(inner, smallest_hold);
        let whole = catalogue.add(&plate);
        let work = list(&trims, &catalogue, blade, smallest_hold);
        let order = sequence::order(&work.cuts, self.gauge);
        let cuts: Vec<Cut> = order.into_iter().map(|number| work.cuts[number].clone()).collect();
        arrange(&mut plate, &mut catalogue, &work, &cuts, blade);
        let mut floor = Floor::new(self, &catalogue, &work, run.count);
        floor.lay_sheets(&trims, whole);
        let steps = cuts.iter().map(|cut| floor.step(cut, &trims, lift)).collect();
        (steps, places(&trims, &plate))
    }

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
struct Floor<'a, 'bench, 'plan> {
    bench: &'a mut Bench<'bench>,
    catalogue: &'a Catalogue<'plan>,
    remainders: &'a BTreeMap<KindId, KindId>,
    sheets: u64,
    /// Letters of the kinds that are cut on.
    letters: BTreeMap<KindId, String>,
    /// The stack that is being squared.
    sheet: String,
    /// What is left of the kinds that are being cut: letter and size.
    open: BTreeMap<KindId, (String, Size)>,
    /// Cuts that each kind still waits for.
    waiting: BTreeMap<KindId, usize>,
    whole: KindId,
}

impl<'a, 'bench, 'plan> Floor<'a, 'bench, 'plan> {
    fn new(
        bench: &'a mut Bench<'bench>,
        catalogue: &'a Catalogue<'plan>,
        work: &'a Work,
        sheets: u64,
    ) -> Self {
        let mut waiting = BTreeMap::new();
        for cut in &work.cuts {
            if let Source::Plates(kind) = cut.of {
                *waiting.entry(kind).or_insert(0) += 1;
            }
        }
        Floor {
            bench,
            catalogue,
            remainders: &work.remainders,
            sheets,
            letters: BTreeMap::new(),
            sheet: String::new(),
            open: BTreeMap::new(),
            waiting,
            whole: 0,
        }
    }

    /// The sheets get their letter.
    fn lay_sheets(&mut self, trims: &[Trim], whole: KindId) {
        self.whole = whole;
        if !trims.is_empty() {
            self.sheet = self.bench.letter();
        } else if self.waiting.contains_key(&whole) {
            self.outcome(whole);
        }
    }

    fn step(&mut self, cut: &Cut, trims: &[Trim], lift: u64) -> CutStep {
        let (from, yields, lines) = match cut.of {
            Source::Trim(number) => self.trim(trims, number),
            Source::Plates(kind) => self.divide(cut, kind),
        };
        let count = from.count;
        let gauge = cut.gauge;
        let graduation = self.bench.trimmer.graduation;
        self.bench.steps += 1;
        CutStep {
            number: self.bench.steps,
            squaring: matches!(cut.of, Source::Trim(_)),
            from,
            across: cut.axis,
            gauge,
            new_setting: self.bench.gauge.replace(gauge) != Some(gauge),
            off_graduation: graduation.is_positive() && !gauge.is_multiple_of(graduation),
            cuts_per_lift: cut.strips.len().max(1) as u64,
            lifts: count.div_ceil(lift),
            short_lift: Some(count % lift).filter(|short| *short > 0),
            yields,
            lines,
        }
    }

    fn trim(&mut self, trims: &[Trim], number: usize) -> (Stack, Vec<Yield>, Vec<CutLine>) {
        let trim = trims[number];
        let from = Stack { letter: self.sheet.clone(), size: trim.from, count: self.sheets };
        let what = if number + 1 == trims.len() {
            self.outcome(self.whole)
        } else {
            self.sheet = self.bench.letter();
            Outcome::Stack(self.sheet.clone())
        };
        let kept = Yield { what, size: trim.rest, count: self.sheets };
        let waste = Yield { what: Outcome::Waste, size: trim.waste, count: self.sheets };
        (from, keep_real([kept, waste]), vec![trim.line])
    }

    fn divide(&mut self, cut: &Cut, kind: KindId) -> (Stack, Vec<Yield>, Vec<CutLine>) {
        let count = self.sheets * self.catalogue.kinds[kind].spots.len() as u64;
        let remainder = self.remainders.get(&kind).copied();
        let (letter, size) = self.take(kind);
        let is_last = self.is_last(kind);
        let mut strips: BTreeMap<KindId, u64> = BTreeMap::new();
        for strip in cut.strips.iter().copied().chain(remainder.filter(|_| is_last)) {
            *strips.entry(strip).or_insert(0) += count;
        }
        let mut yields: Vec<Yield> =
            strips.into_iter().map(|(strip, count)| self.strips(strip, count)).collect();
        if !is_last {
            let (letter, size) = (self.bench.letter(), self.rest(cut, size));
            yields.push(Yield { what: Outcome::Stack(letter.clone()), size, count });
            self.open.insert(kind, (letter, size));
        }
        let lines = remainder.map(|remainder| self.catalogue.lines(kind, remainder, cut.gauge));
        (Stack { letter, size, count }, keep_real(yields), lines.unwrap_or_default())
    }

    /// Counts a cut of a kind off; whether it was the last.
    fn is_last(&mut self, kind: KindId) -> bool {
        let waiting = self.waiting.entry(kind).or_insert(1);
        *waiting -= 1;
        *waiting == 0
    }

    fn strips(&mut self, kind: KindId, count: u64) -> Yield {
        Yield { what: self.outcome(kind), size: self.catalogue.kinds[kind].size, count }
    }

    /// The stack to cut: what is left of plates that are being cut, or whole plates.
    fn take(&mut self, kind: KindId) -> (String, Size) {
        match self.open.remove(&kind) {
            Some(open) => open,
            None => (self.letter_of(kind), self.catalogue.kinds[kind].size),
        }
    }

    /// A plate after a cut.
    fn rest(&self, cut: &Cut, size: Size) -> Size {
        let taken = (cut.gauge + self.bench.trimmer.blade) * cut.strips.len() as i64;
        size.with(cut.axis, size.along(cut.axis) - taken)
    }

    fn letter_of(&mut self, kind: KindId) -> String {
        let bench = &mut *self.bench;
        self.letters.entry(kind).or_insert_with(|| bench.letter()).clone()
    }

    fn outcome(&mut self, kind: KindId) -> Outcome {
        match self.catalogue.kinds[kind].form {
            Form::Done(leaf) => outcome(leaf),
            Form::Strips(..) => Outcome::Stack(self.letter_of(kind)),
        }
    }
}

/// Without remnants that the blade has used up.
fn keep_real(yields: impl IntoIterator<Item = Yield>) -> Vec<Yield> {
    yields.into_iter().filter(|part| part.size.is_positive()).collect()
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

    #[test]
    fn a_lift_is_sheets_or_thickness() {
        let most = Lift::Thickness(Length::from_ticks(60_000)); // 1.5 mm
        let thick = |ticks| Some(Length::from_ticks(ticks));
        assert_eq!(sheets_per_lift(Lift::Sheets(5), None), 5);
        assert_eq!(sheets_per_lift(Lift::Sheets(5), thick(1)), 5);
        // 1.5 mm over 0.29 mm (index 140 lb, GPO/JCP K10) is 5 sheets and a bit.
        assert_eq!(sheets_per_lift(most, thick(11_600)), 5);
        assert_eq!(sheets_per_lift(most, thick(12_001)), 4);
        assert_eq!(sheets_per_lift(most, thick(12_000)), 5);
        assert_eq!(sheets_per_lift(most, None), 5);
        assert_eq!(sheets_per_lift(most, thick(60_001)), 1);
    }
}
