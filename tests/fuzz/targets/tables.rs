//! Any bytes as an order, as sheets and as offcuts, and what is said of them.
#![no_main]

use cardwright::batch::{self, Inputs, Source};
use cardwright::cli::render;
use libfuzzer_sys::fuzz_target;

const ORDER: &[u8] = b"line,card,count,paper\ntag,2 x 3,12,fern\n";
const SHEETS: &[u8] = b"sheet,paper,width,height,price\nfern-12,fern,12,12,1.10\n";

fuzz_target!(|bytes: &[u8]| {
    tried(bytes, SHEETS, None);
    tried(ORDER, bytes, None);
    tried(ORDER, SHEETS, Some(bytes));
});

fn tried(order: &[u8], sheets: &[u8], offcuts: Option<&[u8]>) {
    let named = |name: &str, bytes: &[u8]| Source { name: name.to_owned(), bytes: bytes.to_vec() };
    let inputs = Inputs {
        orders: vec![named("spring.csv", order)],
        sheets: named("sheets.csv", sheets),
        offcuts: offcuts.map(|bytes| named("offcuts.csv", bytes)),
        workshop: None,
        ..Inputs::default()
    };
    let told = render::problems(&batch::check(&inputs), false);
    assert!(!told.contains(['\u{1b}', '\u{202e}', '\r']));
}
