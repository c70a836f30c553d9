//! All tests that see the program from outside, in one binary.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test fails by a panic"
)]

mod alone;
mod architecture;
mod bench;
mod cli;
mod desk;
mod docs;
mod driven;
mod folder;
mod golden;
mod laws;
mod messages;
mod oracle;
mod pages;
mod program;
mod shelf;
mod standards;
