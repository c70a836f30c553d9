//! See tests/main.rs.

mod papers;
mod parts;
mod post;
mod quote;
mod recipes;
