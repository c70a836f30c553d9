//! What is known of a paper: how heavy and how thick a sheet of it is.

use super::{Sheet, Stock};
use crate::formats::guessed_thickness;
use crate::measure::Length;
use std::collections::BTreeMap;

/// How heavy and how thick a sheet of paper is, as far as that is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PaperFacts {
    /// Milligrams per square metre.
    pub weight: Option<u64>,
    /// Thickness of a sheet.
    pub thickness: Option<Length>,
    /// Whether the thickness was guessed from the weight.
    pub guessed: bool,
}

/// What is known of the papers of a stock.
#[derive(Clone, Debug)]
pub struct KnownPapers<'a>(BTreeMap<&'a str, &'a Sheet>);

impl<'a> KnownPapers<'a> {
    /// Of each paper, the first sheet of which weight or thickness is known.
    pub fn of(stock: &'a Stock) -> KnownPapers<'a> {
        let known = stock.sheets.iter().rev().filter(|sheet| {
            sheet.milligrams_per_square_metre.is_some() || sheet.thickness.is_some()
        });
        KnownPapers(known.map(|sheet| (sheet.paper.as_str(), sheet)).collect())
    }

    /// The weight of the heaviest and the thickness of the thickest of some papers; unknown where that of one is.
    pub fn heaviest(&self, papers: &[String]) -> PaperFacts {
        let sheets: Vec<Option<&&Sheet>> =
            papers.iter().map(|name| self.0.get(name.as_str())).collect();
        let all = |what: fn(&Sheet) -> Option<u64>| -> Option<Vec<u64>> {
            sheets.iter().map(|sheet| sheet.and_then(|sheet| what(sheet))).collect()
        };
        let most = |all: Option<Vec<u64>>| all.and_then(|all| all.into_iter().max());
        let weight = most(all(|sheet| sheet.milligrams_per_square_metre));
        let thickness = |sheet: &Sheet| sheet.thickness.map(|it| it.ticks().unsigned_abs());
        let measured = most(all(thickness)).map(|ticks| Length::from_ticks(ticks as i64));
        let guess = weight.map(guessed_thickness);
        let guessed = measured.is_none() && guess.is_some();
        PaperFacts { weight, thickness: measured.or(guess), guessed }
    }
}
