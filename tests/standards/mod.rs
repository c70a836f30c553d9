//! See tests/main.rs.

mod folds;
mod limits;
mod papers;
mod parts;
mod post;
mod quote;
mod recipes;
mod suites;
