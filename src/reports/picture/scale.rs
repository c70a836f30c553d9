//! How much smaller than life a drawing is.

use crate::measure::{Length, Size};

/// 1 : n, as n in tenths, so that 1 : 2.5 is exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale {
    tenths: u32,
}

/// Widest and highest a sheet is drawn, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    width: f64,
    height: f64,
}

/// How much room drawings have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrawingRoom {
    /// Where a drawing stands beside others.
    pub beside: Extent,
    /// Where it needs more, if there is more.
    pub above: Option<Extent>,
    /// A sheet whose longer side would be drawn shorter than this gets a scale of its own …
    smallest: f64,
    /// … in which it is at least so long.
    readable: f64,
}

impl DrawingRoom {
    /// On a screen, beside and above the steps.
    pub const SCREEN: DrawingRoom = DrawingRoom {
        beside: Extent { width: 83.0, height: 104.0 },
        above: Some(Extent { width: 166.0, height: 150.0 }),
        smallest: 42.0,
        readable: 50.0,
    };
    /// On A4 and Letter, three beside each other.
    pub const PAGE: DrawingRoom = DrawingRoom {
        beside: Extent { width: 55.0, height: 80.0 },
        above: None,
        smallest: 26.0,
        readable: 32.0,
    };
}

/// A gap that cannot be seen, in millimetres on paper: what the blade takes between two plates.
pub(super) const UNSEEN: f64 = 1.0;

/// Scales that a ruler can follow, in tenths.
const STEPS: [u32; 16] = [10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300, 400];

impl Scale {
    /// 1 : `whole`.
    pub const fn of(whole: u32) -> Scale {
        Scale { tenths: whole * 10 }
    }

    /// The largest scale in which all `sheets` fit beside others.
    pub fn common(sheets: impl IntoIterator<Item = Size>, room: DrawingRoom) -> Scale {
        sheets.into_iter().map(|sheet| fitting(sheet, room.beside)).max().unwrap_or(Scale::of(1))
    }

    /// This scale, or a larger one where the sheet would be too small to read.
    pub fn for_sheet(self, sheet: Size, room: DrawingRoom) -> Scale {
        if self.on_paper(sheet.long()) >= room.smallest {
            return self;
        }
        self.larger(sheet, room.beside)
            .into_iter()
            .find(|scale| scale.on_paper(sheet.long()) >= room.readable)
            .unwrap_or_else(|| fitting(sheet, room.beside))
    }

    /// The larger scales in which a sheet fits, the smallest first.
    pub fn larger(self, sheet: Size, room: Extent) -> Vec<Scale> {
        let largest = fitting(sheet, room);
        let scales = STEPS.iter().rev().map(|tenths| Scale { tenths: *tenths });
        scales.filter(|scale| *scale < self && *scale >= largest).collect()
    }

    /// Millimetres on paper.
    pub fn on_paper(self, length: Length) -> f64 {
        length.ticks() as f64 * 10.0 / (Length::TICKS_PER_MM as f64 * f64::from(self.tenths))
    }

    /// `1 : 2.5`.
    pub fn text(self) -> String {
        match self.tenths % 10 {
            0 => format!("1 : {}", self.tenths / 10),
            tenths => format!("1 : {}.{tenths}", self.tenths / 10),
        }
    }
}

fn fitting(sheet: Size, room: Extent) -> Scale {
    let fits = |scale: &Scale| {
        scale.on_paper(sheet.width) <= room.width && scale.on_paper(sheet.height) <= room.height
    };
    let steps = STEPS.iter().map(|tenths| Scale { tenths: *tenths });
    // Beyond the steps every further 1 : 10 will do; the longest length there is needs 1 : 1300.
    steps.chain((5..200).map(|tens| Scale::of(10 * tens))).find(fits).unwrap_or(Scale::of(2000))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture::{inch, size};
    use proptest::prelude::*;

    const SCREEN: DrawingRoom = DrawingRoom::SCREEN;

    proptest! {
        #[test]
        fn every_sheet_fits_and_is_as_large_as_it_can_be_read(
            sheets in prop::collection::vec((1_i64..2_000, 1_i64..2_000), 1..6),
        ) {
            let sizes = sheets
                .iter()
                .map(|(width, height)| Size::new(Length::from_mm(*width), Length::from_mm(*height)));
            let common = Scale::common(sizes.clone(), SCREEN);
            for sheet in sizes {
                let own = common.for_sheet(sheet, SCREEN);
                prop_assert!(own <= common);
                prop_assert!(own.on_paper(sheet.width) <= SCREEN.beside.width);
                prop_assert!(own.on_paper(sheet.height) <= SCREEN.beside.height);
            }
        }
    }

    #[test]
    fn common_papers_have_common_scales() {
        assert_eq!(Scale::common([size("12 x 12")], SCREEN).text(), "1 : 4");
        assert_eq!(Scale::common([size("8 1/2 x 11")], SCREEN).text(), "1 : 3");
        assert_eq!(Scale::common([size("8 1/2 x 11"), size("26 x 20")], SCREEN).text(), "1 : 8");
        assert_eq!(Scale::common([], SCREEN).text(), "1 : 1");
    }

    #[test]
    fn a_sheet_fits_at_the_boundary_and_not_above() {
        let at = Size::new(Length::from_mm(83 * 4), Length::from_mm(104 * 4));
        assert_eq!(Scale::common([at], SCREEN).text(), "1 : 4");
        let above = Size::new(at.width, at.height + Length::from_ticks(1));
        assert_eq!(Scale::common([above], SCREEN).text(), "1 : 5");
    }

    #[test]
    fn small_sheets_get_a_scale_of_their_own() {
        let common = Scale::of(10);
        assert_eq!(common.for_sheet(size("26 x 20"), SCREEN), common);
        // 8 1/2 in = 215.9 mm: 43.2 mm at 1 : 5, 54 mm at 1 : 4.
        assert_eq!(common.for_sheet(size("8 1/2 x 4 1/4"), SCREEN).text(), "1 : 4");
        assert_eq!(Scale::of(5).for_sheet(size("8 1/2 x 4 1/4"), SCREEN).text(), "1 : 5");
        assert_eq!(common.for_sheet(size("1 x 1/2"), SCREEN).text(), "1 : 1");
    }

    #[test]
    fn larger_scales_grow_as_far_as_the_sheet_fits() {
        let larger = Scale::of(5).larger(size("12 x 12"), SCREEN.beside);
        assert_eq!(larger, [Scale::of(4)]);
        let above = Scale::of(5).larger(size("12 x 12"), SCREEN.above.unwrap());
        assert_eq!(above, [Scale::of(4), Scale::of(3), Scale { tenths: 25 }]);
        assert_eq!(Scale::of(4).larger(size("12 x 12"), SCREEN.beside), []);
    }

    #[test]
    fn the_longest_sheet_still_fits() {
        let scale = Scale::common([Size::new(Length::MAX, Length::MAX)], SCREEN);
        assert!(scale.on_paper(Length::MAX) <= SCREEN.beside.width);
    }

    #[test]
    fn millimetres_on_paper() {
        assert_eq!(Scale::of(1).on_paper(inch("1")), 25.4);
        assert_eq!(Scale { tenths: 25 }.text(), "1 : 2.5");
    }
}
