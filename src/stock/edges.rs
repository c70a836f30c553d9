//! What is doubtful about rough edges, as sheets and bench say it.

use super::{Sheet, SheetKind, Stock};
use crate::diagnostics::{Problem, Problems, listed};
use crate::table::{self, KnownColumn, Named};
use crate::workshop::Workshop;

/// The column that says which edges of a full sheet are rough.
pub(super) const COLUMN: &str = "rough edges";

/// Warns where squaring and rough edges do not go together, and of sheets that the trade sells untrimmed, where their
/// file has no column for it.
pub fn check_edges(file: Named, stock: &Stock, workshop: &Workshop, problems: &mut Problems) {
    let full: Vec<&Sheet> =
        stock.sheets.iter().filter(|sheet| sheet.kind == SheetKind::Sheet).collect();
    let rough = || full.iter().filter(|sheet| sheet.rough_edges.any()).copied();
    let squares = workshop.trimmer.squaring.is_positive();
    let squaring = workshop.style().with_unit(workshop.trimmer.squaring);
    if squares && rough().next().is_none() && !full.is_empty() {
        let title = format!("`squaring` is {squaring}, but no sheet has rough edges");
        problems.push(warning("stock-edges-none", title, full.iter().copied()).help(format!(
            "in a column `{COLUMN}` of sheets.csv, write 4 for sheets whose edges are rough (2: cut two true, and \
             leave the other two for the cuts that follow); or set squaring to 0"
        )));
    } else if !squares && let Some(first) = rough().next() {
        let title = format!("`{}` has rough edges, but `squaring` is 0", first.id);
        problems.push(warning("stock-edges-unsquared", title, rough()).help(
            "set `squaring` under [trimmer] in workshop.toml to what you cut off a rough edge, such as 1/8 in or 3 mm",
        ));
    }
    let is_untrimmed = |sheet: &&&Sheet| workshop.formats.is_untrimmed(sheet.size);
    let untrimmed: Vec<&Sheet> = full.iter().filter(is_untrimmed).copied().collect();
    if let Some(first) = untrimmed.first()
        && !squares
        && !has_column(file)
    {
        let size = workshop.style().size(first.size);
        let title = format!("sheets of {size}, such as `{}`, are sold untrimmed", first.id);
        problems.push(warning("stock-untrimmed", title, untrimmed.iter().copied()).help(format!(
            "add the column `{COLUMN}` to sheets.csv: 4 if the edges of a sheet are rough, 0 if it was trimmed"
        )));
    }
}

/// A warning that stands at the first of these sheets and names all of them.
fn warning<'a>(
    code: &'static str,
    title: String,
    sheets: impl Iterator<Item = &'a Sheet>,
) -> Problem {
    let sheets: Vec<&Sheet> = sheets.collect();
    let names: Vec<&str> = sheets.iter().map(|sheet| sheet.id.as_str()).collect();
    let label = format!("cut from edge to edge as it is: {}", listed(&names));
    let place = sheets.first().and_then(|sheet| sheet.place.as_ref());
    Problem::warning(code, title).at(place, label)
}

fn has_column(file: Named) -> bool {
    // Its mistakes were told when the stock was read.
    let mut told = Problems::of_file(file.name);
    let table = table::read(file.name, file.bytes, &mut told);
    let wanted = [KnownColumn::needed(COLUMN)];
    table.is_some_and(|table| table.columns(&wanted, &mut told).is_some())
}
