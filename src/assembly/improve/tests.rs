//! Small layouts with answers worked out by hand.

use super::handling::{Handling, Scheduler, Worker};
use super::together::Matching;
use super::{Care, LayingTable, Steps, moves, runs, shares, uncut};
use crate::assembly::surplus::Sheaf;
use crate::cuts::{Layout, Tree};
use crate::job::Job;
use crate::measure::{Axis, Length, Money, Ratio, Size};
use crate::orders::Order;
use crate::pieces::{Bill, Part, Piece, Share};
use crate::plan::{Leaf, Node};
use crate::stock::{RoughEdges, Sheet, Stock};
use crate::workshop::{Keep, Workshop};
use std::collections::BTreeSet;

fn mm(length: i64) -> Length {
    Length::from_mm(length)
}

fn size(width: i64, height: i64) -> Size {
    Size::new(mm(width), mm(height))
}

fn piece(width: i64, height: i64, shape: usize) -> Layout {
    Layout::piece(size(width, height), shape, false)
}

fn rest(width: i64, height: i64) -> Layout {
    Layout::remnant(size(width, height))
}

fn beside(near: Layout, far: Layout) -> Layout {
    let size = Size::new(near.size.width + far.size.width, near.size.height);
    Layout::divided(size, Axis::Width, [near, far])
}

fn above(near: Layout, far: Layout) -> Layout {
    let size = Size::new(near.size.width, near.size.height + far.size.height);
    Layout::divided(size, Axis::Height, [near, far])
}

/// A bench without a blade that keeps what is at least 20 by 40 mm, and one kind of sheet.
struct Shop(Job);

fn shop() -> Shop {
    let mut workshop = Workshop::default();
    workshop.trimmer.knife = mm(1000);
    workshop.keep = Keep { short: mm(20), long: mm(40), value: 50 };
    let sheet = Sheet {
        on_hand: 9,
        price: Some(Money::from_minor(6000)),
        ..Sheet::plain("fern-a", "fern", size(100, 60))
    };
    let order = Order { name: "test".to_owned(), lines: Vec::new() };
    let (stock, bill) = (Stock::of_sheets(vec![sheet]), Bill::of_pieces(Vec::new()));
    Shop(Job { order, stock, workshop, bill, before: None, part: Vec::new() })
}

impl Shop {
    /// The remnants after a layout was laid anew, with so many steps to do it in.
    fn remnants_in(&self, layout: Layout, steps: u64) -> Vec<Size> {
        let steps = Steps::new(steps, &|| false);
        LayingTable::new(&self.0, &steps).laid(0, layout).remnants().collect()
    }

    fn remnants(&self, layout: Layout) -> Vec<Size> {
        self.remnants_in(layout, 1000)
    }
}

/// A tall piece and two low ones beside it, each with its own waste of 30 by 20 mm above.
fn low_beside_tall() -> Layout {
    let low = || above(piece(30, 40, 1), rest(30, 20));
    beside(low(), beside(piece(40, 60, 0), low()))
}

#[test]
fn waste_of_two_strips_becomes_one_offcut() {
    assert_eq!(shop().remnants(low_beside_tall()), [size(60, 20)]);
}

#[test]
fn without_steps_all_stays_as_it_is() {
    assert_eq!(shop().remnants_in(low_beside_tall(), 2), [size(30, 20), size(30, 20)]);
}

#[test]
fn of_two_ways_to_trim_the_one_with_the_larger_offcut() {
    // 60 x 40 mm of 100 x 60 mm: across first leaves 40 x 60 and 60 x 20 mm (2400 and 1200 mm², sum of
    // squares 7.2 million), down first 100 x 20 and 40 x 40 mm (2000 and 1600 mm², 6.56 million).
    let down_first = above(beside(piece(60, 40, 0), rest(40, 40)), rest(100, 20));
    let mut found = shop().remnants(down_first);
    found.sort_unstable();
    assert_eq!(found, [size(40, 60), size(60, 20)]);
}

#[test]
fn a_larger_offcut_that_the_knife_cannot_free_is_left() {
    let mut shop = shop();
    // The cut that frees 40 x 60 mm is 60 mm long.
    shop.0.workshop.trimmer.knife = mm(59);
    let layout = above(beside(piece(60, 40, 0), rest(40, 40)), rest(100, 20));
    assert_eq!(shop.remnants(layout.clone()), layout.remnants().collect::<Vec<_>>());
    shop.0.workshop.trimmer.knife = mm(100);
    assert_ne!(shop.remnants(layout.clone()), layout.remnants().collect::<Vec<_>>());
}

#[test]
fn of_equal_offcuts_those_that_hold_more_kinds() {
    let mut shop = shop();
    shop.0.workshop.keep = Keep { short: mm(1), long: mm(1), value: 50 };
    let steps = Steps::new(100, &|| false);
    let mut table = LayingTable::new(&shop.0, &steps);
    // Both have 30 000 mm²; the narrow one holds no card blank, the other a 2 x 3 1/2 in card.
    let [narrow, wide] = [rest(3000, 10), rest(300, 100)].map(|rest| table.kept(0, &rest));
    assert_eq!((narrow.area, narrow.squares), (wide.area, wide.squares));
    assert_eq!(narrow.holds, 0);
    assert!(wide > narrow);
}

#[test]
fn one_large_offcut_is_worth_more_than_two_of_half_its_size() {
    let shop = shop();
    let steps = Steps::new(100, &|| false);
    let mut table = LayingTable::new(&shop.0, &steps);
    let one = table.kept(0, &rest(40, 60));
    let two = table.kept(0, &above(rest(40, 30), rest(40, 30)));
    assert_eq!(one.area, two.area);
    assert!(one > two);
    assert_eq!(table.kept(0, &rest(39, 39)), Default::default(), "below the keep rule");
    let kept = table.kept(0, &rest(40, 60));
    assert_eq!(table.worth(0, kept), Ratio::whole(1200), "half of 2400 of 6000 mm²");
}

fn sheaf(count: u64, layout: Layout) -> Sheaf {
    Sheaf { sheet: 0, layout, count }
}

/// Runs of sheets of two pieces each, by the shapes of these, after runs were replaced.
fn replaced(runs: &[(u64, [usize; 2])], wanted: &[u64]) -> Vec<u64> {
    let shop = shop();
    let steps = Steps::new(1000, &|| false);
    let sheaves = runs.iter().map(|(count, [near, far])| {
        sheaf(*count, beside(piece(50, 60, *near), piece(50, 60, *far)))
    });
    let table = &mut LayingTable::new(&shop.0, &steps);
    let fewer = runs::fewer(sheaves.collect(), wanted, table, &steps);
    fewer.into_iter().map(|sheaf| sheaf.count).collect()
}

#[test]
fn a_run_goes_where_others_yield_enough() {
    // Of the shapes 2 + 4 + 0 and 2 + 0 + 2.
    let runs = [(2, [0, 1]), (2, [0, 0]), (1, [1, 1])];
    // Without the first pattern: 2 · 3 and 2 · 2.
    assert_eq!(replaced(&runs, &[6, 4]), [3, 2]);
    // All five by the first pattern: 5 and 5.
    assert_eq!(replaced(&runs, &[5, 4]), [5]);
    assert_eq!(replaced(&[(1, [0, 1]), (1, [0, 0])], &[3, 1]), [1, 1], "none can go");
}

#[test]
fn two_runs_go_for_one_that_yields_the_same() {
    assert_eq!(replaced(&[(1, [0, 1]), (1, [0, 0]), (1, [1, 1])], &[3, 3]), [3]);
}

#[test]
fn a_run_that_keeps_more_is_not_replaced() {
    let shop = shop();
    let steps = Steps::new(1000, &|| false);
    let full = beside(piece(50, 60, 0), piece(50, 60, 0));
    let half = beside(piece(50, 60, 0), rest(50, 60));
    let table = &mut LayingTable::new(&shop.0, &steps);
    let fewer = runs::fewer(vec![sheaf(3, full), sheaf(1, half)], &[7], table, &steps);
    assert_eq!(fewer.len(), 2);
}

#[test]
fn a_piece_goes_to_another_run_so_that_one_large_offcut_is_left() {
    let shop = shop();
    let steps = Steps::new(1000, &|| false);
    let table = &mut LayingTable::new(&shop.0, &steps);
    // 25 x 60 mm are left of each sheet; the small piece of the first has room on the second.
    let first = beside(piece(50, 60, 0), beside(piece(25, 60, 1), rest(25, 60)));
    let second = beside(piece(75, 60, 2), rest(25, 60));
    let sheaves = |count| vec![sheaf(1, first.clone()), sheaf(count, second.clone())];
    let moved = moves::moved(sheaves(1), 3, table, &steps);
    let left: Vec<Size> = moved.iter().flat_map(|sheaf| sheaf.layout.remnants()).collect();
    assert_eq!(left, [size(50, 60)]);
    assert_eq!(moves::moved(sheaves(2), 3, table, &steps), sheaves(2), "no run is divided");
}

#[test]
fn no_sheet_is_emptied() {
    let shop = shop();
    let steps = Steps::new(1000, &|| false);
    let table = &mut LayingTable::new(&shop.0, &steps);
    let half = |shape| sheaf(1, beside(piece(50, 60, shape), rest(50, 60)));
    let sheaves = vec![half(0), half(1)];
    assert_eq!(moves::moved(sheaves.clone(), 2, table, &steps), sheaves);
}

#[test]
fn sheets_go_to_the_pattern_that_keeps_more() {
    let shop = shop();
    let steps = Steps::new(1000, &|| false);
    let full = beside(piece(50, 60, 0), piece(50, 60, 0));
    let half = beside(piece(50, 60, 0), rest(50, 60));
    let table = &mut LayingTable::new(&shop.0, &steps);
    let runs = || vec![sheaf(4, full.clone()), sheaf(1, half.clone())];
    // Nine pieces are cut. Each sheet that is moved cuts one fewer.
    let mut counts = |wanted| -> Vec<u64> {
        let shared = shares::shared(runs(), &[wanted], table, &steps);
        shared.iter().map(|sheaf| sheaf.count).collect()
    };
    assert_eq!(counts(9), [4, 1]);
    assert_eq!(counts(7), [2, 3]);
    assert_eq!(counts(5), [5], "all by the second");
}

const CARE: Care = Care { layouts: 1000, exchanges: 1000, handling: 1000 };

/// How often the gauge is set for runs of one sheet each, as they are and once they are matched with so much care.
fn matched(layouts: &[Layout], handling: u64) -> (u64, u64) {
    let mut shop = shop();
    shop.0.workshop.keep = Keep { short: mm(90), long: mm(90), value: 50 };
    shop.0.bill = wanted(8);
    let steps = Steps::new(1000, &|| false);
    let table = &mut LayingTable::new(&shop.0, &steps);
    let bench = Scheduler { stock: &shop.0.stock, trimmer: &shop.0.workshop.trimmer };
    let handling = Handling { bench: &bench, care: Care { handling, ..CARE }, stop: &|| false };
    let runs = layouts.iter().map(|layout| sheaf(1, layout.clone())).collect();
    let matching = Matching::new(&shop.0, runs, handling);
    (matching.settings(), matching.run(table).settings())
}

/// 80 mm come off first, which is two pieces.
fn trimmed_first() -> Layout {
    let pieces = beside(piece(40, 55, 0), piece(40, 55, 0));
    beside(above(pieces, rest(80, 5)), rest(20, 60))
}

/// A piece that is cut to size across and then down, or down first.
fn cut_to_size() -> [Layout; 2] {
    let across = beside(above(piece(80, 50, 0), rest(80, 10)), rest(20, 60));
    let down = above(beside(piece(80, 50, 0), rest(20, 50)), rest(100, 10));
    [across, down]
}

#[test]
fn a_trim_at_a_distance_of_its_own_is_left_over_at_the_end() {
    assert_eq!(matched(&[trimmed_first()], 1000), (3, 2));
    assert_eq!(matched(&[trimmed_first(), trimmed_first()], 1000), (3, 2), "in all runs at once");
}

#[test]
fn one_of_two_trims_comes_first_in_all_runs() {
    assert_eq!(matched(&cut_to_size(), 1000), (3, 2));
}

#[test]
fn without_steps_the_layouts_stay() {
    assert_eq!(matched(&cut_to_size(), 0), (3, 3));
}

/// Pieces of 25 x 60 mm, of which so many are wanted.
fn wanted(count: u64) -> Bill {
    let piece = Piece {
        id: "tag.card".to_owned(),
        part: Part::Card,
        papers: vec!["fern".to_owned()],
        size: size(25, 60),
        turn: None,
        grain_along: None,
        scores: Vec::new(),
        shares: vec![Share { line: "tag".to_owned(), need: count, spares: 0 }],
        done: Default::default(),
        place: None,
    };
    Bill::of_pieces(vec![piece])
}

/// Counts gauge settings.
type Settings = fn(&[(&Node, RoughEdges)]) -> u64;

/// Cuts every sheet by itself, and sets the gauge as it is told.
struct Told(Settings);

impl Worker for Told {
    fn gauges(&self, _: &Node, _: RoughEdges) -> BTreeSet<Length> {
        BTreeSet::new()
    }

    fn settings(&self, sheets: &[(&Node, RoughEdges)]) -> u64 {
        (self.0)(sheets)
    }

    fn strokes(&self, layout: &Node, _: usize, sheets: u64) -> u64 {
        layout.plates().filter_map(Tree::cut).count() as u64 * sheets
    }
}

/// Pieces that each sheet of a run of four beside each other yields in the end.
fn left_of_four(sheets: u64, want: u64, settings: Settings) -> u64 {
    let mut shop = shop();
    // Nothing is kept, so that strokes alone count.
    shop.0.workshop.keep = Keep { short: mm(90), long: mm(90), value: 50 };
    shop.0.bill = wanted(want);
    let steps = Steps::new(1000, &|| false);
    let table = &mut LayingTable::new(&shop.0, &steps);
    let pair = || beside(piece(25, 60, 0), piece(25, 60, 0));
    let handling = Handling { bench: &Told(settings), care: CARE, stop: &|| false };
    let run = sheaf(sheets, beside(pair(), pair()));
    let runs = uncut::spared(&shop.0, vec![run], table, handling);
    assert_eq!((runs.len(), runs[0].count), (1, sheets), "no run is divided");
    runs[0].layout.count(0)
}

#[test]
fn what_nobody_wants_is_left_uncut_where_that_spares_strokes() {
    let left = |sheets, want| left_of_four(sheets, want, |_| 1);
    // Three of four take as many cuts, two one less.
    assert_eq!([4, 3, 2, 1].map(|want| left(1, want)), [4, 4, 2, 1]);
    assert_eq!(left(1, 0), 1, "no sheet is left without a piece");
    // On all of three sheets, or on none.
    assert_eq!([7, 6, 4, 3].map(|want| left(3, want)), [4, 2, 2, 1]);
}

#[test]
fn what_nobody_wants_is_cut_where_the_gauge_would_be_set_more_often() {
    let waste = |sheets: &[(&Node, RoughEdges)]| {
        let mut waste = 0;
        waste += sheets[0].0.leaves().filter(|leaf| **leaf == Leaf::Waste).count() as u64;
        waste
    };
    assert_eq!(left_of_four(1, 2, waste), 4);
}
