//! What a batch costs, line by line.

use super::share::{rounded_together, shared};
use super::{Costs, Needs};
use crate::cuts::Tree;
use crate::job::Job;
use crate::made::Made;
use crate::measure::{Money, Ratio, Size};
use crate::orders::{Envelope, OrderLine};
use crate::pieces::{Before, CardFinish, Enclosed, Part, Piece, Pocket, finishes, sundries};
use crate::plan::Leaf;
use crate::stock::Prices;
use std::collections::{BTreeMap, BTreeSet};

/// The most that the parts of all lines come to: with overhead and margin it is still a whole number.
const MOST: i64 = 1_000_000_000_000_000;

/// The costs of each line, in the order of the order; their sums are those of the batch.
pub(super) fn of_lines(made: &Made, needs: &Needs) -> Vec<Costs> {
    let mut lines = vec![Costs::default(); made.job.order.lines.len()];
    for (line, paper) in lines.iter_mut().zip(paper(made, needs)) {
        line.paper = paper;
    }
    for (line, bought) in lines.iter_mut().zip(bought(made)) {
        (line.envelopes, line.sundries) = (bought.envelopes, bought.sundries);
    }
    let workshop = &made.job.workshop;
    for ((line, order), needs) in lines.iter_mut().zip(&made.job.order.lines).zip(needs) {
        let each: Money = finishes(order, workshop).iter().map(CardFinish::price).sum();
        line.finishes = each * cards(needs);
    }
    for (line, labour) in lines.iter_mut().zip(labour(made, needs)) {
        line.labour = labour;
    }
    // Beyond all measure, sums stay where they can be written.
    let most = Money::from_minor(MOST / (lines.len() as i64).max(1));
    for line in &mut lines {
        let Costs { paper, envelopes, sundries, finishes, labour, .. } = line;
        for part in [paper, envelopes, sundries, finishes, labour] {
            *part = (*part).min(most);
        }
    }
    let rates = &made.job.workshop.rates;
    let base: Vec<i128> = lines.iter().map(|line| i128::from(line.cost().minor())).collect();
    let overhead = part_of(base.iter().sum(), rates.overhead_percent, 100);
    for (line, overhead) in lines.iter_mut().zip(shared(overhead, &base)) {
        line.overhead = overhead;
    }
    // price = cost / (1 - margin), so the margin is cost x margin / (1 - margin).
    let cost: Vec<i128> = lines.iter().map(|line| i128::from(line.cost().minor())).collect();
    let margin = part_of(cost.iter().sum(), rates.margin_percent, 100 - rates.margin_percent);
    for (line, margin) in lines.iter_mut().zip(shared(margin, &cost)) {
        line.margin = margin;
    }
    lines
}

/// `amount × above / below`, to the nearest minor unit, halves up.
pub(super) fn part_of(amount: i128, above: u32, below: u32) -> Money {
    let (above, below) = (amount * i128::from(above), i128::from(below.max(1)));
    Money::from_minor(((2 * above + below) / (2 * below)) as i64)
}

/// The paper of each line: of every paper what was used less what was kept, shared by the area of its pieces. It is
/// rounded once, for all papers together.
fn paper(made: &Made, needs: &Needs) -> Vec<Money> {
    let wanted = wanted(made, needs);
    let prices = Prices::of(&made.job.stock, &made.job.workshop);
    let mut lines = vec![Ratio::default(); needs.len()];
    for (paper, areas) in areas(made) {
        let mut weights = vec![0; needs.len()];
        for (piece, area) in areas {
            for part in wanted.get(piece).into_iter().flatten() {
                weights[part.line] +=
                    area * i128::from(part.count.min(part.of)) / i128::from(part.of);
            }
        }
        let (spent, all) = (spent_on(made, paper, &prices), weights.iter().sum());
        for (line, weight) in lines.iter_mut().zip(weights).filter(|(_, weight)| *weight > 0) {
            *line = line.clone() + &spent * &Ratio::new(weight, all);
        }
    }
    if let Some(before) = &made.job.before {
        share_before(before, needs, &mut lines);
    }
    rounded_together(&lines)
}

/// Adds the paper of earlier plans to the lines, by the area of all their pieces.
fn share_before(before: &Before, needs: &Needs, lines: &mut [Ratio]) {
    let area = |(piece, count): &(&Piece, u64)| (piece.size.area() * *count).square_ticks();
    let weights: Vec<i128> = needs.iter().map(|needs| needs.iter().map(area).sum()).collect();
    let all = weights.iter().sum::<i128>().max(1);
    let [above, below] = before.paper.map(i128::from);
    let spent = Ratio::new(above, below.max(1)).max(Ratio::default());
    for (line, weight) in lines.iter_mut().zip(weights) {
        *line = line.clone() + &spent * &Ratio::new(weight, all);
    }
}

/// What the cards of a line take that is bought ready-made.
struct LineBought {
    envelopes: Money,
    sundries: Money,
}

/// What each line takes of supplies, spares apart: these stay. Envelopes that are not in the file of envelopes cost what the
/// workshop says.
fn bought(made: &Made) -> Vec<LineBought> {
    let Job { order, stock, workshop, bill, .. } = &made.job;
    let enclosed = Enclosed::of(order, bill, stock, workshop);
    let worth = |name: &str, count: u64| {
        stock.supply(name).map(|(_, supply)| supply.worth(count)).unwrap_or_default()
    };
    let envelopes = order.lines.iter().map(|line| {
        let count = line.count.value;
        match enclosed.pocket(line).filter(|pocket| pocket.bought.is_some()) {
            Some(Pocket { name: Some(name), is_stocked: true, .. }) => worth(name, count),
            Some(_) => Ratio::whole(i128::from((workshop.envelope.price * count).minor())),
            None => Ratio::default(),
        }
    });
    let envelopes = rounded_together(&envelopes.collect::<Vec<_>>());
    let sundries = order.lines.iter().map(|line| {
        let own = sundries(line, stock).into_iter();
        let each = own.map(|it| it.sundry.supply.worth(it.amount));
        &each.sum::<Ratio>() * i128::from(line.count.value)
    });
    let sundries = rounded_together(&sundries.collect::<Vec<_>>());
    let both = envelopes.into_iter().zip(sundries);
    both.map(|(envelopes, sundries)| LineBought { envelopes, sundries }).collect()
}

/// The papers that are cut and have no price, sorted; then the envelopes and sundries.
pub(super) fn unpriced(made: &Made) -> Vec<String> {
    let Job { order, stock, workshop, .. } = &made.job;
    let papers: BTreeSet<&String> = made.plan.sheets.iter().map(|sheet| &sheet.paper).collect();
    let papers = papers.into_iter().filter(|paper| !stock.is_priced(paper)).cloned();
    let free = made.plan.supplies.iter().filter(|supply| supply.price.is_none());
    let free = free.map(|supply| supply.id.clone());
    let is_bought = |line: &OrderLine| line.envelope == Envelope::Bought;
    let unknown = stock.envelopes.is_empty()
        && workshop.envelope.price == Money::ZERO
        && order.lines.iter().any(is_bought);
    papers.chain(free).chain(unknown.then(|| "bought envelopes".to_owned())).collect()
}

/// What all that was used of a paper comes to, offcuts like new paper, less what is kept of it, in minor units; nothing
/// where no sheet of it has a price.
fn spent_on(made: &Made, paper: &str, prices: &Prices) -> Ratio {
    let known = |id: &str| made.job.stock.sheets.iter().find(|sheet| sheet.id == id);
    let used = made.plan.sheets.iter().filter(|sheet| sheet.paper == paper);
    let used = used.filter_map(|used| Some((known(&used.id)?, used.used)));
    // What a batch itself has left in the drawer was charged with the sheets that it comes from.
    let is_rest = made.job.before.is_some();
    let each = |sheet| if is_rest { prices.sheet(sheet) } else { prices.charged(sheet) };
    let used: Ratio = used.map(|(sheet, count)| &each(sheet) * i128::from(count)).sum();
    let kept = made.plan.offcuts.iter().filter(|offcut| offcut.paper == paper);
    let kept: Ratio = kept
        .map(|offcut| {
            let size = Size::new(offcut.width, offcut.height);
            &prices.offcut(size, paper) * i128::from(offcut.count)
        })
        .sum();
    (used - kept).max(Ratio::default())
}

/// For each paper that is cut, the area of its pieces, by the piece's id.
fn areas(made: &Made) -> BTreeMap<&str, BTreeMap<&str, i128>> {
    let papers: BTreeMap<&str, &str> =
        made.plan.sheets.iter().map(|it| (it.id.as_str(), it.paper.as_str())).collect();
    let mut areas: BTreeMap<&str, BTreeMap<&str, i128>> = BTreeMap::new();
    for run in &made.plan.runs {
        let Some(paper) = papers.get(run.sheet.as_str()).copied() else { continue };
        let pieces = areas.entry(paper).or_default();
        for plate in run.layout.plates() {
            if let Some(Leaf::Piece(id, _)) = plate.leaf() {
                let area = plate.size.area().square_ticks() * i128::from(run.count);
                *pieces.entry(id).or_insert(0) += area;
            }
        }
    }
    areas
}

/// How many of a piece a line wants.
struct Wanted {
    /// Index of the line.
    line: usize,
    count: u64,
    /// How many of the piece are cut, at least 1. What is cut beyond what is wanted would else have been waste: nobody
    /// pays for it alone.
    of: u64,
}

/// Which lines want a piece, by its id.
fn wanted<'a>(made: &'a Made, needs: &Needs<'a>) -> BTreeMap<&'a str, Vec<Wanted>> {
    let cut: BTreeMap<&str, u64> =
        made.plan.pieces.iter().map(|piece| (piece.id.as_str(), piece.cut)).collect();
    let mut wanted: BTreeMap<&str, Vec<Wanted>> = BTreeMap::new();
    for (line, needs) in needs.iter().enumerate() {
        for (piece, count) in needs {
            let id = piece.id.as_str();
            let of = cut.get(id).copied().unwrap_or(piece.need() + piece.spares()).max(1);
            wanted.entry(id).or_default().push(Wanted { line, count: *count, of });
        }
    }
    wanted
}

/// Cards of a line, spares too.
fn cards(needs: &[(&Piece, u64)]) -> u64 {
    needs.iter().filter(|(piece, _)| piece.part == Part::Card).map(|(_, count)| count).sum()
}

/// How often a piece is taken in hand in a stage.
type Handled = fn(&Piece) -> u64;

/// The wages of each line. The time of every stage is shared by the work that it has with the line's
/// pieces; the money for all of it is rounded once.
fn labour(made: &Made, needs: &Needs) -> Vec<Money> {
    let times = &made.schedule.times;
    let before = made.job.before.as_ref().map_or(0, |before| before.seconds);
    let setup = made.job.workshop.rates.setup_minutes * 60;
    let lines = needs.len() as u64;
    let seconds = i128::from(times.total()) + i128::from(before) + i128::from(setup * lines);
    let rate = i128::from(made.job.workshop.rates.labour_per_hour.minor());
    let total = Money::from_minor(((2 * seconds * rate + 3600) / 7200) as i64);
    let stages: [(u64, Handled); 5] = [
        (times.cutting + before, |_| 1),
        (times.folding, Piece::folds),
        (times.sticking, |piece| u64::from(piece.part.is_stuck())),
        (times.envelopes, |piece| u64::from(piece.part == Part::Envelope)),
        (times.boxes, |piece| u64::from(piece.part == Part::Box)),
    ];
    let mut weights = vec![0; needs.len()];
    for (seconds, work) in stages {
        let done = |(piece, count): &(&Piece, u64)| i128::from(work(piece)) * i128::from(*count);
        let own: Vec<i128> = needs.iter().map(|needs| needs.iter().map(done).sum()).collect();
        add(&mut weights, seconds, &own);
    }
    let strokes = made.schedule.scoring.iter();
    let strokes: BTreeMap<&str, u64> =
        strokes.map(|step| (step.piece.as_str(), step.strokes())).collect();
    let scored = |(piece, count): &(&Piece, u64)| {
        let strokes = strokes.get(piece.id.as_str()).copied().unwrap_or_default();
        i128::from(strokes) * i128::from(*count)
    };
    let scoring: Vec<i128> = needs.iter().map(|needs| needs.iter().map(scored).sum()).collect();
    add(&mut weights, times.scoring, &scoring);
    let lines_of_order = made.job.order.lines.iter().zip(needs);
    let finishing = lines_of_order.map(|(line, needs)| {
        let own = finishes(line, &made.job.workshop);
        let each: u64 = own.iter().map(CardFinish::seconds).sum();
        i128::from(each) * i128::from(cards(needs))
    });
    add(&mut weights, times.finishing, &finishing.collect::<Vec<_>>());
    let packed = made.schedule.packing.iter();
    let packed = packed.map(|step| (step.line.as_str(), (step.count, step.seconds)));
    let packed: BTreeMap<&str, (u64, u64)> = packed.collect();
    let pack = made.job.workshop.rates.pack;
    let packing = made.job.order.lines.iter().map(|line| {
        let (count, seconds) = packed.get(line.name.value.as_str()).copied().unwrap_or_default();
        i128::from(count) * i128::from(pack) + i128::from(seconds)
    });
    add(&mut weights, times.packing, &packing.collect::<Vec<_>>());
    add(&mut weights, setup * lines, &vec![1; needs.len()]);
    shared(total, &weights)
}

/// Adds the seconds of a stage to the lines, in millionths, by their work in it.
fn add(weights: &mut [i128], seconds: u64, own: &[i128]) {
    let all: i128 = own.iter().sum();
    for (weight, own) in weights.iter_mut().zip(own) {
        *weight += i128::from(seconds) * 1_000_000 * own / all.max(1);
    }
}
