//! Wrong commands and options, and what to type instead.

use super::*;

/// The lines that say what to type instead, and that something was wrong at all.
#[track_caller]
fn tips(arguments: &str) -> Vec<String> {
    let err = Call::new(arguments).refused();
    assert!(err.starts_with("error: "), "{err}");
    let tips = err.lines().filter_map(|line| line.strip_prefix("  tip: "));
    tips.map(str::to_owned).collect()
}

#[test]
fn a_command_of_another_word_is_answered_by_ours() {
    let new = "`cardwright new FOLDER` makes a small workshop, ready to plan";
    let plan = "`cardwright plan ORDER` plans an order and writes its schedule";
    let shelf = "`cardwright shelf FOLDER` shows your sheets and offcuts";
    let check = "`cardwright check FILE` looks for mistakes in your files, or in a plan.json";
    let sizes = "`cardwright sizes` lists cards, envelopes, sheets, papers and post";
    let settle = "`cardwright settle REPORT` records a batch that was cut";
    let explain = "`cardwright explain CODE` explains an error or warning";
    for (typed, expected) in [
        ("init", &[new][..]),
        ("start", &[new, plan]),
        ("make", &[new, plan]),
        ("run orders/wedding.csv", &[plan]),
        ("cut", &[plan]),
        ("solve", &[plan]),
        ("layout", &[plan]),
        ("Done reports/wedding", &[settle]),
        ("finish", &[settle]),
        ("book", &[settle]),
        ("stock", &[shelf]),
        ("inventory", &[shelf]),
        ("drawer", &[shelf]),
        ("sheets", &[shelf, sizes]),
        ("verify", &[check]),
        ("validate", &[check]),
        ("formats", &[sizes]),
        ("envelopes", &[sizes]),
        ("why order-count", &[explain]),
        ("help order-count", &[explain, "`cardwright --help` lists all commands"]),
    ] {
        assert_eq!(tips(typed), expected, "{typed}");
    }
}

#[test]
fn an_order_alone_is_answered_by_the_command_that_plans_it() {
    assert_eq!(tips("orders/wedding.csv"), ["`cardwright plan orders/wedding.csv` plans an order"]);
}

#[test]
fn an_option_of_another_word_is_answered_by_ours() {
    let out = "`--out DIR` names the folder for the reports";
    let limit = "`--limit SECONDS` stops the search after so long";
    for (typed, expected) in [
        ("plan a.csv --output may", out),
        ("plan a.csv --folder=may", out),
        ("plan a.csv -o may", out),
        ("plan a.csv --time 10", limit),
        ("plan a.csv --timeout 10", limit),
        ("new a --inches", "`--unit in` measures in inches"),
        ("new a --metric", "`--unit mm` measures in millimetres, with paper in A sizes"),
        (
            "plan a.csv --metric",
            "this is set in workshop.toml; `cardwright new FOLDER` writes one with every key",
        ),
    ] {
        assert_eq!(tips(typed), [expected], "{typed}");
    }
}

/// A slip of the fingers is answered as before, and a word without a meaning by nothing odd.
#[test]
fn letters_count_where_no_word_does() {
    let [plam, limt] = ["plam", "plan a.csv --limt 3"].map(tips);
    assert!(plam.iter().any(|tip| tip.contains("'plan'")), "{plam:?}");
    assert!(limt.iter().any(|tip| tip.contains("'--limit'")), "{limt:?}");
    assert_eq!(tips("xyzzy"), [""; 0]);
}
