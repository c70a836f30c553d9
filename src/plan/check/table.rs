//! A plain table of what every plate is worth at most, by edge-to-edge cuts.
//!
//! The value of a plate is the most of: the piece that it is, a cut across into two smaller plates, a
//! cut down into two smaller plates, or nothing (Gilmore and Gomory, Operations Research 14, 1966).
//! Cuts need only fall on sums of the pieces' sides (Herz, IBM Journal of Research and Development 16,
//! 1972), and of those only on the ones that mirrored sums leave (Terno, Lindemann and Scheithauer,
//! Zuschnittprobleme, 1987; all three from memory). All sides here carry one blade width, so that cuts
//! lose nothing: n pieces of w with n - 1 blades between them fit into W exactly if n (w + b) <= W + b.

/// Width and height of a plate.
pub(super) type Sides = (i64, i64);

/// A piece as it lies, and its value, above 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Oriented {
    pub width: i64,
    pub height: i64,
    pub value: i64,
}

/// More sums of sides than are looked at.
const MOST_SUMS: usize = 50_000;
/// More places to cut at than a table has in one direction.
const MOST_POINTS: usize = 10_000;
/// More cuts than anyone would wait for; so many are made of 12 000 000 plates at most, which memory holds.
const MOST_CUTS: u128 = 40_000_000_000;
/// Steps along a side where sides have to be rounded.
const ROUNDED_STEPS: i64 = 3000;

/// The most that a plate can be worth: exactly, or, where the sums of the sides are too many, with sides
/// rounded down, which is never less. `None` where that would still take too long or overflow.
pub(super) fn worth(plate: Sides, rectangles: &[Oriented], knife: i64) -> Option<i64> {
    let fits = |piece: &&Oriented| piece.width <= plate.0 && piece.height <= plate.1;
    let rectangles: Vec<Oriented> = rectangles.iter().filter(fits).copied().collect();
    if rectangles.is_empty() {
        return Some(0);
    }
    exact(plate, &rectangles, knife).or_else(|| {
        let (plate, rectangles) = rounded(plate, rectangles);
        exact(plate, &rectangles, knife)
    })
}

fn exact(plate: Sides, rectangles: &[Oriented], knife: i64) -> Option<i64> {
    // The edges of a plate longer than the knife matter, since only some cuts can true them.
    let beyond_knife = plate.0.max(plate.1) > knife;
    let across = points(rectangles.iter().map(|piece| piece.width), plate.0, beyond_knife)?;
    let down = points(rectangles.iter().map(|piece| piece.height), plate.1, beyond_knife)?;
    let plates = across.len().checked_mul(down.len())?;
    let cuts = plates as u128 * (across.len() + down.len()) as u128 / 2;
    if cuts > MOST_CUTS || !values_fit(plate, rectangles) {
        return None;
    }
    let mut table = WorthTable { knife, across, down, worth: vec![0; plates] };
    table.fill(rectangles);
    table.worth.last().copied()
}

/// All sides in whole units, rounded down; no unit is longer than a side.
fn rounded(plate: Sides, mut rectangles: Vec<Oriented>) -> (Sides, Vec<Oriented>) {
    let shortest = |side: fn(&Oriented) -> i64| rectangles.iter().map(side).min().unwrap_or(1);
    let unit = |length: i64, shortest: i64| (length / ROUNDED_STEPS + 1).min(shortest);
    let across = unit(plate.0, shortest(|piece| piece.width));
    let down = unit(plate.1, shortest(|piece| piece.height));
    for piece in &mut rectangles {
        piece.width -= piece.width % across;
        piece.height -= piece.height % down;
    }
    ((plate.0 - plate.0 % across, plate.1 - plate.1 % down), rectangles)
}

/// The worth of every plate with sides among the points.
struct WorthTable {
    knife: i64,
    across: Vec<i64>,
    down: Vec<i64>,
    /// A row of plates of one height after the other.
    worth: Vec<i64>,
}

impl WorthTable {
    fn fill(&mut self, rectangles: &[Oriented]) {
        let width = self.across.len();
        let rests = rests(&self.across);
        // Rows that are worth more than the one above them.
        let mut grown: Vec<bool> = Vec::with_capacity(self.down.len());
        // A cut across is as long as the plate is wide.
        let within_knife = self.across.partition_point(|&side| side <= self.knife);
        for row in 0..self.down.len() {
            let (above, rest) = self.worth.split_at_mut(row * width);
            let plates = &mut rest[..width];
            for piece in rectangles.iter().filter(|piece| least(&self.down, piece.height) == row) {
                let column = least(&self.across, piece.width);
                plates[column] = plates[column].max(piece.value);
            }
            let heights = &self.down[..=row];
            cut_across(above, heights, &grown, width, &mut plates[..within_knife]);
            if self.down[row] <= self.knife {
                cut_down(&self.across, &rests, plates);
            }
            grown.push(row > 0 && above[(row - 1) * width..] != *plates);
        }
    }
}

/// Improves the plates of the last of the heights `down` by cuts into two plates above each other: the
/// upper no higher than half, the lower trimmed to a sum of sides; or by a trim alone. An upper plate that is worth no
/// more than a lower one would leave more to the other, so those that did not grow need no look.
fn cut_across(above: &[i64], down: &[i64], grown: &[bool], width: usize, plates: &mut [i64]) {
    let Some((&height, lower)) = down.split_last() else { return };
    let mut rest = lower.len();
    for (upper, &side) in lower.iter().enumerate() {
        if upper == 0 {
            // No upper piece at all: the plate trimmed to the next height.
            let trimmed = &above[(lower.len() - 1) * width..];
            plates.iter_mut().zip(trimmed).for_each(|(plate, worth)| *plate = (*plate).max(*worth));
            continue;
        }
        if 2 * side > height {
            break;
        }
        if !grown[upper] {
            continue;
        }
        while down[rest] > height - side {
            rest -= 1;
        }
        let uppers = &above[upper * width..];
        let lowers = &above[rest * width..];
        for ((plate, upper), lower) in plates.iter_mut().zip(uppers).zip(lowers) {
            *plate = (*plate).max(upper + lower);
        }
    }
}

/// Improves the plates of one height, narrow ones first, by cuts into two plates beside each other; of left plates,
/// those that are worth more than a narrower one.
fn cut_down(across: &[i64], rests: &[Vec<u32>], plates: &mut [i64]) {
    let mut grown: Vec<usize> = Vec::new();
    for column in 1..across.len() {
        let mut best = plates[column].max(plates[column - 1]);
        let rests = &rests[column];
        for &left in grown.iter().take_while(|&&left| left <= rests.len()) {
            best = best.max(plates[left] + plates[rests[left - 1] as usize]);
        }
        plates[column] = best;
        if best > plates[column - 1] {
            grown.push(column);
        }
    }
}

/// For each width, by the width of the left part from the second point to half of it: the largest point
/// that the right part holds.
fn rests(points: &[i64]) -> Vec<Vec<u32>> {
    let of_width = |(column, &width): (usize, &i64)| {
        let lefts = points[1..].iter().take_while(|&&left| 2 * left <= width);
        lefts.map(|left| floor(&points[..=column], width - left) as u32).collect()
    };
    points.iter().enumerate().map(of_width).collect()
}

/// The index of the largest point that is at most `length`.
fn floor(points: &[i64], length: i64) -> usize {
    points.partition_point(|&point| point <= length).saturating_sub(1)
}

/// The index of the least point that is at least `length`, which is no more than the last.
fn least(points: &[i64], length: i64) -> usize {
    points.partition_point(|&point| point < length)
}

/// Where to cut: all sums of `sides` up to `limit`, in order, from 0, with `limit` itself where every
/// edge matters; else only the sums that hold what a mirrored sum leaves of `limit`.
fn points(sides: impl Iterator<Item = i64>, limit: i64, every_edge: bool) -> Option<Vec<i64>> {
    let mut points = sums(sides.collect(), limit)?;
    if !every_edge {
        let mirrored = points.iter().map(|point| points[floor(&points, limit - point)]);
        points = mirrored.collect();
        points.sort_unstable();
        points.dedup();
    } else if points.last() != Some(&limit) {
        points.push(limit);
    }
    (points.len() <= MOST_POINTS).then_some(points)
}

/// All sums of `sides` up to `limit`, in order, from 0.
fn sums(sides: Vec<i64>, limit: i64) -> Option<Vec<i64>> {
    // For each side the earliest sum that has not yet been extended by it.
    let mut next = vec![0; sides.len()];
    let mut sums = vec![0_i64];
    while sums.len() <= MOST_SUMS {
        let longer = sides.iter().zip(&next).map(|(side, &index): (_, &usize)| sums[index] + side);
        let Some(least) = longer.min().filter(|&sum| sum <= limit) else { return Some(sums) };
        for (side, index) in sides.iter().zip(&mut next) {
            *index += usize::from(sums[*index] + side == least);
        }
        sums.push(least);
    }
    None
}

/// Whether no sum of values can leave 64 bits: a plate holds at most its area over the least area.
fn values_fit(plate: Sides, rectangles: &[Oriented]) -> bool {
    let area = |width: i64, height: i64| i128::from(width) * i128::from(height);
    let least = rectangles.iter().map(|piece| area(piece.width, piece.height)).min();
    let most = rectangles.iter().map(|piece| i128::from(piece.value)).max();
    let (Some(least), Some(most)) = (least, most) else { return true };
    let pieces = area(plate.0, plate.1) / least.max(1) + 1;
    pieces.saturating_mul(most) < i128::from(i64::MAX / 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pieces(pieces: &[(i64, i64, i64)]) -> Vec<Oriented> {
        let rectangle = |&(width, height, value): &_| Oriented { width, height, value };
        pieces.iter().map(rectangle).collect()
    }

    fn best(plate: (i64, i64), list: &[(i64, i64, i64)], knife: i64) -> i64 {
        worth(plate, &pieces(list), knife).unwrap()
    }

    /// The value by the definition alone: every cut at every whole position.
    fn slow(plate: (i64, i64), list: &[(i64, i64, i64)], knife: i64) -> i64 {
        let (width, height) = (plate.0 as usize, plate.1 as usize);
        let mut worth = vec![vec![0_i64; height + 1]; width + 1];
        for w in 1..=width {
            for h in 1..=height {
                let exact = list.iter().filter(|piece| (piece.0, piece.1) == (w as i64, h as i64));
                let mut best = exact.map(|piece| piece.2).max().unwrap_or(0);
                if h as i64 <= knife {
                    best = (1..w).map(|x| worth[x][h] + worth[w - x][h]).fold(best, i64::max);
                }
                if w as i64 <= knife {
                    best = (1..h).map(|y| worth[w][y] + worth[w][h - y]).fold(best, i64::max);
                }
                worth[w][h] = best;
            }
        }
        worth[width][height]
    }

    #[test]
    fn a_lone_piece_is_found_though_other_sums_surround_it() {
        assert_eq!(best((6, 4), &[(5, 4, 9), (3, 3, 1)], 100), 9);
    }

    #[test]
    fn the_knife_forbids_long_cuts() {
        assert_eq!(best((12, 12), &[(6, 6, 1)], 12), 4);
        assert_eq!(best((12, 12), &[(6, 6, 1)], 11), 0, "no first cut");
        assert_eq!(best((12, 8), &[(5, 4, 1)], 8), 4, "down first, then across");
        assert_eq!(best((12, 8), &[(12, 4, 1)], 8), 0, "only a long cut would free it");
        assert_eq!(best((12, 8), &[(12, 8, 1)], 1), 1, "no cut is needed");
    }

    #[test]
    fn values_that_overflow_are_refused() {
        assert_eq!(worth((10, 10), &pieces(&[(1, 1, i64::MAX / 100)]), 10), None);
        assert_eq!(
            worth((10, 10), &pieces(&[(1, 1, i64::MAX / 1000)]), 10),
            Some(i64::MAX / 1000 * 100)
        );
        // Three at most of a third of half of 64 bits each.
        let third = i64::MAX / 2 / 3;
        assert_eq!(worth((2, 1), &pieces(&[(1, 1, third)]), 2), None);
        assert_eq!(worth((2, 1), &pieces(&[(1, 1, third - 1)]), 2), Some(2 * (third - 1)));
    }

    #[test]
    fn a_table_is_made_where_its_cuts_are_not_too_many() {
        let unit = pieces(&[(1, 1, 1)]);
        assert_eq!(exact((600, 600), &unit, 600), Some(360_000));
        assert_eq!(exact((5000, 5000), &unit, 5000), None, "more than 100 000 000 000 cuts");
    }

    /// 111 of the narrowest fit in truth; the unit is 334, so that 9001 becomes 8684 and 115 fit.
    #[test]
    fn too_many_sums_are_rounded_down() {
        let list = [9001, 9029, 9107, 9221, 9397, 9601].map(|width| (width, 1, 1));
        let plate = (1_000_003, 1);
        assert_eq!(sums(list.iter().map(|piece| piece.0).collect(), plate.0), None);
        assert_eq!(worth(plate, &pieces(&list), plate.0), Some(115));
    }

    /// The unit is 333, so that 9001 becomes 8991 and the plate 997 668, where 110 fit and no 111.
    #[test]
    fn plates_are_rounded_down_with_their_pieces() {
        let sides = [9001, 9029, 9107, 9221, 9397, 9601];
        let (long, short) = (998_000, 1);
        let across = pieces(&sides.map(|side| (side, 1, 1)));
        assert_eq!(worth((long, short), &across, long), Some(110));
        let down = pieces(&sides.map(|side| (1, side, 1)));
        assert_eq!(worth((short, long), &down, long), Some(110));
    }

    proptest::proptest! {
        #[test]
        fn the_table_is_the_definition(
            plate in (1_i64..24, 1_i64..24),
            list in proptest::collection::vec((1_i64..12, 1_i64..12, 1_i64..40), 0..5),
            knife in 1_i64..30,
        ) {
            proptest::prop_assert_eq!(best(plate, &list, knife), slow(plate, &list, knife));
        }
    }
}
