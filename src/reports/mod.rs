//! One neutral report and one neutral drawing, and the formats that translate them.
//!
//! In: order, stock, workshop, bill, checked plan, schedule. Out: the files of `reports/<order>/` and
//! the terminal summary. It solves nothing.
