//! Tints and hatches as patterns.

use super::stroke;
use crate::reports::picture::{Hatch, Point, Trace};
use std::collections::BTreeSet;
use std::fmt::Write;

/// The patterns of these fills and of waste, to stand in a `defs` element.
pub fn definitions(fills: &BTreeSet<usize>) -> String {
    let fills: BTreeSet<Hatch> = fills.iter().map(|fill| Hatch::of_line(*fill)).collect();
    let mut patterns = String::new();
    for hatch in std::iter::once(Hatch::Waste).chain(fills) {
        push_pattern(hatch, &mut patterns);
    }
    patterns
}

fn push_pattern(hatch: Hatch, patterns: &mut String) {
    let tile = hatch.tile();
    let (side, tint) = (tile.side, super::colour(tile.tint));
    let turned = match tile.slanted {
        // Written out: the cosine of an angle is not the same to the last digit on every machine.
        true => " patternTransform=\"matrix(.7071 .7071 -.7071 .7071 0 0)\"",
        false => "",
    };
    // Writing to a String cannot fail.
    let _ = write!(
        patterns,
        "<pattern id=\"{}\" width=\"{side}\" height=\"{side}\" patternUnits=\"userSpaceOnUse\"{turned}>\
         <rect width=\"{side}\" height=\"{side}\" fill=\"{tint}\"/>",
        name(hatch)
    );
    for trace in tile.traces {
        let _ = match trace {
            Trace::Dot(Point { x, y }, radius, colour) => write!(
                patterns,
                "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" fill=\"{}\"/>",
                super::colour(*colour)
            ),
            Trace::Ring(Point { x, y }, radius, line) => write!(
                patterns,
                "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" fill=\"none\"{}/>",
                stroke(*line)
            ),
            Trace::Through(points, line) => {
                let points: Vec<String> =
                    points.iter().map(|Point { x, y }| format!("{x} {y}")).collect();
                write!(
                    patterns,
                    "<path d=\"M{}\" fill=\"none\"{}/>",
                    points.join("L"),
                    stroke(*line)
                )
            }
        };
    }
    patterns.push_str("</pattern>");
}

/// Strokes over what comes off at a cut, whatever is below them.
pub const OFF: &str = "<pattern id=\"off\" width=\"3\" height=\"3\" patternUnits=\"userSpaceOnUse\" \
    patternTransform=\"matrix(.7071 -.7071 .7071 .7071 0 0)\"><path d=\"M0 1.5H3\" stroke=\"#7a2e12\" \
    stroke-width=\".3\" stroke-opacity=\".55\"/></pattern>";

/// The pattern's id.
pub fn name(hatch: Hatch) -> String {
    match hatch {
        Hatch::Waste => "waste".to_owned(),
        Hatch::Line(number) => format!("fill-{number}"),
    }
}

/// A small sample of a fill, for a key.
pub fn swatch(fill: usize) -> String {
    format!(
        "<svg class=\"swatch\" width=\"9mm\" height=\"5mm\" viewBox=\"0 0 9 5\" aria-hidden=\"true\">\
         <rect x=\".2\" y=\".2\" width=\"8.6\" height=\"4.6\" fill=\"url(#{})\" stroke=\"#111\" \
         stroke-width=\".3\"/></svg>",
        name(Hatch::of_line(fill))
    )
}
