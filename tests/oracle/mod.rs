//! Answers known another way: published optima, enumeration.

mod enumeration;
mod gcut;
mod sound;
