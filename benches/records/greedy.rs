//! A plain greedy to compare with: the largest piece first, in the smallest remnant that holds it, which
//! is then cut so that the larger remnant becomes as large as can be; a new sheet where none holds it.

use cardwright::batch::Made;
use cardwright::measure::Size;
use cardwright::orders::Turn;

/// Sheets the greedy needs; `None` where there is more than one kind of sheet.
pub fn sheets(made: &Made) -> Option<i64> {
    let [sheet] = &made.stock.sheets[..] else { return None };
    let mut wanted: Vec<(Size, bool)> = Vec::new();
    for piece in &made.bill.pieces {
        let one = (piece.size, piece.turn != Some(Turn::None));
        wanted.extend((0..piece.need() + piece.spares()).map(|_| one));
    }
    wanted.sort_by_key(|(size, _)| std::cmp::Reverse((size.area(), *size)));
    let mut remnants: Vec<Size> = Vec::new();
    let mut sheets = 0;
    for (size, turns) in wanted {
        let ways = [Some(size), turns.then(|| size.turned())];
        let found = smallest(&remnants, &ways);
        let (remnant, lying) = match found {
            Some((at, lying)) => (remnants.swap_remove(at), lying),
            None => {
                sheets += 1;
                let fits = ways.iter().flatten().find(|way| way.fits_in(sheet.size));
                (sheet.size, *fits?)
            }
        };
        remnants.extend(rests(remnant, lying).into_iter().filter(|rest| rest.is_positive()));
    }
    Some(sheets)
}

/// The smallest remnant that holds the piece, and how it lies there.
fn smallest(remnants: &[Size], ways: &[Option<Size>]) -> Option<(usize, Size)> {
    let holding = remnants.iter().enumerate().filter_map(|(at, remnant)| {
        let lying = ways.iter().flatten().find(|way| way.fits_in(*remnant))?;
        Some((remnant.area(), at, *lying))
    });
    holding.min_by_key(|(area, at, _)| (*area, *at)).map(|(_, at, lying)| (at, lying))
}

/// What is left of a remnant when the piece is cut from its corner.
fn rests(remnant: Size, piece: Size) -> [Size; 2] {
    let (right, below) = (remnant.width - piece.width, remnant.height - piece.height);
    let across = [Size::new(right, piece.height), Size::new(remnant.width, below)];
    let down = [Size::new(right, remnant.height), Size::new(piece.width, below)];
    let largest = |rests: &[Size; 2]| rests.iter().map(|rest| rest.area()).max();
    if largest(&across) >= largest(&down) { across } else { down }
}
