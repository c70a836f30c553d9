//! See tests/main.rs.

mod buying;
mod entries;
mod judge;
mod levels;
mod plans;
mod settings;
