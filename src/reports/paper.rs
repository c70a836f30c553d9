//! What the paper of a plan counts, and how much less of it another plan could use at most.
//!
//! Whole units hide a little, which is added up here: what the offcuts used are worth beyond their units, and what tiny
//! ones of the drawer are worth less than the unit that they count.

use super::Batch;
use super::words::{area, area_rounded_up};
use crate::job::Job;
use crate::made::Made;
use crate::measure::{Area, Money, Ratio, Unit};
use crate::plan::{Proof, UsedSheet};
use crate::stock::{Counting, Prices, Sheet, rounded};

/// Of one group of papers, in minor units, or in square ticks where no sheet has a price.
pub struct Figures {
    /// What is used.
    pub used: Ratio,
    /// The most that another plan could spare: down to the bound, and what was lost when offcuts were rounded down to
    /// whole units.
    pub open: Ratio,
    /// Whether it is money.
    pub is_money: bool,
    /// Whether no plan is known to use less, or only so much less that it is next to nothing.
    pub is_proven: bool,
}

/// The groups of a plan, in the order of its proofs.
pub fn counted(batch: &Batch) -> Vec<Figures> {
    let prices = Prices::of(&batch.made.job.stock, &batch.made.job.workshop);
    batch.made.plan.proof.iter().map(|proof| of_group(batch, proof, &prices)).collect()
}

fn of_group(batch: &Batch, proof: &Proof, prices: &Prices) -> Figures {
    let Made { job: Job { stock, workshop, .. }, plan, .. } = batch.made;
    let has = |paper: &str| proof.papers.iter().any(|own| own == paper);
    let counting = Counting::of(has, stock, prices, workshop);
    let sheet = |used: &UsedSheet| stock.sheets.iter().find(|sheet| sheet.id == used.id);
    let used = || plan.sheets.iter().filter(|used| has(&used.paper));
    let lost = used().filter_map(|used| {
        let rest = counting.rest(sheet(used)?);
        Some(&rest * i128::from(used.used))
    });
    let lost: Vec<Ratio> = lost.collect();
    // A sheet that is worth less than a unit counts one all the same: another plan may use it instead.
    let tiny = |sheet: &Sheet| {
        let more = Ratio::default() - counting.rest(sheet);
        more.is_positive().then(|| &more * most(sheet, proof.spend.value))
    };
    let tiny: Ratio = stock.sheets.iter().filter(|it| has(&it.paper)).filter_map(tiny).sum();
    let (value, bound) = (counting.amount(proof.stock.value), counting.amount(proof.stock.bound));
    let little = counting.units().little;
    let rounded_down: Ratio = lost.iter().filter(|rest| rest.is_positive()).cloned().sum();
    Figures {
        used: value.clone() + lost.into_iter().sum(),
        open: value - bound + rounded_down + tiny,
        is_money: counting.units().worth.is_some(),
        is_proven: proof.stock.value.units() - proof.stock.bound.units() <= little,
    }
}

/// The most of a sheet that a plan can use which spends no more than this.
fn most(sheet: &Sheet, spend: Money) -> i128 {
    let price = sheet.price.map_or(0, Money::minor);
    let packs = spend.minor().checked_div(price).unwrap_or(0);
    i128::from(sheet.on_hand) + i128::from(packs) * i128::from(sheet.pack)
}

/// The sum of all groups that count money, or of all that count area; `None` where there are none.
pub fn sum(counted: &[Figures], is_money: bool) -> Option<Figures> {
    let of_kind = || counted.iter().filter(|it| it.is_money == is_money);
    of_kind().next()?;
    let used = of_kind().map(|it| it.used.clone()).sum();
    let open = of_kind().map(|it| it.open.clone()).sum();
    let is_proven = of_kind().all(|it| it.is_proven);
    Some(Figures { used, open, is_money, is_proven })
}

impl Figures {
    /// What is used, in words.
    pub fn used(&self, batch: &Batch) -> String {
        self.told(&self.used, batch)
    }

    /// What every plan uses at least, in words: rounded down.
    pub fn bound(&self, batch: &Batch) -> String {
        let least = self.used.clone() - self.open.clone();
        self.told(&Ratio::whole(least.floor().max(0)), batch)
    }

    /// The most that another plan could spare, in words: rounded up. `None` where that is nothing.
    pub fn open(&self, batch: &Batch) -> Option<String> {
        self.open.is_positive().then(|| match self.is_money {
            true => batch.made.job.workshop.currency.with_code(self.open_money()),
            false => area_rounded_up(square(&self.open), unit(batch)),
        })
    }

    /// The same with its part of all paper, such as `0.12 USD (0.3 %)`.
    pub fn open_part(&self, batch: &Batch) -> Option<String> {
        let part = super::answers::part(&self.open, &self.used);
        self.open(batch).map(|open| format!("{open} ({part})"))
    }

    fn open_money(&self) -> Money {
        Money::from_minor(i64::try_from(self.open.ceil()).unwrap_or(i64::MAX))
    }

    fn told(&self, amount: &Ratio, batch: &Batch) -> String {
        match self.is_money {
            true => batch.made.job.workshop.currency.with_code(rounded(amount)),
            false => area(square(amount), unit(batch)),
        }
    }
}

fn square(ticks: &Ratio) -> Area {
    Area::from_square_ticks(ticks.ceil())
}

fn unit(batch: &Batch) -> Unit {
    batch.made.job.workshop.unit
}
