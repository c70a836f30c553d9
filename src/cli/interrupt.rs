//! Ctrl-C while a batch is planned: the first asks for what was found until then, the second ends at once.
//!
//! One flag reaches all that asks for the time, as `Watch::stop`, so that the search ends as when time is up. Levels 3
//! and 4 then get the steps of `quick`, and prices in other counts are left out. What was found is judged and written
//! as always.

use super::console::Exit;
use std::io::{self, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Whether Ctrl-C was pressed; all clones tell the same.
#[derive(Clone, Default)]
pub struct Interrupt {
    shared: Arc<Shared>,
    /// Whether the signals of the process are meant; a test has none.
    of_the_process: bool,
}

#[derive(Default)]
struct Shared {
    pressed: AtomicBool,
    /// Held while something is written that must not be cut in half.
    writing: Mutex<()>,
}

impl Interrupt {
    /// The Ctrl-C of this process.
    pub fn of_the_process() -> Interrupt {
        Interrupt { of_the_process: true, ..Interrupt::default() }
    }

    /// Listens from now on. Until then, and where the system does not let us, Ctrl-C ends the program as it
    /// ends any other.
    pub fn listen(&self) {
        #[cfg(feature = "command-line")]
        if self.of_the_process {
            let interrupt = self.clone();
            let _ = ctrlc::set_handler(move || interrupt.press());
        }
    }

    /// Whether it was pressed.
    pub fn is_pressed(&self) -> bool {
        self.shared.pressed.load(Ordering::Relaxed)
    }

    /// Makes the second Ctrl-C wait until what is written is whole.
    pub fn hold(&self) -> MutexGuard<'_, ()> {
        self.shared.writing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What a Ctrl-C does.
    pub fn press(&self) {
        if self.shared.pressed.swap(true, Ordering::Relaxed) {
            let _held = self.hold();
            std::process::exit(Exit::Stopped.code().into());
        }
        if self.of_the_process {
            // The spinner may stand in the line: this goes below it. If nobody reads it, so be it.
            let _ = io::stderr().write_all(b"\nstopping; press Ctrl-C again to end at once\n");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_clones_hear_the_first_press() {
        let interrupt = Interrupt::default();
        let clone = interrupt.clone();
        assert!(!clone.is_pressed());
        interrupt.press();
        assert!(clone.is_pressed());
    }
}
