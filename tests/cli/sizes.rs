//! `sizes`: what fits what, in words.

use super::*;

#[track_caller]
fn shown(arguments: &str) -> String {
    let answer = Call::new(arguments).run();
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""), "{arguments}");
    answer.out
}

#[test]
fn a_size_finds_envelopes_sheets_and_posts() {
    let out = shown("sizes 5x7");
    assert!(out.starts_with("size: 5 x 7 in, 127 x 177.8 mm\n"), "{out}");
    assert!(out.contains("\n  US A7                  7 1/4 x 5 1/4 in      184.15 x 133.35 mm     1/4 in      1/4 in\n"));
    assert!(out.contains("\n  letter         8 1/2 x 11 in "), "{out}");
    assert!(out.contains("\n  usps            letter "), "{out}");
    assert!(out.ends_with("for a thin, light letter.\n"), "{out}");
}

#[test]
fn a_name_shows_all_that_it_may_mean() {
    let out = shown("sizes A7");
    for what in ["card ISO A7: ", "card US A7: ", "envelope US A7: "] {
        assert!(out.contains(what), "{what}: {out}");
    }
    // Too small to mail, and why.
    assert!(
        out.contains("no letter: 114 mm long, at least 5 in; 81 mm high, at least 3 1/2 in"),
        "{out}"
    );
}

#[test]
fn every_list_is_shown() {
    let all = shown("sizes");
    for list in ["cards", "envelopes", "sheets", "papers", "post"] {
        let one = shown(&format!("sizes {list}"));
        assert!(one.lines().count() > 5 && all.contains(&one), "{list}");
    }
}

#[test]
fn formats_of_ones_own_are_shown() {
    let call = Call::new("sizes mini").file("workshop.toml", "[formats.cards]\nmini = \"2 x 3\"\n");
    assert!(call.run().out.starts_with("card mini: 2 x 3 in, 50.8 x 76.2 mm (this workshop)\n"));
}

#[test]
fn a_name_that_is_none_is_refused_with_the_nearest() {
    assert_eq!(
        Call::new("sizes bokmark").refused(),
        "error: there is no format \"bokmark\", and it is not a size\n = help: did you mean bookmark?\n"
    );
}
