//! The columns of an order.

use crate::table::Column;

pub(super) const COLUMNS: [Column; 20] = [
    Column::needed("line"),
    Column::needed("card"),
    Column::optional("fold"),
    Column::needed("count"),
    Column::needed("paper"),
    Column::optional("liner"),
    Column::optional("liner kind"),
    Column::optional("mat"),
    Column::optional("mat inset"),
    Column::optional("envelope"),
    Column::optional("envelope liner"),
    Column::optional("insert"),
    Column::optional("insert size"),
    Column::optional("band"),
    Column::optional("band width"),
    Column::optional("box"),
    Column::optional("per box"),
    Column::optional("turn"),
    Column::optional("due"),
    Column::optional("note"),
];
