//! Cards that fold across the grain, and layers that lie across it.

use crate::cuts::Tree;
use crate::diagnostics::{Problem, Problems, listed};
use crate::job::Job;
use crate::pieces::{Bill, Piece};
use crate::plan::{Leaf, Plan};
use crate::stock::{KnownPapers, Sheet};
use crate::workshop::GrainRule;
use std::collections::BTreeMap;

/// How many of each kind of piece lie across the grain, where it is known; by the piece's id, without those of
/// which none does.
pub fn across_grain(plan: &Plan, job: &Job) -> BTreeMap<String, u64> {
    let Job { bill, stock, .. } = job;
    let pieces: BTreeMap<&str, &Piece> =
        bill.pieces.iter().map(|piece| (piece.id.as_str(), piece)).collect();
    let sheets: BTreeMap<&str, &Sheet> =
        stock.sheets.iter().map(|sheet| (sheet.id.as_str(), sheet)).collect();
    let mut across = BTreeMap::new();
    for run in &plan.runs {
        let grain = sheets.get(run.sheet.as_str()).and_then(|sheet| sheet.grain);
        let Some(grain) = grain else { continue };
        for leaf in run.layout.leaves() {
            let Leaf::Piece(id, turned) = leaf else { continue };
            let fold = pieces.get(id.as_str()).and_then(|piece| piece.grain_along);
            let fold = fold.map(|fold| if *turned { fold.other() } else { fold });
            if fold.is_some_and(|fold| fold != grain) {
                *across.entry(id.clone()).or_insert(0) += run.count;
            }
        }
    }
    across
}

/// Paper up to this weight, in milligrams per square metre, folds well either way: text of 70 lb, 105 g/m2 (GPO paper
/// specification JCP A91), which the guide of a mailing house would never score.
const THIN: u64 = 105_000;

/// Most kinds of pieces that a warning names.
const NAMED: usize = 6;

/// A warning for each paper of which pieces lie across the grain, where that is not wanted and the paper is not thin.
pub(super) fn warnings(plan: &Plan, job: &Job) -> Problems {
    let Job { stock, workshop, bill, .. } = job;
    let mut problems = Problems::new();
    if workshop.grain != GrainRule::Prefer {
        return problems;
    }
    let known = KnownPapers::of(stock);
    let across = across_grain(plan, job);
    let mut by_papers: BTreeMap<&[String], Vec<(&str, u64)>> = BTreeMap::new();
    for piece in &bill.pieces {
        let is_thin = known.heaviest(&piece.papers).weight.is_some_and(|weight| weight <= THIN);
        if let Some(count) = across.get(&piece.id).filter(|_| !is_thin) {
            by_papers.entry(&piece.papers).or_default().push((&piece.id, *count));
        }
    }
    for (papers, folded) in by_papers {
        problems.push(warning(papers, &folded, plan, bill));
    }
    problems
}

fn warning(papers: &[String], folded: &[(&str, u64)], plan: &Plan, bill: &Bill) -> Problem {
    let told = |&(id, across): &(&str, u64)| {
        let cut = plan.pieces.iter().find(|piece| piece.id == id).map_or(across, |it| it.cut);
        format!("{across} of {cut} `{id}`")
    };
    let mut pieces: Vec<String> = folded.iter().map(told).collect();
    if pieces.len() > NAMED {
        let more = pieces.split_off(NAMED - 1).len();
        pieces.push(format!("{more} more kinds"));
    }
    let papers = papers.join(" or ");
    let is_layer = |id: &str| bill.pieces.iter().any(|it| it.id == id && it.is_glued_to_a_fold());
    let verb = match (folded.iter().any(|(id, _)| is_layer(id)), folded) {
        (false, [(_, 1)]) => "folds",
        (false, _) => "fold",
        (true, [(_, 1)]) => "lies",
        (true, _) => "lie",
    };
    let title = format!("{} {verb} across the grain of {papers}", listed(&pieces));
    let mut problem = Problem::warning("schedule-grain", title);
    if folded.iter().any(|(id, _)| !is_layer(id)) {
        problem = problem.help("score them well: a fold across the fibres can crack");
    }
    if folded.iter().any(|(id, _)| is_layer(id)) {
        problem = problem
            .help("press a card whose layer lies across its grain until it is dry: it can warp");
    }
    problem.help("`rule = \"strict\"` under [grain] lays cards and their layers along it, whatever that costs")
}
