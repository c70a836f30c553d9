//! Which finished sets lie in the envelope of another line.

use super::{Envelope, Order, OrderLine};
use crate::diagnostics::{Place, Problem, Problems, Severity, Spanned, nearest};
use std::collections::{BTreeMap, BTreeSet};

/// What is wrong with a line that is named in `goes in`.
const CODE: &str = "order-goes-in";

/// Most names that are compared with one that is not known.
const MOST_COMPARED: usize = 200;

/// Most envelopes that a set lies in, one in the other.
const MOST_DEEP: usize = 4;

/// Which lines' sets lie in the envelopes of which others.
#[derive(Debug, Default)]
pub struct Nesting<'a> {
    lines: &'a [OrderLine],
    inner: BTreeMap<&'a str, Vec<&'a OrderLine>>,
}

impl<'a> Nesting<'a> {
    /// That of an order.
    pub fn of(order: &'a Order) -> Nesting<'a> {
        let mut inner: BTreeMap<&str, Vec<&OrderLine>> = BTreeMap::new();
        for line in &order.lines {
            if let Some(host) = line.host() {
                inner.entry(host).or_default().push(line);
            }
        }
        Nesting { lines: &order.lines, inner }
    }

    /// The lines whose finished sets lie in the envelope of this one, one for one, in the order of the file.
    pub fn inside(&self, host: &str) -> &[&'a OrderLine] {
        self.inner.get(host).map(Vec::as_slice).unwrap_or_default()
    }

    /// Their names.
    pub fn names_inside(&self, host: &str) -> Vec<String> {
        self.inside(host).iter().map(|line| line.name.value.clone()).collect()
    }

    /// All lines, each after those that lie in its envelope; else in the order of the file.
    pub fn inside_out(&self) -> Vec<&'a OrderLine> {
        let mut seen = BTreeSet::new();
        let mut order = Vec::new();
        self.lines.iter().for_each(|line| self.put(line, &mut seen, &mut order));
        order
    }

    fn put(
        &self,
        line: &'a OrderLine,
        seen: &mut BTreeSet<&'a str>,
        order: &mut Vec<&'a OrderLine>,
    ) {
        if seen.insert(&line.name.value) {
            self.inside(&line.name.value).iter().for_each(|inner| self.put(inner, seen, order));
            order.push(line);
        }
    }
}

impl OrderLine {
    /// The line in whose envelope it lies.
    pub fn host(&self) -> Option<&str> {
        self.goes_in.as_ref().map(|host| host.value.as_str())
    }
}

/// Tells of every `goes in` that cannot be: a line that is not there or has no envelope, or lines that lie in each other;
/// those are cleared. `names` are those of all lines, those with mistakes too.
pub(super) fn check(
    lines: &mut [OrderLine],
    names: &BTreeMap<String, usize>,
    problems: &mut Problems,
) {
    let known: BTreeMap<&str, &OrderLine> =
        lines.iter().map(|line| (line.name.value.as_str(), line)).collect();
    let problem = |line: &OrderLine| {
        let host = line.goes_in.as_ref()?;
        match known.get(host.value.as_str()) {
            None if names.contains_key(&host.value) => None,
            None => Some(unknown(line, host, names)),
            Some(other) => too_deep(line, host, &known)
                .or_else(|| without_envelope(line, host, other))
                .or_else(|| unequal(line, host, other)),
        }
    };
    let found: Vec<Option<Problem>> = lines.iter().map(problem).collect();
    for (line, problem) in lines.iter_mut().zip(found) {
        line.goes_in.take_if(|_| problem.as_ref().is_some_and(|it| it.severity == Severity::Error));
        problems.extend(problem);
    }
}

fn at(host: &Spanned<String>) -> Option<&Place> {
    host.place.as_ref()
}

fn unknown(line: &OrderLine, host: &Spanned<String>, names: &BTreeMap<String, usize>) -> Problem {
    let title = format!("`{}` goes in `{}`, which is no line", line.name.value, host.value);
    let candidates = names.keys().map(String::as_str).take(MOST_COMPARED);
    let label = match nearest(&host.value, candidates) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected the name of another line of this file".to_owned(),
    };
    Problem::error(CODE, title).at(at(host), label)
}

/// What is wrong with the envelopes in which a line lies, one in the other: it lies in itself, or they are too many.
fn too_deep(
    line: &OrderLine,
    host: &Spanned<String>,
    known: &BTreeMap<&str, &OrderLine>,
) -> Option<Problem> {
    let name = &line.name.value;
    let mut outer = line.host();
    for _ in 0..=MOST_DEEP {
        match outer {
            Some(outer) if outer == name => {
                let title = format!("`{name}` lies in itself");
                return Some(
                    Problem::error(CODE, title)
                        .at(at(host), "what it goes in goes in it")
                        .help("clear this cell in the line whose envelope goes in the post"),
                );
            }
            Some(next) => outer = known.get(next).and_then(|line| line.host()),
            None => return None,
        }
    }
    let title = format!("`{name}` lies in more than {MOST_DEEP} envelopes, one in the other");
    Some(Problem::error(CODE, title).at(at(host), "expected fewer"))
}

fn without_envelope(
    line: &OrderLine,
    host: &Spanned<String>,
    other: &OrderLine,
) -> Option<Problem> {
    let has_none = matches!(other.envelope, Envelope::None | Envelope::PostedWithout);
    has_none.then(|| {
        let title =
            format!("`{}` goes in `{}`, which has no envelope", line.name.value, host.value);
        Problem::error(CODE, title)
            .at(at(host), "expected a line with an envelope")
            .help(format!("give `{}` an `envelope`, or clear this cell", host.value))
    })
}

fn unequal(line: &OrderLine, host: &Spanned<String>, other: &OrderLine) -> Option<Problem> {
    let (inner, outer) = (line.count.value, other.count.value);
    let (line, host_name) = (&line.name.value, &host.value);
    let label = match inner.abs_diff(outer) {
        0 => return None,
        few if inner < outer => format!("{few} of {outer} {host_name} go out without"),
        many => format!("{many} of {inner} {line} are left over"),
    };
    let title = format!("{inner} {line} go in {outer} {host_name}");
    Some(
        Problem::warning("order-goes-in-count", title)
            .at(at(host), label)
            .help("one goes in each: make both counts the same, if that was meant"),
    )
}
