//! The plans next to those of others on the same cases, in one run on one machine.

use crate::table::Row;
use std::fmt::Write;

const INTRODUCTION: &str = "
## Compared in one run

Each ratio is the other's figure divided by ours, as the geometric mean over the cases of the set where
both are above nothing: above 1, the other costs more or takes longer. Only the first level is a ratio of
like with like; at the second, who spends more may use less.

The *greedy* keeps the same rules of the bench. The largest piece comes first, all of its kind before the
next kind. It is cut from the corner of the smallest remnant or offcut that holds it; where there is none,
from the full sheet on hand that is cheapest for its area; where there is none, from a pack that is bought,
cheapest for the area of its sheets. Of the two ways to cut it off, the one with the larger remnant is taken.
A case in which it finds no place for a piece is left out.

*HiGHS* solves the same pattern program in the place of the usual engine, microlp, with one thread and
within the same limits; patterns, rounding, search, judge and schedule are the same.

| set | cases with greedy | value | stock | seconds | cases with HiGHS | value | stock | seconds |
| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
";

/// The section that compares.
pub fn section(sets: &[&str], rows: &[Row]) -> String {
    let mut text = INTRODUCTION.to_owned();
    for set in sets {
        let own = rows.iter().filter(|row| row.cell("set") == *set && row.is_made());
        let own: Vec<&Row> = own.collect();
        let [greedy, highs] = ["greedy", "highs"].map(|other| ratios(&own, other));
        if greedy[0] != "0" || highs[0] != "0" {
            writeln!(text, "| {set} | {} | {} |", greedy.join(" | "), highs.join(" | ")).unwrap();
        }
    }
    text + &counts(rows)
}

/// Cases that the other has planned, and the means of its ratios.
fn ratios(rows: &[&Row], other: &str) -> [String; 4] {
    let name = |of: &str| format!("{other} {of}");
    let planned = rows.iter().filter(|row| !row.cell(&name("value")).is_empty()).count();
    let mean = |of: &str| {
        let figures = |row: &&Row| Some((row.number(&name(of))?, row.number(of)?));
        let pairs = rows.iter().filter_map(figures);
        mean(pairs.filter(|(other, ours)| *other > 0.0 && *ours > 0.0))
    };
    [planned.to_string(), mean("value"), mean("stock"), mean("seconds")]
}

/// The geometric mean of `other / ours`.
fn mean(pairs: impl Iterator<Item = (f64, f64)>) -> String {
    let logarithms: Vec<f64> = pairs.map(|(other, ours)| (other / ours).ln()).collect();
    match logarithms.len() {
        0 => String::new(),
        count => {
            let mean = (logarithms.iter().sum::<f64>() / count as f64).exp();
            if mean < 0.01 { format!("{mean:.6}") } else { format!("{mean:.4}") }
        }
    }
}

const COUNTS: &str = "
## Ten thousand times the cards

The same order with every count multiplied, a million at most: how much longer it takes. Where both come
to their limit, the ratio says nothing.

| order | seconds | runs | seconds, times 10 000 | runs | ratio |
| --- | ---: | ---: | ---: | ---: | ---: |
";

fn counts(rows: &[Row]) -> String {
    let mut text = COUNTS.to_owned();
    for many in rows {
        let Some(name) = many.cell("instance").strip_suffix("-times-10000") else { continue };
        let alike =
            |row: &&Row| row.cell("set") == many.cell("set") && row.cell("instance") == name;
        let seconds = |row: &Row| row.number::<f64>("seconds");
        let one = rows.iter().find(alike);
        let Some((one, plain, long)) =
            one.and_then(|one| Some((one, seconds(one)?, seconds(many)?)))
        else {
            continue;
        };
        let runs = [one, many].map(|row| row.cell("runs"));
        let ratio = long / plain;
        let set = many.cell("set");
        writeln!(
            text,
            "| {set}/{name} | {plain:.4} | {} | {long:.4} | {} | {ratio:.2} |",
            runs[0], runs[1]
        )
        .unwrap();
    }
    text
}
