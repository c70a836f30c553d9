//! The papers that an order asks for.

use super::columns::COLUMNS;
use crate::diagnostics::{Place, Problem, Problems, Spanned, nearest};
use crate::table::{self, Cell, Row};
use std::collections::{BTreeMap, BTreeSet};

/// Papers joined by `|`, each once.
pub(super) fn read(cell: &Cell<'_>, problems: &mut Problems) -> Option<Spanned<Vec<String>>> {
    let mut papers: Vec<String> = Vec::new();
    let place = cell.place();
    for paper in cell.text().split('|').map(str::trim) {
        if paper.is_empty() {
            problems.push(
                Problem::error("order-paper", "a `|` without a paper on both sides")
                    .at(Some(&place), "expected papers joined by |, such as fern|moss"),
            );
            return None;
        }
        if papers.iter().any(|other| other == paper) {
            problems.push(
                Problem::warning("order-paper-doubled", format!("paper `{paper}` stands twice"))
                    .at(Some(&place_of((paper, '|'), &place)), "once is enough"),
            );
            continue;
        }
        papers.push(paper.to_owned());
    }
    Some(cell.spanned(papers))
}

/// Papers of layers joined by `+`, the lowest first; a name is empty where one is missing.
pub(super) fn layers(cell: &Cell<'_>) -> Vec<Spanned<String>> {
    let place = cell.place();
    let names = cell.text().split('+').map(str::trim);
    let spanned =
        |name: &str| Spanned { value: name.to_owned(), place: Some(place_of((name, '+'), &place)) };
    names.map(spanned).collect()
}

/// Tells of every paper in the bytes of an order's `file` that is not among `papers`, those of the
/// stock; also in lines with other mistakes, so that all of them come at once.
pub fn check_papers(file: &str, bytes: &[u8], papers: &BTreeSet<String>, problems: &mut Problems) {
    // Mistakes of the table were told when the order was read.
    let mut told = Problems::of_file(file);
    let table = table::read(file, bytes, &mut told);
    let columns = table.as_ref().and_then(|table| table.columns(&COLUMNS, &mut told));
    let Some(columns) = columns else { return };
    let mut found = Problems::of_file(file);
    let mut likely: BTreeMap<String, Option<&str>> = BTreeMap::new();
    for (paper, place) in columns.rows().flat_map(|row| asked(&row)) {
        if papers.contains(&paper) {
            continue;
        }
        let near = *likely
            .entry(paper.clone())
            .or_insert_with(|| nearest(&paper, papers.iter().map(String::as_str)));
        found.push(unknown(&paper, near, &place));
    }
    problems.append(found);
}

fn unknown(paper: &str, near: Option<&str>, place: &Place) -> Problem {
    let label = match near {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected a paper of the stock".to_owned(),
    };
    Problem::error("order-paper-unknown", format!("no sheet of paper `{paper}`"))
        .at(Some(place), label)
        .help("papers are named in the column `paper` of sheets.csv and offcuts.csv")
}

/// Every paper that a row asks for, and where.
fn asked(row: &Row<'_>) -> Vec<(String, Place)> {
    let mut papers = Vec::new();
    if let Some(cell) = row.cell("paper") {
        let place = cell.place();
        let names = cell.text().split('|').map(str::trim).filter(|name| !name.is_empty());
        let unique: BTreeSet<&str> = names.collect();
        papers.extend(
            unique.into_iter().map(|name| (name.to_owned(), place_of((name, '|'), &place))),
        );
    }
    let whole = |cell: Cell<'_>| (cell.text().to_owned(), cell.place());
    papers.extend(row.cell("liner").map(whole));
    let mats = row.cell("mat").map(|cell| layers(&cell)).unwrap_or_default();
    let mats = mats.into_iter().filter(|layer| !layer.value.is_empty());
    papers.extend(mats.filter_map(|layer| Some((layer.value, layer.place?))));
    papers.extend(row.cell("envelope").filter(|cell| !is_bought(cell)).map(whole));
    let extras = ["envelope liner", "insert", "band", "box"];
    papers.extend(extras.into_iter().filter_map(|column| row.cell(column)).map(whole));
    papers
}

/// Whether an envelope cell says that it is bought ready made.
pub(super) fn is_bought(cell: &Cell<'_>) -> bool {
    cell.text().eq_ignore_ascii_case("bought")
}

/// Where the last mention of `paper` stands in a cell of papers joined by `joint`.
fn place_of((paper, joint): (&str, char), cell: &Place) -> Place {
    let marked = cell.marked();
    let mut skip = 0;
    let mut best = None;
    for part in marked.split(joint) {
        let name = part.trim_matches(|letter: char| letter == '"' || letter.is_whitespace());
        if name == paper {
            let before = part.find(name).map_or(0, |at| part[..at].chars().count());
            best = Some(cell.narrowed(skip + before, name.chars().count()));
        }
        skip += part.chars().count() + 1;
    }
    best.unwrap_or_else(|| cell.clone())
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
    fn a_name_is_found_among_its_likes() {
        let cell = place("tag,4,\"fernleaf | fern|f\u{e9}rn\"", "\"fernleaf | fern|f\u{e9}rn\"");
        assert_eq!(place_of(("fern", '|'), &cell).marked(), "fern");
        assert_eq!(place_of(("fern", '|'), &cell).column, 19);
        assert_eq!(place_of(("fernleaf", '|'), &cell).column, 8);
        assert_eq!(place_of(("f\u{e9}rn", '|'), &cell).column, 24);
        assert_eq!(place_of(("moss", '|'), &cell), cell);
    }
}
