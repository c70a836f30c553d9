//! See tests/main.rs.

mod buying;
mod judge;
mod levels;
mod plans;
mod settings;
