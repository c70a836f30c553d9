//! The tables of the report folder, for spreadsheets and for the next batch.

use super::quote::Amounts;
use super::report::{Report, Step, YieldKind, YieldRow};
use super::visible::shown;
use super::{Batch, ReportError};
use crate::measure::{Axis, Size};
use crate::orders::Turn;
use crate::quote::STEPS;
use crate::stock::{Sheet, SheetKind, drawer_cells};
use crate::table::guarded;

/// A header and its rows.
pub struct Rows {
    header: &'static [&'static str],
    rows: Vec<Vec<CsvField>>,
}

/// One cell.
enum CsvField {
    /// Text that may come from a person.
    Text(String),
    /// A number or amount.
    Number(String),
}

fn text(text: impl Into<String>) -> CsvField {
    CsvField::Text(text.into())
}

fn number(number: impl ToString) -> CsvField {
    CsvField::Number(number.to_string())
}

/// All tables with their file names.
///
/// # Errors
/// A run of the plan is cut from a sheet that is not in the stock.
pub fn grids(batch: &Batch, report: &Report) -> Result<[(&'static str, Rows); 5], ReportError> {
    Ok([
        ("cuts.csv", cuts(report)),
        ("pieces.csv", pieces(report)),
        ("offcuts.csv", offcuts(batch)?),
        ("buy.csv", buy(report)),
        ("quote.csv", quote(report)),
    ])
}

/// The table as CSV (RFC 4180, but with plain line ends).
pub fn bytes(grid: &Rows) -> Result<Vec<u8>, ReportError> {
    let mut bytes = Vec::new();
    // A line that begins with the sign of a comment would not be read again: quoted, it does not.
    let mut writer = ::csv::WriterBuilder::new().comment(Some(b'#')).from_writer(&mut bytes);
    writer.write_record(grid.header)?;
    for row in &grid.rows {
        writer.write_record(row.iter().map(harmless))?;
    }
    writer.flush().map_err(::csv::Error::from)?;
    drop(writer);
    Ok(bytes)
}

/// A cell that no spreadsheet takes for a formula, and in which nothing acts unseen.
fn harmless(cell: &CsvField) -> String {
    match cell {
        CsvField::Number(number) => number.clone(),
        CsvField::Text(text) => guarded(&shown(text)),
    }
}

fn cuts(report: &Report) -> Rows {
    let steps = report.cutting.iter().flat_map(|setting| &setting.steps);
    let rows = steps.map(|step| {
        let mut row = vec![number(step.number), text(&step.run), text(&step.sheet)];
        row.extend(cut(step));
        row
    });
    Rows {
        header: &[
            "step",
            "run",
            "sheet",
            "stack",
            "across",
            "fence",
            "gauge",
            "cuts a lift",
            "lifts",
            "strokes",
            "new setting",
            "yields",
        ],
        rows: rows.collect(),
    }
}

fn cut(step: &Step) -> [CsvField; 9] {
    let across = match step.across {
        Axis::Width => "width",
        Axis::Height => "height",
    };
    let yields: Vec<String> = step.yields.iter().map(yielded).collect();
    [
        text(&step.stack),
        text(across),
        text(step.fence),
        text(&step.gauge),
        number(step.cuts),
        number(step.lifts),
        number(step.strokes),
        text(if step.new_setting { "yes" } else { "no" }),
        text(yields.join("; ")),
    ]
}

fn yielded(row: &YieldRow) -> String {
    let kind = row.kind.word();
    match row.kind {
        YieldKind::Waste => format!("{} {kind} {}", row.count, row.size),
        _ => format!("{} {kind} {} {} to {}", row.count, row.name, row.size, row.next),
    }
}

fn pieces(report: &Report) -> Rows {
    let rows = report.pieces.iter().map(|piece| {
        vec![
            text(&piece.piece),
            text(&piece.line),
            text(piece.part.name()),
            text(piece.papers.join("|")),
            text(&piece.sides.0),
            text(&piece.sides.1),
            text(turn_word(piece.turn)),
            number(piece.need),
            number(piece.spares),
            number(piece.cut),
            text(piece.scores.join("; ")),
            number(piece.done),
            number(piece.spoiled),
        ]
    });
    Rows {
        header: &[
            "piece",
            "line",
            "part",
            "paper",
            "width",
            "height",
            "turn",
            "need",
            "spares",
            "cut",
            "scores",
            "cut before",
            "spoiled before",
        ],
        rows: rows.collect(),
    }
}

fn turn_word(turn: Turn) -> &'static str {
    match turn {
        Turn::Free => "free",
        Turn::Half => "half",
        Turn::None => "none",
    }
}

fn buy(report: &Report) -> Rows {
    let rows = report.purchases.iter().map(|purchase| {
        vec![
            text(&purchase.name),
            text(&purchase.paper),
            text(&purchase.size),
            number(purchase.packs),
            number(&purchase.pack),
            number(&purchase.amount),
            number(&purchase.price),
            number(&purchase.cost),
            text(&purchase.currency),
            text(purchase.kind),
        ]
    });
    Rows {
        header: &[
            "sheet",
            "paper",
            "size",
            "packs",
            "pack",
            "sheets",
            "price a pack",
            "cost",
            "currency",
            "kind",
        ],
        rows: rows.collect(),
    }
}

/// What each line costs; the last row holds the sums.
fn quote(report: &Report) -> Rows {
    let parts = |amounts: &Amounts| {
        let Amounts { paper, envelopes, labour, overhead, cost, margin, price, .. } = amounts;
        [paper, envelopes, labour, overhead, cost, margin, price].map(number)
    };
    let currency = &report.quote.currency;
    let mut rows: Vec<Vec<CsvField>> = Vec::new();
    for row in &report.quote.rows {
        let mut cells = vec![text(&row.line), number(row.cards)];
        cells.extend(parts(&row.amounts));
        cells.extend([number(&row.card_cost), number(&row.card_price), text(currency)]);
        let post = &row.post;
        cells.extend([&row.weight, &row.thickness, &post.class, &post.why, &post.stamp].map(text));
        let steps = (0..STEPS.len()).map(|at| row.steps.get(at).cloned().unwrap_or_default());
        cells.extend(steps.chain([row.one_more.clone()]).map(number));
        cells.extend([&post.room, &post.roomier, &post.saves].map(text));
        let Amounts { sundries, finishes, .. } = &row.amounts;
        cells.extend([&row.wholesale, sundries, finishes].map(number));
        rows.push(cells);
    }
    let cards: u64 = report.quote.rows.iter().map(|row| row.cards).sum();
    let mut sums = vec![text("in all"), number(cards)];
    sums.extend(parts(&report.quote.total));
    sums.extend([text(""), text(""), text(currency)]);
    sums.extend((0..10 + STEPS.len()).map(|_| text("")));
    let Amounts { sundries, finishes, .. } = &report.quote.total;
    sums.extend([sundries, finishes].map(number));
    rows.push(sums);
    Rows {
        header: &[
            "line",
            "cards",
            "paper",
            "envelopes",
            "labour",
            "overhead",
            "cost",
            "margin",
            "price",
            "cost a card",
            "price a card",
            "currency",
            "weight",
            "thickness",
            "post",
            "why",
            "stamp",
            "a card of 25",
            "a card of 50",
            "a card of 100",
            "a card of 200",
            "one more",
            "could be",
            "roomier envelope",
            "it saves",
            "wholesale",
            "sundries",
            "finishes",
        ],
        rows,
    }
}

/// What the drawer holds after the batch, in the columns in which it is read again.
fn offcuts(batch: &Batch) -> Result<Rows, ReportError> {
    let mut rows: Vec<Vec<CsvField>> = batch
        .made
        .job
        .stock
        .sheets
        .iter()
        .filter(|sheet| sheet.kind == SheetKind::Offcut)
        .filter_map(|sheet| remaining(batch, sheet))
        .collect();
    for kept in &batch.made.plan.offcuts {
        let run = batch.made.plan.runs.iter().find(|run| run.id == kept.run);
        let run = run.ok_or_else(|| ReportError::UnknownRun(kept.run.clone()))?;
        let new = Sheet {
            id: kept.id.clone(),
            size: Size::new(kept.width, kept.height),
            from: Some(batch.made.plan.order.clone()),
            since: batch.since,
            ..batch.sheet(&run.sheet)?.clone()
        };
        rows.push(drawer_row(batch, &new, kept.count));
    }
    let header =
        &["offcut", "paper", "width", "height", "count", "grain", "print", "from", "since"];
    Ok(Rows { header, rows })
}

fn remaining(batch: &Batch, sheet: &Sheet) -> Option<Vec<CsvField>> {
    let planned = batch.made.plan.sheets.iter().find(|planned| planned.id == sheet.id);
    let used = planned.map(|planned| planned.used).unwrap_or_default();
    let left = sheet.on_hand.saturating_sub(used);
    (left > 0).then(|| drawer_row(batch, sheet, left))
}

fn drawer_row(batch: &Batch, sheet: &Sheet, count: u64) -> Vec<CsvField> {
    let lying = Sheet { on_hand: count, ..sheet.clone() };
    drawer_cells(&lying, batch.made.job.workshop.style())
        .into_iter()
        .map(|(_, cell)| text(cell))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::made::Made;
    use crate::reports::fixture;
    use proptest::prelude::*;

    fn file(made: &Made, name: &str) -> String {
        let report = Report::of(&made.batch()).unwrap();
        let grids = grids(&made.batch(), &report).unwrap();
        let grid = grids.iter().find(|(known, _)| *known == name).unwrap();
        String::from_utf8(bytes(&grid.1).unwrap()).unwrap()
    }

    #[test]
    fn cuts_of_the_lesson() {
        assert_eq!(
            file(&fixture::lesson(), "cuts.csv"),
            "step,run,sheet,stack,across,fence,gauge,cuts a lift,lifts,strokes,new setting,yields\n\
             1,R1,fern-9,A,height,top,4 in,1,1,1,yes,\
             1 stack B 9 x 4 in to step 2; 1 stack C 9 x 8 in to step 3\n\
             2,R1,fern-9,B,width,left,4 1/2 in,1,1,1,yes,2 piece sign.card 4 1/2 x 4 in to score\n\
             3,R1,fern-9,C,height,top,4 in,1,1,1,yes,\
             1 stack D 9 x 4 in to step 4; 1 stack E 9 x 4 in to step 5\n\
             4,R1,fern-9,D,width,left,4 1/2 in,1,1,1,yes,2 piece sign.card 4 1/2 x 4 in to score\n\
             5,R1,fern-9,E,height,top,2 3/4 in,1,1,1,yes,\
             1 stack F 9 x 2 3/4 in to step 6; 1 drawer lesson-01 9 x 1 1/4 in to drawer\n\
             6,R1,fern-9,F,width,left,2 3/4 in,3,1,3,no,\
             3 piece label.card 2 3/4 x 2 3/4 in to pack; 1 waste 3/4 x 2 3/4 in\n"
        );
    }

    #[test]
    fn pieces_of_the_lesson() {
        assert_eq!(
            file(&fixture::lesson(), "pieces.csv"),
            "piece,line,part,paper,width,height,turn,need,spares,cut,scores,cut before,spoiled before\n\
             sign.card,sign,card,fern,4 in,4 1/2 in,free,4,0,4,2 1/4 in from the top,0,0\n\
             label.card,label,card,fern,2 3/4 in,2 3/4 in,free,3,0,3,,0,0\n"
        );
    }

    #[test]
    fn only_what_must_be_bought() {
        assert_eq!(
            file(&fixture::lesson(), "buy.csv"),
            "sheet,paper,size,packs,pack,sheets,price a pack,cost,currency,kind\n"
        );
        assert_eq!(
            file(&fixture::fair(), "buy.csv"),
            "sheet,paper,size,packs,pack,sheets,price a pack,cost,currency,kind\n\
             kraft-12,kraft,12 x 12 in,2,25,50,6.00,12.00,USD,sheet\n"
        );
    }

    #[test]
    fn the_drawer_keeps_what_is_left_and_gains_what_is_new() {
        let made = fixture::fair();
        let text = file(&made, "offcuts.csv");
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[0], "offcut,paper,width,height,count,grain,print,from,since");
        assert_eq!(lines[1], "plum-d2,plum,6 in,2 in,2,,free,,2024-02-29");
        assert_eq!(lines[2], "fair-01,fern,4 in,2 in,7,width,free,fair,");
        assert_eq!(lines[4], "fair-03,plum,6 1/2 in,2 in,21,,one-way,fair,");
        assert_eq!(lines.len(), 7);
    }

    #[test]
    fn new_offcuts_carry_the_day_that_is_given() {
        let made = fixture::lesson();
        let batch = Batch { since: Some(jiff::civil::date(2031, 1, 9)), ..made.batch() };
        let grid = offcuts(&batch).unwrap();
        let text = String::from_utf8(bytes(&grid).unwrap()).unwrap();
        assert!(text.ends_with("lesson-01,fern,9 in,1 1/4 in,1,,free,lesson,2031-01-09\n"));
    }

    #[test]
    fn an_offcut_partly_used_stays_with_its_rest() {
        let mut made = fixture::fair();
        made.job.stock.sheets[3].on_hand = 5;
        assert!(
            file(&made, "offcuts.csv")
                .contains("\nfern-d1,fern,8 1/2 in,4 1/4 in,2,height,free,,\n")
        );
    }

    #[test]
    fn text_that_a_spreadsheet_would_run_is_kept_text_and_numbers_stay_numbers() {
        assert_eq!(harmless(&text("=1")), "'=1");
        assert_eq!(harmless(&text("a=1")), "a=1");
        assert_eq!(harmless(&number(-1)), "-1");
    }

    proptest! {
        #[test]
        fn a_table_read_back_has_the_same_cells(cells in prop::collection::vec(".*", 9)) {
            let row = cells.iter().map(text).collect();
            let header = &["a", "b", "c", "d", "e", "f", "g", "h", "i"];
            let bytes = bytes(&Rows { header, rows: vec![row] }).unwrap();
            let mut reader = ::csv::Reader::from_reader(bytes.as_slice());
            let read: Vec<_> = reader.records().map(Result::unwrap).collect();
            prop_assert_eq!(read.len(), 1);
            for (read, written) in read[0].iter().zip(&cells) {
                prop_assert_eq!(read, &guarded(&shown(written)));
            }
        }
    }

    #[test]
    fn a_name_like_a_comment_is_quoted() {
        let grid = Rows { header: &["a", "b"], rows: vec![vec![text("#1"), text("2")]] };
        assert_eq!(bytes(&grid).unwrap(), b"a,b\n\"#1\",2\n");
    }

    #[test]
    fn separators_in_names_are_quoted() {
        let mut made = fixture::lesson();
        made.plan.pieces[0].line = "sign, \"big\"".to_owned();
        assert!(file(&made, "pieces.csv").contains("\nsign.card,\"sign, \"\"big\"\"\",card,"));
    }
}
