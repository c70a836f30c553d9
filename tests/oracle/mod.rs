//! Answers known another way: published optima, enumeration.

mod gcut;
