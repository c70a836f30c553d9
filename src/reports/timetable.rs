//! How long the work takes, day by day, and when it has to begin.

use super::Batch;
use super::answers::{duration, stage};
use crate::diagnostics::counted;
use crate::schedule::{self, Span, Stage};
use jiff::civil::Date;

/// Days that the picture has room to name.
const MOST_NAMES: u64 = 14;

/// The work spread over days.
#[derive(Clone, Debug, PartialEq)]
pub struct TimetableRows {
    /// What it comes to, in words.
    pub sentence: String,
    /// Seconds of work in a day.
    pub day: u64,
    /// Days that the work takes.
    pub days: u64,
    /// Names of days, each with its number from 0: all of them, or as many as there is room for.
    pub names: Vec<(u64, String)>,
    /// The stages in order.
    pub bars: Vec<Bar>,
}

/// One stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Its name.
    pub stage: &'static str,
    /// The part of the schedule that tells its work, by its name in addresses.
    pub section: &'static str,
    /// How long it takes, in words.
    pub time: String,
    /// On which days.
    pub when: String,
    /// Seconds of work before it.
    pub from: u64,
    /// Seconds of work up to its end.
    pub to: u64,
}

/// The timetable of a batch.
pub fn timetable(batch: &Batch) -> TimetableRows {
    let table = schedule::timetable(
        &batch.made.schedule,
        &batch.made.job.order,
        &batch.made.job.workshop.rates,
    );
    let every = table.days.div_ceil(MOST_NAMES).max(1);
    let names = (0..table.days).step_by(every as usize).map(|day| (day, name(&table, day)));
    TimetableRows {
        sentence: sentence(&table, batch.made.schedule.times.total()),
        day: table.day,
        days: table.days,
        names: names.collect(),
        bars: table.spans.iter().map(|span| bar(&table, *span)).collect(),
    }
}

fn sentence(table: &schedule::Timetable, seconds: u64) -> String {
    if table.days == 0 {
        let due = table.due.map(|due| format!(" Due on {}.", told(due)));
        return format!("No work.{}", due.unwrap_or_default());
    }
    let dry = match table.dry {
        0 => String::new(),
        dry => format!(", {} to dry among them", duration(dry)),
    };
    let work = format!(
        "About {} of work: {} of {}{dry}",
        duration(seconds),
        counted(table.days, "day"),
        duration(table.day)
    );
    match (table.due, table.dates.first()) {
        (None, _) => format!("{work}."),
        (Some(due), Some(begin)) => format!(
            "{work}. Due on {}: start by {}, so that all is packed before then.",
            told(due),
            told(*begin)
        ),
        (Some(due), None) => format!(
            "{work}. Due on {}: no day of the calendar is early enough to start.",
            told(due)
        ),
    }
}

/// `Saturday 3 May 2031`.
fn told(date: Date) -> String {
    date.strftime("%A %-d %B %Y").to_string()
}

/// `day 1`, or `Fri 2 May` where it is known.
fn name(table: &schedule::Timetable, day: u64) -> String {
    match table.dates.get(day as usize) {
        Some(date) => date.strftime("%a %-d %b").to_string(),
        None => format!("day {}", day + 1),
    }
}

fn section(stage: Stage) -> &'static str {
    match stage {
        Stage::Cutting => "cut",
        Stage::Scoring => "score",
        Stage::Folding => "fold",
        Stage::Finishing => "finish",
        Stage::Sticking => "glue",
        Stage::Envelopes => "make-the-envelopes",
        Stage::Boxes => "make-the-boxes",
        Stage::Packing => "pack",
    }
}

fn bar(table: &schedule::Timetable, span: Span) -> Bar {
    let (first, last) = (span.from / table.day, (span.to - 1) / table.day);
    let when = match first == last {
        true => name(table, first),
        false => format!("{} to {}", name(table, first), name(table, last)),
    };
    Bar {
        stage: stage(span.stage),
        section: section(span.stage),
        time: duration(span.to - span.from),
        when,
        from: span.from,
        to: span.to,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;

    #[test]
    fn a_batch_that_is_due_tells_when_to_begin() {
        let mut made = fixture::fair();
        made.job.workshop.rates.hours_per_day = 1;
        made.job.workshop.rates.days_per_week = 5;
        let table = timetable(&made.batch());
        // 7 740 s are 2 h 9 min; due on 3 May 2031, a Saturday.
        assert_eq!(
            table.sentence,
            "About 2 h 9 min of work: 3 days of 1 h. Due on Saturday 3 May 2031: start by Wednesday \
             30 April 2031, so that all is packed before then."
        );
        let names: Vec<&str> = table.names.iter().map(|(_, name)| name.as_str()).collect();
        assert_eq!(names, ["Wed 30 Apr", "Thu 1 May", "Fri 2 May"]);
        assert_eq!(table.bars[0].when, "Wed 30 Apr");
        assert_eq!(table.bars.last().unwrap().when, "Thu 1 May to Fri 2 May");
        assert_eq!((table.day, table.bars[0].from, table.bars[0].to), (3_600, 0, 2_400));
    }

    #[test]
    fn a_batch_that_is_not_due_counts_its_days() {
        let mut made = fixture::fair();
        made.job.order.lines.iter_mut().for_each(|line| line.due = None);
        let table = timetable(&made.batch());
        assert_eq!(table.sentence, "About 2 h 9 min of work: 1 day of 6 h.");
        assert_eq!(table.bars[0].when, "day 1");
    }

    #[test]
    fn no_work_and_endless_work_are_told() {
        let mut made = fixture::fair();
        made.schedule.times = Default::default();
        let table = timetable(&made.batch());
        assert_eq!(table.sentence, "No work. Due on Saturday 3 May 2031.");
        assert!(table.bars.is_empty());
        made.schedule.times.packing = u64::from(u32::MAX) * 3_600;
        assert!(
            timetable(&made.batch())
                .sentence
                .ends_with("no day of the calendar is early enough to start.")
        );
    }

    #[test]
    fn many_days_have_some_names() {
        let mut made = fixture::fair();
        made.job.workshop.rates.hours_per_day = 1;
        made.schedule.times.packing = 3_600 * 99;
        let table = timetable(&made.batch());
        assert!(table.days > 99 && table.names.len() <= MOST_NAMES as usize);
        assert_eq!(table.names[0].0, 0);
    }
}
