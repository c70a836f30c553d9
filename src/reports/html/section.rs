//! Parts of the schedule as markup.

use super::tick_box;
use crate::reports::breaks;
use crate::reports::page::{
    ListCell, ListColumn, ListGroup, ListRow, ListTable, RowsHead, Section, Ticks,
};
use crate::reports::svg;
use crate::reports::visible::escaped;

/// A part of the schedule; `timetable` draws the timetable.
pub fn markup(section: &Section, timetable: impl Fn() -> String) -> String {
    let Section { id, title, said, more, .. } = section;
    if section.is_title_alone() {
        return format!("<p id=\"{id}\" class=\"nothing\">{}</p>\n", escaped(title));
    }
    let class = if section.is_quiet { format!(" class=\"{id}\"") } else { String::new() };
    let mut text = format!(
        "<section id=\"{id}\"{class} aria-labelledby=\"{id}-h\">\n<h2 id=\"{id}-h\">{}</h2>\n",
        escaped(title)
    );
    said.iter().for_each(|said| text += &paragraph(said));
    if section.has_timetable {
        text += &timetable();
        text.push('\n');
    }
    text += &section.table.as_ref().map(listed).unwrap_or_default();
    more.iter().for_each(|said| text += &paragraph(said));
    text + "</section>\n"
}

fn paragraph(said: &str) -> String {
    format!("<p>{}</p>\n", escaped(said))
}

fn listed(table: &ListTable) -> String {
    let class = if table.is_money { " class=\"money\"" } else { "" };
    let tick = "<th scope=\"col\" class=\"t\"><span class=\"unseen\">done</span></th>";
    let tick = if table.ticks.is_some() { tick } else { "" };
    let heads: String = table.columns.iter().map(head).collect();
    let groups: String = (1..).zip(&table.groups).map(|(at, it)| group(table, at, it)).collect();
    let foot = foot(table);
    let text =
        format!("<table{class}>\n<thead><tr>{tick}{heads}</tr></thead>\n{groups}{foot}</table>\n");
    match table.wide {
        Some(name) => format!(
            "<div class=\"wide-table\" tabindex=\"0\" role=\"region\" aria-label=\"{name}\">\n{text}</div>\n"
        ),
        None => text,
    }
}

fn head(column: &ListColumn) -> String {
    let class = if column.is_numbers { " class=\"n\"" } else { "" };
    format!("<th scope=\"col\"{class}>{}</th>", escaped(&column.head))
}

fn group(table: &ListTable, number: usize, group: &ListGroup) -> String {
    let mut text = "<tbody>\n".to_owned();
    if let Some(RowsHead { word, lines }) = &group.band {
        let at = |line: &String| format!("<span class=\"at\">{}</span> ", escaped(&unbroken(line)));
        let (across, lines) = (width(table), lines.iter().map(at).collect::<String>());
        text += &format!(
            "<tr class=\"setting\"><th scope=\"rowgroup\" colspan=\"{across}\">{word} {lines}</th></tr>\n"
        );
    }
    // Where rows are grouped, each group counts its own.
    let part = group.band.as_ref().map(|_| format!("{number}-")).unwrap_or_default();
    for (row, at) in group.rows.iter().zip(1..) {
        let tick = table.ticks.map(|ticks| tick(ticks, row, &format!("{part}{at}")));
        let cells = row.cells.iter().map(|it| cell(it, group));
        text += &format!("<tr>{}{}</tr>\n", tick.unwrap_or_default(), cells.collect::<String>());
    }
    text + "</tbody>\n"
}

fn tick(Ticks { list, done }: Ticks, row: &ListRow, number: &str) -> String {
    let tick = tick_box(&format!("{list}-{number}"), &format!("{done}: {}", row.of));
    format!("<td class=\"t\">{tick}</td>")
}

/// Columns of a table, that of the ticks too.
fn width(table: &ListTable) -> usize {
    table.columns.len() + usize::from(table.ticks.is_some())
}

fn foot(table: &ListTable) -> String {
    let Some((last, cells)) = table.foot.split_last() else { return String::new() };
    let none = ListGroup::default();
    let cells: String = cells.iter().map(|it| cell(it, &none)).collect();
    let mut last = cell(last, &none);
    let room = width(table) + 1 - table.foot.len();
    if room > 1 {
        last = last.replacen('>', &format!(" colspan=\"{room}\">"), 1);
    }
    format!("<tfoot><tr>{cells}{last}</tr></tfoot>\n")
}

fn cell(cell: &ListCell, group: &ListGroup) -> String {
    let td = |class: &str, text: String| match class {
        "" => format!("<td>{text}</td>"),
        class => format!("<td class=\"{class}\">{text}</td>"),
    };
    let li = |part: &String| format!("<li>{}</li>", escaped(&unbroken(part)));
    match cell {
        ListCell::Blank => td("", String::new()),
        ListCell::Below => String::new(),
        ListCell::Count(count) => td("n big", count.to_string()),
        ListCell::Name(name) => format!("<th scope=\"row\">{}</th>", joints(name)),
        ListCell::Named { fill, name, papers, size } => {
            let fill = fill.map(|fill| svg::swatch(fill) + " ").unwrap_or_default();
            let papers = papers.as_ref().map(|it| escaped(it) + ", ").unwrap_or_default();
            let (name, size) = (joints(name), escaped(size));
            format!(
                "<th scope=\"row\">{fill}{name}&ensp;<small>{papers}<span class=\"size\">{size}</span></small></th>"
            )
        }
        ListCell::Head(head) => {
            let rows = group.rows.len();
            format!("<th scope=\"rowgroup\" rowspan=\"{rows}\">{}</th>", escaped(head))
        }
        ListCell::Text(text) => td("", escaped(text)),
        ListCell::Sentence(text) => td("", escaped(&unbroken(text))),
        ListCell::Told(what, why) if why.is_empty() => td("", format!("<b>{}</b>", escaped(what))),
        ListCell::Told(what, why) => {
            let why = escaped(&unbroken(why));
            td("", format!("<b>{}</b><small>{why}</small>", escaped(what)))
        }
        ListCell::List(parts) => {
            let parts: String = parts.iter().map(li).collect();
            td("", format!("<ul class=\"holds\">{parts}</ul>"))
        }
        ListCell::Day(day) => td("due", escaped(day)),
        ListCell::Number(number) => td("n", escaped(number)),
        ListCell::Sum(sum) => td("n big", escaped(sum)),
    }
}

/// A name that may be broken behind its joints.
pub fn joints(name: &str) -> String {
    breaks::joints(name).map(escaped).collect::<Vec<_>>().join("<wbr>")
}

/// The text with its lengths and sizes held together.
pub fn unbroken(text: &str) -> String {
    let mut held = String::new();
    let mut before = None;
    for word in text.split(' ') {
        held.push_str(match before {
            None => "",
            Some(before) if breaks::go_together(before, word) => "\u{a0}",
            Some(_) => " ",
        });
        held.push_str(word);
        before = Some(word);
    }
    held
}
