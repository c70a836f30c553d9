//! What the stock lacks, as a problem for the person.

use super::inputs::{Aside, Readied};
use crate::diagnostics::{Problem, listed, one_word};
use crate::plan::Plan;
use crate::program::Shortage;
use crate::stock::SheetKind;
use std::collections::BTreeSet;

/// Most kinds of pieces of which is told how many are missing.
const MISSING: usize = 6;

/// Where to look for what others have set aside.
fn shown<'a>(aside: impl Iterator<Item = &'a Aside>, batch: &Readied) -> String {
    let holders: Vec<&str> = aside.map(|aside| aside.holder.as_str()).collect();
    let drop =
        |holder: &&str| format!("`{}`", batch.shelf_command(&format!("drop {}", one_word(holder))));
    let drops: Vec<String> = holders.iter().map(drop).collect();
    let release = if drops.len() == 1 { "releases" } else { "release" };
    format!(
        "paper is set aside for {}: `{}` shows it, {} {release} it",
        listed(&holders),
        batch.shelf_command(""),
        listed(&drops)
    )
}

/// A paper that is bought while some of it is set aside: the person may have forgotten for what.
pub(super) fn bought_beside(batch: &Readied, plan: &Plan) -> Option<Problem> {
    let bought = plan.sheets.iter().filter(|sheet| sheet.packs_bought > 0);
    let bought: BTreeSet<&str> = bought.map(|sheet| sheet.paper.as_str()).collect();
    let is_held = |paper: &&str| batch.set_aside.iter().any(|aside| aside.papers.contains(*paper));
    let papers: Vec<&str> = bought.into_iter().filter(is_held).collect();
    let holds = |aside: &&Aside| papers.iter().any(|paper| aside.papers.contains(*paper));
    let title = format!("{} is bought while some is set aside", listed(&papers));
    let told = Problem::warning("program-set-aside", title);
    (!papers.is_empty()).then(|| told.help(shown(batch.set_aside.iter().filter(holds), batch)))
}

/// The full sheets that would be enough if they were on hand too; `None` where that is not known, or where it would
/// take offcuts, which nobody can get.
fn would_do(shortage: &Shortage, batch: &Readied) -> Option<String> {
    let sheets = &batch.job.stock.sheets;
    let is_full = |&(sheet, _): &(usize, u64)| sheets[sheet].kind == SheetKind::Sheet;
    let known = !shortage.more.is_empty() && shortage.more.len() <= MISSING;
    let more = |&(sheet, count): &(usize, u64)| format!("{count} more of `{}`", sheets[sheet].id);
    (known && shortage.more.iter().all(is_full))
        .then(|| listed(&shortage.more.iter().map(more).collect::<Vec<_>>()))
}

/// Whether a paper that is short can be bought at all.
fn can_be_bought(shortage: &Shortage, batch: &Readied) -> bool {
    let mut priced = batch.job.stock.sheets.iter().filter(|sheet| sheet.price.is_some());
    priced.any(|sheet| shortage.papers.contains(&sheet.paper))
}

/// What the stock lacks, as a problem for the person.
pub(super) fn short_of_stock(shortage: &Shortage, batch: &Readied) -> Problem {
    let bill = &batch.job.bill;
    let missing = shortage.pieces.iter();
    let is_one = matches!(shortage.pieces.as_slice(), [(_, 1)]);
    let mut missing: Vec<String> =
        missing.map(|&(piece, count)| format!("{count} of `{}`", bill.pieces[piece].id)).collect();
    if missing.len() > MISSING {
        let more = missing.split_off(MISSING - 1).len();
        missing.push(format!("{more} more kinds"));
    }
    let papers = listed(&shortage.papers);
    let title = match shortage.proven {
        true if can_be_bought(shortage, batch) => {
            format!("the stock of {papers} is not enough, even with what can be bought")
        }
        true => format!("the stock of {papers} is not enough"),
        false => format!("no plan was found for the stock of {papers}"),
    };
    let place = shortage.pieces.first().and_then(|&(piece, _)| bill.pieces[piece].place.as_ref());
    let label = match missing.is_empty() {
        true => "needs more paper than there is".to_owned(),
        false => format!("{} {} missing", listed(&missing), if is_one { "is" } else { "are" }),
    };
    let problem = Problem::error("program-stock-short", title).at(place, label);
    let problem = match batch.set_aside.as_slice() {
        [] => problem,
        aside => problem.help(shown(aside.iter(), batch)),
    };
    let problem = match would_do(shortage, batch) {
        Some(more) => problem.help(format!("{more} on hand would be enough")),
        None => problem,
    };
    problem
        .help("add sheets on hand, or a price in sheets.csv if more can be bought")
        .help("or name a second paper in the order, joined by `|`")
}
