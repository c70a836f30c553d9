use super::*;
use crate::measure::{Currency, Money, Thickness};
use proptest::prelude::*;

/// Every key with its default, as the documentation shows it.
const DEFAULTS: &str = r#"
unit = "in"
currency = "USD"

[trimmer]
knife = "15 in"
graduation = "1/16 in"
blade = 0
squaring = 0
lift_thickness = "1/16 in"
smallest_hold = "1/4 in"
reach = "15 in"

[keep]
short = "1 in"
long = "4 in"
value = 30

[spares]
percent = 5
at_least = 1

[grain]
rule = "prefer"

[envelope]
kind = "wrap"
clear_long = "1/4 in"
clear_short = "1/8 in"
side_flap = "auto"
top_flap = "auto"
liner_inset = "1/4 in"

[rates]
labour_per_hour = 18.00
overhead_percent = 15
margin_percent = 30
[rates.seconds]
gauge = 20
stroke = 6
stack = 10
score = 8
fold = 6
stick = 20
envelope = 60
pack = 15

[post]
rules = "usps"
"#;

fn read_workshop(text: &str) -> (Workshop, Vec<&'static str>) {
    let mut problems = Problems::new();
    let workshop = read("workshop.toml", text.as_bytes(), &mut problems);
    (workshop, problems.iter().map(|problem| problem.code).collect())
}

fn sound(text: &str) -> Workshop {
    let (workshop, codes) = read_workshop(text);
    assert_eq!(codes, [""; 0], "{text}");
    workshop
}

fn codes(text: &str) -> Vec<&'static str> {
    read_workshop(text).1
}

fn inches(numerator: i64, denominator: i64) -> Length {
    Length::from_inch_parts(numerator, denominator)
}

#[test]
fn a_missing_key_means_its_default() {
    let told = Workshop { has_rates: true, ..Workshop::default() };
    assert_eq!(sound(DEFAULTS), told);
    assert_eq!(sound(""), Workshop::default());
    assert_eq!(sound("\u{feff}# mine\r\n[trimmer]\r\n"), Workshop::default());
}

/// Times and days are no prices.
#[test]
fn rates_are_known_to_be_set_or_not() {
    let has_rates = |key: &str| sound(&format!("[rates]\n{key}\n")).has_rates;
    for key in ["labour_per_hour = 18.00", "overhead_percent = 15", "margin_percent = 0"] {
        assert!(has_rates(key), "{key}");
    }
    assert!(!has_rates("") && !has_rates("hours_per_day = 5\nseconds = { fold = 9 }"));
}

#[test]
fn a_missing_key_of_a_metric_bench_is_on_its_gauge() {
    let metric = sound("unit = \"mm\"\n[trimmer]\nknife = 310\n");
    assert_eq!((metric.trimmer.knife, metric.page), (Length::from_mm(310), PageSize::A4));
    let usual = Workshop::usual(Unit::Millimetre);
    assert_eq!((metric.keep, metric.envelope), (usual.keep, usual.envelope));
    // A unit that is mistaken leaves those of inches.
    assert_eq!(read_workshop("unit = \"m\"\n").0, Workshop::default());
}

#[test]
fn every_key_is_read() {
    let workshop = sound(
        r#"
        unit = "mm"
        currency = "EUR"
        trimmer = { knife = 310, graduation = 0.5, blade = 1, squaring = 3, lift = 2, smallest_hold = 15, reach = 300 }
        keep = { short = 30, long = 80.5, value = 0 }
        spares = { percent = 0, at_least = 0 }
        grain = { rule = "strict" }
        post = { rules = "usps" }
        [envelope]
        kind = "diagonal"
        clear_long = 6
        clear_short = "3 mm"
        side_flap = "1/2 in"
        top_flap = 40
        liner_inset = 5
        [rates]
        labour_per_hour = "20"
        overhead_percent = 10
        margin_percent = 0
        seconds = { gauge = 1, stroke = 2, stack = 8, score = 3, fold = 4, stick = 5, envelope = 6, pack = 7 }
        "#,
    );
    let mm = Length::from_mm;
    let half = Length::from_ticks(20_000);
    assert_eq!(
        (workshop.unit, workshop.currency),
        (Unit::Millimetre, Currency::new("EUR").unwrap())
    );
    let trimmer = workshop.trimmer;
    assert_eq!((trimmer.knife, trimmer.graduation), (mm(310), half));
    assert_eq!((trimmer.blade, trimmer.squaring, trimmer.smallest_hold), (mm(1), mm(3), mm(15)));
    assert_eq!((trimmer.lift.sheets, trimmer.reach), (Some(2), mm(300)));
    let keep = workshop.keep;
    assert_eq!((keep.short, keep.long, keep.value), (mm(30), mm(80) + half, 0));
    assert_eq!((workshop.spares.percent, workshop.spares.at_least), (0, 0));
    assert_eq!(workshop.grain, GrainRule::Strict);
    let envelope = workshop.envelope;
    assert_eq!(envelope.kind, EnvelopeKind::Diagonal);
    assert_eq!((envelope.clear_long, envelope.clear_short), (mm(6), mm(3)));
    assert_eq!((envelope.side_flap, envelope.top_flap), (Some(inches(1, 2)), Some(mm(40))));
    assert_eq!(envelope.liner_inset, mm(5));
    let rates = workshop.rates;
    assert_eq!(rates.labour_per_hour, Money::from_minor(2000));
    assert_eq!((rates.overhead_percent, rates.margin_percent), (10, 0));
    let seconds = [rates.gauge, rates.stroke, rates.score, rates.fold, rates.stick];
    assert_eq!((seconds, rates.envelope, rates.pack, rates.stack), ([1, 2, 3, 4, 5], 6, 7, 8));
}

#[test]
fn bare_numbers_are_exact_in_the_unit_of_the_file() {
    let knife = |text: &str| sound(text).trimmer.knife;
    assert_eq!(knife("[trimmer]\nknife = 0.001"), inches(1, 1000));
    assert_eq!(knife("[trimmer]\nknife = 1_5"), inches(15, 1));
    assert_eq!(knife("[trimmer]\nknife = +15.50"), inches(31, 2));
    assert_eq!(knife("unit = \"mm\"\n[trimmer]\nknife = 0.1"), Length::from_ticks(4000));
    assert_eq!(knife("[trimmer]\nknife = '12 1/2'"), inches(25, 2));
}

#[test]
fn a_lift_is_counted_or_measured() {
    let lift = |text: &str| sound(&format!("[trimmer]\n{text}")).trimmer.lift;
    let measured = Thickness::from_micrometres;
    assert_eq!(lift("lift = 1").sheets, Some(1));
    assert_eq!(lift("").thickness, inches(1, 16).into());
    assert_eq!(lift("lift_thickness = \"1.5 mm\"").thickness, measured(1500));
    assert_eq!(lift("lift_thickness = 0.0091").thickness, Thickness::from_nanometres(231_140));
    let both = lift("lift = 5\nlift_thickness = 1");
    assert_eq!((both.sheets, both.thickness), (Some(5), inches(1, 1).into()));
    assert_eq!(codes("[trimmer]\nlift = 0"), ["workshop-number"]);
    assert_eq!(codes("[trimmer]\nlift_thickness = 0"), ["workshop-length"]);
}

/// The gauge reaches as far as the knife is long, unless it is said otherwise (common practice, no source).
#[test]
fn a_bench_of_few_words_has_the_usual_reach_and_hold() {
    let trimmer = |text: &str| sound(text).trimmer;
    let knife = trimmer("[trimmer]\nknife = 20");
    assert_eq!((knife.reach, knife.smallest_hold), (inches(20, 1), inches(1, 4)));
    let metric = trimmer("unit = \"mm\"\n[trimmer]\nreach = 300");
    assert_eq!((metric.reach, metric.smallest_hold), (Length::from_mm(300), Length::from_mm(5)));
    assert_eq!(metric.lift.thickness, Thickness::from_micrometres(1500));
    assert_eq!(codes("[trimmer]\nreach = 0"), ["workshop-length"]);
}

#[test]
fn squaring_is_nothing_or_at_least_the_blade() {
    let codes = |squaring: &str| codes(&format!("[trimmer]\nblade = 0.125\nsquaring = {squaring}"));
    assert_eq!(codes("0"), [""; 0]);
    assert_eq!(codes("0.124"), ["workshop-squaring"]);
    assert_eq!(codes("0.125"), [""; 0]);
    assert_eq!(codes("0.126"), [""; 0]);
}

#[test]
fn boundaries_of_numbers() {
    for (section, key, least, most) in [
        ("keep", "value", 0, 100),
        ("spares", "percent", 0, 1000),
        ("spares", "at_least", 0, 1_000_000),
        ("rates", "overhead_percent", 0, 1000),
        ("rates", "margin_percent", 0, 99),
        ("rates.seconds", "pack", 0, 86_400),
        ("trimmer", "lift", 1, 10_000),
    ] {
        let codes = |value: i64| codes(&format!("[{section}]\n{key} = {value}"));
        assert_eq!(codes(least), [""; 0], "{key}");
        assert_eq!(codes(most), [""; 0], "{key}");
        assert_eq!(codes(least - 1), ["workshop-number"], "{key}");
        assert_eq!(codes(most + 1), ["workshop-number"], "{key}");
    }
    assert_eq!(codes("[keep]\nshort = 4\nlong = 4"), [""; 0]);
    assert_eq!(codes("[keep]\nshort = 4.001\nlong = 4"), ["workshop-keep"]);
    assert_eq!(codes("[trimmer]\nknife = \"0.000025 mm\""), [""; 0]);
    assert_eq!(codes("[trimmer]\nknife = 0"), ["workshop-length"]);
    assert_eq!(codes("[trimmer]\ngraduation = 0"), ["workshop-length"]);
    assert_eq!(codes("[trimmer]\nsmallest_hold = -1"), ["workshop-length"]);
}

#[test]
fn numbers_of_other_kinds_are_refused() {
    assert_eq!(codes("[trimmer]\nknife = 0x10"), ["workshop-type"]);
    assert_eq!(codes("[trimmer]\nknife = 1e1"), ["workshop-length"]);
    assert_eq!(codes("[trimmer]\nknife = inf"), ["workshop-length"]);
    assert_eq!(codes("[trimmer]\nknife = nan"), ["workshop-length"]);
    assert_eq!(codes("[trimmer]\nknife = 2026-05-30"), ["workshop-type"]);
    assert_eq!(codes("[trimmer]\nknife = [15]"), ["workshop-type"]);
    assert_eq!(codes("[[trimmer]]\nknife = 15"), ["workshop-type"]);
}

#[test]
fn all_mistakes_come_in_the_order_of_the_file() {
    let text = "unti = 1\n[zoo]\n[trimmer]\nblad = 0\nknife = 0\n[rates.seconds]\nglue = 1\n";
    let mut problems = Problems::new();
    read("workshop.toml", text.as_bytes(), &mut problems);
    let lines: Vec<usize> =
        problems.iter().map(|problem| problem.place.as_ref().unwrap().line).collect();
    assert_eq!(lines, [1, 2, 4, 5, 7]);
}

proptest! {
    #[test]
    fn any_bytes_are_read_without_panic(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        read("workshop.toml", &bytes, &mut Problems::new());
    }

    #[test]
    fn any_value_is_read_without_panic(
        line in prop::sample::select(DEFAULTS.lines().filter(|line| line.contains(" = ")).collect::<Vec<_>>()),
        section in prop::sample::select(vec!["", "[trimmer]", "[keep]", "[rates]", "[rates.seconds]", "[envelope]"]),
        value in "\"[-0-9 /.a-z]{0,8}\"|[-0-9_.e]{1,20}|true|\\[1\\]|\\{ a = 1 \\}",
    ) {
        let key = line.split(' ').next().unwrap();
        read_workshop(&format!("{section}\n{key} = {value}\n"));
    }
}

/// 1.5 mm over 0.29 mm, 140 lb index (GPO paper specification JCP K10), are 5 sheets and a bit.
#[test]
fn a_lift_is_as_thick_as_it_may_be() {
    let lift = |text: &str| sound(&format!("unit = \"mm\"\n[trimmer]\n{text}")).trimmer.lift;
    let sheet = |micrometres| Some(Thickness::from_micrometres(micrometres));
    let usual = lift("");
    assert_eq!([sheet(290), sheet(300), sheet(301)].map(|it| usual.of(it)), [5, 5, 4]);
    assert_eq!(usual.of(sheet(1500)), 1, "board");
    assert_eq!(usual.of(sheet(1501)), 1, "one sheet at least");
    assert_eq!(usual.of(sheet(100)), 15);
    assert_eq!(usual.of(None), 5, "nobody measured");
    let capped = lift("lift = 3");
    assert_eq!([sheet(100), sheet(1500), None].map(|it| capped.of(it)), [3, 1, 3]);
}
