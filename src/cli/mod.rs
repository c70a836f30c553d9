//! Arguments, progress, and problems shown to a person.

pub mod render;
