//! `schedule.html`: one page for screen, phone and paper, complete in itself.

mod section;
mod walk;

use super::ReportError;
use super::page::{Section, after_cutting, before_cutting};
use super::picture::{self, Scale};
use super::report::{Report, RunReport, Step, YieldKind, YieldRow};
use super::svg;
use super::visible::{escaped, shown};
use super::words;
use crate::diagnostics::{counted, one_word};
use crate::measure::{Axis, Length, Unit};
use askama::Template;
use rayon::prelude::*;
use std::fmt::Write;

/// The scripts that run in reports, by their digests as a policy names them (Content Security Policy Level 3): that of now first, then
/// those of earlier versions, since people have their schedules. Whoever serves a report lets no other script run.
pub const SCRIPTS: [&str; 2] = [
    "'sha256-mY9w4nwIhLQHEpGqKerIsTYfFzAwK6BHN5+rfPCSWTs='",
    "'sha256-WrXmHLTZ2LSWpvPD2PyqmzT0Xpxt9KnEudgTYGRMnpg='",
];

/// All that runs in a report.
pub const SCRIPT: &str =
    concat!("\n", include_str!("templates/ticks.js"), include_str!("templates/walk.js"));

#[derive(Template)]
#[template(path = "schedule.html", config = "src/reports/templates/askama.toml")]
struct Page<'a> {
    report: &'a Report,
    /// The title as a CSS string: printed pages may get apart.
    page_name: String,
    /// Tells one plan's ticks from another's.
    plan_mark: String,
    definitions: String,
    scale: String,
    ruler: String,
    ruler_length: &'static str,
    runs: Vec<(&'a RunReport, Inlined)>,
    before: Vec<Section>,
    after: Vec<Section>,
    /// One step at a time.
    walk: String,
}

/// A drawing, ready to stand on the page.
struct Inlined {
    svg: String,
    scale: String,
    /// Whether its scale differs from that of most drawings.
    own_scale: bool,
    /// Whether it has the width of the page to itself.
    wide: bool,
}

/// The whole page.
///
/// # Errors
/// The template cannot be filled in.
pub fn schedule(report: &Report, plan_json: &[u8]) -> Result<String, ReportError> {
    let drawings = report.runs.iter().map(|run| &run.picture.drawing);
    let page = Page {
        report,
        page_name: css_string(&shown(&report.title)),
        plan_mark: format!("{:016x}", fingerprint(plan_json)),
        definitions: svg::definitions(&picture::fills_used(drawings)) + svg::OFF,
        scale: report.scale.text(),
        ruler: ruler(report.unit),
        ruler_length: ruler_marks(report.unit).length,
        runs: report
            .runs
            .par_iter()
            .enumerate()
            .map(|(at, run)| (run, figure(run, at + 1, report.scale)))
            .collect(),
        before: before_cutting(report),
        after: after_cutting(report),
        walk: walk::stops(&report.walk),
    };
    Ok(page.render()?)
}

fn figure(run: &RunReport, number: usize, common: Scale) -> Inlined {
    let scale = run.picture.scale();
    Inlined {
        svg: svg::element(&run.picture, &format!("run-{number}")),
        scale: scale.text(),
        own_scale: scale != common,
        wide: run.picture.is_wide,
    }
}

/// The text as it may stand in a CSS string of a `style` element: all but plain letters and digits are
/// escaped (CSS Syntax Module Level 3, 4.3.7).
fn css_string(text: &str) -> String {
    text.chars().fold(String::new(), |mut string, letter| {
        match letter.is_ascii_alphanumeric() {
            true => string.push(letter),
            // Writing to a String cannot fail.
            false => drop(write!(string, "\\{:x} ", u32::from(letter))),
        }
        string
    })
}

/// FNV-1a, 64 bits (Fowler, Noll and Vo; RFC 9923, from memory): enough to keep the ticks of two
/// plans apart.
fn fingerprint(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// How a ruler is marked.
struct RulerMarks {
    step: Length,
    count: u32,
    length: &'static str,
}

/// Three inches by eighths, or 80 mm.
fn ruler_marks(unit: Unit) -> RulerMarks {
    match unit {
        Unit::Inch => RulerMarks { step: Length::from_inch_parts(1, 8), count: 24, length: "3 in" },
        Unit::Millimetre | Unit::Centimetre => {
            RulerMarks { step: Length::from_mm(5), count: 16, length: "80 mm" }
        }
    }
}

/// A true ruler, so that the scale of a print can be checked.
fn ruler(unit: Unit) -> String {
    let RulerMarks { step, count: marks, length: name } = ruler_marks(unit);
    let step = Scale::of(1).on_paper(step);
    let length = step * f64::from(marks);
    let mut path = format!("M0 7H{length:.2}");
    for mark in 0..=marks {
        let height = match (mark % 8, mark % 4, mark % 2) {
            (0, ..) => 5.0,
            (_, 0, _) => 3.5,
            (_, _, 0) => 2.5,
            _ => 1.6,
        };
        let _ = write!(path, "M{:.2} 7v-{height}", step * f64::from(mark));
    }
    format!(
        "<svg class=\"ruler\" role=\"img\" aria-label=\"A ruler of {name}\" width=\"{:.2}mm\" \
         height=\"8mm\" viewBox=\"-.5 0 {:.2} 8\"><path d=\"{path}\" fill=\"none\" stroke=\"#111\" \
         stroke-width=\".25\"/></svg>",
        length + 1.0,
        length + 1.0
    )
}

fn tick_box(id: &str, label: &str) -> String {
    format!("<input type=\"checkbox\" id=\"{id}\" aria-label=\"{}\">", escaped(label))
}

/// What the template asks for.
impl Page<'_> {
    /// Markup of a length: whole part large, fraction and unit smaller.
    fn dimension(&self, text: &str) -> String {
        let (number, unit) = text.rsplit_once(' ').unwrap_or((text, ""));
        let (whole, part) = match number.split_once(' ') {
            Some((whole, part)) => (whole, part),
            None if number.contains('/') => ("", number),
            None => (number, ""),
        };
        let mut markup = String::new();
        for (class, text) in [("whole", whole), ("part", part), ("unit", unit)] {
            if !text.is_empty() {
                let gap = if markup.is_empty() { "" } else { " " };
                let _ = write!(markup, "{gap}<span class=\"{class}\">{}</span>", escaped(text));
            }
        }
        markup
    }

    /// The folder of this page, unless another was named.
    fn folder(&self) -> String {
        one_word(&format!("reports/{}", self.report.title))
    }

    /// A name that may be broken behind its joints.
    fn joints(&self, name: &str) -> String {
        section::joints(name)
    }

    /// A part that is told like any other.
    fn section(&self, section: &Section) -> String {
        section::markup(section, || svg::timetable(&self.report.timetable))
    }

    fn tick_step(&self, number: &u32) -> String {
        tick_box(&format!("step-{number}"), &format!("step {number} done"))
    }

    fn counted(&self, count: &u64, noun: &str) -> String {
        counted(*count, noun)
    }

    fn across_width(&self, step: &Step) -> bool {
        step.across == Axis::Width
    }

    fn cut_word(&self, cuts: &u64) -> &'static str {
        if *cuts == 1 { "cut" } else { "cuts" }
    }

    fn yield_class(&self, row: &YieldRow) -> &'static str {
        row.kind.word()
    }

    /// Whether the page names where something goes next: what goes in the drawer has a word of its own.
    fn goes_on(&self, row: &YieldRow) -> bool {
        !row.next.is_empty() && row.kind != YieldKind::Drawer
    }

    /// What stands before the name of what comes out.
    fn yield_word(&self, row: &YieldRow) -> &'static str {
        match row.kind {
            YieldKind::Stack if row.count == 1 => "sheet in stack",
            YieldKind::Stack => "sheets in stack",
            YieldKind::Piece => "",
            YieldKind::Drawer => "for the drawer:",
            YieldKind::Waste => "waste",
        }
    }
}

#[cfg(test)]
mod tests;
