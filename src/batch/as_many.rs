//! As many complete cards as the paper is enough for.
//!
//! Lines come in the order of their dates, those without one last, then as in the file. Each gets the most sets for
//! which the lines before it keep theirs, so paper that lines share goes where it completes the most sets of the earlier
//! one. To a set belong all pieces of its line, and the spares.
//!
//! Whether counts can be made only ever changes once from yes to no as they grow, and papers of one group say nothing of
//! those of another. So the lines are put end to end, set by set, and in each group that is short the last set is looked
//! for that can still be made: that settles all lines up to the one it belongs to, and the next lines begin anew
//! (`as_many/reach.rs`). Where the effort leaves it open whether a set can be made, its line has two numbers: sets that
//! were found, and sets beyond which it is proven that there are none. Lines after it then keep to the first.

mod reach;

use super::effort::Effort;
use crate::job::Job;
use crate::orders::{Order, OrderLine, SetCount, first_lines};
use crate::pieces::{Bill, Part, wanted};
use crate::program::{Inquiry, Settings, Start, StockFilling, Stop, Task};
use crate::workshop::Spares;
use reach::{Reach, ReachSearch, StepEnds};
use std::collections::BTreeMap;

/// Looks for the most sets of each line.
pub(super) struct SetCounting<'a> {
    lines: &'a [OrderLine],
    /// The lines, as they come first.
    first: Vec<usize>,
    /// What each line needs of papers that are short.
    parts: Vec<Vec<ScarcePart>>,
    groups: Vec<ShortGroup>,
    effort: Effort,
    stop: Stop<'a>,
}

/// A part of a line that is cut from papers that are short.
struct ScarcePart {
    /// Index of the group of papers.
    group: usize,
    /// Index of the piece in its task.
    item: usize,
    part: Part,
}

/// A group of papers that is not enough for all lines.
struct ShortGroup {
    inquiry: Inquiry,
    /// Pieces of the lines that are settled, by item.
    settled: Vec<u64>,
    /// The part of all steps that it gets, in thousandths.
    share: u64,
    /// Steps that it took to fill the stock.
    filling: u64,
}

/// What a piece of the first line is worth for its area where the stock is filled; one of the next line is worth three
/// quarters of that, down to 1.
const FIRST_WORTH: u64 = 1 << 20;
/// Times the steps of a counting that filling may take.
const MOST_FILLING: u64 = 4;
/// How often what is left beside settled lines is filled again.
const MOST_REFILLS: usize = 60;
/// Times the steps of a filling that a question takes at least.
const FILLINGS: u64 = 4;

impl<'a> SetCounting<'a> {
    /// For the groups of papers of a job that are short.
    pub fn new(job: &'a Job, short: &[&Task], effort: Effort, stop: Stop<'a>) -> SetCounting<'a> {
        let Job { order: Order { lines, .. }, bill, .. } = job;
        let first = first_lines(lines);
        let weights: Vec<u64> = short.iter().map(|task| super::effort::weight(task)).collect();
        let all = weights.iter().sum::<u64>().max(1);
        let group = |(task, weight): (&&Task, &u64)| ShortGroup {
            inquiry: Inquiry::new(task),
            settled: vec![0; task.items.len()],
            share: weight * 1000 / all,
            filling: 0,
        };
        let groups = short.iter().zip(&weights).map(group).collect();
        let parts = scarce_parts(lines, bill, short);
        SetCounting { lines, first, parts, groups, effort, stop }
    }

    /// The most sets of each line with such spares, in the order in which lines come first.
    pub fn most_sets(&mut self, spares: &Spares) -> Vec<SetCount> {
        self.begin(spares);
        let ends: Vec<StepEnds> = self.groups.iter().map(|group| group.ends(self.effort)).collect();
        let mut counts: Vec<SetCount> = Vec::new();
        let (mut ahead, mut refills) = (self.first.len(), 0);
        while counts.len() < self.first.len() {
            let begin = counts.len();
            let chain = self.first[begin..self.first.len().min(begin + ahead)].to_vec();
            if begin > 0 && refills < MOST_REFILLS {
                refills += 1;
                self.fill(begin, spares, |at, group| group.inquiry.steps() < ends[at].all);
            }
            let mut reach = self.reach(&chain, spares, &ends);
            for line in chain {
                let count = self.count(line, &reach);
                self.settle(line, count.found, spares);
                let is_reached = count.is_all();
                counts.push(count);
                if !is_reached {
                    // The next lines begin anew, one first, then twice as many each time.
                    ahead = 0;
                    break;
                }
                reach = reach.after(self.lines[line].count.value);
            }
            ahead = (ahead * 2).max(1);
        }
        counts
    }

    /// Settles nothing yet, and fills the stock.
    fn begin(&mut self, spares: &Spares) {
        let most = self.effort.asking(self.stop).steps;
        for group in &mut self.groups {
            group.settled.fill(0);
        }
        let begun: Vec<u64> = self.groups.iter().map(|group| group.inquiry.steps()).collect();
        self.fill(0, spares, |_, group| group.filling <= most);
        for (group, begun) in self.groups.iter_mut().zip(begun) {
            group.filling = group.filling.max(group.inquiry.steps() - begun);
        }
    }

    /// Fills what stock is left beside what is settled, the pieces of the first lines that are not before others.
    fn fill(&mut self, begin: usize, spares: &Spares, may: impl Fn(usize, &ShortGroup) -> bool) {
        let (lines, parts, asking) = (self.lines, &self.parts, self.effort.asking(self.stop));
        let steps = MOST_FILLING * asking.steps;
        for (at, group) in self.groups.iter_mut().enumerate() {
            if !may(at, group) {
                continue;
            }
            let links = links(lines, parts, &self.first[begin..], at);
            let settled = &group.settled;
            let mut worth = vec![0; settled.len()];
            let mut own = FIRST_WORTH;
            for Link { parts, .. } in &links {
                parts.iter().for_each(|it| worth[it.item] = worth[it.item].max(own));
                own = (own / 4 * 3).max(1);
            }
            let counts = &pieces_of(&links, settled, u64::MAX, spares);
            let filling = StockFilling { settled, counts, worth: &worth };
            group.inquiry.fill(&filling, &Settings { steps, ..asking });
        }
    }

    /// The sets of the line that a reach begins with.
    fn count(&self, line: usize, reach: &Reach) -> SetCount {
        let OrderLine { name, count, .. } = &self.lines[line];
        let ordered = count.value;
        let found = reach.found.min(ordered);
        let most = (reach.ruled_out - 1).min(ordered);
        SetCount { line: name.value.clone(), ordered, found, most }
    }

    /// Counts the pieces of a line among those that are settled.
    fn settle(&mut self, line: usize, sets: u64, spares: &Spares) {
        for part in &self.parts[line] {
            let pieces = wanted(&self.lines[line], part.part, sets, spares);
            self.groups[part.group].settled[part.item] += pieces;
        }
    }

    /// How many sets of lines put end to end can be made.
    fn reach(&mut self, chain: &[usize], spares: &Spares, ends: &[StepEnds]) -> Reach {
        let all = chain.iter().map(|&line| self.lines[line].count.value).sum();
        let mut reach = Reach { found: all, ruled_out: all + 1 };
        for (at, end) in ends.iter().enumerate() {
            let group = &mut self.groups[at];
            let links = links(self.lines, &self.parts, chain, at);
            let settled = group.settled.clone();
            let pieces = |sets: u64| pieces_of(&links, &settled, sets, spares);
            let asking = self.effort.asking(self.stop);
            // Lines that need nothing of these papers are no question.
            let free = links.iter().take_while(|link| link.parts.is_empty());
            let free = free.map(|link| link.line.count.value).sum();
            let most = reach.ruled_out - 1;
            // Half of what is left: lines that come later need some, too.
            let steps = group.inquiry.steps();
            let times = StepEnds { asking: steps + end.asking.saturating_sub(steps) / 2, ..*end };
            let search =
                ReachSearch { inquiry: &mut group.inquiry, pieces: &pieces, asking, times };
            reach = reach.and(search.run(free, most));
        }
        reach
    }

    /// What a plan for the sets that were counted last can begin with.
    pub fn start(&self) -> Start {
        let mut start = Start::default();
        for group in &self.groups {
            start.append(group.inquiry.start(&group.settled).unwrap_or_default());
        }
        start
    }
}

impl ShortGroup {
    /// The steps at which its part of one more counting is used up.
    fn ends(&self, effort: Effort) -> StepEnds {
        let steps = effort.counting() / 1000 * self.share;
        let asking = self.inquiry.steps() + steps;
        StepEnds { asking, all: asking + 2 * steps, least: FILLINGS * self.filling }
    }
}

/// By line, its parts that are cut from papers that are short.
fn scarce_parts(lines: &[OrderLine], bill: &Bill, short: &[&Task]) -> Vec<Vec<ScarcePart>> {
    let places = lines.iter().enumerate().map(|(at, line)| (line.name.value.as_str(), at));
    let places: BTreeMap<&str, usize> = places.collect();
    let mut parts: Vec<Vec<ScarcePart>> = lines.iter().map(|_| Vec::new()).collect();
    for (group, task) in short.iter().enumerate() {
        for (item, wanted) in task.items.iter().enumerate() {
            let piece = &bill.pieces[wanted.piece];
            for line in piece.shares.iter().filter_map(|share| places.get(share.line.as_str())) {
                parts[*line].push(ScarcePart { group, item, part: piece.part });
            }
        }
    }
    parts
}

/// A line in a chain, with what it needs of one group of papers.
struct Link<'a> {
    line: &'a OrderLine,
    parts: Vec<&'a ScarcePart>,
}

fn links<'a>(
    lines: &'a [OrderLine],
    parts: &'a [Vec<ScarcePart>],
    chain: &[usize],
    group: usize,
) -> Vec<Link<'a>> {
    let link = |&line: &usize| Link {
        line: &lines[line],
        parts: parts[line].iter().filter(|part| part.group == group).collect(),
    };
    chain.iter().map(link).collect()
}

/// The pieces of so many sets of a chain, and those that are settled, by item.
fn pieces_of(links: &[Link], settled: &[u64], sets: u64, spares: &Spares) -> Vec<u64> {
    let mut pieces = settled.to_vec();
    let mut left = sets;
    for Link { line, parts } in links {
        if left == 0 {
            break;
        }
        let own = left.min(line.count.value);
        parts.iter().for_each(|it| pieces[it.item] += wanted(line, it.part, own, spares));
        left -= own;
    }
    pieces
}
