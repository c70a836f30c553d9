//! Rough edges: no piece and no offcut has one, as the schedule lays them.

use crate::bench::batches::{Batch, Extent, makeable};
use cardwright::batch::Made;
use cardwright::measure::{Axis, Length};
use cardwright::schedule::{Edge, Fate, FinalPlate};
use cardwright::stock::RoughEdges;
use proptest::prelude::*;

const SMALL: Extent =
    Extent { lines: 4, kinds: 2, most_count: 9, piece: (10, 60), sheet: (80, 160), most_blade: 2 };

/// Each piece and offcut of the drawing lies inside of what squaring takes off.
fn lies_inside(made: &Made) -> Result<(), TestCaseError> {
    let margin = made.job.workshop.trimmer.squaring;
    for run in &made.schedule.runs {
        let sheet = made.plan.sheets.iter().find(|sheet| sheet.id == run.sheet).unwrap();
        let squarings = run.cuts.iter().filter(|step| step.squaring).count();
        let is_rough = sheet.rough_edges.any() && margin.is_positive();
        let expected = match sheet.rough_edges {
            _ if !is_rough => 0..=0,
            RoughEdges::Two => 2..=4,
            _ => 4..=4,
        };
        prop_assert!(expected.contains(&squarings), "{squarings} of {:?}", sheet.rough_edges);
        let margin = if is_rough { margin } else { Length::ZERO };
        let is_wanted = |plate: &&FinalPlate| !matches!(plate.what, Fate::Waste);
        for plate in run.places.iter().filter(is_wanted) {
            let far = |axis: Axis| run.size.along(axis) - margin;
            prop_assert!(plate.x >= margin && plate.x + plate.size.width <= far(Axis::Width));
            prop_assert!(plate.y >= margin && plate.y + plate.size.height <= far(Axis::Height));
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn nothing_that_is_wanted_has_a_rough_edge(mut batch in makeable(SMALL), rough in 1..=2_u8, squaring in 2..=5_i64) {
        batch.sheets.iter_mut().for_each(|sheet| sheet.rough = 2 * rough);
        batch.rules.squaring = squaring;
        let made = batch.made();
        if let Some(made) = made {
            lies_inside(&made)?;
        }
    }
}

/// A parent of 100 x 80 mm with two columns of 30 mm, 74 mm high: of its true part, 94 x 74 mm, 34 mm are waste.
fn parent(rough: u8) -> Made {
    let mut batch = Batch::plain(&[(30, 74, 2)], &[(100, 80, 1, None)], &[]);
    batch.rules.squaring = 3;
    batch.rules.keep = (50, 60);
    batch.sheets[0].rough = rough;
    batch.made().unwrap()
}

/// The first trim has an outer edge at the fence, the second the fresh one at the side lay; what follows is measured from
/// fresh edges (common practice: work from the same two edges throughout).
#[test]
fn a_true_corner_comes_first() {
    let made = parent(4);
    let told: Vec<_> = made.schedule.runs[0]
        .cuts
        .iter()
        .map(|step| (step.squaring, step.fence, step.side_lay))
        .collect();
    let trims = [
        (true, Edge::Right, None),
        (true, Edge::Bottom, Some(Edge::Left)),
        (true, Edge::Left, Some(Edge::Top)),
        (true, Edge::Top, Some(Edge::Left)),
    ];
    assert_eq!(told[..4], trims);
    assert!(told[4..].iter().all(|step| *step == (false, Edge::Left, Some(Edge::Top))), "{told:?}");
}

/// Waste lies along the far edge on the right and takes it with it; below, the cards reach to it, and it is cut off.
#[test]
fn of_two_rough_edges_the_waste_takes_one() {
    let squarings =
        |made: &Made| made.schedule.runs[0].cuts.iter().filter(|step| step.squaring).count();
    assert_eq!(squarings(&parent(0)), 0);
    assert_eq!(squarings(&parent(2)), 3);
    assert_eq!(squarings(&parent(4)), 4);
    assert!(parent(2).schedule.strokes < parent(4).schedule.strokes);
}

/// Trimmed sheets beside rough parents lose nothing: of cards that are half a letter wide, one alone would lie on a letter
/// that lost its edges.
#[test]
fn a_trimmed_sheet_is_used_to_its_edges() {
    let sheets = |rough: u8| {
        let mut batch = Batch::plain(
            &[(108, 270, 4)],
            &[(216, 279, 0, Some(10)), (508, 660, 0, Some(200))],
            &[],
        );
        batch.rules.squaring = 3;
        batch.sheets[0].rough = rough;
        batch.made().unwrap().plan.totals.sheets_used
    };
    assert_eq!((sheets(0), sheets(4)), (2, 4));
}
