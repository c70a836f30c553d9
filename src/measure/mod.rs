//! Exact numbers: text in, integers out, text again.
//!
//! In: what a person typed (`8 1/2`, `216 mm`, `1.10`). Out: [`Length`], [`Thickness`], [`Size`], [`Area`],
//! [`Money`], [`Weight`], [`Worth`], amounts in an [`AmountUnit`], all whole numbers; and [`Ratio`] for exact shares of them. It knows nothing of cards, sheets or files.

mod amount;
mod area;
mod count;
mod divisor;
mod fraction;
mod glyphs;
mod length;
mod money;
mod percent;
mod ratio;
mod size;
mod thickness;
mod weight;
mod worth;

pub use amount::{AmountError, AmountUnit};
pub use area::Area;
pub use count::{CountError, parse_count, parse_thousandths};
pub use divisor::greatest_common_divisor;
pub use length::{Length, LengthError, LengthStyle, Unit, Usual};
pub use money::{Currency, Money, MoneyError};
pub use percent::Percent;
pub use ratio::Ratio;
pub use size::{Axis, Size, is_cross};
pub use thickness::Thickness;
pub use weight::Weight;
pub use worth::Worth;
