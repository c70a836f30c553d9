//! The `card` and `fold` cells.

mod unknown;

use crate::diagnostics::{Misread, Place, Problem, Problems};
use crate::folds::Fold;
use crate::formats::{self, OwnFormats};
use crate::measure::{Axis, Length, LengthStyle, Size, is_cross};
use crate::table::{Cell, Row};
use unknown::{UnknownCard, example};

/// No card is smaller: an inch.
const SMALL: Length = Length::from_ticks(Length::TICKS_PER_INCH);

/// A finished size, and how it usually folds.
#[derive(Clone, Copy, Debug)]
pub(super) struct FoldedSize {
    pub size: Size,
    usual: Fold,
}

/// A format name, or a size such as `5 1/2 x 4 1/4` or `square 6`, of what is called `name`. A format of the workshop with a mistake
/// was told there.
pub(super) fn read(
    cell: &Cell<'_>,
    name: &str,
    style: &LengthStyle,
    own: &OwnFormats,
    problems: &mut Problems,
) -> Option<FoldedSize> {
    if own.is_mistaken(cell.text()) {
        return None;
    }
    let misread = cell.misread("order-size", name);
    if let Some(format) = own.card(cell.text()) {
        let usual = format.fold;
        if format.size.short() < Length::LEAST_SIDE {
            problems.push(too_small(&misread, style));
            return None;
        }
        return Some(FoldedSize { size: format.size, usual });
    }
    let place = cell.place();
    // A `#` is said for a number: `#10 envelope`.
    let begins_with_number =
        cell.text().starts_with(|first: char| !first.is_alphabetic() && first != '#');
    let problem = match Size::parse(cell.text(), style.unit) {
        Some(Ok(size)) if size.short() >= Length::LEAST_SIDE => {
            if size.long() < SMALL {
                problems.push(tiny(name, size, &place, style));
            }
            return Some(FoldedSize { size, usual: Fold::FLAT });
        }
        Some(Ok(size)) if size.is_positive() => too_small(&misread, style),
        Some(Ok(_)) => misread.problem("has a side of 0", "expected two lengths above zero"),
        Some(Err((_, error))) if !cell.text().contains(is_cross) => {
            Misread { name: &format!("the {name}'s side"), ..misread }.length(error, style)
        }
        Some(Err((axis, error))) if begins_with_number => {
            let side = side(axis, &place);
            let name = match axis {
                Axis::Width => format!("the {name}'s width"),
                Axis::Height => format!("the {name}'s height"),
            };
            Misread { name: &name, place: Some(side), ..misread }.length(error, style)
        }
        None if begins_with_number => misread
            .problem(
                "is not a size",
                format!("expected width x height, such as {}", example(style.unit)),
            )
            .help("width comes first: across the card as you read it"),
        _ => UnknownCard { name: cell.text(), place: &place, style, own }.problem(),
    };
    problems.push(problem);
    None
}

/// A size that no trimmer cuts.
fn too_small(misread: &Misread, style: &LengthStyle) -> Problem {
    let expected =
        format!("expected two lengths of at least {}", style.with_unit(Length::LEAST_SIDE));
    misread
        .problem("is too small to cut", expected)
        .help("if you mean another unit, write it: 4 x 6 in, 105 x 148 mm")
}

/// A size that is meant in another unit, most likely.
fn tiny(name: &str, size: Size, place: &Place, style: &LengthStyle) -> Problem {
    let label = format!("{} is smaller than a stamp", style.size(size));
    Problem::warning("order-size-small", format!("a very small {name}"))
        .at(Some(place), label)
        .help("if you mean another unit, write it: 4 x 6 in, 105 x 148 mm")
}

/// The part of a cell `width x height` that holds one of them.
fn side(axis: Axis, cell: &Place) -> Place {
    let marked: Vec<char> = cell.marked().chars().collect();
    let is_edge = |letter: &&char| letter.is_whitespace() || **letter == '"';
    let cross = marked.iter().copied().position(is_cross).unwrap_or(marked.len());
    let (from, part) = match axis {
        Axis::Width => (0, &marked[..cross]),
        Axis::Height => (cross + 1, marked.get(cross + 1..).unwrap_or_default()),
    };
    let skip = part.iter().take_while(is_edge).count();
    let behind = part[skip..].iter().rev().take_while(is_edge).count();
    cell.narrowed(from + skip, part.len() - skip - behind)
}

/// How the card folds; a blank cell leaves it to the format, if that is known.
pub(super) fn fold(
    row: &Row<'_>,
    card: Option<FoldedSize>,
    problems: &mut Problems,
) -> Option<Fold> {
    let Some(cell) = row.cell("fold") else {
        return card.map(|card| card.usual);
    };
    let fold = formats::fold(cell.text(), &cell.misread("order-fold", "fold"));
    fold.map_err(|problem| problems.push(*problem)).ok()
}
