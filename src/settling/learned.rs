//! What the last jobs teach: how long work took, and how much was spoiled, against what the bench says.
//!
//! Of each job that was settled whole by one plan, the seconds that a person says a stage took, against those that were told, give
//! a rate; the middle one of the last few is proposed. Nothing is changed.

use crate::diagnostics::{counted, listed};
use crate::schedule::Times;
use crate::shelf::{Journal, Settled, StageWork};
use crate::workshop::{Rates, Workshop};
use std::collections::{BTreeMap, BTreeSet};

/// Most jobs that are looked at: the last ones.
const LAST: usize = 5;

/// Fewest jobs after which fewer spares are proposed.
const FEWEST: usize = 3;

/// Rates nearer than this many percent to what they are now are left alone.
const NEAR: u64 = 10;

/// A stage of the work, as it is typed and told, and the rates that it goes by.
pub struct LearnedStage {
    /// Its word.
    pub word: &'static str,
    /// What it is called in a sentence.
    told: &'static str,
    /// Seconds that a schedule tells for it.
    planned: fn(&Times) -> u64,
    /// Its rates under `[rates.seconds]`.
    pub rates: &'static [RateKey],
}

/// A rate, by its key.
pub struct RateKey {
    /// The key.
    pub key: &'static str,
    /// Its value.
    pub of: fn(&Rates) -> u64,
}

const fn rate(key: &'static str, of: fn(&Rates) -> u64) -> RateKey {
    RateKey { key, of }
}

/// All stages, in the order of the work.
pub const STAGES: [LearnedStage; 8] = [
    LearnedStage {
        word: "cut",
        told: "cutting",
        planned: |times| times.cutting,
        rates: &[
            rate("gauge", |rates| rates.gauge),
            rate("stroke", |rates| rates.stroke),
            rate("stack", |rates| rates.stack),
        ],
    },
    LearnedStage {
        word: "score",
        told: "scoring",
        planned: |times| times.scoring,
        rates: &[rate("score", |rates| rates.score)],
    },
    LearnedStage {
        word: "fold",
        told: "folding",
        planned: |times| times.folding,
        rates: &[rate("fold", |rates| rates.fold)],
    },
    // What each finish takes is said in a section of its own.
    LearnedStage {
        word: "finish",
        told: "finishing",
        planned: |times| times.finishing,
        rates: &[],
    },
    LearnedStage {
        word: "envelopes",
        told: "making envelopes",
        planned: |times| times.envelopes,
        rates: &[rate("envelope", |rates| rates.envelope)],
    },
    LearnedStage {
        word: "glue",
        told: "gluing",
        planned: |times| times.sticking,
        rates: &[rate("stick", |rates| rates.stick)],
    },
    LearnedStage {
        word: "boxes",
        told: "making boxes",
        planned: |times| times.boxes,
        rates: &[rate("box", |rates| rates.gift_box)],
    },
    LearnedStage {
        word: "pack",
        told: "packing",
        planned: |times| times.packing,
        rates: &[rate("pack", |rates| rates.pack)],
    },
];

/// What the last jobs propose, in a sentence; `None` where they say nothing, or what the bench says.
pub fn sentence(journal: &Journal, workshop: &Workshop) -> Option<String> {
    let jobs = jobs(journal);
    let (mut told, mut keys) = (Vec::new(), Vec::new());
    let mut most = 0;
    for stage in &STAGES {
        let works: Vec<StageWork> = jobs.iter().filter_map(|job| work(job, stage.word)).collect();
        let new: Vec<(&RateKey, u64)> = stage
            .rates
            .iter()
            .filter_map(|rate| {
                Some((
                    rate,
                    middle(works.iter().filter_map(|work| seconds(work, rate.key)).collect())?,
                ))
            })
            .filter(|(rate, new)| is_far((rate.of)(&workshop.rates), *new))
            .collect();
        let Some((first, seconds)) = new.first() else { continue };
        most = most.max(works.len());
        told.push(match stage.rates.len() {
            1 => format!("{} took {seconds} s, not {}", stage.told, (first.of)(&workshop.rates)),
            _ => format!(
                "{} took {seconds} s a setting, not {}",
                stage.told,
                (first.of)(&workshop.rates)
            ),
        });
        keys.extend(new.iter().map(|(rate, seconds)| format!("`{} = {seconds}`", rate.key)));
    }
    let mut proposed: Vec<String> = Vec::new();
    if !keys.is_empty() {
        proposed.push(format!("{} under [rates.seconds]", listed(&keys)));
    }
    let spoiled: Vec<u64> = jobs.iter().filter_map(|job| spoiled(job)).collect();
    let many = spoiled.len();
    // Fewer spares are proposed only after several jobs, and never none.
    let now = u64::from(workshop.spares.percent);
    let percent = middle(spoiled).map(|percent| percent.max(1));
    let percent = percent.filter(|percent| *percent > now || *percent < now && many >= FEWEST);
    if let Some(percent) = percent {
        most = most.max(many);
        told.push(format!("{percent} % was spoiled, with {now} % to spare"));
        proposed.push(format!("`percent = {percent}` under [spares]"));
    }
    (!told.is_empty()).then(|| {
        let jobs = if most == 1 {
            "your last job".to_owned()
        } else {
            format!("your last {}", counted(most as u64, "job"))
        };
        format!(
            "In {jobs}, {}: {} in workshop.toml would say so.",
            listed(&told),
            listed(&proposed)
        )
    })
}

/// The parts of each of the last jobs that one plan has settled whole.
fn jobs(journal: &Journal) -> Vec<Vec<&Settled>> {
    let mut plans: Vec<&str> = Vec::new();
    let mut several = BTreeSet::new();
    for (_, settled) in journal.settled() {
        let plan = settled.plan.as_str();
        plans.retain(|known| *known != plan);
        plans.push(plan);
        if let Some(before) = settled.rest_of.as_deref() {
            several.extend([before, plan]);
        }
    }
    let parts = |plan: &str| -> Vec<&Settled> {
        journal.settled().map(|(_, settled)| settled).filter(|it| it.plan == plan).collect()
    };
    let jobs = plans.into_iter().rev().filter(|plan| !several.contains(plan)).map(parts);
    jobs.filter(|parts| parts.iter().any(|part| part.whole)).take(LAST).collect()
}

/// What a job says of a stage: all its parts together.
fn work(job: &[&Settled], stage: &str) -> Option<StageWork> {
    let mut works = job.iter().filter_map(|part| part.work.get(stage));
    let mut all = works.next()?.clone();
    works.for_each(|more| all.took += more.took);
    Some(all)
}

/// The rate of a job, to the nearest second, at least one.
fn seconds(work: &StageWork, key: &str) -> Option<u64> {
    let then = *work.rates.get(key)?;
    let planned = Some(work.planned).filter(|planned| *planned > 0)?;
    let nearest = (2 * then * work.took + planned) / (2 * planned);
    Some(nearest.max(1))
}

/// Pieces spoiled of those that were made, in percent, rounded up; `None` of an entry that does not say.
fn spoiled(job: &[&Settled]) -> Option<u64> {
    let tallies = job.iter().filter_map(|part| part.pieces.as_ref()).flatten();
    let (mut made, mut spoiled) = (0, 0);
    for tally in tallies {
        made += tally.finished + tally.lost;
        spoiled += tally.spoiled + tally.lost;
    }
    let said = job.iter().any(|part| !part.work.is_empty()) || spoiled > 0;
    (made > 0 && said).then(|| (100 * spoiled).div_ceil(made))
}

/// The middle one; of an even number, the higher one of the two in the middle.
fn middle(mut values: Vec<u64>) -> Option<u64> {
    values.sort_unstable();
    values.get(values.len() / 2).copied()
}

fn is_far(now: u64, new: u64) -> bool {
    now.abs_diff(new) * 100 >= NEAR * now.max(1)
}

/// What a person said of stages, against what is planned for them: for the journal.
pub(super) fn works(
    took: &BTreeMap<String, u64>,
    times: &Times,
    rates: &Rates,
) -> BTreeMap<String, StageWork> {
    let stages = STAGES.iter().filter_map(|stage| Some((stage, *took.get(stage.word)?)));
    let work = |(stage, took): (&LearnedStage, u64)| {
        let rates = stage.rates.iter().map(|rate| (rate.key.to_owned(), (rate.of)(rates)));
        let planned = (stage.planned)(times);
        (stage.word.to_owned(), StageWork { took, planned, rates: rates.collect() })
    };
    stages.map(work).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_one_is_taken() {
        assert_eq!(middle(vec![9, 1, 5]), Some(5));
        assert_eq!(middle(vec![9, 1, 5, 7]), Some(7));
        assert_eq!(middle(Vec::new()), None);
    }

    /// 600 s were told at 6 s, 900 s were taken: 9 s; a rate is at least a second.
    #[test]
    fn a_rate_grows_as_the_time_did() {
        let rates: BTreeMap<String, u64> = [("fold".to_owned(), 6)].into();
        let work = |took, planned| StageWork { took, planned, rates: rates.clone() };
        assert_eq!(seconds(&work(900, 600), "fold"), Some(9));
        assert_eq!(seconds(&work(1, 600), "fold"), Some(1));
        assert_eq!(seconds(&work(900, 0), "fold"), None);
        assert_eq!(seconds(&work(900, 600), "score"), None);
    }

    #[test]
    fn what_is_near_is_left_alone() {
        assert!(is_far(10, 9) && is_far(10, 11) && !is_far(20, 21) && is_far(0, 1));
    }
}
