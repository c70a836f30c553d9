//! What a plan needs beside paper.

use crate::job::Job;
use crate::measure::{Length, Money, Size};
use crate::stock::SupplyKind;
use serde::{Deserialize, Serialize};

/// One envelope or sundry that the order needs; amounts are in parts of its unit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlannedSupply {
    /// Its name.
    pub id: String,
    /// Which file it is from.
    pub kind: SupplyKind,
    /// Outside, of an envelope, its long side.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub width: Option<Length>,
    /// Its short side.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub height: Option<Length>,
    /// What it is counted in: whole ones where this is empty.
    pub unit: String,
    /// What the cards take that are still to be made.
    pub need: u64,
    /// What there should be beyond that.
    pub spares: u64,
    /// What is in the workshop.
    pub on_hand: u64,
    /// Packs to buy.
    pub packs_bought: u64,
    /// What is in a pack.
    pub pack: u64,
    /// Price of a pack; `None` where it cannot be bought.
    pub price: Option<Money>,
}

impl PlannedSupply {
    /// Its size, if it is an envelope.
    pub fn size(&self) -> Option<Size> {
        self.width.zip(self.height).map(|(width, height)| Size::new(width, height))
    }

    /// What there should be in all.
    pub fn wanted(&self) -> u64 {
        self.need.saturating_add(self.spares)
    }

    /// What comes with the packs.
    pub fn bought(&self) -> u64 {
        self.packs_bought.saturating_mul(self.pack)
    }

    /// Money for the packs.
    pub fn cost(&self) -> Money {
        self.price.unwrap_or_default() * self.packs_bought
    }
}

/// What a job needs of supplies, sorted by name.
pub fn supplies(job: &Job) -> Vec<PlannedSupply> {
    let planned = job.bill.supplies.iter().filter_map(|need| {
        let (kind, supply) = job.stock.supply(&need.supply)?;
        let size = job.stock.envelope(&need.supply).map(|envelope| envelope.size);
        Some(PlannedSupply {
            id: need.supply.clone(),
            kind,
            width: size.map(|size| size.width),
            height: size.map(|size| size.height),
            unit: supply.unit.word().to_owned(),
            need: need.left(),
            spares: need.spares(),
            on_hand: supply.on_hand,
            packs_bought: supply.packs_for(need.wanted()),
            pack: supply.pack,
            price: supply.price,
        })
    });
    planned.collect()
}
