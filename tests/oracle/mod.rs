//! Answers known another way: published optima, enumeration, another engine.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout)]

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
