//! Jobs whose steps are written down by hand.

use super::super::marks::off_the_marks;
use super::super::{CutStep, Fate, Schedule};
use super::fixtures::{cuts, inch, plan, workshop};
use super::trees::{Tree, cut_x, cut_y, named, offcut, piece, squared, turned, waste, waste_of};
use crate::measure::{Axis, Length, Size};
use crate::stock::SheetKind;

fn size(width: (i64, i64), height: (i64, i64)) -> Size {
    Size::new(inch(width.0, width.1), inch(height.0, height.1))
}

/// `A 12 x 12 /1: width 8 1/2 x1 > B, C rest` in short.
fn told(step: &CutStep) -> String {
    let style = workshop().style();
    let yields: Vec<String> = step
        .yields
        .iter()
        .map(|part| {
            let name = match &part.what {
                Fate::Stack(letter) => letter.clone(),
                Fate::Piece(id, true) => format!("{id} turned"),
                Fate::Piece(id, false) => id.clone(),
                Fate::Offcut(id) => format!("offcut {id}"),
                Fate::Waste => "waste".to_owned(),
            };
            format!("{} {name} {}", part.count, style.size(part.size))
        })
        .collect();
    format!(
        "{}: {} {} {}, {} at {}, {} cuts > {}",
        step.number,
        step.from.count,
        step.from.letter,
        style.size(step.from.size),
        if step.across == Axis::Width { "width" } else { "height" },
        style.number(step.gauge),
        step.cuts_per_lift,
        yields.join(", ")
    )
}

/// Four signs and three labels from a sheet of 9 x 12, as in `examples/smallest/`: an offcut of 9 x 1 1/4 and an end of
/// 3/4 x 2 3/4 in are left.
fn smallest_job() -> Tree {
    let sign = || turned("sign", size((9, 2), (4, 1)));
    let label = || named("label", size((11, 4), (11, 4)));
    let signs = || cut_x([sign(), sign()]);
    let end = waste_of(size((3, 4), (11, 4)));
    let labels = (0..3).fold(end, |rest, _| cut_x([label(), rest]));
    let below = cut_y([labels, offcut("strip", size((9, 1), (5, 4)))]);
    cut_y([signs(), cut_y([signs(), below])])
}

/// The strip of labels is turned and goes on at the setting at which it was cut; the strips of signs are one stack.
#[test]
fn the_smallest_real_job() {
    let plan = plan(vec![(smallest_job().at(0, 0), 1, SheetKind::Sheet)]);
    let schedule = cuts(&plan, &workshop());
    let steps = &schedule.runs[0].cuts;
    assert_eq!(
        steps.iter().map(told).collect::<Vec<_>>(),
        [
            "1: 1 A 9 x 12 in, height at 4, 2 cuts > 2 B 9 x 4 in, 1 C 9 x 4 in",
            "2: 1 C 9 x 4 in, height at 2 3/4, 1 cuts > 1 D 9 x 2 3/4 in, 1 offcut strip 9 x 1 1/4 in",
            "3: 1 D 9 x 2 3/4 in, width at 2 3/4, 3 cuts > 3 label 2 3/4 x 2 3/4 in, \
             1 waste 3/4 x 2 3/4 in",
            "4: 2 B 9 x 4 in, width at 4 1/2, 1 cuts > 4 sign turned 4 1/2 x 4 in",
        ]
    );
    assert_eq!((schedule.gauge_settings, schedule.strokes), (3, 7));
    // Three settings of 20 s and seven strokes of 6 s; A and B are fetched, B put aside and D turned, 10 s each.
    assert_eq!(schedule.times.cutting, 142);
    let ends: Vec<_> = steps[2].lines.iter().map(|line| (line.y1, line.y2, line.x1)).collect();
    let down = |x| (inch(8, 1), inch(43, 4), x);
    assert_eq!(ends, [inch(11, 4), inch(11, 2), inch(33, 4)].map(down));
    assert!(off_the_marks(&schedule, &workshop()).is_empty());
}

#[test]
fn lifts_of_seven_sheets() {
    let plan = plan(vec![(smallest_job().at(0, 0), 7, SheetKind::Sheet)]);
    let schedule = cuts(&plan, &workshop());
    let lifts: Vec<_> = schedule.runs[0]
        .cuts
        .iter()
        .map(|step| (step.from.count, step.cuts_per_lift, step.lifts, step.short_lift))
        .collect();
    let seven = |cuts| (7, cuts, 2, Some(2));
    assert_eq!(lifts, [seven(2), seven(1), seven(3), (14, 1, 3, Some(4))]);
    assert_eq!((schedule.gauge_settings, schedule.strokes), (3, 15));
}

fn two_by_two(width: i64, height: i64) -> Tree {
    let row = || cut_x([piece(width, height), piece(width, height)]);
    cut_y([row(), row()])
}

#[test]
fn two_by_two_takes_two_settings() {
    let plan = plan(vec![(two_by_two(60, 40).at(0, 0), 3, SheetKind::Sheet)]);
    let schedule = cuts(&plan, &workshop());
    let steps = &schedule.runs[0].cuts;
    assert_eq!(schedule.gauge_settings, 2);
    // Both halves of all three sheets are one stack: six plates, a lift of five and one of one.
    assert_eq!((steps.len(), steps[1].from.count, steps[1].short_lift), (2, 6, Some(1)));
    assert_eq!(steps[1].yields.len(), 1);
    assert_eq!(steps[1].yields[0].count, 12);
    assert_eq!(steps[1].lines.len(), 2);
}

#[test]
fn two_by_two_squares_take_one_setting() {
    let plan = plan(vec![(two_by_two(50, 50).at(0, 0), 3, SheetKind::Sheet)]);
    let schedule = cuts(&plan, &workshop());
    let moved: Vec<_> = schedule.runs[0].cuts.iter().map(|step| step.new_setting).collect();
    assert_eq!(moved, [true, false]);
    assert_eq!(schedule.gauge_settings, 1);
}

#[test]
fn twenty_one_plates_of_seven_sheets_are_one_stack() {
    let strip = || cut_y([piece(30, 40), cut_y([piece(30, 40), waste(30, 5)])]);
    let tree = cut_x([strip(), cut_x([strip(), cut_x([strip(), waste(4, 85)])])]);
    let plan = plan(vec![(tree.at(0, 0), 7, SheetKind::Offcut)]);
    let schedule = cuts(&plan, &workshop());
    let steps = &schedule.runs[0].cuts;
    assert_eq!(steps.len(), 2);
    assert_eq!((steps[0].cuts_per_lift, steps[1].from.count, steps[1].lifts), (3, 21, 5));
    assert_eq!(steps[1].short_lift, Some(1));
    assert_eq!(steps[1].cuts_per_lift, 2);
}

#[test]
fn equal_strips_apart_are_cut_together() {
    let tree = cut_x([piece(30, 20), cut_x([piece(10, 20), cut_x([piece(30, 20), waste(4, 20)])])]);
    let plan = plan(vec![(tree.at(0, 0), 1, SheetKind::Offcut)]);
    let schedule = cuts(&plan, &workshop());
    let steps: Vec<_> =
        schedule.runs[0].cuts.iter().map(|step| (step.gauge, step.cuts_per_lift)).collect();
    assert_eq!(steps, [(Length::from_mm(30), 2), (Length::from_mm(10), 1)]);
    let lines: Vec<_> = schedule.runs[0].cuts[0].lines.iter().map(|line| line.x1).collect();
    // In the drawing, too, they lie beside each other.
    assert_eq!(lines, [30, 60].map(Length::from_mm));
}

#[test]
fn the_strip_that_remains_spares_a_setting() {
    // 30 is wanted in both divisions: set it once, and 40 and 50 remain.
    let half = cut_y([piece(40, 30), piece(40, 50)]);
    let tree = cut_x([half, piece(30, 80)]);
    let plan = plan(vec![(tree.at(0, 0), 1, SheetKind::Offcut)]);
    let schedule = cuts(&plan, &workshop());
    let gauges: Vec<_> = schedule.runs[0].cuts.iter().map(|step| step.gauge).collect();
    assert_eq!(gauges, [30, 30].map(Length::from_mm));
    assert_eq!(schedule.gauge_settings, 1);
}

#[test]
fn no_setting_is_spent_on_a_remnant() {
    let strip = Size::new(Length::from_mm(50), Length::from_mm(20));
    for remnant in [waste(50, 20), offcut("strip", strip)] {
        let tree = cut_x([remnant, cut_x([piece(30, 20), piece(40, 20)])]);
        let plan = plan(vec![(tree.at(0, 0), 1, SheetKind::Offcut)]);
        let schedule = cuts(&plan, &workshop());
        let gauges: Vec<_> = schedule.runs[0].cuts.iter().map(|step| step.gauge).collect();
        assert_eq!(gauges, [40, 30].map(Length::from_mm));
    }
}

#[test]
fn rows_with_the_same_strips_in_another_order_are_one_stack() {
    let tree = cut_y([
        cut_x([piece(30, 20), cut_x([piece(40, 20), waste(5, 20)])]),
        cut_x([waste(5, 20), cut_x([piece(40, 20), piece(30, 20)])]),
    ]);
    let plan = plan(vec![(tree.at(0, 0), 3, SheetKind::Offcut)]);
    let schedule = cuts(&plan, &workshop());
    let counts: Vec<_> = schedule.runs[0].cuts.iter().map(|step| step.from.count).collect();
    assert_eq!(counts, [3, 6, 6]);
}

#[test]
fn the_gauge_stays_from_run_to_run() {
    let run = || (cut_x([piece(30, 20), waste(4, 20)]).at(0, 0), 1, SheetKind::Offcut);
    let schedule = cuts(&plan(vec![run(), run()]), &workshop());
    let moved: Vec<_> =
        schedule.runs.iter().map(|run| (run.cuts[0].number, run.cuts[0].new_setting)).collect();
    assert_eq!(moved, [(1, true), (2, false)]);
    let letters: Vec<_> = schedule.runs.iter().map(|run| &run.cuts[0].from.letter).collect();
    assert_eq!(letters, ["A", "B"]);
}

#[test]
fn what_wants_the_same_gauge_is_cut_together() {
    let strip = |tree| (cut_y([tree, waste(90, 20)]).at(0, 0), 1, SheetKind::Offcut);
    let first = strip(cut_x([piece(20, 30), waste(70, 30)]));
    let second = strip(cut_x([piece(40, 10), waste(50, 10)]));
    let third = (cut_x([piece(20, 60), waste(4, 60)]).at(0, 0), 1, SheetKind::Offcut);
    let schedule = cuts(&plan(vec![first, second, third]), &workshop());
    let order: Vec<_> =
        schedule.in_order().iter().map(|(run, step)| (run.run.as_str(), step.gauge)).collect();
    let mm = Length::from_mm;
    assert_eq!(
        order,
        [("R1", mm(30)), ("R1", mm(20)), ("R3", mm(20)), ("R2", mm(10)), ("R2", mm(40))]
    );
    assert_eq!((schedule.gauge_settings, schedule.gauges), (4, 4));
}

/// The gauge does not go that far, and yet the cut has to be made: the blade takes all that lies beyond it.
#[test]
fn a_strip_beyond_the_reach_whose_rest_goes_under_the_blade_is_cut() {
    let mut workshop = workshop();
    workshop.trimmer.blade = Length::from_mm(1);
    workshop.trimmer.reach = Length::from_mm(30);
    let tree = piece(50, 20).trimmed(Axis::Width, Length::from_mm(1));
    let schedule = cuts(&plan(vec![(tree.at(0, 0), 2, SheetKind::Offcut)]), &workshop);
    assert_eq!((schedule.gauge_settings, schedule.strokes > 0), (1, true));
}

#[test]
fn a_square_sheet_is_squared_first() {
    let mut workshop = workshop();
    workshop.trimmer.squaring = Length::from_mm(3);
    let plan = plan(vec![(squared(two_by_two(47, 47), 3, 0).at(0, 0), 2, SheetKind::Sheet)]);
    let schedule = cuts(&plan, &workshop);
    let steps: Vec<_> = schedule.runs[0]
        .cuts
        .iter()
        .map(|step| (step.squaring, step.across, step.gauge, step.new_setting))
        .collect();
    let mm = Length::from_mm;
    assert_eq!(
        steps,
        [
            (true, Axis::Width, mm(97), true),
            (true, Axis::Height, mm(97), false),
            (true, Axis::Width, mm(94), true),
            (true, Axis::Height, mm(94), false),
            (false, Axis::Height, mm(47), true),
            (false, Axis::Width, mm(47), false),
        ]
    );
}

/// Two runs that both take a strip of this width off.
fn warned(width: Length) -> Vec<(String, String)> {
    let strip = named("p", Size::new(width, inch(1, 1)));
    let tree = cut_x([strip, waste_of(size((1, 4), (1, 1)))]);
    let run = || (tree.at(0, 0), 1, SheetKind::Offcut);
    let schedule = cuts(&plan(vec![run(), run()]), &workshop());
    let problems = off_the_marks(&schedule, &workshop());
    assert!(problems.iter().all(|problem| problem.code == "schedule-off-graduation"));
    assert!(!problems.has_errors());
    problems.iter().map(|problem| (problem.title.clone(), problem.help[0].clone())).collect()
}

#[test]
fn off_the_scale_is_one_warning_that_names_the_cuts() {
    let told = |title: &str, help: &str| vec![(title.to_owned(), help.to_owned())];
    assert_eq!(
        warned(inch(175, 32)),
        told(
            "steps 1 and 2: 5.46875 in is between two marks of the gauge (1/16 in apart)",
            "the nearest gauge settings are 5 7/16 in and 5 1/2 in"
        )
    );
    assert_eq!(
        warned(Length::from_mm(100)),
        told(
            "steps 1 and 2: 100 mm is between two marks of the gauge (1/16 in apart)",
            "the nearest gauge settings are 3 7/8 in and 3 15/16 in"
        )
    );
    assert_eq!(warned(inch(1, 64))[0].1, "the nearest gauge setting is 1/16 in");
    assert_eq!(warned(inch(1, 16)), []);
}

fn schedule_of_nothing() -> Schedule {
    let plan = plan(vec![(piece(30, 20).at(0, 0), 4, SheetKind::Offcut)]);
    cuts(&plan, &workshop())
}

#[test]
fn a_sheet_that_is_a_piece_needs_no_cut() {
    let schedule = schedule_of_nothing();
    assert!(schedule.runs[0].cuts.is_empty());
    assert_eq!((schedule.gauge_settings, schedule.strokes, schedule.times.cutting), (0, 0, 0));
}

/// The gauge's distances for three strips of 30, 40 and 50 mm, cut with a blade of 2 mm.
fn gauges(hold: Length) -> Vec<i64> {
    let blade = Length::from_mm(2);
    let two = Tree::cut(Axis::Width, blade, [named("b", mm(40, 20)), named("c", mm(50, 20))]);
    let tree = Tree::cut(Axis::Width, blade, [named("a", mm(30, 20)), two]);
    let mut workshop = workshop();
    (workshop.trimmer.blade, workshop.trimmer.smallest_hold) = (blade, hold);
    let plan = plan(vec![(tree.at(0, 0), 1, SheetKind::Offcut)]);
    let steps = cuts(&plan, &workshop).runs[0].cuts.clone();
    steps.iter().map(|step| step.gauge.ticks() / Length::TICKS_PER_MM).collect()
}

fn mm(width: i64, height: i64) -> Size {
    Size::new(Length::from_mm(width), Length::from_mm(height))
}

/// The narrowest strip remains, and the last plate to be held is as wide as it and one other: 72 mm. Where that is
/// too narrow to hold, the widest remains, and narrow strips come first.
#[test]
fn where_little_can_be_held_the_widest_strip_remains() {
    let least = Length::from_mm(72);
    assert_eq!(gauges(least), [50, 40]);
    assert_eq!(gauges(least + Length::from_ticks(1)), [30, 40]);
}

/// 30 mm stay, and what is beyond them goes under the blade.
#[test]
fn a_narrow_plate_is_trimmed_at_its_own_width() {
    let tree = piece(30, 20).trimmed(Axis::Width, Length::from_mm(1));
    let mut workshop = workshop();
    workshop.trimmer.blade = Length::from_mm(2);
    workshop.trimmer.smallest_hold = Length::from_mm(40);
    let plan = plan(vec![(tree.at(0, 0), 1, SheetKind::Offcut)]);
    let schedule = cuts(&plan, &workshop);
    let gauges: Vec<Length> = schedule.runs[0].cuts.iter().map(|step| step.gauge).collect();
    assert_eq!(gauges, [Length::from_mm(30)]);
}
