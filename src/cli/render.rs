//! Problems as text for a person.
//!
//! Whatever a file holds, nothing in the text moves the cursor, changes the direction of writing or
//! hides: such characters are shown as escapes.

use crate::diagnostics::{Place, Problem, Problems, Severity, counted, listed, told_once};
use annotate_snippets::{AnnotationKind, Element, Level, Renderer, Snippet};
use std::ops::Range;

/// Characters of a long line that are shown before the mark, of the mark, and behind it.
const BEFORE: usize = 60;
const MARKED: usize = 60;
const BEHIND: usize = 40;

/// Columns for the number of the line, and for the dots where a line is cut.
const MARGIN: usize = 16;

/// How text is shown.
#[derive(Clone, Copy)]
pub struct Look {
    /// Whether in colour.
    pub colour: bool,
    /// Columns of the terminal, where it is one.
    pub width: Option<usize>,
}

/// One problem, with its place where it has one; no line end behind it.
fn problem(problem: &Problem, notes: &[String], look: Look) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let title = level.primary_title(visible(&problem.title)).id(problem.code);
    let helps = problem.help.iter().map(|help| Level::HELP.message(visible(help)));
    let notes = notes.iter().map(|note| Level::NOTE.message(visible(note)));
    let helps = notes.map(Element::from).chain(helps.map(Element::from));
    let renderer = if look.colour { Renderer::styled() } else { Renderer::plain() };
    // Long lines are cut here, where the mark is known.
    let renderer = renderer.term_width(usize::MAX / 2);
    let Some(place) = &problem.place else { return renderer.render(&[title.elements(helps)]) };

    let file = visible(&place.file);
    let (line, mark) = window(place, look.width);
    let shown_column = line[..mark.start].chars().count() + 1;
    let mark = AnnotationKind::Primary.span(mark).label(visible(&problem.label));
    let snippet = Snippet::source(line).path(file.as_str()).line_start(place.line).annotation(mark);
    let elements = std::iter::once(Element::from(snippet)).chain(helps);
    let text = renderer.render(&[title.elements(elements)]);
    // The renderer counts columns in the line as shown; the person's editor counts in the file.
    let spot = |column| format!("{file}:{}:{column}\n", place.line);
    text.replacen(&spot(shown_column), &spot(place.column), 1)
}

/// All problems with a blank line between, and their count; empty where there are none.
pub fn problems(problems: &Problems, colour: bool) -> String {
    within(problems, Look { colour, width: None })
}

/// The same for a terminal of so many columns.
pub fn within(problems: &Problems, look: Look) -> String {
    let told = told_once(problems.iter());
    let mut blocks: Vec<String> =
        told.iter().map(|told| problem(told.first, &told.notes(), look)).collect();
    blocks.extend(summary(problems));
    match blocks.is_empty() {
        true => String::new(),
        false => blocks.join("\n\n") + "\n",
    }
}

/// `2 errors and 1 warning`, where there is more than one problem.
fn summary(problems: &Problems) -> Option<String> {
    let count = |severity| problems.iter().filter(|one| one.severity == severity).count() as u64;
    let counts = [(count(Severity::Error), "error"), (count(Severity::Warning), "warning")];
    let parts: Vec<String> = counts
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, noun)| counted(count, noun))
        .collect();
    (problems.iter().count() > 1).then(|| listed(&parts))
}

/// The line, cut to the surroundings of the mark, and the bytes of the mark in it.
fn window(place: &Place, width: Option<usize>) -> (String, Range<usize>) {
    // Marks stand below what they mark only where neither line is parted by the terminal.
    let room = width.unwrap_or(usize::MAX).saturating_sub(MARGIN).max(3);
    let [before, marked, behind] = [BEFORE, MARKED, BEHIND].map(|most| most.min(room / 3));
    let skip = place.column.saturating_sub(1);
    let first = skip.saturating_sub(before);
    let marked = place.length.min(marked);
    let mut shown = place.text.chars().skip(first);
    let mut text = String::from(if first > 0 { "..." } else { "" });
    let mut take = |count: usize, text: &mut String| {
        shown.by_ref().take(count).for_each(|letter| push_visible(text, letter, true));
        text.len()
    };
    let start = take(skip - first, &mut text);
    let end = take(marked, &mut text);
    let behind = if marked < place.length { 0 } else { behind };
    take(behind, &mut text);
    if shown.next().is_some() {
        text.push_str("...");
    }
    (text, start..end)
}

/// The text with everything that would act unseen written as an escape.
pub fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    text.chars().for_each(|letter| push_visible(&mut shown, letter, false));
    shown
}

/// A tab inside a source line is left to the renderer, which makes it blanks.
fn push_visible(text: &mut String, letter: char, keep_tab: bool) {
    match letter {
        '\t' if keep_tab => text.push('\t'),
        letter if is_hidden(letter) => text.extend(letter.escape_default()),
        letter => text.push(letter),
    }
}

/// Control characters, and those that Unicode calls format characters: marks of direction, joiners,
/// soft hyphens, tags (Unicode 15.1, general category Cf, with the line separators; from memory).
fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
            | '\u{e0000}'..='\u{e007f}')
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAIN: Look = Look { colour: false, width: None };

    fn place(text: &str, column: usize, length: usize) -> Place {
        Place { file: "orders/spring.csv".into(), line: 3, column, length, text: text.into() }
    }

    fn count_problem() -> Problem {
        Problem::error("order-count", "count is not a whole number")
            .at(
                Some(&place("place,place card,twelve,fern", 18, 6)),
                "expected a whole number of cards, such as 12",
            )
            .help("write the number in digits")
    }

    #[test]
    fn a_problem_has_its_shape() {
        let expected = "\
error[order-count]: count is not a whole number
 --> orders/spring.csv:3:18
  |
3 | place,place card,twelve,fern
  |                  ^^^^^^ expected a whole number of cards, such as 12
  |
  = help: write the number in digits";
        assert_eq!(problem(&count_problem(), &[], PLAIN), expected);
    }

    fn marked(text: &str, column: usize, length: usize) -> String {
        let place = place(text, column, length);
        problem(&Problem::error("table-row", "row is odd").at(Some(&place), "here"), &[], PLAIN)
    }

    /// The lines of the source and of the marks.
    fn quoted(text: &str, column: usize, length: usize) -> Vec<String> {
        marked(text, column, length).lines().skip(3).map(str::to_owned).collect()
    }

    #[test]
    fn a_problem_without_a_place_has_title_and_help() {
        let plain = Problem::warning("table-empty", "nothing to read").help("write a line");
        let expected = "warning[table-empty]: nothing to read\n |\n = help: write a line";
        assert_eq!(problem(&plain, &[], PLAIN), expected);
    }

    #[test]
    fn marks_stand_below_wide_letters_and_behind_the_line() {
        assert_eq!(
            quoted("\u{65e5}\u{672c},x", 4, 1),
            ["3 | \u{65e5}\u{672c},x", "  |      ^ here"]
        );
        assert_eq!(quoted("ab", 3, 0), ["3 | ab", "  |   ^ here"]);
        assert_eq!(quoted("", 1, 0), ["3 |", "  | ^ here"]);
    }

    #[test]
    fn hidden_characters_are_escaped_and_columns_stay_those_of_the_file() {
        let text = marked("a\u{202e}b\u{1b}[31m,xx", 10, 2);
        assert!(text.contains("orders/spring.csv:3:10\n"), "{text}");
        assert!(text.contains("3 | a\\u{202e}b\\u{1b}[31m,xx\n"), "{text}");
        assert!(text.ends_with("  |                      ^^ here"), "{text}");
        let title = Problem::error("order-card", "format `\u{2066}\r\n\t`").help("\u{200b}");
        let title = problem(&title, &[], PLAIN);
        assert!(title.contains("`\\u{2066}\\r\\n\\t`"), "{title}");
        assert!(title.contains("\\u{200b}"), "{title}");
    }

    #[test]
    fn long_lines_are_cut_around_the_mark() {
        let long = "abc,".repeat(2_500_000);
        let text = marked(&long, 9_000_001, 3);
        assert!(text.len() < 400, "{}", text.len());
        assert!(text.contains("orders/spring.csv:3:9000001\n"), "{text}");
        assert!(text.contains("3 | ...abc,"), "{text}");
        let one_cell = marked(&"a".repeat(5000), 1, 5000);
        assert!(one_cell.len() < 400 && one_cell.contains("aaa...\n"), "{one_cell}");
    }

    #[test]
    fn a_narrow_terminal_has_room_for_the_line_and_its_marks() {
        let place = place(&"abc,".repeat(30), 61, 3);
        let one = Problem::error("table-row", "odd").at(Some(&place), "");
        let text = problem(&one, &[], Look { width: Some(40), ..PLAIN });
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines.iter().all(|line| line.len() <= 40), "{text}");
        assert_eq!(lines[1], " --> orders/spring.csv:3:61");
        let mark = lines[4].find("^^^").unwrap();
        assert_eq!(&lines[3][mark..mark + 3], "abc");
    }

    #[test]
    fn a_file_name_like_a_place_is_left_alone() {
        let place = Place { file: "a:3:1\n".into(), ..place("\u{200b}x", 2, 1) };
        let text = problem(&Problem::error("table-row", "odd").at(Some(&place), ""), &[], PLAIN);
        assert!(text.contains("--> a:3:1\\n:3:2\n"), "{text}");
    }

    #[test]
    fn colour_changes_no_letter() {
        let coloured = problem(&count_problem(), &[], Look { colour: true, ..PLAIN });
        assert!(coloured.contains("\u{1b}["));
        let stripped = anstream::adapter::strip_str(&coloured).to_string();
        assert_eq!(stripped, problem(&count_problem(), &[], PLAIN));
    }

    #[test]
    fn several_problems_end_with_their_count() {
        let mut all = Problems::new();
        assert_eq!(problems(&all, false), "");
        all.push(Problem::error("order-empty", "one"));
        assert_eq!(problems(&all, false), "error[order-empty]: one\n");
        all.push(Problem::error("order-empty", "two"));
        all.push(Problem::warning("table-comment", "three"));
        let expected = "error[order-empty]: one\n\nerror[order-empty]: two\n\n\
                        warning[table-comment]: three\n\n2 errors and 1 warning\n";
        assert_eq!(problems(&all, false), expected);
    }
}
