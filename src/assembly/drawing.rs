//! From a pattern to a cut tree on the whole sheet, with names for the offcuts that it leaves.

use super::edges::{Edges, Opened};
use super::surplus::Sheaf;
use crate::cuts::{self, Cut, Layout};
use crate::job::Job;
use crate::measure::{Axis, Length};
use crate::plan::{Content, KeptOffcut, Leaf, Node};
use crate::stock::Sheet;
use std::collections::{BTreeMap, BTreeSet};

/// The cut tree of a pattern by itself; its offcuts have any names.
pub(super) fn draw(job: &Job, sheaf: &Sheaf) -> Node {
    let mut names =
        OffcutNames { order: &job.order.name, taken: BTreeSet::new(), next: BTreeMap::new() };
    RunDrawing::new(job, sheaf, "", &mut names).sheet()
}

/// Names for new offcuts that neither the shelf nor this plan has yet.
pub(super) struct OffcutNames<'a> {
    order: &'a str,
    taken: BTreeSet<&'a str>,
    next: BTreeMap<String, u32>,
}

impl<'a> OffcutNames<'a> {
    pub fn new(job: &'a Job) -> OffcutNames<'a> {
        let taken = job.stock.sheets.iter().map(|sheet| sheet.id.as_str()).collect();
        OffcutNames { order: &job.order.name, taken, next: BTreeMap::new() }
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
    job: &'a Job,
    sheaf: &'b Sheaf,
    run: &'b str,
    names: &'b mut OffcutNames<'a>,
    /// What goes back in the drawer.
    pub kept: Vec<KeptOffcut>,
}

impl<'a, 'b> RunDrawing<'a, 'b> {
    /// The layout of the run of this name.
    pub fn new(
        job: &'a Job,
        sheaf: &'b Sheaf,
        run: &'b str,
        names: &'b mut OffcutNames<'a>,
    ) -> RunDrawing<'a, 'b> {
        RunDrawing { job, sheaf, run, names, kept: Vec::new() }
    }

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

    /// A remnant that reaches the keep rule goes back in the drawer; equal ones of a run together.
    fn remnant(&mut self, plate: &Node) -> Leaf {
        let whole = self.paper().size;
        let size = self.edges().map_or(plate.size, |edges| edges.inside(plate, whole));
        if !self.job.workshop.keep.keeps(size) {
            return Leaf::Waste;
        }
        let sheets = self.sheaf.count;
        let same = |kept: &&mut KeptOffcut| (kept.width, kept.height) == (size.width, size.height);
        if let Some(kept) = self.kept.iter_mut().find(same) {
            kept.count += sheets;
            return Leaf::Offcut(kept.id.clone());
        }
        let paper = self.paper().paper.clone();
        let id = self.names.name(&paper);
        self.kept.push(KeptOffcut {
            id: id.clone(),
            paper,
            width: size.width,
            height: size.height,
            count: sheets,
            run: self.run.to_owned(),
        });
        Leaf::Offcut(id)
    }
}
