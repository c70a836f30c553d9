//! What day it is.

use jiff::ZonedDateTime;
use jiff::civil::Date;

/// The day that was named, or today where the person is.
pub fn day(named: Option<Date>) -> Date {
    named.unwrap_or_else(|| ZonedDateTime::now().date())
}
