//! Small tasks with answers worked out by hand, for tests.

use super::candidate::Candidate;
use super::engine::Engine;
use super::fill::{area_values, fill};
use super::pool::Pool;
use super::task::{Item, Supply, Task};
use super::words::{Chance, Settings};
use crate::cuts::Bench;
use crate::measure::{Length, Size};
use crate::patterns::{Shape, Space};
use crate::stock::Units;
use std::sync::Arc;

/// Little effort.
pub(super) const SETTINGS: Settings = Settings {
    rounds: 20,
    negligible: 1_000_000,
    pool_nodes: 20,
    nodes: 20,
    list_work: 100_000,
    steps: 100_000_000,
    bound_share: 10,
    lasting: 0,
    stop: &|| false,
    half: &|| false,
    urgent: &|| false,
    tell: &|_| (),
};

/// Patterns by which either paper cuts what is shared: those of plans for which the other is dear.
pub(super) fn both_ways(task: &Task) -> Pool {
    let mut pool = Pool::default();
    for dear in 0..task.supplies.len() {
        let mut task = task.clone();
        (task.supplies[dear].price, task.supplies[dear].value) = (Some(9999), 9999);
        let filled = fill(&task, Candidate::default(), &area_values(&task), &|| false);
        filled.iter().for_each(|filled| filled.add_to(&mut pool));
    }
    pool
}

/// Sheets that hold two squares, of a first paper for 100 and of a second for 70; squares wanted of the
/// first paper, of the second, and of either.
pub(super) fn two_papers(wanted: [u64; 3]) -> Task {
    let size = |width| Size::new(Length::from_mm(width), Length::from_mm(10));
    let bench = Bench {
        blade: Length::ZERO,
        knife: Length::from_mm(100),
        hold: Length::ZERO,
        stages: None,
    };
    let space = |paper: usize| {
        let shape = |item| Shape { size: size(10), upright: item != 1 - paper, turned: false };
        Space::new(size(20), &[0, 1, 2].map(shape), bench)
    };
    let supply = |(paper, price): (usize, i64)| Supply {
        sheet: paper,
        paper,
        on_hand: 0,
        pack: 1,
        price: Some(price),
        value: price,
        size: size(20),
        space: paper,
    };
    let item = |piece: usize| Item { piece, demand: wanted[piece], size: size(10) };
    Task {
        papers: vec!["fern".to_owned(), "moss".to_owned()],
        items: [0, 1, 2].map(item).to_vec(),
        supplies: [(0, 100), (1, 70)].map(supply).to_vec(),
        units: Default::default(),
        engine: Engine::default(),
        spaces: [0, 1].map(space).into(),
        relaxed: None,
        meter: Arc::default(),
    }
}

/// Twelve kinds of small rectangles, as chance has it, from squares of 100 mm that are bought singly.
pub(super) fn squares(seed: u64) -> Task {
    let mut chance = Chance::new(seed);
    let mm = |side: i64| Length::from_mm(side);
    let mut item = |piece: usize| {
        let size = Size::new(mm(chance.between(18, 62)), mm(chance.between(18, 62)));
        Item { piece, demand: chance.between(1, 6) as u64, size }
    };
    let items: Vec<Item> = (0..12).map(&mut item).collect();
    let shape = |item: &Item| Shape { size: item.size, upright: true, turned: false };
    let shapes: Vec<Shape> = items.iter().map(shape).collect();
    let size = Size::new(mm(100), mm(100));
    let bench = Bench { blade: Length::ZERO, knife: mm(100), hold: Length::ZERO, stages: None };
    let (on_hand, price) = (0, Some(1));
    let supply = Supply { sheet: 0, paper: 0, on_hand, pack: 1, price, value: 1, size, space: 0 };
    Task {
        papers: vec!["fern".to_owned()],
        items,
        supplies: vec![supply],
        units: Units::default(),
        engine: Engine::default(),
        spaces: [Space::new(size, &shapes, bench)].into(),
        relaxed: None,
        meter: Arc::default(),
    }
}
