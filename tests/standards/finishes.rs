//! What is done to cards by hand: its time and its price, worked out by hand from the sections of an invented workshop.

use crate::bench::instances::inputs;
use cardwright::batch::{self, Effort, Made, Options};
use cardwright::quote::quote;

const BENCH: &str = "[spares]\npercent = 0\nat_least = 0\n\
    [finish.corners]\nseconds = 12\nprice = 0.02\n[finish.\"ribbon hole\"]\nseconds = 5\nprice = 0.01\n";

fn made(rows: &str, bench: &str) -> Made {
    let order = format!("line,card,fold,count,paper,finish\n{rows}");
    let sheets = "sheet,paper,width,height,price\nfern,fern,12,12,1.00\n".to_owned();
    let inputs = inputs("may", order, sheets, None, bench.to_owned());
    let options = Options { effort: Effort::Quick, threads: Some(1), ..Options::default() };
    let outcome = batch::plan(&inputs, &options);
    outcome.made.unwrap_or_else(|| panic!("{:?}", outcome.problems))
}

/// 24 cards with corners, 12 s and 0.02, and two holes, 5 s and 0.01 each: 24 x 22 s and 24 x 0.04. The cards of the other
/// line are cut with them, and nothing is done to them.
#[test]
fn time_and_price_are_those_of_the_sections() {
    let rows = "invitation,5 x 7,side,24,fern,corners + ribbon hole + ribbon hole\nthanks,5 x 7,side,10,fern,\n";
    let finished = made(rows, BENCH);
    assert_eq!(finished.job.bill.pieces.len(), 1, "both are one piece");
    let schedule = &finished.schedule;
    assert_eq!(schedule.times.finishing, 24 * 22);
    let [step] = schedule.finishing.as_slice() else { panic!("{:?}", schedule.finishing) };
    assert_eq!((step.count, step.seconds), (24, 24 * 22));
    assert_eq!(step.what, "those of invitation: corners; ribbon hole, twice");
    let held = &schedule.packing[0].contents;
    assert_eq!(held[1], "finish: corners and ribbon hole, twice");
    let of = |made: &Made| quote(made).lines;
    let [invitation, thanks] = of(&finished).try_into().unwrap();
    assert_eq!((invitation.costs.finishes.minor(), thanks.costs.finishes.minor()), (96, 0));
    // 18.00 an hour: 528 s are 2.64 of work, and all of it is the invitation's.
    let plain = made("invitation,5 x 7,side,24,fern,\nthanks,5 x 7,side,10,fern,\n", BENCH);
    let [before, other] = of(&plain).try_into().unwrap();
    let more = invitation.costs.labour.minor() - before.costs.labour.minor();
    assert!((263..=265).contains(&more), "{more}");
    assert!((thanks.costs.labour.minor() - other.costs.labour.minor()).abs() <= 1);
    assert_eq!(plain.schedule.finishing, []);
    assert_eq!(plain.plan, finished.plan, "what is done by hand moves no cut");
}

/// Spares are finished with the others: any of them may be the one that fails.
#[test]
fn spares_are_finished_too() {
    let bench = BENCH.replace("at_least = 0", "at_least = 2");
    let finished = made("note,4 x 6,flat,10,fern,corners\n", &bench);
    assert_eq!(finished.schedule.times.finishing, 12 * 12);
    assert_eq!(quote(&finished).total.finishes.minor(), 24);
}
