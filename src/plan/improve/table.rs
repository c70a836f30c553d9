//! Where layouts are laid anew, for each kind of sheet with what is kept of it.

use super::kept::{Drawer, Kept};
use super::laying::Laying;
use super::steps::Steps;
use crate::measure::{Length, Ratio};
use crate::patterns::{Content, Layout, stages};
use crate::plan::Ground;
use crate::plan::tidy::{Trimming, tidy};
use crate::program::bench;
use crate::stock::Prices;
use std::collections::{BTreeMap, BTreeSet};

/// Lays layouts anew and says what their remnants are worth.
pub(in crate::plan) struct Table<'a> {
    ground: Ground<'a>,
    prices: Prices<'a>,
    steps: &'a Steps<'a>,
    layings: BTreeMap<usize, Laying<'a>>,
}

impl<'a> Table<'a> {
    /// A table on which so many plates may be looked at.
    pub fn new(ground: Ground<'a>, steps: &'a Steps<'a>) -> Table<'a> {
        let prices = Prices::of(ground.stock, ground.workshop);
        Table { ground, prices, steps, layings: BTreeMap::new() }
    }

    fn laying(&mut self, sheet: usize) -> &mut Laying<'a> {
        let Table { ground, prices, steps, layings } = self;
        layings.entry(sheet).or_insert_with(|| {
            Laying::new(Drawer::of(*ground, sheet, prices), bench(ground.workshop), steps)
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
        let most = self.ground.workshop.trimmer.stages;
        most.is_none_or(|most| stages(layout) <= most)
    }

    /// Whether plates may still be looked at.
    pub fn is_open(&self) -> bool {
        !self.steps.is_called_off()
    }

    /// Takes the steps for a look at every plate of a layout; `None` where there are not so many.
    pub fn look(&self, layout: &Layout) -> Option<()> {
        self.steps.take_many(looking(layout))
    }

    /// Width lost per cut.
    pub fn blade(&self) -> Length {
        self.ground.workshop.trimmer.blade
    }

    /// Remnants gathered, and no more.
    pub fn tidied(&self, layout: Layout) -> Layout {
        let trimmer = &self.ground.workshop.trimmer;
        tidy(layout, Trimming { blade: trimmer.blade, hold: trimmer.smallest_hold })
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
    plates(layout) / PLATES_A_STEP
}

/// Plates of a layout.
pub(super) fn plates(layout: &Layout) -> u64 {
    match &layout.content {
        Content::Piece(..) | Content::Remnant => 1,
        Content::CutX(_, near, far) | Content::CutY(_, near, far) => 1 + plates(near) + plates(far),
    }
}

/// The distances at which a layout is cut.
fn distances(layout: &Layout) -> BTreeSet<Length> {
    match &layout.content {
        Content::Piece(..) | Content::Remnant => BTreeSet::new(),
        Content::CutX(_, near, far) | Content::CutY(_, near, far) => {
            let width = match layout.content {
                Content::CutX(..) => [near.size.width, far.size.width],
                _ => [near.size.height, far.size.height],
            };
            let mut all: BTreeSet<Length> = width.into_iter().collect();
            all.extend(distances(near));
            all.extend(distances(far));
            all
        }
    }
}
