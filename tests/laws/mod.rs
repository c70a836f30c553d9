//! See tests/main.rs.

mod judge;
