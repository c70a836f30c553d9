//! Files that are no order, and orders that are far too long for one person.

use super::*;
use std::fmt::Write;

/// An order of so many lines, each with this cell for its count.
fn lines(count: usize, cards: &str) -> String {
    (0..count).fold("line,card,count,paper\n".to_owned(), |mut text, line| {
        let (width, height) = (2 + line % 7, 3 + line % 5);
        writeln!(text, "tag {line},{width} x {height},{cards},fern").unwrap();
        text
    })
}

#[test]
fn a_binary_file_is_no_order() {
    let bytes: Vec<u8> = (0..=255).cycle().take(4096).collect();
    assert_eq!(
        Call::of_tags("plan spring.csv").file("spring.csv", bytes).ends_with(1),
        "error[table-binary]: spring.csv is not a text file\n |\n\
         \x20= help: a table is plain text, one row a line: save it as CSV in UTF-8\n"
    );
}

#[test]
fn an_empty_file_is_no_order() {
    let err = Call::of_tags("plan spring.csv").file("spring.csv", "").ends_with(1);
    assert!(err.starts_with("error[table-empty]: "), "{err}");
}

#[test]
fn a_hundred_thousand_lines_are_read() {
    let call = Call::of_tags("check spring.csv").file("spring.csv", lines(100_000, "1"));
    assert_eq!(call.run().out, "1 order and workshop files: no mistakes\n");
}

#[test]
fn a_hundred_thousand_mistakes_are_told_in_short() {
    let call = Call::of_tags("plan spring.csv").file("spring.csv", lines(100_000, "some"));
    let err = call.ends_with(1);
    assert!(err.ends_with("\n\n51 errors\n"), "{err}");
    assert!(err.contains("error[more-problems]: and 99950 more mistakes in spring.csv\n"), "{err}");
}

/// What cannot be made of what there is, is told in short too.
#[test]
fn a_hundred_thousand_lines_without_paper_are_told_in_short() {
    let call = Call::of_tags("plan spring.csv --threads 1")
        .file("spring.csv", lines(100_000, "1"))
        .file("sheets.csv", "sheet,paper,width,height,on hand\nfern-12,fern,12,12,5\n");
    let err = call.ends_with(1);
    assert!(err.starts_with("error[program-stock-short]: "), "{err}");
    assert!(err.len() < 10_000, "{} bytes", err.len());
}

#[test]
fn a_hundred_thousand_lines_are_planned() {
    let call = Call::of_tags("plan spring.csv").file("spring.csv", lines(100_000, "1"));
    let answer = call.run();
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    let first = answer.out.lines().next();
    assert_eq!(first, Some("spring: all 100000 cards of 100000 kinds can be made"));
}
