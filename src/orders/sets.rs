//! How many sets of each line can be made, and how people say it.

use super::OrderLine;
use crate::diagnostics::{counted, listed};

/// Most lines that a message names; the rest is counted.
const NAMED: usize = 6;

/// Sets of one line that can be made. All pieces of the line belong to a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetCount {
    /// Name of the line.
    pub line: String,
    /// Sets that are ordered.
    pub ordered: u64,
    /// Sets for which a way was found.
    pub found: u64,
    /// Beyond so many, it is proven that there is none.
    pub most: u64,
}

impl SetCount {
    /// Whether all sets can be made.
    pub fn is_all(&self) -> bool {
        self.found == self.ordered
    }

    /// Whether more sets than were found are not ruled out.
    pub fn is_open(&self) -> bool {
        self.found < self.most
    }

    /// `all 30 tags`, `26 of 30 names`, `26 to 28 of 30 names`.
    fn told(&self) -> String {
        let SetCount { line, ordered, found, most } = self;
        match (found, self.is_open()) {
            (1, false) if *ordered == 1 => format!("the only {line}"),
            (_, false) if self.is_all() => format!("all {ordered} {line}"),
            (0, false) => format!("none of {ordered} {line}"),
            (_, false) => format!("{found} of {ordered} {line}"),
            (_, true) => format!("{found} to {most} of {ordered} {line}"),
        }
    }

    /// `4 of 30 names`, `all 30 tags`: what is not made.
    fn left_out(&self) -> String {
        let SetCount { line, ordered, found, .. } = self;
        match ordered - found {
            all if all == *ordered => format!("all {ordered} {line}"),
            left => format!("{left} of {ordered} {line}"),
        }
    }
}

/// The lines as they come first where there is not enough for all: those that are due, by their dates, then the others, as in
/// the file.
pub fn first_lines(lines: &[OrderLine]) -> Vec<usize> {
    let mut first: Vec<usize> = (0..lines.len()).collect();
    first.sort_by_key(|&line| (lines[line].due.is_none(), lines[line].due, line));
    first
}

/// How many can be made, line by line: `26 of 30 names and all 30 tags`. Of many lines, those are named of which not all
/// can be.
pub fn told_sets(counts: &[SetCount]) -> String {
    if counts.len() <= NAMED {
        return listed(&counts.iter().map(SetCount::told).collect::<Vec<_>>());
    }
    let short: Vec<&SetCount> = counts.iter().filter(|count| !count.is_all()).collect();
    let mut parts: Vec<String> = short.iter().take(NAMED).map(|count| count.told()).collect();
    if short.len() > NAMED {
        parts.push(format!("not all of {}", more_lines(short.len() - NAMED)));
    }
    if counts.len() > short.len() {
        parts
            .push(format!("all of {}", counted((counts.len() - short.len()) as u64, "other line")));
    }
    listed(&parts)
}

/// How many are made, whether more could be or not: `26 of 30 names and all 30 tags`.
pub fn told_made(counts: &[SetCount]) -> String {
    let made = counts.iter().map(|count| SetCount { most: count.found, ..count.clone() });
    told_sets(&made.collect::<Vec<_>>())
}

/// What is not made, line by line: `4 of 30 names`.
pub fn told_left_out(counts: &[SetCount]) -> String {
    let short: Vec<&SetCount> = counts.iter().filter(|count| !count.is_all()).collect();
    let mut parts: Vec<String> = short.iter().take(NAMED).map(|count| count.left_out()).collect();
    if short.len() > NAMED {
        parts.push(format!("some of {}", more_lines(short.len() - NAMED)));
    }
    listed(&parts)
}

fn more_lines(count: usize) -> String {
    counted(count as u64, "more line")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(line: &str, ordered: u64, found: u64, most: u64) -> SetCount {
        SetCount { line: line.to_owned(), ordered, found, most }
    }

    #[test]
    fn counts_are_told_as_people_say_them() {
        let told = |counts: &[SetCount]| (told_sets(counts), told_left_out(counts));
        let both = |one: &str, other: &str| (one.to_owned(), other.to_owned());
        assert_eq!(
            told(&[count("names", 30, 26, 26), count("tags", 30, 30, 30)]),
            both("26 of 30 names and all 30 tags", "4 of 30 names")
        );
        assert_eq!(
            told(&[count("names", 30, 26, 28), count("tags", 30, 0, 0), count("band", 1, 1, 1)]),
            both(
                "26 to 28 of 30 names, none of 30 tags and the only band",
                "4 of 30 names and all 30 tags"
            )
        );
        assert_eq!(told(&[count("names", 30, 0, 30)]), both("0 to 30 of 30 names", "all 30 names"));
    }

    #[test]
    fn of_many_lines_the_first_short_ones_are_named() {
        let line = |number: u64, found| count(&format!("line{number}"), 3, found, found);
        let some = |short: u64, all: u64| -> Vec<SetCount> {
            (0..short + all)
                .map(|number| line(number, if number < short { 2 } else { 3 }))
                .collect()
        };
        assert_eq!(told_sets(&some(1, 5)).matches("all 3").count(), 5);
        assert_eq!(told_sets(&some(1, 6)), "2 of 3 line0 and all of 6 other lines");
        assert!(told_sets(&some(6, 1)).ends_with("2 of 3 line5 and all of 1 other line"));
        assert!(
            told_sets(&some(7, 2))
                .ends_with("2 of 3 line5, not all of 1 more line and all of 2 other lines")
        );
        assert!(told_left_out(&some(6, 1)).ends_with(" and 1 of 3 line5"));
        assert!(told_left_out(&some(8, 1)).ends_with(", 1 of 3 line5 and some of 2 more lines"));
    }
}
