//! What the remnants of a layout are worth for the drawer (level 3), in whole numbers.
//!
//! Compared in this order:
//!
//! 1. **area** of the remnants that reach the keep rule: on one paper the money they are worth goes by
//!    their area;
//! 2. **squares**, the sum of the squares of these areas: of equal area in all, few and large ones
//!    have more than many and small ones;
//! 3. **holds**: for each remnant, how many kinds of the pieces that are likely to be wanted have room
//!    on it: those of this order that may be cut from the paper, and the blanks of the card formats.
//!
//! Each is a sum over the remnants, so the best layout of a plate is made of best layouts of its parts.
//! So what keeps more of one kind of sheet is worth no less money.

use crate::cuts::Layout;
use crate::folds::FoldedPaper;
use crate::job::Job;
use crate::measure::{Ratio, Size};
use crate::pieces::orientations;
use crate::stock::{Prices, Sheet};
use crate::workshop::Keep;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Add;
use std::rc::Rc;

/// The worth of remnants.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::assembly) struct Kept {
    /// Square ticks.
    pub area: i128,
    /// The sum of the squared areas.
    pub squares: i128,
    /// Likely pieces that they hold.
    pub holds: i128,
}

impl Kept {
    /// The worth of so many of them.
    pub fn times(self, count: u64) -> Kept {
        let count = i128::from(count);
        Kept {
            area: self.area.saturating_mul(count),
            squares: self.squares.saturating_mul(count),
            holds: self.holds.saturating_mul(count),
        }
    }

    /// How much more it is than another.
    pub fn less(self, other: Kept) -> Kept {
        Kept {
            area: self.area - other.area,
            squares: self.squares.saturating_sub(other.squares),
            holds: self.holds - other.holds,
        }
    }
}

impl Add for Kept {
    type Output = Kept;

    fn add(self, other: Kept) -> Kept {
        Kept {
            area: self.area.saturating_add(other.area),
            squares: self.squares.saturating_add(other.squares),
            holds: self.holds.saturating_add(other.holds),
        }
    }
}

/// What makes a remnant of one kind of sheet worth keeping.
#[derive(Clone, Debug)]
pub(super) struct Drawer<'a> {
    keep: &'a Keep,
    /// Sizes of likely pieces in the ways they may lie.
    likely: Rc<[Size]>,
    /// What a square tick of an offcut is worth, in minor units.
    rate: Ratio,
    /// What was worked out already.
    known: Rc<RefCell<BTreeMap<Size, Kept>>>,
}

impl<'a> Drawer<'a> {
    /// What is kept of the sheet of this index in the stock, at its prices.
    pub fn of(job: &'a Job, sheet: usize, prices: &Prices) -> Drawer<'a> {
        let Job { stock, workshop, .. } = job;
        let Sheet { paper, size, .. } = &stock.sheets[sheet];
        let whole = prices.offcut(*size, paper);
        let rate = &whole / &Ratio::whole(size.area().square_ticks());
        let likely = likely(job, sheet).into();
        Drawer { keep: &workshop.keep, likely, rate, known: Rc::default() }
    }

    /// The worth of one remnant.
    pub fn kept(&self, size: Size) -> Kept {
        if !self.keep.keeps(size) {
            return Kept::default();
        }
        if let Some(known) = self.known.borrow().get(&size) {
            return *known;
        }
        let area = size.area().square_ticks();
        let holds = self.likely.iter().filter(|piece| piece.fits_in(size)).count();
        let kept = Kept { area, squares: area.saturating_mul(area), holds: holds as i128 };
        self.known.borrow_mut().insert(size, kept);
        kept
    }

    /// The worth of all remnants of a layout.
    pub fn kept_of(&self, layout: &Layout) -> Kept {
        layout.remnants().map(|size| self.kept(size)).fold(Kept::default(), Kept::add)
    }

    /// What so much kept area is worth, in minor units.
    pub fn worth(&self, kept: Kept) -> Ratio {
        &self.rate * kept.area
    }
}

/// The likely pieces of one kind of sheet, by its index in the stock: each size once, a piece that may
/// lie both ways by both.
fn likely(job: &Job, sheet: usize) -> Vec<Size> {
    let sheet = &job.stock.sheets[sheet];
    let mut sizes = BTreeSet::new();
    for piece in &job.bill.pieces {
        let ways = orientations(piece, sheet, &job.workshop);
        sizes.extend(ways.upright.then_some(piece.size));
        sizes.extend(ways.turned.then_some(piece.size.turned()));
    }
    let paper = FoldedPaper::thin(job.workshop.style());
    for blank in job.workshop.formats.all_cards().map(|card| card.blank(paper).size) {
        sizes.extend([blank, blank.turned()]);
    }
    sizes.into_iter().collect()
}
