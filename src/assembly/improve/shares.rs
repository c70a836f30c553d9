//! Sheets moved from one pattern to another that keeps more, where the pieces still suffice.
//!
//! One or two patterns give a sheet each, as many others take one each, and this as often as there are
//! sheets and pieces enough. Of all such exchanges the one that keeps most is made, and so on.

use super::kept::Kept;
use super::{LayingTable, Steps};
use crate::assembly::surplus::{Counted, Sheaf};

/// Divides the sheets anew among the patterns of each kind of sheet; `wanted` by shape.
pub(super) fn shared(
    sheaves: Vec<Sheaf>,
    wanted: &[u64],
    table: &mut LayingTable,
    steps: &Steps,
) -> Vec<Sheaf> {
    let mut runs = Counted::all(sheaves, wanted.len(), table);
    while let Some(exchange) = best(&runs, wanted, steps) {
        for run in exchange.gives {
            runs[run].sheaf.count -= exchange.times;
        }
        for run in exchange.takes {
            runs[run].sheaf.count += exchange.times;
        }
    }
    runs.into_iter().map(|run| run.sheaf).filter(|sheaf| sheaf.count > 0).collect()
}

/// Sides of exchanges above which looking at them is counted …
const MANY: usize = 1_000;
/// … and so many looks are a step.
const LOOKS: u64 = 64;

/// Runs that give a sheet each, runs that take one each, and how often.
struct Exchange {
    gives: Vec<usize>,
    takes: Vec<usize>,
    times: u64,
}

/// The exchange that keeps most, the first of equals.
fn best(runs: &[Counted], wanted: &[u64], steps: &Steps) -> Option<Exchange> {
    if steps.get() == 0 {
        return None;
    }
    let surplus = Counted::surplus(runs, wanted);
    let sides = sides(runs);
    let mut best: Option<(Kept, Exchange)> = None;
    for (gives, given) in &sides {
        // Of very many runs, even those that do not go together take their time.
        if sides.len() > MANY {
            steps.take_many(sides.len() as u64 / LOOKS)?;
        }
        for (takes, taken) in &sides {
            let keeps_more = taken > given;
            let alike = gives.len() == takes.len()
                && runs[gives[0]].sheaf.sheet == runs[takes[0]].sheaf.sheet;
            if !keeps_more || !alike || gives.iter().any(|run| takes.contains(run)) {
                continue;
            }
            steps.take()?;
            let times = times(runs, &surplus, [gives, takes]);
            let gain = taken.less(*given).times(times);
            if times > 0 && best.as_ref().is_none_or(|best| gain > best.0) {
                best = Some((gain, Exchange { gives: gives.clone(), takes: takes.clone(), times }));
            }
        }
    }
    best.map(|best| best.1)
}

/// One run, or two of a kind of sheet, and what a sheet of each keeps together.
type Trade = (Vec<usize>, Kept);

fn sides(runs: &[Counted]) -> Vec<Trade> {
    let one = |run: usize| (vec![run], runs[run].kept);
    let mut sides: Vec<Trade> = (0..runs.len()).map(one).collect();
    for (at, first) in runs.iter().enumerate() {
        for (second, other) in runs.iter().enumerate().skip(at) {
            if first.sheaf.sheet == other.sheaf.sheet {
                sides.push((vec![at, second], first.kept + other.kept));
            }
        }
    }
    sides
}

/// How often an exchange can be made.
fn times(runs: &[Counted], surplus: &[u64], [gives, takes]: [&Vec<usize>; 2]) -> u64 {
    let sheets = gives.iter().map(|run| {
        let same = gives.iter().filter(|other| *other == run).count() as u64;
        runs[*run].sheaf.count / same
    });
    let yields = |side: &Vec<usize>, shape: usize| -> u64 {
        side.iter().map(|run| runs[*run].yields[shape]).sum()
    };
    let pieces = surplus.iter().enumerate().filter_map(|(shape, surplus)| {
        let lost = yields(gives, shape).saturating_sub(yields(takes, shape));
        (lost > 0).then(|| surplus / lost)
    });
    sheets.chain(pieces).min().unwrap_or(0)
}
