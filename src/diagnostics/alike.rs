//! Alike warnings, which are told once with how many: twenty cards in a wrong unit are one cause.

use super::{Problem, Severity, listed};

/// Most other warnings that are named, and most stretches of lines.
const NAMED: usize = 6;

/// A problem, and others that say the same of something else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlikeProblems<'a> {
    /// The first of them.
    pub first: &'a Problem,
    others: Vec<&'a Problem>,
}

/// Problems with alike warnings put together, in the order of the first of each.
pub fn told_once<'a>(problems: impl IntoIterator<Item = &'a Problem>) -> Vec<AlikeProblems<'a>> {
    let mut all: Vec<AlikeProblems<'a>> = Vec::new();
    for problem in problems {
        match all.iter_mut().find(|told| is_alike(told.first, problem)) {
            Some(told) => told.others.push(problem),
            None => all.push(AlikeProblems { first: problem, others: Vec::new() }),
        }
    }
    all
}

/// Whether two warnings have one cause: what helps is the same, and they differ at most in what they are about.
fn is_alike(one: &Problem, other: &Problem) -> bool {
    let file = |problem: &Problem| problem.place.as_ref().map(|place| place.file.clone());
    one.severity == Severity::Warning
        && other.severity == Severity::Warning
        && (one.code, &one.help) == (other.code, &other.help)
        && file(one) == file(other)
        && (one.title == other.title || (one.place.is_some() && one.label == other.label))
}

impl AlikeProblems<'_> {
    /// How many more there are and where, a line each; none where there is one alone.
    pub fn notes(&self) -> Vec<String> {
        let (same, other): (Vec<&Problem>, Vec<&Problem>) =
            self.others.iter().partition(|problem| problem.title == self.first.title);
        let mut notes = Vec::new();
        if !same.is_empty() {
            let times = if same.len() == 1 { "once" } else { &format!("{} times", same.len()) };
            notes.push(match lines(&same) {
                Some(lines) => format!("the same {times} more, in {lines}"),
                None => format!("the same {times} more"),
            });
        }
        let named = if other.len() > NAMED { NAMED - 1 } else { other.len() };
        notes.extend(other[..named].iter().map(|problem| format!("likewise, {}", problem.title)));
        if other.len() > named {
            notes.push(format!("and {} more like these", other.len() - named));
        }
        notes
    }
}

/// `line 3`, `lines 3 to 21`, `lines 3, 5 to 7 and 9`; `None` where no file is meant.
fn lines(problems: &[&Problem]) -> Option<String> {
    let mut numbers: Vec<usize> =
        problems.iter().filter_map(|problem| Some(problem.place.as_ref()?.line)).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let mut stretches: Vec<[usize; 2]> = Vec::new();
    for number in numbers {
        match stretches.last_mut() {
            Some([_, last]) if *last + 1 == number => *last = number,
            _ => stretches.push([number; 2]),
        }
    }
    let is_one = matches!(stretches.as_slice(), [[first, last]] if first == last);
    let mut shown: Vec<String> = stretches
        .iter()
        .map(|[first, last]| match last - first {
            0 => first.to_string(),
            1 => format!("{first} and {last}"),
            _ => format!("{first} to {last}"),
        })
        .collect();
    if shown.len() > NAMED {
        shown.truncate(NAMED - 1);
        shown.push("more".to_owned());
    }
    let noun = if is_one { "line" } else { "lines" };
    (!shown.is_empty()).then(|| format!("{noun} {}", listed(&shown)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostics::Place;

    fn tiny(line: usize, label: &str) -> Problem {
        let place =
            Place { file: "spring.csv".into(), line, column: 1, length: 1, text: "a".into() };
        Problem::warning("order-size-small", "a very small card")
            .at(Some(&place), label)
            .help("if you mean another unit, write it")
    }

    fn notes(problems: &[Problem]) -> Vec<Vec<String>> {
        told_once(problems).iter().map(AlikeProblems::notes).collect()
    }

    #[test]
    fn one_cause_is_told_once_with_where_else() {
        let all: Vec<Problem> = (2..=21).map(|line| tiny(line, &line.to_string())).collect();
        assert_eq!(notes(&all), [["the same 19 times more, in lines 3 to 21"]]);
        assert_eq!(notes(&all[..1]), [[""; 0]]);
        assert_eq!(notes(&all[..2]), [["the same once more, in line 3"]]);
        let some = [2, 3, 5, 6, 9, 10, 11].map(|line| tiny(line, "x"));
        assert_eq!(notes(&some), [["the same 6 times more, in lines 3, 5 and 6 and 9 to 11"]]);
        let far: Vec<Problem> = (1..=9).map(|line| tiny(line * 2, "x")).collect();
        assert_eq!(notes(&far), [["the same 8 times more, in lines 4, 6, 8, 10, 12 and more"]]);
    }

    #[test]
    fn what_differs_in_more_than_its_subject_stays_apart() {
        let titled = |title: &str, label: &str| {
            let mut problem = tiny(2, label);
            problem.title = title.to_owned();
            problem
        };
        let same_label = [titled("a", "x"), titled("b", "x"), titled("c", "x")];
        assert_eq!(notes(&same_label), [["likewise, b", "likewise, c"]]);
        assert_eq!(told_once(&[titled("a", "x"), titled("b", "y")]).len(), 2);
        let mut error = tiny(3, "x");
        error.severity = Severity::Error;
        assert_eq!(told_once(&[error.clone(), error]).len(), 2, "each mistake has to be mended");
        assert_eq!(told_once(&[tiny(2, "x"), tiny(3, "x").help("more")]).len(), 2);
        let many: Vec<Problem> = (0..9).map(|at| titled(&at.to_string(), "x")).collect();
        assert_eq!(notes(&many)[0].last().unwrap(), "and 3 more like these");
    }
}
