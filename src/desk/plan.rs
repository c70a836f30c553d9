//! A plan as a page shows it: a first one at once, the final one when it is there.
//!
//! The final plan is the one that `plan` writes; the first depends on the clock where there is one, and is replaced.

use super::{DeskFiles, FileKind, Listener};
use crate::batch::{self, Effort, Made, Options, Outcome, Progress, Watch};
use crate::diagnostics::{Problem, Problems};
use crate::reports::picture::{DrawingRoom, Picture, Point, Scale, fills_used};
use crate::reports::report::{PieceRow, Purchase, RunReport};
use crate::reports::{self, Batch, Offered, Report, ReportError, svg};
use crate::table::{self, Table};
use serde::Deserialize;
use serde_json::{Value, json};
use std::sync::Mutex;

/// Asks for a plan.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanQuestion {
    /// All files.
    pub desk: DeskFiles,
    /// How hard to try.
    #[serde(default)]
    pub effort: DeskEffort,
    /// What there is to tell beside the files: an error means that there is no plan.
    #[serde(skip)]
    pub told: Problems,
}

/// How hard to try for the final plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum DeskEffort {
    /// As `plan` does.
    #[default]
    Usual,
    /// For a proof that is hard to get.
    Long,
}

/// Answers with progress, a first plan and the final one.
pub fn answer(question: &PlanQuestion, listener: Listener) {
    let grids = Grids::of(&question.desk);
    let told_first = |outcome: Outcome| {
        let mut problems = question.told.clone();
        problems.append(outcome.problems);
        Outcome { problems, ..outcome }
    };
    let refused = |problems| {
        let outcome = told_first(Outcome { problems, ..Outcome::default() });
        (listener.say)(document(&outcome, &grids, true));
    };
    let inputs = match question.desk.inputs() {
        _ if question.told.has_errors() => return refused(Problems::new()),
        Err(problem) => return refused((*problem).into()),
        Ok(inputs) => inputs,
    };
    let last = Mutex::new(String::new());
    let tell = |far: &Progress| {
        let told = told(far);
        // A thread that broke down while it held this has nothing more to tell.
        let Ok(mut last) = last.lock() else { return };
        if *last != told {
            (listener.say)(json!({ "is": "progress", "told": told }));
            *last = told;
        }
    };
    let watch = Watch { tell: &tell, stop: listener.stop };
    let first = Options { effort: Effort::Quick, limit: listener.first, ..Options::default() };
    let outcome = told_first(batch::plan_watched(&inputs, &first, watch));
    let is_planned = outcome.made.is_some();
    (listener.say)(document(&outcome, &grids, !is_planned));
    if !is_planned || (listener.stop)() {
        return;
    }
    let effort = match question.effort {
        DeskEffort::Usual => Effort::Normal,
        DeskEffort::Long => Effort::Long,
    };
    let options = Options { effort, ..Options::default() };
    let outcome = told_first(batch::plan_watched(&inputs, &options, watch));
    (listener.say)(document(&outcome, &grids, true));
}

/// `planning: 3 of 12 groups of papers done; 41.20 USD, at most 0.30 USD (0.7 %) could be saved`.
pub fn told(far: &Progress) -> String {
    let Progress { groups, done, spend, currency } = far;
    let groups = match groups {
        1 => String::new(),
        groups => format!(": {done} of {groups} groups of papers done"),
    };
    match spend {
        None => format!("planning{groups}"),
        Some((value, bound)) if value == bound => {
            format!("planning{groups}; {}, no plan spends less", currency.with_code(*value))
        }
        Some((value, bound)) => {
            let gap = *value - *bound;
            let share = reports::from_ratio(gap.minor(), value.minor());
            let [value, gap] = [*value, gap].map(|amount| currency.with_code(amount));
            format!("planning{groups}; {value}, at most {gap} ({share}) could be saved")
        }
    }
}

/// The tables of a desk, to find cells by their places.
struct Grids {
    tables: Vec<DeskTable>,
}

/// A table with the name by which messages call it.
struct DeskTable {
    kind: FileKind,
    name: String,
    table: Table,
}

impl Grids {
    fn of(desk: &DeskFiles) -> Grids {
        let read = |kind: FileKind| {
            let file = desk.table(kind)?;
            let table = table::read(&file.name, file.text.as_bytes(), &mut Problems::new())?;
            // Where rows are left out, the page shows the text.
            let table = Some(table).filter(Table::is_whole)?;
            Some(DeskTable { kind, name: file.name.clone(), table })
        };
        Grids { tables: FileKind::ALL.into_iter().filter_map(read).collect() }
    }

    /// A problem, with its cell where it has one.
    fn problem(&self, problem: &Problem) -> Value {
        let mut document = problem.document();
        let cell = problem.place.as_ref().and_then(|place| {
            let DeskTable { kind, table, .. } =
                self.tables.iter().find(|it| it.name == *place.file)?;
            let cell = table.cell_at(place.line, place.column)?;
            // The header is row -1 of the page.
            let row = cell.row as i64 - 1;
            Some(json!({ "kind": kind.word(), "row": row, "column": cell.column }))
        });
        if let Some(entries) = document.as_object_mut() {
            entries.insert("cell".to_owned(), json!(cell));
        }
        document
    }
}

fn document(outcome: &Outcome, grids: &Grids, is_final: bool) -> Value {
    let problems: Vec<Value> = outcome.problems.iter().map(|it| grids.problem(it)).collect();
    if !outcome.faults.is_empty() {
        return json!({ "is": "fault", "told": outcome.faults });
    }
    match outcome.made.as_ref().map(made).transpose() {
        Ok(made) => json!({ "is": "plan", "final": is_final, "problems": problems, "made": made }),
        Err(error) => json!({ "is": "fault", "told": [error.to_string()] }),
    }
}

/// Room for the picture of a card, in millimetres.
const CARD: Point = Point::new(110.0, 45.0);

fn made(made: &Made) -> Result<Value, ReportError> {
    let batch =
        Batch { made, since: None, prices: &[], other_buying: &[], offered: Offered::default() };
    let report = Report::of(&batch)?;
    let rows = report.answers.rows();
    let rows: Vec<Value> =
        rows.iter().map(|(word, told)| json!({ "word": word, "told": told })).collect();
    let drawings = report.runs.iter().map(|run| &run.picture.drawing);
    let definitions = svg::definitions(&fills_used(drawings));
    let sure = report.proofs.iter().map(|proof| {
        let claims = [&proof.spend, &proof.stock].map(|level| {
            json!({ "value": level.value, "status": level.status, "proven": level.proven, "reason": level.reason })
        });
        json!({ "papers": proof.papers.join(", "), "claims": claims })
    });
    Ok(json!({
        "title": report.title,
        "verdict": report.verdict,
        "rows": rows,
        "buy": report.purchases.iter().map(purchase).collect::<Vec<_>>(),
        "spend": report.spend,
        "lines": lines(&report),
        "definitions": format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"0\" height=\"0\" aria-hidden=\"true\"><defs>{definitions}</defs></svg>"),
        "layouts": report.runs.iter().map(layout).collect::<Vec<_>>(),
        "pieces": report.pieces.iter().map(piece).collect::<Vec<_>>(),
        "proven": report.proofs.iter().all(|proof| proof.spend.proven && proof.stock.proven),
        "sure": sure.collect::<Vec<_>>(),
    }))
}

fn purchase(bought: &Purchase) -> Value {
    let Purchase { name, kind, paper, size, packs, amount, price, cost, .. } = bought;
    json!({
        "name": name, "kind": kind, "paper": paper, "size": size, "packs": packs, "amount": amount,
        "price": price, "cost": cost,
    })
}

fn lines(report: &Report) -> Vec<Value> {
    let lines = report.offer.lines.iter();
    lines
        .map(|line| {
            let scale = crate::reports::picture::card_scale([&line.card].into_iter(), CARD);
            json!({
                "line": line.line,
                "cards": line.cards,
                "each": line.each,
                "price": line.price,
                "contents": line.contents,
                "picture": svg::card(&line.card, scale, &line.line),
            })
        })
        .collect()
}

/// A layout is drawn in a scale of its own: on a screen it is zoomed.
fn layout(run: &RunReport) -> Value {
    let RunReport { name, sheet, paper, size, sheets, picture, .. } = run;
    let drawing = picture.drawing.clone();
    let scale = Scale::common([drawing.sheet], DrawingRoom::SCREEN);
    json!({
        "name": name,
        "sheet": sheet,
        "paper": paper,
        "size": size,
        "sheets": sheets,
        "picture": svg::touchable(&Picture::in_scale(drawing, scale), &format!("layout-{name}")),
    })
}

fn piece(row: &PieceRow) -> Value {
    let PieceRow { piece, line, part, size, cut, .. } = row;
    json!({ "piece": piece, "line": line, "part": part.name(), "size": size, "count": cut })
}

#[cfg(test)]
mod tests {
    use super::super::{DeskFile, DeskQuestion};
    use super::*;

    fn asked(order: &str, stop: bool) -> Vec<Value> {
        let file = |name: &str, text: &str| json!({ "name": name, "text": text });
        let sheets = "sheet,paper,width,height,price\nfern-12,fern,12,12,1.00\n";
        let desk = json!({ "order": file("may.csv", order), "sheets": file("sheets.csv", sheets) });
        let question = json!({ "ask": "plan", "desk": desk });
        let question: DeskQuestion = serde_json::from_value(question).unwrap();
        let said = Mutex::new(Vec::new());
        let say = |document: Value| said.lock().unwrap().push(document);
        super::super::answer(&question, Listener { say: &say, stop: &|| stop, first: None });
        let mut said = said.into_inner().unwrap();
        said.retain(|it| it["is"] != "progress");
        said
    }

    #[test]
    fn progress_is_told_in_a_line() {
        let far = |groups, done, spend: Option<(i64, i64)>| {
            let money = crate::measure::Money::from_minor;
            told(&Progress {
                groups,
                done,
                spend: spend.map(|(value, bound)| (money(value), money(bound))),
                currency: crate::measure::Currency::default(),
            })
        };
        assert_eq!(far(1, 0, None), "planning");
        assert_eq!(far(12, 3, None), "planning: 3 of 12 groups of papers done");
        assert_eq!(
            far(12, 3, Some((4120, 4090))),
            "planning: 3 of 12 groups of papers done; 41.20 USD, at most 0.30 USD (0.7 %) could be saved"
        );
        assert_eq!(far(1, 0, Some((500, 500))), "planning; 5.00 USD, no plan spends less");
    }

    #[test]
    fn a_first_plan_comes_before_the_final_one() {
        let said = asked("line,card,count,paper\nnote,5 x 3,4,fern\n", false);
        assert_eq!(said.iter().map(|it| &it["final"]).collect::<Vec<_>>(), [false, true]);
        let made = &said[1]["made"];
        assert_eq!(made["verdict"], "all 4 cards can be made");
        assert_eq!(made["rows"][0]["word"], "Buy");
        assert_eq!(made["pieces"][0]["piece"], "note.card");
        let picture = made["layouts"][0]["picture"].as_str().unwrap();
        assert_eq!(picture.matches("data-piece=\"note.card\"").count(), 5, "one is a spare");
        assert!(made["lines"][0]["picture"].as_str().unwrap().starts_with("<svg"));
    }

    #[test]
    fn a_problem_leads_to_its_cell() {
        let said = asked("line,card,count,paper\nnote,5 x 3,0,fern\n", false);
        assert_eq!(said.len(), 1);
        assert_eq!((&said[0]["final"], &said[0]["made"]), (&json!(true), &Value::Null));
        let problem = &said[0]["problems"][0];
        assert_eq!(problem["code"], "order-count");
        assert_eq!(problem["cell"], json!({ "kind": "order", "row": 0, "column": 2 }));
    }

    /// Blank rows count, as they do in the grid; where rows are left out, there is no grid.
    #[test]
    fn a_problem_has_the_row_of_the_grid() {
        let cell = |rows: &str| {
            let said = asked(&format!("line,card,count,paper\n,,,\n{rows}"), false);
            said.last().unwrap()["problems"][0]["cell"].clone()
        };
        let expected = json!({ "kind": "order", "row": 2, "column": 2 });
        assert_eq!(cell("\n , \nnote,5 x 3,0,fern\n"), expected);
        assert_eq!(cell("note,5 x 3,0,fern\nb;c\n"), Value::Null);
        let said = asked("line,card,count,paper\n,,,\n", false);
        assert_eq!(said[0]["problems"][0]["code"], "order-empty");
        let said = asked("line,card,count,paper\n,,,\nnote,5 x 3,4,fern\n,\n", false);
        assert_eq!(said[1]["made"]["verdict"], "all 4 cards can be made");
    }

    #[test]
    fn who_stops_gets_no_more_than_the_first() {
        let said = asked("line,card,count,paper\nnote,5 x 3,4,fern\n", true);
        assert!(said.len() <= 1, "{said:?}");
    }

    /// What is set aside is not known then, as the command says.
    #[test]
    fn nothing_is_planned_with_a_damaged_journal() {
        let file =
            |name: &str, text: &str| DeskFile { name: name.to_owned(), text: text.to_owned() };
        let desk = DeskFiles {
            order: file("may.csv", "line,card,count,paper\nnote,5 x 3,4,fern\n"),
            sheets: Some(file("sheets.csv", "sheet,paper,width,height,price\nf,fern,12,12,1\n")),
            journal: Some(file("shelf.jsonl", "x{}\n")),
            ..DeskFiles::default()
        };
        let said = Mutex::new(Vec::new());
        let say = |document: Value| said.lock().unwrap().push(document);
        let question = PlanQuestion { desk, effort: DeskEffort::Usual, told: Problems::new() };
        answer(&question, Listener { say: &say, stop: &|| false, first: None });
        let said = said.into_inner().unwrap();
        assert_eq!(said.len(), 1);
        assert_eq!((&said[0]["final"], &said[0]["made"]), (&json!(true), &Value::Null));
        assert_eq!(said[0]["problems"][0]["code"], "shelf-journal");
    }

    #[test]
    fn without_sheets_it_is_said_what_is_missing() {
        let desk = DeskFiles {
            order: DeskFile {
                name: "may.csv".to_owned(),
                text: "line,card,count,paper\na,3 x 3,1,fern\n".to_owned(),
            },
            ..DeskFiles::default()
        };
        let said = Mutex::new(Vec::new());
        let say = |document: Value| said.lock().unwrap().push(document);
        let question = PlanQuestion { desk, effort: DeskEffort::Usual, told: Problems::new() };
        answer(&question, Listener { say: &say, stop: &|| false, first: None });
        let said = said.into_inner().unwrap();
        assert_eq!(said.last().unwrap()["made"], Value::Null);
    }
}
