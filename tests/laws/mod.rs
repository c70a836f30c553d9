//! Properties on random input: needs met, nothing overlaps, areas balance, print and grain obeyed,
//! `parse(print(x)) = x`, bound ≤ value, row order changes nothing, doubling every length changes no count, more stock
//! never costs more, the judge accepts what we make and rejects what we break.

mod as_many;
mod bounds;
mod buying;
mod edges;
mod entries;
mod judge;
mod levels;
mod limits;
mod plans;
mod sets;
mod settings;
mod worth;
