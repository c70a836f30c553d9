//! See tests/main.rs.

mod finishes;
mod folds;
mod limits;
mod papers;
mod parts;
mod post;
mod quote;
mod recipes;
mod suites;
