//! Flaps, pockets, blanks for a sheet.

use super::wrap::auto_top;
use super::*;
use crate::pieces::samples::{inches, size, workshop};

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
