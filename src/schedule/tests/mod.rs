//! The schedule as a whole: played step by step, and compared with steps written down by hand.

mod finishing;
mod fixtures;
mod jobs;
mod laws;
mod minding;
mod replaying;
mod scissors;
mod simulation;
pub mod trees;
