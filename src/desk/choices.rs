//! What a cell may hold, as far as the files know it. Whatever else is written is not wrong for that.

use super::{DeskFile, DeskFiles, FileKind};
use crate::batch::read_workshop;
use crate::diagnostics::Problems;
use crate::folds::Fold;
use crate::orders;
use crate::stock;
use crate::table::KnownColumn;
use crate::workshop::Workshop;

/// The columns of a file.
pub fn columns(kind: FileKind) -> &'static [KnownColumn] {
    let stock = stock::columns();
    match kind {
        FileKind::Order => orders::columns(),
        FileKind::Sheets => stock.sheets,
        FileKind::Offcuts => stock.offcuts,
        FileKind::Envelopes => stock.envelopes,
        FileKind::Sundries => stock.sundries,
    }
}

/// What joins several choices in one cell of a column; empty where one is all.
pub fn joint(kind: FileKind, column: &str) -> &'static str {
    match (kind, column) {
        (FileKind::Order, "paper") => "|",
        (FileKind::Order, "mat" | "mat inset" | "with" | "finish") => "+",
        _ => "",
    }
}

/// All that is known to be chosen from.
pub struct Choices {
    workshop: Workshop,
    papers: Vec<String>,
    envelopes: Vec<String>,
    sundries: Vec<String>,
    lines: Vec<String>,
}

impl Choices {
    /// From the files of a desk; what cannot be read offers nothing.
    pub fn of(desk: &DeskFiles) -> Choices {
        let workshop = desk.workshop.as_ref().map(DeskFile::source);
        let workshop = read_workshop(workshop.as_ref(), &mut Problems::new());
        let files = desk.stock();
        let order = crate::table::Named::new(&desk.order.name, &desk.order.text);
        Choices {
            workshop,
            papers: stock::papers(files).into_iter().collect(),
            envelopes: stock::envelopes(files).into_iter().collect(),
            sundries: stock::in_column("sundry", [files.sundries]).into_iter().collect(),
            lines: stock::in_column("line", [Some(order)]).into_iter().collect(),
        }
    }

    /// What may stand in the cells of a column, the likeliest first.
    pub fn in_cells(&self, kind: FileKind, column: &str) -> Vec<String> {
        match (kind, column) {
            (FileKind::Order, "card" | "insert size") => self.cards(),
            (FileKind::Order, "envelope") => {
                let usual = words(&["bought", "posted without"]);
                [usual, self.envelopes.clone(), self.papers.clone()].concat()
            }
            (FileKind::Order, "goes in") => self.lines.clone(),
            (FileKind::Order, "with") => self.sundries.clone(),
            (FileKind::Order, "finish") => {
                self.workshop.finishes.iter().map(|finish| finish.name.clone()).collect()
            }
            (
                FileKind::Order,
                "paper" | "liner" | "mat" | "envelope liner" | "insert" | "band" | "box",
            )
            | (FileKind::Sheets | FileKind::Offcuts, "paper") => self.papers.clone(),
            (FileKind::Envelopes, "size") => {
                let all = self.workshop.formats.all_envelopes();
                all.map(|envelope| envelope.name.clone()).collect()
            }
            (kind, column) => fixed(kind, column),
        }
    }

    fn cards(&self) -> Vec<String> {
        self.workshop.formats.all_cards().map(|card| card.name.clone()).collect()
    }
}

/// Words that are the same in every workshop.
fn fixed(kind: FileKind, column: &str) -> Vec<String> {
    match (kind, column) {
        (FileKind::Order, "fold") => Fold::examples().map(Fold::word).to_vec(),
        (FileKind::Order, "liner kind") => words(&["panel", "folded"]),
        (FileKind::Order, "turn") => words(&["free", "half", "none"]),
        (FileKind::Sheets | FileKind::Offcuts, "grain") => words(&["width", "height"]),
        (FileKind::Sheets | FileKind::Offcuts, "print") => words(&["free", "two-way", "one-way"]),
        (FileKind::Sheets, "rough edges") => words(&["0", "2", "4"]),
        (FileKind::Sundries, "unit") => words(&["in", "ft", "yd", "mm", "cm", "m"]),
        (FileKind::Sundries, "post") => words(&["rigid", "uneven"]),
        _ => Vec::new(),
    }
}

fn words(all: &[&str]) -> Vec<String> {
    all.iter().map(|word| (*word).to_owned()).collect()
}
