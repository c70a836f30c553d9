//! Files with more mistakes than anyone would read, and mistakes in every file at once.

use super::builder::Reading;
use cardwright::diagnostics::{Problems, Severity};

/// An order of so many rows, all of them with this cell as count.
fn rows(count: usize, cell: &str) -> Reading {
    let rows = (0..count).map(|row| format!("tag {row},2 x 3,{cell},fern\n"));
    Reading::order(format!("line,card,count,paper\n{}", rows.collect::<String>()))
}

#[test]
fn the_first_fifty_mistakes_are_shown_and_the_rest_is_counted() {
    let text = rows(50, "none").text();
    assert!(text.ends_with("digits\n\n50 errors\n"), "{text}");
    let text = rows(51, "none").text();
    let end = "\nerror[more-problems]: and 1 more mistake in orders/spring.csv\n |\n \
               = help: correct those above first; the rest is shown next time\n\n51 errors\n";
    assert!(text.ends_with(end), "{text}");
}

#[test]
fn a_hundred_thousand_rows_are_read() {
    assert_eq!(rows(100_000, "12").problems(), Problems::new());
    let problems = rows(100_000, "twelve").problems();
    assert_eq!(problems.iter().count(), Problems::MOST + 1);
}

#[test]
fn mistakes_of_every_file_come_at_once() {
    let mut reading = rows(1, "0");
    reading.sheets = "sheet,paper,width,height\nfern-12,fern,12,tall\n".into();
    reading.offcuts = Some("offcut,paper,width,height,since\nfern-1,fern,3,4,May\n".into());
    reading.workshop = "unti = \"mm\"\n".into();
    let problems = reading.problems();
    let codes: Vec<&str> = problems.iter().map(|problem| problem.code).collect();
    assert_eq!(codes, ["workshop-key", "order-count", "stock-size", "stock-date"]);
}

#[test]
fn unknown_papers_are_told_in_lines_with_other_mistakes_too() {
    let reading = Reading::order("line,card,count,paper,mat\ntag,2 x 3,0,moss,satin\n");
    let problems = reading.problems();
    let codes: Vec<&str> = problems.iter().map(|problem| problem.code).collect();
    assert_eq!(codes, ["order-count", "order-paper-unknown", "order-paper-unknown"]);
}

#[test]
fn sound_files_say_nothing() {
    Reading::default().says("");
    let reading = Reading::order(
        "\u{feff}Line;Card;Fold;Count;Paper;Liner;Mat;Mat_Inset;Envelope;Turn;Due;Note\r\n\
         \r\n# the spring market\r\n\
         tag;2 x 3;;12;fern;;;;;;;\r\n\
         card;us a2;side;40;fern|fern 2;fern;fern;1/16;Bought;half;2026-05-30;\"red; gold\"\r\n",
    );
    let sheets =
        "sheet,paper,width,height,on hand\na,fern,12,12,9\nb,fern 2,305 mm,305 mm,9\n".into();
    Reading { sheets, ..reading }.says("");
}

/// Twenty cards in a wrong unit are told once, with how many.
#[test]
fn alike_warnings_are_told_once() {
    let rows: String = (1..=20).map(|row| format!("tag {row},4 x {row} mm,12,fern\n")).collect();
    let order = Reading::order(format!("line,card,count,paper\n{rows}"));
    let text = order.with_workshop("[trimmer]\nsmallest_hold = 0\n").text();
    assert_eq!(text.matches("warning[order-size-small]").count(), 1, "{text}");
    let told =
        "  = note: the same 19 times more, in lines 3 to 21\n  = help: if you mean another unit";
    assert!(text.contains(told), "{text}");
    assert!(text.ends_with("\n20 warnings\n"), "{text}");
}

#[test]
fn only_warnings_are_no_errors() {
    let problems = Reading::order_cells("notes", "K.").problems();
    assert!(!problems.is_empty());
    assert!(!problems.has_errors());
    assert!(problems.iter().all(|problem| problem.severity == Severity::Warning));
}
