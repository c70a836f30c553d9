//! Codes of `workshop.toml`.

use super::builder::Reading;
use cardwright::measure::{Size, Unit};

#[test]
fn encoding() {
    Reading::workshop(b"unit = \"\xff\"").says(
        r#"
error[workshop-encoding]: workshop.toml is not a text file in UTF-8
 |
 = help: it is plain text, one key a line, such as unit = "in"
"#,
    );
}

#[test]
fn large() {
    let bench = |bytes: usize| Reading::workshop(format!("#{}\n", "-".repeat(bytes - 2)));
    bench((1 << 20) + 1).says(
        r"
error[workshop-large]: workshop.toml is larger than 1 MiB
 |
 = help: it needs a few lines: check that it is the right file
",
    );
    assert_eq!(bench(1 << 20).text(), "");
}

#[test]
fn syntax() {
    Reading::workshop("[trimmer]\nknife = 15 in\n").says(
        r#"
error[workshop-syntax]: a line cannot be read
 --> workshop.toml:2:9
  |
2 | knife = 15 in
  |         ^^^^^ string values must be quoted, expected literal string
  |
  = help: write `key = value`; text, and a length with its unit, in quotes: knife = "15 in"
  = help: a number has a point, not a comma: labour_per_hour = 22.50
"#,
    );
}

#[test]
fn syntax_of_a_key_that_stands_twice() {
    Reading::workshop("unit = \"in\"\nunit = \"mm\"\n").says(
        r#"
error[workshop-syntax]: a line cannot be read
 --> workshop.toml:2:1
  |
2 | unit = "mm"
  | ^^^^ duplicate key
  |
  = help: write `key = value`; text, and a length with its unit, in quotes: knife = "15 in"
  = help: a number has a point, not a comma: labour_per_hour = 22.50
"#,
    );
}

#[test]
fn key_with_a_near_name() {
    Reading::workshop("[trimmer]\nkinfe = 15\n").says(
        r"
error[workshop-key]: unknown key `trimmer.kinfe`
 --> workshop.toml:2:1
  |
2 | kinfe = 15
  | ^^^^^ did you mean `knife`?
",
    );
}

#[test]
fn key() {
    Reading::workshop("[keep]\ncolour = 15\n").says(
        r"
error[workshop-key]: unknown key `keep.colour`
 --> workshop.toml:2:1
  |
2 | colour = 15
  | ^^^^^^ not a key of this section
  |
  = help: its keys are short, long and value
",
    );
}

#[test]
fn section() {
    Reading::workshop("[trimer]\nknife = 15\n").says(
        r"
error[workshop-key]: unknown key `trimer`
 --> workshop.toml:1:2
  |
1 | [trimer]
  |  ^^^^^^ did you mean `trimmer`?
",
    );
}

#[test]
fn type_of_a_value() {
    Reading::workshop("[trimmer]\nknife = true\n").says(
        r#"
error[workshop-type]: trimmer.knife is true or false
 --> workshop.toml:2:9
  |
2 | knife = true
  |         ^^^^ expected a length such as "1/2 in" or 12
"#,
    );
}

#[test]
fn type_of_a_section() {
    Reading::workshop("trimmer = 15\n").says(
        r"
error[workshop-type]: trimmer is a number
 --> workshop.toml:1:11
  |
1 | trimmer = 15
  |           ^^ expected a section
",
    );
}

#[test]
fn length() {
    Reading::workshop("[trimmer]\nknife = 0\n").says(
        r"
error[workshop-length]: trimmer.knife is not above zero
 --> workshop.toml:2:9
  |
2 | knife = 0
  |         ^ expected a length above zero
",
    );
}

#[test]
fn length_below_zero() {
    Reading::workshop("[trimmer]\nblade = -0.5\n").says(
        r"
error[workshop-length]: trimmer.blade is below zero
 --> workshop.toml:2:9
  |
2 | blade = -0.5
  |         ^^^^ expected 0 or more
",
    );
}

#[test]
fn length_not_exact() {
    Reading::workshop("unit = \"mm\"\n[keep]\nshort = 20.00001\n").says(
        r"
error[workshop-length]: keep.short is not an exact length
 --> workshop.toml:3:9
  |
3 | short = 20.00001
  |         ^^^^^^^^ expected thousandths of a millimetre
  |
  = help: the nearest thousandths of a millimetre are 20 mm and 20.001 mm
",
    );
}

#[test]
fn length_in_an_unknown_unit() {
    Reading::workshop("[trimmer]\nknife = \"15 ft\"\n").says(
        r#"
error[workshop-length]: trimmer.knife is not a length
 --> workshop.toml:2:9
  |
2 | knife = "15 ft"
  |         ^^^^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a number alone means inches
"#,
    );
}

#[test]
fn number_out_of_range() {
    Reading::workshop("[trimmer]\nlift = 0\n").says(
        r"
error[workshop-number]: trimmer.lift is out of range
 --> workshop.toml:2:8
  |
2 | lift = 0
  |        ^ expected 1 to 10000
",
    );
}

#[test]
fn number_not_whole() {
    Reading::workshop("[spares]\npercent = 2.5\n").says(
        r"
error[workshop-number]: spares.percent is not whole
 --> workshop.toml:2:11
  |
2 | percent = 2.5
  |           ^^^ expected a whole number: 2 or 3
",
    );
}

#[test]
fn money() {
    Reading::workshop("[rates]\nlabour_per_hour = 18.005\n").says(
        r"
error[workshop-money]: rates.labour_per_hour has too many decimals
 --> workshop.toml:2:19
  |
2 | labour_per_hour = 18.005
  |                   ^^^^^^ expected an amount in USD, such as 12.50
",
    );
}

#[test]
fn word() {
    Reading::workshop("[grain]\nrule = \"strikt\"\n").says(
        r#"
error[workshop-word]: unknown grain.rule `strikt`
 --> workshop.toml:2:8
  |
2 | rule = "strikt"
  |        ^^^^^^^^ did you mean `strict`?
  |
  = help: it can be strict, prefer or ignore
"#,
    );
}

#[test]
fn word_of_a_currency() {
    Reading::workshop("currency = \"usd\"\n").says(
        r#"
error[workshop-word]: currency is not a currency code
 --> workshop.toml:1:12
  |
1 | currency = "usd"
  |            ^^^^^ expected three capital letters of ISO 4217, such as USD
"#,
    );
}

#[test]
fn word_of_a_unit() {
    Reading::workshop("unit = \"feet\"\n").says(
        r#"
error[workshop-word]: unknown unit `feet`
 --> workshop.toml:1:8
  |
1 | unit = "feet"
  |        ^^^^^^ expected in or mm
"#,
    );
}

#[test]
fn squaring() {
    Reading::workshop("[trimmer]\nblade = 0.125\nsquaring = 0.1\n").says(
        r"
error[workshop-squaring]: trimmer.squaring is less than the blade
 --> workshop.toml:3:12
  |
3 | squaring = 0.1
  |            ^^^ expected 0, or at least 1/8 in
  |
  = help: the squaring cut takes the blade's width off too
",
    );
}

#[test]
fn keep() {
    Reading::workshop("[keep]\nshort = 5\n").says(
        r"
error[workshop-keep]: keep.short is longer than keep.long
 --> workshop.toml:2:9
  |
2 | short = 5
  |         ^ expected at most keep.long, 4 in
",
    );
}

#[test]
fn own_formats() {
    Reading::workshop("[formats.cards]\nmini = \"2 x 3\"\n").says("");
    Reading::workshop("[formats.cards]\nmini = \"small\"\n").says(
        r#"
error[workshop-size]: formats.cards.mini is not a size
 --> workshop.toml:2:8
  |
2 | mini = "small"
  |        ^^^^^^^ expected width x height, such as "5 1/2 x 4 1/4 in"
"#,
    );
    Reading::workshop("[formats.cards]\nmini = \"2 x 1/3 in\"\n").says(
        r#"
error[workshop-size]: the height of formats.cards.mini is not an exact length
 --> workshop.toml:2:8
  |
2 | mini = "2 x 1/3 in"
  |        ^^^^^^^^^^^^ expected 64ths or thousandths of an inch
  |
  = help: the nearest thousandths of an inch are 0.333 in and 0.334 in
"#,
    );
    let flat = Reading::workshop("[formats.cards]\nmini = \"2 x 0 in\"\n").text();
    assert!(flat.contains("formats.cards.mini has a side of 0"), "{flat}");
    let mini = Reading::order("line,card,count,paper\ntag,mini,12,fern\n");
    mini.with_workshop("[formats.cards]\nmini = \"2 x 3\"\n").says("");
}

/// What is mistaken in the workshop is told there alone, not at each place that uses it.
#[test]
fn own_formats_are_told_once() {
    let codes = |reading: Reading| -> Vec<&'static str> {
        reading.problems().iter().map(|problem| problem.code).collect()
    };
    let order = "line,card,count,paper,insert,insert size,liner,liner kind\n\
                 a,Mini,12,fern,,,fern,folded\nb,3 x 4,12,fern,fern,mini,,\n";
    let broken = "[formats.cards]\nmini = { size = \"2 by 3\", fold = \"side\" }\n";
    assert_eq!(codes(Reading::order(order).with_workshop(broken)), ["workshop-size"]);
    let sheet = "[envelope]\nblank = \"half\"\n[formats.sheets]\nhalf = 6\n";
    assert_eq!(codes(Reading::workshop(sheet)), ["workshop-type"]);
    let class = "[post]\nrules = \"deutsche pots\"\nprices = [{ class = \"Standardbrief\", \
                 up_to = \"20 g\", price = 0.95 }]\n";
    assert_eq!(codes(Reading::workshop(class)), ["workshop-word"]);
    // A card that nobody knows has no fold that a liner could contradict.
    let unknown = order.replace("Mini", "velvet card").replace("mini", "2 x 3");
    assert_eq!(codes(Reading::order(unknown)), ["order-card"]);
    let spaced = "[formats.cards]\n\"my card\" = \"2 x 3\"\n\"My  card\" = \"3 x 4\"\n";
    assert_eq!(codes(Reading::workshop(spaced)), ["workshop-format"]);
}

#[test]
fn prices_of_letters() {
    let post = |price: &str| Reading::workshop(format!("[[post.prices]]\n{price}\n"));
    post("class = \"letter\"\nup_to = \"1 oz\"\nprice = 0.50").says("");
    post("class = \"letter\"\nup_to = \"1 lb\"\nprice = 0.50").says(
        r#"
error[workshop-weight]: post.prices[1].up_to is not a weight
 --> workshop.toml:3:9
  |
3 | up_to = "1 lb"
  |         ^^^^^^ expected ounces or grams, such as 1 oz or 20 g
"#,
    );
    post("class = \"letter\"\nup_to = \"1 oz\"").says(
        r#"
error[workshop-missing]: post.prices[1].price is missing
 --> workshop.toml:2:1
  |
2 | class = "letter"
  | ^^^^^ expected `price` beside it
"#,
    );
}

#[test]
fn formats_without_a_usable_name() {
    Reading::workshop("[formats.cards]\n\"5 x 5\" = \"2 x 2\"\n").says(
        r#"
error[workshop-format]: formats.cards.5 x 5 cannot be a name
 --> workshop.toml:2:11
  |
2 | "5 x 5" = "2 x 2"
  |           ^^^^^^^ expected another name
  |
  = help: a name begins with a letter, has no + in it, and appears once, in small or capital letters
"#,
    );
    let twice = Reading::workshop("[formats.cards]\nmini = \"2 x 2\"\nMINI = \"3 x 3\"\n");
    assert!(
        twice.text().starts_with("error[workshop-format]: formats.cards.MINI "),
        "{}",
        twice.text()
    );
}

#[test]
fn two_prices_of_one_letter() {
    let price = "[[post.prices]]\nclass = \"letter\"\nup_to = \"1 oz\"\nprice = 0.50\n";
    Reading::workshop(format!("{price}{price}")).says(
        r#"
error[workshop-doubled]: two prices for a letter of this weight
 --> workshop.toml:7:9
  |
7 | up_to = "1 oz"
  |         ^^^^^^ expected one price for each weight
"#,
    );
}

#[test]
fn own_cards_with_their_fold() {
    let mini = |rest: &str| {
        let toml = format!("[formats.cards]\nmini = {{ size = \"2 x 3\"{rest} }}\n");
        Reading::order("line,card,count,paper\ntag,mini,12,fern\n").with_workshop(toml)
    };
    let opened = |rest: &str| mini(rest).outcome().made.unwrap().job.bill.pieces[0].size;
    let size = |text| Size::parse(text, Unit::Inch).unwrap().unwrap();
    assert_eq!(opened(""), size("2 x 3"));
    assert_eq!(opened(", fold = \"flat\""), size("2 x 3"));
    assert_eq!(opened(", fold = \"side\""), size("4 x 3"));
    assert_eq!(opened(", fold = \"top\""), size("2 x 6"));
    assert_eq!(opened(", fold = \"accordion 4 top\""), size("2 x 12"));
    mini(", fold = \"left\"").says(
        r#"
error[workshop-word]: unknown formats.cards.mini.fold `left`
 --> workshop.toml:2:33
  |
2 | mini = { size = "2 x 3", fold = "left" }
  |                                 ^^^^^^ expected side, top, flat, gate, letter, french or accordion 4
  |
  = help: side: like a book, spine on the left; top: spine on top; flat: no fold
  = help: gate: two halves meet in front; letter: one panel is folded in; french: in half both ways; accordion: to and fro; ` top` behind gate, letter or accordion lays the panels below each other
"#,
    );
    Reading::workshop("[formats.cards]\nmini = { fold = \"side\" }\n").says(
        r#"
error[workshop-missing]: formats.cards.mini.size is missing
 --> workshop.toml:2:8
  |
2 | mini = { fold = "side" }
  |        ^^^^^^^^^^^^^^^^^ expected `size` in it
  |
  = help: such as { size = "2 x 3 in", fold = "side" }
"#,
    );
}

#[test]
fn a_finish_with_mistakes() {
    let text = "[finish]\n\"a + b\" = { seconds = 1 }\ncorners = 12\nhole = { second = 5 }\n";
    Reading::workshop(text).says(
        r#"
error[workshop-format]: finish.a + b cannot be a name
 --> workshop.toml:2:11
  |
2 | "a + b" = { seconds = 1 }
  |           ^^^^^^^^^^^^^^^ expected another name
  |
  = help: a name begins with a letter, has no + in it, and appears once, in small or capital letters

error[workshop-type]: finish.corners is a number
 --> workshop.toml:3:11
  |
3 | corners = 12
  |           ^^ expected a section

error[workshop-key]: unknown key `finish.hole.second`
 --> workshop.toml:4:10
  |
4 | hole = { second = 5 }
  |          ^^^^^^ did you mean `seconds`?

3 errors
"#,
    );
}
