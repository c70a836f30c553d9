//! Weights and sizes of papers against their sources.

use cardwright::formats::parse_paper_weight;
use cardwright::formats::{
    OwnFormats, calipers, card, contents, envelope, envelopes, grades, holders, sheets,
};
use cardwright::measure::{Length, Size, Unit, Weight};
use std::collections::BTreeMap;

fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap().unwrap()
}

/// Grams per square metre, to the nearest.
fn gsm(text: &str) -> u64 {
    (parse_paper_weight(text).unwrap() + 500) / 1000
}

/// As conversion tables of the trade have them (common practice, no source); they follow from the basic sizes, the ream of
/// 500 sheets and the exact pound and inch.
#[test]
fn pounds_become_grams_as_in_conversion_tables() {
    assert_eq!(gsm("90 lb text"), 133);
    assert_eq!(gsm("100 lb cover"), 270);
    assert_eq!(parse_paper_weight("20 lb bond").unwrap().div_ceil(100), 752);
    assert_eq!((parse_paper_weight("28 lb bond").unwrap() + 50) / 100, 1053);
    assert_eq!((parse_paper_weight("70 lb text").unwrap() + 50) / 100, 1036);
}

/// The labels that are usually printed: 50 to 100 lb cover and 90 to 140 lb index by the GPO's paper
/// specifications JCP L20 and K10 to the nearest 5, the others common practice, no source.
#[test]
fn pounds_become_the_usual_labels() {
    let labels = [
        ("50 lb cover", 135),
        ("60 lb cover", 162),
        ("65 lb cover", 176),
        ("80 lb cover", 216),
        ("90 lb cover", 243),
        ("110 lb cover", 297),
        ("90 lb index", 163),
        ("110 lb index", 199),
        ("140 lb index", 253),
        ("67 lb bristol", 147),
        ("24 lb bond", 90),
        ("60 lb text", 89),
        ("80 lb text", 118),
        ("100 lb text", 148),
    ];
    for (pounds, label) in labels {
        assert_eq!(gsm(pounds), label, "{pounds}");
    }
}

/// Factors of grams per square metre for a pound, to two or three decimals as conversion tables of the trade have them
/// (common practice, no source).
#[test]
fn the_factors_of_the_grades_are_the_usual_ones() {
    let usual = [
        ("bond", 3_760, 1),
        ("text", 1_480, 1),
        ("cover", 2_704, 1),
        ("index", 1_810, 10),
        ("bristol", 2_190, 10),
        ("tag", 1_627, 1),
    ];
    for (name, thousandths, step) in usual {
        let grade = grades().iter().find(|grade| grade.name == name).unwrap();
        let found = grade.milligrams_per_square_metre(1000);
        assert_eq!((found + step / 2) / step * step, thousandths, "{name}");
    }
}

/// ISO 216: each size is the one before it halved, whole millimetres, rounded down; A0 is a square metre within
/// the rounding; ISO 217: RA and SRA are about 105 and 115 percent of the area of A.
#[test]
fn iso_sheets_halve() {
    let mm = |name: &str| {
        let sheet = sheets().iter().find(|sheet| sheet.name == name).unwrap();
        let mm = |length: Length| length.ticks() / Length::TICKS_PER_MM;
        (mm(sheet.size.width), mm(sheet.size.height))
    };
    for series in ["ISO A", "ISO B"] {
        let mut larger = mm(&format!("{series}0"));
        for number in 1..=5 {
            larger = (larger.1 / 2, larger.0);
            assert_eq!(mm(&format!("{series}{number}")), larger, "{series}{number}");
        }
    }
    assert_eq!(mm("ISO A0").0 * mm("ISO A0").1, 999_949);
    for number in 0..=4 {
        let area = |series: &str| {
            let (width, height) = mm(&format!("ISO {series}{number}"));
            width * height
        };
        assert!((104..=106).contains(&(area("RA") * 100 / area("A"))), "RA{number}");
        assert!((113..=117).contains(&(area("SRA") * 100 / area("A"))), "SRA{number}");
    }
}

/// Sizes in whole millimetres by their names, of all rows that name this source.
fn of_source<'a>(
    rows: impl Iterator<Item = (&'a str, Size, &'a str)>,
    source: &str,
) -> BTreeMap<&'a str, (i64, i64)> {
    let mm = |length: Length| {
        assert!(length.is_multiple_of(Length::from_mm(1)));
        length.ticks() / Length::TICKS_PER_MM
    };
    let own = rows.filter(|(_, _, own)| *own == source);
    own.map(|(name, size, _)| (name, (mm(size.width), mm(size.height)))).collect()
}

/// ISO 217, untrimmed stock sizes RA and SRA, all that we have; the figures as secondary tables of the standard list
/// them, which was not read itself.
#[test]
fn untrimmed_sheets_have_the_sizes_of_the_standard() {
    let published = BTreeMap::from([
        ("ISO RA0", (860, 1220)),
        ("ISO RA1", (610, 860)),
        ("ISO RA2", (430, 610)),
        ("ISO RA3", (305, 430)),
        ("ISO RA4", (215, 305)),
        ("ISO SRA0", (900, 1280)),
        ("ISO SRA1", (640, 900)),
        ("ISO SRA2", (450, 640)),
        ("ISO SRA3", (320, 450)),
        ("ISO SRA4", (225, 320)),
    ]);
    let rows = sheets().iter().map(|it| (it.name.as_str(), it.size, it.source.as_str()));
    assert_eq!(of_source(rows, "ISO 217"), published);
    let raw = sheets().iter().filter(|sheet| sheet.source == "ISO 217");
    assert!(raw.into_iter().all(|sheet| !sheet.trimmed), "they want squaring");
}

/// ISO 269, sizes of envelopes, all that we have; the figures as secondary tables of the standard list them, which was
/// not read itself.
#[test]
fn iso_envelopes_have_the_sizes_of_the_standard() {
    let published = BTreeMap::from([
        ("ISO C4", (324, 229)),
        ("ISO C5", (229, 162)),
        ("ISO C6", (162, 114)),
        ("ISO C7", (114, 81)),
        ("ISO B4", (353, 250)),
        ("ISO B5", (250, 176)),
        ("ISO B6", (176, 125)),
        ("ISO DL", (220, 110)),
        ("ISO C6/C5", (229, 114)),
        ("ISO C7/C6", (162, 81)),
    ]);
    let rows = envelopes().iter().map(|it| (it.name.as_str(), it.size, it.source.as_str()));
    assert_eq!(of_source(rows, "ISO 269"), published);
}

/// ASME Y14.1: each size is two of the one before it.
#[test]
fn american_drawing_sheets_double() {
    let names = ["letter", "tabloid", "ANSI C", "ANSI D", "ANSI E"];
    let size = |name: &str| sheets().iter().find(|sheet| sheet.name == name).unwrap().size;
    for pair in names.windows(2) {
        let (small, large) = (size(pair[0]), size(pair[1]));
        assert_eq!(large, Size::new(small.height, small.width * 2), "{}", pair[1]);
    }
}

/// ISO 269: each envelope holds the sheet that it is made for.
#[test]
fn iso_envelopes_hold_their_contents() {
    for (name, contents) in [
        ("ISO C7", "74 x 105 mm"),
        ("ISO C7/C6", "70 x 148 mm"),
        ("ISO C6", "105 x 148 mm"),
        ("ISO DL", "99 x 210 mm"),
        ("ISO C6/C5", "99 x 210 mm"),
        ("ISO C5", "148 x 210 mm"),
        ("ISO C4", "210 x 297 mm"),
        ("ISO B6", "114 x 162 mm"),
        ("ISO B5", "162 x 229 mm"),
    ] {
        let holders = holders(envelopes().iter(), size(contents), Length::ZERO, Unit::Millimetre);
        assert!(holders.contains(&envelope(name).unwrap()), "{name}");
        // In a metric workshop it is the closest fit; a third of ISO A4 fits ISO DL more closely than ISO C6/C5.
        let closest = if name == "ISO C6/C5" { "ISO DL" } else { name };
        assert_eq!(holders[0].name, closest, "{contents}");
    }
    // 5 x 7 in is too high for ISO B6, whatever is said.
    let five_by_seven =
        holders(envelopes().iter(), size("5 x 7 in"), Length::ZERO, Unit::Millimetre);
    assert!(!five_by_seven.contains(&envelope("ISO B6").unwrap()));
}

/// Envelopes of ISO 269 are usual in metric workshops, and those without a standard where they are sold by inches.
#[test]
fn envelopes_are_usual_where_they_are_sold() {
    for envelope in envelopes() {
        let eighth = Length::from_inch_parts(1, 8);
        let Size { width, height } = envelope.size;
        let is_metric = !width.is_multiple_of(eighth) && !height.is_multiple_of(eighth);
        assert!(is_metric || envelope.source != "ISO 269", "{}", envelope.name);
        assert_eq!(envelope.is_usual(Unit::Millimetre), is_metric, "{}", envelope.name);
        assert_eq!(envelope.is_usual(Unit::Inch), !is_metric, "{}", envelope.name);
    }
}

/// ISO 269: what each envelope is made for; the figures as secondary tables of the standard list them, which was not read
/// itself. That the card of a DL envelope is called DL is common practice, no source.
#[test]
fn iso_envelopes_are_made_for_their_contents() {
    let made_for = [
        ("ISO C5", "148 x 210 mm"),
        ("ISO C6", "105 x 148 mm"),
        ("ISO C7", "74 x 105 mm"),
        ("ISO DL", "99 x 210 mm"),
        ("ISO C6/C5", "99 x 210 mm"),
        ("ISO C7/C6", "70 x 148 mm"),
    ];
    let known = contents().iter().map(|row| (row.envelope.as_str(), card(&row.card).unwrap().size));
    assert_eq!(known.collect::<Vec<_>>(), made_for.map(|(name, contents)| (name, size(contents))));
    let own = OwnFormats::default();
    assert_eq!(own.card("DL").map(|card| card.size), Some(size("99 x 210 mm")));
    assert_eq!(own.card("DIN A6").map(|card| card.size), Some(size("105 x 148 mm")));
}

/// The fractions of one character: their numeric values in the Unicode Character Database (UnicodeData.txt, field 8).
#[test]
fn fractions_of_one_character_have_their_numeric_values() {
    let values = [
        ("\u{bc}", "1/4"),
        ("\u{bd}", "1/2"),
        ("\u{be}", "3/4"),
        ("\u{2155}", "1/5"),
        ("\u{2156}", "2/5"),
        ("\u{2157}", "3/5"),
        ("\u{2158}", "4/5"),
        ("\u{2152}", "1/10"),
        ("\u{215b}", "1/8"),
        ("\u{215c}", "3/8"),
        ("\u{215d}", "5/8"),
        ("\u{215e}", "7/8"),
        // Between two ticks, and the same two.
        ("21\u{2150}", "148/7"),
        ("9\u{2151}", "82/9"),
        ("3\u{2153}", "10/3"),
        ("3\u{2154}", "11/3"),
        ("3\u{2159}", "19/6"),
        ("3\u{215a}", "23/6"),
    ];
    for (glyph, plain) in values {
        assert_eq!(Length::parse(glyph, Unit::Inch), Length::parse(plain, Unit::Inch), "{glyph}");
    }
}

/// The card of each American envelope has the room that is usual: 1/8 or 1/4 in (common practice, no source).
#[test]
fn american_cards_go_in_the_envelope_of_their_name() {
    for name in
        ["US A1", "US A2", "US A4", "US A6", "US A7", "US A8", "US A9", "US A10", "slimline"]
    {
        let (long, short) = envelope(name).unwrap().room(card(name).unwrap().size, Length::ZERO);
        let usual = [size("1/8 x 1/4").width, size("1/8 x 1/4").height];
        assert!(usual.contains(&long) && usual.contains(&short), "{name}");
    }
}

/// Official thicknesses grow with weight within a specification (GPO paper specifications).
#[test]
fn heavier_stock_of_one_kind_is_thicker() {
    for pair in calipers().windows(2).filter(|pair| pair[0].source == pair[1].source) {
        let heavier = pair[1].milligrams_per_square_metre > pair[0].milligrams_per_square_metre;
        assert!(heavier && pair[1].thickness > pair[0].thickness, "{pair:?}");
    }
}

/// A worked example, exact units and no source: base 10 x 7 in and mat 6 3/4 x 4 3/4 in of 80 lb cover, liner
/// alike and an envelope blank of 8 3/4 x 11 3/4 in less four notches of 24 lb bond: 21.53 g, 0.759 oz.
#[test]
fn a_card_weighs_what_its_parts_weigh() {
    // The example takes both weights to hundredths of a gram.
    let [cover, bond] =
        ["80 lb cover", "24 lb bond"].map(|it| (parse_paper_weight(it).unwrap() + 5) / 10 * 10);
    let weight = |text: &str, paper| Weight::of_paper(size(text).area(), paper);
    let blank = size("8 3/4 x 11 3/4").area() - size("3/4 x 6 1/2").area() * 2;
    let parts = [
        (weight("10 x 7", cover), 9_770),
        (weight("6 3/4 x 4 3/4", cover), 4_475),
        (weight("6 3/4 x 4 3/4", bond), 1_866),
        (Weight::of_paper(blank, bond), 5_417),
    ];
    for (weight, milligrams) in parts {
        assert_eq!((weight.picograms() + 500_000_000) / 1_000_000_000, milligrams);
    }
    let all: Weight = parts.into_iter().map(|(weight, _)| weight).sum();
    assert_eq!((all.grams(), all.ounces()), ("21.5 g".to_owned(), "0.76 oz".to_owned()));
}
