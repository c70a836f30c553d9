//! The results as tables: every row in `records.csv`, and what a person reads in `records.md`.

use crate::case::HEADER;
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// A row of `records.csv`.
struct Row<'a>(Vec<&'a str>);

impl<'a> Row<'a> {
    fn read(line: &'a str) -> Row<'a> {
        Row(line.split(',').collect())
    }

    fn cell(&self, name: &str) -> &'a str {
        let at = HEADER.split(',').position(|one| one == name).expect("a column");
        self.0.get(at).copied().unwrap_or_default()
    }

    fn number(&self, name: &str) -> i64 {
        self.cell(name).parse().unwrap_or_default()
    }

    fn seconds(&self) -> f64 {
        self.cell("seconds").parse().unwrap_or_default()
    }

    fn is_made(&self) -> bool {
        self.cell("fault").is_empty()
    }

    fn is_proven(&self) -> bool {
        self.is_made() && self.cell("groups") == self.cell("proven")
    }
}

/// Puts the rows in the place of those of the same case, and writes both tables.
pub fn write(rows: &[String]) {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reports/benchmarks");
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("records.csv");
    let old = std::fs::read_to_string(&file).unwrap_or_default();
    let name = |line: &str| line.splitn(3, ',').take(2).collect::<Vec<_>>().join("/");
    let mut lines: Vec<String> = old.lines().skip(1).map(str::to_owned).collect();
    for row in rows {
        match lines.iter_mut().find(|line| name(line) == name(row)) {
            Some(line) => line.clone_from(row),
            None => lines.push(row.clone()),
        }
    }
    std::fs::write(&file, format!("{HEADER}\n{}\n", lines.join("\n"))).unwrap();
    save(&folder.join("records.md"), &lines);
}

fn save(file: &Path, lines: &[String]) {
    let rows: Vec<Row> = lines.iter().map(|line| Row::read(line)).collect();
    let mut sets: Vec<&str> = Vec::new();
    for row in &rows {
        if !sets.contains(&row.cell("set")) {
            sets.push(row.cell("set"));
        }
    }
    let mut text = String::from(INTRODUCTION);
    for set in &sets {
        let own: Vec<&Row> = rows.iter().filter(|row| row.cell("set") == *set).collect();
        text.push_str(&summary(set, &own));
    }
    for set in &sets {
        let own: Vec<&Row> = rows.iter().filter(|row| row.cell("set") == *set).collect();
        text.push_str(&details(set, &own));
    }
    std::fs::write(file, text).unwrap();
}

const INTRODUCTION: &str = "# Records

Made by

```text
CARDWRIGHT_BENCHMARKS=<folder of open instances> cargo bench --bench records -- [SET ...] [--limit SECONDS]
```

from `records.csv`, in which a run replaces the rows of its own cases. Every plan has passed the judge
twice. *Value* is what the plan costs at the first level, *bound* what every plan costs at least, both in
sheets where a set has one kind of sheet, else in hundredths of the currency; *stock* is the second level,
the value of all paper used. *Known* are the best published value and bound. *Greedy* puts the largest
piece first in the smallest remnant that holds it. *Seconds* are those of the whole way from the files'
bytes to the judged plan and its schedule; in these *judge* is the judge alone.

| set | cases | made | proven | largest gap | greedy / value | seconds, all | slowest |
| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
";

fn summary(set: &str, rows: &[&Row]) -> String {
    let made: Vec<&&Row> = rows.iter().filter(|row| row.is_made()).collect();
    let gap = |row: &&&Row| {
        (row.number("value") - row.number("bound"))
            .max(row.number("stock") - row.number("stock bound"))
    };
    let proven = rows.iter().filter(|row| row.is_proven()).count();
    let compared = made.iter().filter(|row| !row.cell("greedy").is_empty());
    let sum = |name: &str| compared.clone().map(|row| row.number(name)).sum::<i64>();
    let ratio = match sum("greedy") {
        0 => String::new(),
        greedy => format!("{:.3}", greedy as f64 / sum("value") as f64),
    };
    let slowest = rows.iter().map(|row| row.seconds()).fold(0.0, f64::max);
    format!(
        "| {set} | {} | {} | {proven} | {} | {ratio} | {:.2} | {slowest:.2} |\n",
        rows.len(),
        made.len(),
        made.iter().map(gap).max().unwrap_or_default(),
        rows.iter().map(|row| row.seconds()).sum::<f64>(),
    )
}

fn details(set: &str, rows: &[&Row]) -> String {
    let mut text = format!("\n## {set}\n\n");
    let names = [
        "instance",
        "value",
        "bound",
        "stock",
        "stock bound",
        "known value",
        "known bound",
        "greedy",
        "seconds",
        "judge seconds",
    ];
    let shown: Vec<&str> = names
        .into_iter()
        .filter(|name| rows.iter().any(|row| !matches!(row.cell(name), "" | "0" | "0.000")))
        .collect();
    writeln!(text, "| {} | status |", shown.join(" | ")).unwrap();
    writeln!(text, "| --- {}| --- |", "| ---: ".repeat(shown.len() - 1)).unwrap();
    for row in rows {
        let cells: Vec<&str> = shown.iter().map(|name| row.cell(name)).collect();
        writeln!(text, "| {} | {} |", cells.join(" | "), status(row)).unwrap();
    }
    text
}

fn status(row: &Row) -> String {
    let searched = match row.number("searched") {
        0 => "",
        _ => ", by complete search",
    };
    match (row.is_made(), row.is_proven()) {
        (false, _) => format!("**{}**", row.cell("fault")),
        (true, true) => format!("optimal{searched}"),
        (true, false) => match row.number("groups") {
            1 => format!("gap{searched}"),
            groups => {
                format!("{} of {groups} papers' groups optimal{searched}", row.cell("proven"))
            }
        },
    }
}
