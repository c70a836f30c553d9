//! See tests/main.rs.

mod papers;
mod post;
mod quote;
mod recipes;
