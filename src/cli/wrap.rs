//! Long lines for a narrow terminal: parted between words, and set in, so that nothing is cut off.

/// Columns that a line's rest is set in by.
const INDENT: usize = 4;

/// Narrower than this, nothing reads well; words are left whole all the same.
const NARROWEST: usize = 20;

/// The text in lines of at most `width` columns, as far as its words allow.
pub fn wrapped(text: &str, width: usize) -> String {
    let width = width.max(NARROWEST);
    let mut wrapped = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        let (line, end) = match line.strip_suffix('\n') {
            Some(line) => (line, "\n"),
            None => (line, ""),
        };
        match columns(line) > width {
            true => wrap(line, width, &mut wrapped),
            false => wrapped.push_str(line),
        }
        wrapped.push_str(end);
    }
    wrapped
}

fn wrap(line: &str, width: usize, wrapped: &mut String) {
    let words = line.trim_start_matches(' ');
    let indent = line.len() - words.len();
    wrapped.push_str(&line[..indent]);
    let (mut used, mut gap) = (indent, 0);
    for word in words.split(' ') {
        let long = columns(word);
        if long == 0 {
            // One of several blanks between columns.
            gap += 1;
            continue;
        }
        if used > indent && used + gap + long > width {
            wrapped.push('\n');
            wrapped.push_str(&" ".repeat(indent + INDENT));
            used = indent + INDENT;
        } else if used > indent {
            wrapped.push_str(&" ".repeat(gap));
            used += gap;
        }
        wrapped.push_str(word);
        used += long;
        gap = 1;
    }
}

/// Columns that a text takes, without the marks of colour in it (`ESC [ … m`).
fn columns(text: &str) -> usize {
    let (mut count, mut letters) = (0, text.chars());
    while let Some(letter) = letters.next() {
        match letter {
            '\u{1b}' => {
                letters.by_ref().take_while(|letter| *letter != 'm').for_each(drop);
            }
            _ => count += 1,
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_parted_where_it_does_not_fit_and_not_before() {
        let line = |last: usize| format!("  {} {}\n", "a".repeat(30), "b".repeat(last));
        assert_eq!(wrapped(&line(7), 40), line(7));
        assert_eq!(
            wrapped(&line(8), 40),
            format!("  {}\n      {}\n", "a".repeat(30), "b".repeat(8))
        );
    }

    #[test]
    fn columns_stay_apart_and_no_word_is_lost() {
        let row =
            "  wren-spring-01   wren   8 3/4 x 5 3/4 in       1        0.06  2026-04-18   386";
        let narrow = wrapped(row, 40);
        assert!(narrow.lines().all(|line| line.len() <= 40), "{narrow}");
        assert!(
            narrow.starts_with("  wren-spring-01   wren   8 3/4 x 5 3/4\n      in "),
            "{narrow}"
        );
        let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(words(&narrow), words(row));
    }

    #[test]
    fn colour_takes_no_room() {
        let text = format!("\u{1b}[1m{}\u{1b}[0m {}", "a".repeat(20), "b".repeat(19));
        assert_eq!(wrapped(&text, 40), text);
    }

    #[test]
    fn a_word_that_is_too_long_stays_whole() {
        let path = "reports/a-very-long-name-of-an-order/schedule.html";
        assert_eq!(wrapped(path, 40), path);
        assert_eq!(wrapped(&format!("Schedule: {path}\n"), 40), format!("Schedule:\n    {path}\n"));
    }
}
