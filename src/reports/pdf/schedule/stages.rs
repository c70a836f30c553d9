//! What follows the trimmer: counting, scoring, folding, packing, putting away; then time and proof.

use super::super::flow::Flow;
use super::super::plate::Marks;
use super::super::table::{TableCell, TableRow, column, named, numbers, row, strong, table, text};
use super::super::{EDGE, SMALL, STRONG, TEXT};
use super::tick_and_count;
use crate::diagnostics::counted;
use crate::reports::picture::{self, Canvas, Point};
use crate::reports::quote::Amounts;
use crate::reports::report::Report;
use crate::reports::words;

pub fn count(flow: &mut Flow, report: &Report) {
    flow.heading("Count before you go on");
    let rows: Vec<TableRow> = report
        .pieces
        .iter()
        .map(|piece| {
            let [tick, count] = tick_and_count(piece.cut);
            let below = format!("{}, {}", piece.papers.join(" or "), piece.size);
            let spares = (piece.cut - piece.need).to_string();
            let [need, spares] = [piece.need.to_string(), spares].map(text);
            row(vec![tick, count, named(&piece.piece, below), need, spares])
        })
        .collect();
    let columns = [
        column("", 6.0),
        numbers("There are", 20.0),
        column("Of", 0.0),
        numbers("Ordered", 22.0),
        numbers("Spares", 22.0),
    ];
    table(flow, &columns, &rows);
}

pub fn finishing(flow: &mut Flow, report: &Report) {
    if !report.scoring.is_empty() {
        flow.heading("Score");
        flow.paragraph(words::SCORE);
        let mut rows = Vec::new();
        for setting in &report.scoring {
            let first = rows.len();
            for scored in &setting.rows {
                let [tick, count] = tick_and_count(scored.count);
                let lines = text(counted(setting.lines.len() as u64, "line"));
                rows.push(row(vec![tick, count, named(&scored.piece, &scored.size), lines]));
            }
            let at = (setting.lines.join(",  "), STRONG);
            if let Some(first) = rows.get_mut(first) {
                first.band = vec![("Score at ".to_owned(), TEXT), at];
            }
        }
        table(
            flow,
            &[column("", 6.0), numbers("Pieces", 18.0), column("Of", 0.0), column("Lines", 26.0)],
            &rows,
        );
    }
    for list in &report.work {
        flow.heading(list.title);
        if list.by_hand {
            flow.paragraph(&words::BY_HAND.join(" "));
        }
        let rows: Vec<TableRow> = list
            .rows
            .iter()
            .map(|work| {
                let [tick, count] = tick_and_count(work.count);
                row(vec![tick, count, named(&work.piece, &work.size), text(&work.what)])
            })
            .collect();
        let columns = [
            column("", 6.0),
            numbers("Pieces", 18.0),
            column("Of", 52.0),
            column("What to do", 0.0),
        ];
        table(flow, &columns, &rows);
    }
}

pub fn packing(flow: &mut Flow, report: &Report) {
    if report.packing.is_empty() {
        return;
    }
    flow.heading("Pack");
    let rows: Vec<TableRow> = report
        .packing
        .iter()
        .map(|packed| {
            let [tick, count] = tick_and_count(packed.count);
            let holds = packed.contents.iter().map(|part| (format!("– {part}"), TEXT));
            let due = text(packed.due.clone().unwrap_or_default());
            let holds = TableCell::Texts(holds.collect());
            row(vec![tick, count, strong(&packed.line), holds, due, text(&packed.note)])
        })
        .collect();
    let columns = [
        column("", 6.0),
        numbers("Sets", 16.0),
        column("Line", 32.0),
        column("Each holds", 0.0),
        column("Due", 24.0),
        column("Note", 36.0),
    ];
    table(flow, &columns, &rows);
}

pub fn drawer(flow: &mut Flow, report: &Report) {
    if report.drawer.is_empty() {
        return;
    }
    flow.heading("Put away in the drawer");
    flow.paragraph(words::DRAWER);
    let rows: Vec<TableRow> = report
        .drawer
        .iter()
        .map(|kept| {
            let [tick, count] = tick_and_count(kept.count);
            let below = format!("{}, {}", kept.paper, kept.size);
            row(vec![tick, count, named(&kept.offcut, below), text(&kept.run)])
        })
        .collect();
    let columns =
        [column("", 6.0), numbers("Strips", 18.0), column("Name", 0.0), column("From run", 26.0)];
    table(flow, &columns, &rows);
}

pub fn time(flow: &mut Flow, report: &Report) {
    let days = &report.timetable;
    let (_, height) = picture::timetable_size(days);
    let corner = Point::default();
    let draw = |canvas: &mut dyn Canvas| picture::draw_timetable(days, canvas);
    let marks = Marks::of(flow.fonts, corner, draw);
    flow.heading("Time");
    flow.paragraph(&report.timetable.sentence);
    flow.make_room(height);
    let y = flow.y;
    marks.into_iter().for_each(|mark| flow.put(mark.moved(EDGE, y)));
    flow.release();
    flow.y += height + 2.0;
    let rows: Vec<TableRow> = report
        .timetable
        .bars
        .iter()
        .map(|bar| row(vec![strong(bar.stage), text(&bar.time), text(&bar.when)]))
        .collect();
    table(flow, &[column("Stage", 40.0), numbers("Takes", 30.0), column("When", 0.0)], &rows);
}

pub fn price(flow: &mut Flow, report: &Report) {
    let quote = &report.quote;
    flow.heading("What it costs");
    flow.paragraph(&format!("{}. {}", quote.sentence, quote.rates));
    let cells = |amounts: &Amounts| {
        let Amounts { paper, envelopes, labour, overhead, cost, price, .. } = amounts;
        [paper, envelopes, labour, overhead, cost, price].map(text)
    };
    let mut rows = Vec::new();
    for line in &quote.rows {
        let mut row_cells = vec![strong(&line.line), text(line.cards.to_string())];
        row_cells.extend(cells(&line.amounts));
        row_cells.push(strong(&line.card_price));
        rows.push(row(row_cells));
    }
    let mut sums = vec![strong("In all"), text("")];
    sums.extend(cells(&quote.total));
    sums.push(text(&quote.currency));
    rows.push(row(sums));
    let columns = [
        column("Line", 0.0),
        numbers("Cards", 16.0),
        numbers("Paper", 19.0),
        numbers("Envelopes", 20.0),
        numbers("Work", 19.0),
        numbers("Overhead", 20.0),
        numbers("Cost", 20.0),
        numbers("Price", 20.0),
        numbers("A card", 18.0),
    ];
    table(flow, &columns, &rows);
}

pub fn counts(flow: &mut Flow, report: &Report) {
    let rows = report.quote.rows.iter().filter(|line| !line.steps.is_empty());
    let rows: Vec<TableRow> = rows
        .map(|line| {
            let mut cells = vec![strong(&line.line)];
            cells.extend(line.steps.iter().map(text));
            cells.push(text(&line.one_more));
            row(cells)
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    flow.heading("In other counts");
    flow.paragraph(words::STEPS);
    let columns = [
        column("A card of", 0.0),
        numbers("of 25", 22.0),
        numbers("of 50", 22.0),
        numbers("of 100", 22.0),
        numbers("of 200", 22.0),
        numbers("One more", 24.0),
    ];
    table(flow, &columns, &rows);
}

pub fn post(flow: &mut Flow, report: &Report) {
    if !words::is_posted(report) {
        return;
    }
    flow.heading("In the post");
    flow.paragraph(&format!("{} {}.", words::POST, report.quote.rules));
    let posted = report.quote.rows.iter().filter(|line| !line.post.class.is_empty());
    let rows: Vec<TableRow> = posted
        .map(|line| {
            let goes = named(&line.post.class, &line.post.why);
            let [weight, thickness, stamp] =
                [&line.weight, &line.thickness, &line.post.stamp].map(text);
            row(vec![strong(&line.line), weight, thickness, goes, stamp])
        })
        .collect();
    let columns = [
        column("Set of", 34.0),
        numbers("Weighs", 32.0),
        numbers("Thick", 26.0),
        column("Goes as", 0.0),
        numbers("Stamp", 22.0),
    ];
    table(flow, &columns, &rows);
}

pub fn proof(flow: &mut Flow, report: &Report) {
    flow.heading("How sure this plan is");
    flow.paragraph(
        "For money and for paper a lower limit was worked out that no plan whatever can go below. Where \
         this plan reaches it, it is proven; where it does not, a better plan may exist between the two \
         numbers, or may not. Anybody can work the limits out again from the numbers in plan.json.",
    );
    let quiet = |told: &str| TableCell::Texts(vec![(told.to_owned(), SMALL)]);
    let mut rows = Vec::new();
    for proof in &report.proofs {
        for (papers, counted, level) in [
            (proof.papers.join(", "), "money spent", &proof.spend),
            (String::new(), "paper used", &proof.stock),
        ] {
            let figures = [&level.value, &level.bound, &level.status].map(|told| quiet(told));
            let mut cells = vec![strong(papers), quiet(counted)];
            cells.extend(figures);
            cells.push(quiet(level.reason));
            rows.push(row(cells));
        }
    }
    let columns = [
        column("Papers", 34.0),
        column("Counted", 24.0),
        numbers("This plan", 24.0),
        numbers("No plan below", 26.0),
        column("So it is", 22.0),
        column("Limit found", 0.0),
    ];
    table(flow, &columns, &rows);
}
