//! What belongs to a card besides: inserts, bands, folded liners, boxes; envelopes of every size.

use crate::bench::{cases, inches, line, mm, order, panel, sheet, size, workshop};
use cardwright::diagnostics::{Problems, Spanned};
use cardwright::folds::Fold;
use cardwright::folds::Score;
use cardwright::measure::{Axis, Length, Size, Thickness, Unit};
use cardwright::orders::{self, Band, Envelope, GiftBox, Insert, Liner, LinerKind, OrderLine};
use cardwright::pieces::{Bill, Bulk, FLAP_OVERLAP, Part, Piece, Pocket, pieces};
use cardwright::stock::{Sheet, Stock};
use cardwright::table::Named;
use cardwright::workshop::{BlankRule, EnvelopeKind, Workshop};
use proptest::prelude::*;

fn paper(name: &str) -> Spanned<String> {
    Spanned::nowhere(name.to_owned())
}

/// A paper of which a sheet is so thick, in micrometres.
fn known(name: &str, micrometres: i64) -> Sheet {
    let thickness = Some(Thickness::from_micrometres(micrometres));
    Sheet { thickness, ..sheet(name, name, size("12 x 12")) }
}

fn bill(line: OrderLine, stock: &Stock, workshop: &Workshop) -> Bill {
    let mut problems = Problems::new();
    let bill = pieces(&order(vec![line]), stock, workshop, &mut problems);
    assert!(problems.is_empty(), "{problems:?}");
    bill
}

fn only(bill: &Bill, part: Part) -> &Piece {
    bill.pieces.iter().find(|piece| piece.part == part).unwrap()
}

fn across(axis: Axis, at: &[&str]) -> Vec<Score> {
    at.iter().map(|at| Score::new(axis, inches(at))).collect()
}

/// An open card of 10 x 7 in takes a folded liner of 9 3/4 x 6 3/4, 1/4 in less both ways (common practice, from
/// memory), folded in its middle along the card's own fold.
#[test]
fn a_folded_liner_lies_in_the_fold() {
    let mut card = line("invite", size("5 x 7"), Fold::SIDE);
    card.liner = Some(Liner { kind: LinerKind::Folded, ..panel("cream") });
    let bill = bill(card, &Stock::default(), &workshop());
    let liner = only(&bill, Part::Liner);
    assert_eq!(liner.size, size("9 3/4 x 6 3/4"));
    assert_eq!(liner.scores, across(Axis::Width, &["4 7/8"]));
    assert_eq!((liner.grain_along, liner.folds()), (Some(Axis::Height), 1));
}

/// A fold uses up `k (T + c)` of a sheet: T all that is folded inside, c its own thickness, k from 1 for a square
/// back to pi/2 for a round one (plane geometry). With index of 0.29 mm (GPO/JCP K10, 140 lb) round a liner of 0.14
/// (JCP A91, 70 lb), the card's fold uses up pi/2 (0.28 + 0.29) mm, the liner's pi/2 x 0.14: 0.675 mm less.
#[test]
fn creep_is_cut_off_as_finely_as_the_gauge_goes() {
    let liner = |graduation: &str, card: i64, liner: i64| {
        let mut workshop = workshop();
        workshop.trimmer.graduation = mm(graduation);
        let mut card_line = line("invite", Size::new(mm("105"), mm("148")), Fold::TOP);
        card_line.liner = Some(Liner { kind: LinerKind::Folded, ..panel("cream") });
        let stock = Stock::of_sheets(vec![known("fern", card), known("cream", liner)]);
        let bill = bill(card_line, &stock, &workshop);
        let piece = only(&bill, Part::Liner);
        mm("296") - workshop.envelope.liner_inset - piece.size.height
    };
    assert_eq!(liner("0.01", 290, 140), mm("0.68"));
    assert_eq!(liner("0.5", 290, 140), mm("0.5"));
    assert_eq!(liner("1.5", 290, 140), mm("0"), "too fine to be cut");
    assert_eq!(liner("0.5", 450, 350), mm("1.5"), "1.257 mm to the nearest half");
}

#[test]
fn an_insert_is_as_large_as_it_is_ordered_or_as_a_panel() {
    let insert = |size: Option<Size>| {
        let mut card = line("invite", crate::bench::size("5 x 7"), Fold::SIDE);
        card.extras.insert = Some(Insert { paper: paper("cream"), size });
        let bill = bill(card, &Stock::default(), &workshop());
        only(&bill, Part::Insert).size
    };
    assert_eq!(insert(None), size("4 1/2 x 6 1/2"));
    assert_eq!(insert(Some(size("3 x 4"))), size("3 x 4"));
}

/// A band round a card of 5 in: front and back as wide as the card and what is in it, ends that overlap by 3/4 in
/// (common practice, no source).
#[test]
fn a_band_goes_round_what_is_in_it() {
    let band = |card: &str, thick: i64| {
        let mut card = line("invite", size(card), Fold::SIDE);
        card.extras.band = Some(Band { paper: paper("cream"), width: inches("1 1/2") });
        let stock = Stock::of_sheets(vec![known("fern", thick)]);
        let bill = bill(card, &stock, &workshop());
        let piece = only(&bill, Part::Band).clone();
        let at: Vec<Length> = piece.scores.iter().map(|score| score.at).collect();
        (piece.size, at[1] - at[0], piece.size.width - (at[1] - at[0]) * 2)
    };
    let overlap = |found: Length| (inches("3/4")..=inches("7/8")).contains(&found);
    let (size, front, ends) = band("5 x 7", 300);
    assert_eq!((size.height, front), (inches("1 1/2"), inches("5 1/16")), "0.6 mm thick");
    assert!(overlap(ends));
    let (_, front, ends) = band("5 x 7", 1000);
    assert_eq!(front, inches("5 1/8"), "2 mm thick");
    assert!(overlap(ends));
    // A back of 3/4 in is all overlap; a narrower one has room for no more than its width.
    let ends = |card| {
        let (_, front, ends) = band(card, 300);
        (front, ends)
    };
    assert_eq!(ends("11/16 x 7"), (inches("3/4"), inches("3/4")));
    assert_eq!(ends("5/8 x 7"), (inches("11/16"), inches("11/16")));
    assert_eq!(ends("3/4 x 7"), (inches("13/16"), inches("13/16")));
}

/// Ten sets of 2 x 0.3 mm card in an envelope of three layers of 0.1 mm: 9 mm and 1/8 in make walls of 1/2 in; the
/// pocket of 5 3/4 x 4 3/8 in has 1/8 in room (plane geometry; the room is common practice, no source).
#[test]
fn a_box_holds_its_sets() {
    let mut card = line("invite", size("5 1/2 x 4 1/4"), Fold::SIDE);
    card.count.value = 25;
    card.envelope = Envelope::Cut(paper("kraft"));
    card.extras.gift_box = Some(GiftBox { paper: paper("board"), holds: 10 });
    let stock = Stock::of_sheets(vec![known("fern", 300), known("kraft", 100)]);
    let bill = bill(card, &stock, &workshop());
    let gift_box = only(&bill, Part::Box);
    // 5 7/8 x 4 1/2 inside.
    assert_eq!(gift_box.size, size("6 7/8 x 10 1/2"));
    let mut scores = across(Axis::Width, &["1/2", "6 3/8"]);
    scores.extend(across(Axis::Height, &["1/2", "5", "5 1/2", "10"]));
    assert_eq!(gift_box.scores, scores);
    assert_eq!((gift_box.need(), gift_box.spares()), (3, 1), "for 25 sets");
}

/// Envelopes that are bought take room as those that are cut do: three layers of about 0.1 mm each.
#[test]
fn a_box_has_room_for_bought_envelopes() {
    let walls = |envelope: Envelope| {
        let mut card = line("invite", size("5 1/2 x 4 1/4"), Fold::SIDE);
        card.envelope = envelope;
        card.extras.gift_box = Some(GiftBox { paper: paper("board"), holds: 20 });
        let stock = Stock::of_sheets(vec![known("fern", 300), known("kraft", 100)]);
        only(&bill(card, &stock, &workshop()), Part::Box).scores[0].at
    };
    // 12 mm and 1/8 in; 18 mm and 1/8 in.
    assert_eq!(walls(Envelope::None), inches("5/8"));
    assert_eq!(walls(Envelope::Cut(paper("kraft"))), inches("7/8"));
    let bought = walls(Envelope::Bought);
    assert!((inches("7/8")..=inches("15/16")).contains(&bought), "{bought:?}");
}

/// Walls of 60 sets are higher than an inch, the flap of the lid is not.
#[test]
fn a_tall_box_has_a_short_flap() {
    let mut card = line("tag", size("2 x 3 1/2"), Fold::FLAT);
    card.extras.gift_box = Some(GiftBox { paper: paper("board"), holds: 60 });
    let stock = Stock::of_sheets(vec![known("fern", 600), known("board", 500)]);
    let bill = bill(card, &stock, &workshop());
    let gift_box = only(&bill, Part::Box);
    let at: Vec<Length> = gift_box.scores.iter().map(|score| score.at).collect();
    // 36 mm and 1/8 in: 1 9/16 in. Inside 3 1/2 x 2 in, 1/8 in, and four boards of 0.5 mm.
    assert_eq!((at[0], at[1] - at[0]), (inches("1 9/16"), inches("3 3/4")));
    assert_eq!(gift_box.size.height - at[5], inches("1"));
}

/// Plane geometry of the cross-shaped blank (worked out here, no source): a face of 7 1/4 x 5 1/4 in comes from a
/// letter sheet, 8 1/2 x 11 in, with side flaps of 5/8 in, exactly and without waste.
#[test]
fn a_letter_sheet_is_one_envelope_for_a_card_of_5_x_7() {
    let mut workshop = workshop();
    workshop.envelope.clear_short = inches("1/4");
    workshop.envelope.blank = BlankRule::Fill(size("8 1/2 x 11"));
    let blank = envelope("5 x 7", &workshop);
    assert_eq!(blank.size, size("8 1/2 x 11"));
    let at: Vec<Length> = blank.scores.iter().map(|score| score.at).collect();
    assert_eq!((at[0], at[3] - at[2]), (inches("5/8"), inches("5 1/4")));
    let (bottom, top) = (at[2], blank.size.height - at[3]);
    assert_eq!(bottom + top - inches("5 1/4"), FLAP_OVERLAP, "just a gum band");
}

#[test]
fn small_envelopes_share_a_sheet() {
    let mut workshop = workshop();
    workshop.envelope.blank = BlankRule::Fill(size("12 x 18"));
    let blank = envelope("3 x 3", &workshop);
    // Parts of 4 1/2 x 12 in would be a flap too long, smaller ones no envelope: four from a sheet.
    assert_eq!(blank.size, size("6 x 9"));
}

/// A face of 5 3/4 x 4 3/8 in needs a square of 7 21/32 in to close, and its flap passes the edge from 9 9/32 in on
/// (plane geometry): squares of 8 in will do, of 10 in will not.
#[test]
fn a_pointed_envelope_fills_a_sheet_in_squares() {
    let mut workshop = workshop();
    workshop.envelope.kind = EnvelopeKind::Diagonal;
    workshop.envelope.blank = BlankRule::Fill(size("16 x 8"));
    assert_eq!(envelope("5 1/2 x 4 1/4", &workshop).size, size("8 x 8"));
    for sheet in ["16 x 9", "10 x 10"] {
        workshop.envelope.blank = BlankRule::Fill(size(sheet));
        let mut card = line("invite", size("5 1/2 x 4 1/4"), Fold::SIDE);
        card.envelope = Envelope::Cut(paper("kraft"));
        let mut problems = Problems::new();
        let bill = pieces(&order(vec![card]), &Stock::default(), &workshop, &mut problems);
        assert_eq!(problems.iter().count(), 1, "{sheet}: it has its usual flaps");
        assert_eq!(only(&bill, Part::Envelope).size, size("7 15/16 x 7 15/16"));
    }
}

/// Side flaps are half an inch for the glue, but no wider than half of the pocket: here 3/4 in.
#[test]
fn side_flaps_of_a_tiny_envelope_just_meet() {
    let mut least = workshop();
    least.envelope.blank = BlankRule::Least;
    assert_eq!(envelope("1/2 x 1/2", &least).size.width, inches("1 1/2"));
}

/// Squaring takes two edges off a sheet that is sold untrimmed, such as 20 x 26 in, the basic size of cover (GPO paper
/// specification JCP L20), and between two parts the blade goes through.
#[test]
fn a_sheet_is_filled_with_what_squaring_and_the_blade_leave_of_it() {
    let mut workshop = workshop();
    workshop.trimmer.squaring = inches("15/16");
    workshop.trimmer.blade = inches("1/8");
    workshop.envelope.blank = BlankRule::Fill(size("20 x 26"));
    // 18 1/8 and 24 1/8 in, halved.
    assert_eq!(envelope("5 x 4 1/2", &workshop).size, size("9 x 12"));
    workshop.envelope.blank = BlankRule::Fill(size("12 1/8 x 18 1/8"));
    assert_eq!(envelope("3 x 3", &workshop).size, size("6 x 9"), "it is sold trimmed");
}

fn envelope(card: &str, workshop: &Workshop) -> Piece {
    let mut card = line("invite", size(card), Fold::SIDE);
    card.envelope = Envelope::Cut(paper("kraft"));
    only(&bill(card, &Stock::default(), workshop), Part::Envelope).clone()
}

#[test]
fn the_least_blank_is_no_larger_than_any_other_that_closes() {
    let mut least = workshop();
    least.envelope.blank = BlankRule::Least;
    let blank = envelope("5 1/2 x 4 1/4", &least);
    // Pocket 5 3/4 x 4 3/8: twice its height and a gum band, side flaps of 1/2 in.
    assert_eq!(blank.size, size("6 3/4 x 9 1/4"));
    least.envelope.kind = EnvelopeKind::Diagonal;
    // 7.159 in and a gum band.
    assert_eq!(envelope("5 1/2 x 4 1/4", &least).size, size("7 11/16 x 7 11/16"));
}

#[test]
fn an_envelope_liner_reaches_up_to_the_gum() {
    let lining = |envelope: Envelope| {
        let mut card = line("invite", size("5 1/2 x 4 1/4"), Fold::SIDE);
        card.envelope = envelope;
        card.extras.envelope_liner = Some(paper("cream"));
        only(&bill(card, &Stock::default(), &workshop()), Part::EnvelopeLiner).clone()
    };
    // Pocket 5 3/4 x 4 3/8, top flap 2 3/8: 1/8 in free at sides and bottom, 1/2 in for the gum.
    let cut = lining(Envelope::Cut(paper("kraft")));
    assert_eq!(cut.size, size("5 1/2 x 6 1/8"));
    assert_eq!(cut.scores, across(Axis::Height, &["4 1/4"]));
    // US A2, the smallest that holds the card, is as large outside.
    assert_eq!(lining(Envelope::Bought).size, cut.size);
}

/// A pocket of 7 1/4 x 5 1/8 in has a top flap of 2 11/16 in, which is cut back to 1 7/8 in where sheets are 12 in long.
#[test]
fn an_envelope_liner_is_as_short_as_its_flap() {
    let lining = |sheets: &[&str]| {
        let mut card = line("invite", size("7 x 5"), Fold::FLAT);
        card.envelope = Envelope::Cut(paper("kraft"));
        card.extras.envelope_liner = Some(paper("cream"));
        let kraft = |text: &&str| Sheet { size: size(text), ..known("kraft", 100) };
        let stock = Stock::of_sheets(sheets.iter().map(kraft).collect());
        let bill = bill(card, &stock, &workshop());
        (only(&bill, Part::Envelope).size, only(&bill, Part::EnvelopeLiner).size)
    };
    assert_eq!(lining(&["12 x 13"]), (size("9 1/4 x 12 13/16"), size("7 x 7 3/16")));
    assert_eq!(lining(&["12 x 12"]), (size("9 1/4 x 12"), size("7 x 6 3/8")));
}

/// What nobody sets is cut and scored on the marks of the gauge: whole millimetres (common practice, no source).
#[test]
fn what_is_usual_at_a_metric_bench_lies_on_its_gauge() {
    let text = "line,card,fold,count,paper,liner,liner kind,mat,envelope,envelope liner,insert,band\n\
                card,105 x 148,side,9,fern,cream,panel,gold+gold,kraft,cream,cream,cream\n\
                small,74 x 105,top,9,fern,cream,folded,gold,kraft,cream,cream,cream\n";
    for (kind, blank) in [
        (EnvelopeKind::Wrap, BlankRule::Usual),
        (EnvelopeKind::Wrap, BlankRule::Least),
        (EnvelopeKind::Diagonal, BlankRule::Usual),
    ] {
        let mut workshop = Workshop::usual(Unit::Millimetre);
        (workshop.envelope.kind, workshop.envelope.blank) = (kind, blank);
        let (style, own) = (workshop.style(), &workshop.formats);
        let mut problems = Problems::new();
        let file = Named::new("orders/spring.csv", text);
        let order = orders::read("spring", file, style, own, &mut problems);
        let bill = pieces(&order.unwrap(), &Stock::default(), &workshop, &mut problems);
        assert!(problems.is_empty() && bill.pieces.len() > 10, "{problems:?}");
        for piece in &bill.pieces {
            let scores = piece.scores.iter().map(|score| score.at);
            for length in scores.chain([piece.size.width, piece.size.height]) {
                assert!(length.is_multiple_of(Length::from_mm(1)), "{}: {length:?}", piece.id);
            }
        }
    }
}

fn any_workshop() -> impl Strategy<Value = Workshop> {
    let kind = prop_oneof![Just(EnvelopeKind::Wrap), Just(EnvelopeKind::Diagonal)];
    let sheet = (4..=20_i64, 4..=20_i64);
    let blank = prop_oneof![
        Just(BlankRule::Usual),
        Just(BlankRule::Least),
        sheet.prop_map(|(width, height)| {
            let inch = |length| Length::from_inch_parts(length, 1);
            BlankRule::Fill(Size::new(inch(width), inch(height)))
        }),
    ];
    (kind, blank, 1..=8_i64, 1..=8_i64).prop_map(|(kind, blank, long, short)| {
        let mut workshop = workshop();
        workshop.envelope.kind = kind;
        workshop.envelope.blank = blank;
        workshop.envelope.clear_long = Length::from_inch_parts(long, 16);
        workshop.envelope.clear_short = Length::from_inch_parts(short, 16);
        workshop
    })
}

proptest! {
    #![proptest_config(cases(512))]

    /// Every envelope holds its card with the clearances, its flaps overlap by a gum band, and none passes the
    /// edge across from it; where one cannot, a warning says so.
    #[test]
    fn every_envelope_holds_its_card_and_closes(
        workshop in any_workshop(),
        (width, height) in (16..=160_i64, 16..=160_i64),
    ) {
        let card = Size::new(Length::from_inch_parts(width, 16), Length::from_inch_parts(height, 16));
        let mut line = line("invite", card, Fold::SIDE);
        line.envelope = Envelope::Cut(paper("kraft"));
        let pocket = Pocket::of(&line, Bulk::of_card(line.card.value, Length::ZERO), &Stock::default(), &workshop).unwrap();
        let rules = &workshop.envelope;
        prop_assert_eq!(pocket.face.width, card.long() + rules.clear_long);
        prop_assert_eq!(pocket.face.height, card.short() + rules.clear_short);
        let mut problems = Problems::new();
        let bill = pieces(&order(vec![line]), &Stock::default(), &workshop, &mut problems);
        prop_assume!(problems.is_empty());
        let blank = only(&bill, Part::Envelope);
        prop_assert!(pocket.flap <= pocket.face.height);
        match rules.kind {
            EnvelopeKind::Wrap => {
                let at = |axis: Axis| -> Vec<Length> {
                    let own = blank.scores.iter().filter(|score| score.across == axis);
                    own.map(|score| score.at).collect()
                };
                let (across, down) = (at(Axis::Width), at(Axis::Height));
                prop_assert_eq!(across[1] - across[0], pocket.face.width);
                prop_assert_eq!(down[1] - down[0], pocket.face.height);
                prop_assert_eq!(blank.size.height - down[1], pocket.flap);
                prop_assert!(down[0] + pocket.flap - pocket.face.height >= FLAP_OVERLAP);
                prop_assert!(down[0] <= pocket.face.height);
                prop_assert!(across[0] * 2 <= pocket.face.width);
                if let BlankRule::Fill(sheet) = rules.blank {
                    let divides = |part: Size| {
                        sheet.width.is_multiple_of(part.width)
                            && sheet.height.is_multiple_of(part.height)
                    };
                    prop_assert!(divides(blank.size) || divides(blank.size.turned()));
                }
            }
            EnvelopeKind::Diagonal => {
                // The back is covered, and seams overlap: 2 (side - overlap)² >= (w + h)².
                let around = i128::from((pocket.face.width + pocket.face.height).ticks());
                let side = i128::from((blank.size.width - FLAP_OVERLAP).ticks());
                prop_assert!(2 * side * side >= around * around);
            }
        }
    }

    /// The least blank is no larger than the usual one, nor than any that fills a sheet.
    #[test]
    fn the_least_blank_is_the_least(
        mut workshop in any_workshop(),
        (width, height) in (32..=160_i64, 32..=160_i64),
    ) {
        let card = Size::new(Length::from_inch_parts(width, 16), Length::from_inch_parts(height, 16));
        let mut blank = |rule: Option<BlankRule>| {
            let mut line = line("invite", card, Fold::SIDE);
            line.envelope = Envelope::Cut(paper("kraft"));
            workshop.envelope.blank = rule.unwrap_or(workshop.envelope.blank);
            let bill = pieces(&order(vec![line]), &Stock::default(), &workshop, &mut Problems::new());
            only(&bill, Part::Envelope).size.area()
        };
        let given = blank(None);
        prop_assert!(blank(Some(BlankRule::Least)) <= given);
    }
}
