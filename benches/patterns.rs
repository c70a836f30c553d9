//! How long the exact pattern search takes on published instances (Beasley 1985).

#![allow(clippy::unwrap_used, missing_docs)]

use cardwright::measure::{Length, Size};
use cardwright::patterns::{Bench, Shape, Space};
use criterion::{Criterion, criterion_group, criterion_main};
use std::path::PathBuf;

struct Instance {
    plate: Size,
    shapes: Vec<Shape>,
    areas: Vec<i64>,
}

fn folder() -> PathBuf {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/benchmarks");
    std::env::var_os("CARDWRIGHT_BENCHMARKS").map_or_else(beside, PathBuf::from).join("gcut")
}

fn read(number: usize, turned: bool) -> Option<Instance> {
    let text = std::fs::read_to_string(folder().join(format!("gcut{number}.txt"))).ok()?;
    let numbers: Vec<i64> =
        text.split_ascii_whitespace().filter_map(|word| word.parse().ok()).collect();
    let size =
        |sides: &[i64]| Size::new(Length::from_ticks(sides[0]), Length::from_ticks(sides[1]));
    let rows = numbers[3..].chunks_exact(4);
    Some(Instance {
        plate: size(&numbers),
        shapes: rows.clone().map(|row| Shape { size: size(row), upright: true, turned }).collect(),
        areas: rows.map(|row| row[0] * row[1]).collect(),
    })
}

fn solve(instance: &Instance) -> i64 {
    let bench = Bench { blade: Length::ZERO, knife: Length::MAX, hold: Length::ZERO };
    Space::new(instance.plate, &instance.shapes, bench).best(&instance.areas).value()
}

fn gcut(criterion: &mut Criterion) {
    let both = [false, true];
    let small: Vec<Instance> =
        (1..=12).flat_map(|number| both.map(|turned| read(number, turned))).flatten().collect();
    if small.is_empty() {
        println!("skipped: no benchmark folder");
        return;
    }
    criterion.bench_function("gcut1-12 fixed and turned", |bencher| {
        bencher.iter(|| small.iter().map(solve).sum::<i64>());
    });
    let mut group = criterion.benchmark_group("gcut13");
    group.sample_size(10);
    for (name, turned) in [("fixed", false), ("turned", true)] {
        let Some(instance) = read(13, turned) else { continue };
        group.bench_function(name, |bencher| bencher.iter(|| solve(&instance)));
    }
}

criterion_group!(benches, gcut);
criterion_main!(benches);
