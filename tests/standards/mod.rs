//! See tests/main.rs.

mod recipes;
