//! The summary that a person reads in five seconds.

use super::report::Report;
use super::visible::shown;
use anstyle::{AnsiColor, Style};
use std::fmt::Write;

/// The summary: the verdict, the short answers, and where the schedule lies, if `schedule` says so. Colours only where
/// `colour` says so.
pub fn summary(report: &Report, schedule: Option<&str>, colour: bool) -> String {
    let style = |style: Style| if colour { style } else { Style::new() };
    let bold = style(Style::new().bold());
    let head = style(AnsiColor::Green.on_default().bold());
    let name = shown(&report.title);
    let mut text = format!("{bold}{name}{bold:#}: {head}{}{head:#}\n\n", report.verdict);
    for (word, answer) in report.answers.rows() {
        let _ = writeln!(text, "  {bold}{word:<7}{bold:#}{}", shown(answer));
    }
    if let Some(schedule) = schedule {
        let _ = writeln!(text, "\nSchedule: {}", shown(schedule));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::made::Made;
    use crate::reports::fixture;

    fn report(made: &Made) -> Report {
        Report::of(&made.batch()).unwrap()
    }

    #[test]
    fn the_lesson_in_five_seconds() {
        assert_eq!(
            summary(&report(&fixture::lesson()), Some("reports/lesson/schedule.html"), false),
            "lesson: all 7 cards of 2 kinds can be made\n\
             \n  \
             Buy    nothing\n  \
             Use    1 sheet; 87.7 % of the paper becomes pieces\n  \
             Left   1 offcut for the drawer; 1.9 % is waste\n  \
             Time   about 2 h 9 min: 8 cuts, 5 gauge settings, up to 2 stacks waiting\n  \
             Proof  No plan uses less paper (proven).\n\
             \n\
             Schedule: reports/lesson/schedule.html\n"
        );
    }

    #[test]
    fn the_fair_in_five_seconds() {
        let text = summary(&report(&fixture::fair()), None, false);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[0], "fair: all 62 cards of 2 kinds can be made");
        assert_eq!(lines[2], "  Buy    2 packs, 12.00 USD: 2 packs of 25 kraft-12");
        assert_eq!(
            lines[3],
            "  Use    70 sheets, and 3 offcuts from the drawer; 80 % of the paper becomes pieces"
        );
        let words: Vec<&str> = lines[2..].iter().map(|line| line[..9].trim()).collect();
        assert_eq!(words, ["Buy", "Use", "Left", "Time", "Price", "Post", "Proof"]);
    }

    #[test]
    fn what_was_gained_comes_last() {
        let mut made = fixture::lesson();
        made.gains.settings = (6, 5);
        let text = summary(&report(&made), None, false);
        assert!(text.ends_with("\n  Gain   5 gauge settings, down from 6\n"), "{text}");
    }

    #[test]
    fn colours_only_when_told() {
        let report = report(&fixture::lesson());
        assert!(!summary(&report, None, false).contains('\u{1b}'));
        assert!(summary(&report, None, true).contains("\u{1b}[1mlesson\u{1b}[0m"));
    }

    #[test]
    fn a_name_cannot_steer_the_terminal() {
        let mut report = report(&fixture::lesson());
        report.title = "a\u{1b}[31mb".to_owned();
        assert!(summary(&report, None, false).starts_with(r"a\u{1b}[31mb: "));
    }
}
