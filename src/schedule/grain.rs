//! Cards that fold across the grain.

use crate::diagnostics::{Problem, Problems};
use crate::pieces::{Bill, Piece};
use crate::plan::{Content, Plan};
use crate::stock::{Sheet, Stock};
use crate::workshop::{GrainRule, Workshop};
use std::collections::BTreeMap;

/// How many of each kind of piece fold across the grain, where it is known; by the piece's id, without those of
/// which none does.
pub fn across_grain(plan: &Plan, bill: &Bill, stock: &Stock) -> BTreeMap<String, u64> {
    let pieces: BTreeMap<&str, &Piece> =
        bill.pieces.iter().map(|piece| (piece.id.as_str(), piece)).collect();
    let sheets: BTreeMap<&str, &Sheet> =
        stock.sheets.iter().map(|sheet| (sheet.id.as_str(), sheet)).collect();
    let mut across = BTreeMap::new();
    for run in &plan.runs {
        let grain = sheets.get(run.sheet.as_str()).and_then(|sheet| sheet.grain);
        let Some(grain) = grain else { continue };
        run.layout.visit(&mut |node| {
            let Content::Piece(id, turned) = &node.content else { return };
            let fold = pieces.get(id.as_str()).and_then(|piece| piece.fold_along);
            let fold = fold.map(|fold| if *turned { fold.other() } else { fold });
            if fold.is_some_and(|fold| fold != grain) {
                *across.entry(id.clone()).or_insert(0) += run.count;
            }
        });
    }
    across
}

/// A warning for each kind of piece of which some fold across the grain, where that is not wanted.
pub(super) fn warnings(
    (plan, bill): (&Plan, &Bill),
    stock: &Stock,
    workshop: &Workshop,
) -> Problems {
    let mut problems = Problems::new();
    if workshop.grain != GrainRule::Prefer {
        return problems;
    }
    for (id, across) in across_grain(plan, bill, stock) {
        let cut = plan.pieces.iter().find(|piece| piece.id == id).map_or(across, |it| it.cut);
        let verb = if across == 1 { "folds" } else { "fold" };
        let title = format!("{across} of {cut} `{id}` {verb} across the grain");
        problems.push(
            Problem::warning("schedule-grain", title)
                .help("score them well: a fold across the fibres can crack")
                .help(
                    "`rule = \"strict\"` under [grain] lays all folds along it, at whatever price",
                ),
        );
    }
    problems
}
