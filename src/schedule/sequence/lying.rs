//! Stacks on the bench while cuts are made: which wait, and how many.
//!
//! Uncut sheets do not count, nor what is cut no further. A stack waits from the first cut that brings a plate of it, or
//! takes a strip off a sheet, up to the last cut of its own.

use super::super::cuts::{CutOf, GaugeCut};
use std::collections::{BTreeMap, BTreeSet};

/// Which cuts bring which stacks, and which cut them up.
pub(super) struct Stacks {
    /// By cut, the stack that it is made in.
    own: Vec<usize>,
    /// By cut, the stacks of which it brings plates.
    brings: Vec<Vec<usize>>,
    /// By stack, those of which it leaves plates over once all its cuts are made.
    leaves: Vec<BTreeSet<usize>>,
    /// By stack, how many cuts are made in it.
    cuts: Vec<u32>,
}

/// How far each stack has come.
#[derive(Clone)]
pub(super) struct OnTable {
    stacks: Vec<StackCut>,
    /// Stacks that wait.
    pub count: usize,
}

/// How far a stack has come.
#[derive(Clone, Copy)]
struct StackCut {
    /// Whether anything of it lies there.
    is_begun: bool,
    /// Cuts that are still to be made in it.
    left: u32,
}

impl Stacks {
    pub fn new(cuts: &[GaugeCut]) -> Stacks {
        let mut numbers: BTreeMap<(usize, Option<usize>), usize> = BTreeMap::new();
        let mut own = Vec::new();
        for cut in cuts {
            let kind = match cut.of {
                CutOf::Trim(_) => None,
                CutOf::Plates(kind) => Some(kind),
            };
            let next = numbers.len();
            own.push(*numbers.entry((cut.run, kind)).or_insert(next));
        }
        let mut brings: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); cuts.len()];
        let mut leaves: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); numbers.len()];
        let mut counts = vec![0; numbers.len()];
        for (number, cut) in cuts.iter().enumerate() {
            counts[own[number]] += 1;
            for &before in cut.after.iter().filter(|&&before| own[before] != own[number]) {
                match brings_strips(&cuts[before], cut) {
                    true => brings[before].insert(own[number]),
                    false => leaves[own[before]].insert(own[number]),
                };
            }
        }
        let brings = brings.into_iter().map(|stacks| stacks.into_iter().collect()).collect();
        Stacks { own, brings, leaves, cuts: counts }
    }

    /// Before the first cut.
    pub fn start(&self) -> OnTable {
        let stacks = self.cuts.iter().map(|&left| StackCut { is_begun: false, left });
        OnTable { stacks: stacks.collect(), count: 0 }
    }

    /// Stacks that would wait after a cut.
    pub fn after(&self, lying: &OnTable, cut: usize) -> usize {
        let own = self.own[cut];
        let StackCut { is_begun, left } = lying.stacks[own];
        let is_last = left == 1;
        let brought = self.brought(cut, is_last);
        let brought = brought.filter(|&stack| !lying.stacks[stack].is_begun).count();
        let opens = usize::from(!is_begun && !is_last);
        lying.count + brought + opens - usize::from(is_begun && is_last)
    }

    /// Makes a cut.
    pub fn make(&self, lying: &mut OnTable, cut: usize) {
        lying.count = self.after(lying, cut);
        let own = self.own[cut];
        lying.stacks[own].left -= 1;
        lying.stacks[own].is_begun = true;
        let brought = self.brought(cut, lying.stacks[own].left == 0);
        brought.for_each(|stack| lying.stacks[stack].is_begun = true);
    }

    /// The stacks of which a cut brings plates, or, as the last of its own, leaves some over.
    fn brought(&self, cut: usize, is_last: bool) -> impl Iterator<Item = usize> {
        let direct = &self.brings[cut];
        let leaves = is_last.then_some(&self.leaves[self.own[cut]]).into_iter().flatten();
        leaves.filter(|stack| !direct.contains(stack)).chain(direct).copied()
    }

    /// The most stacks that wait at once where cuts are made in this order.
    pub fn most(&self, order: &[usize]) -> usize {
        let mut lying = self.start();
        let counts = order.iter().map(|&cut| {
            self.make(&mut lying, cut);
            lying.count
        });
        counts.max().unwrap_or(0)
    }
}

/// Whether strips that a cut takes off are those of the other, or the sheet that it squares is.
fn brings_strips(cut: &GaugeCut, next: &GaugeCut) -> bool {
    match (cut.of, next.of) {
        (CutOf::Plates(_), CutOf::Plates(kind)) => cut.strips.contains(&kind),
        _ => true,
    }
}
