//! What was done of an order before this plan: pieces finished and spoiled, money spent.
//!
//! A piece is known by the order lines that it is of and by its size and papers, since its id may change with the order: lines
//! that are alike are merged.

use super::{Bill, Piece, supplies};
use crate::diagnostics::{Problem, Problems, counted, listed};
use crate::measure::{Length, Money, Size};
use crate::stock::{Counts, Stock};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What earlier plans of a batch have come to.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Before {
    /// Plans by which something was cut.
    pub parts: u64,
    /// What became of each kind of piece.
    pub pieces: Vec<Tally>,
    /// Money for the packs that were bought.
    pub spent: Money,
    /// What the paper was worth that was used, less what was kept of it: as numerator and denominator, in minor units.
    pub paper: [i64; 2],
    /// Seconds at the trimmer.
    pub seconds: u64,
    /// Envelopes and sundries taken for the cards, in parts of their units.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub supplies: Counts,
    /// Those that were spoiled.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub wasted: Counts,
}

/// What became of one kind of piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tally {
    /// `line.part` for each line that it is of.
    pub names: Vec<String>,
    /// Across, in ticks.
    pub width: Length,
    /// Down, in ticks.
    pub height: Length,
    /// Papers it may be cut from, sorted.
    pub papers: Vec<String>,
    /// Pieces cut, the spoiled ones among them.
    pub finished: u64,
    /// Finished pieces that were spoiled.
    pub spoiled: u64,
    /// Pieces that were still to be cut from plates when these were spoiled.
    pub lost: u64,
}

/// What was done of a piece before.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Done {
    /// Good pieces.
    pub good: u64,
    /// Pieces spoiled, cut or not.
    pub spoiled: u64,
}

impl Done {
    /// Pieces that are still to be cut: what was ordered and the spares, less what is good. Spoilage uses spares up first.
    pub fn left_of(self, need: u64, spares: u64) -> u64 {
        (need + spares).saturating_sub(self.spoiled).max(need).saturating_sub(self.good)
    }
}

impl Tally {
    /// Nothing is done of this piece yet.
    pub fn of(piece: &Piece) -> Tally {
        let Size { width, height } = piece.size;
        let (names, papers) = (piece.names(), piece.papers.clone());
        Tally { names, width, height, papers, finished: 0, spoiled: 0, lost: 0 }
    }

    /// Adds another of the same kind.
    pub fn add(&mut self, other: &Tally) {
        self.finished += other.finished;
        self.spoiled += other.spoiled;
        self.lost += other.lost;
    }

    /// Whether both are of one kind.
    pub fn is_alike(&self, other: &Tally) -> bool {
        let kind = |it: &Tally| (it.width, it.height, it.names.clone(), it.papers.clone());
        kind(self) == kind(other)
    }

    /// All its counts.
    pub fn counts(&self) -> [&u64; 3] {
        [&self.finished, &self.spoiled, &self.lost]
    }

    /// Pieces spoiled, cut or not.
    pub fn all_spoiled(&self) -> u64 {
        self.spoiled + self.lost
    }

    fn done(&self) -> Done {
        let good = self.finished.saturating_sub(self.spoiled);
        Done { good, spoiled: self.all_spoiled() }
    }

    /// Whether a piece has this size, and is cut from these papers.
    fn is_like(&self, piece: &Piece) -> bool {
        let mut papers = piece.papers.clone();
        papers.sort();
        piece.size == Size::new(self.width, self.height) && papers == self.papers
    }

    fn is_of(&self, piece: &Piece) -> bool {
        let names = piece.names();
        self.names.iter().any(|name| names.contains(name))
    }
}

impl Before {
    /// Adds pieces to those of the same kind.
    pub fn add(&mut self, pieces: &[Tally]) {
        for tally in pieces {
            match self.pieces.iter_mut().find(|known| known.is_alike(tally)) {
                Some(known) => known.add(tally),
                None => self.pieces.push(tally.clone()),
            }
        }
    }
}

impl Piece {
    /// `line.part` for each line that it is of; that of a second mat ends in a number.
    pub fn names(&self) -> Vec<String> {
        let lines = || self.shares.iter().map(|share| share.line.as_str());
        let first = lines().next().unwrap_or_default();
        // The part has no `+` in it, though a line's name may.
        let behind = self.id.strip_prefix(first).unwrap_or_default();
        let part = behind.split('+').next().unwrap_or_default();
        lines().map(|line| format!("{line}{part}")).collect()
    }

    /// Pieces that are still to be cut.
    pub fn wanted(&self) -> u64 {
        self.done.left_of(self.need(), self.spares())
    }
}

impl Bill {
    /// The pieces that are still to be cut.
    #[must_use]
    pub fn left(&self) -> Bill {
        let left = self.pieces.iter().filter(|piece| piece.wanted() > 0);
        Bill { pieces: left.cloned().collect(), supplies: self.supplies.clone() }
    }

    /// Notes what was done of each piece before.
    pub fn take_off(&mut self, before: &Before, stock: &Stock, problems: &mut Problems) {
        supplies::take_off(&mut self.supplies, before, stock);
        for tally in &before.pieces {
            let Done { good, spoiled } = tally.done();
            if good + spoiled == 0 {
                continue;
            }
            self.share_out(tally, problems);
        }
    }

    /// Gives what was done of one kind of piece to those that are of its lines and still like it, each as many as it wants.
    /// What is left then was made for lines that have changed, or are gone.
    fn share_out(&mut self, tally: &Tally, problems: &mut Problems) {
        let Done { good: mut left, spoiled } = tally.done();
        let (mut names, mut changed_piece, mut first) = (tally.names.clone(), None, None);
        for (at, piece) in self.pieces.iter_mut().enumerate().filter(|(_, it)| tally.is_of(it)) {
            if !tally.is_like(piece) {
                changed_piece = changed_piece.or(Some(at));
                continue;
            }
            let known = piece.names();
            names.retain(|name| !known.contains(name));
            piece.done.spoiled += if first.is_none() { spoiled } else { 0 };
            first = first.or(Some(at));
            let some = left.min(piece.wanted());
            piece.done.good += some;
            left -= some;
        }
        match (left, changed_piece, first) {
            (0, _, Some(_)) => {}
            (_, Some(at), _) => problems.push(changed(&names, left, &self.pieces[at])),
            // More were cut than are wanted.
            (_, None, Some(first)) if names.is_empty() => self.pieces[first].done.good += left,
            (_, None, _) => problems.push(gone(&names, left)),
        }
    }
}

fn gone(names: &[String], left: u64) -> Problem {
    let title = format!("{} is no longer in the order", listed(names));
    Problem::warning("rest-gone", title)
        .help(format!("{} cut: left over", cut(left)))
        .help("if you renamed the line, give it its old name")
}

fn changed(names: &[String], left: u64, piece: &Piece) -> Problem {
    let title = format!("{} changed after cutting began", listed(names));
    Problem::error("rest-changed", title)
        .at(piece.place.as_ref(), format!("{} cut with another size or paper", cut(left)))
        .help("give the line its size and papers back, and order the new cards in a line of their own")
}

/// `12 pieces of it are`.
fn cut(count: u64) -> String {
    let are = if count == 1 { "is" } else { "are" };
    format!("{} of it {are}", counted(count, "piece"))
}

#[cfg(test)]
mod tests {
    use super::super::samples::base;
    use super::super::{Share, merge};
    use super::*;

    fn share(line: &str, need: u64, spares: u64) -> Share {
        Share { line: line.to_owned(), need, spares }
    }

    fn piece(done: Done) -> Piece {
        Piece { shares: vec![share("a", 20, 2)], done, ..base("2 x 3") }
    }

    #[test]
    fn spares_are_spoiled_first() {
        let wanted = |good, spoiled| piece(Done { good, spoiled }).wanted();
        assert_eq!(wanted(0, 0), 22);
        assert_eq!(wanted(8, 0), 14);
        // Ten were cut and two are spoiled: the spares are gone.
        assert_eq!((wanted(8, 1), wanted(8, 2), wanted(8, 3)), (13, 12, 12));
        assert_eq!((wanted(20, 2), wanted(19, 3), wanted(30, 0)), (0, 1, 0));
    }

    #[test]
    fn a_piece_is_known_by_its_lines() {
        let named = |line: &str, part: &str| Piece {
            id: format!("{line}.{part}"),
            shares: vec![share(line, 1, 0)],
            ..base("2 x 3")
        };
        assert_eq!(named("a+b", "mat-2").names(), ["a+b.mat-2"]);
        let merged = merge::merge(
            (0..10).map(|line| named(&line.to_string(), "card")).collect(),
            &mut Problems::new(),
        );
        let names: Vec<String> = (0..10).map(|line| format!("{line}.card")).collect();
        assert_eq!(merged[0].names(), names);
    }

    #[test]
    fn what_was_done_is_taken_off_whatever_the_piece_is_called_now() {
        let cut = piece(Done::default());
        let tally = Tally { finished: 9, spoiled: 2, lost: 1, ..Tally::of(&cut) };
        let before = Before { pieces: vec![tally], ..Before::default() };
        let taken = |piece: Piece| {
            let mut problems = Problems::new();
            let mut bill = Bill::of_pieces(vec![piece]);
            bill.take_off(&before, &Stock::default(), &mut problems);
            let codes: Vec<&str> = problems.iter().map(|problem| problem.code).collect();
            (bill.pieces[0].done, codes)
        };
        let done = Done { good: 7, spoiled: 3 };
        assert_eq!(taken(cut.clone()), (done, vec![]));
        let both = vec![share("a", 25, 2), share("c", 5, 1)];
        let id = cut.id.replacen("card", "card+c.card", 1);
        assert_eq!(taken(Piece { id, shares: both, ..cut.clone() }), (done, vec![]));
        let larger = Piece { size: base("2 x 4").size, ..cut.clone() };
        assert_eq!(taken(larger), (Done::default(), vec!["rest-changed"]));
        let other = Piece { papers: vec!["moss".to_owned()], ..cut.clone() };
        assert_eq!(taken(other), (Done::default(), vec!["rest-changed"]));
        // Two lines that were cut as one kind come apart: each gets its own.
        let both = vec![share("a", 4, 0), share("c", 5, 0)];
        let merged = Piece { id: "a.card+c.card".to_owned(), shares: both, ..cut.clone() };
        let tally = Tally { finished: 9, ..Tally::of(&merged) };
        let before_merged = Before { pieces: vec![tally], ..Before::default() };
        let alone = |line: &str, need, size| Piece {
            id: format!("{line}.card"),
            shares: vec![share(line, need, 0)],
            ..base(size)
        };
        let shared = |other: Piece| {
            let mut problems = Problems::new();
            let mut bill = Bill::of_pieces(vec![alone("a", 4, "2 x 3"), other]);
            bill.take_off(&before_merged, &Stock::default(), &mut problems);
            let codes: Vec<&str> = problems.iter().map(|problem| problem.code).collect();
            (bill.pieces.iter().map(|piece| piece.done.good).collect::<Vec<_>>(), codes)
        };
        assert_eq!(shared(alone("c", 5, "2 x 3")), (vec![4, 5], vec![]));
        assert_eq!(shared(alone("c", 5, "2 x 4")), (vec![4, 0], vec!["rest-changed"]));
        assert_eq!(shared(alone("d", 5, "2 x 3")), (vec![4, 0], vec!["rest-gone"]));
        let renamed = Piece { id: "z.card".to_owned(), shares: vec![share("z", 1, 0)], ..cut };
        assert_eq!(taken(renamed), (Done::default(), vec!["rest-gone"]));
    }
}
