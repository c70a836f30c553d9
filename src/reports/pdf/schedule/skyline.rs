//! Where drawings go on pages: each where it comes highest, below those that are there.

/// The room that a drawing takes, in millimetres.
#[derive(Clone, Copy, Debug)]
pub struct FigureSize {
    pub width: f64,
    pub height: f64,
}

/// The room that pages have for drawings.
#[derive(Clone, Copy, Debug)]
pub struct PageRoom {
    /// How far down the first page is filled.
    pub top: f64,
    pub width: f64,
    /// Where each page ends.
    pub foot: f64,
}

/// Where a drawing goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FigurePlace {
    /// Counted from the page that is filled already, 0.
    pub page: usize,
    /// From the left edge of the room.
    pub x: f64,
    /// From the upper edge of the page.
    pub y: f64,
}

/// Where all of them go.
#[derive(Clone, Debug, PartialEq)]
pub struct FiguresPlaced {
    /// In the order of the drawings.
    pub places: Vec<FigurePlace>,
    pub pages: usize,
    /// How far down the last page is filled.
    pub foot: f64,
}

/// Places for drawings that are taken in this order; where one has no room on a page, those after it are tried first.
pub fn placed(sizes: &[FigureSize], order: Vec<usize>, room: PageRoom) -> FiguresPlaced {
    let mut places = vec![FigurePlace { page: 0, x: 0.0, y: 0.0 }; sizes.len()];
    let mut skyline = Skyline::new(room.width, room.top);
    let (mut left, mut page, mut is_empty) = (order, 0, false);
    while !left.is_empty() {
        let has_room = |figure: &usize| {
            let (size, place) = (sizes[*figure], skyline.highest(sizes[*figure]));
            place.y + size.height <= room.foot
        };
        let next = left.iter().position(has_room);
        // What is higher than a page has one of its own.
        let Some(next) = next.or(is_empty.then_some(0)) else {
            (skyline, page, is_empty) = (Skyline::new(room.width, super::EDGE), page + 1, true);
            continue;
        };
        let figure = left.remove(next);
        places[figure] = FigurePlace { page, ..skyline.highest(sizes[figure]) };
        skyline.fill(places[figure], sizes[figure]);
        is_empty = false;
    }
    FiguresPlaced { places, pages: page + 1, foot: lowest(&skyline.filled) }
}

/// How far down a page is filled, at each millimetre from the left.
struct Skyline {
    filled: Vec<f64>,
    /// The highest place of something so wide, as far as it was asked for since something was placed.
    known: Vec<Option<FigurePlace>>,
}

impl Skyline {
    fn new(width: f64, top: f64) -> Skyline {
        let wide = (width.floor() as usize).max(1);
        Skyline { filled: vec![top; wide], known: vec![None; wide + 1] }
    }

    /// How many millimetres something takes; the gap beyond the right edge is no matter.
    fn wide(&self, size: FigureSize) -> usize {
        (size.width.ceil() as usize).clamp(1, self.filled.len())
    }

    fn highest(&mut self, size: FigureSize) -> FigurePlace {
        let wide = self.wide(size);
        if let Some(known) = self.known[wide] {
            return known;
        }
        let place = self.searched(wide);
        self.known[wide] = Some(place);
        place
    }

    fn searched(&self, wide: usize) -> FigurePlace {
        let tops: Vec<f64> = self.filled.windows(wide).map(lowest).collect();
        let first = (0..tops.len()).min_by(|one, other| tops[*one].total_cmp(&tops[*other]));
        let first = first.unwrap_or(0);
        FigurePlace { page: 0, x: first as f64, y: tops[first] }
    }

    fn fill(&mut self, place: FigurePlace, size: FigureSize) {
        let (first, wide) = (place.x as usize, self.wide(size));
        self.filled[first..first + wide].fill(place.y + size.height);
        self.known.fill(None);
    }
}

fn lowest(filled: &[f64]) -> f64 {
    filled.iter().copied().fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ROOM: PageRoom = PageRoom { top: 40.0, width: 190.0, foot: 260.0 };

    fn places(sizes: &[(f64, f64)]) -> Vec<FigurePlace> {
        let size = |&(width, height): &(f64, f64)| FigureSize { width, height };
        let sizes: Vec<FigureSize> = sizes.iter().map(size).collect();
        placed(&sizes, (0..sizes.len()).collect(), ROOM).places
    }

    fn at(page: usize, x: f64, y: f64) -> FigurePlace {
        FigurePlace { page, x, y }
    }

    #[test]
    fn a_drawing_stands_beside_the_last_and_then_below_the_lowest() {
        let found = places(&[(100.0, 90.0), (80.0, 50.0), (80.0, 50.0)]);
        assert_eq!(found, [at(0, 0.0, 40.0), at(0, 100.0, 40.0), at(0, 100.0, 90.0)]);
    }

    #[test]
    fn what_still_has_room_is_taken_before_the_page_ends() {
        let found = places(&[(190.0, 150.0), (190.0, 100.0), (60.0, 60.0)]);
        assert_eq!(found, [at(0, 0.0, 40.0), at(1, 0.0, 10.0), at(0, 0.0, 190.0)]);
    }

    #[test]
    fn what_is_higher_than_a_page_has_one_of_its_own() {
        assert_eq!(places(&[(60.0, 400.0), (60.0, 60.0)]), [at(1, 0.0, 10.0), at(0, 0.0, 40.0)]);
    }

    proptest! {
        #[test]
        fn no_two_meet_and_none_leaves_its_page(
            sizes in prop::collection::vec((1.0_f64..190.0, 1.0_f64..240.0), 1..40),
        ) {
            let found = places(&sizes);
            for (one, (place, size)) in found.iter().zip(&sizes).enumerate() {
                prop_assert!(place.x + size.0.ceil() <= 190.0 && place.y + size.1 <= 260.0);
                for (other, beside) in found[..one].iter().zip(&sizes) {
                    let is_apart = place.page != other.page
                        || place.x + size.0 <= other.x
                        || other.x + beside.0 <= place.x
                        || place.y + size.1 <= other.y
                        || other.y + beside.1 <= place.y;
                    prop_assert!(is_apart, "{place:?} {other:?}");
                }
            }
        }
    }
}
