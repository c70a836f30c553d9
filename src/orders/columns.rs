//! The columns of an order.

use crate::table::KnownColumn;

/// The columns of an order, in the order of the guide.
pub fn columns() -> &'static [KnownColumn] {
    &COLUMNS
}

pub(super) const COLUMNS: [KnownColumn; 23] = [
    KnownColumn::needed("line"),
    KnownColumn::needed("card"),
    KnownColumn::optional("fold"),
    KnownColumn::needed("count"),
    KnownColumn::needed("paper"),
    KnownColumn::optional("liner"),
    KnownColumn::optional("liner kind"),
    KnownColumn::optional("mat"),
    KnownColumn::optional("mat inset"),
    KnownColumn::optional("envelope"),
    KnownColumn::optional("envelope liner"),
    KnownColumn::optional("goes in"),
    KnownColumn::optional("with"),
    KnownColumn::optional("finish"),
    KnownColumn::optional("insert"),
    KnownColumn::optional("insert size"),
    KnownColumn::optional("band"),
    KnownColumn::optional("band width"),
    KnownColumn::optional("box"),
    KnownColumn::optional("per box"),
    KnownColumn::optional("turn"),
    KnownColumn::optional("due"),
    KnownColumn::optional("note"),
];
