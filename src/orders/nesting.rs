//! Which finished sets lie in the envelope of another line.

use super::{Envelope, Order, OrderLine};
use crate::diagnostics::{Place, Problem, Problems, Spanned, nearest};
use std::collections::{BTreeMap, BTreeSet};

/// What is wrong with a line that is named in `goes in`.
const CODE: &str = "order-goes-in";

impl Order {
    /// The lines whose finished sets lie in the envelope of this one, one for one, in the order of the file.
    pub fn enclosures<'a>(&'a self, host: &'a str) -> impl Iterator<Item = &'a OrderLine> {
        self.lines.iter().filter(move |line| line.host() == Some(host))
    }

    /// All lines, each after those that lie in its envelope; else in the order of the file.
    pub fn inside_out(&self) -> Vec<&OrderLine> {
        let mut seen = BTreeSet::new();
        let mut order = Vec::new();
        for line in &self.lines {
            self.put_inside_out(line, &mut seen, &mut order);
        }
        order
    }

    fn put_inside_out<'a>(
        &'a self,
        line: &'a OrderLine,
        seen: &mut BTreeSet<&'a str>,
        order: &mut Vec<&'a OrderLine>,
    ) {
        if seen.insert(&line.name.value) {
            self.enclosures(&line.name.value)
                .for_each(|inner| self.put_inside_out(inner, seen, order));
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

/// Tells of every `goes in` that cannot be: a line that is not there or has no envelope, or lines that lie in each other.
/// `names` are those of all lines, those with mistakes too.
pub(super) fn check(lines: &[OrderLine], names: &BTreeMap<String, usize>, problems: &mut Problems) {
    let known: BTreeMap<&str, &OrderLine> =
        lines.iter().map(|line| (line.name.value.as_str(), line)).collect();
    for line in lines {
        let Some(host) = &line.goes_in else { continue };
        let problem = match known.get(host.value.as_str()) {
            None if names.contains_key(&host.value) => None,
            None => Some(unknown(line, host, names)),
            Some(_) if is_in_itself(line, &known) => Some(looped(line, host)),
            Some(other) => {
                without_envelope(line, host, other).or_else(|| unequal(line, host, other))
            }
        };
        problems.extend(problem);
    }
}

fn at(host: &Spanned<String>) -> Option<&Place> {
    host.place.as_ref()
}

fn unknown(line: &OrderLine, host: &Spanned<String>, names: &BTreeMap<String, usize>) -> Problem {
    let title = format!("`{}` goes in `{}`, which is no line", line.name.value, host.value);
    let label = match nearest(&host.value, names.keys().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected the name of another line of this file".to_owned(),
    };
    Problem::error(CODE, title).at(at(host), label)
}

/// Whether a line lies in itself, by whatever lines between.
fn is_in_itself(line: &OrderLine, known: &BTreeMap<&str, &OrderLine>) -> bool {
    let mut host = line.host();
    for _ in 0..known.len() {
        match host {
            Some(name) if name == line.name.value => return true,
            Some(name) => host = known.get(name).and_then(|line| line.host()),
            None => return false,
        }
    }
    false
}

fn looped(line: &OrderLine, host: &Spanned<String>) -> Problem {
    let title = format!("`{}` lies in itself", line.name.value);
    Problem::error(CODE, title)
        .at(at(host), "what it goes in goes in it")
        .help("clear this cell in the line whose envelope goes in the post")
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
