//! How much work each group of papers gets: a number of steps, and a share of the time where that is limited.
//!
//! The steps of an effort are shared out by pieces times sheets of each group. The clock only counts where `--limit` is
//! given: then each group has its share of the time, and no more steps than nanoseconds. A limit is for tables and
//! search. Levels 3 and 4 stop a fifth of it later; schedule, drawings and pages then take what they take.
//!
//! Whatever is ordered, planning ends, and memory has a bound: a look at all pattern tables of a batch takes about 0.2
//! s, with `quick` 0.02 s. `tests/laws/limits.rs` holds steps and cells, `tests/cli/limits.rs` measures seconds.

use crate::assembly::Care;
use crate::program::{Known, Room, Settings, Stop, Task};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

/// How hard to try.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Effort {
    /// What a person waits for without noticing.
    Quick,
    /// The usual.
    #[default]
    Normal,
    /// For a proof that is hard to get.
    Long,
}

impl Effort {
    /// The steps in which levels 3 and 4 are improved, for the whole batch.
    pub(crate) fn care(self) -> Care {
        let (layouts, exchanges, handling) = match self {
            Effort::Quick => (20_000, 20_000, 20_000),
            Effort::Normal => (400_000, 500_000, 300_000),
            Effort::Long => (4_000_000, 10_000_000, 10_000_000),
        };
        Care { layouts, exchanges, handling }
    }

    /// The steps in which is counted how many sets the paper is enough for, once.
    pub(crate) fn counting(self) -> u64 {
        match self {
            Effort::Quick => 40_000_000,
            Effort::Normal => 250_000_000,
            Effort::Long => 8_000_000_000,
        }
    }

    /// How it is asked whether the paper is enough.
    pub(crate) fn asking(self, stop: Stop) -> Settings {
        let (rounds, pool_nodes, nodes, list_work) = match self {
            Effort::Quick => (5, 10, 50, 100_000),
            Effort::Normal => (20, 20, 500, 500_000),
            Effort::Long => (60, 200, 10_000, 10_000_000),
        };
        Settings {
            rounds,
            negligible: NEGLIGIBLE,
            pool_nodes,
            nodes,
            list_work,
            steps: self.counting(),
            bound_share: 1,
            lasting: 0,
            stop,
            half: stop,
            urgent: stop,
            tell: &|_| (),
        }
    }

    /// What the pattern tables of the whole batch may take.
    pub(crate) fn room(self) -> Room {
        match self {
            Effort::Quick => Room { cells: 2_000_000, work: 20_000_000 },
            Effort::Normal | Effort::Long => Room { cells: 8_000_000, work: 200_000_000 },
        }
    }
}

/// The moment by which all has to be done, where the time is limited.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Deadline(Option<Instant>);

impl Deadline {
    /// So much time from now on; `None` is any time.
    pub fn after(limit: Option<Duration>) -> Deadline {
        // Not every place has a clock: it is only read where there is a limit.
        Deadline(limit.and_then(|limit| Instant::now().checked_add(limit)))
    }

    /// Whether it is past.
    pub fn is_past(self) -> bool {
        self.0.is_some_and(|end| Instant::now() >= end)
    }
}

/// The work that may be done for a batch. Only a time limit makes it depend on the machine.
pub(crate) struct Budget<'a> {
    effort: Effort,
    /// Sum of the weights of all tasks.
    weight: u64,
    /// Whether there are several tasks.
    several: bool,
    /// The time for all.
    limit: Option<Duration>,
    /// When all has to end.
    end: Option<Instant>,
    /// Tasks that may be worked on at the same time.
    threads: u64,
    /// Whether all has to end now.
    called_off: Stop<'a>,
    /// Sum of the weights of the tasks that were not begun.
    left: AtomicU64,
}

impl<'a> Budget<'a> {
    /// For these tasks, until a moment.
    pub fn new(
        effort: Effort,
        tasks: &[Task],
        Deadline(end): Deadline,
        called_off: Stop<'a>,
    ) -> Budget<'a> {
        let limit = end.map(|end| end.saturating_duration_since(Instant::now()));
        let threads = rayon::current_num_threads() as u64;
        let weight = tasks.iter().map(weight).sum();
        let several = tasks.len() > 1;
        Budget {
            effort,
            weight,
            several,
            limit,
            end,
            threads,
            called_off,
            left: AtomicU64::new(weight),
        }
    }

    /// Does something with a task, with its share of the work; `tell` hears what gets known of it.
    pub fn on<T>(
        &self,
        task: &Task,
        tell: &(dyn Fn(Known) + Sync),
        act: impl FnOnce(&Settings) -> T,
    ) -> T {
        let (half, end) = self.times(task);
        let is_past = |time: Option<Instant>| {
            time.is_some_and(|time| Instant::now() >= time) || (self.called_off)()
        };
        let (half, stop) = (|| is_past(half), || is_past(end));
        act(&Settings { tell, ..self.settings(task, &half, &stop) })
    }

    /// Half-time and end of a task that begins now: its share of the time that is left.
    fn times(&self, task: &Task) -> (Option<Instant>, Option<Instant>) {
        let own = weight(task);
        let left = self.left.fetch_sub(own, Ordering::Relaxed).max(own);
        // Not every place has a clock: it is only read where there is a limit.
        let Some(end) = self.end else { return (None, None) };
        let now = Instant::now();
        let rest = end.saturating_duration_since(now);
        let share = rest.as_nanos() * u128::from(self.threads * own) / u128::from(left);
        let share = Duration::from_nanos(share.min(rest.as_nanos()) as u64);
        (Some(now + share / 2), Some(now + share))
    }

    fn settings<'b>(&self, task: &Task, half: Stop<'b>, stop: Stop<'b>) -> Settings<'b> {
        let (rounds, pool_nodes, nodes, list_work, steps) = match self.effort {
            Effort::Quick => (20, 20, 10, 100_000, 100_000_000_u64),
            Effort::Normal => (60, 60, 1_000, 2_000_000, 4_500_000_000),
            Effort::Long => (600, 2_000, 100_000, 100_000_000, 400_000_000_000),
        };
        // Several tasks are worth more work, since they can be done side by side.
        let all = u128::from(if self.several { steps / 10 * 22 } else { steps });
        let steps = (all * u128::from(weight(task)) / u128::from(self.weight.max(1))) as u64;
        // More steps than the time suffices for would leave nothing for the ways that come last.
        let steps = self.limit.map_or(steps, |limit| steps.min(limit.as_nanos() as u64));
        let negligible = NEGLIGIBLE;
        // Who gives it long has given it time: with a limit, all of that.
        let lasting = match (self.effort, self.limit) {
            (Effort::Long, None) => steps,
            (Effort::Long, Some(_)) => u64::MAX,
            (Effort::Quick | Effort::Normal, _) => 0,
        };
        Settings {
            rounds,
            negligible,
            pool_nodes,
            nodes,
            list_work,
            steps,
            bound_share: if self.effort == Effort::Quick { 2 } else { 10 },
            lasting,
            stop,
            half,
            urgent: stop,
            tell: &|_| (),
        }
    }
}

/// A gap of one part in so many is not worked on: it is a cent in ten thousand dollars.
const NEGLIGIBLE: i64 = 1_000_000;

/// Pieces and sheets that every task is taken to have beyond its own: none is so small that it needs
/// hardly any work.
const LEAST: usize = 6;

/// How hard a task is likely to be, compared with others.
pub(crate) fn weight(task: &Task) -> u64 {
    ((task.items.len() + LEAST) * (task.supplies.len() + LEAST)) as u64
}
