//! Flaps, pockets, blanks for a sheet.

use super::wrap::auto_top;
use super::*;
use crate::diagnostics::Spanned;
use crate::measure::Unit;
use crate::pieces::samples::{inches, line, size, workshop};
use crate::workshop::EnvelopeRules;

fn top(pocket: &str) -> Length {
    let workshop = workshop();
    auto_top(inches(pocket), &workshop.envelope, workshop.trimmer.graduation)
}

#[test]
fn the_automatic_top_flap_follows_its_line_and_stays_within_the_pocket() {
    assert_eq!(top("4 3/8"), inches("2 3/8"));
    assert_eq!(top("3 1/8"), inches("1 7/8"));
    assert_eq!(top("5 1/8"), inches("2 11/16"), "2.675 in to the nearest 1/16");
    assert_eq!(top("1"), inches("1"), "1.025 in would pass the bottom edge");
}

#[test]
fn a_wide_clearance_lengthens_the_automatic_top_flap() {
    let mut workshop = workshop();
    workshop.envelope.clear_short = inches("2");
    let top = auto_top(inches("4"), &workshop.envelope, workshop.trimmer.graduation);
    assert_eq!(top, inches("2 1/2"));
}

fn warnings(card: &str, change: impl Fn(&mut EnvelopeRules)) -> usize {
    let mut workshop = workshop();
    change(&mut workshop.envelope);
    let mut problems = Problems::new();
    blank(size(card), &workshop, None, &mut problems);
    assert!(!problems.has_errors());
    problems.iter().count()
}

#[test]
fn flaps_warn_just_beyond_their_limits() {
    let with_top = |text: &'static str| {
        move |rules: &mut EnvelopeRules| {
            rules.top_flap = Some(inches(text));
        }
    };
    assert_eq!(warnings("5 1/2 x 4 1/4", with_top("5/8")), 0, "overlap of exactly 1/2 in");
    assert_eq!(warnings("5 1/2 x 4 1/4", with_top("9/16")), 1);
    assert_eq!(warnings("5 1/2 x 4 1/4", with_top("4 3/8")), 0, "as long as the pocket");
    assert_eq!(warnings("5 1/2 x 4 1/4", with_top("4 7/16")), 1);
    let with_side = |text: &'static str| {
        move |rules: &mut EnvelopeRules| {
            rules.side_flap = Some(inches(text));
        }
    };
    assert_eq!(warnings("5 1/2 x 4 1/4", with_side("2 7/8")), 0, "they just meet");
    assert_eq!(warnings("5 1/2 x 4 1/4", with_side("2 15/16")), 1);
}

#[test]
fn a_flap_left_out_has_no_crease() {
    let mut workshop = workshop();
    workshop.envelope.side_flap = Some(Length::ZERO);
    let blank = blank(size("5 1/2 x 4 1/4"), &workshop, None, &mut Problems::new());
    assert_eq!(blank.size.width, inches("5 3/4"));
    assert!(blank.scores.iter().all(|score| score.across == Axis::Height));
}

#[test]
fn a_pointed_flap_warns_on_long_faces_only() {
    let diagonal = |rules: &mut EnvelopeRules| rules.kind = EnvelopeKind::Diagonal;
    assert_eq!(warnings("7 x 5", diagonal), 0);
    assert_eq!(warnings("9 1/4 x 4", diagonal), 1);
}

/// From a published derivation of the cross-shaped blank (plane geometry): a face of 7 1/4 x 5 1/4 in comes from a
/// letter sheet with side flaps of 5/8 in.
#[test]
fn a_sheet_is_filled_only_with_the_side_flaps_that_the_workshop_sets() {
    let letter = |flap: Option<&'static str>| {
        move |rules: &mut EnvelopeRules| {
            rules.clear_short = inches("1/4");
            rules.blank = BlankRule::Fill(size("8 1/2 x 11"));
            rules.side_flap = flap.map(inches);
        }
    };
    assert_eq!(warnings("5 x 7", letter(None)), 0);
    assert_eq!(warnings("5 x 7", letter(Some("5/8"))), 0);
    assert_eq!(warnings("5 x 7", letter(Some("9/16"))), 1, "it has its usual flaps");
}

/// The point lies half of the blank's diagonal from its middle: `2 r² = side²` (plane geometry).
#[test]
fn a_pointed_flap_reaches_half_a_diagonal_from_the_middle() {
    let mut workshop = workshop();
    workshop.envelope.kind = EnvelopeKind::Diagonal;
    let mut line = line("invite", "7 x 5");
    line.envelope = Envelope::Cut(Spanned::nowhere("fern".to_owned()));
    let pocket = Pocket::of(
        &line,
        Bulk::of_card(line.card.value, Length::ZERO),
        &Stock::default(),
        &workshop,
    )
    .unwrap();
    assert_eq!(pocket.face, size("7 1/4 x 5 1/8"));
    let side = blank(size("7 x 5"), &workshop, None, &mut Problems::new()).size.width;
    // (7 1/4 + 5 1/8) / sqrt 2 + 3/4 = 9.5004 in, up to the next sixteenth.
    assert_eq!(side, inches("9 9/16"));
    let side = i128::from(side.ticks());
    let reach = i128::from(pocket.flap.ticks()) + i128::from(pocket.face.height.ticks() / 2);
    assert!(2 * reach * reach <= side * side && side * side < 2 * (reach + 1) * (reach + 1));
}

#[test]
fn a_tight_envelope_says_whether_anything_is_left() {
    let workshop = workshop();
    let told = |thick: &str| {
        let mut problems = Problems::new();
        check_room(Bulk::of_card(size("7 x 5"), inches(thick)), &workshop, None, &mut problems);
        problems.iter().map(|problem| problem.label.clone()).collect::<Vec<_>>()
    };
    assert_eq!(told("1/16"), Vec::<String>::new(), "half of the room");
    assert_eq!(told("3/32"), ["less than half of the 1/8 in of room is left"]);
    let nothing = ["the 1/8 in of room is used up: it will not go in"];
    assert_eq!(
        (told("1/8"), told("5/32")),
        (nothing.map(str::to_owned).to_vec(), nothing.map(str::to_owned).to_vec())
    );
}

#[test]
fn a_liner_that_ends_where_the_flap_begins_has_no_crease() {
    let creases = |flap: &str| {
        let pocket = Pocket::cut(size("5 3/4 x 4 3/8"), inches(flap));
        let blank = liner(&pocket, &workshop(), None, &mut Problems::new()).unwrap();
        blank.scores.len()
    };
    assert_eq!(["1/2", "9/16"].map(creases), [0, 1]);
}

/// A card of 178.3 x 127.5 mm and 6 and 3 mm of room are not whole millimetres; what is cut and scored is.
#[test]
fn a_blank_lies_on_the_marks_of_the_gauge() {
    let mut workshop = Workshop::usual(Unit::Millimetre);
    let card = Size::parse("178.3 x 127.5 mm", Unit::Millimetre).unwrap().unwrap();
    for kind in [EnvelopeKind::Wrap, EnvelopeKind::Diagonal] {
        workshop.envelope.kind = kind;
        let blank = blank(card, &workshop, None, &mut Problems::new());
        let lengths = blank.scores.iter().map(|score| score.at);
        let mut lengths = lengths.chain([blank.size.width, blank.size.height]);
        assert!(lengths.all(|length| length.is_multiple_of(Length::from_mm(1))));
    }
    let mut line = line("invite", "7 x 5");
    line.card.value = card;
    line.envelope = Envelope::Cut(Spanned::nowhere("fern".to_owned()));
    let face = Pocket::of(
        &line,
        Bulk::of_card(line.card.value, Length::ZERO),
        &Stock::default(),
        &workshop,
    )
    .unwrap()
    .face;
    assert_eq!(face, Size::new(Length::from_mm(185), Length::from_mm(131)));
}
