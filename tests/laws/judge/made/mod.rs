//! Plans made the other way round: sheets are cut at random first, and what comes of it is then said
//! to have been ordered. It knows nothing of the planner.

mod sums;

use crate::bench::{inches, offcut, sheet, size, workshop};
use cardwright::cuts::{Cut, Tree};
use cardwright::folds::Score;
use cardwright::measure::{Axis, Length, Money, Size};
use cardwright::orders::Turn;
use cardwright::pieces::{Bill, Part, Piece, Share};
use cardwright::plan::{Content, KeptOffcut, Leaf, Node, Plan, Run};
use cardwright::stock::{Sheet, SheetKind, Stock};
use cardwright::workshop::{GrainRule, Workshop};
use proptest::prelude::*;
use std::collections::BTreeMap;

/// A plan and what it was made for.
#[derive(Clone, Debug)]
pub struct Made {
    pub plan: Plan,
    pub bill: Bill,
    pub stock: Stock,
    pub workshop: Workshop,
}

/// The numbers that decide everything.
pub fn choices() -> impl Strategy<Value = Vec<u32>> {
    prop::collection::vec(any::<u32>(), 10..200)
}

/// A whole plan from some numbers; when they run out, the first of each choice is taken.
pub fn make(choices: Vec<u32>) -> Made {
    let mut maker = Maker::new(Choices { numbers: choices, next: 0 });
    maker.cut_all();
    maker.finish()
}

/// What a plan is made of, its sums apart.
pub struct Parts {
    pub workshop: Workshop,
    pub stock: Stock,
    pub pieces: Vec<Piece>,
    pub runs: Vec<Run>,
    pub offcuts: Vec<KeptOffcut>,
}

impl Parts {
    /// With all that follows from them.
    pub fn made(self) -> Made {
        Maker::of_runs(self)
    }
}

struct Choices {
    numbers: Vec<u32>,
    next: usize,
}

impl Choices {
    /// A number below `count`.
    fn below(&mut self, count: usize) -> usize {
        self.next += 1;
        self.numbers.get(self.next - 1).map_or(0, |number| *number as usize % count)
    }

    fn one_of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }
}

struct Maker {
    choices: Choices,
    workshop: Workshop,
    stock: Stock,
    pieces: Vec<Piece>,
    runs: Vec<Run>,
    offcuts: Vec<KeptOffcut>,
    /// Pieces cut, by their index.
    cut: BTreeMap<usize, u64>,
}

/// A rectangle of a sheet.
#[derive(Clone, Copy)]
struct Plate {
    x: Length,
    y: Length,
    size: Size,
}

impl Plate {
    fn start(self, axis: Axis) -> Length {
        if axis == Axis::Width { self.x } else { self.y }
    }

    /// The part of it from `start` to `end` along `axis`.
    fn part(self, axis: Axis, start: Length, end: Length) -> Plate {
        let size = self.size.with(axis, end - start);
        match axis {
            Axis::Width => Plate { x: start, size, ..self },
            Axis::Height => Plate { y: start, size, ..self },
        }
    }

    fn becomes(self, content: Content) -> Node {
        Node { x: self.x, y: self.y, size: self.size, content }
    }
}

fn cut(axis: Axis, at: Length, parts: [Node; 2]) -> Content {
    Content::Cut(Cut::new(axis, at, parts))
}

impl Maker {
    fn new(mut choices: Choices) -> Maker {
        let mut workshop = workshop();
        workshop.trimmer.blade = inches(choices.one_of(&["0", "1/16", "1/8"]));
        workshop.trimmer.squaring = inches(choices.one_of(&["0", "1/16", "1/8", "1/4"]));
        workshop.trimmer.smallest_hold = inches(choices.one_of(&["0", "1/2"]));
        workshop.keep.value = choices.one_of(&[30, 0, 100]);
        workshop.grain = choices.one_of(&[GrainRule::Prefer, GrainRule::Strict]);
        let mut sheets = Vec::new();
        for paper in ["fern", "moss"] {
            let text = choices.one_of(&["12 x 12", "8 1/2 x 11", "6 x 6"]);
            let mut full = sheet(&format!("{paper}-full"), paper, size(text));
            full.on_hand = choices.below(4) as u64;
            full.pack = choices.one_of(&[1, 2, 5]);
            full.price = choices.one_of(&[Some(110), None, Some(499)]).map(Money::from_minor);
            full.grain = choices.one_of(&[None, Some(Axis::Width), Some(Axis::Height)]);
            let mut saved = offcut(&format!("{paper}-saved"), paper, size("5 3/8 x 4"));
            saved.on_hand = 1 + choices.below(2) as u64;
            sheets.extend([full, saved]);
        }
        sheets.push(sheet("unused", "fern", size("20 x 13")));
        // Full sheets first, as a stock has them.
        sheets.sort_by_key(|sheet| sheet.kind);
        let (pieces, runs, offcuts) = Default::default();
        let cut = BTreeMap::new();
        Maker { choices, workshop, stock: Stock::of_sheets(sheets), pieces, runs, offcuts, cut }
    }

    /// The plan of these runs and no others, which cut the pieces as often as is needed.
    fn of_runs(parts: Parts) -> Made {
        let Parts { workshop, stock, pieces, runs, offcuts } = parts;
        let mut cut: BTreeMap<usize, u64> = BTreeMap::new();
        for run in &runs {
            leaves(&run.layout, &mut |node| {
                let Content::Leaf(Leaf::Piece(id, _)) = &node.content else { return };
                let index = pieces.iter().position(|piece| piece.id == *id).unwrap();
                *cut.entry(index).or_default() += run.count;
            });
        }
        let choices = Choices { numbers: Vec::new(), next: 0 };
        Maker { choices, workshop, stock, pieces, runs, offcuts, cut }.finish()
    }

    fn cut_all(&mut self) {
        for sheet in self.stock.sheets.clone() {
            let most = if sheet.price.is_some() { 5 } else { sheet.on_hand as usize };
            if most == 0 || sheet.id == "unused" || self.choices.below(4) == 3 {
                continue;
            }
            let count = 1 + self.choices.below(most) as u64;
            let id = format!("R{}", self.runs.len() + 1);
            let plate = Plate { x: Length::ZERO, y: Length::ZERO, size: sheet.size };
            self.runs.push(Run {
                id,
                sheet: sheet.id.clone(),
                count,
                layout: plate.becomes(Content::Leaf(Leaf::Waste)),
            });
            let layout = self.square(
                plate,
                &sheet,
                &[
                    (Axis::Width, false),
                    (Axis::Width, true),
                    (Axis::Height, false),
                    (Axis::Height, true),
                ],
            );
            self.keep_run(layout);
        }
    }

    /// The layout of the last run, which is none where no piece is cut from it.
    fn keep_run(&mut self, layout: Node) {
        let mut yields = false;
        leaves(&layout, &mut |node| {
            yields |= matches!(node.content, Content::Leaf(Leaf::Piece(..)))
        });
        let Some(mut run) = self.runs.pop() else { return };
        if yields {
            run.layout = layout;
            self.runs.push(run);
        } else {
            self.offcuts.retain(|offcut| offcut.run != run.id);
        }
    }

    /// Takes the rough edges off, one after the other, then cuts on.
    fn square(&mut self, plate: Plate, sheet: &Sheet, edges: &[(Axis, bool)]) -> Node {
        let trimmer = &self.workshop.trimmer;
        let (squaring, blade) = (trimmer.squaring, trimmer.blade);
        let rough = sheet.kind == SheetKind::Sheet && squaring.is_positive();
        let Some(&(axis, far)) = edges.first().filter(|_| rough) else {
            return self.divide(plate, sheet, 0);
        };
        let (start, side) = (plate.start(axis), sheet.size.along(axis));
        // The blade may take the whole margin, and then the trim has no width.
        let waste = |start, end| plate.part(axis, start, end).becomes(Content::Leaf(Leaf::Waste));
        if far {
            let at = side - squaring;
            let trim = waste((at + blade).min(side), side);
            let rest = self.square(plate.part(axis, start, at), sheet, &edges[1..]);
            plate.becomes(cut(axis, at, [rest, trim]))
        } else {
            let at = squaring - blade;
            let trim = waste(start, at.max(start));
            let rest = self.square(plate.part(axis, squaring, side), sheet, &edges[1..]);
            plate.becomes(cut(axis, at, [trim, rest]))
        }
    }

    fn divide(&mut self, plate: Plate, sheet: &Sheet, depth: usize) -> Node {
        let axis = self.choices.one_of(&[Axis::Width, Axis::Height]);
        let eighth = inches("1/8").ticks();
        let blade = self.workshop.trimmer.blade;
        let steps = ((plate.size.along(axis) - blade).ticks() / eighth - 1).max(0) as usize;
        let held = plate.size.short() >= self.workshop.trimmer.smallest_hold;
        if depth > 5 || steps == 0 || !held || self.choices.below(5) == 4 {
            return self.leaf(plate, sheet);
        }
        let start = plate.start(axis);
        let end = start + plate.size.along(axis);
        let at = start + Length::from_ticks(eighth * (1 + self.choices.below(steps) as i64));
        if at + blade >= end {
            return self.leaf(plate, sheet);
        }
        let first = self.divide(plate.part(axis, start, at), sheet, depth + 1);
        let second = self.divide(plate.part(axis, at + blade, end), sheet, depth + 1);
        plate.becomes(cut(axis, at, [first, second]))
    }

    fn leaf(&mut self, plate: Plate, sheet: &Sheet) -> Node {
        let keep = &self.workshop.keep;
        let kept = plate.size.short() >= keep.short && plate.size.long() >= keep.long;
        let content = match (kept, self.choices.below(3)) {
            (true, 0) => self.offcut(plate, sheet),
            (false, 0) => Content::Leaf(Leaf::Waste),
            _ => self.piece(plate.size, sheet),
        };
        plate.becomes(content)
    }

    fn offcut(&mut self, plate: Plate, sheet: &Sheet) -> Content {
        let run = self.runs.last().unwrap();
        let id = format!("kept-{:03}", self.offcuts.len());
        let count = run.count;
        self.offcuts.push(KeptOffcut {
            id: id.clone(),
            paper: sheet.paper.clone(),
            width: plate.size.width,
            height: plate.size.height,
            count,
            run: run.id.clone(),
            more_runs: Vec::new(),
        });
        Content::Leaf(Leaf::Offcut(id))
    }

    /// A piece that was ordered before and may lie so, or a new one.
    fn piece(&mut self, size: Size, sheet: &Sheet) -> Content {
        let known = self.pieces.iter().position(|piece| {
            piece.papers.contains(&sheet.paper) && (piece.size == size || turns(piece, size))
        });
        let index = known.unwrap_or_else(|| self.order(size, sheet));
        *self.cut.entry(index).or_default() += self.runs.last().unwrap().count;
        let turned = self.pieces[index].size != size;
        Content::Leaf(Leaf::Piece(self.pieces[index].id.clone(), turned))
    }

    fn order(&mut self, size: Size, sheet: &Sheet) -> usize {
        let index = self.pieces.len();
        let turn = self.choices.one_of(&[None, Some(Turn::Free), Some(Turn::Half)]);
        let folds = turn == Some(Turn::Half) && sheet.grain.is_some();
        let grain_along = sheet.grain.filter(|_| folds);
        let both = self.choices.below(8) == 7 && !folds;
        let mut papers = vec![sheet.paper.clone()];
        if both {
            papers = vec!["fern".to_owned(), "moss".to_owned()];
        }
        let line = format!("line{index:03}");
        self.pieces.push(Piece {
            id: format!("{line}.card"),
            part: Part::Card,
            papers,
            size,
            turn,
            grain_along,
            scores: grain_along
                .map(|fold| Score::new(fold.other(), inches("1/16")))
                .into_iter()
                .collect(),
            shares: vec![Share { line, need: 0, spares: 0 }],
            done: Default::default(),
            place: None,
        });
        index
    }
}

fn turns(piece: &Piece, size: Size) -> bool {
    piece.size.turned() == size && piece.turn != Some(Turn::Half)
}

/// Calls `look` for every node that is not cut.
pub fn leaves(node: &Node, look: &mut impl FnMut(&Node)) {
    node.plates().filter(|plate| plate.leaf().is_some()).for_each(look);
}

/// Every node of a tree for which `wanted` says yes, to be changed.
pub fn first_node<'a>(node: &'a mut Node, wanted: &impl Fn(&Node) -> bool) -> Option<&'a mut Node> {
    if wanted(node) {
        return Some(node);
    }
    let Content::Cut(cut) = &mut node.content else { return None };
    cut.parts_mut().iter_mut().find_map(|part| first_node(part, wanted))
}
