//! How long the work takes, stage by stage, and when it has to begin.

use super::{Schedule, Times};
use crate::orders::Order;
use crate::workshop::Rates;
use jiff::ToSpan;
use jiff::civil::Date;

/// Seconds in an hour.
const HOUR: u64 = 3_600;

/// Days beyond which no date is worked out; a batch of a lifetime.
const MOST_DAYS: u64 = 40_000;

/// A stage of the work. The whole batch goes through them in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Setting the gauge and cutting.
    Cutting,
    /// Scoring.
    Scoring,
    /// Folding.
    Folding,
    /// What is done to cards by hand besides.
    Finishing,
    /// Making up envelopes.
    Envelopes,
    /// Gluing layers, those in envelopes too.
    Sticking,
    /// Making up boxes.
    Boxes,
    /// Packing.
    Packing,
}

impl Times {
    /// Seconds of each stage, in the order of the work; stages without work are left out.
    pub fn stages(&self) -> Vec<(Stage, u64)> {
        let stages = [
            (Stage::Cutting, self.cutting),
            (Stage::Scoring, self.scoring),
            (Stage::Folding, self.folding),
            (Stage::Finishing, self.finishing),
            (Stage::Envelopes, self.envelopes),
            (Stage::Sticking, self.sticking),
            (Stage::Boxes, self.boxes),
            (Stage::Packing, self.packing),
        ];
        stages.into_iter().filter(|(_, seconds)| *seconds > 0).collect()
    }

    /// Seconds of all stages.
    pub fn total(&self) -> u64 {
        self.stages().iter().map(|(_, seconds)| seconds).sum()
    }
}

/// The work spread over days of equal length, one stage after the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timetable {
    /// Seconds of work in a day.
    pub day: u64,
    /// Days that the work takes, the last one maybe in part.
    pub days: u64,
    /// When each stage begins and ends, in seconds of work since the beginning.
    pub spans: Vec<Span>,
    /// Seconds for which what is glued dries, nights among them; 0 where nothing is glued.
    pub dry: u64,
    /// The first due date of all lines.
    pub due: Option<Date>,
    /// The dates of the days of work that end with the last one before the due date; empty where nothing
    /// is due, or where there are too many.
    pub dates: Vec<Date>,
}

/// One stage in the timetable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// Which.
    pub stage: Stage,
    /// Seconds of work before it.
    pub from: u64,
    /// Seconds of work up to its end.
    pub to: u64,
}

/// The timetable of a schedule: done on the last working day before the first due date.
///
/// The week begins on Monday; of its days, the first `rates.days_per_week` are worked.
pub fn timetable(schedule: &Schedule, order: &Order, rates: &Rates) -> Timetable {
    let day = rates.hours_per_day * HOUR;
    let mut now = 0;
    let mut spans = Vec::new();
    for (stage, seconds) in schedule.times.stages() {
        spans.push(Span { stage, from: now, to: now + seconds });
        now += seconds;
        if stage == Stage::Sticking {
            now = dried(now, rates.dry_hours * HOUR, day);
        }
    }
    let days = now.div_ceil(day);
    let due = order.lines.iter().filter_map(|line| line.due).min();
    let dates = due.and_then(|due| before(due, days, rates.days_per_week)).unwrap_or_default();
    let is_glued = schedule.times.sticking > 0;
    let dry = if is_glued { rates.dry_hours * HOUR } else { 0 };
    Timetable { day, days, spans, dry, due, dates }
}

/// When work goes on after so many seconds by the clock, nights of days off not counted: in hours of work.
fn dried(now: u64, dry: u64, day: u64) -> u64 {
    let night = 24 * HOUR - day;
    let (mut now, mut left) = (now, dry);
    while left > 0 {
        // At the end of a day, the night comes first.
        let work = (day - now % day) % day;
        if left <= work {
            return now + left;
        }
        left = (left - work).saturating_sub(night);
        now += work;
        if left > 0 {
            let work = left.min(day);
            (now, left) = (now + work, left - work);
        }
    }
    now
}

/// The last so many working days before a date.
fn before(due: Date, days: u64, per_week: u8) -> Option<Vec<Date>> {
    if days > MOST_DAYS {
        return None;
    }
    let mut dates = Vec::new();
    let mut date = due;
    while (dates.len() as u64) < days {
        date = date.checked_sub(1.day()).ok()?;
        if date.weekday().to_monday_one_offset() <= per_week as i8 {
            dates.push(date);
        }
    }
    dates.reverse();
    Some(dates)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn work_ends_on_a_working_day_before_it_is_due() {
        // 3 May 2031 is a Saturday (ISO 8601 week date 2031-W18-6).
        let due = date(2031, 5, 3);
        assert_eq!(before(due, 1, 5).unwrap(), [date(2031, 5, 2)]);
        assert_eq!(before(due, 2, 7).unwrap(), [date(2031, 5, 1), date(2031, 5, 2)]);
        let monday = date(2031, 5, 5);
        assert_eq!(before(monday, 2, 5).unwrap(), [date(2031, 5, 1), date(2031, 5, 2)]);
        assert_eq!(before(monday, 2, 6).unwrap(), [date(2031, 5, 2), date(2031, 5, 3)]);
        assert_eq!(before(monday, 1, 7).unwrap(), [date(2031, 5, 4)]);
        assert_eq!(before(due, 0, 7).unwrap(), []);
    }

    /// Days of 6 h and nights of 18 h.
    #[test]
    fn what_dries_overnight_costs_the_rest_of_the_day() {
        let dried = |now: u64, dry: u64| dried(now * HOUR, dry * HOUR, 6 * HOUR) / HOUR;
        assert_eq!(dried(2, 0), 2);
        assert_eq!(dried(2, 3), 5, "within the day");
        assert_eq!(dried(2, 4), 6, "to its end");
        assert_eq!(dried(2, 12), 6, "and the night, till the next morning");
        assert_eq!(dried(2, 22), 6);
        assert_eq!(dried(2, 24), 8, "two hours into the next day");
        assert_eq!(dried(6, 12), 6, "in the night alone");
        assert_eq!(dried(6, 24), 12, "a day and a night");
        assert_eq!(dried(6, 48), 18);
    }

    #[test]
    fn a_day_before_all_calendars_is_no_date() {
        assert_eq!(before(Date::MIN, 1, 7), None);
        assert_eq!(before(date(2031, 5, 3), MOST_DAYS + 1, 7), None);
        assert_eq!(before(date(2031, 5, 3), MOST_DAYS, 7).map(|days| days.len()), Some(40_000));
    }
}
