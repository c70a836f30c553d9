//! The summary that a person reads in five seconds.

use super::report::{Purchase, Report};
use super::visible::shown;
use crate::diagnostics::{counted, listed};
use anstyle::{AnsiColor, Style};
use std::fmt::Write;

/// Purchases that are told one by one; the rest is on the shopping list.
const TOLD: usize = 4;

/// The summary: the verdict, then what to buy, use and leave, how sure it is, how long it takes, what it
/// costs, what the post says, what was gained for drawer and bench, and where the schedule lies, if `schedule` says so. Colours only where `colour` says so.
pub fn summary(report: &Report, schedule: Option<&str>, colour: bool) -> String {
    let style = |style: Style| if colour { style } else { Style::new() };
    let bold = style(Style::new().bold());
    let head = style(AnsiColor::Green.on_default().bold());
    let name = shown(&report.title);
    let mut text = format!("{bold}{name}{bold:#}: {head}{}{head:#}\n\n", report.verdict);
    let answers = &report.answers;
    let rows = [
        ("Buy", buy(report)),
        ("Use", answers.take.clone()),
        ("Leave", answers.leave.clone()),
        ("Proof", answers.sure.clone()),
        ("Work", answers.work.clone()),
        ("Price", report.quote.sentence.clone()),
    ];
    for (title, answer) in rows {
        let _ = writeln!(text, "  {bold}{title:<7}{bold:#}{answer}");
    }
    let more = [("Post", &report.quote.posted), ("Gain", &report.gained)];
    for (title, answer) in more.into_iter().filter_map(|(title, it)| Some((title, it.as_ref()?))) {
        let _ = writeln!(text, "  {bold}{title:<7}{bold:#}{}", shown(answer));
    }
    if let Some(schedule) = schedule {
        let _ = writeln!(text, "\nSchedule: {}", shown(schedule));
    }
    text
}

fn buy(report: &Report) -> String {
    let purchases = &report.purchases;
    if purchases.is_empty() {
        return report.answers.buy.clone();
    }
    let mut names: Vec<String> = purchases.iter().take(TOLD).map(purchase).collect();
    if purchases.len() > TOLD {
        names.push(format!("{} more", counted((purchases.len() - TOLD) as u64, "kind")));
    }
    format!("{}: {}", report.answers.buy, listed(&names))
}

fn purchase(purchase: &Purchase) -> String {
    let sheet = shown(&purchase.sheet);
    match purchase.pack {
        1 => format!("{} {sheet}", purchase.packs),
        pack => format!("{} {sheet} (packs of {pack})", purchase.packs),
    }
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
             Leave  1 offcut for the drawer; 1.9 % is waste\n  \
             Proof  proven: nothing has to be bought, and no plan uses less paper\n  \
             Work   about 2 h 9 min; the gauge is set 5 times, the knife comes down 8 times\n  \
             Price  63.59 USD, 6.85 to 10.76 USD a card; it costs 44.51: 0.00 paper, 38.70 work and \
             5.81 overhead; fern has no price and is not counted\n\
             \n\
             Schedule: reports/lesson/schedule.html\n"
        );
    }

    #[test]
    fn the_fair_in_five_seconds() {
        let text = summary(&report(&fixture::fair()), None, false);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[0], "fair: all 62 cards of 2 kinds can be made");
        assert_eq!(lines[2], "  Buy    2 packs for 12.00 USD: 2 kraft-12 (packs of 25)");
        assert_eq!(
            lines[3],
            "  Use    70 sheets and 3 offcuts from the drawer; 80 % of the paper becomes pieces"
        );
        assert_eq!(lines.len(), 9);
        assert!(lines[8].starts_with("  Post   "), "{}", lines[8]);
    }

    #[test]
    fn many_purchases_are_summed_up() {
        let mut report = report(&fixture::fair());
        let single =
            Purchase { pack: 1, sheet: "fern-12".to_owned(), ..report.purchases[0].clone() };
        report.purchases = vec![single; TOLD + 1];
        assert!(
            buy(&report).ends_with("2 fern-12, 2 fern-12, 2 fern-12, 2 fern-12 and 1 kind more")
        );
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
