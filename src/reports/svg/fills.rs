//! Tints and hatches: each order line has its own, told apart in grey as well as in colour.

use std::collections::BTreeSet;
use std::fmt::Write;

/// Light enough for black text (each at least 12 : 1 against black).
const TINTS: [&str; 7] =
    ["#e3edf7", "#f8ecd2", "#e4f1df", "#f6e2e6", "#ebe6f5", "#def1ee", "#f1efe2"];

/// Hatches drawn over a tint: side of the repeated square and what is drawn in it.
const HATCHES: [(f64, &str); 8] = [
    (4.0, ""),
    (
        3.0,
        "<circle cx=\".75\" cy=\".75\" r=\".3\" fill=\"#778\"/><circle cx=\"2.25\" cy=\"2.25\" r=\".3\" fill=\"#778\"/>",
    ),
    (2.4, "<path d=\"M0 1.2h2.4\" stroke=\"#99a\" stroke-width=\".2\"/>"),
    (
        4.0,
        "<path d=\"M0 1l1 1l1 -1l1 1l1 -1\" fill=\"none\" stroke=\"#99a\" stroke-width=\".22\"/>",
    ),
    (2.4, "<path d=\"M1.2 0v2.4\" stroke=\"#99a\" stroke-width=\".2\"/>"),
    (4.0, "<path d=\"M1 2h2M2 1v2\" stroke=\"#889\" stroke-width=\".22\"/>"),
    (
        4.0,
        "<circle cx=\"2\" cy=\"2\" r=\".9\" fill=\"none\" stroke=\"#889\" stroke-width=\".22\"/>",
    ),
    (3.2, "<path d=\"M0 1.6h3.2M1.6 0v3.2\" stroke=\"#99a\" stroke-width=\".2\"/>"),
];

/// Fills that differ; the next one is the first again.
const FILLS: usize = TINTS.len() * HATCHES.len();

/// The patterns of these fills and of waste, to stand in a `defs` element.
pub fn definitions(fills: &BTreeSet<usize>) -> String {
    let mut patterns = String::from(
        "<pattern id=\"waste\" width=\"1.7\" height=\"1.7\" patternUnits=\"userSpaceOnUse\" \
         patternTransform=\"matrix(.7071 .7071 -.7071 .7071 0 0)\"><rect width=\"1.7\" height=\"1.7\" fill=\"#fff\"/>\
         <path d=\"M0 .85h1.7\" stroke=\"#666\" stroke-width=\".25\"/></pattern>",
    );
    let fills: BTreeSet<usize> = fills.iter().map(|fill| fill % FILLS).collect();
    for fill in fills {
        let (side, hatch) = HATCHES[fill % HATCHES.len()];
        let tint = TINTS[fill % TINTS.len()];
        let _ = write!(
            patterns,
            "<pattern id=\"fill-{fill}\" width=\"{side}\" height=\"{side}\" \
             patternUnits=\"userSpaceOnUse\"><rect width=\"{side}\" height=\"{side}\" \
             fill=\"{tint}\"/>{hatch}</pattern>"
        );
    }
    patterns
}

/// The attribute that paints with a fill.
pub fn paint(fill: usize) -> String {
    format!("fill=\"url(#fill-{})\"", fill % FILLS)
}

/// A small sample of a fill, for a key.
pub fn swatch(fill: usize) -> String {
    format!(
        "<svg class=\"swatch\" width=\"9mm\" height=\"5mm\" viewBox=\"0 0 9 5\" aria-hidden=\"true\">\
         <rect x=\".2\" y=\".2\" width=\"8.6\" height=\"4.6\" {} stroke=\"#111\" \
         stroke-width=\".3\"/></svg>",
        paint(fill)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fills_of_a_page_all_differ() {
        let pairs: BTreeSet<(usize, usize)> =
            (0..FILLS).map(|fill| (fill % TINTS.len(), fill % HATCHES.len())).collect();
        assert_eq!(pairs.len(), FILLS);
        assert_eq!(paint(FILLS), paint(0));
    }

    /// Contrast of two colours as WCAG 2.2 computes it (formula from memory).
    fn luminance(colour: &str) -> f64 {
        let part = |at: usize| {
            let value = u8::from_str_radix(&colour[at..at + 2], 16).unwrap();
            let value = f64::from(value) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    }

    #[test]
    fn black_text_stands_out_on_every_tint() {
        for tint in TINTS {
            assert!((luminance(tint) + 0.05) / 0.05 >= 12.0, "{tint}");
        }
    }
}
