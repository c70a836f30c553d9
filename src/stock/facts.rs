//! What is known of a paper: how heavy and how thick a sheet of it is.

use super::{Sheet, Stock};
use crate::formats::guessed_thickness;
use crate::measure::Thickness;
use std::collections::BTreeMap;

/// How heavy and how thick a sheet of paper is, as far as that is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PaperFacts {
    /// Milligrams per square metre.
    pub weight: Option<u64>,
    /// Thickness of a sheet.
    pub thickness: Option<Thickness>,
    /// Whether the thickness was guessed from the weight.
    pub guessed: bool,
}

/// What is known of the papers of a stock.
#[derive(Clone, Debug)]
pub struct KnownPapers<'a>(BTreeMap<&'a str, PaperFacts>);

impl<'a> KnownPapers<'a> {
    /// Of each paper, the first weight and the first thickness that any of its sheets says; without a thickness, one
    /// guessed from the weight.
    pub fn of(stock: &'a Stock) -> KnownPapers<'a> {
        let mut known: BTreeMap<&str, PaperFacts> = BTreeMap::new();
        for Sheet { paper, milligrams_per_square_metre, thickness, .. } in &stock.sheets {
            let facts = known.entry(paper).or_default();
            facts.weight = facts.weight.or(*milligrams_per_square_metre);
            facts.thickness = facts.thickness.or(*thickness);
        }
        for facts in known.values_mut().filter(|facts| facts.thickness.is_none()) {
            facts.thickness = facts.weight.map(guessed_thickness);
            facts.guessed = facts.thickness.is_some();
        }
        KnownPapers(known)
    }

    /// Whether the stock has a sheet of this paper.
    pub fn has(&self, paper: &str) -> bool {
        self.0.contains_key(paper)
    }

    /// The weight of the heaviest and the thickness of the thickest of some papers; unknown where that of one is,
    /// guessed where that of one is.
    pub fn heaviest(&self, papers: &[String]) -> PaperFacts {
        let facts =
            papers.iter().map(|name| self.0.get(name.as_str()).copied().unwrap_or_default());
        let more = |one: PaperFacts, other: PaperFacts| PaperFacts {
            weight: one.weight.zip(other.weight).map(|(one, other)| one.max(other)),
            thickness: one.thickness.zip(other.thickness).map(|(one, other)| one.max(other)),
            guessed: one.guessed || other.guessed,
        };
        facts.reduce(more).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A stock of sheets, each of a paper with a weight and a thickness.
    fn stock(sheets: &[(&str, &str, &str)]) -> Stock {
        let row = |(at, (paper, gsm, thick)): (usize, &(&str, &str, &str))| {
            format!("{at},{paper},12,12,{gsm},{thick}\n")
        };
        let rows: String = sheets.iter().enumerate().map(row).collect();
        let text = format!("sheet,paper,width,height,gsm,thickness\n{rows}");
        let mut problems = crate::diagnostics::Problems::new();
        let file = crate::table::Named::new("sheets.csv", &text);
        let files = crate::stock::PerFile { sheets: Some(file), ..Default::default() };
        super::super::read(files, &Default::default(), &mut problems).unwrap()
    }

    /// Thickness in micrometres, and whether it was guessed.
    fn thickness(stock: &Stock, papers: &[&str]) -> (Option<i64>, bool) {
        let papers: Vec<String> = papers.iter().map(|paper| (*paper).to_owned()).collect();
        let facts = KnownPapers::of(stock).heaviest(&papers);
        (facts.thickness.map(|it| it.nanometres() / 1000), facts.guessed)
    }

    #[test]
    fn what_any_sheet_of_a_paper_says_is_known_of_it() {
        let stock = stock(&[("fern", "", ""), ("fern", "200", ""), ("fern", "", "0.3 mm")]);
        assert_eq!(thickness(&stock, &["fern"]), (Some(300), false));
        assert_eq!(KnownPapers::of(&stock).heaviest(&["fern".to_owned()]).weight, Some(200_000));
    }

    #[test]
    fn the_thickest_is_thickest_whether_measured_or_guessed() {
        let stock = stock(&[("card", "", "0.5 mm"), ("text", "100", ""), ("bare", "", "")]);
        // 1.33 cubic centimetres a gram.
        assert_eq!(thickness(&stock, &["text"]), (Some(133), true));
        assert_eq!(thickness(&stock, &["card", "text"]), (Some(500), true));
        assert_eq!(thickness(&stock, &["card", "bare"]), (None, false));
        assert_eq!(thickness(&stock, &["card", "velvet"]), (None, false));
        assert_eq!(thickness(&stock, &[]), (None, false));
    }
}
