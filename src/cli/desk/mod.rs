//! `cardwright desk`: a page with the program behind it.
//!
//! Few kinds of question go from the page to `crate::desk`, which knows no files; whatever changes the shelf is done by the
//! program's own commands. `serve/` brings questions and answers over the network of this machine, `alone.rs` by the standard
//! streams, where the page has the program in itself.

#[cfg(feature = "page")]
mod alone;
#[cfg_attr(not(feature = "command-line"), expect(dead_code, reason = "only a network has phones"))]
mod answers;
mod commands;
#[cfg_attr(not(feature = "command-line"), expect(dead_code, reason = "only a network has phones"))]
mod folder;
mod names;
mod replace;
mod scratch;
#[cfg(feature = "command-line")]
mod serve;
mod steps;
mod take;
mod trouble;

#[cfg(feature = "page")]
pub use alone::answer_alone;
#[cfg(feature = "command-line")]
pub use serve::run;
