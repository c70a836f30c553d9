use super::*;
use proptest::prelude::*;

const INCHES: LengthStyle =
    LengthStyle { unit: Unit::Inch, graduation: Length::from_inch_parts(1, 16) };
const MILLIMETRES: LengthStyle =
    LengthStyle { unit: Unit::Millimetre, graduation: Length::from_ticks(20_000) };

fn inches(text: &str) -> Result<Length, LengthError> {
    Length::parse(text, Unit::Inch)
}

#[test]
fn an_inch_is_25_4_mm() {
    // International yard and pound agreement, 1959.
    assert_eq!(inches("1"), Length::parse("25.4", Unit::Millimetre));
    assert_eq!(inches("1"), Length::parse("2.54", Unit::Centimetre));
    assert_eq!(Length::TICKS_PER_INCH * 10, Length::TICKS_PER_MM * 254);
}

#[test]
fn a_multiple_has_no_rest() {
    let ticks = Length::from_ticks;
    assert!(ticks(12).is_multiple_of(ticks(4)) && Length::ZERO.is_multiple_of(ticks(4)));
    assert!(!ticks(13).is_multiple_of(ticks(4)) && !ticks(4).is_multiple_of(ticks(12)));
    assert!(!ticks(12).is_multiple_of(Length::ZERO));
}

#[test]
fn lengths_are_added_up_taken_away_and_taken_times() {
    let ticks = Length::from_ticks;
    assert_eq!((ticks(15) + ticks(6), ticks(15) - ticks(6)), (ticks(21), ticks(9)));
    assert_eq!((ticks(15) * 4, -ticks(15)), (ticks(60), ticks(-15)));
    assert_eq!([ticks(1), ticks(2), ticks(4)].into_iter().sum::<Length>(), ticks(7));
    let mut length = ticks(15);
    length += ticks(6);
    assert_eq!(length, ticks(21));
    length -= ticks(1);
    assert_eq!(length, ticks(20));
}

#[test]
fn a_unit_behind_the_number_wins() {
    for text in [
        "8.5 in",
        "8.5in",
        "8 1/2\"",
        "8.5 IN",
        "8.5 inches",
        "8.5 inch",
        "8.5 in.",
        "8.5\u{2033}",
        "8.5\u{201d}",
        "215.9 mm",
        "215.9MM",
        "21.59 cm",
        "8,5 in",
        "8.5\u{201c}",
        "8.5\u{2ba}",
        "8 1/2''",
        "8.5\u{2032}\u{2032}",
        "8.5\u{2019}\u{2019}",
        "8\u{bd} in",
        "8 \u{bd}\"",
        "8\u{b9}\u{2044}\u{2082}\u{2033}",
    ] {
        for unit in [Unit::Inch, Unit::Millimetre, Unit::Centimetre] {
            assert_eq!(Length::parse(text, unit), Ok(Length::from_inch_parts(17, 2)), "{text}");
        }
    }
}

#[test]
fn what_is_no_length_is_refused() {
    for text in ["", "in", "mm", "8 ft", "8 m", "8.5 in in", "eight", "8 \u{1d7}", "\u{2033}"] {
        assert_eq!(inches(text), Err(LengthError::NotANumber), "{text}");
    }
    for text in
        ["8'", "8\u{2032}", "8'6\"", "8.5\u{bd}", "\u{bd}5", "\u{bd}\u{bd}", "8\u{b2}", "1/\u{bd}"]
    {
        assert_eq!(inches(text), Err(LengthError::NotANumber), "{text}");
    }
    assert_eq!(inches("41\u{2044}4"), Err(LengthError::RunTogether));
    assert_eq!(inches("1,250"), Err(LengthError::Grouped));
    assert_eq!(inches("1,250 mm"), Err(LengthError::Grouped));
}

#[test]
fn the_finest_parts_are_exact() {
    assert_eq!(inches("1/64"), Ok(Length::from_ticks(15_875)));
    assert_eq!(inches("0.001"), Ok(Length::from_ticks(1016)));
    assert_eq!(inches("0.001 mm"), Ok(Length::from_ticks(40)));
    assert_eq!(inches("0.000025 mm"), Ok(Length::from_ticks(1)));
}

/// `4¼`, `4 ¼`, `4-¼`, `4 1⁄4` and `4-1/4` are one length, and so for every fraction of one character.
#[test]
fn fractions_are_read_as_people_write_them() {
    for (glyph, above, below) in super::super::glyphs::FRACTIONS {
        let plain = inches(&format!("4 {above}/{below}"));
        for text in [
            format!("4{glyph}"),
            format!("4 {glyph}"),
            format!("4-{glyph}"),
            format!("4\u{a0}{glyph}\u{201d}"),
            format!("4\u{2009}{above}\u{2044}{below}"),
            format!("4-{above}/{below}"),
            format!("4\u{2011}{above}\u{2215}{below}"),
        ] {
            assert_eq!(inches(&text), plain, "{text}");
        }
        assert_eq!(inches(&glyph.to_string()), inches(&format!("{above}/{below}")));
        let minus = inches(&format!("-4 {above}/{below}"));
        assert_eq!(inches(&format!("\u{2212}4{glyph}")), minus, "{glyph}");
    }
    assert_eq!(inches("4\u{bc}"), Ok(Length::from_inch_parts(17, 4)));
    assert_eq!(inches("5\u{b3}\u{2044}\u{2081}\u{2086}"), Ok(Length::from_inch_parts(83, 16)));
}

#[test]
fn between_two_ticks_both_are_named() {
    let between = |below, above| {
        Err(LengthError::NotExact {
            below: Length::from_ticks(below),
            above: Length::from_ticks(above),
            unit: Unit::Inch,
        })
    };
    assert_eq!(inches("1/3"), between(338_666, 338_667));
    assert_eq!(inches("-1/3"), between(-338_667, -338_666));
    assert_eq!(inches("\u{2153}"), between(338_666, 338_667));
    let [below, above] = [0, 1].map(Length::from_ticks);
    let unit = Unit::Millimetre;
    assert_eq!(inches("0.00001 mm"), Err(LengthError::NotExact { below, above, unit }));
}

#[test]
fn a_hundred_metres_is_the_longest() {
    assert_eq!(inches("100000 mm"), Ok(Length::MAX));
    assert_eq!(inches("100000.000025 mm"), Err(LengthError::TooLong));
    assert_eq!(inches("-100000 mm"), Ok(-Length::MAX));
    assert_eq!(inches("-100000.000025 mm"), Err(LengthError::TooLong));
    assert_eq!(inches("999999999999999 cm"), Err(LengthError::TooLong));
    assert_eq!(inches("9223372036854775808"), Err(LengthError::TooLong));
}

#[test]
fn inches_are_written_as_fractions_of_the_gauge() {
    let write =
        |numerator, denominator| INCHES.with_unit(Length::from_inch_parts(numerator, denominator));
    assert_eq!(write(17, 2), "8 1/2 in");
    assert_eq!(write(8, 1), "8 in");
    assert_eq!(write(1, 16), "1/16 in");
    assert_eq!(write(-17, 2), "-8 1/2 in");
    assert_eq!(write(0, 1), "0 in");
    // Finer than the gauge: decimals.
    assert_eq!(write(1, 32), "0.03125 in");
    assert_eq!(write(8001, 1000), "8.001 in");
}

#[test]
fn the_gauge_says_how_fine_fractions_are() {
    let write = |numerator, denominator, graduation| {
        let style = LengthStyle { unit: Unit::Inch, graduation };
        style.with_unit(Length::from_inch_parts(numerator, denominator))
    };
    let parts = |parts| Length::from_inch_parts(1, parts);
    assert_eq!(write(1, 64, parts(64)), "1/64 in");
    assert_eq!(write(1, 64, parts(32)), "0.015625 in");
    assert_eq!(write(1, 8, parts(4)), "0.125 in");
    // No power of two is told in sixteenths, nor what is no part of an inch at all.
    for graduation in [parts(10), Length::from_mm(1), Length::ZERO, -parts(64), parts(1) * 3] {
        assert_eq!(write(1, 16, graduation), "1/16 in");
        assert_eq!(write(1, 32, graduation), "0.03125 in");
    }
}

#[test]
fn a_thickness_is_told_in_decimals() {
    assert_eq!(INCHES.thickness(Length::from_inch_parts(1, 16)), "0.063 in");
    assert_eq!(MILLIMETRES.thickness(Length::from_ticks(52_399)), "1.31 mm");
}

#[test]
fn millimetres_are_written_as_decimals() {
    assert_eq!(MILLIMETRES.with_unit(Length::from_inch_parts(17, 2)), "215.9 mm");
    assert_eq!(MILLIMETRES.with_unit(Length::from_ticks(1)), "0.000025 mm");
    assert_eq!(MILLIMETRES.number(Length::from_mm(297)), "297");
    assert_eq!(MILLIMETRES.number(Length::ZERO), "0");
}

#[test]
fn a_length_without_finite_inches_keeps_its_own_unit() {
    assert_eq!(INCHES.number(Length::from_mm(297)), "297 mm");
    assert_eq!(INCHES.with_unit(Length::from_mm(297)), "297 mm");
    assert_eq!(INCHES.number(Length::from_mm(254)), "10");
}

fn styles() -> impl Strategy<Value = LengthStyle> {
    let unit = prop::sample::select(vec![Unit::Inch, Unit::Millimetre, Unit::Centimetre]);
    let graduation = prop::sample::select(vec![
        Length::ZERO,
        Length::from_inch_parts(1, 16),
        Length::from_inch_parts(1, 64),
        Length::from_inch_parts(1, 10),
        Length::from_mm(1),
    ]);
    (unit, graduation).prop_map(|(unit, graduation)| LengthStyle { unit, graduation })
}

fn lengths() -> impl Strategy<Value = Length> {
    let most = Length::MAX.ticks();
    let any = (-most..=most).prop_map(Length::from_ticks);
    let fraction = (0_i64..64_000).prop_map(|parts| Length::from_inch_parts(parts, 64));
    let decimal = (0_i64..1_000_000).prop_map(|parts| Length::from_ticks(parts * 40));
    prop_oneof![any, fraction, decimal]
}

proptest! {
    #[test]
    fn what_is_written_is_read(length in lengths(), style in styles()) {
        prop_assert_eq!(Length::parse(&style.number(length), style.unit), Ok(length));
        for other in [Unit::Inch, Unit::Millimetre] {
            prop_assert_eq!(Length::parse(&style.with_unit(length), other), Ok(length));
        }
    }

    #[test]
    fn the_neighbours_of_a_length_are_one_tick_apart(above in 1_i64..1000, below in 1_i64..1000) {
        let text = format!("{above}/{below}");
        if let Err(LengthError::NotExact { below: low, above: high, .. }) = inches(&text) {
            prop_assert_eq!(high.ticks() - low.ticks(), 1);
            prop_assert!(low.ticks() * below < above * Length::TICKS_PER_INCH);
            prop_assert!(high.ticks() * below > above * Length::TICKS_PER_INCH);
        }
    }

    #[test]
    fn any_text_is_read_without_panic(text in ".{0,30}|[0-9 ./,incm\"-]{0,30}") {
        let _ = inches(&text);
    }

    #[test]
    fn any_typeset_text_is_read_without_panic(
        text in "[0-9 /\u{bc}-\u{be}\u{b2}\u{b3}\u{b9}\u{2044}\u{2070}-\u{2089}\u{2150}-\u{215f}]{0,12}"
    ) {
        let _ = inches(&text);
    }
}

#[test]
fn what_is_usual_depends_on_the_unit() {
    let usual = Usual::new(3, 2, 40);
    assert_eq!(usual.of(Unit::Inch), Length::from_inch_parts(3, 2));
    for unit in [Unit::Millimetre, Unit::Centimetre] {
        assert_eq!(usual.of(unit), Length::from_mm(40));
    }
}

#[test]
fn lengths_are_rounded_to_steps() {
    let length = Length::from_ticks;
    for (ticks, down, up, nearest) in [
        (0, 0, 0, 0),
        (1, 0, 10, 0),
        (4, 0, 10, 0),
        (5, 0, 10, 10),
        (9, 0, 10, 10),
        (10, 10, 10, 10),
    ] {
        let step = length(10);
        assert_eq!(length(ticks).rounded_down(step), length(down), "{ticks}");
        assert_eq!(length(ticks).rounded_up(step), length(up), "{ticks}");
        assert_eq!(length(ticks).rounded(step), length(nearest), "{ticks}");
    }
    assert_eq!(length(-1).rounded_down(length(10)), length(-10));
    assert_eq!(length(7).rounded(Length::ZERO), length(7), "no step");
}

#[test]
fn a_thickness_is_told_as_a_gauge_shows_it() {
    let micrometres = |count: i64| Length::from_ticks(count * Length::TICKS_PER_MM / 1000);
    assert_eq!(INCHES.thickness(micrometres(290)), "0.011 in");
    assert_eq!(MILLIMETRES.thickness(micrometres(294)), "0.29 mm");
    assert_eq!(MILLIMETRES.thickness(micrometres(295)), "0.3 mm");
}
