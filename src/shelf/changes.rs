//! New counts, as changes to the files of a person.

use super::settle::Ground;
use crate::measure::LengthStyle;
use crate::stock::{
    Counts, PerFile, Sheet, SupplyKind, empty_drawer, offcuts_changed, sheets_changed,
    supplies_changed,
};
use crate::table::{Change, changed};
use std::collections::BTreeMap;

/// What there is from now on of all that changes.
pub(super) struct NewCounts {
    /// Full sheets, by name.
    pub sheets: Counts,
    /// Offcuts, by name; the row of one of which none are left goes.
    pub offcuts: Counts,
    /// Envelopes and sundries, by name, as numbers in their units.
    pub supplies: BTreeMap<String, String>,
    /// Offcuts that are new in the drawer.
    pub added: Vec<Sheet>,
}

impl NewCounts {
    /// The changes that write them into the files.
    pub fn changes(&self, ground: &Ground) -> PerFile<Vec<Change>> {
        let text = |text: &Option<String>| text.clone().unwrap_or_default();
        let sheets = sheets_changed(&text(&ground.texts.sheets), &self.sheets);
        let style = ground.workshop.style();
        let offcuts = match &ground.texts.offcuts {
            Some(drawer) => offcuts_changed(drawer, &self.offcuts, &self.added, style),
            None if self.added.is_empty() => Vec::new(),
            None => new_drawer(&text(&ground.texts.sheets), &self.added, style),
        };
        let supplies = |text: &Option<String>, kind: SupplyKind| {
            let left = |name: &str| self.supplies.get(name).cloned();
            text.as_deref().map(|text| supplies_changed(text, kind, left)).unwrap_or_default()
        };
        let envelopes = supplies(&ground.texts.envelopes, SupplyKind::Envelope);
        let sundries = supplies(&ground.texts.sundries, SupplyKind::Sundry);
        PerFile { sheets, offcuts, envelopes, sundries }
    }
}

/// The change that makes a drawer.
fn new_drawer(sheets: &str, added: &[Sheet], style: LengthStyle) -> Vec<Change> {
    let empty = empty_drawer(sheets);
    let changes = offcuts_changed(&empty, &Counts::new(), added, style);
    let text = changed(&empty, &changes).unwrap_or_default();
    Change::between("", &text)
}
