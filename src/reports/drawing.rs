//! The neutral drawing of a run: rectangles, fold lines and numbered cuts in exact lengths of the
//! sheet. A translator chooses scale, colours and where a label fits.

use super::{Batch, ReportError, steps};
use crate::diagnostics::counted;
use crate::folds::Score;
use crate::measure::{Axis, Length, LengthStyle, Size};
use crate::schedule::{CutLine, Fate, FinalPlate, RunCuts};
use crate::stock::{Back, Print};

/// A sheet and how it is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it shows, in a few words.
    pub title: String,
    /// What it shows, for a person who cannot see it.
    pub description: String,
    /// The whole sheet.
    pub sheet: Size,
    /// Its width and height as text.
    pub sides: (String, String),
    /// What becomes of its area, in reading order of the cut tree.
    pub regions: Vec<Region>,
    /// Fold lines inside the pieces.
    pub folds: Vec<CutLine>,
    /// Cut lines, in the order of their steps.
    pub cuts: Vec<NumberedCut>,
    /// Direction of the fibres, where known.
    pub grain: Option<Axis>,
    /// How the design of the face lies.
    pub print: Print,
    /// How that of the back lies.
    pub back: Back,
}

/// A rectangle of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// Left edge.
    pub x: Length,
    /// Upper edge.
    pub y: Length,
    /// Size as it lies on the sheet.
    pub size: Size,
    /// What becomes of it.
    pub role: Role,
    /// Id of the piece or offcut; empty for waste.
    pub name: String,
    /// Size as text, as it lies on the sheet.
    pub size_text: String,
}

/// What becomes of a rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// A piece, with tint and hatch of its order line.
    Piece(usize),
    /// Kept.
    Offcut,
    /// Thrown away.
    Waste,
}

/// A cut line and the number of its step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NumberedCut {
    /// Number of the step.
    pub number: u32,
    /// Where it runs.
    pub line: CutLine,
}

/// The drawing of a run.
///
/// # Errors
/// The stock does not hold its sheet.
pub fn of_run(batch: &Batch, cuts: &RunCuts) -> Result<Drawing, ReportError> {
    let sheet = batch.sheet(&cuts.sheet)?;
    let style = batch.made.job.workshop.style();
    let mut drawing = Drawing {
        title: format!("{}: {} {}", cuts.run, sheet.id, style.size(sheet.size)),
        description: String::new(),
        sheet: sheet.size,
        sides: (style.with_unit(sheet.size.width), style.with_unit(sheet.size.height)),
        regions: cuts.places.iter().map(|place| region(batch, place, style)).collect(),
        folds: cuts.places.iter().flat_map(|place| folds(batch, place)).collect(),
        cuts: numbered(cuts),
        grain: sheet.grain,
        print: sheet.print,
        back: sheet.back,
    };
    drawing.description = described(&drawing);
    Ok(drawing)
}

fn numbered(cuts: &RunCuts) -> Vec<NumberedCut> {
    let steps = cuts.cuts.iter();
    steps
        .flat_map(|cut| {
            cut.lines.iter().map(|line| NumberedCut { number: cut.number, line: *line })
        })
        .collect()
}

fn region(batch: &Batch, place: &FinalPlate, style: LengthStyle) -> Region {
    let (role, name) = match &place.what {
        Fate::Piece(id, _) => (Role::Piece(steps::fill(batch, id)), id.as_str()),
        Fate::Offcut(id) => (Role::Offcut, id.as_str()),
        Fate::Stack(_) | Fate::Waste => (Role::Waste, ""),
    };
    let (x, y, size) = (place.x, place.y, place.size);
    Region { x, y, size, role, name: name.to_owned(), size_text: style.size(size) }
}

fn folds(batch: &Batch, place: &FinalPlate) -> Vec<CutLine> {
    let Fate::Piece(piece, turned) = &place.what else { return Vec::new() };
    steps::scores(batch, piece).iter().map(|score| fold(place, *score, *turned)).collect()
}

/// Where a score line lies on the sheet. A turned piece lies a quarter turn to the right, so that
/// its left edge is on top and its top edge on the right.
fn fold(place: &FinalPlate, score: Score, turned: bool) -> CutLine {
    let right = place.x + place.size.width;
    let (across, at) = match (score.across, turned) {
        (Axis::Width, false) => (Axis::Width, place.x + score.at),
        (Axis::Height, false) => (Axis::Height, place.y + score.at),
        (Axis::Width, true) => (Axis::Height, place.y + score.at),
        (Axis::Height, true) => (Axis::Width, right - score.at),
    };
    match across {
        Axis::Width => CutLine { x1: at, y1: place.y, x2: at, y2: place.y + place.size.height },
        Axis::Height => CutLine { x1: place.x, y1: at, x2: right, y2: at },
    }
}

/// `4 invite.card, 1 offcut to keep, waste; cut in 7 steps`.
fn described(drawing: &Drawing) -> String {
    let mut parts: Vec<(String, u64)> = Vec::new();
    for region in &drawing.regions {
        let name = match region.role {
            Role::Piece(_) => region.name.clone(),
            Role::Offcut => format!("{} to keep", region.name),
            Role::Waste => "waste".to_owned(),
        };
        match parts.iter_mut().find(|(known, _)| *known == name) {
            Some((_, count)) => *count += 1,
            None => parts.push((name, 1)),
        }
    }
    let parts: Vec<String> =
        parts.iter().map(|(name, count)| format!("{count} x {name}")).collect();
    let mut numbers: Vec<u32> = drawing.cuts.iter().map(|cut| cut.number).collect();
    numbers.dedup();
    format!("{}; cut in {}", parts.join(", "), counted(numbers.len() as u64, "step"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture::{self, inch, size};

    fn drawing(made: &crate::made::Made, run: usize) -> Drawing {
        of_run(&made.batch(), &made.schedule.runs[run]).unwrap()
    }

    fn turned_piece(turned_size: &str) -> FinalPlate {
        let what = Fate::Piece("any".to_owned(), true);
        FinalPlate { x: inch("1"), y: inch("2"), size: size(turned_size), what }
    }

    #[test]
    fn regions_cover_the_sheet() {
        for made in [fixture::lesson(), fixture::fair()] {
            for run in 0..made.schedule.runs.len() {
                let drawing = drawing(&made, run);
                let area: crate::measure::Area =
                    drawing.regions.iter().map(|region| region.size.area()).sum();
                assert_eq!(area, drawing.sheet.area());
            }
        }
    }

    #[test]
    fn a_fold_lies_in_the_middle_of_each_card_that_folds() {
        let drawing = drawing(&fixture::lesson(), 0);
        let sign = CutLine { x1: inch("2 1/4"), y1: inch("0"), x2: inch("2 1/4"), y2: inch("4") };
        assert_eq!(drawing.folds[0], sign);
        assert_eq!(drawing.folds.len(), 4, "labels are flat");
    }

    #[test]
    fn folds_turn_with_their_piece() {
        let place = turned_piece("12 x 9 1/4");
        let side = fold(&place, Score::new(Axis::Width, inch("1")), true);
        assert_eq!((side.y1, side.y2), (inch("3"), inch("3")));
        let bottom = fold(&place, Score::new(Axis::Height, inch("5")), true);
        assert_eq!((bottom.x1, bottom.x2), (inch("8"), inch("8")));
    }

    #[test]
    fn the_description_counts_what_is_seen() {
        assert_eq!(
            drawing(&fixture::lesson(), 0).description,
            "4 x sign.card, 3 x label.card, 1 x waste, 1 x lesson-01 to keep; cut in 6 steps"
        );
    }

    #[test]
    fn a_sheet_that_the_stock_does_not_hold_is_told() {
        let mut made = fixture::lesson();
        made.job.stock.sheets.clear();
        let error = of_run(&made.batch(), &made.schedule.runs[0]).unwrap_err();
        let told = "the plan names the sheet `fern-9`, which is not in the stock";
        assert_eq!(error.to_string(), told);
    }
}
