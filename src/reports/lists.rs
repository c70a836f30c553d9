//! The lists of a report: shop, shelf, scoring, handling, packing, drawer.

use super::report::{
    NewOffcuts, PackRow, Purchase, ScoreRow, ScoreSetting, Taken, WholeSheets, WorkList, WorkRow,
};
use super::{Batch, supplies};
use crate::cuts::Tree;
use crate::diagnostics::{counted, listed};
use crate::folds::{Score, ScoreSide};
use crate::measure::{Axis, LengthStyle, Money, Size};
use crate::orders::OrderLine;
use crate::pieces::Part;
use crate::plan::{KeptOffcut, Leaf, UsedSheet};
use crate::schedule::{PieceStep, ScoreStep};
use crate::stock::SheetKind;
use std::collections::BTreeMap;

/// What must be bought, in the order of the plan: sheets, then envelopes and sundries.
pub fn purchases(batch: &Batch) -> Vec<Purchase> {
    let bought = batch.made.plan.sheets.iter().filter(|sheet| sheet.packs_bought > 0);
    let sheets = bought.map(|sheet| purchase(batch, sheet));
    sheets.chain(supplies::purchases(batch)).collect()
}

fn purchase(batch: &Batch, sheet: &UsedSheet) -> Purchase {
    let currency = &batch.made.job.workshop.currency;
    let price = sheet.price.unwrap_or(Money::ZERO);
    let cost = price * sheet.packs_bought;
    Purchase {
        name: sheet.id.clone(),
        kind: "sheet",
        paper: sheet.paper.clone(),
        size: size_of(batch, sheet),
        packs: sheet.packs_bought,
        pack: sheet.pack.to_string(),
        is_single: sheet.pack == 1,
        is_measured: false,
        amount: (sheet.packs_bought * sheet.pack).to_string(),
        price: currency.number(price),
        cost: currency.number(cost),
        currency: currency.code().to_owned(),
    }
}

fn size_of(batch: &Batch, sheet: &UsedSheet) -> String {
    batch.made.job.workshop.style().size(Size::new(sheet.width, sheet.height))
}

/// What is taken from shelf and drawer: full sheets first, each kind by its name.
pub fn taken(batch: &Batch) -> Vec<Taken> {
    let mut taken: Vec<Taken> = batch
        .made
        .plan
        .sheets
        .iter()
        .filter(|sheet| sheet.used > 0)
        .map(|sheet| Taken {
            sheet: sheet.id.clone(),
            kind: sheet.kind,
            paper: sheet.paper.clone(),
            size: size_of(batch, sheet),
            count: sheet.used,
            bought: sheet.used.saturating_sub(sheet.on_hand),
            stays: (sheet.on_hand + sheet.packs_bought * sheet.pack).saturating_sub(sheet.used),
            whole: whole(batch, sheet),
        })
        .collect();
    taken.sort_by(|one, other| (one.kind, &one.sheet).cmp(&(other.kind, &other.sheet)));
    taken
}

/// The sheets of a kind that are pieces as they are.
fn whole(batch: &Batch, sheet: &UsedSheet) -> Option<WholeSheets> {
    let mut runs = batch.made.plan.runs.iter().filter(|run| run.sheet == sheet.id);
    runs.find_map(|run| match run.layout.leaf() {
        Some(Leaf::Piece(piece, _)) => Some(WholeSheets { count: run.count, piece: piece.clone() }),
        _ => None,
    })
}

/// Where sheets are found, and which stay whole.
pub fn place(taken: &Taken) -> String {
    let whole = match &taken.whole {
        Some(WholeSheets { count, piece }) if *count == taken.count => {
            format!("; each is one {piece} as it is")
        }
        Some(WholeSheets { count, piece }) => format!("; {count} are {piece} as they are"),
        None => String::new(),
    };
    format!("{}{whole}", found(taken))
}

fn found(taken: &Taken) -> String {
    match (taken.kind, taken.bought) {
        (SheetKind::Offcut, _) => "in the drawer".to_owned(),
        (_, 0) => "on hand".to_owned(),
        (_, bought) if bought == taken.count => "bought".to_owned(),
        (_, bought) => format!("{} on hand, {bought} of those bought", taken.count - bought),
    }
}

/// Score lines: neighbours that are scored at the same distances together.
pub fn scoring(batch: &Batch) -> Vec<ScoreSetting> {
    let style = batch.made.job.workshop.style();
    let is_alike = |one: &ScoreStep, other: &ScoreStep| one.is_like(other);
    let steps = batch.made.schedule.scoring.chunk_by(is_alike);
    let setting = |steps: &[ScoreStep]| ScoreSetting {
        lines: scored_at(&steps[0], style),
        strokes: steps[0].strokes(),
        rows: steps.iter().map(|step| score_row(step, style)).collect(),
    };
    steps.map(setting).collect()
}

fn score_row(step: &ScoreStep, style: LengthStyle) -> ScoreRow {
    ScoreRow { piece: step.piece.clone(), size: style.size(step.size), count: step.count }
}

/// `4 1/4 in from the left`, a text for each score line.
pub fn score_lines(scores: &[Score], style: LengthStyle) -> Vec<String> {
    let edge = |across| match across {
        Axis::Width => "left",
        Axis::Height => "top",
    };
    let line = |score: &Score| {
        let at = style.with_unit(score.at);
        match (score.side, score.across) {
            (ScoreSide::Outer, across) => format!("{at} from the {}", edge(across)),
            // What was left is right then, and what was on top still is.
            (ScoreSide::Inner, Axis::Width) => {
                format!("{at} from the right, turned over like a page")
            }
            (ScoreSide::Inner, Axis::Height) => {
                format!("{at} from the top, turned over like a page")
            }
        }
    };
    scores.iter().map(line).collect()
}

/// The same of a step, and how far apart the scores of a line are that is scored twice.
pub fn scored_at(step: &ScoreStep, style: LengthStyle) -> Vec<String> {
    let twice = step.twice.map(|apart| format!("each twice, {} apart", style.thickness(apart)));
    let mut lines = score_lines(&step.scores, style);
    // Of a card that is folded both ways, the second fold closes both halves one way only once the first is made.
    if let (Part::Card, [down, across]) = (step.part, step.scores.as_slice())
        && down.across != across.across
    {
        let first = style.with_unit(across.at);
        lines[0].push_str(&format!(", through both layers, once it is folded at {first}"));
    }
    lines.into_iter().chain(twice).collect()
}

/// Folding, gluing, envelopes and boxes, where there is any.
pub fn work(batch: &Batch) -> Vec<WorkList> {
    // A liner of an envelope is cut along the edges of its flap, and a finish may be a window.
    let lined = batch.made.job.bill.pieces.iter().any(|piece| piece.part == Part::EnvelopeLiner);
    let lists = [
        ("fold", "Fold", false, &batch.made.schedule.folding),
        ("finish", "Finish", true, &batch.made.schedule.finishing),
        ("make-the-envelopes", "Make the envelopes", true, &batch.made.schedule.envelopes),
        ("glue", "Glue", lined, &batch.made.schedule.sticking),
        ("make-the-boxes", "Make the boxes", true, &batch.made.schedule.boxes),
    ];
    lists
        .into_iter()
        .filter(|(.., steps)| !steps.is_empty())
        .map(|(id, title, by_hand, steps)| WorkList {
            id,
            title,
            by_hand,
            then: if id == "glue" { drying(batch) } else { String::new() },
            has_shapes: steps.iter().any(|step| has_shape(step.part)),
            rows: work_rows(steps, batch.made.job.workshop.style()),
        })
        .collect()
}

/// How long what is glued dries.
fn drying(batch: &Batch) -> String {
    match batch.made.job.workshop.rates.dry_hours {
        0 => String::new(),
        hours => format!(
            "Let all of it dry for {} under a weight before you go on.",
            counted(hours, "hour")
        ),
    }
}

/// Whether pieces are cut out by a shape of their own.
pub fn has_shape(part: Part) -> bool {
    matches!(part, Part::Envelope | Part::EnvelopeLiner | Part::Box)
}

fn work_rows(steps: &[PieceStep], style: LengthStyle) -> Vec<WorkRow> {
    let row = |step: &PieceStep| WorkRow {
        piece: step.piece.clone(),
        size: style.size(step.size),
        count: step.count,
        what: step.what.clone(),
    };
    steps.iter().map(row).collect()
}

/// Finished sets, with date and note of their order line.
pub fn packing(batch: &Batch) -> Vec<PackRow> {
    let lines = batch.made.job.order.lines.iter().rev();
    // Of lines with one name the first counts, so it comes last here.
    let lines: BTreeMap<&str, &OrderLine> =
        lines.map(|line| (line.name.value.as_str(), line)).collect();
    let steps = batch.made.schedule.packing.iter();
    steps
        .map(|step| {
            let line = lines.get(step.line.as_str());
            PackRow {
                line: step.line.clone(),
                count: step.count,
                contents: step.contents.clone(),
                tasks: step.tasks.clone(),
                seconds: step.seconds,
                due: line.and_then(|line| line.due).map(|due| due.to_string()),
                note: line.map(|line| on_one_line(&line.note)).unwrap_or_default(),
            }
        })
        .collect()
}

fn on_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Offcuts that go in the drawer.
pub fn drawer(batch: &Batch) -> Vec<NewOffcuts> {
    let style = batch.made.job.workshop.style();
    let offcuts = batch.made.plan.offcuts.iter();
    offcuts
        .map(|kept| NewOffcuts {
            offcut: kept.id.clone(),
            paper: kept.paper.clone(),
            size: style.size(Size::new(kept.width, kept.height)),
            count: kept.count,
            runs: runs_of(kept),
        })
        .collect()
}

/// Most runs of an offcut that are named.
const RUNS: usize = 3;

/// The runs that leave an offcut: `R1 and R3`, or `R1, R2 and 4 more`.
pub fn runs_of(kept: &KeptOffcut) -> String {
    let mut runs: Vec<String> = kept.runs().cloned().collect();
    if runs.len() > RUNS {
        let more = runs.split_off(RUNS - 1).len();
        runs.push(format!("{more} more"));
    }
    listed(&runs)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;

    #[test]
    fn only_bought_sheets_are_on_the_shopping_list() {
        let made = fixture::fair();
        let purchases = purchases(&made.batch());
        assert_eq!(purchases.len(), 1);
        assert_eq!((purchases[0].packs, purchases[0].amount.as_str()), (2, "50"));
        assert_eq!((purchases[0].price.as_str(), purchases[0].cost.as_str()), ("6.00", "12.00"));
    }

    #[test]
    fn the_shelf_list_tells_what_is_bought_and_what_stays() {
        let made = fixture::fair();
        let taken = taken(&made.batch());
        let names: Vec<&str> = taken.iter().map(|taken| taken.sheet.as_str()).collect();
        assert_eq!(names, ["fern-26", "kraft-12", "plum-letter", "fern-d1"]);
        assert_eq!((taken[1].count, taken[1].bought, taken[1].stays), (42, 30, 20));
        assert_eq!((taken[2].count, taken[2].bought, taken[2].stays), (21, 0, 9));
        let places: Vec<String> = taken.iter().map(place).collect();
        assert_eq!(places[1..], ["12 on hand, 30 of those bought", "on hand", "in the drawer"]);
        let all = Taken { bought: 42, ..taken[1].clone() };
        assert_eq!(place(&all), "bought");
        let whole = |count| Some(WholeSheets { count, piece: "tag.card".to_owned() });
        let some = Taken { whole: whole(2), ..taken[2].clone() };
        assert_eq!(place(&some), "on hand; 2 are tag.card as they are");
        assert_eq!(
            place(&Taken { whole: whole(21), ..some }),
            "on hand; each is one tag.card as it is"
        );
    }

    #[test]
    fn score_lines_say_from_which_edge() {
        let scoring = scoring(&fixture::fair().batch());
        assert_eq!(scoring[0].lines, ["5 in from the left"]);
        assert_eq!(scoring[1].rows[0].piece, "invite.envelope");
        assert_eq!(scoring[1].lines[3], "10 1/8 in from the top");
    }

    /// Behind the first fold, the outer side lies inside the second.
    #[test]
    fn the_second_score_of_a_french_fold_goes_through_both_layers() {
        let scores = vec![
            Score::new(Axis::Width, fixture::inch("4")),
            Score::new(Axis::Height, fixture::inch("5")),
        ];
        let step = ScoreStep {
            piece: "note.card".to_owned(),
            part: Part::Card,
            size: fixture::size("8 x 10"),
            scores,
            count: 10,
            twice: Some(fixture::inch("1/50")),
        };
        let style = fixture::fair().job.workshop.style();
        let lines = [
            "4 in from the left, through both layers, once it is folded at 5 in",
            "5 in from the top",
            "each twice, 0.02 in apart",
        ];
        assert_eq!(scored_at(&step, style), lines);
        assert_eq!(step.strokes(), 4, "two for each line, whatever else is said");
    }

    #[test]
    fn lists_without_work_are_left_out() {
        let titles = |made: &crate::made::Made| -> Vec<&str> {
            work(&made.batch()).iter().map(|list| list.title).collect()
        };
        assert_eq!(titles(&fixture::lesson()), ["Fold"]);
        assert_eq!(titles(&fixture::fair()), ["Fold", "Make the envelopes", "Glue"]);
    }

    #[test]
    fn what_is_cut_by_hand_is_known() {
        let mut made = fixture::fair();
        let by_hand = |made: &crate::made::Made| -> Vec<bool> {
            work(&made.batch()).iter().map(|list| list.by_hand).collect()
        };
        assert_eq!(by_hand(&made), [false, true, false]);
        made.job.bill.pieces[0].part = Part::EnvelopeLiner;
        assert_eq!(by_hand(&made), [false, true, true], "liners are cut along the flap");
    }

    #[test]
    fn packing_carries_date_and_note_on_one_line() {
        let mut made = fixture::fair();
        made.job.order.lines[1].note = "no\nglitter".to_owned();
        let packing = packing(&made.batch());
        assert_eq!(packing[0].due.as_deref(), Some("2031-05-03"));
        assert_eq!(packing[1].note, "no glitter");
    }
}
