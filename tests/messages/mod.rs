//! What a person reads: one exact message for each code, through one builder.

mod builder;
mod codes;
mod many;
mod order;
mod piece;
mod plan;
mod short;
mod stock;
mod supplies;
mod table;
mod take;
mod workshop;

pub use builder::same;
