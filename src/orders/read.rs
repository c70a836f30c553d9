//! `orders/*.csv` to an order.

mod extras;

use super::card::{self, FoldedSize};
use super::columns::COLUMNS;
use super::nesting;
use super::papers;
use super::{Envelope, Mat, Order, OrderLine, Turn};
use crate::diagnostics::{Problem, Problems, Spanned};
use crate::formats::OwnFormats;
use crate::measure::{CountError, Length, LengthStyle, Size, Usual, parse_count};
use crate::table::{self, Cell, Named, Row};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Most cards of one line.
const MOST: u64 = 1_000_000;

/// What shows of the card beside a mat unless the order says so: 1/8 in or 3 mm (common practice, no source).
const USUAL_INSET: Usual = Usual::new(1, 8, 3);

/// Reads an order from the bytes of `file`; bare lengths are in the style's unit, and
/// cards may have a format of the workshop's `own`.
///
/// All mistakes become problems. The lines without mistakes are returned; `None` where the file is no
/// table of orders.
pub fn read(
    name: &str,
    file: Named,
    style: LengthStyle,
    own: &OwnFormats,
    problems: &mut Problems,
) -> Option<Order> {
    let mut found = Problems::of_file(file.name);
    let order = read_lines(file, style, own, &mut found)
        .map(|lines| Order { name: name.to_owned(), lines });
    problems.append(found);
    order
}

fn read_lines(
    file: Named,
    style: LengthStyle,
    own: &OwnFormats,
    problems: &mut Problems,
) -> Option<Vec<OrderLine>> {
    let table = table::read(file.name, file.bytes, problems)?;
    let columns = table.columns(&COLUMNS, problems)?;
    if columns.rows().next().is_none() && !problems.has_errors() {
        problems.push(
            Problem::error("order-empty", format!("{} orders nothing", file.name))
                .help("write a line for each kind of card below the header"),
        );
    }
    let mut names = BTreeMap::new();
    let mut reader = OrderReader { style, own, problems };
    let mut lines: Vec<OrderLine> =
        columns.rows().filter_map(|row| reader.line(&row, &mut names)).collect();
    nesting::check(&mut lines, &names, reader.problems);
    Some(lines)
}

struct OrderReader<'a> {
    style: LengthStyle,
    own: &'a OwnFormats,
    problems: &'a mut Problems,
}

impl OrderReader<'_> {
    /// Reads every cell of a row before it gives the row up.
    fn line(&mut self, row: &Row<'_>, names: &mut BTreeMap<String, usize>) -> Option<OrderLine> {
        let name = row.needed("line", self.problems);
        let name = name.and_then(|cell| self.name(&cell, names));
        let card = row.needed("card", self.problems);
        let card =
            card.and_then(|cell| card::read(&cell, "card", &self.style, self.own, self.problems));
        let fold = card::fold(row, card, self.problems);
        let count = row.needed("count", self.problems);
        let count = count.and_then(|cell| self.count(&cell));
        let papers = row.needed("paper", self.problems);
        let papers = papers.and_then(|cell| papers::read(&cell, self.problems));
        let liner = self.liner(row, fold);
        let mats = self.mats(row, card);
        let extras = self.extras(row, card);
        let turn = row.optional("turn", |cell| self.turn(cell));
        let due = row.optional("due", |cell| self.due(cell));
        Some(OrderLine {
            name: name?,
            card: Spanned { value: card?.size, place: row.cell("card").map(|cell| cell.place()) },
            fold: fold?,
            count: count?,
            papers: papers?,
            liner: liner?,
            mats: mats?,
            envelope: envelope(row),
            goes_in: row.cell("goes in").map(|cell| cell.spanned(cell.text().to_owned())),
            with: row.cell("with").map(|cell| papers::layers(&cell)).unwrap_or_default(),
            finish: row.cell("finish").map(|cell| papers::layers(&cell)).unwrap_or_default(),
            extras: extras?,
            turn: turn?,
            due: due?,
            note: row.cell("note").map_or("", |cell| cell.text()).to_owned(),
        })
    }

    fn name(
        &mut self,
        cell: &Cell<'_>,
        names: &mut BTreeMap<String, usize>,
    ) -> Option<Spanned<String>> {
        let place = cell.place();
        if let Some(line) = names.get(cell.text()) {
            let title = format!("two lines are called `{}`", cell.text());
            self.problems.push(
                Problem::error("order-line-doubled", title)
                    .at(Some(&place), format!("first used in line {line}"))
                    .help("give each line its own name"),
            );
            return None;
        }
        names.insert(cell.text().to_owned(), place.line);
        Some(cell.spanned(cell.text().to_owned()))
    }

    fn count(&mut self, cell: &Cell<'_>) -> Option<Spanned<u64>> {
        let misread = cell.misread("order-count", "count");
        let problem = match parse_count(cell.text()) {
            Ok(0) => misread
                .problem("is zero", "expected at least 1")
                .help("if you want none, delete the line or start it with `# `"),
            Ok(count) if count <= MOST => return Some(cell.spanned(count)),
            Ok(_) | Err(CountError::TooLarge) => misread
                .problem("is too large", format!("expected at most {MOST}"))
                .help("split more than a million over several orders"),
            Err(error) => misread.count(error, "cards"),
        };
        self.problems.push(problem);
        None
    }

    /// The front layers; `None` where they have a mistake.
    fn mats(&mut self, row: &Row<'_>, card: Option<FoldedSize>) -> Option<Vec<Mat>> {
        let insets = row.cell("mat inset");
        let Some(mats) = row.cell("mat") else {
            if let Some(insets) = insets {
                self.problems.push(
                    Problem::warning("order-mat-missing", "`mat inset` without `mat`")
                        .at(Some(&insets.place()), "not used")
                        .help("fill in the column `mat`, or clear this cell"),
                );
            }
            return Some(Vec::new());
        };
        let papers = papers::layers(&mats);
        if papers.iter().any(|paper| paper.value.is_empty()) {
            self.problems.push(
                Problem::error("order-mat", "a `+` needs a paper on both sides")
                    .at(Some(&mats.place()), "expected papers joined by +, such as fern+moss"),
            );
            return None;
        }
        let insets = match insets {
            Some(cell) => self.insets(&cell, papers.len(), card)?,
            None => vec![USUAL_INSET.of(self.style.unit); papers.len()],
        };
        let mats = papers.into_iter().zip(insets);
        Some(mats.map(|(paper, inset)| Mat { paper, inset }).collect())
    }

    /// As many insets as there are mats; a single one holds for all.
    fn insets(
        &mut self,
        cell: &Cell<'_>,
        mats: usize,
        card: Option<FoldedSize>,
    ) -> Option<Vec<Length>> {
        let misread = cell.misread("order-mat-inset", "mat inset");
        let half_card = |size: Size| Length::from_ticks(size.short().ticks() / 2);
        let read = |text| Length::parse(text, self.style.unit);
        let insets: Result<Vec<Length>, _> = cell.text().split('+').map(read).collect();
        let problem = match insets {
            Err(error) => misread.length(error, &self.style),
            Ok(insets) if insets.iter().any(|inset| *inset < Length::ZERO) => {
                misread.problem("is below zero", "expected 0 or more")
            }
            Ok(insets) if insets.len() != 1 && insets.len() != mats => misread.problem(
                "does not match the mats",
                format!("expected one length, or {mats} joined by +"),
            ),
            Ok(insets) => {
                let all: Vec<Length> = insets.iter().copied().cycle().take(mats).collect();
                let sum: Length = all.iter().copied().sum();
                match card {
                    Some(card) if sum * 2 >= card.size.short() => {
                        let half = self.style.with_unit(half_card(card.size));
                        let together = if mats == 1 { "" } else { " for all mats together" };
                        let expected = format!("expected less than {half}{together}");
                        misread
                            .problem("leaves nothing of the mat", expected)
                            .help(format!("the card is {}", self.style.size(card.size)))
                    }
                    _ => return Some(all),
                }
            }
        };
        self.problems.push(problem);
        None
    }

    fn turn(&mut self, cell: &Cell<'_>) -> Option<Turn> {
        let turns = [("free", Turn::Free), ("half", Turn::Half), ("none", Turn::None)];
        let turn = cell.misread("order-turn", "turn").word(cell.text(), &turns);
        turn.map_err(|problem| self.problems.push(*problem)).ok()
    }

    fn due(&mut self, cell: &Cell<'_>) -> Option<Date> {
        let date = cell.text().parse().ok();
        if date.is_none() {
            self.problems.push(cell.misread("order-date", "due").date());
        }
        date
    }
}

fn paper(cell: &Cell<'_>) -> Spanned<String> {
    cell.spanned(cell.text().to_owned())
}

fn envelope(row: &Row<'_>) -> Envelope {
    match row.cell("envelope") {
        None => Envelope::None,
        Some(cell) => papers::no_paper(&cell).unwrap_or_else(|| Envelope::Cut(paper(&cell))),
    }
}

#[cfg(test)]
mod tests;
