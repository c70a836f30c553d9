//! All tests that see the program from outside, in one binary.

mod cli;
mod golden;
mod laws;
mod messages;
mod oracle;
mod standards;
