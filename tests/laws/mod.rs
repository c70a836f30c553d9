//! See tests/main.rs.

mod judge;
mod plans;
