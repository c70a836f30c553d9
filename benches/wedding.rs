//! How long the wedding order takes from its files to its report folder.

#![allow(clippy::unwrap_used, missing_docs, reason = "a bench fails by a panic")]

use cardwright::batch::{self, Inputs, Options, Source};
use cardwright::reports::{self, Batch, Report, folder::write_folder, terminal};
use criterion::{Criterion, criterion_group, criterion_main};
use std::path::{Path, PathBuf};

fn read(folder: &Path) -> Inputs {
    let source = |name: &str| Source {
        name: name.to_owned(),
        bytes: std::fs::read(folder.join(name)).unwrap(),
    };
    Inputs {
        orders: vec![source("wedding.csv")],
        sheets: source("sheets.csv"),
        offcuts: Some(source("offcuts.csv")),
        workshop: Some(source("workshop.toml")),
    }
}

/// Reads, plans and writes; the summary's length.
fn run(orders: &Path, reports: &Path) -> usize {
    let made = batch::plan(&read(orders), &Options::default()).made.unwrap();
    let batch = Batch {
        order: &made.order,
        stock: &made.stock,
        workshop: &made.workshop,
        bill: &made.bill,
        plan: &made.plan,
        gains: made.gains,
        schedule: &made.schedule,
        since: None,
    };
    write_folder(reports, &reports::files(&batch).unwrap()).unwrap();
    terminal::summary(&Report::of(&batch).unwrap(), None, false).len()
}

fn wedding(criterion: &mut Criterion) {
    let orders = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("orders");
    let folder = tempfile::tempdir().unwrap();
    let reports = folder.path().join("wedding");
    criterion.bench_function("wedding planned and written", |bencher| {
        bencher.iter(|| run(&orders, &reports));
    });
    let inputs = read(&orders);
    criterion.bench_function("wedding planned", |bencher| {
        bencher.iter(|| batch::plan(&inputs, &Options::default()));
    });
}

criterion_group!(benches, wedding);
criterion_main!(benches);
