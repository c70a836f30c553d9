//! The listing of patterns against plain enumeration of all that tiny plates yield.

use super::enumeration::tiny;
use super::orders::{Counts, undominated};
use super::sound::judge;
use cardwright::cuts::Bench;
use cardwright::measure::{Length, Size};
use cardwright::patterns::{Shape, Space};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// What a plate yields within limits, cut at every place where it can be cut.
struct Enumeration<'a> {
    shapes: &'a [Shape],
    limits: &'a [u64],
    bench: Bench,
    known: BTreeMap<(i64, i64), Vec<Counts>>,
}

impl Enumeration<'_> {
    fn of(&mut self, width: i64, height: i64) -> Vec<Counts> {
        if width <= 0 || height <= 0 {
            return vec![vec![0; self.shapes.len()]];
        }
        if let Some(known) = self.known.get(&(width, height)) {
            return known.clone();
        }
        let mut all = self.whole(tiny(width, height));
        let [blade, knife] = [self.bench.blade, self.bench.knife].map(Length::ticks);
        for at in (1..width).filter(|_| height <= knife) {
            let parts = [self.of(at, height), self.of(width - at - blade, height)];
            self.join(&parts, &mut all);
        }
        for at in (1..height).filter(|_| width <= knife) {
            let parts = [self.of(width, at), self.of(width, height - at - blade)];
            self.join(&parts, &mut all);
        }
        let most = undominated(all);
        self.known.insert((width, height), most.clone());
        most
    }

    fn whole(&self, size: Size) -> BTreeSet<Counts> {
        let mut all = BTreeSet::from([vec![0; self.shapes.len()]]);
        for (at, shape) in self.shapes.iter().enumerate().filter(|&(at, _)| self.limits[at] > 0) {
            let lies = (shape.upright && shape.size == size)
                || (shape.turned && shape.size.turned() == size);
            if lies {
                let mut one = vec![0; self.shapes.len()];
                one[at] = 1;
                all.insert(one);
            }
        }
        all
    }

    fn join(&self, [first, second]: &[Vec<Counts>; 2], all: &mut BTreeSet<Counts>) {
        for one in first {
            for other in second {
                let both = one.iter().zip(other).zip(self.limits);
                all.insert(both.map(|((a, b), &most)| (a + b).min(most)).collect());
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_listing_equals_enumeration(
        plate in (1..14_i64, 1..14_i64),
        rows in prop::collection::vec(
            (1..9_i64, 1..9_i64, any::<bool>(), any::<bool>(), 0..60_i64, 0..4_u64), 1..5),
        (blade, knife) in (0..3_i64, 4..20_i64),
        percent in 0..101_i64,
    ) {
        let shapes: Vec<Shape> = rows
            .iter()
            .map(|row| Shape { size: tiny(row.0, row.1), upright: row.2, turned: row.3 })
            .collect();
        let values: Vec<i64> = rows.iter().map(|row| row.4).collect();
        let limits: Vec<u64> = rows.iter().map(|row| row.5).collect();
        let [thick, long] = [blade, knife].map(Length::from_ticks);
        let bench = Bench { blade: thick, knife: long, hold: Length::from_ticks(0), stages: None };
        let worth = |counts: &Counts| -> i64 {
            counts.iter().zip(&values).map(|(&count, value)| count as i64 * value).sum()
        };
        let known = BTreeMap::new();
        let mut enumeration = Enumeration { shapes: &shapes, limits: &limits, bench, known };
        let all = enumeration.of(plate.0, plate.1);
        let most = all.iter().map(worth).max().unwrap();
        let least = most * percent / 100;
        let space = Space::new(tiny(plate.0, plate.1), &shapes, bench);
        let listed = space.list(&values, &limits, least, &mut 10_000_000).unwrap();
        for pattern in &listed {
            let cut = judge(&pattern.layout, &shapes, bench);
            prop_assert_eq!(cut.as_ref(), Ok(&pattern.counts));
        }
        let found: BTreeSet<Counts> = listed.into_iter().map(|pattern| pattern.counts).collect();
        // The pattern without pieces is never listed.
        let enough = |counts: &Counts| worth(counts) >= least && counts.iter().any(|&count| count > 0);
        let wanted: BTreeSet<Counts> = all.into_iter().filter(enough).collect();
        prop_assert_eq!(found, wanted);
        let proven = space.best_proven_within(&values, &limits).unwrap();
        prop_assert_eq!(proven.value(), most);
    }
}
