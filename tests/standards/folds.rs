//! Cards of more than two panels: their open sizes and scores, worked out by hand, and a paper model of them.
//!
//! The gap of a gate, 1/8 in in all, and the shorter panel of a letter fold, 3/32 in for text paper, are those of a trade
//! bindery's folding guide. What thicker paper uses up is plane geometry: half a turn round a sheet's thickness, pi/2 x
//! thickness, for each of two folds.

use crate::bench::instances::inputs;
use crate::bench::{cases, inches, size};
use cardwright::batch::{self, Effort, Made, Options};
use cardwright::folds::ScoreSide;
use cardwright::measure::{Axis, Length, Size};
use cardwright::pieces::{Part, Piece};
use proptest::prelude::*;

const NO_SPARES: &str = "[spares]\npercent = 0\nat_least = 0\n";

fn made(rows: &str, thickness: &str) -> Made {
    let order = format!("line,card,fold,count,paper,mat,liner,envelope\n{rows}");
    let sheets = format!(
        "sheet,paper,width,height,price,gsm,thickness\nfern,fern,80,80,1.00,200,{thickness}\n"
    );
    let bench = format!("[trimmer]\nknife = \"90 in\"\n{NO_SPARES}");
    let inputs = inputs("may", order, sheets, None, bench);
    let options = Options { effort: Effort::Quick, threads: Some(1), ..Options::default() };
    let outcome = batch::plan(&inputs, &options);
    outcome.made.unwrap_or_else(|| panic!("{:?}", outcome.problems))
}

fn card(fold: &str, thickness: &str) -> Piece {
    let made = made(&format!("note,5 x 7,{fold},1,fern,,,\n"), thickness);
    made.job.bill.pieces.into_iter().find(|piece| piece.part == Part::Card).unwrap()
}

fn scores(piece: &Piece) -> Vec<(Axis, Length, ScoreSide)> {
    piece.scores.iter().map(|score| (score.across, score.at, score.side)).collect()
}

/// 5 x 7 in on text paper, card, and thick card; the gauge has marks of 1/16 in.
#[test]
fn open_sizes_and_scores_are_those_of_the_guide() {
    let outer = |axis, at: &str| (axis, inches(at), ScoreSide::Outer);
    let inner = |axis, at: &str| (axis, inches(at), ScoreSide::Inner);
    let (across, down) = (Axis::Width, Axis::Height);
    for (thickness, open, first, second) in [
        // 1/16 in and 0.0126 in are less than 3/32 in: 1/8 in by the gauge.
        ("0.004", "14 7/8 x 7", "4 7/8", "9 7/8"),
        // 1/16 and 0.0377 in.
        ("0.012", "14 7/8 x 7", "4 7/8", "9 7/8"),
        // 1/16 and 0.0628 in: 3/16 in by the gauge.
        ("0.020", "14 13/16 x 7", "4 13/16", "9 13/16"),
    ] {
        let letter = card("letter", thickness);
        assert_eq!(letter.size, size(open), "{thickness}");
        assert_eq!(scores(&letter), [outer(across, first), outer(across, second)]);
        let gate = card("gate", thickness);
        assert_eq!(gate.size, size("9 7/8 x 7"));
        assert_eq!(scores(&gate), [outer(across, "2 7/16"), outer(across, "7 7/16")]);
        let french = card("french", thickness);
        assert_eq!(french.size, size("10 x 14"));
        assert_eq!(scores(&french), [outer(across, "5"), outer(down, "7")]);
        let accordion = card("accordion 4", thickness);
        assert_eq!(accordion.size, size("20 x 7"));
        let expected = [outer(across, "5"), inner(across, "10"), outer(across, "15")];
        assert_eq!(scores(&accordion), expected);
    }
    assert_eq!(card("gate top", "0.012").size, size("5 x 13 7/8"));
    assert_eq!(card("letter top", "0.012").size, size("5 x 20 7/8"));
    assert_eq!(card("accordion 3 top", "0.012").size, size("5 x 21"));
}

/// A liner of an accordion lies on the panel that is named; lines that share it say each their own.
#[test]
fn a_liner_lies_on_the_panel_that_is_named() {
    let order = "line,card,fold,count,paper,liner,liner kind\n\
                 map,5 x 7,accordion 4,2,fern,fern,panel 3\nfan,5 x 7,accordion 4,2,fern,fern,panel 1\n\
                 leaf,5 x 7,letter,2,fern,fern,\n";
    let sheets = "sheet,paper,width,height,price,gsm,thickness\nfern,fern,80,80,1.00,200,0.01\n";
    let bench = format!("[trimmer]\nknife = \"90 in\"\n{NO_SPARES}");
    let inputs = inputs("may", order.to_owned(), sheets.to_owned(), None, bench);
    let made = batch::plan(&inputs, &Options::default()).made.unwrap();
    let glued: Vec<&str> = made.schedule.sticking.iter().map(|step| step.what.as_str()).collect();
    let expected = "glue it where its line says: map inside the card, on panel 3, counted from the inside of the front; fan \
                    inside the card, on panel 1, counted from the inside of the front; leaf inside the card, on the middle \
                    panel, 1/4 in from every edge";
    assert_eq!(glued, [expected]);
    let liner = made.job.bill.pieces.iter().find(|piece| piece.part == Part::Liner).unwrap();
    assert_eq!((liner.size, liner.scores.len()), (size("4 1/2 x 6 1/2"), 0));
    let held: Vec<&str> =
        made.schedule.packing.iter().map(|step| step.contents[1].as_str()).collect();
    assert_eq!(
        held,
        ["liner inside on panel 3, fern", "liner inside on panel 1, fern", "liner inside, fern"]
    );
}

/// Folds stand along the grain; one that is folded both ways has its spine there.
#[test]
fn grain_runs_along_the_folds() {
    let along = |fold: &str| card(fold, "0.012").grain_along.unwrap();
    for fold in ["gate", "letter", "french", "accordion 5"] {
        assert_eq!(along(fold), Axis::Height, "{fold}");
    }
    for fold in ["gate top", "letter top", "accordion 5 top"] {
        assert_eq!(along(fold), Axis::Width, "{fold}");
    }
}

/// A mat on a gate is two halves, each of which leaves 1/8 in of its panel; both lie on the card, so they weigh twice as
/// much as one. 200 g/m2; a square inch is 645.16 mm2.
#[test]
fn the_mat_of_a_gate_is_two_halves() {
    let made = made("note,5 x 7,gate,4,fern,fern,fern,fern\n", "0.012");
    let mat = made.job.bill.pieces.iter().find(|piece| piece.part == Part::Mat).unwrap();
    assert_eq!((mat.size, mat.need()), (size("2 3/16 x 6 3/4"), 8));
    let glued = made.schedule.sticking.iter().find(|step| step.part == Part::Mat).unwrap();
    assert_eq!(glued.what, "glue one on each half of the front, 1/8 in from every edge");
    let liner = made.job.bill.pieces.iter().find(|piece| piece.part == Part::Liner).unwrap();
    assert_eq!((liner.size, liner.need()), (size("4 1/2 x 6 1/2"), 4));
    let flat = self::made("note,5 x 7,gate,4,fern,fern,fern,\n", "0.012");
    let set = &cardwright::quote::quote(&flat).lines[0].set;
    let square_inches = 9.875 * 7.0 + 2.0 * 2.1875 * 6.75 + 4.5 * 6.5;
    let grams = square_inches * 645.16 * 200.0 / 1e6;
    assert!((set.weight.unwrap().picograms() as f64 / 1e12 - grams).abs() < 1e-6);
    // Back and half of the front, mat and liner: four sheets of 0.012 in.
    assert_eq!(set.thickness.unwrap().length(), inches("0.048"));
}

/// A folded strip as intervals: where each panel lies, how far in front, and whether its outer side is seen from the front. The
/// front, which is the last panel, lies at nought.
struct Model {
    panels: Vec<(Length, Length, i64, bool)>,
}

/// Folds a strip from its last panel on, each fold away from the side that it is pressed on.
fn folded(piece: &Piece, axis: Axis) -> Model {
    let own = piece.scores.iter().filter(|score| score.across == axis);
    let mut ends: Vec<(Length, ScoreSide)> = own.map(|score| (score.at, score.side)).collect();
    ends.reverse();
    let (mut end, mut place, mut depth, mut is_up) =
        (piece.size.along(axis), Length::ZERO, 0, true);
    let mut panels = Vec::new();
    for (at, side) in
        ends.into_iter().map(|(at, side)| (at, Some(side))).chain([(Length::ZERO, None)])
    {
        let length = end - at;
        // From the right to the left where the outer side is up, back again where it is not.
        let next = if is_up { place - length } else { place + length };
        panels.push((place.min(next), place.max(next), depth, is_up));
        let closes_back = (side == Some(ScoreSide::Outer)) == is_up;
        depth += if closes_back { -1 } else { 1 };
        (end, place, is_up) = (at, next, !is_up);
    }
    Model { panels }
}

proptest! {
    #![proptest_config(cases(40))]

    /// However large a card and thick its paper: folded, nothing sticks out of the finished size, its front is in front with
    /// its outer side seen, and the panels are the open size.
    #[test]
    fn a_paper_model_is_as_large_as_the_card(
        sixteenths in (40_i64..120, 40_i64..120),
        thousandths in 3_i64..30,
        fold in prop::sample::select(vec![
            "side", "top", "gate", "gate top", "letter", "letter top", "french", "accordion 3", "accordion 4",
            "accordion 6 top",
        ]),
    ) {
        let (width, height) = sixteenths;
        let card = Size::new(Length::from_inch_parts(width, 16), Length::from_inch_parts(height, 16));
        let rows = format!("note,{width}/16 x {height}/16,{fold},1,fern,,,\n");
        let made = made(&rows, &format!("0.{thousandths:03}"));
        let piece = made.job.bill.pieces.into_iter().find(|piece| piece.part == Part::Card).unwrap();
        prop_assert_eq!(piece.folded(), card);
        for axis in [Axis::Width, Axis::Height] {
            let Model { panels } = folded(&piece, axis);
            let least = panels.iter().map(|it| it.0).min().unwrap();
            let most = panels.iter().map(|it| it.1).max().unwrap();
            prop_assert_eq!(most - least, card.along(axis));
            let all = panels.iter().map(|it| it.1 - it.0).sum::<Length>();
            prop_assert_eq!(all, piece.size.along(axis));
            // The halves of a gate lie in front of its back, which is seen from behind.
            let is_gate = fold.starts_with("gate") && panels.len() > 1;
            let front = panels[0];
            prop_assert!(front.3);
            for (number, panel) in panels.iter().enumerate().skip(1) {
                let is_between = fold.starts_with("letter") && number == 2;
                prop_assert!(panel.2 <= front.2 || is_between || is_gate, "{fold}: {panel:?}");
                if is_between {
                    // It lies between the other two, and is shorter, so that it does not reach into the fold.
                    prop_assert!(panel.1 - panel.0 < card.along(axis));
                }
            }
            if is_gate {
                prop_assert_eq!([panels[0].3, panels[1].3, panels[2].3], [true, false, true]);
                prop_assert!(panels[1].2 < panels[0].2 && panels[1].2 < panels[2].2);
            }
        }
    }
}

/// Paper of 350 g/m2 and just below 0.45 mm is scored once; above either, twice, as far apart as it is thick.
#[test]
fn stiff_paper_is_scored_twice() {
    let twice = |gsm: &str, thickness: &str| {
        let order = "line,card,fold,count,paper\nnote,5 x 7,side,2,fern\n";
        let sheets = format!(
            "sheet,paper,width,height,price,gsm,thickness\nfern,fern,40,40,1.00,{gsm},{thickness}\n"
        );
        let bench = format!("[trimmer]\nknife = \"60 in\"\n{NO_SPARES}");
        let inputs = inputs("may", order.to_owned(), sheets, None, bench);
        let made = batch::plan(&inputs, &Options::default()).made.unwrap();
        let step = &made.schedule.scoring[0];
        let rate = made.job.workshop.rates.score;
        assert_eq!(made.schedule.times.scoring, 2 * rate * step.strokes());
        step.twice
    };
    let mm = |hundredths: i64| Length::from_ticks(Length::TICKS_PER_MM * hundredths / 100);
    assert_eq!(twice("350", "0.44 mm"), None);
    assert_eq!(twice("351", "0.44 mm"), Some(mm(44)));
    assert_eq!(twice("300", "0.45 mm"), Some(mm(45)));
}

/// On a metric bench the gap is 3 mm, or what the halves miss to a mark of the gauge: nothing lies between two marks.
#[test]
fn a_gate_lies_on_the_marks_of_a_metric_gauge() {
    for (side, half) in [(105, 51), (106, 51), (148, 72)] {
        let order = format!("line,card,fold,count,paper,mat\nnote,{side} x 148,gate,1,fern,fern\n");
        let sheets = "sheet,paper,width,height,price\nfern,fern,450,320,1.00\n".to_owned();
        let bench = format!("unit = \"mm\"\n[trimmer]\nknife = 460\ngraduation = 1\n{NO_SPARES}");
        let options = Options { effort: Effort::Quick, threads: Some(1), ..Options::default() };
        let outcome = batch::plan(&inputs("may", order, sheets, None, bench), &options);
        let made = outcome.made.unwrap_or_else(|| panic!("{:?}", outcome.problems));
        let of = |part| made.job.bill.pieces.iter().find(|piece| piece.part == part).unwrap();
        let mm = Length::from_mm;
        assert_eq!(of(Part::Card).size, Size::new(mm(side + 2 * half), mm(148)));
        let ats: Vec<Length> = of(Part::Card).scores.iter().map(|score| score.at).collect();
        assert_eq!(ats, [mm(half), mm(half + side)]);
        assert!(of(Part::Mat).size.width < mm(half), "it lies on one half");
    }
}
