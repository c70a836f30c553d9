//! What stands in the schedule before and after the cutting, in the order of the work.

use super::{ListCell, ListColumn, ListGroup, ListRow, ListTable, RowsHead, Section, Ticks};
use crate::quote::STEPS;
use crate::reports::quote::{Amounts, AskedRows, PartAsked, QuoteReport, QuoteRow};
use crate::reports::report::{Report, WorkList};
use crate::reports::{lists, words};

/// What is done before the first cut.
pub fn before_cutting(report: &Report) -> Vec<Section> {
    before(report).into_iter().chain([buy(report), fetch(report)]).collect()
}

/// What follows the trimmer, then time, money and proof; nothing of which there is nothing.
pub fn after_cutting(report: &Report) -> Vec<Section> {
    let work = report.work.iter().map(work);
    let first = [Some(count(report)), score(report)].into_iter().flatten();
    let last = [
        pack(report),
        drawer(report),
        Some(time(report)),
        Some(price(report)),
        counts(report),
        post(report),
        Some(proof(report)),
    ];
    first.chain(work).chain(last.into_iter().flatten()).collect()
}

fn column(head: impl Into<String>, width: u32) -> ListColumn {
    ListColumn { head: head.into(), is_numbers: false, width }
}

fn numbers(head: impl Into<String>, width: u32) -> ListColumn {
    ListColumn { head: head.into(), is_numbers: true, width }
}

/// A table with a box to tick in front of each row.
fn ticked(
    list: &'static str,
    done: &'static str,
    columns: Vec<ListColumn>,
    groups: Vec<ListGroup>,
) -> ListTable {
    ListTable { ticks: Some(Ticks { list, done }), columns, groups, ..ListTable::default() }
}

/// Rows that are not divided.
fn alone(rows: impl IntoIterator<Item = ListRow>) -> Vec<ListGroup> {
    vec![ListGroup { band: None, rows: rows.into_iter().collect() }]
}

fn row(of: &str, cells: impl Into<Vec<ListCell>>) -> ListRow {
    ListRow { of: of.to_owned(), cells: cells.into() }
}

fn named(name: &str, papers: &str, size: &str) -> ListCell {
    let papers = Some(papers.to_owned()).filter(|papers| !papers.is_empty());
    ListCell::Named { fill: None, name: name.to_owned(), papers, size: size.to_owned() }
}

/// A piece whose paper is known by now.
fn piece(name: &str, size: &str) -> ListCell {
    ListCell::Named { fill: None, name: name.to_owned(), papers: None, size: size.to_owned() }
}

fn name(name: &str) -> ListCell {
    ListCell::Name(name.to_owned())
}

fn text(text: &str) -> ListCell {
    ListCell::Text(text.to_owned())
}

fn number(number: impl ToString) -> ListCell {
    ListCell::Number(number.to_string())
}

/// What was done of the batch before.
fn before(report: &Report) -> Option<Section> {
    let said = report.before.clone();
    let (title, way) = ("The rest of a batch", Some("Before"));
    let section = Section { id: "before", title, way, said, ..Section::default() };
    (!report.before.is_empty()).then_some(section)
}

fn buy(report: &Report) -> Section {
    if report.purchases.is_empty() {
        return Section { id: "buy", title: "Nothing to buy.", ..Section::default() };
    }
    let rows = report.purchases.iter().map(|bought| {
        let of = named(&bought.name, &bought.paper, &bought.size);
        let [price, cost] = [&bought.price, &bought.cost].map(number);
        let pack = text(&bought.pack);
        row(&bought.name, [ListCell::Count(bought.packs), of, pack, price, cost])
    });
    let columns = vec![
        numbers("Packs", 16),
        column("What", 0),
        column("In a pack", 30),
        numbers("Pack price", 22),
        numbers("Cost", 24),
    ];
    let sum = ListCell::Sum(report.spend.clone());
    let foot = vec![ListCell::Blank, ListCell::Blank, name("Total"), sum];
    let table = ListTable { foot, ..ticked("buy", "bought", columns, alone(rows)) };
    let more = report.buying.clone();
    Section { id: "buy", title: "Buy", table: Some(table), more, ..Section::default() }
}

fn fetch(report: &Report) -> Section {
    let rows = report.taken.iter().map(|taken| {
        let of = named(&taken.sheet, &taken.paper, &taken.size);
        let from = text(&lists::place(taken));
        row(&taken.sheet, [ListCell::Count(taken.count), of, from, number(taken.stays)])
    });
    let supplies = report.supplies.iter().map(|supply| {
        let of = named(&supply.name, "", &supply.size);
        let count = match supply.need.parse() {
            Ok(count) => ListCell::Count(count),
            Err(_) => number(&supply.need),
        };
        row(&supply.name, [count, of, text(&supply.from), number(&supply.stays)])
    });
    let rows = rows.chain(supplies);
    let columns =
        vec![numbers("Take", 16), column("What", 0), column("Where", 46), numbers("Left over", 28)];
    let table = ticked("take", "taken", columns, alone(rows));
    let title =
        if report.supplies.is_empty() { "Fetch the paper" } else { "Fetch paper and supplies" };
    let way = Some("Fetch");
    let has_shapes = report.work.iter().any(|list| list.has_shapes);
    let printed = match (report.labels.is_empty(), has_shapes) {
        (true, false) => None,
        (false, false) => Some("Print labels.pdf."),
        (true, true) => Some("Print templates.pdf at 100 %."),
        (false, true) => Some("Print labels.pdf, and templates.pdf at 100 %."),
    };
    let said = printed.map(str::to_owned).into_iter().collect();
    Section { id: "fetch", title, way, said, table: Some(table), ..Section::default() }
}

fn count(report: &Report) -> Section {
    let is_rest = !report.before.is_empty();
    let rows = report.pieces.iter().map(|piece| {
        let of = ListCell::Named {
            fill: Some(piece.fill),
            name: piece.piece.clone(),
            papers: Some(piece.colours.clone()),
            size: piece.size.clone(),
        };
        let have = piece.cut + piece.done;
        let spares = number(have.saturating_sub(piece.need));
        let mut cells = vec![ListCell::Count(have), of];
        cells.extend(is_rest.then(|| number(piece.done)));
        cells.extend([number(piece.need), spares]);
        row(&piece.piece, cells)
    });
    let mut columns = vec![numbers("You should have", 20), column("Piece", 0)];
    columns.extend(is_rest.then(|| numbers("Cut before", 22)));
    columns.extend([numbers("Ordered", 22), numbers("Spares", 22)]);
    let table = ticked("piece", "counted", columns, alone(rows));
    let (title, way) = ("Count before you go on", Some("Count"));
    let said = vec![words::SPARES.to_owned()];
    Section { id: "count", title, way, said, table: Some(table), ..Section::default() }
}

fn score(report: &Report) -> Option<Section> {
    let groups = report.scoring.iter().map(|setting| {
        let rows = setting.rows.iter().map(|scored| {
            let of = piece(&scored.piece, &scored.size);
            row(&scored.piece, [ListCell::Count(scored.count), of, number(setting.strokes)])
        });
        let band = RowsHead { word: "Score at", lines: setting.lines.clone() };
        ListGroup { band: Some(band), rows: rows.collect() }
    });
    let columns = vec![numbers("Pieces", 18), column("Piece", 0), numbers("Score lines", 26)];
    let table = ticked("score", "scored", columns, groups.collect());
    let said = vec![words::SCORE.to_owned()];
    let (title, way) = ("Score", Some("Score"));
    let section =
        Section { id: "score", title, way, said, table: Some(table), ..Section::default() };
    (!report.scoring.is_empty()).then_some(section)
}

fn work(list: &WorkList) -> Section {
    let rows = list.rows.iter().map(|work| {
        let what = ListCell::Sentence(work.what.clone());
        row(&work.piece, [ListCell::Count(work.count), piece(&work.piece, &work.size), what])
    });
    let columns = vec![numbers("Pieces", 18), column("Piece", 52), column("What to do", 0)];
    let table = ticked(list.id, "done", columns, alone(rows));
    let mut said = if list.by_hand { vec![words::BY_HAND.join(" ")] } else { Vec::new() };
    said.extend(list.has_shapes.then(|| words::FULL_SIZE.to_owned()));
    let (title, way) = (list.title, Some(list.title));
    let more = Some(list.then.clone()).filter(|then| !then.is_empty()).into_iter().collect();
    Section { id: list.id, title, way, said, more, table: Some(table), ..Section::default() }
}

fn pack(report: &Report) -> Option<Section> {
    let rows = report.packing.iter().map(|packed| {
        let due = ListCell::Day(packed.due.clone().unwrap_or_default());
        let holds = ListCell::List(packed.contents.clone());
        let count = ListCell::Count(packed.count);
        row(&packed.line, [count, name(&packed.line), holds, due, text(&packed.note)])
    });
    let columns = vec![
        numbers("Sets", 16),
        column("Line", 32),
        column("Each holds", 0),
        column("Due", 24),
        column("Note", 36),
    ];
    let table = ticked("pack", "packed", columns, alone(rows));
    let (title, way) = ("Pack", Some("Pack"));
    let section = Section { id: "pack", title, way, table: Some(table), ..Section::default() };
    (!report.packing.is_empty()).then_some(section)
}

fn drawer(report: &Report) -> Option<Section> {
    let rows = report.drawer.iter().map(|kept| {
        let of = named(&kept.offcut, &kept.paper, &kept.size);
        row(&kept.offcut, [ListCell::Count(kept.count), of, text(&kept.runs)])
    });
    let columns = vec![numbers("Offcuts", 18), column("Name", 0), column("From drawing", 26)];
    let table = ticked("drawer", "put away", columns, alone(rows));
    let said = vec![words::DRAWER.to_owned()];
    let (title, way) = ("Put away in the drawer", Some("Put away"));
    let section =
        Section { id: "drawer", title, way, said, table: Some(table), ..Section::default() };
    (!report.drawer.is_empty()).then_some(section)
}

fn time(report: &Report) -> Section {
    let bars = report.timetable.bars.iter();
    let rows =
        bars.map(|bar| row(bar.stage, [name(bar.stage), number(&bar.time), text(&bar.when)]));
    let table = ListTable {
        columns: vec![column("Stage", 40), numbers("Time", 30), column("When", 0)],
        groups: alone(rows),
        ..ListTable::default()
    };
    Section {
        id: "time",
        title: "Time",
        said: vec![report.timetable.sentence.clone()],
        has_timetable: true,
        is_for_desk: true,
        table: Some(table),
        ..Section::default()
    }
}

/// The parts of a cost, but for its price; sundries and finishes where there are any.
fn costs(amounts: &Amounts, quote: &QuoteReport) -> Vec<ListCell> {
    let Amounts { paper, envelopes, sundries, finishes, labour, overhead, cost, .. } = amounts;
    let sundries = quote.has_sundries.then_some(sundries);
    let finishes = quote.has_finishes.then_some(finishes);
    let first = [paper, envelopes].into_iter().chain(sundries).chain(finishes);
    first.chain([labour, overhead, cost]).map(number).collect()
}

fn price(report: &Report) -> Section {
    let quote = &report.quote;
    let rows = quote.rows.iter().map(|line| {
        let mut cells = vec![name(&line.line), number(line.cards)];
        cells.extend(costs(&line.amounts, quote));
        cells.extend([number(&line.amounts.price), ListCell::Sum(line.card_price.clone())]);
        row(&line.line, cells)
    });
    let mut foot = vec![name("Total"), ListCell::Blank];
    foot.extend(costs(&quote.total, quote));
    foot.extend([ListCell::Sum(quote.total.price.clone()), number(&quote.currency)]);
    let mut columns = vec![column("Line", 0), numbers("Cards", 16), numbers("Paper", 19)];
    columns.push(numbers("Envelopes", 20));
    columns.extend(quote.has_sundries.then(|| numbers("Sundries", 18)));
    columns.extend(quote.has_finishes.then(|| numbers("Finishes", 18)));
    columns.extend([numbers("Work", 19), numbers("Overhead", 20), numbers("Cost", 20)]);
    columns.extend([numbers("Price", 20), numbers("A card", 18)]);
    let table = ListTable {
        columns,
        groups: alone(rows),
        foot,
        wide: Some("Costs by line"),
        is_money: true,
        ..ListTable::default()
    };
    let said = vec![format!("{}. {}", quote.sentence, quote.rates)];
    let more = [asked(quote), quote.wholesale.clone()];
    let more = more.into_iter().filter(|said| !said.is_empty()).collect();
    let (title, table) = ("Price", Some(table));
    Section { id: "price", title, said, table, more, is_for_desk: true, ..Section::default() }
}

/// `To the least order, 12.30 are added. Tax 8 %: 42.34, in all 571.55. Deposit 50 %: 285.78.`
fn asked(quote: &QuoteReport) -> String {
    let AskedRows { least, tax, total, deposit } = &quote.asked;
    let least =
        (!least.is_empty()).then(|| format!("To reach your least order, {least} is added."));
    let part = |name: &str, part: &PartAsked| format!("{name} {} %: {}", part.percent, part.amount);
    let tax = tax.as_ref().map(|tax| format!("{}, {total} in all.", part("Tax", tax)));
    let deposit = deposit.as_ref().map(|deposit| format!("{}.", part("Deposit", deposit)));
    [least, tax, deposit].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn counts(report: &Report) -> Option<Section> {
    let mut asked = report.quote.rows.iter().filter(|line| !line.steps.is_empty()).peekable();
    asked.peek()?;
    let rows = asked.map(|line| {
        let mut cells = vec![name(&line.line)];
        cells.extend(line.steps.iter().map(number));
        cells.push(number(&line.one_more));
        row(&line.line, cells)
    });
    let mut columns = vec![column("Line", 0)];
    columns.extend(STEPS.map(|count| numbers(format!("{count}, each"), 22)));
    columns.push(numbers("One more", 24));
    let table = ListTable { columns, groups: alone(rows), is_money: true, ..ListTable::default() };
    let (title, said) = ("Prices for other counts", vec![words::STEPS.to_owned()]);
    let explained = report.quote.rows.iter().filter(|line| !line.why_more.is_empty());
    let more = explained.map(|line| format!("One more {}: {}.", line.line, line.why_more));
    let more = more.collect();
    let table = Some(table);
    Some(Section {
        id: "counts",
        title,
        said,
        table,
        more,
        is_for_desk: true,
        ..Section::default()
    })
}

fn post(report: &Report) -> Option<Section> {
    let is_asked = |line: &&QuoteRow| !line.post.class.is_empty();
    let mut posted = report.quote.rows.iter().filter(is_asked).peekable();
    posted.peek()?;
    let rows = posted.map(|line| {
        let goes = ListCell::Told(line.post.class.clone(), line.post.remarks());
        let [weight, thickness, stamp] =
            [&line.weight, &line.thickness, &line.post.stamp].map(number);
        row(&line.line, [name(&line.line), weight, thickness, goes, stamp])
    });
    let table = ListTable {
        columns: vec![
            column("Line", 34),
            numbers("Weighs", 32),
            numbers("Thick", 26),
            column("Goes as", 0),
            numbers("Stamp", 22),
        ],
        groups: alone(rows),
        ..ListTable::default()
    };
    let said = vec![format!("{} {}.", words::POST, report.quote.rules)];
    let (title, table) = ("Post", Some(table));
    Some(Section { id: "post", title, said, table, ..Section::default() })
}

fn proof(report: &Report) -> Section {
    let groups = report.proofs.iter().map(|proof| {
        let papers = proof.papers.join(", ");
        let levels = [
            (ListCell::Head(papers.clone()), "money spent", &proof.spend),
            (ListCell::Below, "paper used", &proof.stock),
        ];
        let rows = levels.map(|(head, counted, level)| {
            let [value, bound] = [&level.value, &level.bound].map(number);
            let (status, reason) = (text(&level.status), text(level.reason));
            row(&papers, [head, text(counted), value, bound, status, reason])
        });
        ListGroup { band: None, rows: rows.into() }
    });
    let table = ListTable {
        columns: vec![
            column("Papers", 22),
            column("Counted", 24),
            numbers("This plan", 24),
            numbers("Limit", 24),
            column("Status", 44),
            column("Limit found", 0),
        ],
        groups: groups.collect(),
        ..ListTable::default()
    };
    Section {
        id: "proof",
        title: "Proof",
        way: Some("Proof"),
        said: vec![words::proof(report)],
        table: Some(table),
        is_for_desk: true,
        is_quiet: true,
        ..Section::default()
    }
}
