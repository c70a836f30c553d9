//! A plain greedy to compare with. It keeps the rules of the bench as the plans do:
//!
//! 1. The largest piece first, all of its kind before the next kind.
//! 2. It is cut from the smallest remnant or offcut that holds it;
//! 3. where there is none, from a full sheet on hand, the cheapest for its area first;
//! 4. where there is none, from a new pack, again the cheapest for the area of its sheets.
//! 5. It is cut from the corner, across or down first, so that the larger of the two remnants becomes as
//!    large as can be. Both remnants are used like offcuts.

use cardwright::batch::Made;
use cardwright::cuts::Bench;
use cardwright::measure::{Area, Size};
use cardwright::pieces::{Piece, orientations, true_size};
use cardwright::stock::{Prices, Sheet, SheetKind};
use std::cmp::{Ordering, Reverse};
use std::collections::BTreeMap;

/// Spend in minor units and value of the paper used in thousandths of one; `None` where a piece finds no place.
pub fn plan(made: &Made) -> Option<(i64, i64)> {
    let mut shelf = Shelf::new(made);
    let mut pieces: Vec<&Piece> = made.job.bill.pieces.iter().collect();
    pieces.sort_by_key(|piece| (Reverse((piece.size.area(), piece.size)), &piece.id));
    pieces.into_iter().try_for_each(|piece| shelf.cut_all(piece))?;
    Some((shelf.spend, shelf.stock))
}

/// A remnant, or an offcut that lies in the drawer yet; the smallest is the least.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Remnant {
    area: Area,
    size: Size,
    sheet: usize,
    whole: bool,
}

/// Where the next plate comes from, and how many alike there are.
enum Source {
    Remnant(Remnant, u64),
    OnHand(usize, u64),
    Pack(usize),
}

/// All paper there is at some time.
struct Shelf<'a> {
    made: &'a Made,
    bench: Bench,
    values: Vec<i64>,
    on_hand: Vec<u64>,
    remnants: BTreeMap<Remnant, u64>,
    spend: i64,
    stock: i64,
}

impl<'a> Shelf<'a> {
    fn new(made: &'a Made) -> Shelf<'a> {
        let sheets = &made.job.stock.sheets;
        let trimmer = &made.job.workshop.trimmer;
        // In thousandths of a minor unit, rounded up.
        let prices = Prices::of(&made.job.stock, &made.job.workshop);
        let values = made.job.stock.sheets.iter().map(|sheet| &prices.sheet(sheet) * 1_000);
        let mut shelf = Shelf {
            made,
            bench: trimmer.bench(),
            values: values.map(|value| value.ceil() as i64).collect(),
            on_hand: sheets.iter().map(|sheet| sheet.on_hand).collect(),
            remnants: BTreeMap::new(),
            spend: 0,
            stock: 0,
        };
        for (at, sheet) in sheets.iter().enumerate() {
            if sheet.kind == SheetKind::Offcut {
                shelf.put(sheet.size, (at, true), sheet.on_hand);
            }
        }
        shelf
    }

    fn put(&mut self, size: Size, (sheet, whole): (usize, bool), count: u64) {
        let remnant = Remnant { area: size.area(), size, sheet, whole };
        *self.remnants.entry(remnant).or_default() += count;
    }

    /// Cuts all pieces of a kind. Plates alike are cut alike: what one of them yields is worked out once.
    fn cut_all(&mut self, piece: &Piece) -> Option<()> {
        let sheets = self.made.job.stock.sheets.iter();
        let ways: Vec<Vec<Size>> = sheets.map(|sheet| ways(piece, sheet, self.made)).collect();
        let mut left = piece.need() + piece.spares();
        while left > 0 {
            let source = self.source(&ways)?;
            let (sheet, size, there) = match source {
                Source::Remnant(remnant, count) => (remnant.sheet, remnant.size, count),
                Source::OnHand(sheet, count) => (sheet, self.size(sheet), count),
                Source::Pack(sheet) => (sheet, self.size(sheet), u64::MAX),
            };
            let (yielded, rests) = exhaust(size, &ways[sheet], self.bench, left);
            let times = (left / yielded).min(there);
            self.take(&source, times);
            rests.into_iter().for_each(|rest| self.put(rest, (sheet, false), times));
            left -= times * yielded;
        }
        Some(())
    }

    fn size(&self, sheet: usize) -> Size {
        true_size(&self.made.job.stock.sheets[sheet], &self.made.job.workshop.trimmer)
    }

    fn source(&self, ways: &[Vec<Size>]) -> Option<Source> {
        let holds = |size: Size, sheet: usize| place(size, &ways[sheet], self.bench).is_some();
        let mut remnants = self.remnants.iter();
        if let Some((&remnant, &count)) = remnants.find(|(one, _)| holds(one.size, one.sheet)) {
            return Some(Source::Remnant(remnant, count));
        }
        let full = self.made.job.stock.sheets.iter().enumerate();
        let full = full.filter(|(_, sheet)| sheet.kind == SheetKind::Sheet);
        let full = full.filter(|(at, _)| holds(self.size(*at), *at));
        let on_hand = full.clone().filter(|(at, _)| self.on_hand[*at] > 0).map(|(at, sheet)| {
            (Rate { cost: self.values[at].into(), area: sheet.size.area().square_ticks() }, at)
        });
        if let Some((_, at)) = on_hand.min() {
            return Some(Source::OnHand(at, self.on_hand[at]));
        }
        let packs = full.filter_map(|(at, sheet)| {
            let area = sheet.size.area().square_ticks() * i128::from(sheet.pack);
            Some((Rate { cost: sheet.price?.minor().into(), area }, at))
        });
        packs.min().map(|(_, at)| Source::Pack(at))
    }

    fn take(&mut self, source: &Source, times: u64) {
        match *source {
            Source::Remnant(remnant, count) => {
                match count - times {
                    0 => self.remnants.remove(&remnant),
                    left => self.remnants.insert(remnant, left),
                };
                if remnant.whole {
                    self.stock += self.values[remnant.sheet] * times as i64;
                }
            }
            Source::OnHand(sheet, _) => {
                self.on_hand[sheet] -= times;
                self.stock += self.values[sheet] * times as i64;
            }
            Source::Pack(sheet) => {
                let Sheet { price, pack, .. } = &self.made.job.stock.sheets[sheet];
                let packs = times.div_ceil(*pack);
                self.spend += price.map_or(0, |price| price.minor()) * packs as i64;
                self.on_hand[sheet] += packs * pack;
                self.take(&Source::OnHand(sheet, times), times);
            }
        }
    }
}

/// A cost for an area.
#[derive(Clone, Copy)]
struct Rate {
    cost: i128,
    area: i128,
}

impl Ord for Rate {
    fn cmp(&self, other: &Rate) -> Ordering {
        (self.cost * other.area).cmp(&(other.cost * self.area))
    }
}
impl PartialOrd for Rate {
    fn partial_cmp(&self, other: &Rate) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl PartialEq for Rate {
    fn eq(&self, other: &Rate) -> bool {
        self.cmp(other).is_eq()
    }
}
impl Eq for Rate {}

/// The ways a piece may lie on a sheet.
fn ways(piece: &Piece, sheet: &Sheet, made: &Made) -> Vec<Size> {
    let allowed = orientations(piece, sheet, &made.job.workshop);
    let ways =
        [allowed.upright.then_some(piece.size), allowed.turned.then_some(piece.size.turned())];
    ways.into_iter().flatten().collect()
}

/// Cuts at most `most` of a piece from a plate that holds it, and on from what is left of the plate.
fn exhaust(plate: Size, ways: &[Size], bench: Bench, most: u64) -> (u64, Vec<Size>) {
    let mut rests = vec![plate];
    let mut yielded = 0;
    while yielded < most {
        let holding = rests.iter().enumerate();
        let holding = holding.filter_map(|(at, rest)| Some((at, place(*rest, ways, bench)?)));
        let Some((at, left)) = holding.min_by_key(|(at, _)| (rests[*at].area(), *at)) else {
            break;
        };
        rests.swap_remove(at);
        rests.extend(left);
        yielded += 1;
    }
    (yielded, rests)
}

/// What is left of a plate when the piece is cut from its corner, the first way that can be cut.
fn place(plate: Size, ways: &[Size], bench: Bench) -> Option<Vec<Size>> {
    ways.iter().find_map(|way| rests(plate, *way, bench))
}

fn rests(plate: Size, piece: Size, bench: Bench) -> Option<Vec<Size>> {
    if !piece.fits_in(plate) {
        return None;
    }
    let right = plate.width - piece.width - bench.blade;
    let below = plate.height - piece.height - bench.blade;
    // Across first: the strip of the piece is as high as the piece, the rest as wide as the plate.
    let strip = Size::new(plate.width, piece.height);
    let across = cut(plate, strip, bench) && cut(strip, piece, bench);
    let across = across.then(|| [Size::new(right, piece.height), Size::new(plate.width, below)]);
    let strip = Size::new(piece.width, plate.height);
    let down = cut(plate, strip, bench) && cut(strip, piece, bench);
    let down = down.then(|| [Size::new(right, plate.height), Size::new(piece.width, below)]);
    let area = |size: &Size| if size.is_positive() { size.area() } else { Area::ZERO };
    let largest = |rests: &[Size; 2]| rests.iter().map(area).max();
    let best = match (across, down) {
        (Some(across), Some(down)) if largest(&across) < largest(&down) => down,
        (across, down) => across.or(down)?,
    };
    Some(best.into_iter().filter(|rest| rest.is_positive()).collect())
}

/// Whether one cut, or none, makes `part` of `plate`.
fn cut(plate: Size, part: Size, bench: Bench) -> bool {
    let length = if plate.width == part.width { plate.width } else { plate.height };
    plate == part || (length <= bench.knife && plate.short() >= bench.hold)
}
