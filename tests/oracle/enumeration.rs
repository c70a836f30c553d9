//! The pattern search against plain enumeration of every whole-number cut of tiny plates.

use super::sound::judge;
use cardwright::cuts::Bench;
use cardwright::measure::{Length, Size};
use cardwright::patterns::{Shape, Space};
use proptest::prelude::*;
use std::collections::BTreeMap;

/// The most a plate is worth, cut at every place where it can be cut.
struct Enumeration<'a> {
    shapes: &'a [Shape],
    values: &'a [i64],
    bench: Bench,
    known: BTreeMap<(i64, i64), i64>,
}

impl Enumeration<'_> {
    fn best(&mut self, width: i64, height: i64) -> i64 {
        if width <= 0 || height <= 0 {
            return 0;
        }
        if let Some(&value) = self.known.get(&(width, height)) {
            return value;
        }
        let mut best = self.piece(width, height);
        let [blade, knife, hold] =
            [self.bench.blade, self.bench.knife, self.bench.hold].map(Length::ticks);
        let held = width.min(height) >= hold;
        for at in (1..width).filter(|_| held && height <= knife) {
            best = best.max(self.best(at, height) + self.best(width - at - blade, height));
        }
        for at in (1..height).filter(|_| held && width <= knife) {
            best = best.max(self.best(width, at) + self.best(width, height - at - blade));
        }
        self.known.insert((width, height), best);
        best
    }

    fn piece(&self, width: i64, height: i64) -> i64 {
        let size = tiny(width, height);
        let lies = |shape: &Shape| {
            (shape.upright && shape.size == size) || (shape.turned && shape.size.turned() == size)
        };
        let fitting = self.shapes.iter().zip(self.values).filter(|(shape, _)| lies(shape));
        fitting.map(|(_, &value)| value).max().unwrap_or(0)
    }
}

pub(super) fn tiny(width: i64, height: i64) -> Size {
    Size::new(Length::from_ticks(width), Length::from_ticks(height))
}

fn bench(blade: i64, knife: i64, hold: i64) -> Bench {
    let [blade, knife, hold] = [blade, knife, hold].map(Length::from_ticks);
    Bench { blade, knife, hold, stages: None }
}

fn enumerate(plate: Size, shapes: &[Shape], values: &[i64], bench: Bench) -> i64 {
    let known = BTreeMap::new();
    Enumeration { shapes, values, bench, known }.best(plate.width.ticks(), plate.height.ticks())
}

#[derive(Clone, Debug)]
struct Case {
    plate: Size,
    shapes: Vec<Shape>,
    values: Vec<i64>,
    limits: Vec<u64>,
}

fn cases() -> impl Strategy<Value = Case> {
    let shape = (1..12_i64, 1..12_i64, any::<bool>(), any::<bool>(), 0..60_i64, 0..4_u64);
    (1..26_i64, 1..26_i64, prop::collection::vec(shape, 1..5)).prop_map(|(width, height, rows)| {
        Case {
            plate: tiny(width, height),
            shapes: rows
                .iter()
                .map(|row| Shape { size: tiny(row.0, row.1), upright: row.2, turned: row.3 })
                .collect(),
            values: rows.iter().map(|row| row.4).collect(),
            limits: rows.iter().map(|row| row.5).collect(),
        }
    })
}

/// The layout can be cut and is worth what is said.
fn assert_sound(case: &Case, bench: Bench, best: &cardwright::patterns::Best) {
    let layout = best.layout();
    assert_eq!(layout.size, case.plate);
    let counts =
        judge(&layout, &case.shapes, bench).unwrap_or_else(|why| panic!("{why}\n{layout:#?}"));
    assert_eq!(counts, best.counts());
    assert_eq!(counts, layout.counts(case.shapes.len()));
    let worth: i64 =
        counts.iter().zip(&case.values).map(|(&count, value)| count as i64 * value).sum();
    assert_eq!(worth, best.value(), "{layout:#?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn best_equals_enumeration(case in cases(), blade in 0..3_i64, knife in 6..30_i64) {
        let bench = bench(blade, knife, 0);
        let best = Space::new(case.plate, &case.shapes, bench).best(&case.values);
        prop_assert_eq!(best.value(), enumerate(case.plate, &case.shapes, &case.values, bench));
        assert_sound(&case, bench, &best);
    }

    #[test]
    fn square_plates_with_free_shapes_equal_enumeration(case in cases(), side in 1..26_i64, blade in 0..3_i64) {
        let turns = case.shapes.iter().map(|shape| Shape { upright: true, turned: true, ..*shape });
        let case = Case { plate: tiny(side, side), shapes: turns.collect(), ..case };
        let bench = bench(blade, 100, 0);
        let best = Space::new(case.plate, &case.shapes, bench).best(&case.values);
        prop_assert_eq!(best.value(), enumerate(case.plate, &case.shapes, &case.values, bench));
        assert_sound(&case, bench, &best);
    }

    #[test]
    fn values_too_large_for_narrow_numbers_equal_enumeration(case in cases(), blade in 0..3_i64) {
        let values = case.values.iter().map(|value| value * 10_000_000_019 + value % 7).collect();
        let (case, bench) = (Case { values, ..case }, bench(blade, 30, 0));
        let space = Space::new(case.plate, &case.shapes, bench);
        let best = space.best(&case.values);
        prop_assert_eq!(best.value(), enumerate(case.plate, &case.shapes, &case.values, bench));
        assert_sound(&case, bench, &best);
        assert_sound(&case, bench, &space.best_within(&case.values, &case.limits));
    }

    #[test]
    fn a_hold_is_kept(case in cases(), blade in 0..3_i64, knife in 6..30_i64, hold in 1..8_i64) {
        let strict = bench(blade, knife, hold);
        let best = Space::new(case.plate, &case.shapes, strict).best(&case.values);
        assert_sound(&case, strict, &best);
        prop_assert!(best.value() <= enumerate(case.plate, &case.shapes, &case.values, strict));
        let relaxed = Space::relaxed(case.plate, &case.shapes, strict).best(&case.values);
        prop_assert!(best.value() <= relaxed.value());
        let narrowest = case.shapes.iter().map(|shape| shape.size.short().ticks()).min();
        if narrowest.is_some_and(|side| side >= hold) {
            prop_assert_eq!(best.value(), relaxed.value());
        }
    }

    #[test]
    fn limits_are_kept(case in cases(), blade in 0..3_i64, knife in 6..30_i64, hold in 0..6_i64) {
        let bench = bench(blade, knife, hold);
        let space = Space::new(case.plate, &case.shapes, bench);
        let (free, within) = (space.best(&case.values), space.best_within(&case.values, &case.limits));
        assert_sound(&case, bench, &within);
        prop_assert!(within.counts().iter().zip(&case.limits).all(|(count, limit)| count <= limit));
        prop_assert!(within.value() <= free.value());
        if free.counts().iter().zip(&case.limits).all(|(count, limit)| count <= limit) {
            prop_assert_eq!(within.value(), free.value());
        }
    }

    #[test]
    fn doubling_every_length_changes_nothing(case in cases(), blade in 0..3_i64, knife in 6..30_i64, hold in 0..6_i64) {
        let twice = |size: Size| Size::new(size.width * 2, size.height * 2);
        let doubled: Vec<Shape> =
            case.shapes.iter().map(|shape| Shape { size: twice(shape.size), ..*shape }).collect();
        let one = Space::new(case.plate, &case.shapes, bench(blade, knife, hold));
        let two = Space::new(twice(case.plate), &doubled, bench(2 * blade, 2 * knife, 2 * hold));
        prop_assert_eq!(one.best(&case.values).counts(), two.best(&case.values).counts());
        let within = [one, two].map(|space| space.best_within(&case.values, &case.limits).counts());
        prop_assert_eq!(&within[0], &within[1]);
    }

    #[test]
    fn what_holds_says_is_true(case in cases(), blade in 0..3_i64, knife in 6..30_i64, hold in 0..6_i64) {
        let bench = bench(blade, knife, hold);
        let space = Space::new(case.plate, &case.shapes, bench);
        for shape in 0..case.shapes.len() {
            let mut values = vec![0; case.shapes.len()];
            values[shape] = 1;
            let best = space.best(&values).value();
            prop_assert_eq!(space.holds(shape), best > 0);
            prop_assert_eq!(best > 0, enumerate(case.plate, &case.shapes, &values, bench) > 0);
        }
    }
}
