//! Tables: rows stay whole, heads are repeated, and a band stays with the row below it.

use super::flow::Flow;
use super::{EDGE, Mark, SMALL, STRONG, Style, TEXT};
use crate::reports::picture::{Colour, Fill, Panel, Point, Rectangle, Stroke};
use crate::reports::visible::shown;

/// Room beside the text of a cell, and above and below it.
const PAD: f64 = 1.0;
const LEAD: f64 = 0.55;
/// Between two texts beside each other.
const SPACE: f64 = 2.0;
/// Side of a box to tick.
const TICK: f64 = 3.0;
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
    /// Texts beside each other, as long as there is room.
    Beside(Vec<(String, Style)>),
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

/// A strong text with a quiet one beside it.
pub(super) fn named(name: impl Into<String>, told: impl Into<String>) -> TableCell {
    TableCell::Beside(vec![(name.into(), STRONG), (told.into(), SMALL)])
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
    cells: Vec<Vec<TableLine>>,
}

/// Texts beside each other.
type TableLine = Vec<(String, Style)>;

/// The height of a line.
fn leading(line: &TableLine) -> f64 {
    line.iter().map(|(_, style)| style.leading()).fold(0.0, f64::max)
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
    let first =
        rows.first().map_or(0.0, |row| band(flow, &row.band) + laid(flow, row, &widths).height);
    flow.make_room(head_height() + first);
    flow.release();
    head(flow, columns, &widths);
    let mut holds: &[(String, Style)] = &[];
    for row in rows {
        let laid = laid(flow, row, &widths);
        let page = flow.y;
        flow.make_room(band(flow, &row.band) + laid.height);
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

/// The lines of a band.
fn band_lines(flow: &Flow, texts: &[(String, Style)]) -> Vec<TableLine> {
    beside(flow, texts, flow.width() - 2.0 * PAD)
}

fn band(flow: &Flow, texts: &[(String, Style)]) -> f64 {
    let lines: f64 = band_lines(flow, texts).iter().map(leading).sum();
    if texts.is_empty() { 0.0 } else { lines + 2.0 * LEAD + 0.6 }
}

fn put_band(flow: &mut Flow, texts: &[(String, Style)]) {
    if texts.is_empty() {
        return;
    }
    let (column, width) = (column("", 0.0), flow.width());
    flow.y += LEAD + 0.6;
    for text in band_lines(flow, texts) {
        let corner = Point::new(EDGE - PAD, flow.y);
        put_line(flow, corner, &text, &WideColumn { column: &column, width });
        flow.y += leading(&text);
    }
    flow.y += LEAD;
    line(flow, 0.5);
}

fn head_height() -> f64 {
    SMALL.leading() + 2.0 * LEAD
}

fn head(flow: &mut Flow, columns: &[TableColumn], widths: &[f64]) {
    flow.y += head_height();
    let mut x = EDGE;
    for (column, width) in columns.iter().zip(widths) {
        let at = x + offset(flow, column, *width, &column.head, &SMALL);
        flow.text(Point::new(at, flow.y - LEAD - 0.6), &column.head, SMALL);
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
            let alone =
                |(text, style): &(String, Style)| wrapped(flow, text, *style, width - 2.0 * PAD);
            shortened(texts.iter().flat_map(alone).collect())
        }
        TableCell::Beside(texts) => shortened(beside(flow, texts, width - 2.0 * PAD)),
        TableCell::Tick | TableCell::Disc(_) => Vec::new(),
    };
    let cells: Vec<Vec<TableLine>> = row.cells.iter().zip(widths).map(lines).collect();
    let height = |lines: &Vec<TableLine>| -> f64 { lines.iter().map(leading).sum() };
    let highest = cells.iter().map(height).fold(TICK + 0.6, f64::max);
    LaidRow { height: highest + 2.0 * LEAD, cells }
}

/// Texts beside each other, on the next line where there is no room.
fn beside(flow: &Flow, texts: &[(String, Style)], room: f64) -> Vec<TableLine> {
    let mut lines: Vec<TableLine> = Vec::new();
    let mut taken = room;
    for text in texts.iter().filter(|(text, _)| !text.is_empty()) {
        let width = flow.fonts.width(&shown(&text.0), &text.1);
        match lines.last_mut().filter(|_| taken + SPACE + width <= room) {
            Some(line) => {
                line.push(text.clone());
                taken += SPACE + width;
            }
            None => {
                lines.extend(wrapped(flow, &text.0, text.1, room));
                taken = if width <= room { width } else { room };
            }
        }
    }
    lines
}

fn wrapped(flow: &Flow, text: &str, style: Style, width: f64) -> Vec<TableLine> {
    flow.fonts.lines(text, &style, width).into_iter().map(|line| vec![(line, style)]).collect()
}

fn shortened(mut lines: Vec<TableLine>) -> Vec<TableLine> {
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES - 1);
        lines.push(vec![("…".to_owned(), TEXT)]);
    }
    lines
}

fn put(flow: &mut Flow, row: &TableRow, laid: &LaidRow, columns: &[TableColumn], widths: &[f64]) {
    let top = flow.y + LEAD;
    let mut x = EDGE;
    for (((cell, lines), column), width) in
        row.cells.iter().zip(&laid.cells).zip(columns).zip(widths)
    {
        match cell {
            TableCell::Tick => {
                let area = Rectangle { x: x + 0.4, y: top + 0.3, width: TICK, height: TICK };
                let stroke = Some(Stroke::ink(0.35));
                flow.put(Mark::Panel(Panel { stroke, ..Panel::filled(area, Fill::Empty) }));
            }
            TableCell::Disc(number) => disc(flow, x + PAD, top, *number),
            TableCell::Texts(_) | TableCell::Beside(_) => {
                let mut y = top;
                for line in lines {
                    put_line(flow, Point::new(x, y), line, &WideColumn { column, width: *width });
                    y += leading(line);
                }
            }
        }
        x += width;
    }
    flow.y += laid.height;
    line(flow, 0.12);
}

/// A column as wide as it is.
struct WideColumn<'a> {
    column: &'a TableColumn,
    width: f64,
}

/// Puts texts beside each other, all on one base line.
fn put_line(flow: &mut Flow, corner: Point, line: &TableLine, cell: &WideColumn) {
    let largest = line.iter().map(|(_, style)| style.size).fold(0.0, f64::max);
    let base = corner.y + leading(line) - 0.3 * largest;
    let mut x = corner.x;
    for (at, (text, style)) in line.iter().enumerate() {
        if at == 0 {
            x += offset(flow, cell.column, cell.width, text, style);
        }
        flow.text(Point::new(x, base), text, *style);
        x += flow.fonts.width(&shown(text), style) + SPACE;
    }
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
    let area = Rectangle { x, y, width, height: 4.0 };
    flow.put(Mark::Panel(Panel::filled(area, Fill::Plain(Colour::INK, 1.0))));
    flow.text(Point::new(x + 1.2, y + 3.1), &text, style);
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
