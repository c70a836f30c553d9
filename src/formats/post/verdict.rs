//! What a post says to a letter.

use super::{PostClass, Reason};
use crate::measure::LengthStyle;

/// What a post says to a letter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostVerdict<'a> {
    /// The class that takes it; `None` where none does.
    pub class: Option<&'a PostClass>,
    /// For each better class, or for all where none takes it, why it does not.
    pub refused: Vec<(&'a PostClass, Vec<Reason>)>,
}

impl PostVerdict<'_> {
    /// Where a smallest size is from because of which alone it may not be taken; `None` where nothing is in doubt.
    pub fn doubt(&self) -> Option<&str> {
        let (class, reasons) = self.doubtful()?;
        class.doubt_of(reasons)
    }

    fn doubtful(&self) -> Option<&(&PostClass, Vec<Reason>)> {
        let mut refused = self.refused.iter().filter(|_| self.class.is_none());
        refused.find(|(class, reasons)| class.doubt_of(reasons).is_some())
    }

    /// Whether it is too large or too heavy for the last class of letters: then it goes as a parcel.
    pub fn is_parcel(&self) -> bool {
        let last = self.refused.last().filter(|_| self.class.is_none());
        last.is_some_and(|(_, reasons)| reasons.iter().any(Reason::is_too_much))
    }

    /// The class that takes it, that it goes as a parcel, or that nothing of this is so.
    pub fn word(&self) -> &str {
        match self.class {
            Some(class) => &class.name,
            None if self.is_parcel() => "parcel",
            None if self.doubt().is_some() => "may not be taken",
            None => "not taken",
        }
    }

    /// How good the answer is; 0 for the best class.
    pub fn rank(&self) -> usize {
        self.refused.len()
    }

    /// Why a letter is not of the class that would otherwise take it: the one of which it breaks the fewest limits, and
    /// by least. `no letter: 162 mm high, at most 155.575 mm`; empty where it is of the best.
    pub fn why(&self, style: LengthStyle) -> String {
        let nearest = || {
            let by = |(_, reasons): &&(&PostClass, Vec<Reason>)| {
                (reasons.len(), reasons.iter().map(Reason::distance).sum::<i128>())
            };
            self.refused.iter().min_by_key(by)
        };
        let doubt = self.doubt().filter(|_| !self.is_parcel());
        let decisive = if doubt.is_some() { self.doubtful() } else { nearest() };
        decisive.map_or_else(String::new, |(better, reasons)| {
            let told: Vec<String> = reasons.iter().map(|reason| reason.told(style)).collect();
            let why = format!("no {}: {}", better.name, told.join("; "));
            match doubt {
                Some(source) => format!("{why} ({source})"),
                None => why,
            }
        })
    }
}
