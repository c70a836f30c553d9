//! Answers known another way: published optima, enumeration, another engine.
//!
//! With the feature `highs`, `engines.rs` plans small orders with both engines: values agree wherever both are proven,
//! and no bound of one exceeds a value of the other. `reference.rs` lists all patterns of tiny orders and solves the
//! integer program over them at once, without our program.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout)]

mod as_many;
#[cfg(feature = "highs")]
mod engines;
mod enumeration;
mod gcut;
mod layouts;
mod listing;
mod orders;
#[cfg(feature = "highs")]
mod reference;
mod sound;
mod worth;
