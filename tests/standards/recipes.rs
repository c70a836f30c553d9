//! From a card to its pieces.

use crate::bench::{inches, line, mat, mm, order, panel, size, workshop};
use cardwright::diagnostics::{Problems, Spanned};
use cardwright::folds::Fold;
use cardwright::folds::Score;
use cardwright::measure::{Axis, Length, Size};
use cardwright::orders::{Envelope, OrderLine, Turn};
use cardwright::pieces::{Bill, FLAP_OVERLAP, Part, Piece, SEAM_OVERLAP, pieces, square_side};
use cardwright::stock::Stock;
use cardwright::workshop::{EnvelopeKind, Workshop};

fn bill(lines: Vec<OrderLine>) -> Bill {
    bill_at(lines, &workshop())
}

fn bill_at(lines: Vec<OrderLine>, workshop: &Workshop) -> Bill {
    let mut problems = Problems::new();
    let bill = pieces(&order(lines), &Stock::default(), workshop, &mut problems);
    assert!(problems.is_empty(), "{problems:?}");
    bill
}

fn only(line: OrderLine, part: Part) -> Piece {
    let mut bill = bill(vec![line]);
    bill.pieces.retain(|piece| piece.part == part);
    bill.pieces.remove(0)
}

fn envelope(card: &str) -> Piece {
    let mut line = line("invite", size(card), Fold::SIDE);
    line.envelope = Envelope::Cut(Spanned::nowhere("fern".to_owned()));
    only(line, Part::Envelope)
}

fn across(axis: Axis, at: &[&str]) -> Vec<Score> {
    at.iter().map(|at| Score::new(axis, inches(at))).collect()
}

/// A blank of 8 1/2 x 5 1/2 in folds at the side to 4 1/4 x 5 1/2, one of 6 x 3 in to 3 x 3 (common practice, no
/// source). Where the workshop adds no spares, there are none.
#[test]
fn a_side_fold_doubles_the_width() {
    let mut large = line("large", size("4 1/4 x 5 1/2"), Fold::SIDE);
    let mut small = line("small", size("3 x 3"), Fold::SIDE);
    (large.count.value, small.count.value) = (7, 1);
    let mut workshop = workshop();
    (workshop.spares.percent, workshop.spares.at_least) = (0, 0);
    let bill = bill_at(vec![large, small], &workshop);
    let found: Vec<_> = bill
        .pieces
        .iter()
        .map(|piece| (piece.id.as_str(), piece.size, piece.need(), piece.spares()))
        .collect();
    let expected =
        [("large.card", size("8 1/2 x 5 1/2"), 7, 0), ("small.card", size("6 x 3"), 1, 0)];
    assert_eq!(found, expected);
    assert_eq!(bill.pieces[0].scores, across(Axis::Width, &["4 1/4"]));
    assert_eq!(bill.pieces[1].scores, across(Axis::Width, &["3"]));
    assert!(bill.pieces.iter().all(|piece| piece.grain_along == Some(Axis::Height)));
}

/// A card of 4 1/4 x 5 1/2 in folded at the top comes from a strip of 4 1/4 x 11, half a letter sheet,
/// creased at 5 1/2 (common practice, no source).
#[test]
fn a_top_fold_doubles_the_height() {
    let base = only(line("invite", size("4 1/4 x 5 1/2"), Fold::TOP), Part::Card);
    assert_eq!(base.size, size("4 1/4 x 11"));
    assert_eq!(base.scores, across(Axis::Height, &["5 1/2"]));
    assert_eq!(base.grain_along, Some(Axis::Width));
}

/// ISO 216: A6 is 105 x 148 mm, A5 148 x 210, and each size is the one before it halved.
#[test]
fn an_a6_card_opens_to_a5() {
    let card = Size::new(mm("105"), mm("148"));
    let base = only(line("invite", card, Fold::SIDE), Part::Card);
    assert_eq!(base.size.turned(), Size::new(mm("148"), mm("210")));
    let flat = only(line("invite", card, Fold::FLAT), Part::Card);
    assert_eq!((flat.size, flat.scores, flat.grain_along), (card, vec![], None));
}

/// Layers on a card of 4 1/4 x 5 1/2 in: 4 x 5 1/4 with a border of 1/8 in, 4 1/8 x 5 3/8 with 1/16
/// (common practice, no source).
#[test]
fn mats_show_their_inset_on_every_side() {
    for (inset, expected) in
        [("1/8", "4 x 5 1/4"), ("1/16", "4 1/8 x 5 3/8"), ("0", "4 1/4 x 5 1/2")]
    {
        let mut line = line("invite", size("4 1/4 x 5 1/2"), Fold::SIDE);
        line.mats = vec![mat("gold", inches(inset))];
        let mat = only(line, Part::Mat);
        assert_eq!(mat.size, size(expected), "inset {inset}");
        assert_eq!(mat.papers, ["gold"]);
    }
}

/// Four layers, each 1/4 in smaller than the one below: 4 x 5 1/4, 3 3/4 x 5, 3 1/2 x 4 3/4, 3 1/4 x 4 1/2 on a
/// card of 4 1/4 x 5 1/2 in (common practice, no source).
#[test]
fn mats_lie_on_each_other() {
    let mut line = line("invite", size("4 1/4 x 5 1/2"), Fold::SIDE);
    line.mats = ["gold", "moss", "gold", "fern"].map(|paper| mat(paper, inches("1/8"))).to_vec();
    let mats = bill(vec![line]).pieces.into_iter().filter(|piece| piece.part == Part::Mat);
    let mats: Vec<(String, Size, Vec<String>)> =
        mats.map(|piece| (piece.id, piece.size, piece.papers)).collect();
    let expected = [
        ("invite.mat", "4 x 5 1/4", "gold"),
        ("invite.mat-2", "3 3/4 x 5", "moss"),
        ("invite.mat-3", "3 1/2 x 4 3/4", "gold"),
        ("invite.mat-4", "3 1/4 x 4 1/2", "fern"),
    ];
    let expected =
        expected.map(|(id, text, paper)| (id.to_owned(), size(text), vec![paper.to_owned()]));
    assert_eq!(mats, expected);
}

/// What is glued to a folded card has its grain along the fold; on a flat one it may lie either way (common practice, no
/// source).
#[test]
fn a_layer_that_is_glued_runs_along_the_fold_of_its_card() {
    let layers = |fold: Fold| {
        let mut line = line("invite", size("5 x 7"), fold);
        line.mats = vec![mat("fern", inches("1/8"))];
        line.liner = Some(panel("moss"));
        let bill = bill(vec![line]);
        let layers = bill.pieces.iter().filter(|it| [Part::Mat, Part::Liner].contains(&it.part));
        layers.map(|piece| (piece.part, piece.grain_along)).collect::<Vec<_>>()
    };
    let both = |axis| vec![(Part::Liner, axis), (Part::Mat, axis)];
    assert_eq!(layers(Fold::SIDE), both(Some(Axis::Height)));
    assert_eq!(layers(Fold::TOP), both(Some(Axis::Width)));
    assert_eq!(layers(Fold::FLAT), both(None));
}

#[test]
fn a_liner_is_the_card_less_its_inset() {
    let mut line = line("invite", size("4 1/4 x 5 1/2"), Fold::SIDE);
    line.liner = Some(panel("cream"));
    assert_eq!(only(line, Part::Liner).size, size("3 3/4 x 5"));
}

/// The two blanks known from practice (common practice, no source).
#[test]
fn wrap_envelopes_of_two_known_cards() {
    let large = envelope("5 1/2 x 4 1/4");
    assert_eq!(large.size, size("7 3/4 x 11"));
    let mut scores = across(Axis::Width, &["1", "6 3/4"]);
    scores.extend(across(Axis::Height, &["4 1/4", "8 5/8"]));
    assert_eq!(large.scores, scores);

    let small = envelope("3 x 3");
    assert_eq!(small.size, size("4 1/4 x 8"));
    let mut scores = across(Axis::Width, &["1/2", "3 3/4"]);
    scores.extend(across(Axis::Height, &["3", "6 1/8"]));
    assert_eq!(small.scores, scores);
}

#[test]
fn an_envelope_is_the_same_for_an_upright_card() {
    assert_eq!(envelope("4 1/4 x 5 1/2").size, envelope("5 1/2 x 4 1/4").size);
}

/// The gum band of the US government paper specification JCP V20: 13 mm (1/2 in), met by every card
/// from a gift tag to a folio.
#[test]
fn every_automatic_flap_overlaps_by_a_gum_band() {
    for eighths in 8..=12 * 8 {
        let side = Length::from_inch_parts(eighths, 8);
        let mut line = line("invite", Size::new(side, side), Fold::SIDE);
        line.envelope = Envelope::Cut(Spanned::nowhere("fern".to_owned()));
        let blank = only(line, Part::Envelope);
        let pocket = side + inches("1/8");
        let top = blank.size.height - side - pocket;
        assert!(top - inches("1/8") >= FLAP_OVERLAP, "card of {eighths}/8 in");
        assert!(top <= pocket, "card of {eighths}/8 in");
    }
}

/// `(w + h) / sqrt 2 + t`, worked out to a thousandth (plane geometry).
#[test]
fn diagonal_blanks_by_the_formula() {
    let thousandth = Length::from_inch_parts(1, 1000);
    for (face, expected) in [
        ("5.75 x 4.375", "7.909"),
        ("6.5 x 4.75", "8.705"),
        ("7.25 x 5.25", "9.589"),
        ("6 x 6", "9.235"),
        ("9.5 x 4.125", "10.384"),
    ] {
        assert_near(
            square_side(size(face), SEAM_OVERLAP, thousandth),
            inches(expected),
            thousandth,
        );
    }
    let tenth = mm("0.1");
    for (width, height, expected) in [
        ("162", "114", "215.2"),
        ("155", "155", "239.2"),
        ("229", "162", "296.5"),
        ("220", "110", "253.3"),
    ] {
        let side = square_side(Size::new(mm(width), mm(height)), mm("20"), tenth);
        assert_near(side, mm(expected), tenth);
    }
}

/// Rounded up by less than a step, while the expected number is rounded to the nearest.
fn assert_near(found: Length, expected: Length, step: Length) {
    let half = Length::from_ticks(step.ticks() / 2);
    assert!(found >= expected - half && found <= expected + step + half, "{found:?} {expected:?}");
    assert!(found.is_multiple_of(step));
}

#[test]
fn a_diagonal_envelope_is_a_square_blank() {
    let mut workshop = workshop();
    workshop.envelope.kind = EnvelopeKind::Diagonal;
    let mut line = line("invite", size("5 1/2 x 4 1/4"), Fold::SIDE);
    line.envelope = Envelope::Cut(Spanned::nowhere("fern".to_owned()));
    let bill = bill_at(vec![line], &workshop);
    // The face is 5 3/4 x 4 3/8: 7.909 in, up to the next sixteenth.
    assert_eq!(bill.pieces[1].size, size("7 15/16 x 7 15/16"));
    assert!(bill.pieces[1].scores.is_empty());
}

#[test]
fn identical_pieces_are_cut_together() {
    let mut first = line("a", size("4 x 6"), Fold::FLAT);
    let mut second = line("b", size("4 x 6"), Fold::FLAT);
    let mut third = line("c", size("4 x 6"), Fold::FLAT);
    first.papers.value = vec!["fern".to_owned(), "moss".to_owned()];
    second.papers.value = vec!["moss".to_owned(), "fern".to_owned()];
    second.count.value = 41;
    third.turn = Some(Turn::None);
    third.papers.value = first.papers.value.clone();
    let bill = bill(vec![first, second, third]);
    let ids: Vec<&str> = bill.pieces.iter().map(|piece| piece.id.as_str()).collect();
    assert_eq!(ids, ["a.card+b.card", "c.card"]);
    let merged = &bill.pieces[0];
    assert_eq!((merged.need(), merged.spares()), (51, 1 + 3));
    assert_eq!(merged.shares.iter().map(|share| share.need).collect::<Vec<_>>(), [10, 41]);
}

#[test]
fn a_line_turns_the_faces_that_are_seen() {
    let mut line = line("invite", size("4 x 6"), Fold::SIDE);
    line.turn = Some(Turn::None);
    line.liner = Some(panel("cream"));
    line.mats = vec![mat("gold", inches("1/8"))];
    line.envelope = Envelope::Cut(Spanned::nowhere("kraft".to_owned()));
    let bill = bill(vec![line]);
    let turns: Vec<_> = bill.pieces.iter().map(|piece| (piece.part, piece.turn)).collect();
    let none = Some(Turn::None);
    let expected =
        [(Part::Card, none), (Part::Liner, None), (Part::Mat, none), (Part::Envelope, None)];
    assert_eq!(turns, expected);
}

#[test]
fn a_layer_that_vanishes_is_an_error() {
    let build = |inset: &str| {
        let mut line = line("tag", size("2 x 1"), Fold::FLAT);
        line.mats = vec![mat("gold", inches(inset))];
        let mut problems = Problems::new();
        let bill = pieces(&order(vec![line]), &Stock::default(), &workshop(), &mut problems);
        let codes: Vec<_> = problems.iter().map(|problem| problem.code).collect();
        (bill.pieces.len(), codes)
    };
    assert_eq!(build("7/16"), (2, vec![]));
    assert_eq!(build("1/2"), (1, vec!["piece-vanishes"]));
    assert_eq!(build("2"), (1, vec!["piece-vanishes"]));
}
