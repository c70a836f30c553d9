//! Levels 3 and 4: of plans that cost the same, the one that leaves most for the drawer, and of those one that is
//! little work at the bench.
//!
//! In: the runs that the program settled on. Out: runs that cut at least as many pieces as are wanted from the same
//! numbers of the same sheets, so that levels 1 and 2 stay as they are. It looks for better plans in a number of steps
//! that depends on the effort alone, never in seconds, and proves nothing. A step stands for a number of plates of a
//! layout, since a sheet may hold thousands of pieces.
//!
//! Level 3 keeps as much as it can (`kept.rs` says how that is compared), in this order:
//!
//! 1. Every layout is stripped of its remnants and laid anew (`laying.rs`). Since the measure is a sum over remnants,
//!    the best layout of a plate is made of best layouts of its parts, and each is worked out once.
//! 2. Pieces beyond those wanted are left uncut where that is worth more money: one of a layout, on as many sheets as
//!    that can be spared on, or on all sheets of a run as many as can be spared.
//! 3. Pieces move to another run of as many sheets of the same kind.
//! 4. Sheets move from one or two patterns to as many others that keep more.
//!
//! Level 4 may cost nothing of that. Runs give way to others of the same sheet where the pieces still suffice. Then it
//! chooses, among layouts that keep the same, those that are little work when all are cut together. At last, pieces beyond
//! those wanted are left uncut on all sheets of a run where the knife then comes down less often, the gauge is set no more
//! often and as much is kept; no sheet is left without a piece.
//!
//! | file | what |
//! | --- | --- |
//! | `kept.rs` | level 3 in whole numbers: what remnants are worth |
//! | `parts.rs`, `laying.rs` | the best layout of the same pieces on the same sheet |
//! | `table.rs` | these two for each kind of sheet |
//! | `moves.rs` | pieces moved from run to run |
//! | `shares.rs` | sheets moved from pattern to pattern |
//! | `runs.rs` | fewer runs where the pieces still suffice |
//! | `together.rs` | which of equal layouts, all being cut together |
//! | `handling.rs` | how much work they are |
//! | `steps.rs` | how long is looked for all of that |
//! | `uncut.rs` | no strokes for what nobody wants |

mod handling;
mod kept;
mod laying;
mod moves;
mod parts;
mod runs;
mod shares;
mod steps;
mod table;
#[cfg(test)]
mod tests;
mod together;
mod uncut;

pub(super) use handling::{Handling, Scheduler};
pub(super) use kept::Kept;
pub(super) use table::LayingTable;

use super::drawing::draw;
use super::surplus::{Sheaf, leave_surplus};
use crate::cuts::Layout;
use crate::job::Job;
use crate::measure::{Money, Ratio};
use crate::plan::Node;
use crate::program::{Answer, Task};
use crate::stock::rounded;
use steps::Steps;
use together::Matching;

/// Steps for one batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Care {
    /// Plates looked at for laying layouts anew, on each level.
    pub layouts: u64,
    /// Exchanges of pieces and sheets between runs that are tried.
    pub exchanges: u64,
    /// Layouts of runs that are compared.
    pub handling: u64,
}

/// Runs that are as good as could be found.
pub(super) struct Improved {
    /// The runs of a batch, shapes numbered as in the bill.
    pub runs: Vec<Sheaf>,
    /// Money that the offcuts kept are worth: of the runs as they were found, then of these.
    pub kept: (Money, Money),
    /// How many runs keep so much that were not looked at for their work.
    pub plain_runs: u64,
    /// How often the gauge is set for those; not known once it is called off.
    pub plain_settings: Option<u64>,
}

/// The runs that the answers come to, better on levels 3 and 4.
pub(super) fn improved(job: &Job, solved: &[(Task, Answer)], handling: Handling) -> Improved {
    let care = handling.care;
    // Each group of papers gets its share, and what those before it left.
    let share = |steps: u64| steps / solved.len().max(1) as u64;
    let open = |steps: u64| if (handling.stop)() { 0 } else { steps };
    let [steps, exchanges] = [0, 0].map(|none| Steps::new(none, handling.stop));
    let mut table = LayingTable::new(job, &steps);
    let mut kept_first = Ratio::default();
    let (mut kept, mut fewer) = (Vec::new(), Vec::new());
    for (task, answer) in solved {
        steps.set(open(steps.get() + share(care.layouts)));
        exchanges.set(open(exchanges.get() + share(care.exchanges)));
        let found: Vec<Sheaf> = found(task, answer, &table);
        kept_first = kept_first + worth(&found, &mut table);
        let wanted: Vec<u64> = task.items.iter().map(|item| item.demand).collect();
        let most = keeping_most(found, &wanted, &mut table, &exchanges);
        let few = runs::fewer(most.clone(), &wanted, &mut table, &exchanges);
        kept.extend(most.into_iter().map(|sheaf| of_bill(sheaf, task)));
        fewer.extend(few.into_iter().map(|sheaf| of_bill(sheaf, task)));
    }
    let [kept, fewer] = [kept, fewer].map(|sheaves| sorted(sheaves, job));
    let plain_runs = kept.len() as u64;
    steps.set(open(care.layouts));
    let (sheaves, plain_settings) = little_work(job, kept, fewer, &mut table, handling);
    let runs = uncut::spared(job, sheaves, &mut table, handling);
    let kept = (rounded(&kept_first), rounded(&worth(&runs, &mut table)));
    Improved { runs, kept, plain_runs, plain_settings }
}

/// The runs as they were found, their remnants gathered.
fn found(task: &Task, answer: &Answer, table: &LayingTable) -> Vec<Sheaf> {
    let runs = answer.runs.iter().map(|(supply, layout, count)| Sheaf {
        sheet: task.supplies[*supply].sheet,
        layout: table.tidied(layout.clone()),
        count: *count,
    });
    runs.collect()
}

/// Level 3: every layout laid anew, surplus places left uncut, pieces moved to other runs and sheets
/// to other patterns where that keeps more.
fn keeping_most(
    found: Vec<Sheaf>,
    wanted: &[u64],
    table: &mut LayingTable,
    exchanges: &Steps,
) -> Vec<Sheaf> {
    let anew = found.into_iter().map(|sheaf| {
        let layout = table.laid(sheaf.sheet, sheaf.layout);
        Sheaf { layout, ..sheaf }
    });
    let anew = anew.collect();
    let left = leave_surplus(anew, wanted, table);
    let moved = moves::moved(left, wanted.len(), table, exchanges);
    shares::shared(moved, wanted, table, exchanges)
}

/// What the offcuts are worth, in minor units.
fn worth(sheaves: &[Sheaf], table: &mut LayingTable) -> Ratio {
    let worth = sheaves.iter().map(|sheaf| {
        let kept = table.kept(sheaf.sheet, &sheaf.layout).times(sheaf.count);
        table.worth(sheaf.sheet, kept)
    });
    worth.sum()
}

/// Runs by the ids of their sheets, those of many sheets first.
fn sorted(mut sheaves: Vec<Sheaf>, job: &Job) -> Vec<Sheaf> {
    let id = |sheaf: &Sheaf| &job.stock.sheets[sheaf.sheet].id;
    sheaves.sort_by(|a, b| (id(a), b.count).cmp(&(id(b), a.count)));
    sheaves
}

/// Level 4: fewer runs, by layouts that are little work together; and how often the gauge is set without that, unless it
/// is called off.
fn little_work(
    job: &Job,
    kept: Vec<Sheaf>,
    fewer: Vec<Sheaf>,
    table: &mut LayingTable,
    handling: Handling,
) -> (Vec<Sheaf>, Option<u64>) {
    if (handling.stop)() {
        return (kept, None);
    }
    let before = Matching::new(job, kept, handling);
    let fewer = Matching::new(job, fewer, handling).run(table);
    let plain = before.settings();
    let matched = if fewer.settings() > plain { before.run(table) } else { fewer };
    (matched.runs(), Some(plain))
}

/// A layout as the bench sees it.
fn node(job: &Job, sheaf: &Sheaf, layout: &Layout) -> Node {
    draw(job, &Sheaf { layout: layout.clone(), ..*sheaf })
}

/// Numbers the shapes as in the bill.
fn of_bill(mut sheaf: Sheaf, task: &Task) -> Sheaf {
    sheaf.layout.rename(|shape| task.items[shape].piece);
    sheaf
}
