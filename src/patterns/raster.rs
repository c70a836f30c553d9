//! The lengths at which it is worth cutting.
//!
//! Every pattern can be pushed to the left until each cut lies at a sum of piece widths (Herz 1972, "discretisation
//! points"; Christofides & Whitlock 1977):
//!
//! ```text
//! P(L) = { Σ k_i w_i ≤ L : k_i = 0, 1, 2, … }
//! ```
//!
//! Of these only `R(L) = { ⟨L − r⟩ : r ∈ P(L) }` are needed, ⟨a⟩ being the largest point of P not above a (Terno,
//! Lindemann & Scheithauer 1987, "reduced raster points"; Scheithauer & Terno 1996). R is closed under the cuts of the
//! dynamic program: for x in R(L) and r in P, ⟨x − r⟩ is again in R(L), because ⟨⟨a⟩ − r⟩ = ⟨a − r⟩.

use std::collections::BTreeSet;

/// All sums of the given lengths that do not exceed `most`, ascending, 0 first; each length may be
/// used as often as its number says. `None` where there are more than `cap` of them.
pub(super) fn sums(lengths: &[(i64, u64)], most: i64, cap: usize) -> Option<Vec<i64>> {
    let mut lengths = lengths.to_vec();
    lengths.sort_unstable();
    let unlimited = lengths.iter().all(|&(length, times)| times >= (most / length) as u64);
    let mut points = vec![0];
    for (length, times) in lengths {
        // A length that is a sum of shorter ones adds nothing, unless those may run out.
        if !unlimited || points.binary_search(&length).is_err() {
            points = add_multiples(&points, length, times, most, cap);
        }
        if points.len() > cap {
            return None;
        }
    }
    Some(points)
}

/// Every length by itself, and multiples of each for as long as there is room for so many points: what is
/// left where the sums are too many; and 0.
pub(super) fn multiples(
    lengths: impl IntoIterator<Item = i64>,
    most: i64,
    room: usize,
) -> BTreeSet<i64> {
    let lengths: BTreeSet<i64> = lengths.into_iter().filter(|&length| length <= most).collect();
    let all: i64 = lengths.iter().map(|length| most / length).sum();
    let room = room.saturating_sub(lengths.len()).max(1);
    let step = (all as usize).div_ceil(room).max(1);
    let several = |&length: &i64| (2..=most / length).step_by(step).map(move |n| n * length);
    let several: Vec<i64> = lengths.iter().flat_map(several).collect();
    [0].into_iter().chain(lengths).chain(several).collect()
}

/// The points and each of them plus up to `times` times `length`: one merge of the list with itself
/// shifted, carrying how often the length was used. It ends with the first point beyond `cap`: a length that is tiny
/// has more multiples than memory holds.
fn add_multiples(points: &[i64], length: i64, times: u64, most: i64, cap: usize) -> Vec<i64> {
    let mut merged: Vec<(i64, u64)> = Vec::with_capacity(points.len() * 2);
    let (mut old, mut shifted) = (0, 0);
    loop {
        while shifted < merged.len() && merged[shifted].1 >= times {
            shifted += 1;
        }
        let next_old = points.get(old).copied();
        let next_shifted = merged.get(shifted).map(|&(point, used)| (point + length, used + 1));
        let next = match (next_old, next_shifted) {
            (Some(point), Some((sum, _))) if point <= sum => (point, 0),
            (Some(point), None) => (point, 0),
            (_, Some(sum)) => sum,
            (None, None) => break,
        };
        if next.0 > most || merged.len() > cap {
            break;
        }
        old += usize::from(next_old == Some(next.0));
        shifted += usize::from(next_shifted.is_some_and(|(sum, _)| sum == next.0));
        merged.push(next);
    }
    merged.into_iter().map(|(point, _)| point).collect()
}

/// R(L): the points that the largest rests of a plate of length `whole` are rounded down to.
pub(super) fn reduce(points: &[i64], whole: i64) -> Vec<i64> {
    let rest = |point: &i64| points[at_most(points, whole - point)];
    let mut reduced: Vec<i64> = points.iter().rev().map(rest).collect();
    reduced.dedup();
    reduced
}

/// Index of the largest point that is not above `length`.
fn at_most(points: &[i64], length: i64) -> usize {
    points.partition_point(|&point| point <= length).saturating_sub(1)
}

/// The points along one side of the sheet, and where the second part of each cut falls.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Raster {
    points: Vec<i64>,
    /// Where the rests of a point begin in `rests`; one more entry than points.
    begin: Vec<usize>,
    rests: Vec<u32>,
}

impl Raster {
    /// A raster of these points (ascending, 0 first). A part that is longer than its point has to be
    /// trimmed to it, which takes at least `hold`; the second part is worth nothing where it is shorter.
    pub fn new(points: Vec<i64>, hold: i64) -> Raster {
        let mut raster = Raster { begin: vec![0], rests: Vec::new(), points };
        for (index, &whole) in raster.points.iter().enumerate() {
            let mut second = index;
            for &first in raster.points.iter().take_while(|&&first| first * 2 <= whole) {
                while raster.points[second] > whole - first {
                    second -= 1;
                }
                let rest = whole - first;
                let usable = raster.points[second] == rest || rest >= hold;
                raster.rests.push(if usable { second as u32 } else { 0 });
            }
            raster.begin.push(raster.rests.len());
        }
        raster
    }

    /// Number of points.
    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// Number of all cuts.
    pub fn pairs(&self) -> usize {
        self.rests.len()
    }

    /// All points, ascending.
    pub fn points(&self) -> &[i64] {
        &self.points
    }

    /// The points that `length` holds: index of the largest one that is not above it.
    pub fn at_most(&self, length: i64) -> usize {
        at_most(&self.points, length)
    }

    /// Index of the smallest point that is not below `length`.
    pub fn at_least(&self, length: i64) -> usize {
        self.points.partition_point(|&point| point < length)
    }

    /// For each first part up to half of point `whole`, by index, the point of the second part.
    #[inline(always)]
    pub fn rests(&self, whole: usize) -> &[u32] {
        &self.rests[self.begin[whole]..self.begin[whole + 1]]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(lengths: &[i64], most: i64) -> Vec<i64> {
        let lengths: Vec<(i64, u64)> = lengths.iter().map(|&length| (length, u64::MAX)).collect();
        sums(&lengths, most, usize::MAX).unwrap()
    }

    #[test]
    fn sums_are_all_combinations_up_to_the_plate() {
        assert_eq!(all(&[4, 6], 13), [0, 4, 6, 8, 10, 12]);
        assert_eq!(all(&[4, 6], 14), [0, 4, 6, 8, 10, 12, 14]);
        assert_eq!(all(&[5], 4), [0]);
        assert_eq!(all(&[5], 5), [0, 5]);
        assert_eq!(all(&[], 5), [0]);
    }

    #[test]
    fn sums_use_each_length_as_often_as_they_may() {
        assert_eq!(sums(&[(4, 2), (6, 1)], 100, 9), Some(vec![0, 4, 6, 8, 10, 14]));
        assert_eq!(sums(&[(2, 1), (2, 2), (6, 1)], 11, 9), Some(vec![0, 2, 4, 6, 8, 10]));
        assert_eq!(sums(&[(3, 0)], 100, 9), Some(vec![0]));
    }

    #[test]
    fn too_many_sums_are_none() {
        assert_eq!(sums(&[(1, u64::MAX)], 9, 10).map(|points| points.len()), Some(10));
        assert_eq!(sums(&[(1, u64::MAX)], 10, 10), None);
    }

    /// A thousandth of a millimetre, or a tick, on a sheet of a hundred metres: billions of multiples.
    #[test]
    fn tiny_lengths_are_given_up_before_they_are_merged() {
        for length in [1, 40] {
            assert_eq!(sums(&[(length, u64::MAX)], 4_000_000_000, 24_000), None);
        }
    }

    #[test]
    fn multiples_keep_every_length_and_to_their_room() {
        assert_eq!(multiples([4, 7, 30, 4], 20, 100), BTreeSet::from([0, 4, 7, 8, 12, 14, 16, 20]));
        let few = multiples([3, 7, 11], 10_000, 240);
        assert!([3, 7, 11].iter().all(|length| few.contains(length)));
        assert!((200..=241).contains(&few.len()), "{}", few.len());
        assert_eq!(multiples([1, 2], 1_000_000, 2), BTreeSet::from([0, 1, 2, 4]));
    }

    /// Pieces 5 and 7 on 20: P = {0, 5, 7, 10, 12, 14, 15, 17, 19, 20}, by hand from the formula.
    #[test]
    fn reduced_points_are_rests_rounded_down() {
        let points = all(&[5, 7], 20);
        assert_eq!(points, [0, 5, 7, 10, 12, 14, 15, 17, 19, 20]);
        assert_eq!(reduce(&points, 20), [0, 5, 7, 10, 12, 15, 20]);
    }

    #[test]
    fn a_second_part_is_the_largest_point_that_the_rest_holds() {
        let raster = Raster::new(vec![0, 5, 7, 12], 0);
        assert_eq!(raster.rests(3), [3, 2]);
        let raster = Raster::new(vec![0, 5, 7, 13], 0);
        assert_eq!(raster.rests(3), [3, 2]);
        assert_eq!([raster.at_most(6), raster.at_least(6)], [1, 2]);
        assert_eq!([raster.at_most(7), raster.at_least(7)], [2, 2]);
    }

    /// The rest of 13 after 5 is 8: it has to be trimmed to 7, which a hold of 9 forbids.
    #[test]
    fn a_rest_that_cannot_be_held_is_worth_nothing() {
        let second = |hold: i64| Raster::new(vec![0, 5, 7, 13], hold).rests(3)[1];
        assert_eq!([second(7), second(8), second(9)], [2, 2, 0]);
        assert_eq!(Raster::new(vec![0, 5, 7, 12], 9).rests(3)[1], 2);
    }
}
