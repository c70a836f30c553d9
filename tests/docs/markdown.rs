//! A page of the documentation as its blocks, tables and links.

use crate::program::project;
use std::fs;

/// A page and where it is.
pub struct Page {
    /// Its path below the project.
    pub path: String,
    pub text: String,
}

/// What stands between two lines of backquotes.
#[derive(PartialEq, Eq)]
pub struct Fence {
    /// The word behind the first backquotes.
    pub label: String,
    pub lines: Vec<String>,
}

impl Page {
    pub fn read(path: &str) -> Page {
        let text = fs::read_to_string(project(path)).unwrap_or_else(|it| panic!("{path}: {it}"));
        Page::of(path, &text)
    }

    pub fn of(path: &str, text: &str) -> Page {
        Page { path: path.to_owned(), text: text.to_owned() }
    }

    /// What stands below a heading of the second level, until the next one; nothing where there is none.
    pub fn section(&self, heading: &str) -> Page {
        let (mut inside, mut fenced) = (false, false);
        let lines = self.text.lines().filter(|line| {
            fenced ^= line.starts_with("```");
            if let Some(title) = line.strip_prefix("## ").filter(|_| !fenced) {
                inside = title == heading;
            }
            inside
        });
        Page::of(&self.path, &lines.map(|line| format!("{line}\n")).collect::<String>())
    }

    pub fn fences(&self) -> Vec<Fence> {
        let mut fences = Vec::new();
        let mut lines = self.text.lines();
        while let Some(line) = lines.next() {
            let Some(label) = line.strip_prefix("```") else { continue };
            let inner = lines.by_ref().take_while(|line| !line.starts_with("```"));
            let lines = inner.map(str::to_owned).collect();
            fences.push(Fence { label: label.trim().to_owned(), lines });
        }
        fences
    }

    /// The lines outside of all fences.
    fn prose(&self) -> impl Iterator<Item = &str> {
        let mut inside = false;
        self.text.lines().filter(move |line| {
            let fence = line.starts_with("```");
            inside ^= fence;
            !inside && !fence
        })
    }

    /// The rows of the first table below `heading` that begins with the column `first`.
    pub fn table(&self, heading: &str, first: &str) -> Vec<Vec<String>> {
        let is_heading = |line: &&str| line.trim_start_matches('#').trim() == heading;
        let below = self.prose().skip_while(|line| !is_heading(line)).skip(1);
        let is_table = |line: &&str| cells(line).first().is_some_and(|cell| cell == first);
        let table = below.skip_while(|line| !is_table(line)).skip(2);
        let rows: Vec<_> = table.take_while(|line| line.starts_with('|')).map(cells).collect();
        assert!(!rows.is_empty(), "{}: no table of `{first}` below `{heading}`", self.path);
        rows
    }

    /// The first block that is no heading, as one line.
    pub fn opening(&self) -> String {
        let lines = self.text.lines().skip_while(|line| line.is_empty() || line.starts_with('#'));
        lines.take_while(|line| !line.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// Where the links and pictures lead.
    pub fn links(&self) -> Vec<String> {
        let prose: Vec<&str> = self.prose().collect();
        let text = prose.join("\n");
        let targets = text.split("](").skip(1);
        targets.filter_map(|rest| Some(rest.split_once(')')?.0.to_owned())).collect()
    }

    /// The headings as a link names them: `#where-things-are`.
    pub fn anchors(&self) -> Vec<String> {
        let headings = self.prose().filter(|line| line.starts_with('#'));
        let plain = |letter: &char| letter.is_alphanumeric() || matches!(letter, ' ' | '-' | '_');
        headings
            .map(|line| {
                let title = line.trim_start_matches('#').trim().to_lowercase();
                format!("#{}", title.chars().filter(plain).collect::<String>().replace(' ', "-"))
            })
            .collect()
    }
}

/// The cells of a table's row; a bar behind a backslash parts nothing.
fn cells(line: &str) -> Vec<String> {
    let Some(inner) = line.strip_prefix('|') else { return Vec::new() };
    let inner = inner.trim_end().trim_end_matches('|').replace("\\|", "\u{1}");
    inner.split('|').map(|cell| cell.trim().replace('\u{1}', "|")).collect()
}

/// What stands in backquotes in a text.
pub fn coded(text: &str) -> Vec<String> {
    text.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "# A page\n\n![picture](a.svg)\n\n## Some words!\n\nSee [it](b.md#c).\n\n```\n\
                        [no](link)\n| no | table |\n```\n\n| word | meaning |\n| --- | --- |\n\
                        | `a`, `b` | one \\| two |\n| c | |\n\nEnd.\n\n```text\nsaid\n```\n";

    #[test]
    fn tables_are_read_below_their_heading() {
        let page = Page::of("page.md", PAGE);
        let rows = page.table("Some words!", "word");
        assert_eq!(rows, [["`a`, `b`", "one | two"], ["c", ""]]);
        assert_eq!(coded(&rows[0][0]), ["a", "b"]);
    }

    #[test]
    fn links_fences_anchors_and_opening_are_found() {
        let page = Page::of("page.md", PAGE);
        assert_eq!(page.links(), ["a.svg", "b.md#c"]);
        assert_eq!(page.anchors(), ["#a-page", "#some-words"]);
        assert_eq!(page.opening(), "![picture](a.svg)");
        let fences = page.fences();
        let told: Vec<_> = fences.iter().map(|it| (it.label.as_str(), it.lines.len())).collect();
        assert_eq!(told, [("", 2), ("text", 1)]);
    }

    #[test]
    fn a_section_ends_at_the_next_heading() {
        let page = Page::of("page.md", "## A\n\na\n\n```\n## no heading\n```\n\n## B\n\nb\n");
        assert_eq!(page.section("A").text, "## A\n\na\n\n```\n## no heading\n```\n\n");
        assert_eq!(page.section("B").text, "## B\n\nb\n");
        assert_eq!(page.section("C").text, "");
    }

    #[test]
    #[should_panic(expected = "page.md: no table of `word` below `Other`")]
    fn a_table_that_is_gone_is_told() {
        Page::of("page.md", PAGE).table("Other", "word");
    }
}
