//! Envelopes and sundries of a batch: what is bought, fetched and left over.

use super::Batch;
use super::report::{Purchase, SupplyRow};
use crate::measure::{AmountUnit, Money};
use crate::plan::PlannedSupply;
use crate::stock::{StockItem, SupplyKind};

/// What must be bought of them, in the order of the plan.
pub fn purchases(batch: &Batch) -> Vec<Purchase> {
    let bought = batch.made.plan.supplies.iter().filter(|supply| supply.packs_bought > 0);
    bought.map(|supply| purchase(batch, supply)).collect()
}

fn purchase(batch: &Batch, planned: &PlannedSupply) -> Purchase {
    let currency = &batch.made.job.workshop.currency;
    let unit = unit(batch, planned);
    Purchase {
        name: planned.id.clone(),
        kind: planned.kind.word(),
        paper: String::new(),
        size: size(batch, planned),
        packs: planned.packs_bought,
        pack: unit.told(planned.pack),
        is_measured: !unit.word().is_empty(),
        is_single: unit.word().is_empty() && planned.pack == 1,
        amount: unit.told(planned.bought()),
        price: currency.number(planned.price.unwrap_or(Money::ZERO)),
        cost: currency.number(planned.cost()),
        currency: currency.code().to_owned(),
    }
}

/// What is fetched of each for the cards, and what is left over then, spares with it.
pub fn rows(batch: &Batch) -> Vec<SupplyRow> {
    let row = |planned: &PlannedSupply| {
        let unit = unit(batch, planned);
        let there = planned.on_hand.saturating_add(planned.bought());
        let bought = planned.need.saturating_sub(planned.on_hand);
        let from = match bought {
            0 => "on hand".to_owned(),
            bought if bought == planned.need => "bought".to_owned(),
            bought => format!(
                "{} on hand, {} of those bought",
                unit.told(planned.on_hand),
                unit.told(bought)
            ),
        };
        SupplyRow {
            name: planned.id.clone(),
            size: size(batch, planned),
            need: unit.told(planned.need),
            from,
            stays: unit.told(there.saturating_sub(planned.need)),
        }
    };
    batch.made.plan.supplies.iter().filter(|supply| supply.need > 0).map(row).collect()
}

fn supply<'a>(batch: &Batch<'a>, planned: &PlannedSupply) -> Option<&'a StockItem> {
    batch.made.job.stock.supply(&planned.id).map(|(_, supply)| supply)
}

fn unit(batch: &Batch, planned: &PlannedSupply) -> AmountUnit {
    supply(batch, planned).map(|supply| supply.unit.clone()).unwrap_or_default()
}

fn size(batch: &Batch, planned: &PlannedSupply) -> String {
    let envelope = batch.made.job.stock.envelope(&planned.id);
    let envelope = envelope.filter(|_| planned.kind == SupplyKind::Envelope);
    envelope.map(|it| batch.made.job.workshop.style().size(it.size)).unwrap_or_default()
}
