//! The papers that must be solved together, with their pieces and sheets.

use super::candidate::Candidate;
use super::engine::Engine;
use super::meter::Meter;
use super::room::Room;
use crate::measure::{Length, Size};
use crate::patterns::{Shape, Space};
use crate::pieces::{Bill, orientations, true_size};
use crate::stock::{Counting, Prices, Sheet, Stock, Units};
use crate::workshop::Workshop;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// One problem: the pieces of a group of papers, and all sheets of these papers.
#[derive(Clone)]
pub struct Task {
    /// The papers, sorted.
    pub papers: Vec<String>,
    /// The pieces wanted.
    pub items: Vec<Item>,
    /// The sheets they may be cut from.
    pub supplies: Vec<Supply>,
    /// What the whole numbers of prices and values stand for.
    pub units: Units,
    /// What solves its linear programs; the usual one until another is chosen.
    pub engine: Engine,
    /// The geometry of the sheets, shared by sheets of equal size and rules.
    pub(super) spaces: Arc<[Space]>,
    /// The same where patterns can be worth no less than they are, if that makes a difference.
    pub(super) relaxed: Option<Arc<[Space]>>,
    /// Work done for it and for what is left of it.
    pub(super) meter: Arc<Meter>,
}

/// A piece wanted.
#[derive(Clone, Copy, Debug)]
pub struct Item {
    /// Its index in the bill.
    pub piece: usize,
    /// Pieces wanted, spares included (`n_i`).
    pub demand: u64,
    /// Its size.
    pub size: Size,
}

/// A kind of sheet that may be used.
#[derive(Clone, Copy, Debug)]
pub struct Supply {
    /// Its index in the stock.
    pub sheet: usize,
    /// Index of its paper in the task.
    pub(super) paper: usize,
    /// Sheets at hand (`h_s`).
    pub on_hand: u64,
    /// Sheets in a pack (`k_s`).
    pub pack: u64,
    /// Price of a pack in units of price (`c_s`); `None` where it cannot be bought.
    pub price: Option<i64>,
    /// Value of a sheet in units of worth (`v_s`).
    pub value: i64,
    /// Its size after squaring.
    pub size: Size,
    /// Index of its geometry.
    pub(super) space: usize,
}

impl Supply {
    /// Sheets that a budget is enough for, those on hand included; `None` is any number.
    pub fn most_within(&self, budget: i64) -> Option<u64> {
        let packs = match self.price {
            None => 0,
            Some(price) if price > 0 => budget.max(0).unsigned_abs() / price.unsigned_abs(),
            Some(_) => return None,
        };
        Some(self.on_hand.saturating_add(packs.saturating_mul(self.pack)))
    }

    /// Packs needed for `used` sheets; `None` where they cannot be had.
    pub fn packs(&self, used: u64) -> Option<u64> {
        let missing = used.saturating_sub(self.on_hand);
        match self.price {
            _ if missing == 0 => Some(0),
            Some(_) => Some(missing.div_ceil(self.pack)),
            None => None,
        }
    }

    /// What a pack costs, in units of worth: what its sheets are worth.
    pub(super) fn pack_worth(&self) -> i64 {
        match self.price {
            Some(price) if price > 0 => self.value.saturating_mul(self.pack as i64),
            _ => 0,
        }
    }
}

/// Splits the bill into tasks: papers named together by a piece belong together.
///
/// The tables of all sheets together keep to `room`.
pub fn tasks(bill: &Bill, stock: &Stock, workshop: &Workshop, room: Room) -> Vec<Task> {
    let prices = Prices::of(stock, workshop);
    let bench = workshop.trimmer.bench();
    let groups = groups(bill).into_iter().map(|papers| {
        let items = items(bill, &papers);
        let (supplies, plates) = supplies(bill, &items, &papers, stock, workshop);
        let has = |paper: &str| papers.contains(paper);
        let counting = Counting::of(has, stock, &prices, workshop);
        let supplies =
            (supplies.into_iter().map(|supply| counted(supply, stock, &counting))).collect();
        Group { papers, items, supplies, units: counting.units(), plates }
    });
    let groups: Vec<_> = groups.collect();
    let all = groups.iter().map(|group| group.plates.len()).sum();
    let task = |Group { papers, items, supplies, units, plates }: Group| {
        let (spaces, relaxed) = room.share(plates.len(), all).spaces(&plates, bench);
        Task {
            papers: papers.into_iter().collect(),
            items,
            supplies,
            units,
            engine: Engine::default(),
            relaxed: relaxed.map(Arc::from),
            spaces: spaces.into(),
            meter: Arc::default(),
        }
    };
    groups.into_iter().map(task).collect()
}

/// A group of papers before its geometry is known.
struct Group {
    papers: BTreeSet<String>,
    items: Vec<Item>,
    supplies: Vec<Supply>,
    units: Units,
    plates: Frames,
}

/// A supply with its price and value in units.
fn counted(supply: Supply, stock: &Stock, counting: &Counting) -> Supply {
    let sheet = &stock.sheets[supply.sheet];
    let unit = counting.units().price.minor();
    let price = sheet.price.map(|price| price.minor() / unit);
    Supply { price, value: counting.count(sheet).units(), ..supply }
}

/// The connected groups of papers, sorted by their first paper.
fn groups(bill: &Bill) -> Vec<BTreeSet<String>> {
    let mut groups: Vec<BTreeSet<String>> = Vec::new();
    // What is finished already joins no papers.
    for piece in bill.pieces.iter().filter(|piece| piece.wanted() > 0) {
        let mut merged: BTreeSet<String> = piece.papers.iter().cloned().collect();
        groups.retain(|group| {
            let apart = group.is_disjoint(&merged);
            if !apart {
                merged.extend(group.iter().cloned());
            }
            apart
        });
        groups.push(merged);
    }
    groups.sort();
    groups
}

/// The pieces of these papers, in an order in which that of the lines does not show.
fn items(bill: &Bill, papers: &BTreeSet<String>) -> Vec<Item> {
    let wanted = bill.largest_first().into_iter().map(|index| (index, &bill.pieces[index]));
    wanted
        .filter(|(_, piece)| piece.papers.iter().any(|paper| papers.contains(paper)))
        .map(|(index, piece)| Item { piece: index, demand: piece.wanted(), size: piece.size })
        .filter(|item| item.demand > 0)
        .collect()
}

type Frames = Vec<(Size, Vec<Shape>)>;

fn supplies(
    bill: &Bill,
    items: &[Item],
    papers: &BTreeSet<String>,
    stock: &Stock,
    workshop: &Workshop,
) -> (Vec<Supply>, Frames) {
    let mut known: BTreeMap<(Size, Vec<(bool, bool)>), usize> = BTreeMap::new();
    let mut plates = Frames::new();
    let mut supplies = Vec::new();
    let mut sheets: Vec<(usize, &Sheet)> = stock.sheets.iter().enumerate().collect();
    sheets.sort_by(|(_, a), (_, b)| a.id.cmp(&b.id));
    for (index, sheet) in sheets {
        let usable = true_size(sheet, &workshop.trimmer);
        if !papers.contains(&sheet.paper) || !usable.is_positive() {
            continue;
        }
        let shapes: Vec<Shape> = items
            .iter()
            .map(|item| {
                let piece = &bill.pieces[item.piece];
                let ways = orientations(piece, sheet, workshop);
                Shape { size: item.size, upright: ways.upright, turned: ways.turned }
            })
            .collect();
        let ways = shapes.iter().map(|shape| (shape.upright, shape.turned)).collect();
        let space = *known.entry((usable, ways)).or_insert_with(|| {
            plates.push((usable, shapes));
            plates.len() - 1
        });
        supplies.push(Supply {
            sheet: index,
            paper: papers.range::<String, _>(..&sheet.paper).count(),
            on_hand: sheet.on_hand,
            pack: sheet.pack,
            price: None,
            value: 0,
            size: usable,
            space,
        });
    }
    (supplies, plates)
}

impl Task {
    /// Cells of the pattern tables of all its sheets: what a plan is likely to cost in time.
    pub fn cells(&self) -> usize {
        self.supplies.iter().map(|supply| self.spaces[supply.space].cells()).sum()
    }

    /// Nanoseconds that a look at all sheets takes at most.
    pub(super) fn looking(&self) -> u64 {
        self.bounding_spaces().iter().map(Space::work).sum()
    }

    /// Steps of work done for it so far, each about a nanosecond.
    pub fn work(&self) -> u64 {
        self.meter.steps()
    }

    /// Whether sheets are sold in packs of several.
    pub(super) fn has_packs(&self) -> bool {
        self.supplies.iter().any(|supply| supply.price.is_some() && supply.pack > 1)
    }

    /// The geometry in which patterns are made.
    pub(super) fn pricing_spaces(&self) -> &[Space] {
        &self.spaces
    }

    /// The geometry in which bounds are proven.
    pub(super) fn bounding_spaces(&self) -> &[Space] {
        self.relaxed.as_deref().unwrap_or(&self.spaces)
    }

    /// Width lost per cut.
    pub(super) fn blade(&self) -> Length {
        self.spaces.first().map_or(Length::ZERO, Space::blade)
    }

    /// Area of so many pieces, by item, in square ticks.
    pub(super) fn area(&self, counts: &[u64]) -> i128 {
        let pieces = counts.iter().zip(&self.items);
        pieces.map(|(&count, item)| i128::from(count) * item.size.area().square_ticks()).sum()
    }

    /// What is left of the task after `done`: pieces still missing, sheets still there, those of packs
    /// already paid for among them. `None` where `done` uses more than there is.
    pub(super) fn after(&self, done: &Candidate) -> Option<Task> {
        let mut rest = self.clone();
        for (item, missing) in rest.items.iter_mut().zip(done.missing(self)) {
            item.demand = missing;
        }
        for (supply, used) in rest.supplies.iter_mut().zip(done.used(self)) {
            let packs = supply.packs(used)?;
            supply.on_hand = supply.on_hand + packs * supply.pack - used;
        }
        Some(rest)
    }
}
