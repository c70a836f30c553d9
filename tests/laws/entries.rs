//! Whatever comes in at a door of the program, it is read or told, and nothing else happens. The fuzz targets in
//! `tests/fuzz/` ask the same of far more input.

use cardwright::batch::{self, Inputs, Source};
use cardwright::cli::render;
use cardwright::diagnostics::Problems;
use cardwright::measure::{Currency, Length, LengthStyle, Size, Unit, Weight, parse_count};
use proptest::prelude::*;
use serde_json::Value;

const ORDER: &str = "line,card,count,paper\ntag,2 x 3,12,fern\n";
const SHEETS: &str = "sheet,paper,width,height,price\nfern-12,fern,12,12,1.10\n";
const PLANS: [&str; 2] =
    [include_str!("../golden/swap/plan.json"), include_str!("../golden/seating/plan.json")];
const BENCHES: [&str; 2] = [
    include_str!("../../examples/smallest/workshop.toml"),
    include_str!("../../examples/metric/workshop.toml"),
];

fn source(name: &str, bytes: &[u8]) -> Source {
    Source { name: name.to_owned(), bytes: bytes.to_vec() }
}

/// What is said of problems; nothing in it may act on a terminal.
fn told(problems: &Problems) -> String {
    let told = render::problems(problems, false);
    let acts = |letter: char| letter.is_control() && letter != '\n' || letter == '\u{202e}';
    assert!(!told.contains(acts), "{told:?}");
    told
}

/// What is said of these files.
fn read(order: &[u8], sheets: &[u8], offcuts: Option<&[u8]>, bench: Option<&[u8]>) -> String {
    told(&batch::check(&Inputs {
        orders: vec![source("spring.csv", order)],
        sheets: source("sheets.csv", sheets),
        offcuts: offcuts.map(|bytes| source("offcuts.csv", bytes)),
        workshop: bench.map(|bytes| source("workshop.toml", bytes)),
        ..Inputs::default()
    }))
}

/// A number as a slip, a joke or an attack would write it.
fn number() -> impl Strategy<Value = String> {
    let odd = prop::sample::select(vec![
        "nan",
        "inf",
        "-inf",
        "1e9999",
        "-0",
        "0x10",
        "0",
        "1/0",
        "9223372036854775807",
        "9223372036854775808",
        "-9223372036854775808",
        "18446744073709551616",
        "1_000",
        "1,000",
        "½",
        "١٢",
        "100000 mm",
        "100001 mm",
        "0.000025 mm",
        "1/3",
    ]);
    prop_oneof![
        odd.prop_map(str::to_owned),
        "-?[0-9]{1,24}",
        "[0-9]{0,3}[.,][0-9]{0,9}",
        "[0-9]{1,3} [0-9]{1,2}/[0-9]{1,3}( ?(in|mm|cm|\"))?",
        any::<i64>().prop_map(|number| number.to_string()),
    ]
}

/// A cell: a number, a word of the trade, or anything.
fn cell() -> impl Strategy<Value = String> {
    let word = prop::sample::select(vec![
        "fern",
        "fern|moss",
        "a+b",
        "side",
        "top",
        "flat",
        "bought",
        "free",
        "half",
        "none",
        "width",
        "one-way",
        "US A2",
        "2 x 3",
        "2027-02-29",
        "80 lb cover",
        "=1+2",
        "#",
        "\"",
        "\"\"",
        "'",
        "\u{202e}",
    ]);
    prop_oneof![number(), word.prop_map(str::to_owned), "\\PC{0,8}", ".{0,8}"]
}

/// A table with these columns, some of them, and some of its own.
fn table(columns: &'static [&'static str]) -> impl Strategy<Value = Vec<u8>> {
    let header = prop::sample::subsequence(columns, columns.len() - 2..=columns.len());
    let rows = prop::collection::vec(prop::collection::vec(cell(), 0..14), 0..6);
    let separator = prop::sample::select(vec![",", ";", "\t"]);
    let end = prop::sample::select(vec!["\n", "\r\n", "\r"]);
    (header, rows, separator, end, any::<bool>()).prop_map(
        |(header, rows, separator, end, quoted)| {
            let cell = |text: &String| match quoted {
                true => format!("\"{}\"", text.replace('"', "\"\"")),
                false => text.clone(),
            };
            let row = |row: &Vec<String>| row.iter().map(cell).collect::<Vec<_>>().join(separator);
            let rows = rows.iter().map(row);
            let all: Vec<String> = std::iter::once(header.join(separator)).chain(rows).collect();
            all.join(end).into_bytes()
        },
    )
}

/// A bench with keys that there are and keys that there are not.
fn bench() -> impl Strategy<Value = String> {
    let section = prop::sample::select(vec![
        "",
        "[trimmer]",
        "[keep]",
        "[spares]",
        "[grain]",
        "[envelope]",
        "[rates]",
        "[rates.seconds]",
        "[post]",
        "[[post.prices]]",
        "[formats.cards]",
        "[formats.sheets]",
        "[[trimmer]]",
        "[a.b]",
    ]);
    let key = prop::sample::select(vec![
        "unit",
        "currency",
        "page",
        "knife",
        "graduation",
        "lift",
        "lift_thickness",
        "blade",
        "squaring",
        "stages",
        "short",
        "long",
        "value",
        "percent",
        "at_least",
        "rule",
        "kind",
        "side_flap",
        "price",
        "margin_percent",
        "hours_per_day",
        "gauge",
        "class",
        "up_to",
        "rules",
        "mine",
        "\"\"",
        "a.b",
    ]);
    let value = prop_oneof![
        number(),
        cell().prop_map(|text| format!("{text:?}")),
        prop::sample::select(vec!["true", "[1, 2]", "{ a = 1 }", "2027-01-01", "'''x'''", ""])
            .prop_map(str::to_owned),
    ];
    let line = (section, key, value)
        .prop_map(|(section, key, value)| format!("{section}\n{key} = {value}\n"));
    prop::collection::vec(line, 0..6).prop_map(|lines| lines.concat())
}

/// A value in the place of another.
fn value() -> impl Strategy<Value = Value> {
    prop_oneof![
        any::<i64>().prop_map(Value::from),
        (-3..4_i64).prop_map(Value::from),
        prop::sample::select(vec![
            i64::MIN,
            i64::MAX,
            i64::MAX / 4,
            1_000_000_000_000,
            1_000_000_000_001,
            16_000_000_000,
        ])
        .prop_map(Value::from),
        Just(Value::from(u64::MAX)),
        Just(serde_json::json!(0.5)),
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        ".{0,6}".prop_map(Value::from),
        Just(serde_json::json!([])),
        Just(serde_json::json!({})),
    ]
}

/// The value at a place, values before what they hold.
fn place<'a>(value: &'a mut Value, left: &mut usize) -> Option<&'a mut Value> {
    if *left == 0 {
        return Some(value);
    }
    *left -= 1;
    match value {
        Value::Array(list) => list.iter_mut().find_map(|one| place(one, left)),
        Value::Object(map) => map.values_mut().find_map(|one| place(one, left)),
        _ => None,
    }
}

fn places(value: &Value) -> usize {
    1 + match value {
        Value::Array(list) => list.iter().map(places).sum(),
        Value::Object(map) => map.values().map(places).sum::<usize>(),
        _ => 0,
    }
}

fn judged(plan: &[u8], bench: &str) -> String {
    let bench = source("workshop.toml", bench.as_bytes());
    told(&batch::judge(&source("plan.json", plan), batch::By::Bench(&bench)).problems)
}

const LINES: &[&str] = &[
    "line",
    "card",
    "count",
    "paper",
    "fold",
    "liner",
    "mat",
    "mat inset",
    "envelope",
    "turn",
    "due",
    "note",
];
const KINDS: &[&str] = &[
    "sheet",
    "paper",
    "width",
    "height",
    "on hand",
    "price",
    "pack",
    "grain",
    "print",
    "gsm",
    "thickness",
];
const STRIPS: &[&str] =
    &["offcut", "paper", "width", "height", "count", "grain", "print", "from", "since"];

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn lengths_are_read_as_they_are_written(text in prop_oneof![number(), cell()]) {
        for unit in [Unit::Inch, Unit::Millimetre, Unit::Centimetre] {
            let style = LengthStyle { unit, graduation: Length::from_inch_parts(1, 16) };
            if let Ok(length) = Length::parse(&text, unit) {
                prop_assert!(-Length::MAX <= length && length <= Length::MAX);
                prop_assert_eq!(Length::parse(&style.number(length), unit), Ok(length));
            }
            if let Some(Ok(size)) = Size::parse(&format!("{text} x {text}"), unit) {
                prop_assert_eq!(Size::parse(&style.size(size), unit), Some(Ok(size)));
            }
        }
        if let Ok(count) = parse_count(&text) {
            prop_assert_eq!(parse_count(&count.to_string()), Ok(count));
        }
        let dollars = Currency::default();
        if let Ok(money) = dollars.parse(&text) {
            prop_assert_eq!(dollars.parse(&dollars.number(money)), Ok(money));
        }
        let _ = Weight::parse(&text);
    }

    #[test]
    fn orders_are_read_or_told(order in table(LINES)) {
        read(&order, SHEETS.as_bytes(), None, None);
    }

    #[test]
    fn sheets_are_read_or_told(sheets in table(KINDS)) {
        read(ORDER.as_bytes(), &sheets, None, None);
    }

    #[test]
    fn drawers_are_read_or_told(offcuts in table(STRIPS)) {
        read(ORDER.as_bytes(), SHEETS.as_bytes(), Some(&offcuts), None);
    }

    #[test]
    fn benches_are_read_or_told(bench in bench()) {
        read(ORDER.as_bytes(), SHEETS.as_bytes(), None, Some(bench.as_bytes()));
    }

    #[test]
    fn bytes_are_read_or_told(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        read(&bytes, &bytes, Some(&bytes), Some(&bytes));
        prop_assert!(!judged(&bytes, BENCHES[0]).is_empty());
    }

    #[test]
    fn changed_plans_are_judged(
        which in 0..2_usize,
        changes in prop::collection::vec((any::<prop::sample::Index>(), value()), 1..4),
    ) {
        let sound: Value = serde_json::from_str(PLANS[which]).unwrap();
        let mut plan = sound.clone();
        for (at, value) in changes {
            let mut left = at.index(places(&plan));
            if let Some(place) = place(&mut plan, &mut left) {
                *place = value;
            }
        }
        let told = judged(plan.to_string().as_bytes(), BENCHES[which]);
        prop_assert!(plan != sound || told.is_empty(), "{told}");
    }
}
