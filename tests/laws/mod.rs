//! See tests/main.rs.

mod bounds;
mod buying;
mod entries;
mod judge;
mod levels;
mod limits;
mod plans;
mod settings;
mod worth;
