//! The tables of the trade, with a source per row.
//!
//! It knows nothing of orders.
