//! The way of the data, from order to reports.
