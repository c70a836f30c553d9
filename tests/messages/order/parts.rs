//! Codes of what belongs to a card besides: mats, liners, inserts, bands, boxes.

use crate::messages::builder::Reading;

#[test]
fn mat_inset_not_a_length() {
    Reading::order_cells("mat,mat inset", "fern,thin").says(
        r#"
error[order-mat-inset]: mat inset is not a length
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,thin
  |                        ^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a number alone means inches
"#,
    );
}

#[test]
fn mat_inset_below_zero() {
    Reading::order_cells("mat,mat inset", "fern,-1/8").says(
        r"
error[order-mat-inset]: mat inset is below zero
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,-1/8
  |                        ^^^^ expected 0 or more
",
    );
}

#[test]
fn mat_inset_too_large() {
    Reading::order_cells("mat,mat inset", "fern,1").says(
        r"
error[order-mat-inset]: mat inset leaves nothing of the mat
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,1
  |                        ^ expected less than 1 in
  |
  = help: the card is 2 x 3 in
",
    );
    // Two of half an inch leave nothing, although each is less than an inch.
    let mats = Reading::order_cells("mat,mat inset", "fern+fern,1/2").text();
    assert!(mats.contains("^^^ expected less than 1 in for all mats together"), "{mats}");
}

#[test]
fn mat_missing() {
    Reading::order_cells("mat,mat inset", ",1/8").says(
        r"
warning[order-mat-missing]: `mat inset` without `mat`
 --> orders/spring.csv:2:20
  |
2 | tag,2 x 3,12,fern,,1/8
  |                    ^^^ not used
  |
  = help: fill in the column `mat`, or clear this cell
",
    );
}

#[test]
fn mats_with_a_gap() {
    Reading::order_cells("mat", "fern+").says(
        r"
error[order-mat]: a `+` needs a paper on both sides
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern+
  |                   ^^^^^ expected papers joined by +, such as fern+moss
"
        .replace(":17\n", ":19\n")
        .as_str(),
    );
}

#[test]
fn liner_kind() {
    Reading::order_cells("liner,liner kind", "fern,folden").says(
        r"
error[order-liner-kind]: unknown liner kind `folden`
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,folden
  |                        ^^^^^^ did you mean `folded`?
  |
  = help: it can be panel or folded
",
    );
}

#[test]
fn liner_kind_of_a_flat_card() {
    Reading::order_cells("liner,liner kind", "fern,folded").says(
        r"
error[order-liner-kind]: liner kind does not suit a flat card
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,folded
  |                        ^^^^^^ expected panel
  |
  = help: a folded liner needs a fold: set `fold` to side or top
",
    );
}

#[test]
fn insert_size() {
    Reading::order_cells("insert,insert size", "fern,3 1/8 x 2").says(
        r"
error[order-insert-size]: insert size is larger than the card
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,3 1/8 x 2
  |                        ^^^^^^^^^ expected at most 2 x 3 in
  |
  = help: the envelope and box fit the card; order a larger insert as its own line
",
    );
    assert_eq!(Reading::order_cells("insert,insert size", "fern,3 x 2").text(), "");
}

#[test]
fn band_width() {
    Reading::order_cells("band,band width", "fern,3 1/16").says(
        r"
error[order-band-width]: band width is more than the card's height
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,3 1/16
  |                        ^^^^^^ expected at most 3 in
",
    );
    assert_eq!(Reading::order_cells("band,band width", "fern,3").text(), "");
    Reading::order_cells("band,band width", "fern,0").says(
        r"
error[order-band-width]: band width is not above zero
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,0
  |                        ^ expected a length above zero
",
    );
    Reading::order_cells("band,band width", "fern,0.999 mm").says(
        r"
error[order-band-width]: band width is too small to cut
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,0.999 mm
  |                        ^^^^^^^^ expected at least 1 mm
",
    );
    for width in ["1 mm", "1.001 mm", "3 mm"] {
        assert_eq!(Reading::order_cells("band,band width", &format!("fern,{width}")).text(), "");
    }
}

#[test]
fn per_box() {
    let with_thickness = |holds: &str| Reading {
        sheets: "sheet,paper,width,height,price,thickness\nfern,fern,12,12,1,0.01\n".into(),
        ..Reading::order_cells("box,per box", &format!("fern,{holds}"))
    };
    with_thickness("0").says(
        r"
error[order-per-box]: per box is zero
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,0
  |                        ^ expected at least 1
",
    );
    with_thickness("1001").says(
        r"
error[order-per-box]: per box is too large
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,1001
  |                        ^^^^ expected at most 1000
  |
  = help: count the finished sets in one box
",
    );
    assert_eq!(with_thickness("1").text(), "");
}

#[test]
fn a_liner_in_a_card_of_many_panels() {
    Reading::order("line,card,fold,count,paper,liner\nmap,2 x 3,french,12,fern,fern\n").says(
        r"
error[order-liner-fold]: liner does not suit this fold
 --> orders/spring.csv:2:26
  |
2 | map,2 x 3,french,12,fern,fern
  |                          ^^^^ expected no liner
  |
  = help: inside a french fold, every panel is creased: glue a mat on the front, or lay an insert in
",
    );
    let accordion = |kind: &str| {
        let rows = format!("map,2 x 3,accordion 4,12,fern,fern,{kind}\n");
        Reading::order(format!("line,card,fold,count,paper,liner,liner kind\n{rows}"))
    };
    accordion("panel 5").says(
        r"
error[order-liner-kind]: liner kind names no panel of this accordion
 --> orders/spring.csv:2:36
  |
2 | map,2 x 3,accordion 4,12,fern,fern,panel 5
  |                                    ^^^^^^^ expected the panel that it lies on, panel 1 to panel 4
  |
  = help: write it in the column `liner kind`; panel 1 is the inside of the front, and the next ones follow it
",
    );
    for kind in ["", "panel", "folded", "panel 0", "2"] {
        assert!(accordion(kind).text().contains("names no panel of this accordion"), "{kind}");
    }
    for kind in ["panel 1", "Panel  4"] {
        assert_eq!(accordion(kind).text(), "", "{kind}");
    }
    let told = |fold: &str| {
        let rows = format!("map,2 x 3,{fold},12,fern,fern,folded\n");
        Reading::order(format!("line,card,fold,count,paper,liner,liner kind\n{rows}")).text()
    };
    for fold in ["gate", "letter top"] {
        assert!(told(fold).contains("[order-liner-kind]: liner kind does not suit this fold"));
    }
}

#[test]
fn a_fold_that_is_no_way_to_fold() {
    let told = |fold: &str| {
        Reading::order(format!("line,card,fold,count,paper\nmap,2 x 3,{fold},12,fern\n")).text()
    };
    assert!(
        told("french top").contains("[order-fold]: unknown fold `french top`"),
        "{}",
        told("french top")
    );
    assert!(told("gaet").contains("did you mean `gate`?"), "{}", told("gaet"));
    for fold in ["accordion", "accordion 2", "accordion 13", "accordion x"] {
        assert!(told(fold).contains("expected 3 to 12 panels, such as accordion 4"), "{fold}");
    }
    for fold in ["Gate", "letter  top", "accordion 3 top", "FRENCH"] {
        assert_eq!(told(fold), "", "{fold}");
    }
}

/// Papers of which nobody knows how thick they are take up 1/8 in by the gauge: a card twice as wide has room for it.
#[test]
fn a_card_too_narrow_for_its_panels() {
    let reading = |card: &str, fold: &str| {
        Reading::order(format!("line,card,fold,count,paper\ntag,{card},{fold},12,fern\n"))
    };
    reading("1/8 x 3", "letter").says(
        r"
error[piece-vanishes]: line `tag` is too narrow for a letter fold
 --> orders/spring.csv:2:5
  |
2 | tag,1/8 x 3,letter,12,fern
  |     ^^^^^^^ 1/8 in wide once it is folded, expected at least 1/4 in
  |
  = help: make the card larger, its paper thinner, or fold it another way
",
    );
    assert!(reading("3 x 3/16", "gate top").text().contains("3/16 in high once it is folded"));
    for (card, fold) in [("1/4 x 3", "letter"), ("1/4 x 3", "gate"), ("3 x 1/4", "gate top")] {
        assert_eq!(reading(card, fold).text(), "", "{card} {fold}");
    }
}
