//! `sizes`: what fits what, in words.

use super::*;

/// The answer to a name of several words.
fn told(name: &str) -> Answer {
    Answer::of(Home::new().command("sizes").arg(name).output().unwrap())
}

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

/// A name as people say it: without its family, with DIN for ISO, with its kind behind it; and a square.
#[test]
fn names_are_understood_as_people_say_them() {
    for (typed, what) in [
        ("C6", "envelope ISO C6: "),
        ("DIN-C6", "envelope ISO C6: "),
        ("#10", "envelope No. 10: "),
        ("DL", "card third of ISO A4: "),
        ("DL", "envelope ISO DL: "),
    ] {
        let out = shown(&format!("sizes {typed}"));
        assert!(out.contains(what), "{typed}: {out}");
    }
    let envelope = told("A7 envelope").out;
    assert!(envelope.starts_with("envelope US A7: ") && !envelope.contains("card US A7: "));
    assert!(told("square 150 mm").out.starts_with("size: about 5.91 x 5.91 in, 150 x 150 mm\n"));
    assert!(told("4\u{bc} \u{d7} 5\u{bd}").out.starts_with("size: 4 1/4 x 5 1/2 in, "));
}

/// Bare numbers are in the unit of the workshop, which is said where the size is far from any card.
#[test]
fn a_size_that_was_meant_in_another_unit_says_how_it_was_read() {
    let out = shown("sizes 148x105");
    assert!(
        out.starts_with(
            "size: 148 x 105 in, 3759.2 x 2667 mm\n  \
             Read in inches, the unit of the workshop. If you mean another, write 148 x 105 mm.\n"
        ),
        "{out}"
    );
    assert!(!shown("sizes 5x7").contains("Read in"));
    let metric = |typed: &str| {
        let call = Call::new(&format!("sizes {typed}"));
        call.file("workshop.toml", "unit = \"mm\"\n").run().out
    };
    assert!(metric("5x7").contains(
        "Read in millimetres, the unit of the workshop. If you mean another, write 5 x 7 in.\n"
    ));
    assert!(!metric("148x105").contains("Read in"));
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

/// An envelope for an envelope, and the same number before the same letters.
#[test]
fn the_nearest_name_is_of_the_same_kind() {
    let refused = |typed: &str| {
        let answer = told(typed);
        assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""), "{typed}");
        answer.err
    };
    assert!(refused("squre 6 envelope").ends_with("did you mean square envelope 6?\n"));
    assert!(refused("squre 6").ends_with("did you mean square 6?\n"));
    assert!(refused("envelope square 7 1/3").ends_with("a size is width x height\n"));
    assert!(refused("ISO A9").ends_with("a size is width x height\n"));
}

#[test]
fn a_name_that_is_none_is_refused_with_the_nearest() {
    assert_eq!(
        Call::new("sizes bokmark").refused(),
        "error: there is no format \"bokmark\", and it is not a size\n = help: did you mean bookmark?\n"
    );
}
