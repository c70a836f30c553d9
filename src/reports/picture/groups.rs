//! Equal places beside each other that are too small for their names: they are named together.

use super::labels::tells_name;
use super::scale::UNSEEN;
use super::{Axis, Rectangle};
use crate::reports::drawing::Region;

/// Places that are named in one label.
pub struct Cluster {
    /// The place, or all of them as one.
    pub region: Region,
    /// Where they lie on paper, in millimetres.
    pub area: Rectangle,
    /// How many.
    pub count: usize,
}

/// Distances that are equal but for rounding, in millimetres.
const SAME: f64 = 0.01;

/// The places as they are named: first those side by side as one, then what is still too small with what lies above
/// and below.
pub fn groups<'a>(places: impl Iterator<Item = (&'a Region, Rectangle)>) -> Vec<Cluster> {
    let single =
        |(region, area): (&Region, Rectangle)| Cluster { region: region.clone(), area, count: 1 };
    let rows = joined(places.map(single), Axis::Width);
    let mut groups = joined(rows.into_iter(), Axis::Height);
    for group in groups.iter_mut().filter(|group| group.count > 1) {
        group.region.name = group.name();
    }
    groups
}

fn joined(groups: impl Iterator<Item = Cluster>, axis: Axis) -> Vec<Cluster> {
    let mut joined: Vec<Cluster> = Vec::new();
    for group in groups {
        match joined.last_mut().filter(|last| last.goes_on_in(&group, axis)) {
            Some(last) => {
                last.area.join(&group.area);
                last.count += group.count;
            }
            None => joined.push(group),
        }
    }
    joined
}

impl Cluster {
    fn name(&self) -> String {
        match self.count {
            1 => self.region.name.clone(),
            count => format!("{count} x {}", self.region.name),
        }
    }

    /// Whether there is room for its name.
    fn is_told(&self) -> bool {
        tells_name(&self.name(), &self.region, self.area)
    }

    /// Whether the next places are more of these, along the axis, and neither have room for their names.
    fn goes_on_in(&self, next: &Cluster, axis: Axis) -> bool {
        let (own, other) = (&self.region, &next.region);
        let alike = own.role == other.role && own.name == other.name && own.size == other.size;
        let [(end, _, from, to), (_, start, next_from, next_to)] =
            [&self.area, &next.area].map(|area| match axis {
                Axis::Width => (area.x + area.width, area.x, area.y, area.height),
                Axis::Height => (area.y + area.height, area.y, area.x, area.width),
            });
        let aligned = (from - next_from).abs() < SAME && (to - next_to).abs() < SAME;
        let gap = start - end;
        alike
            && aligned
            && -SAME < gap
            && gap < UNSEEN
            && !own.name.is_empty()
            && !next.is_told()
            && (self.count > next.count || !self.is_told())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Length;
    use crate::reports::drawing::Role;
    use crate::reports::fixture::size;

    fn band(name: &str) -> Region {
        let (x, y) = (Length::ZERO, Length::ZERO);
        let size_text = "1/2 x 8 in".to_owned();
        let name = name.to_owned();
        Region { x, y, size: size("1/2 x 8"), role: Role::Piece(0), name, size_text }
    }

    fn grouped(places: &[(&str, [f64; 4])]) -> Vec<(String, usize)> {
        let regions: Vec<(Region, Rectangle)> = places
            .iter()
            .map(|(name, [x, y, width, height])| {
                let area = Rectangle { x: *x, y: *y, width: *width, height: *height };
                (band(name), area)
            })
            .collect();
        let groups = groups(regions.iter().map(|(region, area)| (region, *area)));
        groups.into_iter().map(|group| (group.region.name, group.count)).collect()
    }

    #[test]
    fn narrow_bands_beside_each_other_are_named_together() {
        let places = [0.0, 3.0, 6.0].map(|x| ("a.band", [x, 0.0, 3.0, 50.0]));
        assert_eq!(grouped(&places), [("3 x a.band".to_owned(), 3)]);
        let other = [places[0], ("b.band", places[1].1), places[2]];
        assert_eq!(grouped(&other).len(), 3, "others between them");
        let apart = [places[0], ("a.band", [5.0, 0.0, 3.0, 50.0])];
        assert_eq!(grouped(&apart).len(), 2);
    }

    #[test]
    fn what_has_room_for_its_name_keeps_it() {
        let wide = [0.0, 20.0].map(|x| ("a.band", [x, 0.0, 20.0, 50.0]));
        assert_eq!(grouped(&wide), [("a.band".to_owned(), 1), ("a.band".to_owned(), 1)]);
    }

    #[test]
    fn small_pieces_in_rows_are_one_block() {
        let rows = [0.0, 3.0, 6.0, 9.0];
        let places = rows.map(|y| [0.0, 3.0, 6.0].map(|x| ("a.tag", [x, y, 3.0, 3.0]))).concat();
        assert_eq!(grouped(&places), [("12 x a.tag".to_owned(), 12)]);
    }
}
