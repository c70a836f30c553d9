//! How far the cutting of a plan has come.

use serde::{Deserialize, Serialize};
use std::fmt::{self, Display, Formatter};
use std::str::FromStr;

/// The end of a step of the schedule, or of one of its lifts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reached {
    /// The step, counted from 1.
    pub step: u32,
    /// Lifts of it that are cut; `None` is all of them.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub lifts: Option<u64>,
}

impl FromStr for Reached {
    type Err = &'static str;

    /// `30`, or `30:4` for four lifts of step 30.
    fn from_str(text: &str) -> Result<Reached, &'static str> {
        let number = |text: &str| text.trim().parse::<u64>().ok().filter(|number| *number > 0);
        let (step, lifts) = match text.split_once(':') {
            None => (number(text), None),
            Some((step, lifts)) => match number(lifts) {
                None => (None, None),
                lifts => (number(step), lifts),
            },
        };
        let step = step.and_then(|step| u32::try_from(step).ok());
        step.map(|step| Reached { step, lifts })
            .ok_or("expected a step, such as 30, or a lift of it, such as 30:4")
    }
}

impl Display for Reached {
    fn fmt(&self, formatter: &mut Formatter<'_>) -> fmt::Result {
        match self.lifts {
            None => write!(formatter, "step {}", self.step),
            Some(lifts) => write!(formatter, "lift {lifts} of step {}", self.step),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_or_a_lift_is_read() {
        let read = |text: &str| text.parse::<Reached>().ok().map(|it| (it.step, it.lifts));
        assert_eq!(read("30"), Some((30, None)));
        assert_eq!(read(" 30 : 4 "), Some((30, Some(4))));
        for wrong in ["", "0", "30:", "30:0", ":4", "-1", "3.5", "4294967296", "30:4:1", "R1"] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
        let shown = |text: &str| text.parse::<Reached>().unwrap().to_string();
        assert_eq!([shown("30"), shown("30:4")], ["step 30", "lift 4 of step 30"]);
    }
}
