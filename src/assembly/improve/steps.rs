//! Steps in which something is looked for, until they are used up or it is called off.

use crate::program::Stop;
use std::cell::Cell;

/// Steps that are left.
pub(in crate::assembly) struct Steps<'a> {
    left: Cell<u64>,
    stop: Stop<'a>,
}

impl<'a> Steps<'a> {
    /// So many steps, none once `stop` says so.
    pub fn new(left: u64, stop: Stop<'a>) -> Steps<'a> {
        Steps { left: Cell::new(left), stop }
    }

    /// How many are left.
    pub fn get(&self) -> u64 {
        if (self.stop)() { 0 } else { self.left.get() }
    }

    /// Whether it is called off.
    pub fn is_called_off(&self) -> bool {
        (self.stop)()
    }

    /// Puts so many there from now on.
    pub fn set(&self, left: u64) {
        self.left.set(left);
    }

    /// Takes one; `None` where there is none.
    pub fn take(&self) -> Option<()> {
        self.take_many(1)
    }

    /// Takes several at once; `None` where there are not so many, after which there are none.
    pub fn take_many(&self, many: u64) -> Option<()> {
        let left = self.get().checked_sub(many);
        self.left.set(left.unwrap_or(0));
        left.map(|_| ())
    }
}
