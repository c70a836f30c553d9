//! The files of a desk, as its page has them.

use crate::batch::{Inputs, Source};
use crate::diagnostics::Problem;
use crate::shelf::Journal;
use crate::stock::{PerFile, USUAL_NAMES};
use crate::table::Named;
use serde::Deserialize;

/// Which file it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum FileKind {
    /// The order.
    Order,
    /// The full sheets.
    Sheets,
    /// The drawer.
    Offcuts,
    /// Bought envelopes.
    Envelopes,
    /// Whatever else is bought ready-made.
    Sundries,
}

impl FileKind {
    /// All of them.
    pub const ALL: [FileKind; 5] = [
        FileKind::Order,
        FileKind::Sheets,
        FileKind::Offcuts,
        FileKind::Envelopes,
        FileKind::Sundries,
    ];

    /// Its name in a document.
    pub const fn word(self) -> &'static str {
        match self {
            FileKind::Order => "order",
            FileKind::Sheets => "sheets",
            FileKind::Offcuts => "offcuts",
            FileKind::Envelopes => "envelopes",
            FileKind::Sundries => "sundries",
        }
    }
}

/// A file as a page has it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeskFile {
    /// Its name, by which messages call it.
    pub name: String,
    /// What is in it.
    pub text: String,
}

/// All files of a desk; without those that are not there.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeskFiles {
    /// The order.
    pub order: DeskFile,
    /// The full sheets.
    #[serde(default)]
    pub sheets: Option<DeskFile>,
    /// The drawer.
    #[serde(default)]
    pub offcuts: Option<DeskFile>,
    /// Bought envelopes.
    #[serde(default)]
    pub envelopes: Option<DeskFile>,
    /// Whatever else is bought ready-made.
    #[serde(default)]
    pub sundries: Option<DeskFile>,
    /// The bench.
    #[serde(default)]
    pub workshop: Option<DeskFile>,
    /// The journal of the shelf.
    #[serde(default)]
    pub journal: Option<DeskFile>,
}

impl DeskFile {
    /// The same for a reader of the batch.
    pub(super) fn source(&self) -> Source {
        Source { name: self.name.clone(), bytes: self.text.clone().into_bytes() }
    }

    fn named(&self) -> Named<'_> {
        Named::new(&self.name, &self.text)
    }
}

impl DeskFiles {
    /// One of its tables; `None` where it is not there.
    pub fn table(&self, kind: FileKind) -> Option<&DeskFile> {
        match kind {
            FileKind::Order => Some(&self.order),
            FileKind::Sheets => self.sheets.as_ref(),
            FileKind::Offcuts => self.offcuts.as_ref(),
            FileKind::Envelopes => self.envelopes.as_ref(),
            FileKind::Sundries => self.sundries.as_ref(),
        }
    }

    /// The files of the stock.
    pub fn stock(&self) -> PerFile<Option<Named<'_>>> {
        let DeskFiles { sheets, offcuts, envelopes, sundries, .. } = self;
        let files = PerFile { sheets, offcuts, envelopes, sundries };
        files.map(|file| file.as_ref().map(DeskFile::named))
    }

    /// The names of its files of which it has no text.
    pub fn without_text(&self) -> Vec<&str> {
        let PerFile { sheets, offcuts, envelopes, sundries } = USUAL_NAMES;
        let files = [
            (&self.sheets, sheets),
            (&self.offcuts, offcuts),
            (&self.envelopes, envelopes),
            (&self.sundries, sundries),
            (&self.workshop, "workshop.toml"),
        ];
        let absent = files.into_iter().filter(|(file, _)| file.is_none()).map(|(_, name)| name);
        let order = Some(self.order.name.as_str()).filter(|_| self.order.text.is_empty());
        order.into_iter().chain(absent).collect()
    }

    /// All that a batch is made from.
    ///
    /// # Errors
    /// The journal is damaged: what is set aside is not known.
    pub fn inputs(&self) -> Result<Inputs, Box<Problem>> {
        let source = |file: &Option<DeskFile>| file.as_ref().map(DeskFile::source);
        let journal = self.journal.as_ref();
        let journal = journal.map(|it| Journal::read(&it.name, it.text.as_bytes())).transpose()?;
        let none = || Source { name: "sheets.csv".to_owned(), bytes: Vec::new() };
        Ok(Inputs {
            orders: vec![self.order.source()],
            sheets: source(&self.sheets).unwrap_or_else(none),
            offcuts: source(&self.offcuts),
            envelopes: source(&self.envelopes),
            sundries: source(&self.sundries),
            workshop: source(&self.workshop),
            reserved: journal.map(|journal| journal.reserved()).unwrap_or_default(),
            ..Inputs::default()
        })
    }
}
