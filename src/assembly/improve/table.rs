//! Where layouts are laid anew, for each kind of sheet with what is kept of it.

use super::kept::{Drawer, Kept};
use super::laying::Laying;
use super::steps::Steps;
use crate::assembly::tidy::tidy;
use crate::cuts::{Bench, Layout, Tree};
use crate::job::Job;
use crate::measure::{Length, Ratio};
use crate::stock::Prices;
use std::collections::{BTreeMap, BTreeSet};

/// Lays layouts anew and says what their remnants are worth.
pub(in crate::assembly) struct LayingTable<'a> {
    job: &'a Job,
    prices: Prices<'a>,
    steps: &'a Steps<'a>,
    layings: BTreeMap<usize, Laying<'a>>,
}

impl<'a> LayingTable<'a> {
    /// A table on which so many plates may be looked at.
    pub fn new(job: &'a Job, steps: &'a Steps<'a>) -> LayingTable<'a> {
        let prices = Prices::of(&job.stock, &job.workshop);
        LayingTable { job, prices, steps, layings: BTreeMap::new() }
    }

    fn laying(&mut self, sheet: usize) -> &mut Laying<'a> {
        let LayingTable { job, prices, steps, layings } = self;
        layings.entry(sheet).or_insert_with(|| {
            let bench = job.workshop.trimmer.bench();
            Laying::new(Drawer::of(job, sheet, prices), bench, steps)
        })
    }

    /// The same pieces from the same sheet, with remnants that are worth as much or more.
    pub fn laid(&mut self, sheet: usize, layout: Layout) -> Layout {
        let tidied = self.tidied(layout);
        let anew = self.anew(sheet, &tidied);
        match anew {
            Some(anew) if self.is_better(sheet, &anew, &tidied) => anew,
            _ => tidied,
        }
    }

    /// The same pieces from the same sheet as is best; `None` where the bench cannot cut that.
    pub fn anew(&mut self, sheet: usize, layout: &Layout) -> Option<Layout> {
        self.look(layout)?;
        let anew = self.laying(sheet).best(layout);
        anew.filter(|anew| self.few_stages(anew))
    }

    fn few_stages(&self, layout: &Layout) -> bool {
        self.bench().stages.is_none_or(|most| layout.stages() <= most)
    }

    /// Whether plates may still be looked at.
    pub fn is_open(&self) -> bool {
        !self.steps.is_called_off()
    }

    /// Takes the steps for a look at every plate of a layout; `None` where there are not so many.
    pub fn look(&self, layout: &Layout) -> Option<()> {
        self.steps.take_many(looking(layout))
    }

    /// What can be cut at the bench.
    pub fn bench(&self) -> Bench {
        self.job.workshop.trimmer.bench()
    }

    /// Remnants gathered, and no more.
    pub fn tidied(&self, layout: Layout) -> Layout {
        tidy(layout, self.bench())
    }

    fn is_better(&mut self, sheet: usize, one: &Layout, other: &Layout) -> bool {
        self.kept(sheet, one) > self.kept(sheet, other)
    }

    /// What the remnants of a layout are worth.
    pub fn kept(&mut self, sheet: usize, layout: &Layout) -> Kept {
        self.laying(sheet).drawer.kept_of(layout)
    }

    /// What so much kept of a sheet is worth, in minor units.
    pub fn worth(&mut self, sheet: usize, kept: Kept) -> Ratio {
        self.laying(sheet).drawer.worth(kept)
    }

    /// Layouts that keep as much as this one, itself first: those that are likely to need few gauge
    /// settings.
    pub fn equals(&mut self, sheet: usize, layout: Layout) -> Vec<Layout> {
        let kept = self.kept(sheet, &layout);
        let mut equals = vec![layout];
        for _ in 0..=2 {
            let last = equals[equals.len() - 1].clone();
            if self.look(&last).is_none() {
                break;
            }
            let liked = if equals.len() == 1 { BTreeSet::new() } else { distances(&last) };
            let mut laying = self.laying(sheet).liking(liked);
            let Some(next) = laying.best(&last) else { break };
            let equal = self.few_stages(&next) && self.kept(sheet, &next) == kept;
            if !equal || equals.contains(&next) {
                break;
            }
            equals.push(next);
        }
        equals
    }
}

/// Plates of a layout that are looked at in one step.
const PLATES_A_STEP: u64 = 24;

/// Steps that a look at every plate of a layout takes: none for an ordinary sheet, many for thousands of small pieces.
pub(super) fn looking(layout: &Layout) -> u64 {
    layout.plates().count() as u64 / PLATES_A_STEP
}

/// The distances at which a layout is cut.
fn distances(layout: &Layout) -> BTreeSet<Length> {
    let cuts = layout.plates().filter_map(Tree::cut);
    cuts.flat_map(|cut| cut.parts.each_ref().map(|part| part.size.along(cut.axis))).collect()
}
