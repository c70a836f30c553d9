//! The linear program over the needs of a purchase: few packs, many rows, solved over and over.
//!
//! The dual simplex (Lemke 1954, Naval Research Logistics Quarterly 1:36-47) on a dictionary of the packs
//! alone: it begins with the least of everything, which is too little but cheapest, and always mends the row
//! that lacks most. A row is only worked out when it is looked at. What comes of it is checked in whole
//! numbers by the caller.

use super::need::{NeedRow, Purchasable};

/// How much a row may lack, its largest factor being 1.
const TOLERANCE: f64 = 1e-7;
/// Smaller entries are taken to be 0.
const TINY: f64 = 1e-9;
/// Pivots after which a program is given up.
const MOST_PIVOTS: usize = 1_000;

/// How a program ended.
pub(super) struct Optimum {
    /// The packs; of no meaning where there are none.
    pub packs: Vec<f64>,
    /// Whether all rows are met; else no packs in this range meet them, or it was given up.
    pub is_met: bool,
    /// Multipliers of rows, by their place. Where the rows cannot be met, they show it with costs of 0.
    pub multipliers: Vec<(usize, f64)>,
    /// Pivots that it took.
    pub pivots: usize,
}

/// What is 0 at a corner.
#[derive(Clone, Copy)]
enum Facet {
    Lower(usize),
    Upper(usize),
    Row(usize),
}

/// The packs as sums over the edges of a corner.
struct Dictionary<'a> {
    range: &'a Purchasable,
    rows: &'a [NeedRow],
    packs: Vec<f64>,
    /// By pack and edge: how many packs more for one more along the edge.
    along: Vec<Vec<f64>>,
    /// By edge: what one more along it costs.
    cost: Vec<f64>,
    edges: Vec<Facet>,
}

/// Minimises `Σ cost·packs` over packs in a range that meet all rows.
pub(super) fn minimise(cost: &[i64], range: &Purchasable, rows: &[NeedRow]) -> Optimum {
    let count = cost.len();
    let unit = |at: usize| (0..count).map(|other| f64::from(u8::from(other == at))).collect();
    let mut dictionary = Dictionary {
        range,
        rows,
        packs: range.lower.iter().map(|&lower| lower as f64).collect(),
        along: (0..count).map(unit).collect(),
        cost: cost.iter().map(|&cost| cost as f64).collect(),
        edges: (0..count).map(Facet::Lower).collect(),
    };
    let mut pivots = 0;
    while let Some((edge, lack)) = dictionary.lacking().filter(|_| pivots < MOST_PIVOTS) {
        pivots += 1;
        let gains = dictionary.gains(edge);
        let Some(leaving) = dictionary.cheapest(&gains) else {
            let multipliers = dictionary.conflict(edge, &gains);
            return Optimum { packs: dictionary.packs, is_met: false, multipliers, pivots };
        };
        dictionary.pivot(edge, lack, leaving, &gains);
    }
    let multipliers = dictionary.edges.iter().zip(&dictionary.cost);
    let multipliers = multipliers.filter_map(|(edge, &cost)| edge.row(cost)).collect();
    Optimum { packs: dictionary.packs, is_met: pivots < MOST_PIVOTS, multipliers, pivots }
}

impl Facet {
    /// The place of a row with its multiplier, if it is a row that has one.
    fn row(self, multiplier: f64) -> Option<(usize, f64)> {
        match self {
            Facet::Row(row) if multiplier > 0.0 => Some((row, multiplier)),
            _ => None,
        }
    }
}

impl Dictionary<'_> {
    /// What lacks most, and by how much.
    fn lacking(&self) -> Option<(Facet, f64)> {
        let mut most = None;
        let mut lack = TOLERANCE;
        let mut see = |edge: Facet, by: f64| {
            if by > lack {
                (most, lack) = (Some(edge), by);
            }
        };
        for (at, packs) in self.packs.iter().enumerate() {
            see(Facet::Lower(at), self.range.lower[at] as f64 - packs);
            see(Facet::Upper(at), packs - self.range.upper[at] as f64);
        }
        for (at, row) in self.rows.iter().enumerate() {
            let met: f64 =
                row.parts.iter().zip(&self.packs).map(|(part, packs)| part * packs).sum();
            see(Facet::Row(at), row.limit - met);
        }
        most.map(|edge| (edge, lack))
    }

    /// By edge: how much more of a row is met by one more along it.
    fn gains(&self, edge: Facet) -> Vec<f64> {
        match edge {
            Facet::Lower(at) => self.along[at].clone(),
            Facet::Upper(at) => self.along[at].iter().map(|along| -along).collect(),
            Facet::Row(row) => {
                let mut gains = vec![0.0; self.packs.len()];
                for (part, along) in self.rows[row].parts.iter().zip(&self.along) {
                    gains.iter_mut().zip(along).for_each(|(gain, along)| *gain += part * along);
                }
                gains
            }
        }
    }

    /// The edge along which a row is met most cheaply.
    fn cheapest(&self, gains: &[f64]) -> Option<usize> {
        let price = |at: usize| self.cost[at] / gains[at];
        let edges = (0..gains.len()).filter(|&at| gains[at] > TINY);
        edges.min_by(|&a, &b| price(a).total_cmp(&price(b)).then(gains[b].total_cmp(&gains[a])))
    }

    /// Goes along an edge until the row is met.
    fn pivot(&mut self, edge: Facet, lack: f64, at: usize, gains: &[f64]) {
        let step = lack / gains[at];
        for (packs, along) in self.packs.iter_mut().zip(&mut self.along) {
            *packs += along[at] * step;
            exchange(along, at, gains);
        }
        exchange(&mut self.cost, at, gains);
        // Rounding must not make anything cheaper than nothing.
        self.cost.iter_mut().for_each(|cost| *cost = cost.max(0.0));
        self.edges[at] = edge;
    }

    /// Multipliers of rows that cannot be met together within the range.
    fn conflict(&self, edge: Facet, gains: &[f64]) -> Vec<(usize, f64)> {
        let others = self.edges.iter().zip(gains);
        let others = others.filter_map(|(other, &gain)| other.row(-gain));
        edge.row(1.0).into_iter().chain(others).collect()
    }
}

/// Writes a sum over the edges anew once a row takes the place of the edge `at`.
fn exchange(sum: &mut [f64], at: usize, gains: &[f64]) {
    let part = sum[at] / gains[at];
    for (entry, gain) in sum.iter_mut().zip(gains) {
        *entry -= part * gain;
    }
    sum[at] = part;
}

#[cfg(test)]
mod tests {
    use super::super::super::engine::{Engine, Minimum};
    use super::super::super::words::Chance;
    use super::super::need::{Need, bound};
    use super::*;

    /// Rows over four packs, each with its rounded ones.
    fn rows(chance: &mut Chance) -> Vec<NeedRow> {
        let needs = (0..chance.between(1, 6)).map(|_| {
            let factors = (0..4).map(|_| chance.between(0, 50).into()).collect();
            Need::plain(factors, chance.between(1, 400).into())
        });
        needs.flat_map(|need| need.rows(&[])).collect()
    }

    /// The same program as the usual engine solves it.
    fn engine(cost: &[f64], range: &Purchasable, rows: &[NeedRow]) -> Option<f64> {
        let number = |amounts: &[u64]| amounts.iter().map(|&amount| amount as f64).collect();
        let terms = |row: &NeedRow| (row.parts.iter().copied().enumerate().collect(), row.limit);
        let program = Minimum {
            engine: Engine::default(),
            cost: cost.to_vec(),
            lower: number(&range.lower),
            upper: number(&range.upper),
            rows: rows.iter().map(terms).collect(),
        };
        let packs = program.solve()?;
        Some(packs.iter().zip(cost).map(|(packs, cost)| packs * cost).sum())
    }

    #[test]
    fn it_finds_what_the_engine_finds() {
        let mut chance = Chance::new(2);
        let (mut met, mut refuted) = (0, 0);
        for _ in 0..500 {
            let rows = rows(&mut chance);
            let whole: Vec<i64> = (0..4).map(|_| chance.between(0, 30)).collect();
            let cost: Vec<f64> = whole.iter().map(|&cost| cost as f64).collect();
            let lower: Vec<u64> = (0..4).map(|_| chance.between(0, 2) as u64).collect();
            let upper: Vec<u64> =
                lower.iter().map(|&from| from + chance.between(0, 6) as u64).collect();
            let range = Purchasable { lower, upper };
            let solved = minimise(&whole, &range, &rows);
            let (exact, scale) = bound(&whole, &range, &rows, &solved.multipliers);
            match engine(&cost, &range, &rows) {
                Some(least) => {
                    assert!(solved.is_met);
                    let found: f64 =
                        solved.packs.iter().zip(&cost).map(|(at, cost)| at * cost).sum();
                    approx::assert_abs_diff_eq!(found, least, epsilon = 1e-4);
                    // The multipliers prove it.
                    approx::assert_abs_diff_eq!(exact as f64 / scale as f64, least, epsilon = 1e-4);
                    met += 1;
                }
                None => {
                    assert!(!solved.is_met);
                    let least = bound(&[0; 4], &range, &rows, &solved.multipliers).0;
                    assert!(least > 0, "a conflict that is none");
                    refuted += 1;
                }
            }
        }
        assert!(met > 100 && refuted > 50, "{met} {refuted}");
    }
}
