//! See tests/main.rs.
