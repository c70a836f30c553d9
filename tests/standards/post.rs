//! Letters against the published rules of six posts.

use crate::bench::inches;
use cardwright::formats::{Letter, MailForm, RulesDay, post_rules, rules_of};
use cardwright::measure::{Length, LengthStyle, Size, Unit, Weight};

fn letter(text: &str) -> Letter {
    let size = Size::parse(text, Unit::Inch).unwrap().unwrap();
    Letter { length: size.width, height: size.height, ..Letter::enveloped(size) }
}

fn class(rules: &str, letter: &Letter) -> &'static str {
    rules_of(rules).unwrap().judge(letter).class.map_or("none", |class| class.name.as_str())
}

/// The UPU by the older regulations, by steps of weight.
const SIX: [&str; 6] =
    ["usps", "royal mail", "canada post", "australia post", "deutsche post", "upu"];

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
        let found = SIX.map(|rules| class(rules, &letter));
        let expected = [usps, royal, canada, australia, german, upu];
        assert_eq!(found, expected, "{size}");
    }
}

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
    // Too narrow for either class, however long.
    assert_eq!(told("royal mail", "300 x 50 mm").0, "may not be taken");
    assert_eq!(told("australia post", "300 x 50 mm").0, "may not be taken");
    // Where the smallest size is published, what is below it is not taken.
    assert_eq!(told("canada post", "56 x 53 mm").0, "not taken");
}

/// USPS DMM 101: the worked cases of a piece of 4 x 6 and of 5 x 8 in, addressed along either side.
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

fn weighed(size: &str, weight: &str) -> Letter {
    let weight = Weight::parse(weight);
    assert!(weight.is_some());
    Letter { weight, ..letter(size) }
}

/// Canada Post, Lettermail size requirements: of what is not standard at least 3 g, and where it is beyond 245 x 156 x 5 mm
/// at least 5 g.
#[test]
fn what_is_oversize_in_canada_weighs_more() {
    let of = |size: &str, weight: &str| class("canada post", &weighed(size, weight));
    // Square, so not standard.
    assert_eq!(of("150 x 150 mm", "2.999 g"), "none");
    assert_eq!(of("150 x 150 mm", "3 g"), "other");
    for size in ["246 x 156 mm", "245 x 157 mm"] {
        assert_eq!(of(size, "4.999 g"), "none", "{size}");
        assert_eq!(of(size, "5 g"), "other", "{size}");
    }
    let thick = |thickness: &str| {
        let thickness = Some(Length::parse(thickness, Unit::Millimetre).unwrap());
        class("canada post", &Letter { thickness, ..weighed("150 x 150 mm", "4 g") })
    };
    assert_eq!((thick("5"), thick("5.001")), ("other", "none"));
}

/// USPS DMM 101.6.2.2: a postcard is at least 5 x 3 1/2 x 0.007 and at most 6 x 4 1/4 x 0.016 in; 6.2.4: a single sheet,
/// unfolded; 201.3.14: what is folded and has no envelope is nonmachinable unless it is prepared for it.
#[test]
fn a_card_without_an_envelope_has_a_class_of_its_own() {
    let card = |size: &str, form, thickness: &str| {
        let thickness = Some(inches(thickness));
        class("usps", &Letter { form, thickness, ..letter(size) })
    };
    assert_eq!(card("6 x 4 1/4 in", MailForm::Card, "0.016"), "postcard");
    assert_eq!(card("6 x 4 1/4 in", MailForm::Card, "0.017"), "letter");
    assert_eq!(card("6 1/16 x 4 1/4 in", MailForm::Card, "0.016"), "letter");
    assert_eq!(card("5 x 3 1/2 in", MailForm::Card, "0.007"), "postcard");
    assert_eq!(card("5 x 3 1/2 in", MailForm::Card, "0.006"), "none");
    assert_eq!(card("6 x 4 1/4 in", MailForm::Enveloped, "0.016"), "letter");
    assert_eq!(card("6 x 4 1/4 in", MailForm::Layered, "0.016"), "letter");
    assert_eq!(card("6 x 4 1/4 in", MailForm::Folded, "0.016"), "letter nonmachinable");
    // UPU Letter-post Regulations, article 203: folded cards without an envelope are not standardised.
    let abroad = |form| class("upu", &Letter { form, ..letter("148 x 105 mm") });
    assert_eq!(abroad(MailForm::Card), "postcard");
    assert_eq!(abroad(MailForm::Folded), "not standardised");
    assert_eq!(abroad(MailForm::Enveloped), "standardised");
    // Deutsche Post: 150 to 500 g/m2 (common practice, no source); ISO A6 of 0.01554 m2.
    let german = |weight: &str| {
        class("deutsche post", &Letter { form: MailForm::Card, ..weighed("148 x 105 mm", weight) })
    };
    assert_eq!(german("2.331 g"), "Postkarte");
    assert_eq!(german("2.33 g"), "Standardbrief");
    assert_eq!(german("7.77 g"), "Postkarte");
    assert_eq!(german("7.771 g"), "Standardbrief");
}

/// UPU Convention of Doha 2012, article 14: small, large and bulky letters; sizes and weights as one carrier prints them.
#[test]
fn letters_abroad_by_format() {
    let of = |size: &str, thickness: i64, weight: &str| {
        let thickness = Some(Length::from_mm(thickness));
        class("upu formats", &Letter { thickness, ..weighed(size, weight) })
    };
    assert_eq!(of("245 x 165 mm", 5, "100 g"), "small letter");
    assert_eq!(of("246 x 165 mm", 5, "100 g"), "large letter");
    assert_eq!(of("245 x 165 mm", 5, "101 g"), "large letter");
    assert_eq!(of("381 x 305 mm", 20, "500 g"), "large letter");
    assert_eq!(of("381 x 305 mm", 21, "500 g"), "bulky letter");
}

/// Both of the UPU's are older regulations: beside the posts' own rules they judge no letter.
#[test]
fn older_regulations_are_known_as_such() {
    let older = post_rules().iter().filter(|rules| rules.is_older);
    let older: Vec<&str> = older.map(|rules| rules.name.as_str()).collect();
    assert_eq!(older, ["upu", "upu formats"]);
    let workshop = crate::bench::workshop();
    let facts = cardwright::sizes::answers("5 x 7 in", &workshop).remove(0);
    let asked: Vec<&str> = facts.post.iter().map(|facts| facts.rules.name.as_str()).collect();
    assert_eq!(asked, SIX[..5]);
    // The DMM carries its day; the page of Canada Post does not.
    assert_eq!(rules_of("usps").unwrap().day, RulesDay::AsOf("2023-07-09".to_owned()));
    assert!(matches!(rules_of("canada post").unwrap().day, RulesDay::ReadOn(_)));
}

/// USPS DMM 201.4: a flat is at most 15 x 12 x 3/4 in, 13 oz; what is larger or heavier is no letter, but a parcel. What
/// is too small is none.
#[test]
fn what_is_too_large_for_a_letter_goes_as_a_parcel() {
    let word = |rules: &str, letter: Letter| {
        let verdict = rules_of(rules).unwrap().judge(&letter);
        (verdict.word().to_owned(), verdict.why(MM))
    };
    const MM: LengthStyle = LengthStyle { unit: Unit::Millimetre, graduation: Length::ZERO };
    assert_eq!(word("usps", letter("15 x 12 in")).0, "flat");
    let (told, why) = word("usps", letter("400 x 300 mm"));
    assert_eq!((told.as_str(), why.as_str()), ("parcel", "no flat: 400 mm long, at most 381 mm"));
    let (told, why) = word("usps", weighed("7 1/4 x 5 1/4 in", "400 g"));
    assert_eq!((told.as_str(), why.as_str()), ("parcel", "no flat: 400.0 g, at most 368.5 g"));
    let (told, why) = word("royal mail", weighed("229 x 162 mm", "800 g"));
    assert_eq!(told, "parcel");
    assert_eq!(why, "no large letter: 800.0 g, at most 750.0 g");
    assert_eq!(word("usps", letter("4 x 3 in")).0, "not taken");
    assert_eq!(word("royal mail", letter("100 x 70 mm")).0, "may not be taken");
}

/// The class that would otherwise take it: Kompaktbrief, up to 50 g (common practice, no source); nonmachinable letters up
/// to 6 1/8 in (USPS DMM 101.1.1b), as a square is no other letter (101.1.2a).
#[test]
fn the_reason_is_that_of_the_class_that_would_otherwise_take_it() {
    let style = LengthStyle { unit: Unit::Inch, graduation: Length::from_inch_parts(1, 16) };
    let told = |rules: &str, letter: Letter| rules_of(rules).unwrap().judge(&letter).why(style);
    let square = told("usps", letter("6 1/2 x 6 1/2 in"));
    assert_eq!(square, "no letter nonmachinable: 6 1/2 in high, at most 6 1/8 in");
    let heavy = told("deutsche post", weighed("162 x 114 mm", "60 g"));
    assert!(heavy.starts_with("no Kompaktbrief: 60.0 g"), "{heavy}");
    let small = told("deutsche post", letter("90 x 60 mm"));
    assert!(small.starts_with("no Kompaktbrief: 90 mm long, at least 100 mm"), "{small}");
    // Of equal limits the better class is told.
    let high = told("usps", letter("229 x 162 mm"));
    assert!(high.starts_with("no letter: 162 mm high"), "{high}");
}
