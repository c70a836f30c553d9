//! See tests/main.rs.

mod limits;
mod papers;
mod parts;
mod post;
mod quote;
mod recipes;
mod suites;
