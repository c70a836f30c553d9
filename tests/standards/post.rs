//! Letters against the published rules of six posts.

use crate::bench::inches;
use cardwright::formats::{Letter, post_rules, rules_of};
use cardwright::measure::{Length, LengthStyle, Size, Unit, Weight};

fn letter(text: &str) -> Letter {
    let size = Size::parse(text, Unit::Inch).unwrap().unwrap();
    Letter { length: size.width, height: size.height, thickness: None, weight: None }
}

fn class(rules: &str, letter: &Letter) -> &'static str {
    rules_of(rules).unwrap().judge(letter).class.map_or("none", |class| class.name.as_str())
}

/// Thin, light envelopes under the rules of USPS (DMM 101.1.1, 101.1.2, 201.4), Royal Mail (as the regulator
/// states them), Canada Post (Lettermail size requirements), Australia Post, Deutsche Post and the UPU (Letter-post
/// Regulations, article 203): what follows from the published limits for each nominal size.
#[test]
fn common_envelopes_under_six_rule_sets() {
    let table = [
        ("5 1/8 x 3 5/8 in", "letter", "none", "none", "none", "Kompaktbrief", "none"),
        (
            "5 3/4 x 4 3/8 in",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "6 1/4 x 4 1/4 in",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Standardbrief",
            "standardised",
        ),
        (
            "6 1/2 x 4 3/4 in",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "7 1/4 x 5 1/4 in",
            "letter",
            "letter",
            "standard",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "8 1/8 x 5 1/2 in",
            "letter",
            "letter",
            "standard",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "8 3/4 x 5 3/4 in",
            "letter",
            "letter",
            "standard",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "9 1/2 x 6 in",
            "letter",
            "large letter",
            "standard",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "8 7/8 x 3 7/8 in",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Standardbrief",
            "standardised",
        ),
        (
            "6 1/2 x 3 5/8 in",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Standardbrief",
            "standardised",
        ),
        (
            "9 1/2 x 4 1/8 in",
            "letter",
            "large letter",
            "standard",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "10 3/8 x 4 1/2 in",
            "letter",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "11 x 4 3/4 in",
            "letter",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "11 1/2 x 5 in",
            "letter",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        ("5 x 5 in", "letter nonmachinable", "none", "none", "none", "Großbrief", "none"),
        (
            "5 1/2 x 5 1/2 in",
            "letter nonmachinable",
            "none",
            "none",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "6 x 6 in",
            "letter nonmachinable",
            "letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "6 1/2 x 6 1/2 in",
            "flat",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "7 x 7 in",
            "flat",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "9 x 9 in",
            "flat",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        ("114 x 81 mm", "none", "none", "none", "none", "Kompaktbrief", "none"),
        (
            "162 x 114 mm",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Standardbrief",
            "standardised",
        ),
        (
            "220 x 110 mm",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Standardbrief",
            "standardised",
        ),
        (
            "229 x 114 mm",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Standardbrief",
            "standardised",
        ),
        (
            "229 x 162 mm",
            "flat",
            "letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "176 x 125 mm",
            "letter",
            "letter",
            "standard",
            "small letter",
            "Standardbrief",
            "not standardised",
        ),
        (
            "250 x 176 mm",
            "flat",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
        (
            "324 x 229 mm",
            "flat",
            "large letter",
            "other",
            "large letter",
            "Großbrief",
            "not standardised",
        ),
    ];
    for (size, usps, royal, canada, australia, german, upu) in table {
        let letter = letter(size);
        let found = post_rules().iter().map(|rules| class(&rules.name, &letter));
        let expected = [usps, royal, canada, australia, german, upu];
        assert_eq!(found.collect::<Vec<_>>(), expected, "{size}");
    }
}

/// USPS DMM 101: the worked cases of a piece of 4 x 6 and of 5 x 8 in, addressed along either side.
/// Royal Mail and Australia Post publish no smallest size now. What is below the last one known (of Royal Mail an addressing
/// guide of October 2012, as quoted by a supplier; of Australia Post from memory) may not be taken, and nothing else is
/// said of it.
#[test]
fn what_is_smaller_than_a_size_in_doubt_may_not_be_taken() {
    let style = LengthStyle { unit: Unit::Millimetre, graduation: Length::ZERO };
    let told = |rules: &str, size: &str| {
        let verdict = rules_of(rules).unwrap().judge(&letter(size));
        (verdict.word().to_owned(), verdict.why(style))
    };
    let source = "(addressing guide of October 2012, as quoted by a supplier)";
    let why =
        format!("no letter: 56 mm long, at least 140 mm; 53 mm high, at least 90 mm {source}");
    assert_eq!(told("royal mail", "56 x 53 mm"), ("may not be taken".to_owned(), why));
    let (word, why) = told("australia post", "56 x 53 mm");
    assert!(word == "may not be taken" && why.ends_with("at least 88 mm (from memory)"), "{why}");
    for (rules, size) in [("royal mail", "140 x 90 mm"), ("australia post", "138 x 88 mm")] {
        assert_ne!(told(rules, size).0, "may not be taken", "{rules}");
    }
    let narrow = told("royal mail", "139.999 x 90 mm").0;
    assert_eq!(narrow, "may not be taken");
    // Where the smallest size is published, what is below it is not taken.
    assert_eq!(told("canada post", "56 x 53 mm").0, "not taken");
}

#[test]
fn the_side_of_the_address_decides() {
    assert_eq!(class("usps", &letter("4 x 6 in")), "none");
    assert_eq!(class("usps", &letter("8 x 5 in")), "letter");
    assert_eq!(class("usps", &letter("5 x 8 in")), "flat", "8 in high, beyond a letter's height");
    assert_eq!(class("usps", &letter("5 x 6 in")), "letter nonmachinable");
}

/// USPS DMM 101.1.2f: above 4 1/4 in of height or 6 in of length, 0.009 in of thickness; 101.1.1: 0.007 in else.
#[test]
fn larger_letters_have_to_be_thicker() {
    let thick = |size: &str, thickness: &str| {
        class("usps", &Letter { thickness: Some(inches(thickness)), ..letter(size) })
    };
    assert_eq!(thick("6 x 4 1/4 in", "0.007"), "letter");
    assert_eq!(thick("6 x 4 1/4 in", "0.006"), "none");
    for size in ["6 x 4 5/16 in", "6 1/16 x 4 1/4 in"] {
        assert_eq!(thick(size, "0.008"), "letter nonmachinable", "{size}");
        assert_eq!(thick(size, "0.009"), "letter", "{size}");
    }
    assert_eq!(thick("6 x 4 1/4 in", "0.25"), "letter");
    assert_eq!(thick("6 x 4 1/4 in", "0.251"), "flat");
}

/// USPS DMM 101.1.2a: 1.3 and 2.5 themselves are machinable.
#[test]
fn the_ratio_is_held_exactly() {
    assert_eq!(class("usps", &letter("5.2 x 4 in")), "letter");
    assert_eq!(class("usps", &letter("5.199 x 4 in")), "letter nonmachinable");
    assert_eq!(class("usps", &letter("10 x 4 in")), "letter");
    assert_eq!(class("usps", &letter("10.001 x 4 in")), "letter nonmachinable");
    // Deutsche Post: 1.4, which an envelope ISO B6 reaches (common practice, no source).
    assert_eq!(class("deutsche post", &letter("175 x 125 mm")), "Standardbrief");
    assert_eq!(class("deutsche post", &letter("174.999 x 125 mm")), "Großbrief");
}

/// USPS: heavier than 3.5 oz pays the price of a flat (DMM 101.1.1c), up to 13 oz.
#[test]
fn weight_decides_too() {
    let heavy = |rules: &str, weight: &str| {
        let weight = Weight::parse(weight);
        assert!(weight.is_some());
        class(rules, &Letter { weight, ..letter("7 1/4 x 5 1/4 in") })
    };
    assert_eq!(heavy("usps", "3.5 oz"), "letter");
    assert_eq!(heavy("usps", "3.501 oz"), "flat");
    assert_eq!(heavy("usps", "13 oz"), "flat");
    assert_eq!(heavy("usps", "13.001 oz"), "none");
    assert_eq!(heavy("canada post", "1.999 g"), "none");
    assert_eq!(heavy("canada post", "2 g"), "standard");
    assert_eq!(heavy("canada post", "50.001 g"), "other");
}
