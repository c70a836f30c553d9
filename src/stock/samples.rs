//! Sheets for tests.

use super::{Sheet, SheetKind};
use crate::measure::{Money, Size, Unit};
use crate::workshop::Workshop;

pub(super) fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap().unwrap()
}

/// A full sheet of fern, with its price in minor units.
pub(super) fn sheet(text: &str, price: Option<i64>) -> Sheet {
    Sheet {
        on_hand: 1,
        price: price.map(Money::from_minor),
        ..Sheet::plain(text, "fern", size(text))
    }
}

pub(super) fn offcut(text: &str) -> Sheet {
    Sheet { kind: SheetKind::Offcut, ..sheet(text, None) }
}

/// A bench with this keep value.
pub(super) fn workshop(percent: u32) -> Workshop {
    let mut workshop = Workshop::default();
    workshop.keep.value = percent;
    workshop
}
