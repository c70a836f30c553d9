//! A letter as it is posted.

use crate::measure::{Length, Size, Weight};

/// A letter as it is posted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letter {
    /// Along the address.
    pub length: Length,
    /// Across it.
    pub height: Length,
    /// Where it is known.
    pub thickness: Option<Length>,
    /// Where it is known.
    pub weight: Option<Weight>,
    /// What it looks like from outside.
    pub form: MailForm,
    /// What is stiff or uneven in it.
    pub contents: MailContents,
}

/// What there is in a letter that machines do not take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct MailContents {
    /// It does not bend.
    pub is_rigid: bool,
    /// It is thicker in one place than in another.
    pub is_uneven: bool,
}

impl MailContents {
    /// What either of them is.
    #[must_use]
    pub fn and(self, other: MailContents) -> MailContents {
        MailContents {
            is_rigid: self.is_rigid || other.is_rigid,
            is_uneven: self.is_uneven || other.is_uneven,
        }
    }
}

/// What a letter looks like from outside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum MailForm {
    /// In an envelope.
    #[default]
    Enveloped,
    /// A single unfolded sheet without an envelope.
    Card,
    /// Without an envelope, and folded.
    Folded,
    /// Without an envelope, unfolded, with layers or loose parts.
    Layered,
}

impl Letter {
    /// In an envelope of this size, the address along its long side; thickness and weight are not known.
    pub fn enveloped(size: Size) -> Letter {
        Letter {
            length: size.long(),
            height: size.short(),
            thickness: None,
            weight: None,
            form: MailForm::Enveloped,
            contents: MailContents::default(),
        }
    }

    /// The side that the address stands on.
    pub(super) fn face(&self) -> Size {
        Size::new(self.length, self.height)
    }

    /// Length to height in thousandths, rounded to the nearest for showing.
    pub(super) fn ratio(&self) -> u64 {
        let (above, below) =
            (i128::from(self.length.ticks()) * 2000, i128::from(self.height.ticks()));
        u64::try_from((above + below) / (2 * below).max(1)).unwrap_or(u64::MAX)
    }

    /// Whether length to height is below a number of thousandths, exactly.
    pub(super) fn is_below(&self, ratio: u64) -> bool {
        self.compared() < i128::from(ratio) * self.unit()
    }

    /// Whether it is above.
    pub(super) fn is_above(&self, ratio: u64) -> bool {
        self.compared() > i128::from(ratio) * self.unit()
    }

    fn compared(&self) -> i128 {
        1000 * i128::from(self.length.ticks())
    }

    fn unit(&self) -> i128 {
        i128::from(self.height.ticks())
    }
}
