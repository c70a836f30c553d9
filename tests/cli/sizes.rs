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
    assert!(out.contains(
        "\n  US A7                  7 1/4 x 5 1/4 in  184.15 x 133.35 mm     1/4 in      1/4 in\n"
    ));
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
    let out = shown("sizes C7");
    assert!(
        out.contains("no letter: 114 mm long, at least 5 in; 81 mm high, at least 3 1/2 in"),
        "{out}"
    );
}

/// Square envelopes cost extra or are not taken (USPS DMM 101.1.2a); the nearest oblong one is told with each post that
/// takes it better.
#[test]
fn a_square_card_is_sent_to_a_roomier_envelope() {
    let out = shown("sizes 5x5");
    let row = |post: &str| out.lines().find(|line| line.starts_with(post)).unwrap().to_owned();
    let usps = row("  usps ");
    let why = "no letter: length to height is 1, at least 1.3; in US A7: letter ";
    assert!(usps.contains(why) && usps.ends_with(" 2023-07-09"), "{usps}");
    assert!(usps.contains(" longer or 5/8 in higher "), "{usps}");
    let canada = row("  canada post ");
    assert!(canada.contains("not taken") && canada.contains("; in US A7: standard "), "{canada}");
    assert!(canada.ends_with(" read on 2026-11-26"), "{canada}");
    assert!(!out.contains("  upu"), "older regulations judge nothing: {out}");
    assert!(shown("sizes post").contains("older regulations, read on "));
}

#[test]
fn a_metric_workshop_is_sent_for_metric_envelopes() {
    let metric = |arguments: &str| {
        let call = Call::new(arguments).file("workshop.toml", "unit = \"mm\"\n");
        let out = call.run().out;
        let rows = out.lines().skip_while(|line| !line.trim_start().starts_with("fits in"));
        rows.skip(1).take(2).map(str::to_owned).collect::<Vec<_>>()
    };
    let rows = metric("sizes 215x145");
    assert!(rows[0].starts_with("  ISO C5 ") && rows[1].starts_with("  ISO B5 "), "{rows:?}");
}

#[test]
fn a_card_alone_is_told_where_a_post_has_a_class_for_it() {
    let alone = "\n  Without an envelope, unfolded and in a single sheet: postcard (usps) and Postkarte \
                 (deutsche post).\n";
    assert!(shown("sizes 4x6").contains(alone));
    assert!(!shown("sizes 5x7").contains("Without an envelope"));
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

/// What the summary and the tables say of the post: a line for a bought envelope, one without an envelope, one that is too
/// long for letters (USPS DMM 101.1.2a, 101.6.2.2, 201.4).
#[test]
fn the_post_is_told_in_one_line_and_in_full() {
    let order = "line,card,fold,count,paper,envelope\n\
                 thanks,5 x 5,flat,20,fern,bought\n\
                 date,6 x 4 1/4,flat,20,fern,posted without\n\
                 sign,11 x 17,flat,1,wide,wide\n";
    let sheets = "sheet,paper,width,height,price,gsm,thickness\n\
                  fern-12,fern,12,12,1.10,80 lb cover,0.011\n\
                  wide-36,wide,24,36,1.10,80 lb cover,0.011\n";
    let prices = "[trimmer]\nknife = \"40 in\"\n[post]\nprices = [\n\
                  { class = \"letter\", up_to = \"1 oz\", price = 0.70 },\n\
                  { class = \"letter nonmachinable\", up_to = \"1 oz\", price = 1.10 },\n]\n";
    let call = Call::new("plan may.csv").file("may.csv", order).file("sheets.csv", sheets);
    let call = call.file("workshop.toml", prices);
    let answer = call.run();
    let post = answer.out.lines().find(|line| line.starts_with("  Post ")).unwrap_or(&answer.err);
    assert_eq!(
        post,
        "  Post   letter nonmachinable, up to 1.00 oz: thanks (in US A7: letter); postcard: date; \
         parcel: sign"
    );
    let quote = call.home.text("reports/may/quote.csv");
    let row = |line: &str| quote.lines().find(|row| row.starts_with(line)).unwrap().to_owned();
    assert!(
        quote
            .lines()
            .next()
            .unwrap()
            .ends_with(",could be,roomier envelope,it saves,wholesale,sundries,finishes")
    );
    assert!(row("thanks,").ends_with(",US A7: letter,8.00 USD,,0.00,0.00"), "{}", row("thanks,"));
    assert!(row("sign,").contains(",parcel,\"no flat: 17 1/4 in long, at most 15 in"), "{quote}");
    let schedule = call.home.text("reports/may/schedule.html");
    for told in ["In US A7: letter, saves 8.00", "oz heavier", "rules of 2023-07-09"] {
        assert!(schedule.contains(told), "{told}");
    }
}

#[test]
fn a_size_between_two_lengths_names_them() {
    let answer = told("5 1/3 x 4");
    assert_eq!(answer.code, Some(2));
    assert_eq!(
        answer.err,
        "error: a side of \"5 1/3 x 4\" is not an exact length\n \
         = help: the nearest thousandths are 5.333 in and 5.334 in\n"
    );
}
