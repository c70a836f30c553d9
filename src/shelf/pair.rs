//! Both files of a shelf, sheets and drawer, treated alike.

use serde::{Deserialize, Serialize};

/// One thing for the file of sheets and one for the drawer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pair<T> {
    /// Of `sheets.csv`.
    pub sheets: T,
    /// Of `offcuts.csv`.
    pub offcuts: T,
}

/// What is in both files; `None` where one is not there.
pub type Texts = Pair<Option<String>>;

impl<T> Pair<T> {
    /// Both by reference.
    pub fn each(&self) -> Pair<&T> {
        Pair { sheets: &self.sheets, offcuts: &self.offcuts }
    }

    /// What `make` makes of each.
    pub fn map<U>(self, mut make: impl FnMut(T) -> U) -> Pair<U> {
        Pair { sheets: make(self.sheets), offcuts: make(self.offcuts) }
    }

    /// Each beside its fellow of another pair.
    pub fn with<U>(self, other: Pair<U>) -> Pair<(T, U)> {
        let Pair { sheets, offcuts } = other;
        Pair { sheets: (self.sheets, sheets), offcuts: (self.offcuts, offcuts) }
    }

    /// First the sheets', then the drawer's.
    pub fn array(self) -> [T; 2] {
        [self.sheets, self.offcuts]
    }
}

impl<T, E> Pair<Result<T, E>> {
    /// Both, or the first failure.
    ///
    /// # Errors
    /// What either of them says.
    pub fn both(self) -> Result<Pair<T>, E> {
        Ok(Pair { sheets: self.sheets?, offcuts: self.offcuts? })
    }
}
