//! The proofs: one for each group of papers, each level's value, bound, status and certificate.
//!
//! A certificate (π, σ, ρ; divided by its scale) bounds every plan from below because each pattern is
//! worth no more than its sheet: weak duality of linear programming (Gilmore and Gomory, Operations
//! Research 9, 1961, for the cutting program; from memory). What whole numbers of sheets add up to
//! rounds it up.

use super::area::worth_by_area;
use super::facts::{self, PieceFacts, SheetFacts};
use super::sums::{Denomination, least_sum};
use super::table::{Oriented, Sides, worth};
use super::{Evidence, Fault, OnTrust, units};
use crate::measure::Ratio;
use crate::plan::{Certificate, FIRST_SCHEMA, Level, Plan, Proof, Status};
use crate::workshop::GrainRule;
use std::collections::BTreeMap;

/// Checks that there is one proof for each group, and every proof. Gives the bounds that rest on a search.
pub(super) fn check(plan: &Plan, bench: Evidence, faults: &mut Vec<Fault>) -> Vec<OnTrust> {
    let groups = &bench.facts.groups;
    let expected: Vec<String> = groups.iter().map(|group| name(group.papers.iter())).collect();
    let found: Vec<String> = plan.proof.iter().map(|proof| name(proof.papers.iter())).collect();
    if expected != found {
        let (found, expected) = (found.join("; "), expected.join("; "));
        faults.push(Fault::Groups { found, expected });
        return Vec::new();
    }
    let mut searched = Vec::new();
    for (proof, group) in plan.proof.iter().zip(groups) {
        let group = Weighed::of(group, plan, bench);
        let before = faults.len();
        if plan.schema != FIRST_SCHEMA {
            let prices: Vec<i64> = group.sheets.values().filter_map(|sheet| sheet.price).collect();
            units::check(proof, group.name.as_str(), group.facts, &prices, faults);
        }
        if faults.len() == before {
            searched.extend(group.check(proof, faults));
        }
    }
    searched
}

fn name(papers: impl Iterator<Item = impl AsRef<str>>) -> String {
    papers.map(|paper| paper.as_ref().to_owned()).collect::<Vec<_>>().join("|")
}

/// Everything that belongs to some papers.
struct Weighed<'a> {
    bench: Evidence<'a>,
    facts: &'a facts::PaperGroup<'a>,
    name: String,
    pieces: BTreeMap<&'a str, &'a PieceFacts<'a>>,
    sheets: BTreeMap<&'a str, &'a SheetFacts<'a>>,
    /// What the plan spends on packs of these papers.
    spend: i128,
    /// What the paper that the plan uses of them counts, in units of worth.
    stock: i128,
}

/// A level in judgement.
struct Claim<'a> {
    rank: Rank<'a>,
    value: i64,
    bound: i64,
    status: Status,
    complete_search: bool,
    certificate: &'a Certificate,
}

/// Which level of which papers.
#[derive(Clone, Copy)]
struct Rank<'a> {
    papers: &'a str,
    name: &'static str,
    /// What value and bound are whole multiples of: a unit of price at level 1.
    step: i64,
    /// The spend that level 2 may not exceed, in units of price; `None` at level 1.
    budget: Option<i128>,
}

impl<'a> Claim<'a> {
    /// What a level says, its amounts as whole numbers.
    fn of<Amount: Copy>(
        level: &'a Level<Amount>,
        rank: Rank<'a>,
        whole: fn(Amount) -> i64,
    ) -> Claim<'a> {
        let Level { value, bound, status, complete_search, ref certificate } = *level;
        let (value, bound) = (whole(value), whole(bound));
        Claim { rank, value, bound, status, complete_search, certificate }
    }
}

impl<'a> Weighed<'a> {
    fn of(facts: &'a facts::PaperGroup<'a>, plan: &Plan, bench: Evidence<'a>) -> Weighed<'a> {
        let papers = &facts.papers;
        let joins = |piece: &PieceFacts| piece.papers.iter().any(|paper| papers.contains(paper));
        let pieces = bench.facts.pieces.iter().filter(|(_, piece)| joins(piece));
        let sheets = bench.facts.sheets.iter().filter(|(_, sheet)| papers.contains(sheet.paper));
        let used = plan.sheets.iter().filter(|sheet| papers.contains(sheet.paper.as_str()));
        let (mut spend, mut stock) = (0, 0);
        for sheet in used {
            let price = sheet.price.map_or(0, |price| price.minor());
            spend += i128::from(sheet.packs_bought) * i128::from(price);
            stock += i128::from(sheet.used) * i128::from(sheet.value.units());
        }
        Weighed {
            bench,
            facts,
            name: name(papers.iter()),
            pieces: pieces.map(|(id, piece)| (*id, piece)).collect(),
            sheets: sheets.map(|(id, sheet)| (*id, sheet)).collect(),
            spend,
            stock,
        }
    }

    fn check(&self, proof: &Proof, faults: &mut Vec<Fault>) -> Vec<OnTrust> {
        let papers = self.name.as_str();
        let step = self.facts.price_unit;
        let budget = Some(self.spend / i128::from(step));
        let at_spend = Rank { papers, name: "spend", step, budget: None };
        let at_stock = Rank { papers, name: "stock", step: 1, budget };
        let spend = Claim::of(&proof.spend, at_spend, |money| money.minor());
        let stock = Claim::of(&proof.stock, at_stock, |worth| worth.units());
        let mut searched = Vec::new();
        for (claim, value) in [(spend, self.spend), (stock, self.stock)] {
            claim.check_value(value, faults);
            let before = faults.len();
            self.check_numbers(&claim, faults);
            self.check_packs(&claim, faults);
            if faults.len() == before {
                self.check_patterns(&claim, faults);
                searched.extend(self.check_bound(&claim, faults));
            }
        }
        searched
    }

    /// A price in units.
    fn units(&self, price: i64) -> i64 {
        price / self.facts.price_unit
    }

    /// The certificate's numbers are none below nothing and all of this group.
    fn check_numbers(&self, claim: &Claim, faults: &mut Vec<Fault>) {
        let certificate = claim.certificate;
        if certificate.scale < 1 {
            faults.push(claim.number("scale"));
        }
        let proper = match (claim.rank.budget, certificate.budget_value) {
            (None, None) => true,
            (Some(_), Some(value)) => value >= 0,
            _ => false,
        };
        if !proper {
            faults.push(claim.number("budget_value"));
        }
        let values = certificate.piece_values.iter().chain(&certificate.sheet_values);
        for (id, _) in values.filter(|(_, value)| **value < 0) {
            faults.push(claim.number(id));
        }
        // Without the stock, sheets that are not used are unknown.
        let judged = self.bench.facts.job.is_some();
        let pieces = certificate.piece_values.keys();
        let strange_pieces = pieces.filter(|id| !self.pieces.contains_key(id.as_str()));
        let sheets = certificate.sheet_values.keys();
        let strange_sheets = sheets.filter(|id| judged && !self.sheets.contains_key(id.as_str()));
        for id in strange_pieces.chain(strange_sheets) {
            let (papers, level) = claim.names();
            faults.push(Fault::CertificateUnknown { papers, level, id: id.clone() });
        }
    }

    /// A pack is never worth more than it costs: `k σ <= scale c`, or `k σ <= ρ c` under a budget.
    fn check_packs(&self, claim: &Claim, faults: &mut Vec<Fault>) {
        let certificate = claim.certificate;
        let rate = match claim.rank.budget {
            None => i128::from(certificate.scale),
            Some(_) => i128::from(certificate.budget_value.unwrap_or(0)),
        };
        for (id, sheet) in &self.sheets {
            let Some(price) = sheet.price else { continue };
            if i128::from(sheet.pack) * claim.sheet_value(id) > rate * i128::from(self.units(price))
            {
                let (papers, level) = claim.names();
                let sheet = (*id).to_owned();
                faults.push(Fault::CertificatePack { papers, level, sheet });
            }
        }
    }

    /// No pattern is worth more than σ, or more than `scale v + σ` where the sheet's own value counts.
    fn check_patterns(&self, claim: &Claim, faults: &mut Vec<Fault>) {
        if !self.knows_how_pieces_lie() {
            return;
        }
        let mut known = WorthCache::default();
        for (id, sheet) in &self.sheets {
            if (sheet.on_hand == 0 && sheet.price.is_none()) || !self.bench.can_be_squared(sheet) {
                continue;
            }
            let own = match claim.rank.budget {
                None => 0,
                Some(_) => i128::from(claim.certificate.scale) * sheet.value,
            };
            let most = own + claim.sheet_value(id);
            let (papers, level) = claim.names();
            let name = (*id).to_owned();
            let (plate, rectangles) = (self.plate(sheet), self.rectangles(claim, sheet));
            // A certificate by area needs no table, however fine the sheet is.
            if worth_by_area(plate, &rectangles).is_some_and(|found| found <= most) {
                continue;
            }
            match known.worth(plate, rectangles, self.knife()) {
                Some(found) if i128::from(found) <= most => {}
                Some(found) => faults.push(Fault::CertificatePattern {
                    papers,
                    level,
                    sheet: name,
                    found: found.into(),
                    most,
                }),
                None => {
                    faults.push(Fault::CertificateTooLarge { papers, level, sheet: name });
                }
            }
        }
    }

    /// A plan of the first schema does not say where the grain runs: under a strict rule too much would be allowed.
    fn knows_how_pieces_lie(&self) -> bool {
        self.bench.facts.knows_sheets || self.bench.workshop.grain != GrainRule::Strict
    }

    /// The true size of a sheet, with a blade added on each side.
    fn plate(&self, sheet: &SheetFacts) -> Sides {
        let trimmer = &self.bench.workshop.trimmer;
        let more = trimmer.blade.ticks() - self.bench.edges(sheet);
        (sheet.size.width.ticks() + more, sheet.size.height.ticks() + more)
    }

    fn knife(&self) -> i64 {
        let trimmer = &self.bench.workshop.trimmer;
        trimmer.knife.ticks().saturating_add(trimmer.blade.ticks())
    }

    /// The pieces with a value, in every way they may lie on the sheet, a blade added on each side.
    fn rectangles(&self, claim: &Claim, sheet: &SheetFacts) -> Vec<Oriented> {
        let trimmer = &self.bench.workshop.trimmer;
        let blade = trimmer.blade.ticks();
        let rule = self.bench.workshop.grain;
        let mut rectangles = Vec::new();
        for (id, piece) in &self.pieces {
            let value = claim.certificate.piece_values.get(*id).copied().unwrap_or(0);
            if value == 0 || !piece.papers.contains(&sheet.paper) {
                continue;
            }
            let (width, height) =
                (piece.size.width.ticks() + blade, piece.size.height.ticks() + blade);
            if piece.obeys_grain(false, sheet, rule) {
                rectangles.push(Oriented { width, height, value });
            }
            if self.surely_turns(piece, sheet) && piece.obeys_grain(true, sheet, rule) {
                rectangles.push(Oriented { width: height, height: width, value });
            }
        }
        rectangles.sort();
        rectangles.dedup();
        rectangles
    }

    /// Alone, a plan does not say whether its line or the print lets a piece turn: only what is allowed either way is
    /// asked of it.
    fn surely_turns(&self, piece: &PieceFacts, sheet: &SheetFacts) -> bool {
        let alone = self.bench.facts.job.is_none();
        let known = self.bench.facts.knows_sheets && (!alone || piece.print_lets_turn(sheet));
        known && piece.may_turn(sheet)
    }

    /// The claimed bound is no higher than what the certificate proves, rounded up to the next sum that
    /// whole sheets or packs can have. A search may claim more than its certificate, which is then told.
    fn check_bound(&self, claim: &Claim, faults: &mut Vec<Fault>) -> Option<OnTrust> {
        let certificate = claim.certificate;
        let step = i128::from(claim.rank.step);
        let bound = (i128::from(claim.bound) + step - 1).div_euclid(step);
        let value = |id: &str| i128::from(certificate.piece_values.get(id).copied().unwrap_or(0));
        let pieces = self.pieces.iter().map(|(id, piece)| i128::from(piece.needed) * value(id));
        let sheets =
            self.sheets.iter().map(|(id, sheet)| i128::from(sheet.on_hand) * claim.sheet_value(id));
        let rate = i128::from(certificate.budget_value.unwrap_or(0));
        let budget = claim.rank.budget.unwrap_or(0).saturating_mul(rate);
        let scaled = (pieces.sum::<i128>() - sheets.sum::<i128>()).saturating_sub(budget);
        let scale = i128::from(certificate.scale);
        let least = -(-scaled.max(-i128::MAX)).div_euclid(scale);
        let proven = least_sum(least, bound.max(least), &self.coins(claim));
        let (papers, name) = claim.names();
        let is_proven = bound <= proven;
        let (bound, proven) = (claim.bound, proven.saturating_mul(step));
        match (is_proven, claim.complete_search) {
            (true, _) => None,
            (false, true) => {
                let unit =
                    claim.rank.budget.map_or(Some(Ratio::whole(1)), |_| self.facts.unit.clone());
                Some(OnTrust { papers, level: name, bound, proven, unit })
            }
            (false, false) => {
                faults.push(Fault::Unproven { papers, level: name, bound, proven });
                None
            }
        }
    }

    /// What a total of this level is made of: packs to buy, or sheets to use.
    fn coins(&self, claim: &Claim) -> Vec<Denomination> {
        let Some(budget) = claim.rank.budget else {
            let prices = self.sheets.values().filter_map(|sheet| sheet.price);
            return prices
                .map(|price| Denomination { value: self.units(price), most: None })
                .collect();
        };
        let coin = |sheet: &&SheetFacts| {
            let bought = match sheet.price {
                None => Some(0),
                Some(price) if price > 0 => {
                    let packs = budget / i128::from(self.units(price));
                    Some(packs.saturating_mul(sheet.pack.into()))
                }
                Some(_) => None,
            };
            let most = bought.map(|bought| bought.saturating_add(sheet.on_hand.into()));
            Denomination { value: i64::try_from(sheet.value).unwrap_or(i64::MAX), most }
        };
        self.sheets.values().map(coin).collect()
    }
}

impl Claim<'_> {
    fn check_value(&self, found: i128, faults: &mut Vec<Fault>) {
        let Claim { value, bound, .. } = *self;
        let (papers, level) = self.names();
        if i128::from(value) != found {
            let papers = papers.clone();
            faults.push(Fault::LevelValue { papers, level, said: value, found });
        }
        if !(0..=value).contains(&bound) {
            let papers = papers.clone();
            faults.push(Fault::BoundBeyondValue { papers, level, bound, value });
        }
        if (self.status == Status::Optimal) != (value == bound) {
            faults.push(Fault::Status { papers, level, bound, value });
        }
    }

    fn sheet_value(&self, id: &str) -> i128 {
        i128::from(self.certificate.sheet_values.get(id).copied().unwrap_or(0))
    }

    fn number(&self, what: &str) -> Fault {
        let (papers, level) = self.names();
        Fault::CertificateNumber { papers, level, what: what.to_owned() }
    }

    fn names(&self) -> (String, &'static str) {
        (self.rank.papers.to_owned(), self.rank.name)
    }
}

/// The worth of equal sheets is worked out once.
#[derive(Default)]
struct WorthCache(BTreeMap<(Sides, Vec<Oriented>), Option<i64>>);

impl WorthCache {
    /// The worth of the best pattern; `None` where that would take too long.
    fn worth(&mut self, plate: Sides, rectangles: Vec<Oriented>, knife: i64) -> Option<i64> {
        let key = (plate, rectangles);
        if let Some(worth) = self.0.get(&key) {
            return *worth;
        }
        let worth = worth(plate, &key.1, knife);
        self.0.insert(key, worth);
        worth
    }
}
