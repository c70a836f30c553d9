//! The results as tables: every row in `records.csv`, and what a person reads in `records.md`.

use crate::compare;
use crate::outcome::HEADER;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::str::FromStr;

/// A row of `records.csv`.
pub struct Row<'a>(Vec<&'a str>);

impl<'a> Row<'a> {
    fn read(line: &'a str) -> Row<'a> {
        Row(line.split(',').collect())
    }

    /// What stands in a column.
    pub fn cell(&self, name: &str) -> &'a str {
        let at = HEADER.split(',').position(|one| one == name).expect("a column");
        self.0.get(at).copied().unwrap_or_default()
    }

    /// The same as a number of any kind, if it is one.
    pub fn number<T: FromStr>(&self, name: &str) -> Option<T> {
        self.cell(name).parse().ok()
    }

    fn whole(&self, name: &str) -> i64 {
        self.number(name).unwrap_or_default()
    }

    fn seconds(&self) -> f64 {
        self.number("seconds").unwrap_or_default()
    }

    /// What a person reads of a column.
    fn shown(&self, name: &str) -> String {
        match self.number::<f64>(name) {
            Some(seconds) if name.ends_with("seconds") => format!("{seconds:.3}"),
            _ => self.cell(name).to_owned(),
        }
    }

    /// Whether there is a plan.
    pub fn is_made(&self) -> bool {
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
    let name = |line: &str| line.splitn(3, ',').take(2).collect::<Vec<_>>().join("/");
    let mut lines = before(&std::fs::read_to_string(&file).unwrap_or_default());
    for row in rows {
        match lines.iter_mut().find(|line| name(line) == name(row)) {
            Some(line) => line.clone_from(row),
            None => lines.push(row.clone()),
        }
    }
    std::fs::write(&file, format!("{HEADER}\n{}\n", lines.join("\n"))).unwrap();
    save(&folder.join("records.md"), &lines);
}

/// The rows of an earlier run, which may have had other columns.
fn before(table: &str) -> Vec<String> {
    let mut lines = table.lines();
    let names: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    let row = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        let cell = |name| names.iter().position(|one| *one == name).and_then(|at| cells.get(at));
        let moved = HEADER.split(',').map(|name| cell(name).copied().unwrap_or_default());
        moved.collect::<Vec<_>>().join(",")
    };
    lines.map(row).collect()
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
    text.push_str(&compare::section(&sets, &rows));
    for set in &sets {
        let own: Vec<&Row> = rows.iter().filter(|row| row.cell("set") == *set).collect();
        text.push_str(&details(set, &own));
    }
    std::fs::write(file, text).unwrap();
}

const INTRODUCTION: &str = "# Records

Made by

```text
CARDWRIGHT_BENCHMARKS=<folder of open instances> cargo bench --features highs --bench records -- [SET ...] [--limit SECONDS]
```

from `records.csv`, in which a run replaces the rows of its own cases. Every plan has passed the judge
twice. *Value* is what the plan costs at the first level, *bound* what every plan costs at least, both in
sheets where a set has one kind of sheet, else in hundredths of the currency; *stock* is the second level,
the value of all paper used, in thousandths of that. *Proven* is that no plan spends less, and that none that
spends as little uses less paper by more than a fiftieth of the cheapest full sheet. *Known* are the best published value and bound. *Seconds* are those of the
whole way from the files' bytes to the judged plan and its schedule; in these *judge* is the judge alone.
What takes less than a second is measured up to 21 times, and the median is given. *Tried last* is the way that a
level with a gap ended with, and how often all ways had been gone again by then; `long` goes on until its time is over.

| set | cases | made | proven | largest gap | seconds, all | slowest |
| --- | ---: | ---: | ---: | ---: | ---: | ---: |
";

fn summary(set: &str, rows: &[&Row]) -> String {
    let made: Vec<&&Row> = rows.iter().filter(|row| row.is_made()).collect();
    let gap = |row: &&&Row| {
        let stock = row.whole("stock") - row.whole("stock bound");
        (row.whole("value") - row.whole("bound")).max(stock / 1_000)
    };
    let proven = rows.iter().filter(|row| row.is_proven()).count();
    let slowest = rows.iter().map(|row| row.seconds()).fold(0.0, f64::max);
    format!(
        "| {set} | {} | {} | {proven} | {} | {:.2} | {slowest:.2} |\n",
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
        "greedy value",
        "greedy stock",
        "highs value",
        "highs stock",
        "highs seconds",
        "seconds",
        "judge seconds",
        "tried last",
    ];
    let shown: Vec<&str> = names
        .into_iter()
        .filter(|name| rows.iter().any(|row| !matches!(&*row.shown(name), "" | "0" | "0.000")))
        .collect();
    writeln!(text, "| {} | status |", shown.join(" | ")).unwrap();
    writeln!(text, "| --- {}| --- |", "| ---: ".repeat(shown.len() - 1)).unwrap();
    for row in rows {
        let cells: Vec<String> = shown.iter().map(|name| row.shown(name)).collect();
        writeln!(text, "| {} | {} |", cells.join(" | "), status(row)).unwrap();
    }
    text
}

fn status(row: &Row) -> String {
    let searched = match row.whole("searched") {
        0 => "",
        _ => ", by complete search",
    };
    match (row.is_made(), row.is_proven()) {
        (false, _) => format!("**{}**", row.cell("fault")),
        (true, true) => format!("proven{searched}"),
        (true, false) => match row.whole("groups") {
            1 => format!("gap{searched}"),
            groups => {
                format!("{} of {groups} papers' groups proven{searched}", row.cell("proven"))
            }
        },
    }
}
