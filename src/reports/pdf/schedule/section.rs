//! Parts of the schedule on paper.

use super::super::flow::Flow;
use super::super::table::{TableCell, TableColumn, TableRow, named, strong, table, text};
use super::super::{STRONG, TEXT};
use super::count_cell;
use crate::reports::page::{ListCell, ListGroup, ListTable, Section};
use crate::reports::report::Report;

/// Puts a stage of the work as a piece that can be cut off the page and handed to a helper: whole, where it does not take
/// most of a page, and with the name of the order.
pub fn stage(flow: &mut Flow, it: &Section, report: &Report) {
    if it.way.is_none() {
        return section(flow, it);
    }
    let height = flow.height_of(|flow| section(flow, it));
    flow.release();
    flow.make_room(if height <= WHOLE * flow.height() { height + ABOVE } else { LEAST });
    flow.cut_here(&whose(it.id, report));
    section(flow, it);
}

/// Of which order a stage is, on which days, and how long it takes.
pub fn whose(stage: &str, report: &Report) -> String {
    let bar = report.timetable.bars.iter().find(|bar| bar.section == stage);
    let when = bar.map(|bar| format!(", {}, about {}", bar.when, bar.time));
    format!("{}{}", report.title, when.unwrap_or_default())
}

/// A stage that takes no more of a page than this is kept whole; of others, so much stays together.
const WHOLE: f64 = 0.4;
const LEAST: f64 = 30.0;
/// Room for the line above it.
const ABOVE: f64 = 6.0;

/// Puts a part of the schedule.
pub fn section(flow: &mut Flow, section: &Section) {
    if section.is_title_alone() {
        return flow.paragraph(section.title);
    }
    flow.heading(section.title);
    section.said.iter().for_each(|said| flow.paragraph(said));
    if let Some(table) = &section.table {
        listed(flow, table);
    }
    section.more.iter().for_each(|said| flow.paragraph(said));
}

fn listed(flow: &mut Flow, list: &ListTable) {
    let tick = list.ticks.map(|_| TableColumn { head: String::new(), width: 6.0, right: false });
    let columns = list.columns.iter().map(|column| TableColumn {
        head: column.head.clone(),
        width: column.width.into(),
        right: column.is_numbers,
    });
    let columns: Vec<TableColumn> = tick.into_iter().chain(columns).collect();
    let mut rows: Vec<TableRow> =
        list.groups.iter().flat_map(|group| group_rows(list, group)).collect();
    if let Some((last, cells)) = list.foot.split_last() {
        let mut cells: Vec<TableCell> = cells.iter().map(cell).collect();
        cells.resize_with(columns.len() - 1, || text(""));
        cells.push(cell(last));
        rows.push(TableRow { band: Vec::new(), cells });
    }
    table(flow, &columns, &rows);
}

fn group_rows(list: &ListTable, group: &ListGroup) -> Vec<TableRow> {
    let rows = group.rows.iter().map(|row| {
        let tick = list.ticks.map(|_| TableCell::Tick);
        let cells = row.cells.iter().map(cell);
        TableRow { band: Vec::new(), cells: tick.into_iter().chain(cells).collect() }
    });
    let mut rows: Vec<TableRow> = rows.collect();
    if let (Some(first), Some(band)) = (rows.first_mut(), &group.band) {
        let word = (band.word.to_owned(), TEXT);
        let lines = band.lines.iter().map(|line| (line.clone(), STRONG));
        first.band = std::iter::once(word).chain(lines).collect();
    }
    rows
}

fn cell(cell: &ListCell) -> TableCell {
    match cell {
        ListCell::Blank | ListCell::Below => text(""),
        ListCell::Count(count) => count_cell(*count),
        ListCell::Name(name) | ListCell::Head(name) => strong(name),
        ListCell::Named { name, papers: Some(papers), size, .. } => {
            named(name, format!("{papers}, {size}"))
        }
        ListCell::Named { name, papers: None, size, .. } => named(name, size),
        ListCell::Text(told) | ListCell::Sentence(told) => text(told),
        ListCell::Day(told) | ListCell::Number(told) => text(told),
        ListCell::Told(what, why) => named(what, why),
        ListCell::List(parts) => {
            TableCell::Beside(parts.iter().map(|part| (format!("– {part}"), TEXT)).collect())
        }
        ListCell::Sum(sum) => strong(sum),
    }
}
