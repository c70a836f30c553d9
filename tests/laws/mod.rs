//! See tests/main.rs.

mod judge;
mod levels;
mod plans;
mod settings;
