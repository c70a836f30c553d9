//! The files of the stock, treated alike.

use crate::diagnostics::WorkshopFile;
use serde::{Deserialize, Serialize};

/// One thing for each file of the stock. Journals of earlier versions know of the first two alone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[serde(bound(
    serialize = "T: Serialize + Default + PartialEq",
    deserialize = "T: Deserialize<'de> + Default"
))]
pub struct PerFile<T> {
    /// Of `sheets.csv`.
    pub sheets: T,
    /// Of `offcuts.csv`.
    pub offcuts: T,
    /// Of `envelopes.csv`.
    #[serde(skip_serializing_if = "is_usual", default)]
    pub envelopes: T,
    /// Of `sundries.csv`.
    #[serde(skip_serializing_if = "is_usual", default)]
    pub sundries: T,
}

/// Whether a value is what a missing key stands for.
fn is_usual<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// What is in the files; `None` where one is not there.
pub type Texts = PerFile<Option<String>>;

/// What the files are called where nobody names them.
pub const USUAL_NAMES: PerFile<&str> = PerFile {
    sheets: "sheets.csv",
    offcuts: "offcuts.csv",
    envelopes: "envelopes.csv",
    sundries: "sundries.csv",
};

impl<T> PerFile<T> {
    /// All by reference.
    pub fn each(&self) -> PerFile<&T> {
        let PerFile { sheets, offcuts, envelopes, sundries } = self;
        PerFile { sheets, offcuts, envelopes, sundries }
    }

    /// What `make` makes of each.
    pub fn map<U>(self, mut make: impl FnMut(T) -> U) -> PerFile<U> {
        PerFile {
            sheets: make(self.sheets),
            offcuts: make(self.offcuts),
            envelopes: make(self.envelopes),
            sundries: make(self.sundries),
        }
    }

    /// Each beside its fellow of others.
    pub fn with<U>(self, other: PerFile<U>) -> PerFile<(T, U)> {
        PerFile {
            sheets: (self.sheets, other.sheets),
            offcuts: (self.offcuts, other.offcuts),
            envelopes: (self.envelopes, other.envelopes),
            sundries: (self.sundries, other.sundries),
        }
    }

    /// In the order of the files.
    pub fn array(self) -> [T; 4] {
        [self.sheets, self.offcuts, self.envelopes, self.sundries]
    }
}

impl<'a> PerFile<Option<&'a str>> {
    /// Where they are, for commands that name them.
    pub fn named(self) -> [WorkshopFile<'a>; 4] {
        let file = |(usual, path)| WorkshopFile { usual, path };
        USUAL_NAMES.with(self).map(file).array()
    }
}

impl<T> PerFile<Option<T>> {
    /// All of them; `None` where one is.
    pub fn whole(self) -> Option<PerFile<T>> {
        let PerFile { sheets, offcuts, envelopes, sundries } = self;
        Some(PerFile {
            sheets: sheets?,
            offcuts: offcuts?,
            envelopes: envelopes?,
            sundries: sundries?,
        })
    }
}

impl<T, E> PerFile<Result<T, E>> {
    /// All of them, or the first failure.
    ///
    /// # Errors
    /// What any of them says.
    pub fn all(self) -> Result<PerFile<T>, E> {
        let PerFile { sheets, offcuts, envelopes, sundries } = self;
        Ok(PerFile {
            sheets: sheets?,
            offcuts: offcuts?,
            envelopes: envelopes?,
            sundries: sundries?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Journals that were written before there were envelopes and sundries stay what they are.
    #[test]
    fn what_is_not_there_is_not_written() {
        let old = "{\"sheets\":\"a\",\"offcuts\":null}";
        let texts: Texts = serde_json::from_str(old).unwrap();
        assert_eq!((texts.envelopes.as_ref(), texts.sundries.as_ref()), (None, None));
        assert_eq!(serde_json::to_string(&texts).unwrap(), old);
        let new = Texts { sundries: Some("b".to_owned()), ..texts };
        let written = serde_json::to_string(&new).unwrap();
        assert_eq!(serde_json::from_str::<Texts>(&written).unwrap(), new);
    }
}
