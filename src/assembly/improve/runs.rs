//! The same batch in fewer runs: the sheets of one run are cut by the patterns of others, where that
//! still yields all pieces and leaves as much for the drawer.

use super::kept::Kept;
use super::{LayingTable, Steps};
use crate::assembly::surplus::{Counted, Sheaf};

/// Most ways to divide the sheets of a run between two others.
const DIVISIONS: u64 = 32;

/// Replaces runs by others of the same sheet; `wanted` by shape.
pub(in crate::assembly) fn fewer(
    sheaves: Vec<Sheaf>,
    wanted: &[u64],
    table: &mut LayingTable,
    steps: &Steps,
) -> Vec<Sheaf> {
    let mut runs = Counted::all(sheaves, wanted.len(), table);
    while let Some((gone, takers)) = replaceable(&runs, wanted, steps) {
        takers.into_iter().for_each(|(taker, count)| runs[taker].sheaf.count += count);
        gone.into_iter().rev().for_each(|run| drop(runs.remove(run)));
    }
    runs.into_iter().map(|run| run.sheaf).collect()
}

/// Runs that take over, and how many sheets each.
type Takers = Vec<(usize, u64)>;

/// Two runs of the same sheet, else one, that others can take over; runs of few sheets are tried first.
fn replaceable(runs: &[Counted], wanted: &[u64], steps: &Steps) -> Option<(Vec<usize>, Takers)> {
    let surplus = Counted::surplus(runs, wanted);
    let mut few: Vec<usize> = (0..runs.len()).collect();
    few.sort_by_key(|run| runs[*run].sheaf.count);
    let single = few.iter().map(|run| vec![*run]);
    let pairs = few.iter().enumerate().flat_map(|(at, one)| {
        few[at + 1..].iter().map(move |two| vec![*one.min(two), *one.max(two)])
    });
    let alike = |gone: &Vec<usize>| {
        gone.iter().all(|run| runs[*run].sheaf.sheet == runs[gone[0]].sheaf.sheet)
    };
    let all = pairs.chain(single).take_while(|_| steps.get() > 0);
    all.filter(alike).find_map(|gone| {
        let takers = Takeover { runs, surplus: &surplus, gone: &gone }.takers(steps)?;
        Some((gone, takers))
    })
}

struct Takeover<'a> {
    runs: &'a [Counted],
    surplus: &'a [u64],
    gone: &'a [usize],
}

impl Takeover<'_> {
    /// One run that takes over; in place of a single one also two that share its sheets.
    fn takers(&self, steps: &Steps) -> Option<Takers> {
        let count = self.gone.iter().map(|run| self.runs[*run].sheaf.count).sum();
        let sheet = self.runs[self.gone[0]].sheaf.sheet;
        let others: Vec<usize> = (0..self.runs.len())
            .filter(|other| !self.gone.contains(other) && self.runs[*other].sheaf.sheet == sheet)
            .collect();
        let singles = others.iter().map(|other| vec![(*other, count)]);
        let pairs = others.iter().enumerate().flat_map(|(at, one)| {
            others[at + 1..]
                .iter()
                .flat_map(move |two| shares(count).map(move |[a, b]| vec![(*one, a), (*two, b)]))
        });
        let pairs = pairs.filter(|_| self.gone.len() == 1);
        let mut tried = singles.chain(pairs).take_while(|_| steps.take().is_some());
        tried.find(|takers| self.is_possible(takers))
    }

    fn is_possible(&self, takers: &Takers) -> bool {
        let gone: Takers =
            self.gone.iter().map(|run| (*run, self.runs[*run].sheaf.count)).collect();
        let yields = |of: &Takers, shape: usize| -> u64 {
            of.iter().map(|(run, count)| self.runs[*run].yields[shape] * count).sum()
        };
        let kept = |of: &Takers| {
            of.iter()
                .map(|(run, count)| self.runs[*run].kept.times(*count))
                .fold(Kept::default(), |sum, kept| sum + kept)
        };
        let enough = |(shape, surplus): (usize, &u64)| {
            yields(takers, shape) + surplus >= yields(&gone, shape)
        };
        kept(takers) >= kept(&gone) && self.surplus.iter().enumerate().all(enough)
    }
}

/// Ways to divide so many sheets between two runs, evenly spread where there are too many.
fn shares(count: u64) -> impl Iterator<Item = [u64; 2]> {
    let ways = count.min(DIVISIONS + 1);
    (1..ways).map(move |way| {
        let share = way * count / ways;
        [share, count - share]
    })
}
