//! Parts of the schedule on paper.

use super::super::flow::Flow;
use super::super::plate::Marks;
use super::super::table::{TableCell, TableColumn, TableRow, named, strong, table, text};
use super::super::{EDGE, SMALL, STRONG, TEXT};
use super::count_cell;
use crate::reports::page::{ListCell, ListGroup, ListTable, Section};
use crate::reports::picture::{self, Canvas, Point};
use crate::reports::timetable::TimetableRows;

/// Puts a part of the schedule.
pub fn section(flow: &mut Flow, section: &Section, days: &TimetableRows) {
    if section.is_title_alone() {
        return flow.paragraph(section.title);
    }
    flow.heading(section.title);
    section.said.iter().for_each(|said| flow.paragraph(said));
    if section.has_timetable {
        timetable(flow, days);
    }
    if let Some(table) = &section.table {
        listed(flow, table, section.is_quiet);
    }
    section.more.iter().for_each(|said| flow.paragraph(said));
}

fn timetable(flow: &mut Flow, days: &TimetableRows) {
    let (_, height) = picture::timetable_size(days);
    let draw = |canvas: &mut dyn Canvas| picture::draw_timetable(days, canvas);
    let marks = Marks::of(flow.fonts, Point::default(), draw);
    flow.make_room(height);
    let y = flow.y;
    marks.into_iter().for_each(|mark| flow.put(mark.moved(EDGE, y)));
    flow.release();
    flow.y += height + 2.0;
}

fn listed(flow: &mut Flow, list: &ListTable, is_quiet: bool) {
    let tick = list.ticks.map(|_| TableColumn { head: String::new(), width: 6.0, right: false });
    let columns = list.columns.iter().map(|column| TableColumn {
        head: column.head.clone(),
        width: column.width.into(),
        right: column.is_numbers,
    });
    let columns: Vec<TableColumn> = tick.into_iter().chain(columns).collect();
    let mut rows: Vec<TableRow> =
        list.groups.iter().flat_map(|group| group_rows(list, group, is_quiet)).collect();
    if let Some((last, cells)) = list.foot.split_last() {
        let mut cells: Vec<TableCell> = cells.iter().map(|it| cell(it, is_quiet)).collect();
        cells.resize_with(columns.len() - 1, || text(""));
        cells.push(cell(last, is_quiet));
        rows.push(TableRow { band: Vec::new(), cells });
    }
    table(flow, &columns, &rows);
}

fn group_rows(list: &ListTable, group: &ListGroup, is_quiet: bool) -> Vec<TableRow> {
    let rows = group.rows.iter().map(|row| {
        let tick = list.ticks.map(|_| TableCell::Tick);
        let cells = row.cells.iter().map(|it| cell(it, is_quiet));
        TableRow { band: Vec::new(), cells: tick.into_iter().chain(cells).collect() }
    });
    let mut rows: Vec<TableRow> = rows.collect();
    if let (Some(first), Some(band)) = (rows.first_mut(), &group.band) {
        let word = (format!("{} ", band.word), TEXT);
        first.band = vec![word, (band.lines.join(",  "), STRONG)];
    }
    rows
}

fn cell(cell: &ListCell, is_quiet: bool) -> TableCell {
    let plain = |told: &String| match is_quiet {
        true => TableCell::Texts(vec![(told.clone(), SMALL)]),
        false => text(told),
    };
    match cell {
        ListCell::Blank | ListCell::Below => text(""),
        ListCell::Count(count) => count_cell(*count),
        ListCell::Name(name) | ListCell::Head(name) => strong(name),
        ListCell::Named { name, papers: Some(papers), size, .. } => {
            named(name, format!("{papers}, {size}"))
        }
        ListCell::Named { name, papers: None, size, .. } => named(name, size),
        ListCell::Text(told) | ListCell::Sentence(told) => plain(told),
        ListCell::Day(told) | ListCell::Number(told) => plain(told),
        ListCell::Told(what, why) => named(what, why),
        ListCell::List(parts) => {
            TableCell::Texts(parts.iter().map(|part| (format!("– {part}"), TEXT)).collect())
        }
        ListCell::Sum(sum) => strong(sum),
    }
}
