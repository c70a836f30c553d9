//! What can happen to a shelf, as the journal keeps it.

use crate::measure::Money;
use crate::pieces::Tally;
use crate::plan::Reached;
use crate::stock::{Counts, PerFile, StockKind, Texts};
use crate::table::{Change, changed};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// SHA-256 of some bytes, in hexadecimal digits (FIPS 180-4).
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The digests of both files; `None` where one is not there.
pub type Digests = PerFile<Option<String>>;

/// The digests of these texts.
pub fn digests(texts: &Texts) -> Digests {
    texts.each().map(|text| text.as_ref().map(|text| digest(text.as_bytes())))
}

/// What envelopes and sundries are counted in, by their names; empty for single ones.
pub type SupplyUnits = BTreeMap<String, String>;

/// A line of the journal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Counted from 1.
    pub number: u64,
    /// The day it happened (ISO 8601).
    pub on: String,
    /// The digest of the line before it.
    pub previous: Option<String>,
    /// What happened.
    pub event: Event,
}

/// What happened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Event {
    /// The journal was begun with the files as they were.
    Begun {
        /// What the files are called.
        names: PerFile<String>,
        /// What was in them.
        texts: Texts,
        /// The digests of that.
        after: Digests,
    },
    /// Files that were not there when it was begun have names now.
    Named {
        /// What all files are called.
        names: PerFile<String>,
    },
    /// A person had edited the files since the entry before.
    Edited(Shift),
    /// A batch, or a part of it, was cut.
    Settled(Box<Settled>),
    /// The stock was counted.
    Counted(Box<TakeRecord>),
    /// A settled batch was taken back.
    Undone {
        /// The entry taken back.
        entry: u64,
        /// What it did to the files.
        shift: Shift,
    },
    /// The files were put back to what they were after an earlier entry.
    Rebuilt {
        /// That entry.
        entry: u64,
        /// What it did to the files.
        shift: Shift,
    },
    /// Paper was set aside for a batch, in the place of what was set aside for it before.
    Reserved {
        /// The batch.
        batch: String,
        /// What tells its plan from others.
        plan: String,
        /// What is on hand of what it takes.
        paper: Counts,
        /// What envelopes and sundries among that are counted in.
        #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
        units: SupplyUnits,
    },
    /// Paper set aside for a batch was given free.
    Dropped {
        /// The batch.
        batch: String,
    },
    /// The files of an entry are written.
    Done {
        /// That entry.
        entry: u64,
    },
}

/// A batch that was cut, or a part of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settled {
    /// The batch.
    pub batch: String,
    /// What tells its plan from others.
    pub plan: String,
    /// Sheets cut, by run.
    pub runs: BTreeMap<String, u64>,
    /// Whether all of the plan is cut now.
    pub whole: bool,
    /// What the rest of the plan takes of the shelf.
    pub rest: Counts,
    /// What was put on the shelf because packs were bought.
    pub bought: Counts,
    /// What was taken off the shelf.
    pub used: Counts,
    /// Offcuts put in the drawer, under the name that they have there.
    pub kept: Vec<Stored>,
    /// Where cutting stopped, where that is a step of the schedule.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub reached: Option<Reached>,
    /// All stacks that wait there, with their place in the drawer.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub stacks: Vec<StoredStack>,
    /// Plates that were spoiled, by the letter of their stack.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub spoiled: Counts,
    /// What became of the pieces; `None` in an entry of an earlier version.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub pieces: Option<Vec<Tally>>,
    /// What is set aside for the batch from now on; `None`: what the rest takes, if some was set aside before.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub aside: Option<Counts>,
    /// The plan of which this one makes the rest.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rest_of: Option<String>,
    /// Its report folder, where the note says it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub report: Option<String>,
    /// How long it took, by stage, where a person says so.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub work: BTreeMap<String, StageWork>,
    /// What envelopes and sundries are counted in, by name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub units: SupplyUnits,
    /// Envelopes and sundries taken for the cards, in parts of their units.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub taken: Counts,
    /// Those that were spoiled.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub wasted: Counts,
    /// What it cost; `None` in an entry of an earlier version.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub cost: Option<PartCost>,
    /// What it did to the files.
    pub shift: Shift,
}

impl Settled {
    /// Pieces that were spoiled, cut or not.
    pub fn spoiled_pieces(&self) -> u64 {
        self.pieces.iter().flatten().map(Tally::all_spoiled).sum()
    }
}

/// What a stock-take found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TakeRecord {
    /// The digest of its table, where it was read from one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub table: Option<String>,
    /// Names of which there is what the files said.
    pub confirmed: u64,
    /// All others that were counted, and new strips.
    pub changes: Vec<Recount>,
    /// What envelopes and sundries among them are counted in.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub units: SupplyUnits,
    /// What it did to the files.
    pub shift: Shift,
}

/// A count that a stock-take changed; of what is measured, in parts of its unit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recount {
    /// What it is.
    pub kind: StockKind,
    /// Its name.
    pub name: String,
    /// What the file said.
    pub was: u64,
    /// What was found.
    pub is: u64,
    /// Why it says so now.
    pub why: RecountReason,
}

/// Why a file says something else after a stock-take.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RecountReason {
    /// It was wrong.
    Corrected,
    /// A strip lay there that was in no file.
    Added,
    /// Something was thrown away.
    ThrownAway,
    /// Something was not found.
    NotFound,
}

/// Equal offcuts that were put in the drawer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stored {
    /// Their name in the plan.
    pub planned: String,
    /// Their name in the drawer.
    pub offcut: String,
    /// How many.
    pub count: u64,
    /// The run that left them.
    pub run: String,
}

/// A stack that waits in the drawer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StoredStack {
    /// Its letter in the schedule.
    pub letter: String,
    /// Its name in the drawer.
    pub offcut: String,
    /// Plates.
    pub count: u64,
}

/// How long a stage of a batch took.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StageWork {
    /// Seconds that it took, as a person says.
    pub took: u64,
    /// Seconds that were told for all of it.
    pub planned: u64,
    /// The rates by which they were told, in seconds, by their keys.
    pub rates: Counts,
}

/// What a part of a batch cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartCost {
    /// Money for packs.
    pub spent: Money,
    /// What the paper was worth that was used, less what was kept of it: as numerator and denominator, in minor units.
    pub paper: [i64; 2],
    /// Seconds at the trimmer.
    pub seconds: u64,
}

/// What an entry does to the files.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shift {
    /// Digests before.
    pub before: Digests,
    /// Digests after.
    pub after: Digests,
    /// The changes between.
    pub changes: PerFile<Vec<Change>>,
}

impl Shift {
    /// From these texts, by these changes; `None` where the changes are not made for them.
    pub fn by(before: &Texts, changes: PerFile<Vec<Change>>) -> Option<(Shift, Texts)> {
        let one = |(text, changes): (&Option<String>, &Vec<Change>)| match changes.is_empty() {
            true => Some(text.clone()),
            false => changed(text.as_deref().unwrap_or_default(), changes).map(Some),
        };
        let after = before.each().with(changes.each()).map(one);
        let after = after.whole()?;
        let shift = Shift { before: digests(before), after: digests(&after), changes };
        Some((shift, after))
    }

    /// From some texts to others.
    pub fn between(before: &Texts, after: &Texts) -> Shift {
        let changes = before.each().with(after.each()).map(|(before, after)| {
            let [before, after] = [before, after].map(|text| text.as_deref().unwrap_or_default());
            Change::between(before, after)
        });
        Shift { before: digests(before), after: digests(after), changes }
    }

    /// The texts after, from those before; `None` where these are others.
    pub fn after(&self, before: &Texts) -> Option<Texts> {
        let fits = digests(before) == self.before;
        let one = |((text, changes), after): ((&Option<String>, &Vec<Change>), &Option<String>)| {
            let text = changed(text.as_deref().unwrap_or_default(), changes)?;
            Some(after.is_some().then_some(text))
        };
        let after = before.each().with(self.changes.each()).with(self.after.each()).map(one);
        let after = after.whole()?;
        (fits && digests(&after) == self.after).then_some(after)
    }

    /// The way back.
    pub fn reversed(&self) -> Shift {
        Shift {
            before: self.after.clone(),
            after: self.before.clone(),
            changes: self.changes.each().map(|changes| Change::reversed(changes)),
        }
    }
}

impl Event {
    /// The batch that it is about, where it names one.
    pub fn batch(&self) -> Option<&str> {
        match self {
            Event::Settled(settled) => Some(&settled.batch),
            Event::Reserved { batch, .. } | Event::Dropped { batch } => Some(batch),
            _ => None,
        }
    }

    /// What it did to the files, where it did anything.
    pub fn shift(&self) -> Option<&Shift> {
        match self {
            Event::Edited(shift) | Event::Undone { shift, .. } | Event::Rebuilt { shift, .. } => {
                Some(shift)
            }
            Event::Settled(settled) => Some(&settled.shift),
            Event::Counted(record) => Some(&record.shift),
            Event::Begun { .. }
            | Event::Named { .. }
            | Event::Reserved { .. }
            | Event::Dropped { .. }
            | Event::Done { .. } => None,
        }
    }

    /// All counts that it holds.
    pub fn counts(&self) -> impl Iterator<Item = &u64> {
        let (settled, paper, record) = match self {
            Event::Settled(settled) => (Some(settled), None, None),
            Event::Reserved { paper, .. } => (None, Some(paper), None),
            Event::Counted(record) => (None, None, Some(record)),
            _ => (None, None, None),
        };
        let recounts = record.into_iter().flat_map(|it| {
            let changes = it.changes.iter().flat_map(|change| [&change.was, &change.is]);
            changes.chain([&it.confirmed])
        });
        let settled = settled.into_iter().flat_map(|it| {
            let lists =
                [&it.bought, &it.used, &it.rest, &it.runs, &it.spoiled, &it.taken, &it.wasted];
            let lists = lists.into_iter().chain(&it.aside);
            let kept = it.kept.iter().map(|kept| &kept.count);
            let stacks = it.stacks.iter().map(|stack| &stack.count);
            let pieces = it.pieces.iter().flatten().flat_map(Tally::counts);
            lists.flat_map(BTreeMap::values).chain(kept).chain(stacks).chain(pieces)
        });
        settled.chain(paper.into_iter().flat_map(BTreeMap::values)).chain(recounts)
    }

    /// Whether the program itself writes the files then, which has to be finished.
    pub fn writes(&self) -> bool {
        matches!(
            self,
            Event::Settled(_) | Event::Counted(_) | Event::Undone { .. } | Event::Rebuilt { .. }
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(sheets: &str, offcuts: Option<&str>) -> Texts {
        Texts {
            sheets: Some(sheets.to_owned()),
            offcuts: offcuts.map(str::to_owned),
            ..Texts::default()
        }
    }

    /// Test vectors of FIPS 180-2, appendix B.1, and of the empty message (NIST CAVP).
    #[test]
    fn digests_are_those_of_the_standard() {
        assert_eq!(
            digest(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert!(digest(b"").starts_with("e3b0c44298fc1c149afbf4c8996fb924"));
    }

    #[test]
    fn a_shift_leads_there_and_back() {
        for (before, after) in [
            (texts("a,b", None), texts("a,c", Some("new"))),
            (texts("a,b", Some("x")), texts("a,b", Some(""))),
            (texts("a,b", Some("")), texts("a,b", None)),
            (texts("a,b", Some("x")), texts("a,b", Some("x"))),
        ] {
            let shift = Shift::between(&before, &after);
            assert_eq!(shift.after(&before), Some(after.clone()));
            assert_eq!(shift.reversed().after(&after), Some(before.clone()));
            let other = texts("a,d", None);
            assert_eq!(shift.after(&other), None);
        }
    }

    #[test]
    fn changes_that_do_not_fit_are_none() {
        let change = Change { at: 0, old: "z".to_owned(), new: String::new() };
        let changes = PerFile { sheets: vec![change], ..PerFile::default() };
        assert_eq!(Shift::by(&texts("a", None), changes), None);
    }
}
