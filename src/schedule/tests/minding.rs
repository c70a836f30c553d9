//! What is warned of before the work begins.

use super::super::{across_grain, warnings};
use super::fixtures::{cuts, inch, plan, sheet, workshop};
use super::trees::{cut_x, named, turned};
use crate::job::Job;
use crate::measure::{Axis, Size};
use crate::orders::{Order, Turn};
use crate::pieces::{Bill, Part, Piece, Share};
use crate::plan::{Plan, PlannedPiece};
use crate::stock::{Sheet, SheetKind, Stock};
use crate::workshop::GrainRule;

fn piece(id: &str, grain_along: Option<Axis>) -> Piece {
    Piece {
        id: id.to_owned(),
        part: Part::Card,
        papers: vec!["fern".to_owned()],
        size: Size::new(inch(4, 1), inch(4, 1)),
        turn: None,
        grain_along,
        scores: Vec::new(),
        shares: vec![Share { line: id.to_owned(), need: 1, spares: 0 }],
        done: Default::default(),
        place: None,
    }
}

fn planned(piece: &Piece, cut: u64) -> PlannedPiece {
    PlannedPiece {
        id: piece.id.clone(),
        line: piece.id.clone(),
        part: piece.part,
        papers: piece.papers.clone(),
        width: piece.size.width,
        height: piece.size.height,
        turn: Turn::Free,
        fold: piece.grain_along,
        need: 1,
        spares: 0,
        done: 0,
        spoiled: 0,
        cut,
        scores: Vec::new(),
    }
}

/// Two sheets, of each a flat tag, a card as it is and a card turned; the grain runs across.
fn planned_job() -> (Plan, Job) {
    let size = Size::new(inch(4, 1), inch(12, 1));
    let cards = cut_x([named("card", size), turned("card", size)]);
    let layout = cut_x([named("tag", size), cards]).at(0, 0);
    let mut plan = plan(vec![(layout, 2, SheetKind::Sheet)]);
    let pieces = vec![piece("card", Some(Axis::Height)), piece("tag", None)];
    plan.pieces = vec![planned(&pieces[0], 4), planned(&pieces[1], 2)];
    let grainy = Sheet { grain: Some(Axis::Width), ..sheet("S0") };
    let order = Order { name: "test".to_owned(), lines: Vec::new() };
    let stock = Stock::of_sheets(vec![grainy]);
    (
        plan,
        Job {
            order,
            stock,
            workshop: workshop(),
            bill: Bill::of_pieces(pieces),
            before: None,
            part: Vec::new(),
        },
    )
}

#[test]
fn folds_across_the_grain_are_counted_among_all_that_are_cut() {
    let (plan, mut job) = planned_job();
    assert_eq!(across_grain(&plan, &job), [("card".to_owned(), 2)].into());
    let mut told = |rule: GrainRule| -> Vec<String> {
        job.workshop.grain = rule;
        let schedule = cuts(&plan, &job.workshop);
        let problems = warnings(&schedule, &plan, &job);
        let own = problems.iter().filter(|problem| problem.code == "schedule-grain");
        own.map(|problem| problem.title.clone()).collect()
    };
    assert_eq!(told(GrainRule::Prefer), ["2 of 4 `card` fold across the grain of fern"]);
    assert_eq!(told(GrainRule::Strict), Vec::<String>::new());
}
