//! How long the exact pattern search takes on published instances (Beasley 1985).

#![allow(clippy::print_stdout, missing_docs)]

use cardwright::cuts::Bench;
use cardwright::measure::{Length, Size};
use cardwright::patterns::{Shape, Space};
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
    let bench = Bench { blade: Length::ZERO, knife: Length::MAX, hold: Length::ZERO, stages: None };
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

/// Card bases, liners and envelope blanks in eighths of an inch, on a 12 x 12 and a 26 x 40 in sheet.
fn cards(criterion: &mut Criterion) {
    let eighths = |width: i64, height: i64| {
        Size::new(Length::from_inch_parts(width, 8), Length::from_inch_parts(height, 8))
    };
    let sides = [(68, 44), (48, 24), (80, 56), (64, 40), (62, 88), (34, 64), (38, 30), (64, 36)];
    let sides = sides.into_iter().chain((0..16).map(|step| (26 + 3 * step, 21 + 5 * step % 37)));
    let shapes: Vec<Shape> = sides
        .map(|(width, height)| Shape { size: eighths(width, height), upright: true, turned: true })
        .collect();
    let values: Vec<i64> =
        (3..).zip(&shapes).map(|(odd, shape)| area_in_64ths(shape.size) + odd * 7 % 11).collect();
    let limits: Vec<u64> = (0..).take(shapes.len()).map(|step| step % 3).collect();
    let bench = Bench { blade: Length::ZERO, knife: Length::MAX, hold: Length::ZERO, stages: None };
    for (name, plate) in [("12 x 12", eighths(96, 96)), ("26 x 40", eighths(208, 320))] {
        let mut group = criterion.benchmark_group(format!("24 kinds of cards on {name} in"));
        group.sample_size(20);
        let space = Space::new(plate, &shapes, bench);
        group.bench_function("space", |bencher| bencher.iter(|| Space::new(plate, &shapes, bench)));
        group.bench_function("best", |bencher| bencher.iter(|| space.best(&values)));
        let best = space.best(&values);
        group.bench_function("layout", |bencher| bencher.iter(|| best.layout()));
        group.bench_function("best within", |bencher| {
            bencher.iter(|| space.best_within(&values, &limits));
        });
    }
}

fn area_in_64ths(size: Size) -> i64 {
    let eighths = |length: Length| length.ticks() * 8 / Length::TICKS_PER_INCH;
    eighths(size.width) * eighths(size.height)
}

criterion_group!(benches, cards, gcut);
criterion_main!(benches);
