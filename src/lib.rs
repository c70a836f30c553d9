//! Cardwright plans batches of handmade cards: which pieces to cut, from which sheets, in what order,
//! with a proof of how good the plan is. [`batch`] reads top to bottom what happens.

pub mod assembly;
pub mod batch;
#[cfg(feature = "commands")]
pub mod cli;
pub mod cuts;
pub mod desk;
pub mod diagnostics;
pub mod folds;
pub mod formats;
pub mod job;
pub mod made;
pub mod measure;
pub mod orders;
pub mod patterns;
pub mod pieces;
pub mod plan;
pub mod program;
pub mod quote;
pub mod reports;
pub mod schedule;
pub mod settling;
pub mod shelf;
pub mod sizes;
pub mod stock;
pub mod table;
pub mod workshop;
