//! The geometry: walks every cut tree and counts what comes of it.

use super::facts::{PieceFacts, SheetFacts};
use super::{Evidence, Fault};
use crate::cuts::Cut;
use crate::measure::{Axis, Length, Size};
use crate::plan::{Content, KeptOffcut, Leaf, Node, Plan, Run};
use std::collections::BTreeMap;

/// What the runs use and yield, counted from their trees alone.
#[derive(Default)]
pub(super) struct Cuts<'a> {
    pub sheets: BTreeMap<&'a str, i128>,
    pub pieces: BTreeMap<&'a str, i128>,
    pub offcuts: BTreeMap<&'a str, i128>,
    /// The runs that leave an offcut, in order of their number.
    pub offcut_runs: BTreeMap<&'a str, Vec<&'a str>>,
    pub areas: Areas,
    /// Pieces of all trees, each counted once whatever the sheets of its run.
    pub leaves: u64,
    /// Cuts of all trees, each counted once whatever the sheets of its run.
    pub count: u64,
}

/// Square ticks.
#[derive(Default)]
pub(super) struct Areas {
    pub sheets: i128,
    pub pieces: i128,
    pub offcuts: i128,
    pub waste: i128,
    pub blade: i128,
}

/// Walks all runs.
pub(super) fn walk<'a>(plan: &'a Plan, bench: Evidence<'a>, faults: &mut Vec<Fault>) -> Cuts<'a> {
    let sheet_of = |id: &String| {
        let run = plan.runs.iter().find(|run| run.id == *id)?;
        bench.facts.sheets.get(run.sheet.as_str())
    };
    let listed = plan.offcuts.iter();
    let listed = listed
        .map(|offcut| (offcut.id.as_str(), ListedOffcut { offcut, first: sheet_of(&offcut.run) }));
    let listed = listed.collect();
    let mut cuts = Cuts::default();
    for run in &plan.runs {
        if run.count == 0 {
            faults.push(Fault::EmptyRun { run: run.id.clone() });
        }
        *cuts.sheets.entry(&run.sheet).or_default() += i128::from(run.count);
        let sheet = bench.facts.sheets.get(run.sheet.as_str());
        match sheet.filter(|_| plan.sheets.iter().any(|sheet| sheet.id == run.sheet)) {
            Some(sheet) => {
                Walk { bench, run, sheet, listed: &listed, cuts: &mut cuts, faults }.root();
            }
            None => faults.push(Fault::RunSheet { run: run.id.clone(), sheet: run.sheet.clone() }),
        }
    }
    cuts
}

/// An offcut of the list.
struct ListedOffcut<'a, 'w> {
    offcut: &'a KeptOffcut,
    /// The sheet of the first run that leaves it.
    first: Option<&'w SheetFacts<'a>>,
}

/// The walk through one tree.
struct Walk<'a, 'w> {
    bench: Evidence<'a>,
    run: &'a Run,
    sheet: &'w SheetFacts<'a>,
    listed: &'w BTreeMap<&'a str, ListedOffcut<'a, 'w>>,
    cuts: &'w mut Cuts<'a>,
    faults: &'w mut Vec<Fault>,
}

/// A stretch along one axis.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Stretch {
    start: Length,
    end: Length,
}

impl<'a> Walk<'a, '_> {
    fn root(&mut self) {
        let root = &self.run.layout;
        let at_corner = root.x == Length::ZERO && root.y == Length::ZERO;
        if !at_corner || root.size != self.sheet.size {
            self.faults.push(Fault::Root { run: self.name() });
            return;
        }
        self.cuts.areas.sheets += self.area(root.size);
        if !self.bench.can_be_squared(self.sheet) {
            self.faults.push(Fault::NotSquared { run: self.name() });
        }
        let before = self.cuts.leaves;
        self.node(root);
        if self.cuts.leaves == before {
            self.faults.push(Fault::NoPiece { run: self.name() });
        }
        let stages = self.stages(root, None);
        if let Some(most) = self.bench.workshop.trimmer.stages.filter(|&most| stages > most) {
            self.faults.push(Fault::Stages { run: self.name(), stages, most });
        }
    }

    /// How often cuts go another way than those `before`, squaring apart.
    fn stages(&self, node: &Node, before: Option<Axis>) -> u32 {
        let Content::Cut(cut) = &node.content else { return 0 };
        let across = cut.axis;
        let squares = self.squares(across, &cut.parts);
        let after = if squares { before } else { Some(across) };
        let below = cut.parts.iter().map(|part| self.stages(part, after)).max().unwrap_or(0);
        below + u32::from(!squares && before != Some(across))
    }

    fn node(&mut self, node: &'a Node) {
        match &node.content {
            Content::Cut(cut) => self.cut(node, cut),
            Content::Leaf(Leaf::Piece(id, turned)) => self.piece(node, id, *turned),
            Content::Leaf(Leaf::Offcut(id)) => self.offcut(node, id),
            Content::Leaf(Leaf::Waste) => self.waste(node),
        }
    }

    fn cut(&mut self, node: &'a Node, cut: &'a Cut<Node>) {
        let (across, at, parts) = (cut.axis, cut.at, cut.parts.as_ref());
        self.cuts.count += 1;
        let plate = span(node, across);
        if !node.size.is_positive() {
            let (run, x, y) = self.here(node);
            self.faults.push(Fault::UnderBlade { run, x, y });
            return;
        }
        let Some((first, second)) = self.divide(plate, at) else {
            let (run, x, y) = self.here(node);
            self.faults.push(Fault::CutOutside { run, at: self.told(at), x, y });
            return;
        };
        let agrees = |part: &Node, expected: Stretch| {
            let other = across.other();
            span(part, across) == expected && span(part, other) == span(node, other)
        };
        if !agrees(&parts[0], first) || !agrees(&parts[1], second) {
            let (run, x, y) = self.here(node);
            self.faults.push(Fault::Tiling { run, at: self.told(at), x, y });
            return;
        }
        self.bench_allows(node, across, at, parts);
        let length = node.size.along(across.other());
        let lost = Size::new(second.start - first.end, length);
        self.cuts.areas.blade += self.area(lost);
        self.node(&parts[0]);
        self.node(&parts[1]);
    }

    /// The two parts that a cut at `at` leaves of a plate. Where the blade takes the whole of a trim,
    /// that part has no width and lies at the plate's edge.
    fn divide(&self, plate: Stretch, at: Length) -> Option<(Stretch, Stretch)> {
        let blade = self.bench.workshop.trimmer.blade.ticks();
        let far = Length::from_ticks(at.ticks().saturating_add(blade));
        let within = |place: Length| plate.start < place && place < plate.end;
        let first = Stretch { start: plate.start, end: at };
        let second = Stretch { start: far, end: plate.end };
        match (within(at), within(far)) {
            (true, true) => Some((first, second)),
            (true, false) => Some((first, Stretch { start: plate.end, end: plate.end })),
            (false, true) => Some((Stretch { start: plate.start, end: plate.start }, second)),
            (false, false) => None,
        }
    }

    fn bench_allows(&mut self, node: &Node, across: Axis, at: Length, parts: &[Node; 2]) {
        let trimmer = &self.bench.workshop.trimmer;
        let length = node.size.along(across.other());
        if length > trimmer.knife {
            self.faults.push(Fault::Knife {
                run: self.name(),
                at: self.told(at),
                length: self.told(length),
                knife: self.told(trimmer.knife),
            });
        }
        let side = node.size.short();
        // Squared is what is still whole: a strip of it is as narrow as any other.
        let squares = self.is_whole(node, across.other()) && self.squares(across, parts);
        if side < trimmer.smallest_hold && !squares {
            let (run, at, side) = (self.name(), self.told(at), self.told(side));
            self.faults.push(Fault::Hold { run, at, side });
        }
    }

    /// Whether a plate is as long as the sheet, but for rough edges.
    fn is_whole(&self, node: &Node, axis: Axis) -> bool {
        let (margin, along) = (self.margin(), span(node, axis));
        along.start <= margin && along.end >= self.sheet.size.along(axis) - margin
    }

    /// Whether a cut only takes the rough edge off a full sheet.
    fn squares(&self, across: Axis, parts: &[Node; 2]) -> bool {
        let margin = self.margin();
        let far = self.sheet.size.along(across) - margin;
        let is_edge = |part: &Node| {
            let part = span(part, across);
            part.end <= margin || part.start >= far
        };
        let is_trim = |part: &Node| part.content == Content::Leaf(Leaf::Waste) && is_edge(part);
        margin.is_positive() && parts.iter().any(is_trim)
    }

    fn piece(&mut self, node: &'a Node, id: &'a str, turned: bool) {
        let Some(piece) = self.bench.facts.pieces.get(id) else {
            self.faults.push(Fault::LeafUnknown { run: self.name(), piece: id.to_owned() });
            return;
        };
        self.cuts.leaves += 1;
        *self.cuts.pieces.entry(id).or_default() += i128::from(self.run.count);
        self.cuts.areas.pieces += self.area(node.size);
        let size = if turned { piece.size.turned() } else { piece.size };
        if node.size != size {
            let (run, x, y) = self.here(node);
            self.faults.push(Fault::LeafSize { run, piece: id.to_owned(), x, y });
        }
        self.piece_allowed(node, id, piece, turned);
        self.inside_true_edges(node, id);
    }

    fn piece_allowed(&mut self, node: &Node, id: &str, piece: &PieceFacts, turned: bool) {
        let (run, x, y) = self.here(node);
        let name = id.to_owned();
        if !piece.papers.contains(&self.sheet.paper) {
            let paper = self.sheet.paper.to_owned();
            self.faults.push(Fault::LeafPaper { run: run.clone(), piece: name.clone(), paper });
        }
        if turned && !piece.may_turn(self.sheet) {
            self.faults.push(Fault::LeafTurned {
                run: run.clone(),
                piece: name.clone(),
                x: x.clone(),
                y: y.clone(),
            });
        }
        if !piece.obeys_grain(turned, self.sheet, self.bench.workshop.grain) {
            self.faults.push(Fault::LeafGrain { run, piece: name, x, y });
        }
    }

    fn offcut(&mut self, node: &'a Node, id: &'a str) {
        let Some(ListedOffcut { offcut, first }) = self.listed.get(id) else {
            self.faults.push(Fault::OffcutUnknown { run: self.name(), offcut: id.to_owned() });
            return;
        };
        *self.cuts.offcuts.entry(id).or_default() += i128::from(self.run.count);
        self.cuts.areas.offcuts += self.area(node.size);
        let runs = self.cuts.offcut_runs.entry(id).or_default();
        if runs.last() != Some(&self.run.id.as_str()) {
            runs.push(&self.run.id);
        }
        let agreements = [
            ("size", node.size == Size::new(offcut.width, offcut.height)),
            ("paper", offcut.paper == self.sheet.paper),
            ("grain", first.is_none_or(|first| first.grain == self.sheet.grain)),
            ("print", first.is_none_or(|first| first.prints() == self.sheet.prints())),
        ];
        for (field, _) in agreements.into_iter().filter(|(_, agrees)| !agrees) {
            let (run, offcut) = (self.name(), id.to_owned());
            self.faults.push(Fault::OffcutDiffers { run, offcut, field });
        }
        self.inside_true_edges(node, id);
    }

    fn waste(&mut self, node: &Node) {
        self.cuts.areas.waste += self.area(node.size);
        // Only what is left of it inside the true edges could be kept.
        let margin = self.margin();
        let inner = |axis: Axis| {
            let part = span(node, axis);
            let far = self.sheet.size.along(axis) - margin;
            (part.end.min(far) - part.start.max(margin)).max(Length::ZERO)
        };
        let inner = Size::new(inner(Axis::Width), inner(Axis::Height));
        let keep = &self.bench.workshop.keep;
        if inner.is_positive() && inner.short() >= keep.short && inner.long() >= keep.long {
            let (run, x, y) = self.here(node);
            self.faults.push(Fault::WasteWorthKeeping { run, x, y });
        }
    }

    /// No piece and no offcut has a rough edge, and none has no width.
    fn inside_true_edges(&mut self, node: &Node, id: &str) {
        let margin = self.margin();
        let inside = |axis: Axis| {
            let part = span(node, axis);
            part.start >= margin && part.end <= self.sheet.size.along(axis) - margin
        };
        let (run, x, y) = self.here(node);
        if !node.size.is_positive() {
            self.faults.push(Fault::UnderBlade { run, x, y });
        } else if !inside(Axis::Width) || !inside(Axis::Height) {
            self.faults.push(Fault::Squaring { run, id: id.to_owned(), x, y });
        }
    }

    /// What squaring takes off each edge of this sheet.
    fn margin(&self) -> Length {
        self.bench.margin(self.sheet)
    }

    /// Square ticks on all sheets of the run.
    fn area(&self, size: Size) -> i128 {
        size.area().square_ticks() * i128::from(self.run.count)
    }

    fn name(&self) -> String {
        self.run.id.clone()
    }

    fn here(&self, node: &Node) -> (String, String, String) {
        (self.name(), self.told(node.x), self.told(node.y))
    }

    fn told(&self, length: Length) -> String {
        self.bench.workshop.style().with_unit(length)
    }
}

fn span(node: &Node, axis: Axis) -> Stretch {
    let start = match axis {
        Axis::Width => node.x,
        Axis::Height => node.y,
    };
    // A node may say anything; saturating, so that nonsense stays nonsense.
    let end = start.ticks().saturating_add(node.size.along(axis).ticks());
    Stretch { start, end: Length::from_ticks(end) }
}
