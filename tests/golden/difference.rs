//! Where two texts differ, short enough to be read.

use std::fmt::Write;

/// Most places shown, and most lines of a side of each.
const PLACES: usize = 3;
const LINES: usize = 4;
/// Characters shown of a long line, and how many of them before the first that differs.
const WIDTH: usize = 90;
const BEFORE: usize = 30;
/// How far ahead lines that agree again are looked for.
const AHEAD: usize = 400;

/// The first places where `now` differs from `golden`; `None` where they are the same.
pub fn difference(golden: &[u8], now: &[u8]) -> Option<String> {
    if golden == now {
        return None;
    }
    let (golden, now) = (String::from_utf8_lossy(golden), String::from_utf8_lossy(now));
    let golden: Vec<&str> = golden.split('\n').collect();
    let now: Vec<&str> = now.split('\n').collect();
    let (mut text, mut at, mut places) = (String::new(), (0, 0), 0);
    while at.0 < golden.len() || at.1 < now.len() {
        if golden.get(at.0) == now.get(at.1) {
            at = (at.0 + 1, at.1 + 1);
            continue;
        }
        if places == PLACES {
            text.push_str("  and more below\n");
            break;
        }
        let again = agreement(&golden[at.0..], &now[at.1..]);
        let sides = (&golden[at.0..at.0 + again.0], &now[at.1..at.1 + again.1]);
        show(&mut text, at.0 + 1, sides);
        at = (at.0 + again.0, at.1 + again.1);
        places += 1;
    }
    Some(text)
}

/// How many lines of each to skip until they agree again, as few as possible together.
fn agreement(golden: &[&str], now: &[&str]) -> (usize, usize) {
    let furthest = AHEAD.min(golden.len() + now.len());
    let pairs = (1..=furthest).flat_map(|sum| (0..=sum).map(move |first| (first, sum - first)));
    let agree = |pair: &(usize, usize)| match (golden.get(pair.0), now.get(pair.1)) {
        (Some(one), Some(other)) => one == other,
        (None, None) => (pair.0, pair.1) == (golden.len(), now.len()),
        _ => false,
    };
    pairs.into_iter().find(agree).unwrap_or((golden.len(), now.len()))
}

fn show(text: &mut String, line: usize, (golden, now): (&[&str], &[&str])) {
    let _ = writeln!(text, "  line {line}:");
    let start = match (golden.first(), now.first()) {
        (Some(one), Some(other)) => {
            let alike = one.chars().zip(other.chars()).take_while(|(one, other)| one == other);
            alike.count().saturating_sub(BEFORE)
        }
        _ => 0,
    };
    for (sign, lines) in [('-', golden), ('+', now)] {
        for (index, line) in lines.iter().take(LINES).enumerate() {
            let start = if index == 0 { start } else { 0 };
            let _ = writeln!(text, "  {sign} {}", window(line, start));
        }
        if lines.len() > LINES {
            let _ = writeln!(text, "  {sign} and {} lines more", lines.len() - LINES);
        }
    }
}

/// The part of a line that begins after `start` characters.
fn window(line: &str, start: usize) -> String {
    let shown: String = line.chars().skip(start).take(WIDTH).collect();
    let before = if start > 0 { "..." } else { "" };
    let behind = if line.chars().count() > start + WIDTH { "..." } else { "" };
    format!("{before}{shown}{behind}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(golden: &str, now: &str) -> String {
        difference(golden.as_bytes(), now.as_bytes()).unwrap_or_default()
    }

    #[test]
    fn the_same_is_no_difference() {
        assert_eq!(told("a\nb\n", "a\nb\n"), "");
    }

    #[test]
    fn lines_changed_added_and_gone_are_told_with_their_place() {
        assert_eq!(told("a\nb\nc\n", "a\nx\nc\n"), "  line 2:\n  - b\n  + x\n");
        assert_eq!(told("a\nc\n", "a\nb\nc\n"), "  line 2:\n  + b\n");
        assert_eq!(told("a\nb\nc\n", "b\nc\n"), "  line 1:\n  - a\n");
        assert_eq!(told("a\nb", "a\nb\n"), "  line 3:\n  + \n");
    }

    #[test]
    fn only_the_first_places_are_told() {
        let golden = "0\na\n1\nb\n2\nc\n3\nd\n4\n";
        let now = "0\nA\n1\nB\n2\nC\n3\nD\n4\n";
        let told = told(golden, now);
        assert!(told.ends_with("  line 6:\n  - c\n  + C\n  and more below\n"), "{told}");
    }

    #[test]
    fn of_many_lines_and_of_long_lines_only_a_part_is_told() {
        let told_lines = told("", &"x\n".repeat(9));
        assert!(told_lines.contains("  + and 5 lines more\n"), "{told_lines}");
        let line = |end: &str| "m".repeat(500) + end + &"n".repeat(500);
        let told_long = told(&line("1"), &line("2"));
        assert!(told_long.lines().all(|line| line.len() < 110), "{told_long}");
        assert!(told_long.contains(&format!("...{}1n", "m".repeat(BEFORE))), "{told_long}");
    }

    #[test]
    fn texts_with_nothing_in_common_are_told_whole() {
        assert_eq!(told("a", "b"), "  line 1:\n  - a\n  + b\n");
        assert_eq!(told("", "b"), "  line 1:\n  - \n  + b\n");
    }
}
