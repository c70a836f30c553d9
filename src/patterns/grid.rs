//! One sheet as the dynamic program sees it: points, pieces on them, and what may not be cut.
//!
//! All lengths here are inflated by the blade: a plate that is w wide counts as w + b, so that the
//! second part of a cut begins exactly where the first one ends. Where the sheet is longer than the
//! knife in one direction, that direction is laid across.

use super::Shape;
use super::raster::{Raster, multiples, reduce, sums};
use crate::cuts::Bench;
use crate::measure::{Axis, Length, Size};

/// A way in which a shape may lie on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Seat {
    /// Index of the shape.
    pub shape: usize,
    /// Whether it lies turned.
    pub turned: bool,
    /// Its sides across and down, inflated.
    pub sides: [i64; 2],
    /// The smallest cell that holds it.
    pub cell: [usize; 2],
}

/// One sheet, ready for any values.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    /// Sides of the sheet, inflated.
    pub sides: [i64; 2],
    /// Points across and down.
    pub rasters: [Raster; 2],
    /// Every way in which a shape may lie.
    pub seats: Vec<Seat>,
    /// Number of shapes.
    pub shapes: usize,
    /// The axis that lies across.
    pub across: Axis,
    /// Width lost per cut.
    pub blade: i64,
    /// Longest cut, inflated.
    pub knife: i64,
    /// First cell across and down that is long enough to be held.
    pub held: [usize; 2],
    /// First cell across that is longer than the knife: only the full height is ever that wide, and it
    /// is only cut across.
    pub wide: usize,
    /// Whether holding keeps some cell from being cut.
    pub strict: bool,
    /// Whether a cell and its mirror image are always worth the same.
    pub symmetric: bool,
    /// Whether lengths are rounded because their sums are too many.
    pub rounded: bool,
    /// Whether there are no points, since a piece is too small for them: its worth is known by the area alone.
    pub by_area: bool,
    /// Shapes that could be cut, but have no seat because there are too many points already.
    pub left_out: Vec<usize>,
}

impl Grid {
    /// The sheet for these shapes; `limits` says how often each may be used, if not any number.
    pub fn new(
        plate: Size,
        shapes: &[Shape],
        bench: Bench,
        limits: Option<&[u64]>,
        detail: Detail,
    ) -> Grid {
        let blade = bench.blade.ticks().max(0);
        let knife = bench.knife.ticks();
        let across = if plate.height.ticks() > knife { Axis::Height } else { Axis::Width };
        let inflate =
            |size: Size| [across, across.other()].map(|axis| size.along(axis).ticks() + blade);
        let mut seats = seats(shapes, inflate);
        let hold = bench.hold.ticks().max(0) + blade;
        let mut frame = Frame { sides: inflate(plate), knife: knife + blade, hold, detail };
        seats.retain(|seat| frame.admits(seat));
        frame.forget_easy_hold(&seats, blade);
        let points = frame.points(&seats, limits);
        frame.grid(seats, points, Fixed { shapes: shapes.len(), across, blade })
    }

    /// The cell of the whole sheet.
    pub fn top(&self) -> [usize; 2] {
        [self.rasters[0].len() - 1, self.rasters[1].len() - 1]
    }

    /// Number of all cuts of all cells.
    pub fn pairs(&self) -> usize {
        let [across, down] = &self.rasters;
        across.pairs() * down.len() + down.pairs() * across.len()
    }

    /// About how many nanoseconds its table takes if every plate is worth more than any smaller one. Rows are worked off in
    /// blocks lower than the lowest piece, sixteen columns or all rows of a block side by side.
    pub fn work(&self) -> u64 {
        let [across, down] = &self.rasters;
        let points = down.points();
        let lowest = points.get(1).copied().unwrap_or(1).max(1);
        let highest = points.last().copied().unwrap_or(0);
        let blocks = (highest / lowest + 1).clamp(1, points.len() as i64) as usize;
        let blocks = blocks.max(points.len() / LANES);
        let looks = across.pairs() * blocks + down.pairs() * across.len() / LANES;
        LOOK * looks as u64
    }

    /// Whether a plate of so many inflated lengths across is only cut across.
    pub fn is_wide(&self, width: i64) -> bool {
        width > self.knife
    }

    /// The true size of a plate with these inflated sides.
    pub fn true_size(&self, sides: [i64; 2]) -> Size {
        let [across, down] = sides.map(|side| Length::from_ticks((side - self.blade).max(0)));
        match self.across {
            Axis::Width => Size::new(across, down),
            Axis::Height => Size::new(down, across),
        }
    }
}

/// How finely a sheet is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Detail {
    /// What becomes of lengths whose sums are more than this.
    pub rounding: Rounding,
    /// Points along one side, at most.
    pub points: usize,
}

impl Detail {
    /// Sums along one side, at most, before they are reduced to points.
    fn sums(self) -> usize {
        10 * self.points
    }
}

/// Which way lengths are rounded where their sums are too many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rounding {
    /// Pieces count as longer than they are: every pattern can be cut.
    Up,
    /// Pieces count as shorter than they are: no pattern is missed.
    Down,
}

/// Points along one side, at most. More would take seconds and gigabytes for one sheet.
pub const MOST_POINTS: usize = 2400;

/// Points along one side, and the unit of their lengths: 1 where they are exact.
struct Points {
    points: Vec<i64>,
    unit: i64,
}

/// Cells that a table works side by side.
const LANES: usize = 16;

/// Nanoseconds of a look at so many pairs of parts.
const LOOK: u64 = 2;

/// What the grid is told about the sheet's surroundings.
struct Fixed {
    shapes: usize,
    across: Axis,
    blade: i64,
}

/// What decides whether a plate can be cut, all lengths inflated.
struct Frame {
    sides: [i64; 2],
    knife: i64,
    /// Narrowest plate that can be held.
    hold: i64,
    detail: Detail,
}

impl Frame {
    /// Whether the sheet can be cut at all.
    fn can_cut(&self) -> bool {
        self.sides[1] <= self.knife && self.sides.iter().all(|&side| side >= self.hold)
    }

    /// Whether a piece that lies so can be cut from the sheet.
    fn admits(&self, seat: &Seat) -> bool {
        if seat.sides == self.sides {
            return true;
        }
        let fits = seat.sides[0] <= self.sides[0] && seat.sides[1] <= self.sides[1];
        // A piece wider than the knife is only ever cut across, so it has the sheet's full height.
        let reaches = seat.sides[0] <= self.knife || seat.sides[1] == self.sides[1];
        // The last but one cut leaves a strip that can still be held.
        let held = seat.sides[0] >= self.hold || seat.sides[1] >= self.hold;
        fits && reaches && held && self.can_cut()
    }

    /// Every plate that is cut holds a piece: where no piece is narrower than the hold, no plate is.
    fn forget_easy_hold(&mut self, seats: &[Seat], blade: i64) {
        let narrowest = seats.iter().flat_map(|seat| seat.sides).min();
        if self.hold <= blade || narrowest.is_none_or(|side| side >= self.hold) {
            self.hold = 0;
        }
    }

    /// The points across and down.
    fn points(&self, seats: &[Seat], limits: Option<&[u64]>) -> [Points; 2] {
        [0, 1].map(|side: usize| match self.exact(side, seats, limits) {
            Some(points) => Points { points, unit: 1 },
            // What has to be held cannot be rounded.
            None if self.hold > 0 => Points { points: self.chosen(side, seats, limits), unit: 1 },
            None => self.rounded(side, seats),
        })
    }

    /// Some of the exact points, where holding makes them too many: the sums of what is easily held, and
    /// every length by itself and several times. Parts are trimmed to points before they are cut on, so
    /// that fewer points only leave fewer ways.
    fn chosen(&self, side: usize, seats: &[Seat], limits: Option<&[u64]>) -> Vec<i64> {
        let held = |seat: &&Seat| seat.sides.iter().all(|&side| side >= self.hold);
        let easy: Vec<Seat> = seats.iter().filter(held).cloned().collect();
        let sums = self.exact(side, &easy, limits).unwrap_or_default();
        let whole = self.sides[side];
        // The largest shapes come first: where there are too many, the others are left out.
        let lengths = seats.iter().map(|seat| seat.sides[side]).take(self.detail.points);
        let lengths = lengths.chain([self.hold]);
        let mut points = multiples(lengths, whole, self.detail.points.saturating_sub(sums.len()));
        points.extend(sums);
        points.extend((side == 1).then_some(whole));
        points.into_iter().collect()
    }

    /// The exact points along one side, if they are not too many.
    fn exact(&self, side: usize, seats: &[Seat], limits: Option<&[u64]>) -> Option<Vec<i64>> {
        let times = |seat: &Seat| limits.map_or(u64::MAX, |limits| limits[seat.shape]);
        let mut lengths: Vec<(i64, u64)> =
            seats.iter().map(|seat| (seat.sides[side], times(seat))).collect();
        if self.hold > 0 {
            lengths.push((self.hold, u64::MAX));
        }
        if self.hold > 0 && side == 1 {
            // A sheet wider than the knife cannot be trimmed in height before it is cut across.
            lengths.push((self.sides[1], 1));
        }
        let points = sums(&lengths, self.sides[side], self.detail.sums())?;
        let may_reduce = limits.is_none() && self.hold == 0;
        let points = if may_reduce { self.reduced(side, points) } else { points };
        (points.len() <= self.detail.points).then_some(points)
    }

    /// The smaller raster lets parts be wider than need be, which must not matter to the knife.
    fn reduced(&self, side: usize, points: Vec<i64>) -> Vec<i64> {
        let crosses_knife = side == 0 && self.sides[0] > self.knife;
        if crosses_knife { points } else { reduce(&points, self.sides[side]) }
    }

    /// Points in a unit so coarse that they are few.
    fn rounded(&self, side: usize, seats: &[Seat]) -> Points {
        let unit = self.unit(side);
        if self.loses_pieces(side, seats) {
            return Points { points: Vec::new(), unit };
        }
        let lengths = seats.iter().map(|seat| (self.round(side, seat.sides[side], unit), u64::MAX));
        let lengths: Vec<(i64, u64)> = lengths.collect();
        let most = self.sides[side] / unit * unit;
        let points = sums(&lengths, most, usize::MAX).unwrap_or_else(|| vec![0]);
        let points = match side == 0 && self.sides[0] > self.knife {
            true => points,
            false => reduce(&points, most),
        };
        Points { points, unit }
    }

    /// The unit in which points are few.
    fn unit(&self, side: usize) -> i64 {
        self.sides[side] / self.detail.points as i64 + 1
    }

    /// Whether a piece would count as nothing: then there would be no end of them on a sheet.
    fn loses_pieces(&self, side: usize, seats: &[Seat]) -> bool {
        let unit = self.unit(side);
        self.detail.rounding == Rounding::Down && seats.iter().any(|seat| seat.sides[side] < unit)
    }

    /// A piece's length in whole units, never longer than the sheet.
    fn round(&self, side: usize, length: i64, unit: i64) -> i64 {
        let units = match self.detail.rounding {
            Rounding::Up => (length + unit - 1) / unit,
            Rounding::Down => length / unit,
        };
        (units * unit).min(self.sides[side] / unit * unit)
    }

    fn grid(self, mut seats: Vec<Seat>, points: [Points; 2], fixed: Fixed) -> Grid {
        let units = [points[0].unit, points[1].unit];
        let by_area = points.iter().any(|side| side.points.is_empty());
        let points = points.map(|side| match by_area {
            true => Points { points: vec![0], ..side },
            false => side,
        });
        let rasters = points.map(|points| Raster::new(points.points, self.hold));
        for seat in &mut seats {
            seat.cell = [0, 1].map(|side: usize| match seat.sides[side] == self.sides[side] {
                true => rasters[side].len() - 1,
                false => rasters[side].at_least(self.round(side, seat.sides[side], units[side])),
            });
        }
        let strict = self.hold > 0;
        let mut left_out = Vec::new();
        if strict {
            // Where holding matters, a piece lies on points of just its size.
            let lies = |seat: &Seat| {
                [0, 1].iter().all(|&side: &usize| {
                    rasters[side].points()[seat.cell[side]] == seat.sides[side]
                        || seat.sides[side] == self.sides[side]
                })
            };
            left_out.extend(seats.iter().filter(|seat| !lies(seat)).map(|seat| seat.shape));
            seats.retain(lies);
        }
        let cuttable = self.can_cut();
        let held = [0, 1].map(|side: usize| match cuttable {
            true => rasters[side].at_least(self.hold).max(1),
            false => rasters[side].len(),
        });
        let wide = rasters[0].at_most(self.knife) + 1;
        let symmetric =
            !strict && rasters[0] == rasters[1] && wide == rasters[0].len() && mirrored(&seats);
        let Fixed { shapes, across, blade } = fixed;
        let (sides, knife, rounded) = (self.sides, self.knife, units != [1, 1]);
        Grid {
            sides,
            rasters,
            seats,
            shapes,
            across,
            blade,
            knife,
            held,
            wide,
            strict,
            symmetric,
            rounded,
            by_area,
            left_out,
        }
    }
}

fn seats(shapes: &[Shape], inflate: impl Fn(Size) -> [i64; 2]) -> Vec<Seat> {
    let mut seats = Vec::new();
    for (shape, kind) in shapes.iter().enumerate().filter(|(_, kind)| kind.size.is_positive()) {
        // A square lies the same both ways: as given, if that is allowed.
        let also_turned = kind.turned && !(kind.upright && kind.size.width == kind.size.height);
        if kind.upright {
            seats.push(Seat { shape, turned: false, sides: inflate(kind.size), cell: [0, 0] });
        }
        if also_turned {
            seats.push(Seat {
                shape,
                turned: true,
                sides: inflate(kind.size.turned()),
                cell: [0, 0],
            });
        }
    }
    seats
}

/// Whether each seat has its mirror image.
fn mirrored(seats: &[Seat]) -> bool {
    seats.iter().all(|seat| {
        let mirror = [seat.sides[1], seat.sides[0]];
        seats.iter().any(|other| other.shape == seat.shape && other.sides == mirror)
    })
}
