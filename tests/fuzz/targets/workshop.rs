//! Any bytes as a workshop, and what is said of them.
#![no_main]

use cardwright::cli::render;
use cardwright::diagnostics::Problems;
use cardwright::workshop;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let mut problems = Problems::new();
    let workshop = workshop::read("workshop.toml", bytes, &mut problems);
    assert!(workshop.rates.margin_percent < 100 && workshop.trimmer.knife.is_positive());
    let told = render::problems(&problems, false);
    assert!(!told.contains(['\u{1b}', '\u{202e}', '\r']));
});
