//! What a person reads: one exact message for each code, through one builder.

mod builder;
mod codes;
mod many;
mod order;
mod piece;
mod plan;
mod stock;
mod table;
mod workshop;

pub use builder::same;
