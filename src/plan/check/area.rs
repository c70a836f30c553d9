//! What a plate is worth at most by area alone, which needs no table.
//!
//! Pieces on a plate do not overlap, so they have no more area than it. As in the table, all sides carry one blade.

use super::table::{Oriented, Sides};

/// The plate's area at what the dearest piece is worth for its own; `None` where that is beyond 128 bits.
pub(super) fn worth_by_area(plate: Sides, rectangles: &[Oriented]) -> Option<i128> {
    let area = |width: i64, height: i64| i128::from(width).checked_mul(height.into());
    let whole = area(plate.0, plate.1)?;
    let fits = |piece: &&Oriented| piece.width <= plate.0 && piece.height <= plate.1;
    let worth = |piece: &Oriented| {
        let part = area(piece.width, piece.height)?.max(1);
        Some(i128::from(piece.value).checked_mul(whole)? / part)
    };
    let all = rectangles.iter().filter(fits).map(worth);
    all.collect::<Option<Vec<i128>>>().map(|all| all.into_iter().max().unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::super::table::worth;
    use super::*;

    #[test]
    fn the_dearest_piece_for_its_area_fills_the_plate() {
        let piece = |width, height, value| Oriented { width, height, value };
        assert_eq!(worth_by_area((10, 7), &[piece(3, 2, 5), piece(4, 4, 16)]), Some(70));
        assert_eq!(worth_by_area((10, 7), &[piece(3, 2, 5)]), Some(58), "350 sixths");
        assert_eq!(worth_by_area((10, 7), &[piece(11, 2, 99), piece(2, 8, 99)]), Some(0));
        assert_eq!(worth_by_area((10, 7), &[]), Some(0));
    }

    #[test]
    fn what_is_beyond_128_bits_is_not_claimed() {
        let long = i64::MAX;
        let piece = Oriented { width: 1, height: 1, value: long };
        assert_eq!(worth_by_area((long, long), &[piece]), None);
    }

    proptest::proptest! {
        #[test]
        fn no_pattern_is_worth_more_than_its_area(
            plate in (1_i64..24, 1_i64..24),
            list in proptest::collection::vec((1_i64..12, 1_i64..12, 1_i64..40), 0..5),
        ) {
            let piece = |&(width, height, value): &_| Oriented { width, height, value };
            let list: Vec<Oriented> = list.iter().map(piece).collect();
            let table = worth(plate, &list, 100).map(i128::from);
            proptest::prop_assert!(worth_by_area(plate, &list) >= table);
        }
    }
}
