//! Where layouts are laid anew, for each kind of sheet with what is kept of it.

use super::kept::{Drawer, Kept};
use super::laying::{Laying, Taste};
use super::steps::Steps;
use crate::assembly::tidy::tidy;
use crate::cuts::{Bench, Layout, Tree};
use crate::job::Job;
use crate::measure::Ratio;
use crate::stock::Prices;
use std::collections::BTreeMap;

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

    /// The same pieces from the same sheet with as much kept, laid by this taste; `None` where there is no such layout.
    pub(super) fn equal(&mut self, sheet: usize, layout: &Layout, taste: Taste) -> Option<Layout> {
        self.look(layout)?;
        let next = self.laying(sheet).with(taste).best(layout)?;
        let keeps = self.kept(sheet, &next) >= self.kept(sheet, layout);
        (self.few_stages(&next) && keeps).then_some(next)
    }
}

/// Plates of a layout that are looked at in one step.
const PLATES_A_STEP: u64 = 24;

/// Steps that a look at every plate of a layout takes: none for an ordinary sheet, many for thousands of small pieces.
pub(super) fn looking(layout: &Layout) -> u64 {
    layout.plates().count() as u64 / PLATES_A_STEP
}
