//! Answers known another way: published optima, enumeration.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout)]

mod enumeration;
mod gcut;
mod layouts;
mod listing;
mod orders;
mod sound;
