//! A spreadsheet file as rows of cells with exact places.
//!
//! In: the bytes of a CSV file in any of the usual habits. Out: a [`Table`] whose cells know their line
//! and column. It does not know what the columns mean.
