//! How many sheets to cut by which pattern, what to buy, and a proof of how good that is.
