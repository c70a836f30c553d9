//! The schedule followed to any step and lift.

use super::fixtures::{cuts, plan};
use super::laws::{Shape, bench, shapes, tree};
use super::simulation::play;
use super::trees::{cut_x, cut_y, piece, squared, waste};
use crate::cuts::{Layout, Tree as _};
use crate::measure::{Area, Length, Size};
use crate::plan::{Plan, Reached};
use crate::schedule::{Astray, OnBench, Replay, Schedule};
use crate::stock::SheetKind;
use crate::workshop::Workshop;
use proptest::prelude::*;

fn reached(step: u32, lifts: Option<u64>) -> Reached {
    Reached { step, lifts }
}

/// Areas of all that lies there, was thrown away or went under the blade: what was cut into.
fn accounted(bench: &OnBench, plan: &Plan, sizes: &dyn Fn(&str) -> Size) -> [Area; 2] {
    let begun = plan
        .runs
        .iter()
        .map(|run| run.layout.size.area() * bench.begun.get(&run.id).copied().unwrap_or_default());
    let pieces = bench.pieces.iter().map(|(id, count)| sizes(id).area() * *count);
    let strips = bench.offcuts.iter().map(|it| sizes(&it.offcut).area() * it.count);
    let stacks = bench.stacks.iter().map(|it| it.size.area() * it.count);
    let lies = pieces.chain(strips).chain(stacks).sum::<Area>();
    [begun.sum::<Area>(), lies + bench.waste + bench.blade]
}

/// A plan in which every piece and offcut has a name of its own size.
fn named(layout: crate::plan::Node) -> crate::plan::Node {
    let mut layout = layout;
    for end in layout.ends() {
        use crate::plan::{Content, Leaf};
        let size = format!("{}x{}", end.size.width.ticks(), end.size.height.ticks());
        if let Content::Leaf(Leaf::Piece(id, _) | Leaf::Offcut(id)) = &mut end.content {
            *id = size;
        }
    }
    layout
}

fn size_of(name: &str) -> Size {
    let (width, height) = name.split_once('x').unwrap();
    let side = |text: &str| Length::from_ticks(text.parse().unwrap());
    Size::new(side(width), side(height))
}

fn followed(schedule: &Schedule, plan: &Plan, workshop: &Workshop, to: Option<Reached>) -> OnBench {
    let mut replay = Replay::new(schedule, plan, &workshop.trimmer);
    match to {
        Some(to) => replay.follow(to).unwrap(),
        None => replay.finish(),
    }
    replay.standing()
}

/// Every stack has a layout whose cuts the schedule is about to make.
fn layouts(replay: &Replay) -> Vec<Layout> {
    let index = |_: &str| Some(0);
    let bench = replay.standing();
    bench.stacks.iter().map(|stack| replay.layout(stack, &index).unwrap()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// At every step and lift, nothing has come from nowhere or gone nowhere; the pieces that are finished and those that
    /// the stacks and uncut sheets still hold are always all pieces; and at the end lies what the simulation finds.
    #[test]
    fn areas_and_pieces_balance_at_every_step(
        shapes in prop::collection::vec((shapes(), 1_u64..20, any::<bool>()), 1..4),
        blade in 0_i64..3,
        squaring in 0_i64..4,
        lift in 1_u64..8,
        room in 1_u64..8,
    ) {
        let runs = shapes.into_iter().map(|(shape, sheets, full): (Shape, u64, bool)| {
            let inner = tree(shape, blade);
            let kind = if full { SheetKind::Sheet } else { SheetKind::Offcut };
            let rough = full && squaring > 0;
            let tree = if rough { squared(inner, squaring, blade) } else { inner };
            (named(tree.at(0, 0)), sheets, kind)
        });
        let plan = plan(runs.collect());
        let mut workshop = bench(blade, squaring, lift);
        workshop.trimmer.waiting = room;
        let schedule = cuts(&plan, &workshop);
        let table = play(&schedule, &plan, Length::from_mm(blade), Length::ZERO);
        let all: u64 = table.pieces.values().sum();
        let mut replay = Replay::new(&schedule, &plan, &workshop.trimmer);
        let mut most = 0;
        for (_, step) in schedule.in_order() {
            for lifts in 1..=step.lifts {
                replay.follow(reached(step.number, Some(lifts))).unwrap();
                let bench = replay.standing();
                let [begun, accounted] = accounted(&bench, &plan, &size_of);
                prop_assert_eq!(begun, accounted, "step {} lift {}", step.number, lifts);
                let index = |_: &str| Some(0);
                let uncut: u64 =
                    replay.uncut(&index).iter().map(|it| it.layout.count(0) * it.count).sum();
                let waiting = bench.stacks.iter().zip(layouts(&replay));
                let waiting: u64 = waiting.map(|(it, layout)| layout.count(0) * it.count).sum();
                prop_assert_eq!(bench.pieces.values().sum::<u64>() + uncut + waiting, all);
                prop_assert!(layouts(&replay).iter().all(|it| it.depth() <= 60));
            }
            most = most.max(replay.standing().stacks.len() as u64);
        }
        prop_assert_eq!(most, schedule.effort.waiting);
        replay.finish();
        let bench = replay.standing();
        prop_assert_eq!(&bench, &followed(&schedule, &plan, &workshop, None));
        prop_assert!(bench.stacks.is_empty());
        prop_assert_eq!((bench.settings, bench.strokes), (schedule.gauge_settings, schedule.strokes));
        // Sheets that are waste alone, or a piece as they are, are taken when all is cut.
        let mut pieces: std::collections::BTreeMap<String, u64> = Default::default();
        for ((id, _, _), count) in &table.pieces {
            *pieces.entry(id.clone()).or_insert(0) += count;
        }
        prop_assert_eq!(bench.pieces, pieces);
        prop_assert_eq!(bench.waste + bench.blade, table.waste + table.blade);
    }

    /// Steps may be followed one by one or at once.
    #[test]
    fn it_does_not_matter_where_one_pauses(shape in shapes(), sheets in 1_u64..20, pause in 0_u32..40) {
        let plan = plan(vec![(tree(shape, 1).at(0, 0), sheets, SheetKind::Offcut)]);
        let workshop = bench(1, 0, 4);
        let schedule = cuts(&plan, &workshop);
        let last = schedule.in_order().len() as u32;
        prop_assume!(last > 0);
        let pause = pause % last + 1;
        let mut replay = Replay::new(&schedule, &plan, &workshop.trimmer);
        replay.follow(reached(pause, Some(1))).unwrap();
        replay.follow(reached(last, None)).unwrap();
        prop_assert!(replay.is_over());
        prop_assert_eq!(replay.standing(), followed(&schedule, &plan, &workshop, None));
    }
}

/// Four sheets, each of three strips across that are halved.
fn lesson() -> (Plan, Workshop) {
    let halves = || cut_y([piece(30, 10), piece(30, 10)]);
    let tree = cut_x([halves(), cut_x([halves(), cut_x([halves(), waste(5, 20)])])]);
    (plan(vec![(tree.at(0, 0), 4, SheetKind::Offcut)]), bench(0, 0, 3))
}

#[test]
fn a_lift_is_a_part_of_a_step() {
    let (plan, workshop) = lesson();
    let schedule = cuts(&plan, &workshop);
    let at = |step, lifts| followed(&schedule, &plan, &workshop, Some(reached(step, lifts)));
    let stacks = |bench: &OnBench| -> Vec<(String, u64)> {
        bench.stacks.iter().map(|it| (it.letter.clone(), it.count)).collect()
    };
    let first = at(1, Some(1));
    assert_eq!(first.begun, [("R1".to_owned(), 3)].into());
    assert_eq!(stacks(&first), [("B".to_owned(), 9)]);
    assert_eq!(at(1, None).begun, [("R1".to_owned(), 4)].into());
    assert_eq!(stacks(&at(1, None)), [("B".to_owned(), 12)]);
    let second = at(2, Some(2));
    assert_eq!((stacks(&second), second.pieces["p"]), (vec![("B".to_owned(), 6)], 12));
    assert_eq!(at(2, None).pieces["p"], 24);
}

#[test]
fn what_is_spoiled_is_missing_from_what_follows() {
    let (plan, workshop) = lesson();
    let schedule = cuts(&plan, &workshop);
    let mut replay = Replay::new(&schedule, &plan, &workshop.trimmer);
    assert_eq!(replay.spoil("A", 1), Err(0), "sheets that are not cut are no stack yet");
    replay.follow(reached(1, None)).unwrap();
    assert_eq!(replay.spoil("B", 13), Err(12));
    assert_eq!(replay.spoil("Z", 1), Err(0));
    assert_eq!(replay.pieces_of("B"), [("p".to_owned(), 2)].into());
    replay.spoil("B", 2).unwrap();
    let [begun, all] =
        accounted(&replay.standing(), &plan, &|_| Size::new(Length::ZERO, Length::ZERO));
    assert_eq!(begun, all);
    replay.finish();
    assert_eq!(replay.standing().pieces["p"], 20);
}

#[test]
fn there_is_no_way_back_and_none_beyond_the_end() {
    let (plan, workshop) = lesson();
    let schedule = cuts(&plan, &workshop);
    let mut replay = Replay::new(&schedule, &plan, &workshop.trimmer);
    assert_eq!(replay.reached(), None);
    assert_eq!(replay.follow(reached(3, None)), Err(Astray::NoStep { last: 2 }));
    assert_eq!(replay.follow(reached(1, Some(3))), Err(Astray::NoLift { lifts: 2 }));
    replay.follow(reached(2, Some(1))).unwrap();
    assert_eq!(replay.reached(), Some(reached(2, Some(1))));
    let behind = Err(Astray::Behind { reached: reached(2, Some(1)) });
    assert_eq!(replay.follow(reached(1, None)), behind);
    replay.follow(reached(2, None)).unwrap();
    assert_eq!(replay.reached(), Some(reached(2, None)));
}

/// A sheet of 100 by 50 whose edges are rough, 3 wide.
#[test]
fn edges_are_rough_until_they_are_cut_off() {
    let tree = squared(piece(94, 44), 3, 1).at(0, 0);
    let plan = plan(vec![(tree, 2, SheetKind::Sheet)]);
    let workshop = bench(1, 3, 5);
    let schedule = cuts(&plan, &workshop);
    let inner = |step| {
        let bench = followed(&schedule, &plan, &workshop, Some(reached(step, None)));
        bench.stacks.iter().map(|it| (it.size, it.inner)).collect::<Vec<_>>()
    };
    let mm = |width, height| Size::new(Length::from_mm(width), Length::from_mm(height));
    let true_part = mm(94, 44);
    assert_eq!(inner(1), [(mm(97, 50), true_part)]);
    assert_eq!(inner(2), [(mm(97, 47), true_part)]);
    assert_eq!(inner(3), [(mm(94, 47), true_part)]);
    assert_eq!(inner(4), []);
}

/// What is left beyond the knife has the rough edge, though it is as wide as what came off.
#[test]
fn of_two_equal_plates_the_one_at_the_fence_is_true() {
    let pieces = cut_x([piece(47, 20), cut_x([piece(47, 20), waste(3, 20)])]);
    let tree = cut_x([waste(3, 43), cut_y([waste(97, 3), cut_y([pieces, waste(97, 20)])])]);
    let plan = plan(vec![(tree.at(0, 0), 2, SheetKind::Sheet)]);
    let workshop = bench(0, 3, 5);
    let bench = followed(&cuts(&plan, &workshop), &plan, &workshop, Some(reached(3, None)));
    let mm = |width, height| Size::new(Length::from_mm(width), Length::from_mm(height));
    let [stack] = bench.stacks.as_slice() else { panic!("{:?}", bench.stacks) };
    assert_eq!((stack.size, stack.inner), (mm(97, 20), mm(94, 20)));
}
