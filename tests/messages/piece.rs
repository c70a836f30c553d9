//! Codes of pieces.

use super::builder::Reading;

#[test]
fn vanishes() {
    Reading::order_cells("liner", "fern").with_workshop("[envelope]\nliner_inset = 1\n").says(
        r"
error[piece-vanishes]: no room for the liner of line `tag`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern
  |                   ^^^^ an inset of 1 in on each side leaves nothing of a 2 x 3 in card
  |
  = help: make `liner_inset` under [envelope] in workshop.toml smaller, or leave the liner out; here it must be less than 1 in
",
    );
}

/// Of a card of 2 in, which is 50.8 mm: less than 1 mm, 1 mm, and more.
#[test]
fn leaves_a_hair() {
    let mat = |inset: &str| Reading::order_cells("mat,mat inset", &format!("fern,{inset}"));
    mat("24.901 mm").says(
        r"
error[piece-vanishes]: no room for the mat of line `tag`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern,24.901 mm
  |                   ^^^^ an inset of 24.901 mm on each side leaves less than 1 mm of a 2 x 3 in card
  |
  = help: make `mat inset` smaller, or leave the mat out; here it must be less than 1 in
",
    );
    assert_eq!(mat("24.9 mm").text(), "");
    assert_eq!(mat("24.899 mm").text(), "");
}

#[test]
fn name() {
    Reading::order(
        "line,card,count,paper\na,2 x 3,12,fern\nb,2 x 3,12,fern\na.card+b,3 x 3,12,fern\n",
    )
    .says(
        r"
error[piece-name]: two kinds of pieces are called `a.card+b.card`
 --> orders/spring.csv:4:19
  |
4 | a.card+b,3 x 3,12,fern
  |                   ^^^^ this line's name looks like two names joined
  |
  = help: leave `+` out of line names
",
    );
}

#[test]
fn flap_that_hardly_overlaps() {
    Reading::order_cells("envelope", "fern")
        .with_workshop("[envelope]\ntop_flap = \"9/16\"\n")
        .says(
            r"
warning[piece-envelope-flap]: the envelope's top flap barely covers its bottom flap
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern
  |                   ^^^^ the overlap is 7/16 in, the gum needs 1/2 in
  |
  = help: make `top_flap` at least 5/8 in (under [envelope] in workshop.toml)
",
        );
}

#[test]
fn flaps_past_the_edges() {
    Reading::order_cells("envelope", "fern")
        .with_workshop("[envelope]\ntop_flap = \"2 3/16\"\nside_flap = \"1 11/16\"\n")
        .says(
            r"
warning[piece-envelope-flap]: the envelope's top flap reaches past its bottom edge
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern
  |                   ^^^^ the pocket is 2 1/8 in high
  |
  = help: make `top_flap` at most 2 1/8 in (under [envelope] in workshop.toml)

warning[piece-envelope-flap]: the envelope's side flaps overlap
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern
  |                   ^^^^ the pocket is 3 1/4 in wide
  |
  = help: make `side_flap` at most half of that (under [envelope] in workshop.toml)

2 warnings
",
        );
}

#[test]
fn flaps_at_their_limits_are_not_told() {
    let flaps = |top: &str, side: &str| {
        format!("[envelope]\ntop_flap = \"{top}\"\nside_flap = \"{side}\"\n")
    };
    for (top, side) in [("5/8", "1 5/8"), ("2 1/8", "1/2")] {
        Reading::order_cells("envelope", "fern").with_workshop(flaps(top, side)).says("");
    }
}

#[test]
fn pointed_flap_of_a_long_card() {
    Reading::order("line,card,count,paper,envelope\nlong,9 1/4 x 4,12,fern,fern\n")
        .with_sheet("20 x 20")
        .with_workshop("[envelope]\nkind = \"diagonal\"\n[trimmer]\nknife = 20\n")
        .says(
            r#"
warning[piece-envelope-flap]: the envelope's pointed flap reaches past its bottom edge
 --> orders/spring.csv:2:24
  |
2 | long,9 1/4 x 4,12,fern,fern
  |                        ^^^^ the face is 9 1/2 x 4 1/8 in
  |
  = help: set `kind` to "wrap" for long cards, or trim the point by hand (under [envelope] in workshop.toml)
"#,
        );
}

#[test]
fn flap_shortened() {
    Reading::order("line,card,count,paper,envelope\ncard,7 x 5,12,fern,fern\n").says(
        r"
warning[piece-flap-shortened]: the top flap of `card.envelope` is shortened to fit a sheet
 --> orders/spring.csv:2:20
  |
2 | card,7 x 5,12,fern,fern
  |                    ^^^^ 1 7/8 in instead of 2 11/16 in
  |
  = help: it still covers the bottom flap by 1 3/4 in; a larger sheet would give it its full length
",
    );
}

#[test]
fn too_large_by_so_much() {
    Reading::order("line,card,count,paper\nposter,12 1/16 x 13,12,fern\n").says(
        r"
error[piece-too-large]: `poster.card`, 12 1/16 x 13 in, is larger than every sheet of fern
 --> orders/spring.csv:2:24
  |
2 | poster,12 1/16 x 13,12,fern
  |                        ^^^^ 1/16 in too wide and 1 in too high for `fern-12`, 12 x 12 in
  |
  = help: add a sheet of at least 12 1/16 x 13 in to sheets.csv
",
    );
}

#[test]
fn too_large_as_it_has_to_lie() {
    Reading::order("line,card,count,paper,turn\nposter,14 x 9,12,fern,none\n")
        .with_sheet("9 x 14")
        .says(
            r"
error[piece-too-large]: `poster.card`, 14 x 9 in, is larger than every sheet of fern
 --> orders/spring.csv:2:18
  |
2 | poster,14 x 9,12,fern,none
  |                  ^^^^ 5 in too wide for `fern`, 9 x 14 in
  |
  = help: it would fit after a quarter turn: to allow that, write `free` in the column `turn`
  = help: or add a sheet of at least 14 x 9 in to sheets.csv
",
        );
}

#[test]
fn too_large_with_that_fold() {
    Reading::order("line,card,fold,count,paper\ncard,7 x 5,side,12,fern\n").says(
        r"
error[piece-too-large]: `card.card`, 14 x 5 in, is larger than every sheet of fern
 --> orders/spring.csv:2:20
  |
2 | card,7 x 5,side,12,fern
  |                    ^^^^ 2 in too wide for `fern-12`, 12 x 12 in
  |
  = help: it would fit with the fold at the top: 7 x 10 in before folding
  = help: or add a sheet of at least 14 x 5 in to sheets.csv
",
    );
}

#[test]
fn too_large_for_that_flap() {
    Reading::order("line,card,count,paper,envelope\ncard,7 x 5,12,fern,fern\n")
        .with_workshop("[envelope]\ntop_flap = \"2 3/4\"\n")
        .says(
            r#"
error[piece-too-large]: `card.envelope`, 9 1/4 x 12 7/8 in, is larger than every sheet of fern
 --> orders/spring.csv:2:20
  |
2 | card,7 x 5,12,fern,fern
  |                    ^^^^ 7/8 in too high for `fern-12`, 12 x 12 in
  |
  = help: it would fit with `top_flap = "1 7/8 in"` under [envelope]
  = help: or add a sheet of at least 9 1/4 x 12 7/8 in to sheets.csv
"#,
        );
}

#[test]
fn too_large_for_that_paper() {
    let sheets = "sheet,paper,width,height,price\nfern-12,fern,12,12,1\nmoss-18,moss,12,18,1\n";
    Reading {
        sheets: sheets.into(),
        ..Reading::order("line,card,count,paper\na,14 x 3,12,fern\n")
    }
    .says(
        r"
error[piece-too-large]: `a.card`, 14 x 3 in, is larger than every sheet of fern
 --> orders/spring.csv:2:13
  |
2 | a,14 x 3,12,fern
  |             ^^^^ 2 in too wide for `fern-12`, 12 x 12 in
  |
  = help: it would fit on sheets of moss
  = help: or add a sheet of at least 14 x 3 in to sheets.csv
",
    );
}

#[test]
fn too_large_once_squared() {
    let rough =
        Reading::sheets("sheet,paper,width,height,price,rough edges\nfern-12,fern,12,12,1.10,4\n");
    let order = "line,card,count,paper\nfull,12 x 11 13/16,12,fern\n";
    Reading { order: order.into(), ..rough }
        .with_workshop("[trimmer]\nsquaring = \"1/8\"\n")
        .says(
            r"
error[piece-too-large]: `full.card`, 12 x 11 13/16 in, is larger than every sheet of fern
 --> orders/spring.csv:2:23
  |
2 | full,12 x 11 13/16,12,fern
  |                       ^^^^ 1/4 in too wide and 1/16 in too high for `fern-12`, 11 3/4 x 11 3/4 in once squared
  |
  = help: add a sheet of at least 12 1/4 x 12 1/16 in to sheets.csv
",
        );
}

#[test]
fn too_long_a_cut() {
    Reading::default().with_sheet("26 x 19").says(
        r"
error[piece-too-large]: the knife is too short to cut `tag.card`
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern
  |              ^^^^ `fern`, 26 x 19 in, needs a cut longer than 15 in
  |
  = help: have the sheets cut down to 15 in or less on one side, and list that size
",
    );
}

#[test]
fn too_small() {
    Reading::default().with_workshop("[trimmer]\nsmallest_hold = \"3 1/16\"\n").says(
        r"
error[piece-too-small]: `tag.card` is too small to cut
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern
  |              ^^^^ both sides of 2 x 3 in are below 3 1/16 in, the narrowest strip you can hold
  |
  = help: make the card larger, or `smallest_hold` under [trimmer] in workshop.toml smaller
",
    );
    Reading::default().with_workshop("[trimmer]\nsmallest_hold = 3\n").says("");
}

#[test]
fn grain() {
    let order = "line,card,fold,count,paper,turn\ncard,4 x 5,side,12,fern,none\n";
    let sheets = "sheet,paper,width,height,price,grain\nfern-12,fern,12,12,1,width\n";
    Reading { sheets: sheets.into(), ..Reading::order(order) }
        .with_workshop("[grain]\nrule = \"strict\"\n")
        .says(
            r#"
error[piece-grain]: `card.card` fits no sheet of fern the way it must lie
 --> orders/spring.csv:2:20
  |
2 | card,4 x 5,side,12,fern,none
  |                    ^^^^ its fold would run across the grain, and turning is not allowed
  |
  = help: it would fit after a quarter turn: to allow that, write `free` in the column `turn`
  = help: it would fit with its fold across the grain: to allow that, write `rule = "prefer"` under [grain]
  = help: it would fit with the fold at the top: 4 x 10 in before folding
  = help: or add a sheet of fern whose grain runs along its height to sheets.csv
"#,
        );
}

/// Whichever way it lies, it is too large: no grain would help.
#[test]
fn grain_of_a_piece_that_is_too_large() {
    let order = "line,card,fold,count,paper\ncard,11 x 5,top,12,fern\n";
    let sheets = "sheet,paper,width,height,price,grain,print\nfern-9,fern,9,12,1,height,one-way\n";
    Reading { sheets: sheets.into(), ..Reading::order(order) }
        .with_workshop("[grain]\nrule = \"strict\"\n")
        .says(
            r"
error[piece-too-large]: `card.card`, 11 x 10 in, is larger than every sheet of fern
 --> orders/spring.csv:2:20
  |
2 | card,11 x 5,top,12,fern
  |                    ^^^^ 2 in too wide for `fern-9`, 9 x 12 in
  |
  = help: add a sheet of at least 11 x 10 in to sheets.csv
",
        );
}

/// A mat has no fold; turned as its card's fold asks, it is too large.
#[test]
fn grain_of_a_mat() {
    let order = "line,card,fold,count,paper,mat\ncard,5 x 7,side,12,fern,mist\n";
    let sheets = "sheet,paper,width,height,price,grain\n\
                  fern-12,fern,12,12,1,height\nmist-5,mist,5,8,1,width\n";
    Reading { sheets: sheets.into(), ..Reading::order(order) }
        .with_workshop("[grain]\nrule = \"strict\"\n")
        .says(
            r#"
error[piece-grain]: `card.mat` fits no sheet of mist the way it must lie
 --> orders/spring.csv:2:25
  |
2 | card,5 x 7,side,12,fern,mist
  |                         ^^^^ its fibres would run across the fold of its card, and the other way round it is too large
  |
  = help: it would fit with its fibres across the fold of its card: to allow that, write `rule = "prefer"` under [grain]
  = help: it would fit on sheets of fern
  = help: or add a sheet of mist whose grain runs along its height to sheets.csv
"#,
        );
}

#[test]
fn paper_none() {
    Reading::sheets("sheet,paper,width,height,on hand\nfern-12,fern,12,12,0\n").says(
        r"
error[piece-paper-none]: no fern on hand, and none can be bought
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern
  |              ^^^^ `tag.card` is cut from it
  |
  = help: write how many you have in `on hand`, or give a sheet a price
",
    );
}

#[test]
fn paper_none_of_two() {
    let sheets = "sheet,paper,width,height\nfern-12,fern,12,12\nmoss-12,moss,12,12\n";
    let order = "line,card,count,paper\ntag,2 x 3,12,moss|fern\n";
    Reading { sheets: sheets.into(), ..Reading::order(order) }.says(
        r"
error[piece-paper-none]: no fern or moss on hand, and none can be bought
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,moss|fern
  |              ^^^^^^^^^ `tag.card` is cut from it
  |
  = help: write how many you have in `on hand`, or give a sheet a price
",
    );
}

#[test]
fn box_height() {
    Reading::order_cells("box", "fern").says(
        r"
error[piece-box-height]: the height of the box of line `tag` is not known
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern
  |                   ^^^^ the thickness of fern is not known
  |
  = help: write the `thickness` or the `gsm` of fern in sheets.csv
",
    );
    // Of a paper that is nowhere, only that is told.
    let unknown = Reading::order("line,card,count,paper,box\ntag,2 x 3,12,velvet,fern\n").text();
    assert!(unknown.contains("order-paper-unknown") && !unknown.contains("piece-box"), "{unknown}");
}

#[test]
fn blank_that_fills_no_sheet() {
    Reading::order_cells("envelope", "fern")
        .with_workshop("[envelope]\nblank = \"7 x 13 in\"\n")
        .says(
            r#"
warning[piece-envelope-flap]: envelopes of this size do not fill the sheet
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern
  |                   ^^^^ no number of them fills 7 x 13 in, so it has its usual flaps
  |
  = help: choose another sheet for `blank`, other clearances, or "usual" (under [envelope] in workshop.toml)
"#,
        );
}

#[test]
fn blank_that_fills_no_sheet_of_its_paper() {
    let order = "line,card,count,paper,envelope\na,7 x 5,12,fern,fern\nb,4 x 3,12,fern,fern\n";
    let reading = |sheet: &str| {
        let bench = "[envelope]\nblank = \"8 1/2 x 11 in\"\nclear_short = \"1/4 in\"\n";
        Reading::order(order).with_sheet(sheet).with_workshop(bench)
    };
    for sheet in ["8 1/2 x 11", "11 x 8 1/2"] {
        assert_eq!(reading(sheet).text(), "");
    }
    reading("12 x 12").says(
        r#"
warning[piece-envelope-sheet]: no sheet of fern is 8 1/2 x 11 in
 --> orders/spring.csv:2:17
  |
2 | a,7 x 5,12,fern,fern
  |                 ^^^^ `a.envelope` is sized to fill one
  |
  = help: set `blank` under [envelope] in workshop.toml to a size of fern that you have, or to "usual"; or add that sheet to sheets.csv
"#,
    );
}

#[test]
fn inside_inverted() {
    let reading = |fold: &str, back: &str| Reading {
        sheets: format!(
            "sheet,paper,width,height,price,print\nfern-12,fern,12,12,1,one-way/{back}\n"
        )
        .into(),
        ..Reading::order_cells("fold", fold)
    };
    reading("side", "tumbled").says(
        r"
warning[piece-inside-inverted]: the inside of `tag.card` will be upside down
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern,side
  |              ^^^^ both faces of `fern-12` have an up that suits a fold at the top
  |
  = help: fold it at the top, choose another paper, or glue a liner in; if it does not matter, write `half` in the column `turn`
",
    );
    reading("french", "free").says(
        r"
warning[piece-inside-inverted]: the inside of `tag.card` will be upside down
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern,french
  |              ^^^^ a french fold shows the face of `fern-12` inside, too, and turns it over
  |
  = help: choose another fold or another paper; if it does not matter, write `half` in the column `turn`
",
    );
    assert_eq!(reading("top", "tumbled").text(), "");
    assert_eq!(reading("side", "one-way").text(), "");
    assert_eq!(reading("flat", "tumbled").text(), "");
}

#[test]
fn board() {
    let reading = |thickness: &str| Reading {
        sheets: format!(
            "sheet,paper,width,height,price,thickness\nfern-12,fern,12,12,1,{thickness}\n"
        )
        .into(),
        ..Reading::order_cells("fold", "side")
    };
    assert_eq!(reading("0.99 mm").text(), "");
    reading("1 mm").says(
        r"
warning[piece-board]: `tag.card` is of board, which cracks where it is folded
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern,side
  |              ^^^^ 0.039 in thick
  |
  = help: fold a thinner paper, or order the card as `flat`
",
    );
}

#[test]
fn envelope_tight() {
    let reading = |thickness: &str| {
        Reading {
        sheets: format!(
            "sheet,paper,width,height,price,thickness\nfern-12,fern,12,12,1,{thickness}\nmoss-12,moss,12,12,1,0.004\n"
        )
        .into(),
        ..Reading::order_cells("envelope", "moss")
    }
    };
    // 1/8 in of room: half of it is 0.0625 in.
    assert_eq!(reading("0.0625").text(), "");
    reading("0.063").says(
        r"
warning[piece-envelope-tight]: what goes into the envelope is 0.063 in thick
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,moss
  |                   ^^^^ less than half of the 1/8 in of room is left
  |
  = help: make `clear_long` and `clear_short` under [envelope] in workshop.toml at least 3/16 in
",
    );
}
