//! Tables: rows stay whole, heads are repeated, and a band stays with the row below it.

use super::flow::Flow;
use super::{EDGE, Mark, SMALL, STRONG, Style, TEXT};
use crate::reports::picture::{Colour, Fill, Panel, Point, Rectangle, Stroke};
use crate::reports::visible::shown;

/// Room around the text of a cell.
const PAD: f64 = 1.2;
/// Side of a box to tick.
const TICK: f64 = 3.4;
/// Lines of one text in a cell, at most: a row is never higher than a page.
const MOST_LINES: usize = 30;

/// A column: its head, its width (0 for what is left over), and whether it lines up on the right.
pub(super) struct TableColumn {
    pub head: String,
    pub width: f64,
    pub right: bool,
}

pub(super) fn column(head: &str, width: f64) -> TableColumn {
    TableColumn { head: head.to_owned(), width, right: false }
}

/// What stands in a cell.
pub(super) enum TableCell {
    /// Texts below each other.
    Texts(Vec<(String, Style)>),
    /// A box to tick.
    Tick,
    /// A number on a black disc.
    Disc(u32),
}

pub(super) fn text(text: impl Into<String>) -> TableCell {
    TableCell::Texts(vec![(text.into(), TEXT)])
}

pub(super) fn strong(text: impl Into<String>) -> TableCell {
    TableCell::Texts(vec![(text.into(), STRONG)])
}

/// A strong text with a quiet one below it.
pub(super) fn named(name: impl Into<String>, below: impl Into<String>) -> TableCell {
    TableCell::Texts(vec![(name.into(), STRONG), (below.into(), SMALL)])
}

pub(super) struct TableRow {
    /// Text over the whole width above the row, in parts; it holds for the rows below it, too, and is
    /// said again on the next page.
    pub band: Vec<(String, Style)>,
    pub cells: Vec<TableCell>,
}

pub(super) fn row(cells: Vec<TableCell>) -> TableRow {
    TableRow { band: Vec::new(), cells }
}

/// A row, ready to be put: its height, and its lines by cell.
struct LaidRow {
    height: f64,
    cells: Vec<Vec<(String, Style)>>,
}

/// Puts a table.
pub(super) fn table(flow: &mut Flow, columns: &[TableColumn], rows: &[TableRow]) {
    let fixed: f64 = columns.iter().map(|column| column.width).sum();
    let open = columns.iter().filter(|column| column.width == 0.0).count().max(1);
    let rest = (flow.width() - fixed) / open as f64;
    let widths: Vec<f64> = columns
        .iter()
        .map(|column| if column.width == 0.0 { rest } else { column.width })
        .collect();
    let first = rows.first().map_or(0.0, |row| band(&row.band) + laid(flow, row, &widths).height);
    flow.make_room(head_height() + first);
    flow.release();
    head(flow, columns, &widths);
    let mut holds: &[(String, Style)] = &[];
    for row in rows {
        let laid = laid(flow, row, &widths);
        let page = flow.y;
        flow.make_room(band(&row.band) + laid.height);
        if flow.y < page {
            head(flow, columns, &widths);
            if row.band.is_empty() {
                put_band(flow, holds);
            }
        }
        if !row.band.is_empty() {
            holds = &row.band;
            put_band(flow, holds);
        }
        put(flow, row, &laid, columns, &widths);
    }
    flow.y += 1.5;
}

fn band(texts: &[(String, Style)]) -> f64 {
    let highest = texts.iter().map(|(_, style)| style.leading()).fold(0.0, f64::max);
    if texts.is_empty() { 0.0 } else { highest + 2.0 * PAD + 1.0 }
}

fn put_band(flow: &mut Flow, texts: &[(String, Style)]) {
    let height = band(texts);
    let mut x = EDGE;
    for (text, style) in texts {
        let text = shown(text);
        flow.text(Point::new(x, flow.y + height - PAD - 1.2), &text, *style);
        x += flow.fonts.width(&text, style);
    }
    flow.y += height;
    if height > 0.0 {
        line(flow, 0.5);
    }
}

fn head_height() -> f64 {
    SMALL.leading() + 2.0 * PAD
}

fn head(flow: &mut Flow, columns: &[TableColumn], widths: &[f64]) {
    flow.y += head_height();
    let mut x = EDGE;
    for (column, width) in columns.iter().zip(widths) {
        let at = x + offset(flow, column, *width, &column.head, &SMALL);
        flow.text(Point::new(at, flow.y - PAD - 0.4), &column.head, SMALL);
        x += width;
    }
    line(flow, 0.5);
}

fn line(flow: &mut Flow, width: f64) {
    let (y, right) = (flow.y, EDGE + flow.width());
    flow.put(Mark::line([EDGE, y, right, y], Stroke::ink(width)));
}

fn laid(flow: &Flow, row: &TableRow, widths: &[f64]) -> LaidRow {
    let lines = |(cell, width): (&TableCell, &f64)| match cell {
        TableCell::Texts(texts) => {
            let lines =
                |(text, style): &(String, Style)| lines(flow, text, *style, width - 2.0 * PAD);
            texts.iter().flat_map(lines).collect()
        }
        TableCell::Tick | TableCell::Disc(_) => Vec::new(),
    };
    let cells: Vec<Vec<(String, Style)>> = row.cells.iter().zip(widths).map(lines).collect();
    let height = |lines: &Vec<(String, Style)>| -> f64 {
        lines.iter().map(|(_, style)| style.leading()).sum()
    };
    let highest = cells.iter().map(height).fold(TICK + 0.8, f64::max);
    LaidRow { height: highest + 2.0 * PAD, cells }
}

fn lines(flow: &Flow, text: &str, style: Style, width: f64) -> Vec<(String, Style)> {
    let mut lines = flow.fonts.lines(text, &style, width);
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES - 1);
        lines.push("…".to_owned());
    }
    lines.into_iter().map(|line| (line, style)).collect()
}

fn put(flow: &mut Flow, row: &TableRow, laid: &LaidRow, columns: &[TableColumn], widths: &[f64]) {
    let top = flow.y + PAD;
    let mut x = EDGE;
    for (((cell, lines), column), width) in
        row.cells.iter().zip(&laid.cells).zip(columns).zip(widths)
    {
        match cell {
            TableCell::Tick => {
                let area = Rectangle { x: x + 0.4, y: top + 0.4, width: TICK, height: TICK };
                let stroke = Some(Stroke::ink(0.35));
                flow.put(Mark::Panel(Panel { stroke, ..Panel::filled(area, Fill::Empty) }));
            }
            TableCell::Disc(number) => disc(flow, x + PAD, top, *number),
            TableCell::Texts(_) => {
                let mut y = top;
                for (line, style) in lines {
                    let at = x + offset(flow, column, *width, line, style);
                    y = flow.line(Point::new(at, y), line, *style);
                }
            }
        }
        x += width;
    }
    flow.y += laid.height;
    line(flow, 0.12);
}

/// How far right of its column's edge a text begins.
fn offset(flow: &Flow, column: &TableColumn, width: f64, text: &str, style: &Style) -> f64 {
    match column.right {
        true => width - PAD - flow.fonts.width(text, style),
        false => PAD,
    }
}

fn disc(flow: &mut Flow, x: f64, y: f64, number: u32) {
    let (text, style) = (number.to_string(), Style { colour: Colour::WHITE, ..STRONG });
    let width = flow.fonts.width(&text, &style) + 2.4;
    let area = Rectangle { x, y, width, height: 4.4 };
    flow.put(Mark::Panel(Panel::filled(area, Fill::Plain(Colour::INK, 1.0))));
    flow.text(Point::new(x + 1.2, y + 3.4), &text, style);
}

#[cfg(test)]
mod tests {
    use super::super::fonts::Fonts;
    use super::super::{SMALL, extent};
    use super::*;
    use crate::workshop::PageSize;
    use proptest::prelude::*;
    use std::collections::{BTreeMap, BTreeSet};

    /// A row whose texts all begin with its number.
    fn numbered(number: usize, words: &[usize], banded: bool) -> TableRow {
        let filled = |count: &usize| {
            let words = vec![format!("#{number}#"); (*count).max(1)];
            TableCell::Texts(vec![(words.join(" "), TEXT), (format!("#{number}#"), SMALL)])
        };
        let mut cells = vec![TableCell::Tick];
        cells.extend(words.iter().map(filled));
        let band = if banded { vec![(format!("band {number}"), STRONG)] } else { Vec::new() };
        TableRow { band, cells }
    }

    proptest! {
        #[test]
        fn no_row_is_split_and_nothing_leaves_its_page(
            rows in prop::collection::vec((prop::array::uniform2(0_usize..300), any::<bool>()), 1..30),
            a4 in any::<bool>(),
        ) {
            let page = if a4 { PageSize::A4 } else { PageSize::Letter };
            let fonts = Fonts::new().unwrap();
            let mut flow = Flow::new(page, &fonts);
            let given: Vec<TableRow> = rows
                .iter()
                .enumerate()
                .map(|(number, (words, banded))| numbered(number, words, *banded))
                .collect();
            table(&mut flow, &[column("", 6.0), column("A", 80.0), column("B", 0.0)], &given);
            let (width, height) = extent(page);
            let mut pages: BTreeMap<String, BTreeSet<usize>> = BTreeMap::new();
            for (number, marks) in flow.finish().iter().enumerate() {
                for mark in marks {
                    let Mark::Text { at: Point { x, y }, text, style } = mark else { continue };
                    prop_assert!(*y < height - 10.0 && *y > EDGE, "{text} at {y}");
                    prop_assert!(x + fonts.width(text, style) < width - EDGE + 0.01, "{text}");
                    if let Some(word) = text.split(' ').find(|word| word.starts_with('#')) {
                        pages.entry(word.to_owned()).or_default().insert(number);
                    }
                }
            }
            prop_assert_eq!(pages.len(), given.len());
            for (row, pages) in pages {
                prop_assert_eq!(pages.len(), 1, "row {} is split", row);
            }
        }
    }
}
