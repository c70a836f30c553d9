//! Weight and thickness of papers.

use super::list::{length, plain, rows};
use crate::diagnostics::Problems;
use crate::measure::{Length, Size, Thickness, parse_thousandths};
use crate::table::{KnownColumn, Named};
use std::sync::LazyLock;

/// A grade of paper whose basis weight is in pounds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grade {
    /// Its name: `cover`, `text`, …
    pub name: String,
    /// Size of the sheets of which 500 are weighed.
    pub basic: Size,
    /// The authority.
    pub source: String,
}

/// The thickness that a specification sets for a weight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caliper {
    /// What stock it is.
    pub name: String,
    /// Milligrams per square metre, as the specification rounds it.
    pub milligrams_per_square_metre: u64,
    /// The same of the pounds and the grade that its name says; `None` where that is no grade of the table.
    pub sold_as: Option<u64>,
    /// Thickness of a sheet.
    pub thickness: Thickness,
    /// The specification.
    pub source: String,
}

const GRADES: [KnownColumn; 4] = [
    KnownColumn::needed("name"),
    KnownColumn::needed("width"),
    KnownColumn::needed("height"),
    KnownColumn::needed("source"),
];
const CALIPERS: [KnownColumn; 4] = [
    KnownColumn::needed("name"),
    KnownColumn::needed("gsm"),
    KnownColumn::needed("thickness"),
    KnownColumn::needed("source"),
];

static ALL_GRADES: LazyLock<Vec<Grade>> = LazyLock::new(|| read_grades(&mut Problems::new()));
static ALL_CALIPERS: LazyLock<Vec<Caliper>> = LazyLock::new(|| read_calipers(&mut Problems::new()));

/// All grades, in the order of the table.
pub fn grades() -> &'static [Grade] {
    &ALL_GRADES
}

/// All specified thicknesses, in the order of the table.
pub fn calipers() -> &'static [Caliper] {
    &ALL_CALIPERS
}

/// Volume of a gram of uncoated smooth paper in thousandths of a cubic centimetre: between the 1.15 of
/// index and the 1.5 of bond that the GPO specifications come to (JCP K10, A91, G15).
const BULK: i128 = 1330;

/// A thickness from the weight, in milligrams per square metre: what a specification sets for that weight of a grade, or
/// one from the weight alone, to the nearest micrometre. Weight does not fix thickness, so it is a guess where nobody has
/// measured.
pub fn guessed_thickness(milligrams_per_square_metre: u64) -> Thickness {
    let is_sold_so = |caliper: &&Caliper| caliper.sold_as == Some(milligrams_per_square_metre);
    if let Some(caliper) = calipers().iter().find(is_sold_so) {
        return caliper.thickness;
    }
    // g/m2 by cm3/g is micrometres: 1000 mg and 1000 thousandths to one.
    let micrometres = (i128::from(milligrams_per_square_metre) * BULK + 500_000) / 1_000_000;
    let nanometres = i64::try_from(micrometres.saturating_mul(1000)).unwrap_or(i64::MAX);
    Thickness::from_nanometres(nanometres).min(Length::MAX.into())
}

impl Grade {
    /// So many thousandths of a pound as milligrams per square metre, to the nearest: 500 sheets of the
    /// basic size weigh that, and a pound is 453.59237 g (international yard and pound agreement, 1959).
    pub fn milligrams_per_square_metre(&self, thousandths_of_a_pound: u64) -> u64 {
        const MICROGRAMS_PER_POUND: i128 = 453_592_370;
        const METRE: i128 = 1000 * Length::TICKS_PER_MM as i128;
        let above = i128::from(thousandths_of_a_pound) * MICROGRAMS_PER_POUND * METRE * METRE;
        let below = 500 * self.basic.area().square_ticks() * 1_000_000;
        u64::try_from((2 * above + below) / (2 * below)).unwrap_or(u64::MAX)
    }
}

/// A paper's weight as its maker may print it, for the list of papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PaperWeight {
    /// Pounds of its grade.
    pub pounds: u64,
    /// Name of its grade.
    pub grade: &'static str,
    /// Milligrams per square metre.
    pub milligrams_per_square_metre: u64,
    /// A guess at its thickness.
    pub guessed: Thickness,
}

/// Weights that are sold, by grade (common practice, no source).
const SOLD: [(&str, &[u64]); 6] = [
    ("bond", &[20, 24, 28, 32]),
    ("text", &[50, 60, 70, 80, 100]),
    ("cover", &[50, 60, 65, 80, 90, 100, 110, 120, 130]),
    ("index", &[90, 110, 140]),
    ("bristol", &[67]),
    ("tag", &[100, 125, 150]),
];

/// The weights of paper that are sold, in grams.
pub fn paper_weights() -> Vec<PaperWeight> {
    let grades = grades().iter();
    let of = |grade: &'static Grade| {
        let sold = SOLD.iter().find(|(name, _)| *name == grade.name);
        let sold = sold.map(|(_, pounds)| *pounds).unwrap_or_default().iter();
        sold.map(|pounds| {
            let weight = grade.milligrams_per_square_metre(pounds * 1000);
            PaperWeight {
                pounds: *pounds,
                grade: &grade.name,
                milligrams_per_square_metre: weight,
                guessed: guessed_thickness(weight),
            }
        })
    };
    grades.flat_map(of).collect()
}

/// Reads a weight of paper as milligrams per square metre: `176`, `175.8`, or `65 lb cover`. `None` where it
/// is neither.
pub fn parse_paper_weight(text: &str) -> Option<u64> {
    let text = plain(text);
    let Some((pounds, grade)) = text.split_once("lb") else { return parse_thousandths(&text) };
    let pounds = parse_thousandths(pounds.trim().trim_end_matches('#'))?;
    let grade = grades().iter().find(|known| known.name == grade.trim())?;
    Some(grade.milligrams_per_square_metre(pounds))
}

fn read_grades(problems: &mut Problems) -> Vec<Grade> {
    let file = Named::new("grades.csv", include_bytes!("grades.csv"));
    rows(file, &GRADES, problems, |cells| {
        let name = cells.text("name")?;
        Some(Grade { name, basic: cells.size()?, source: cells.text("source")? })
    })
}

fn read_calipers(problems: &mut Problems) -> Vec<Caliper> {
    let file = Named::new("calipers.csv", include_bytes!("calipers.csv"));
    rows(file, &CALIPERS, problems, |cells| {
        let name = cells.text("name")?;
        let sold_as = name
            .split_once(' ')
            .and_then(|(grade, pounds)| parse_paper_weight(&format!("{pounds} {grade}")));
        Some(Caliper {
            name,
            sold_as,
            milligrams_per_square_metre: cells.read("gsm", parse_thousandths)??,
            thickness: cells.read("thickness", length)??.into(),
            source: cells.text("source")?,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_whole() {
        let mut problems = Problems::new();
        assert_eq!(read_grades(&mut problems).len(), 6);
        assert_eq!(read_calipers(&mut problems).len(), 15);
        assert_eq!(problems, Problems::new());
    }

    #[test]
    fn a_weight_is_read_in_grams_or_in_pounds_of_a_grade() {
        assert_eq!(parse_paper_weight("176"), Some(176_000));
        assert_eq!(parse_paper_weight("80 lb cover"), Some(216_329));
        assert_eq!(parse_paper_weight("80lb Cover"), Some(216_329));
        for text in ["80 lb", "80 lb velvet", "lb cover", "-1 lb cover", "heavy", ""] {
            assert_eq!(parse_paper_weight(text), None, "{text}");
        }
    }

    #[test]
    fn a_guess_lies_between_the_specified_ones() {
        assert_eq!(guessed_thickness(150_000), Thickness::from_micrometres(200));
        for caliper in calipers() {
            let guess = guessed_thickness(caliper.milligrams_per_square_metre).nanometres();
            let known = caliper.thickness.nanometres();
            assert!((known * 7..=known * 13).contains(&(guess * 10)), "{caliper:?}");
        }
    }

    /// GPO paper specifications JCP K10 and P20, which set a thickness for a weight of a grade.
    #[test]
    fn a_grade_that_is_specified_is_as_thick_as_that() {
        let guess = |text: &str| guessed_thickness(parse_paper_weight(text).unwrap());
        assert_eq!(guess("140 lb index"), Thickness::from_micrometres(290));
        assert_eq!(guess("110 lb index"), Thickness::from_micrometres(230));
        assert_eq!(guess("150 lb tag"), Thickness::from_micrometres(280));
        // Nothing is specified for it: 253.4 g/m2 by 1.33 cm3/g.
        assert_eq!(guess("253.4"), Thickness::from_micrometres(337));
    }

    #[test]
    fn papers_that_are_sold_have_their_weight() {
        let all = paper_weights();
        let cover = all.iter().find(|it| (it.pounds, it.grade) == (100, "cover")).unwrap();
        assert_eq!(cover.milligrams_per_square_metre, 270_411);
        assert_eq!(all.len(), 25);
    }
}
