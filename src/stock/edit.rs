//! Stock back into the files of a person: only what changes is written anew.

use super::read::{OFFCUTS, SHEETS};
use super::supplies::{ENVELOPES, SUNDRIES};
use super::words::{GRAINS, print, word};
use super::{Sheet, SupplyKind};
use crate::diagnostics::Problems;
use crate::measure::LengthStyle;
use crate::table::{self, Change, Draft, KnownColumn, Row};
use std::collections::BTreeMap;

/// The header of a drawer that nobody has written yet, its cells parted like those of the file of sheets: a spreadsheet
/// that saves the one with semicolons opens the other so.
pub fn empty_drawer(sheets: &str) -> String {
    let columns =
        ["offcut", "paper", "width", "height", "count", "grain", "print", "from", "since"];
    columns.join(&table::delimiter(sheets).to_string()) + "\n"
}

/// Counts by the names of sheets or offcuts.
pub type Counts = BTreeMap<String, u64>;

/// An offcut as a row of the drawer: columns and what stands in them. Lengths carry their unit.
pub fn drawer_cells(offcut: &Sheet, style: LengthStyle) -> [(&'static str, String); 9] {
    let grain = offcut.grain.map_or("", |grain| word(&GRAINS, &grain));
    [
        ("offcut", offcut.id.clone()),
        ("paper", offcut.paper.clone()),
        ("width", style.with_unit(offcut.size.width)),
        ("height", style.with_unit(offcut.size.height)),
        ("count", offcut.on_hand.to_string()),
        ("grain", grain.to_owned()),
        ("print", print(offcut.print, offcut.back)),
        ("from", offcut.from.clone().unwrap_or_default()),
        ("since", offcut.since.map(|since| since.to_string()).unwrap_or_default()),
    ]
}

/// The changes that set what is on hand of each full sheet of `on_hand` in the text of a file of sheets.
pub fn sheets_changed(text: &str, on_hand: &Counts) -> Vec<Change> {
    drafted(text, &SHEETS, |draft, rows| {
        for row in rows {
            if let Some(count) = on_hand.get(&name(row, "sheet")) {
                draft.set(row, "on hand", &count.to_string());
            }
        }
    })
}

/// The changes that leave so many of each offcut of `left` in the text of a drawer, without the rows of
/// those of which none are left, and put the `new` ones in.
pub fn offcuts_changed(
    text: &str,
    left: &Counts,
    new: &[Sheet],
    style: LengthStyle,
) -> Vec<Change> {
    drafted(text, &OFFCUTS, |draft, rows| {
        for row in rows {
            match left.get(&name(row, "offcut")) {
                Some(0) => draft.remove(row),
                Some(count) => draft.set(row, "count", &count.to_string()),
                None => {}
            }
        }
        new.iter().for_each(|offcut| draft.append(&drawer_cells(offcut, style)));
    })
}

/// The changes that set what is on hand of each supply for which `left` says it in the text of its file.
pub fn supplies_changed(
    text: &str,
    kind: SupplyKind,
    left: impl Fn(&str) -> Option<String>,
) -> Vec<Change> {
    let columns: &[KnownColumn] = match kind {
        SupplyKind::Envelope => &ENVELOPES,
        SupplyKind::Sundry => &SUNDRIES,
    };
    drafted(text, columns, |draft, rows| {
        for row in rows {
            if let Some(amount) = left(&name(row, kind.word())) {
                draft.set(row, "on hand", &amount);
            }
        }
    })
}

/// The changes made to a table; none where the text has no such columns.
pub(super) fn drafted(
    text: &str,
    columns: &[KnownColumn],
    change: impl FnOnce(&mut Draft<'_>, &[Row<'_>]),
) -> Vec<Change> {
    // Its mistakes were told when the stock was read.
    let mut told = Problems::new();
    let table = table::read("", text.as_bytes(), &mut told);
    let Some(columns) = table.as_ref().and_then(|table| table.columns(columns, &mut told)) else {
        return Vec::new();
    };
    let mut draft = Draft::new(&columns, text);
    change(&mut draft, &columns.rows().collect::<Vec<_>>());
    draft.finish()
}

fn name(row: &Row<'_>, column: &str) -> String {
    row.cell(column).map(|cell| cell.text().to_owned()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Axis, Length, Size, Unit};
    use crate::stock::{Back, Print, SheetKind};
    use crate::table::changed;

    const STYLE: LengthStyle = LengthStyle { unit: Unit::Inch, graduation: Length::ZERO };

    fn counts(counts: &[(&str, u64)]) -> Counts {
        counts.iter().map(|(name, count)| ((*name).to_owned(), *count)).collect()
    }

    #[test]
    fn what_is_on_hand_is_set_in_the_file_as_it_is() {
        let text =
            "# mine\nshelf,sheet,paper,width,height,on hand\ntop,a,fern,12,12,5\nlow,b,fern,9,9,\n";
        let changes = sheets_changed(text, &counts(&[("a", 0), ("b", 7), ("c", 1)]));
        let expected = text.replace(",12,5", ",12,0").replace("9,9,", "9,9,7");
        assert_eq!(changed(text, &changes), Some(expected));
    }

    #[test]
    fn a_file_without_the_column_gets_it() {
        let text = "sheet,paper,width,height\na,fern,12,12\nb,fern,9,9\n";
        let changes = sheets_changed(text, &counts(&[("b", 7)]));
        let expected = "sheet,paper,width,height,on hand\na,fern,12,12\nb,fern,9,9,7\n";
        assert_eq!(changed(text, &changes).as_deref(), Some(expected));
    }

    #[test]
    fn a_new_drawer_is_parted_like_the_sheets() {
        let columns = "offcut,paper,width,height,count,grain,print,from,since\n";
        assert_eq!(empty_drawer("# a; b\nsheet,paper,width,height\n"), columns);
        let semicolons = columns.replace(',', ";");
        assert_eq!(empty_drawer("sheet;paper;width;height\na;fern;8,5;11\n"), semicolons);
        assert_eq!(empty_drawer("sheet\tpaper\n"), columns.replace(',', "\t"));
    }

    #[test]
    fn the_drawer_loses_and_gains() {
        let text = "offcut;paper;height;width;mine\na;fern;4;3;x\nb;fern;4;3;y\nc;fern;4;3;z\n";
        let new = Sheet {
            kind: SheetKind::Offcut,
            on_hand: 3,
            grain: Some(Axis::Height),
            print: Print::TwoWay,
            back: Back::Tumbled,
            from: Some("may".to_owned()),
            since: Some(jiff::civil::date(2031, 5, 9)),
            ..Sheet::plain(
                "=d",
                "fern",
                Size::new(Length::from_inch_parts(17, 2), Length::from_inch_parts(1, 1)),
            )
        };
        let changes = offcuts_changed(text, &counts(&[("a", 0), ("c", 2)]), &[new], STYLE);
        assert_eq!(
            changed(text, &changes).as_deref(),
            Some(
                "offcut;paper;height;width;mine;count;grain;print;from;since\nb;fern;4;3;y\n\
                 c;fern;4;3;z;2\n'=d;fern;1 in;8 1/2 in;;3;height;two-way/tumbled;may;2031-05-09\n"
            )
        );
    }
}
