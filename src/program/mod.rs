//! How many sheets to cut by which pattern, what to buy, and a proof of how good that is.
//!
//! In: the [`Bill`](crate::pieces::Bill), the [`Stock`](crate::stock::Stock) and the
//! [`Workshop`](crate::workshop::Workshop), split into one [`Task`] for each group of papers. Out: an
//! [`Answer`] for each. It knows nothing of the plan's files, the schedule or the reports.
//!
//! # The program
//!
//! With pieces `i` (`n_i` wanted), supplies `s` (`h_s` at hand, packs of `k_s` at price `c_s`, value
//! `v_s` a sheet) and patterns `p` of `s` (`a_ip` pieces):
//!
//! ```text
//! x_p  sheets cut by pattern p      y_s  packs of s bought (0 where s cannot be bought)
//! level 1: min Σ c_s y_s            level 2: min Σ v_s x_p   with  Σ c_s y_s ≤ B, the best spend
//!   Σ_p a_ip x_p ≥ n_i                                 (value π_i: Duals::pieces)
//!   Σ_{p of s} x_p ≤ h_s + k_s y_s                     (value σ_s: Duals::sheets)
//!   x, y whole and ≥ 0
//! ```
//!
//! The patterns are far too many to list: they are generated when a dual solution makes them worth
//! more than their sheet (Gilmore & Gomory 1961, Operations Research 9:849-859; 1965, 13:94-120). The
//! relaxation's bound is rounded up to the next cost that whole sheets can have (`attainable`); plans
//! come from filling sheet by sheet (`fill`), diving and the integer program over the patterns found
//! (`rounding`), from the linear program sheet by sheet (`descent`), and from solving small parts of a plan
//! anew (`refine`); where plan and bound still differ, `search` branches on packs and sheets, and on
//! patterns where all that matter can be listed (`listed`). Where there is a choice of what to buy, whole packs
//! are chosen before patterns (`purchase`), and every paper (`part`) is then cut by itself. `settle` goes these
//! ways for a level.
//!
//! # The proof
//!
//! A certificate is the vector (π, σ, and ρ for the budget at level 2) in whole numbers over a scale:
//!
//! - level 1: every pattern of `s` is worth at most `σ_s`; `k_s σ_s ≤ c_s` where `s` can be bought;
//!   bound = `Σ n_i π_i − Σ h_s σ_s`.
//! - level 2: every pattern of `s` is worth at most `v_s + σ_s`; `k_s σ_s ≤ ρ c_s` where `s` can be
//!   bought; bound = `Σ n_i π_i − Σ h_s σ_s − ρ B`.

mod attainable;
mod by_area;
mod candidate;
mod certificate;
mod descent;
mod dual_feasible;
mod engine;
mod fill;
mod level;
mod listed;
mod master;
mod meter;
mod part;
mod pool;
mod purchase;
mod ranking;
mod refine;
mod relaxation;
mod room;
mod rounding;
#[cfg(test)]
mod samples;
mod search;
mod settle;
mod shortage;
mod solve;
mod task;

pub use certificate::Certificate;
pub use engine::Engine;
pub use room::Room;
pub use shortage::Shortage;
pub use solve::{Answer, Known, Proven, Settings, Stop, Tried, Way, solve};
pub use task::{Item, Supply, Task, tasks};
