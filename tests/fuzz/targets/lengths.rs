//! Any text as a length, a size, a count, an amount and a weight: no panic, and what is written is read again.
#![no_main]

use cardwright::measure::{
    Currency, Length, LengthStyle, Money, Size, Unit, Weight, parse_count, parse_thousandths,
};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    for unit in [Unit::Inch, Unit::Millimetre, Unit::Centimetre] {
        lengths(text, unit);
    }
    for code in ["USD", "JPY", "KWD"] {
        let Some(currency) = Currency::new(code) else { continue };
        if let Ok(money) = currency.parse(text) {
            assert!(Money::ZERO <= money && money <= Money::MAX);
            assert_eq!(currency.parse(&currency.number(money)), Ok(money));
        }
    }
    if let Ok(count) = parse_count(text) {
        assert_eq!(parse_count(&count.to_string()), Ok(count));
    }
    let _ = (parse_thousandths(text), Weight::parse(text), Currency::new(text));
});

fn lengths(text: &str, unit: Unit) {
    let within = |length: Length| -Length::MAX <= length && length <= Length::MAX;
    if let Ok(length) = Length::parse(text, unit) {
        assert!(within(length));
        for graduation in [0, 1, 15_875, 63_500, 40_000, 7] {
            let style = LengthStyle { unit, graduation: Length::from_ticks(graduation) };
            for written in [style.number(length), style.with_unit(length)] {
                assert_eq!(Length::parse(&written, unit), Ok(length), "{written}");
            }
        }
    }
    if let Some(Ok(size)) = Size::parse(text, unit) {
        assert!(within(size.width) && within(size.height));
        let written = LengthStyle { unit, graduation: Length::from_mm(1) }.size(size);
        assert_eq!(Size::parse(&written, unit), Some(Ok(size)), "{written}");
    }
}
