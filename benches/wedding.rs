//! How long the wedding order takes from its files to its report folder.

#![allow(clippy::unwrap_used, missing_docs, reason = "a bench fails by a panic")]

#[allow(dead_code, reason = "of the instances, only the shipped orders are read here")]
#[path = "../tests/bench/instances.rs"]
mod instances;

use cardwright::batch::{self, Options};
use cardwright::reports::{self, Batch, Offered, Report, folder::write_folder, terminal};
use cardwright::schedule::schedule;
use criterion::{Criterion, criterion_group, criterion_main};
use instances::shipped;
use std::path::Path;

/// Reads, plans and writes; the summary's length.
fn run(order: &str, reports: &Path) -> usize {
    let made = batch::plan(&shipped(order), &Options::default()).made.unwrap();
    let offered = Offered::default();
    let batch = Batch { made: &made, since: None, prices: &[], other_buying: &[], offered };
    let report = Report::of(&batch).unwrap();
    write_folder(reports, &reports::files(&batch, &report).unwrap()).unwrap();
    terminal::summary(&report, None, false).len()
}

fn wedding(criterion: &mut Criterion) {
    let order = "orders/wedding.csv";
    let folder = tempfile::tempdir().unwrap();
    let reports = folder.path().join("wedding");
    criterion.bench_function("wedding planned and written", |bencher| {
        bencher.iter(|| run(order, &reports));
    });
    let inputs = shipped(order);
    criterion.bench_function("wedding planned", |bencher| {
        bencher.iter(|| batch::plan(&inputs, &Options::default()));
    });
}

/// How long the order of the cuts takes, beside the planning of which it is a part.
fn scheduled(criterion: &mut Criterion) {
    let made = batch::plan(&shipped("orders/wedding.csv"), &Options::default()).made.unwrap();
    criterion.bench_function("wedding scheduled", |bencher| {
        bencher.iter(|| schedule(&made.plan, &made.job));
    });
}

criterion_group!(benches, wedding, scheduled);
criterion_main!(benches);
