//! From a pattern to a cut tree on the whole sheet, with names for the offcuts that it leaves.

use super::edges::{Edges, Opened};
use super::surplus::Sheaf;
use crate::cuts::{self, Cut, Layout};
use crate::job::Job;
use crate::measure::{Axis, Length, Size};
use crate::plan::{Content, KeptOffcut, Leaf, Node};
use crate::stock::Sheet;
use std::collections::{BTreeMap, BTreeSet};

/// The cut tree of a pattern by itself; its offcuts have any names.
pub(super) fn draw(job: &Job, sheaf: &Sheaf) -> Node {
    let mut kept = KeptOffcuts::of_any_names(job);
    RunDrawing { job, sheaf, run: "", kept: &mut kept }.sheet()
}

/// What goes back in the drawer: equal strips have one name, whichever run leaves them.
pub(super) struct KeptOffcuts<'a> {
    order: &'a str,
    /// Names that the shelf has.
    taken: BTreeSet<&'a str>,
    next: BTreeMap<String, u32>,
    /// Each with the sheet that it was first cut from.
    kept: Vec<(KeptOffcut, &'a Sheet)>,
}

/// Whether strips of one size from two sheets are the same in the drawer.
fn is_alike(one: &Sheet, other: &Sheet) -> bool {
    let ways = |sheet: &Sheet| (sheet.grain, sheet.print, sheet.back);
    one.paper == other.paper && ways(one) == ways(other)
}

impl<'a> KeptOffcuts<'a> {
    /// None yet, whose names will be those that the shelf does not have.
    pub fn new(job: &'a Job) -> KeptOffcuts<'a> {
        let taken = job.stock.names().collect();
        KeptOffcuts { taken, ..KeptOffcuts::of_any_names(job) }
    }

    /// None yet, for a drawing in which names do not matter: the shelf is not looked at.
    fn of_any_names(job: &'a Job) -> KeptOffcuts<'a> {
        let (taken, next, kept) = Default::default();
        KeptOffcuts { order: &job.order.name, taken, next, kept }
    }

    /// All of them, sorted by name.
    pub fn sorted(self) -> Vec<KeptOffcut> {
        let mut all: Vec<KeptOffcut> = self.kept.into_iter().map(|(kept, _)| kept).collect();
        all.sort_by(|a, b| a.id.cmp(&b.id));
        all
    }

    /// Puts a strip of each sheet of a run with the others; gives its name.
    fn add(&mut self, sheet: &'a Sheet, size: Size, run: &str, count: u64) -> String {
        let same = |(kept, from): &&mut (KeptOffcut, &Sheet)| {
            (kept.width, kept.height) == (size.width, size.height) && is_alike(from, sheet)
        };
        if let Some((kept, _)) = self.kept.iter_mut().find(same) {
            kept.count += count;
            if kept.runs().last().is_some_and(|last| last != run) {
                kept.more_runs.push(run.to_owned());
            }
            return kept.id.clone();
        }
        let id = self.name(&sheet.paper);
        let kept = KeptOffcut {
            id: id.clone(),
            paper: sheet.paper.clone(),
            width: size.width,
            height: size.height,
            count,
            run: run.to_owned(),
            more_runs: Vec::new(),
        };
        self.kept.push((kept, sheet));
        id
    }

    fn name(&mut self, paper: &str) -> String {
        let number = self.next.entry(paper.to_owned()).or_insert(0);
        loop {
            *number += 1;
            let name = format!("{paper}-{}-{number:02}", self.order);
            if !self.taken.contains(name.as_str()) {
                return name;
            }
        }
    }
}

/// Draws the layout of one run on the whole sheet.
pub(super) struct RunDrawing<'a, 'b> {
    pub job: &'a Job,
    pub sheaf: &'b Sheaf,
    /// Its name.
    pub run: &'b str,
    /// What goes back in the drawer.
    pub kept: &'b mut KeptOffcuts<'a>,
}

impl<'a> RunDrawing<'a, '_> {
    fn paper(&self) -> &'a Sheet {
        &self.job.stock.sheets[self.sheaf.sheet]
    }

    /// The whole sheet, its rough edges included.
    pub fn sheet(&mut self) -> Node {
        let sheaf = self.sheaf;
        let Some(edges) = self.edges() else {
            return self.node(&sheaf.layout, Length::ZERO, Length::ZERO);
        };
        let Opened { layout, cut } = edges.open(&sheaf.layout);
        let margin = self.job.workshop.trimmer.squaring;
        let core = self.node(&layout, margin, margin);
        edges.around(core, &cut)
    }

    fn edges(&self) -> Option<Edges<'a>> {
        Edges::of(self.paper(), &self.job.workshop)
    }

    fn node(&mut self, layout: &Layout, x: Length, y: Length) -> Node {
        let size = layout.size;
        let blade = self.job.workshop.trimmer.blade;
        let content = match &layout.content {
            cuts::Content::Leaf(cuts::Leaf::Piece(piece, turned)) => {
                Content::Leaf(Leaf::Piece(self.job.bill.pieces[*piece].id.clone(), *turned))
            }
            cuts::Content::Leaf(cuts::Leaf::Remnant) => {
                let waste = Content::Leaf(Leaf::Waste);
                Content::Leaf(self.remnant(&Node { x, y, size, content: waste }))
            }
            cuts::Content::Cut(Cut { axis, at, parts }) => {
                // A trim that falls entirely under the blade leaves nothing, at the far edge.
                let start = (*at + blade).min(size.along(*axis));
                let near = self.node(&parts[0], x, y);
                let (begin, far) = match axis {
                    Axis::Width => (x, self.node(&parts[1], x + start, y)),
                    Axis::Height => (y, self.node(&parts[1], x, y + start)),
                };
                Content::Cut(Cut::new(*axis, begin + *at, [near, far]))
            }
        };
        Node { x, y, size, content }
    }

    /// A remnant that reaches the keep rule goes back in the drawer.
    fn remnant(&mut self, plate: &Node) -> Leaf {
        let whole = self.paper().size;
        let size = self.edges().map_or(plate.size, |edges| edges.inside(plate, whole));
        if !self.job.workshop.keep.keeps(size) {
            return Leaf::Waste;
        }
        let sheet = self.paper();
        Leaf::Offcut(self.kept.add(sheet, size, self.run, self.sheaf.count))
    }
}
