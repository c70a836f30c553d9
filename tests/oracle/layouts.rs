//! What layouts look like to a person at the bench.

use super::sound::{depth, judge, remnants};
use crate::bench::instances::{EASY, Instance, benchmarks};
use crate::bench::size;
use cardwright::cuts::{Bench, MOST_DEPTH};
use cardwright::measure::{Area, Length, Size, Unit};
use cardwright::patterns::{Best, Shape, Space};

fn fixed(text: &str) -> Shape {
    Shape { size: size(text), upright: true, turned: false }
}

fn sorted_remnants(best: &Best) -> Vec<Size> {
    let mut remnants = remnants(&best.layout());
    remnants.sort();
    remnants
}

/// Four signs of 4 1/2 x 4 and three labels of 2 3/4 x 2 3/4 in from a sheet of 9 x 12, as in `examples/smallest/`. The
/// pieces are worth their areas, in sixteenths of a square inch.
const WORTH: [i64; 2] = [288, 121];

#[test]
fn a_nine_by_twelve_sheet_leaves_a_strip_and_an_end() {
    let cases = [
        ("9 x 12", "4 1/2 x 4", ["3/4 x 2 3/4", "9 x 1 1/4"]),
        ("12 x 9", "4 x 4 1/2", ["1 1/4 x 9", "2 3/4 x 3/4"]),
    ];
    for (sheet, sign, left) in cases {
        let shapes = [sign, "2 3/4 x 2 3/4"].map(fixed);
        let best = Space::new(size(sheet), &shapes, EASY).best_within(&WORTH, &[4, 3]);
        assert_eq!(best.counts(), [4, 3]);
        assert_eq!(sorted_remnants(&best), left.map(size));
    }
}

/// A fourth label has no room beside four signs, though the paper that is left is larger than it.
#[test]
fn free_pieces_on_a_nine_by_twelve_sheet_fit_while_there_is_room() {
    let shapes = ["4 1/2 x 4", "2 3/4 x 2 3/4"].map(|text| Shape { turned: true, ..fixed(text) });
    let space = Space::new(size("9 x 12"), &shapes, EASY);
    for wanted in [3, 4] {
        let best = space.best_within(&WORTH, &[4, wanted]);
        assert_eq!(best.counts(), [4, 3], "{wanted} labels");
        let left: Area = sorted_remnants(&best).iter().map(|remnant| remnant.area()).sum();
        let cut = shapes.iter().zip([4, 3]).map(|(shape, count)| shape.size.area() * count);
        assert_eq!(left + cut.sum::<Area>(), size("9 x 12").area());
    }
}

#[test]
fn a_thousand_strips_make_a_shallow_tree() {
    let space = Space::new(size("1000 x 3"), &[fixed("1 x 3")], EASY);
    let best = space.best(&[3]);
    assert_eq!(best.counts(), [1000]);
    assert_eq!(depth(&best.layout()), 10);
    let space = Space::new(size("3 x 1000"), &[fixed("2 x 1"), fixed("1 x 3")], EASY);
    assert!(depth(&space.best(&[2, 3]).layout()) <= MOST_DEPTH);
    assert!(depth(&space.best_within(&[2, 3], &[900, 50]).layout()) <= MOST_DEPTH);
}

fn metric(text: &str) -> Size {
    Size::parse(text, Unit::Millimetre).unwrap().unwrap()
}

#[test]
fn halves_of_long_chains_are_no_deeper() {
    let shapes = [Shape { size: metric("4 x 100"), upright: true, turned: false }];
    let bench = Bench { hold: Length::from_mm(60), knife: Length::from_mm(4000), ..EASY };
    for width in [304, 840, 1700, 3440] {
        let best = Space::new(metric(&format!("{width} x 100")), &shapes, bench).best(&[1]);
        let layout = best.layout();
        assert!(depth(&layout) <= MOST_DEPTH, "{width}: {}", depth(&layout));
        assert_eq!(judge(&layout, &shapes, bench), Ok(best.counts()));
        assert!(best.value() >= 60, "{width}: {}", best.value());
    }
}

/// 9.3 x 31.1 on 450 x 320 with a hold of 10: more sums of lengths than a table can have.
#[test]
fn narrow_pieces_are_cut_where_holding_gives_too_many_points() {
    let shapes = [("9.3 x 31.1", false), ("100 x 148", true)];
    let shapes = shapes.map(|(text, turned)| Shape { size: metric(text), upright: true, turned });
    let [blade, hold, knife] = [0, 10, 460].map(Length::from_mm);
    let bench = Bench { blade, knife, hold, stages: None };
    let space = Space::new(metric("450 x 320"), &shapes, bench);
    assert!(!space.is_exact());
    let best = space.best(&[1, 0]);
    assert_eq!(judge(&best.layout(), &shapes, bench), Ok(best.counts()));
    assert!(best.value() >= 400, "{}", best.value());
    let mixed = space.best_within(&[40, 150], &[20, 9]);
    assert_eq!(judge(&mixed.layout(), &shapes, bench), Ok(mixed.counts()));
    assert!(mixed.counts()[0] > 0 && mixed.counts()[1] > 0, "{:?}", mixed.counts());
    let relaxed = Space::relaxed(metric("450 x 320"), &shapes, bench);
    assert!(relaxed.best(&[1, 0]).value() >= best.value());
}

#[test]
fn many_strips_of_one_stage_make_a_shallow_tree() {
    let shapes = [Shape { size: metric("4 x 100"), upright: true, turned: false }];
    for hold in [0, 8] {
        let [blade, hold, knife] = [0, hold, 4000].map(Length::from_mm);
        let bench = Bench { blade, knife, hold, stages: Some(2) };
        let best = Space::new(metric("1000 x 100"), &shapes, bench).best(&[1]);
        assert_eq!(judge(&best.layout(), &shapes, bench), Ok(best.counts()));
        assert_eq!(best.value(), 250);
    }
}

#[test]
fn narrow_strips_that_can_hardly_be_held_make_a_shallow_tree() {
    let shapes = [fixed("1 x 5"), fixed("1/2 x 5")];
    let bench = Bench { hold: Length::from_inch_parts(3, 1), ..EASY };
    let space = Space::new(size("200 x 5"), &shapes, bench);
    assert!(!space.is_exact());
    let within = space.best_within(&[5, 3], &[100, 100]);
    for (best, least) in [(space.best(&[5, 2]), 800), (within, 300)] {
        let layout = best.layout();
        assert_eq!(judge(&layout, &shapes, bench), Ok(best.counts()));
        assert!(depth(&layout) <= MOST_DEPTH, "{}", depth(&layout));
        assert!(best.value() >= least, "{}", best.value());
    }
}

#[test]
fn one_piece_leaves_one_long_remnant_and_a_short_one() {
    let space = Space::new(size("12 x 10"), &[fixed("5 x 7")], EASY);
    let best = space.best_within(&[1], &[1]);
    assert_eq!(sorted_remnants(&best), ["5 x 3", "7 x 10"].map(size));
}

/// A rest of exactly the blade's width, and one tick less and more.
#[test]
fn a_rest_under_the_blade_has_no_width() {
    for (left, width) in [(-1, 0), (0, 0), (1, 1)] {
        let blade = Length::from_ticks(100);
        let bench = Bench { blade, ..EASY };
        let plate = Size::new(Length::from_ticks(1000 + 100 + left), Length::from_ticks(50));
        let piece = Size::new(Length::from_ticks(1000), Length::from_ticks(50));
        let shapes = [Shape { size: piece, upright: true, turned: false }];
        let best = Space::new(plate, &shapes, bench).best(&[1]);
        assert_eq!(judge(&best.layout(), &shapes, bench), Ok(vec![1]));
        let strips = sorted_remnants(&best);
        assert_eq!(strips.iter().map(|strip| strip.width.ticks()).sum::<i64>(), width);
    }
}

#[test]
fn the_knife_and_the_hold_are_kept_at_their_limits() {
    let shapes = [fixed("2 x 2")];
    let cut = |knife: &str, hold: &str| {
        let [knife, hold] = [knife, hold].map(|text| Length::parse(text, Unit::Inch).unwrap());
        let bench = Bench { blade: Length::ZERO, knife, hold, stages: None };
        let best = Space::new(size("4 x 6"), &shapes, bench).best(&[1]);
        assert!(judge(&best.layout(), &shapes, bench).is_ok());
        best.value()
    };
    // Both sides longer than the knife: nothing can be cut.
    assert_eq!([cut("3.999", "0"), cut("4", "0"), cut("6", "0")], [0, 6, 6]);
    // A 2 in strip can be held at 2 in, and not a hair above.
    assert_eq!([cut("6", "2"), cut("6", "2.001"), cut("6", "4.001")], [6, 0, 0]);
}

#[test]
fn gcut_layouts_can_be_cut() {
    let Some(folder) = benchmarks() else {
        println!("skipped: no benchmark folder");
        return;
    };
    for number in 1..=13 {
        let instance = Instance::read(&folder, "gcut", &format!("gcut{number}"));
        let areas: Vec<i64> = instance.rows.iter().map(|row| row[0] * row[1]).collect();
        for turned in [false, true] {
            let shapes = instance.shapes(turned);
            let best = Space::new(instance.plate, &shapes, EASY).best(&areas);
            let layout = best.layout();
            let counts = judge(&layout, &shapes, EASY).unwrap();
            let worth: i64 =
                counts.iter().zip(&areas).map(|(&count, area)| count as i64 * area).sum();
            assert_eq!(worth, best.value(), "gcut{number}");
            assert!(depth(&layout) <= MOST_DEPTH);
        }
    }
}

/// Christofides & Whitlock 1977; optima as published by Furini, Malaguti & Thomopulos 2016.
#[test]
fn cgcut_with_limits_reaches_the_published_optima() {
    let Some(folder) = benchmarks() else {
        println!("skipped: no benchmark folder");
        return;
    };
    for (name, optimum) in [("cgcut1", 244), ("cgcut2", 2892), ("cgcut3", 1860)] {
        let instance = Instance::read(&folder, "cgcut", name);
        let shapes = instance.shapes(false);
        let values: Vec<i64> = instance.rows.iter().map(|row| row[2]).collect();
        let limits: Vec<u64> = instance.rows.iter().map(|row| row[3] as u64).collect();
        let space = Space::new(instance.plate, &shapes, EASY);
        let quick = space.best_within(&values, &limits).value();
        assert!((optimum * 95 / 100..=optimum).contains(&quick), "{name}: {quick}");
        assert_eq!(space.best_proven_within(&values, &limits).unwrap().value(), optimum, "{name}");
    }
}

#[test]
fn many_small_pieces_that_fill_up_make_a_shallow_tree() {
    let shapes = [fixed("7 x 5"), fixed("1/2 x 1/2")];
    let space = Space::new(size("40 x 30"), &shapes, EASY);
    let best = space.best_within(&[100, 1], &[20, 1000]);
    assert_eq!(best.counts(), [20, 1000]);
    assert!(depth(&best.layout()) <= MOST_DEPTH, "{}", depth(&best.layout()));
}

/// Lengths without a common step have too many sums to be exact.
#[test]
fn rounded_lengths_give_patterns_that_can_be_cut_and_bounds_that_hold() {
    let odd = |step: i64| {
        Length::from_ticks(1_016_003 + (98_765 * step * step + 1_237 * step.pow(4)) % 2_000_000)
    };
    let shapes: Vec<Shape> = (0..9)
        .map(|step| Shape {
            size: Size::new(odd(step), odd(step * 5 % 9)),
            upright: true,
            turned: true,
        })
        .collect();
    let values = [100, 103, 111, 124, 109, 131, 143, 150, 162];
    let plate = Size::new(Length::from_inch_parts(25, 1), Length::from_inch_parts(19, 1));
    for knife in ["30", "20"] {
        let bench = Bench { knife: Length::parse(knife, Unit::Inch).unwrap(), ..EASY };
        let space = Space::new(plate, &shapes, bench);
        assert!(!space.is_exact());
        let (best, bound) =
            (space.best(&values), Space::relaxed(plate, &shapes, bench).best(&values));
        assert_eq!(judge(&best.layout(), &shapes, bench), Ok(best.counts()));
        assert!(best.value() <= bound.value());
        // About 600 pieces, each rounded by up to a hundredth of its sides.
        assert!(bound.value() * 100 <= best.value() * 110, "{} {}", best.value(), bound.value());
        let within = space.best_within(&values, &[3; 9]);
        assert_eq!(judge(&within.layout(), &shapes, bench), Ok(within.counts()));
    }
}

#[test]
fn a_space_can_be_shared_between_threads() {
    fn shared<T: Send + Sync>() {}
    shared::<Space>();
    shared::<Best>();
}

#[test]
fn a_sheet_that_holds_nothing_is_one_remnant() {
    let space = Space::new(size("3 x 4"), &[fixed("5 x 1"), fixed("1 x 4 1/64")], EASY);
    assert_eq!([space.holds(0), space.holds(1), space.is_exact()], [false, false, true]);
    let best = space.best(&[7, 7]);
    assert_eq!((best.value(), best.counts()), (0, vec![0, 0]));
    assert_eq!(sorted_remnants(&best), [size("3 x 4")]);
    assert_eq!(space.best_within(&[7, 7], &[1, 1]).value(), 0);
}
