//! The sets.

use crate::case::{Case, Question};
use crate::generated;
use crate::instances::{EASY, Instance, Published, benchmarks, published, shipped};
use cardwright::batch::{Effort, Inputs, Source};
use cardwright::patterns::Space;
use std::path::Path;

/// All cases of all sets, those of the open instances only where their folder is there.
pub fn all() -> Vec<Case> {
    let mut cases = Vec::new();
    if let Some(folder) = benchmarks() {
        let published = published(&folder);
        cases.extend(gcut(&folder, &published));
        cases.extend(cgcut(&folder, &published));
        cases.extend(gcut_with_demands(&folder));
        cases.extend(furniture(&folder, &published));
    }
    cases.extend(made_by_rule());
    cases
}

fn way(turned: bool) -> &'static str {
    if turned { "turned" } else { "fixed" }
}

/// One sheet, any number of each piece.
fn gcut<'a>(folder: &'a Path, published: &'a [Published]) -> impl Iterator<Item = Case> + 'a {
    published.iter().filter(|row| row.set == "gcut").map(move |row| {
        let instance = Instance::read(folder, "gcut", &row.instance);
        let turned = row.turned;
        let answer = move || {
            let areas: Vec<i64> = instance.rows.iter().map(|row| row[0] * row[1]).collect();
            Space::new(instance.plate, &instance.shapes(turned), EASY).best(&areas).value()
        };
        Case {
            set: "gcut",
            instance: format!("{}-{}", row.instance, way(turned)),
            question: Question::Pattern(Box::new(answer)),
            limit: 10,
            effort: Effort::Normal,
            known: (Some(row.value), Some(row.value)),
        }
    })
}

/// One sheet, each piece at most its demand.
fn cgcut<'a>(folder: &'a Path, published: &'a [Published]) -> impl Iterator<Item = Case> + 'a {
    published.iter().filter(|row| row.set == "cgcut").map(move |row| {
        let instance = Instance::read(folder, "cgcut", &row.instance);
        let answer = move || {
            let values: Vec<i64> = instance.rows.iter().map(|row| row[2]).collect();
            let limits: Vec<u64> = instance.rows.iter().map(|row| row[3] as u64).collect();
            let space = Space::new(instance.plate, &instance.shapes(false), EASY);
            space.best_proven_within(&values, &limits).map_or(0, |best| best.value())
        };
        Case {
            set: "cgcut",
            instance: row.instance.clone(),
            question: Question::Pattern(Box::new(answer)),
            limit: 10,
            effort: Effort::Normal,
            known: (Some(row.value), Some(row.value)),
        }
    })
}

fn gcut_with_demands(folder: &Path) -> impl Iterator<Item = Case> {
    (1..=13).flat_map(|number| [false, true].map(|turned| (number, turned))).map(
        |(number, turned)| {
            let instance = Instance::gcut_with_demands(folder, number);
            Case {
                set: "gcut-demands",
                instance: format!("gcut{number}-{}", way(turned)),
                question: Question::Sheets(instance.inputs(turned)),
                limit: 60,
                effort: Effort::Normal,
                known: (None, None),
            }
        },
    )
}

fn furniture<'a>(folder: &'a Path, published: &'a [Published]) -> impl Iterator<Item = Case> + 'a {
    let numbers = (1..=43).step_by(2);
    [false, true].into_iter().flat_map(move |turned| {
        numbers.clone().map(move |number| {
            let name = format!("A{number}");
            let value = |question: &str| {
                let mut rows = published.iter().filter(|row| row.set == "setA");
                let row = rows.find(|row| {
                    row.instance == name && row.turned == turned && row.question == question
                });
                row.map(|row| row.value)
            };
            let known = (value("fewest sheets"), value("lower bound on sheets"));
            let instance = Instance::read(folder, "setA", &name);
            Case {
                set: if turned { "setA-turned" } else { "setA-fixed" },
                instance: name,
                question: Question::Sheets(instance.inputs(turned)),
                limit: 60,
                effort: Effort::Long,
                known,
            }
        })
    })
}

/// Orders of each kind.
const SEEDS: u64 = 10;

fn made_by_rule() -> Vec<Case> {
    let case = |set, instance: String, inputs| Case {
        set,
        instance,
        question: Question::Order(inputs),
        limit: 60,
        effort: Effort::Normal,
        known: (None, None),
    };
    let mut cases = Vec::new();
    for seed in 1..=SEEDS {
        cases.push(case("drawers", format!("seed{seed}"), generated::drawers(seed, 1)));
    }
    cases.push(case("drawers", "seed1-times-10000".to_owned(), generated::drawers(1, 10_000)));
    for seed in 1..=SEEDS {
        cases.push(case("odd-pieces", format!("seed{seed}"), generated::odd_pieces(seed)));
    }
    for seed in 1..=SEEDS {
        cases.push(case("packs", format!("seed{seed}"), generated::packs(seed)));
    }
    for seed in 1..=SEEDS {
        cases.push(case("scarce", format!("seed{seed}"), generated::scarce(seed)));
    }
    let wedding = || shipped("orders/wedding.csv");
    cases.push(case("wedding", "wedding".to_owned(), wedding()));
    cases.push(case("wedding", "wedding-times-10000".to_owned(), times(wedding(), 10_000)));
    cases
}

/// The same batch with so many times the cards of each line.
fn times(batch: Inputs, times: u64) -> Inputs {
    let orders = batch.orders.iter().map(|order| {
        let text = String::from_utf8(order.bytes.clone()).unwrap();
        let column = text.split([',', '\n']).position(|cell| cell == "count").unwrap();
        let line = |(number, line): (usize, &str)| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if number > 0 {
                cells[column] = (cells[column].parse::<u64>().unwrap() * times).to_string();
            }
            cells.join(",")
        };
        let lines: Vec<String> = text.lines().enumerate().map(line).collect();
        Source { name: order.name.clone(), bytes: lines.join("\n").into() }
    });
    Inputs { orders: orders.collect(), ..batch }
}
