//! How many sheets to cut by which pattern, what to buy, and a proof of how good that is.
//!
//! In: the [`Bill`](crate::pieces::Bill), the [`Stock`](crate::stock::Stock) and the
//! [`Workshop`](crate::workshop::Workshop), split into one [`Task`] for each group of papers. Out: an [`Answer`] for
//! each. It knows nothing of the plan's files, the schedule or the reports.
//!
//! | file | what |
//! | --- | --- |
//! | `task.rs`, `part.rs` | a group of papers; one paper of it |
//! | `solve.rs`, `settle.rs` | level by level; the ways that a level goes |
//! | `level.rs`, `candidate.rs`, `ranking.rs` | what a level minimises, plans in whole numbers, the best so far |
//! | `shortage.rs`, `fill.rs`, `start.rs` | a first plan, or what stands in its way |
//! | `inquiry.rs` | whether the stock is enough for other counts |
//! | `relaxation.rs`, `master.rs`, `pool.rs` | the relaxed program and its patterns |
//! | `certificate.rs`, `by_area.rs`, `dual_feasible.rs`, `attainable.rs` | bounds in whole numbers |
//! | `purchase/` | what to buy, in whole packs |
//! | `rounding.rs`, `descent.rs`, `refine.rs` | whole plans from the relaxed one, and better ones |
//! | `listed.rs`, `search.rs` | searches that end in a proof |
//! | `meter.rs`, `room.rs` | how much work and memory all of that takes |
//! | `engine/` | what solves the linear programs |
//!
//! # The program
//!
//! Piece `i` is wanted `n_i` times, ordered and spares. Of sheet `s`, full sheet or offcut, `h_s` are on hand. A pack
//! holds `k_s` sheets and costs `c_s`; one sheet counts `v_s`. Pattern `p` of `s` yields `a_ip` of piece `i`.
//!
//! ```text
//! x_p   sheets cut by pattern p
//! y_s   packs of s bought; 0 where s cannot be bought
//!
//! level 1, spend:   min  Σ_s c_s y_s
//! level 2, stock:   min  Σ_s v_s Σ_{p of s} x_p    with  Σ_s c_s y_s ≤ B,  B the least spend of level 1
//!
//!           Σ_p a_ip x_p     ≥ n_i             for each piece i    value π_i: Duals::pieces
//!           Σ_{p of s} x_p   ≤ h_s + k_s y_s   for each sheet s    value σ_s: Duals::sheets
//!           x, y ≥ 0 and whole
//! ```
//!
//! All of these are whole numbers: `c_s` and `B` count units of price, `v_s` units of worth (`stock/units.rs`). Levels
//! 3 and 4 choose among the plans that are best on levels 1 and 2, and prove nothing (`assembly/improve/`).
//!
//! There are too many patterns to list, so they are made as they are needed: solve the linear program over the patterns
//! known so far, take the values π of the pieces, look for the pattern that is worth most at these values, add it if it
//! is worth more than it may be, and repeat (Gilmore & Gomory 1961, 1965). The first plan, filled sheet by sheet, makes
//! sure that there always is one. Floating point finds values and plans, and never judges them.
//!
//! # The proof
//!
//! A certificate is values `π_i ≥ 0`, `σ_s ≥ 0` and, at level 2, `ρ ≥ 0`, in whole numbers over one scale.
//!
//! **Level 1.** If
//!
//! ```text
//! Σ_i a_ip π_i ≤ σ_s     for every pattern p of every sheet s        (1)
//! k_s σ_s      ≤ c_s     for every sheet s that can be bought        (2)
//! ```
//!
//! then no plan spends less than `Σ n_i π_i − Σ h_s σ_s`. For any plan `(x, y)`:
//!
//! ```text
//! Σ_i n_i π_i  ≤  Σ_i π_i Σ_p a_ip x_p              needs are met
//!              =  Σ_p x_p Σ_i a_ip π_i
//!              ≤  Σ_s σ_s Σ_{p of s} x_p            by (1)
//!              ≤  Σ_s σ_s (h_s + k_s y_s)           no more sheets than there are
//!              ≤  Σ_s h_s σ_s  +  Σ_s c_s y_s       by (2); y_s = 0 where s cannot be bought
//! ```
//!
//! **Level 2.** If
//!
//! ```text
//! Σ_i a_ip π_i ≤ v_s + σ_s   for every pattern p of every sheet s    (3)
//! k_s σ_s      ≤ ρ c_s       for every sheet s that can be bought    (4)
//! ```
//!
//! then no plan that spends at most `B` uses less than `Σ n_i π_i − Σ h_s σ_s − ρ B`, by the same steps:
//!
//! ```text
//! Σ_i n_i π_i  ≤  Σ_s (v_s + σ_s) Σ_{p of s} x_p
//!              ≤  Σ_s v_s Σ_{p of s} x_p  +  Σ_s σ_s (h_s + k_s y_s)
//!              ≤  Σ_s v_s Σ_{p of s} x_p  +  Σ_s h_s σ_s  +  ρ B
//! ```
//!
//! Every plan's value is a sum of prices (level 1) or of sheets' values (level 2), so a bound may be rounded up to the
//! next such sum (`attainable.rs`).
//!
//! A level is proven when its value equals its bound. The bound of the linear program, rounded up, often equals the
//! best whole plan, but not always. Then needs may raise it (`purchase/`), or a search over whole numbers that makes
//! patterns on the way may close the gap (Vanderbeck & Wolsey 1996; Vanderbeck 2000). The plan then says
//! `complete_search`, since the certificate alone no longer proves the bound. Else the level has a gap, and both
//! numbers are given.
//!
//! # Literature
//!
//! - Baldacci, R., Christofides, N., Mingozzi, A. (2008). An exact algorithm for the vehicle routing problem based on
//!   the set partitioning formulation with additional cuts. *Mathematical Programming* 115, 351–385. (`listed.rs`)
//! - Benders, J. F. (1962). Partitioning procedures for solving mixed-variables programming problems. *Numerische
//!   Mathematik* 4, 238–252. (`purchase/`)
//! - Farley, A. A. (1990). A note on bounding a class of linear programming problems, including cutting stock problems.
//!   *Operations Research* 38, 922–923. (`certificate.rs`)
//! - Gilmore, P. C., Gomory, R. E. (1961). A linear programming approach to the cutting-stock problem. *Operations
//!   Research* 9, 849–859.
//! - Gilmore, P. C., Gomory, R. E. (1965). Multistage cutting stock problems of two and more dimensions. *Operations
//!   Research* 13, 94–120.
//! - Huangfu, Q., Hall, J. A. J. (2018). Parallelizing the dual revised simplex method. *Mathematical Programming
//!   Computation* 10, 119–142. (`engine/highs.rs`)
//! - Lemke, C. E. (1954). The dual method of solving the linear programming problem. *Naval Research Logistics
//!   Quarterly* 1, 36–47. (`purchase/simplex.rs`)
//! - Nemhauser, G. L., Wolsey, L. A. (1990). A recursive procedure to generate all cuts for 0–1 mixed integer programs.
//!   *Mathematical Programming* 46, 379–390. (`purchase/need.rs`)
//! - Shaw, P. (1998). Using constraint programming and local search methods to solve vehicle routing problems. *CP98,
//!   Lecture Notes in Computer Science* 1520, 417–431. (`refine.rs`)
//! - Vanderbeck, F. (2000). On Dantzig-Wolfe decomposition in integer programming and ways to perform branching in a
//!   branch-and-price algorithm. *Operations Research* 48, 111–128. (`search.rs`)
//! - Vanderbeck, F., Wolsey, L. A. (1996). An exact algorithm for IP column generation. *Operations Research Letters*
//!   19, 151–159. (`search.rs`)
//! - Wentges, P. (1997). Weighted Dantzig–Wolfe decomposition for linear mixed-integer programming. *International
//!   Transactions in Operational Research* 4, 151–162. (`relaxation.rs`)

mod attainable;
mod by_area;
mod candidate;
mod certificate;
mod descent;
mod dual_feasible;
mod engine;
mod fill;
mod inquiry;
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
mod start;
mod task;
mod words;

pub use certificate::Certificate;
pub use engine::Engine;
pub use inquiry::{Inquiry, StockFilling};
pub use room::Room;
pub use shortage::Shortage;
pub use solve::solve;
pub use start::Start;
pub use task::{Item, Supply, Task, tasks};
pub use words::{Answer, Known, Proven, Settings, Stop, Tried, Way};
