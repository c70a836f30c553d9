//! `plan.json`: the plan itself, for programs.

use crate::plan::Plan;
use serde::Serialize;
use serde_json::Serializer;
use serde_json::ser::Formatter;
use std::io::{self, Write};

/// The plan as JSON, keys in their declared order, with a line end behind it. What its lists hold has a line for each
/// key; what lies deeper, such as cuts below each other, stands in that line.
pub fn plan(plan: &Plan) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = Vec::new();
    plan.serialize(&mut Serializer::with_formatter(&mut bytes, Lines::default()))?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Levels in which everything has a line: the plan, its lists, and what these hold.
const LEVELS: usize = 3;

/// Lines for the upper levels.
#[derive(Default)]
struct Lines {
    depth: usize,
    /// Whether the list or object that is written has anything in it.
    is_filled: bool,
}

impl Lines {
    fn open<W: ?Sized + Write>(&mut self, to: &mut W, bracket: &[u8]) -> io::Result<()> {
        self.depth += 1;
        self.is_filled = false;
        to.write_all(bracket)
    }

    fn close<W: ?Sized + Write>(&mut self, to: &mut W, bracket: &[u8]) -> io::Result<()> {
        let has_lines = self.is_filled && self.depth <= LEVELS;
        self.depth -= 1;
        if has_lines {
            self.line(to)?;
        }
        to.write_all(bracket)
    }

    fn next<W: ?Sized + Write>(&mut self, to: &mut W, first: bool) -> io::Result<()> {
        match (first, self.depth <= LEVELS) {
            (true, true) => self.line(to),
            (true, false) => Ok(()),
            (false, true) => to.write_all(b",").and_then(|()| self.line(to)),
            (false, false) => to.write_all(b", "),
        }
    }

    fn line<W: ?Sized + Write>(&self, to: &mut W) -> io::Result<()> {
        to.write_all(b"\n")?;
        (0..self.depth).try_for_each(|_| to.write_all(b"  "))
    }
}

impl Formatter for Lines {
    fn begin_array<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.open(to, b"[")
    }

    fn end_array<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.close(to, b"]")
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, to: &mut W, first: bool) -> io::Result<()> {
        self.next(to, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.is_filled = true;
        Ok(())
    }

    fn begin_object<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.open(to, b"{")
    }

    fn end_object<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.close(to, b"}")
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, to: &mut W, first: bool) -> io::Result<()> {
        self.next(to, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        to.write_all(b": ")
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.is_filled = true;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use crate::plan::Plan;
    use crate::reports::fixture;

    #[test]
    fn a_plan_read_back_is_the_same_plan() {
        for made in [fixture::lesson(), fixture::fair()] {
            let bytes = super::plan(&made.plan).unwrap();
            assert_eq!(serde_json::from_slice::<Plan>(&bytes).unwrap(), made.plan);
            assert!(bytes.ends_with(b"}\n"));
        }
    }

    /// A run with all its cuts is a line, however deep they lie.
    #[test]
    fn lines_are_short_of_blanks() {
        let made = fixture::fair();
        let text = String::from_utf8(super::plan(&made.plan).unwrap()).unwrap();
        assert!(text.lines().all(|line| line.len() - line.trim_start().len() <= 6));
        let layouts = text.lines().filter(|line| line.starts_with("      \"layout\": {")).count();
        assert_eq!(layouts, made.plan.runs.len());
    }

    #[test]
    fn keys_stand_in_their_declared_order() {
        let text = String::from_utf8(super::plan(&fixture::lesson().plan).unwrap()).unwrap();
        let keys = ["\"schema\"", "\"ticks_per_mm\"", "\"order\"", "\"currency\"", "\"pieces\""];
        let places: Vec<usize> = keys.iter().map(|key| text.find(key).unwrap()).collect();
        assert!(places.is_sorted());
    }
}
