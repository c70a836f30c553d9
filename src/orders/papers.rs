//! The papers that an order asks for.

use super::Envelope;
use super::columns::COLUMNS;
use crate::diagnostics::{Place, Problem, Problems, Spanned, nearest};
use crate::formats;
use crate::table::{self, Cell, Row};
use std::collections::{BTreeMap, BTreeSet};

/// Papers joined by `|`, each once.
pub(super) fn read(cell: &Cell<'_>, problems: &mut Problems) -> Option<Spanned<Vec<String>>> {
    let mut papers: Vec<String> = Vec::new();
    for Spanned { value: paper, place } in parts(cell, '|') {
        if paper.is_empty() {
            problems.push(
                Problem::error("order-paper", "a `|` needs a paper on both sides")
                    .at(Some(&cell.place()), "expected papers joined by |, such as fern|moss"),
            );
            return None;
        }
        if papers.contains(&paper) {
            problems.push(
                Problem::warning("order-paper-doubled", format!("paper `{paper}` appears twice"))
                    .at(place.as_ref(), "once is enough"),
            );
            continue;
        }
        papers.push(paper);
    }
    Some(cell.spanned(papers))
}

/// Papers of layers joined by `+`, the lowest first; a name is empty where one is missing.
pub(super) fn layers(cell: &Cell<'_>) -> Vec<Spanned<String>> {
    parts(cell, '+')
}

/// The names in a cell that are joined by `joint`, each where it stands; empty where one is missing.
fn parts(cell: &Cell<'_>, joint: char) -> Vec<Spanned<String>> {
    let whole = cell.place();
    let written = written(&whole, joint);
    let names = cell.text().split(joint).map(str::trim).enumerate();
    let spanned = |(at, name): (usize, &str)| {
        // A cell with quotes or line breaks in it is marked as a whole.
        let own = written.get(at).filter(|(written, _)| written == name);
        let place = own.map_or_else(|| whole.clone(), |(_, place)| place.clone());
        Spanned { value: name.to_owned(), place: Some(place) }
    };
    names.map(spanned).collect()
}

/// The parts of a cell as they are written, each with its place.
fn written(cell: &Place, joint: char) -> Vec<(String, Place)> {
    let mut skip = 0;
    let mut part = |part: &str| {
        let is_edge = |letter: char| letter == '"' || letter.is_whitespace();
        let name = part.trim_matches(is_edge);
        let length = part.chars().count();
        let before = length - part.trim_start_matches(is_edge).chars().count();
        let place = cell.narrowed(skip + before, name.chars().count());
        skip += length + 1;
        (name.to_owned(), place)
    };
    cell.marked().split(joint).map(&mut part).collect()
}

/// What the stock has, by name.
#[derive(Clone, Debug)]
pub struct StockNames {
    /// Papers.
    pub papers: BTreeSet<String>,
    /// Bought envelopes.
    pub envelopes: BTreeSet<String>,
}

/// Tells of every paper in the bytes of an order's `file` that is not in the stock, nor a bought envelope where that may
/// stand; also in lines with other mistakes, so that all of them come at once.
pub fn check_papers(file: &str, bytes: &[u8], names: &StockNames, problems: &mut Problems) {
    let StockNames { papers, envelopes } = names;
    // Mistakes of the table were told when the order was read.
    let mut told = Problems::of_file(file);
    let table = table::read(file, bytes, &mut told);
    let columns = table.as_ref().and_then(|table| table.columns(&COLUMNS, &mut told));
    let Some(columns) = columns else { return };
    let mut found = Problems::of_file(file);
    let mut likely: BTreeMap<String, Option<&str>> = BTreeMap::new();
    for asked in columns.rows().flat_map(|row| asked(&row)) {
        let is_bought = asked.is_envelope && envelopes.contains(&asked.paper);
        if papers.contains(&asked.paper) || is_bought {
            continue;
        }
        let near = *likely
            .entry(asked.paper.clone())
            .or_insert_with(|| nearest(&asked.paper, papers.iter().map(String::as_str)));
        let words = NO_PAPERS.iter().map(|(word, _)| *word);
        let words = words.chain(envelopes.iter().map(String::as_str));
        let near = near.or_else(|| nearest(&asked.paper, words).filter(|_| asked.is_envelope));
        found.push(unknown(&asked, near));
    }
    problems.append(found);
}

fn unknown(asked: &AskedPaper, near: Option<&str>) -> Problem {
    let AskedPaper { paper, place, is_envelope } = asked;
    let problem = Problem::error("order-paper-unknown", format!("unknown paper `{paper}`"));
    // The papers of a card are asked for one by one.
    if paper.contains('|') {
        return problem.at(Some(place), "expected a single paper").help(
            "only the card itself can take either of two papers, joined by | in the column \
             `paper`: name one here",
        );
    }
    let label = match near {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected a paper listed in sheets.csv or offcuts.csv".to_owned(),
    };
    let problem = problem
        .at(Some(place), label)
        .help("write its name as in the column `paper` of sheets.csv, or add it there");
    match is_envelope {
        true => problem.help(
            "or write `bought`, or an envelope of envelopes.csv; leave the cell blank for a card \
                 without an envelope",
        ),
        false => problem,
    }
}

/// A paper that a row asks for.
struct AskedPaper {
    paper: String,
    place: Place,
    /// Whether an envelope is to be cut from it.
    is_envelope: bool,
}

/// The columns that ask for papers, and what joins several.
const ASKING: [(&str, Option<char>); 8] = [
    ("paper", Some('|')),
    ("liner", None),
    ("mat", Some('+')),
    ("envelope", None),
    ("envelope liner", None),
    ("insert", None),
    ("band", None),
    ("box", None),
];

/// Every paper that a row asks for, and where; once where a cell names it twice.
fn asked(row: &Row<'_>) -> Vec<AskedPaper> {
    let mut papers = Vec::new();
    for (column, joint) in ASKING {
        let Some(cell) = row.cell(column) else { continue };
        let own = match joint {
            Some(joint) => parts(&cell, joint),
            None if column == "envelope" && no_paper(&cell).is_some() => continue,
            None => vec![cell.spanned(cell.text().to_owned())],
        };
        let mut seen = BTreeSet::from([String::new()]);
        let own = own.into_iter().filter(|paper| seen.insert(paper.value.clone()));
        papers.extend(own.filter_map(|paper| {
            let is_envelope = column == "envelope";
            Some(AskedPaper { paper: paper.value, place: paper.place?, is_envelope })
        }));
    }
    papers
}

/// What may stand in the place of an envelope's paper.
const NO_PAPERS: [(&str, Envelope); 2] =
    [("bought", Envelope::Bought), ("posted without", Envelope::PostedWithout)];

/// What an envelope cell says that names no paper.
pub(super) fn no_paper(cell: &Cell<'_>) -> Option<Envelope> {
    let said = formats::plain(cell.text());
    NO_PAPERS.into_iter().find_map(|(word, envelope)| (word == said).then_some(envelope))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(text: &str, marked: &str) -> Place {
        let column = text[..text.find(marked).unwrap()].chars().count() + 1;
        let length = marked.chars().count();
        Place { file: "orders/spring.csv".into(), line: 2, column, length, text: text.into() }
    }

    #[test]
    fn each_part_stands_where_it_is_written() {
        let parts = |text: &str, marked: &str| -> Vec<(String, usize)> {
            let written = written(&place(text, marked), '|').into_iter();
            written
                .map(|(name, place)| {
                    assert_eq!(place.marked(), name);
                    (name, place.column)
                })
                .collect()
        };
        let of = |name: &str, column| (name.to_owned(), column);
        assert_eq!(
            parts("tag,4,\"fernleaf | fern|f\u{e9}rn\"", "\"fernleaf | fern|f\u{e9}rn\""),
            [of("fernleaf", 8), of("fern", 19), of("f\u{e9}rn", 24)]
        );
        assert_eq!(parts("tag,4,fern|fern", "fern|fern"), [of("fern", 7), of("fern", 12)]);
    }
}
