//! Few gauge settings: the targets that the schedule is held to.

use crate::bench::batches::{Extent, makeable};
use crate::bench::instances::inputs;
use crate::bench::shipped;
use cardwright::batch::{Made, Options, plan};
use cardwright::measure::Length;
use cardwright::schedule::settings;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::collections::BTreeSet;

const LARGE: Extent =
    Extent { lines: 8, kinds: 4, most_count: 40, piece: (12, 60), sheet: (60, 160), most_blade: 1 };

#[test]
fn sheets_cut_together_take_far_fewer_settings_than_pattern_by_pattern() {
    let made = plan(&shipped("orders/wedding.csv"), &Options::default()).made.unwrap();
    let alone = |run: &cardwright::plan::Run| {
        let sheet = made.plan.sheets.iter().find(|sheet| sheet.id == run.sheet);
        let edges = sheet.map(|sheet| sheet.rough_edges).unwrap_or_default();
        settings(&[(&run.layout, edges)], &made.job.workshop.trimmer)
    };
    let alone: u64 = made.plan.runs.iter().map(alone).sum();
    let together = made.schedule.gauge_settings;
    assert!(together * 100 <= alone * 60, "{together} of {alone}");
}

/// Tags come from three papers, two columns of three a sheet: cut to 8 in and 10 1/2 in first they would take five
/// settings with the tents, which want 8 1/2 in and 4 in.
#[test]
fn trims_at_distances_of_their_own_are_left_over_at_the_end() {
    let papers = ["rose", "fern", "sky"];
    let tags = papers.map(|paper| format!("{paper},4 x 3 1/2,flat,30,{paper}\n")).concat();
    let order = format!("line,card,fold,count,paper\ntent,4 x 4 1/4,top,24,wren\n{tags}");
    let sheet = |paper: &str| format!("{paper}-letter,{paper},8 1/2,11,20,0.40\n");
    let rows = ["wren", "rose", "fern", "sky"].map(sheet).concat();
    let sheets = format!("sheet,paper,width,height,on hand,price\n{rows}");
    let bench = "unit = \"in\"\n[spares]\npercent = 0\nat_least = 0\n".to_owned();
    let made =
        plan(&inputs("tents", order, sheets, None, bench), &Options::default()).made.unwrap();
    let steps = made.schedule.in_order();
    let gauges: BTreeSet<Length> = steps.iter().map(|(_, step)| step.gauge).collect();
    let eighths = |count| Length::from_inch_parts(count, 8);
    assert_eq!(gauges, [28, 32, 68].map(eighths).into());
    assert_eq!(made.schedule.gauge_settings, 3);
}

/// Orders that are tried at most, until twenty of them were made.
const TRIED: usize = 60;

#[test]
fn settings_are_near_the_number_of_distances() {
    let mut runner = TestRunner::deterministic();
    let made = (0..TRIED).filter_map(|_| {
        let batch = makeable(LARGE).new_tree(&mut runner).unwrap().current();
        batch.made().filter(|made| made.schedule.gauges > 0)
    });
    let ratio = |made: Made| made.schedule.gauge_settings as f64 / made.schedule.gauges as f64;
    let mut ratios: Vec<f64> = made.take(20).map(ratio).collect();
    assert_eq!(ratios.len(), 20, "of {TRIED} orders");
    ratios.sort_by(f64::total_cmp);
    let median = (ratios[9] + ratios[10]) / 2.0;
    assert!(median <= 1.25, "{ratios:?}");
}
