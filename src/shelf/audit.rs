//! The files of after a batch, held against the plan before they are written.

use super::event::Recount;
use super::settle::{Ground, Move, Refusal, Settlement, SupplyMove};
use crate::diagnostics::{Problem, Problems};
use crate::measure::Area;
use crate::stock::{self, Counts, Stock, Texts, USUAL_NAMES};
use crate::table::Named;
use crate::workshop::Workshop;
use std::collections::{BTreeMap, BTreeSet};

/// Reads the new files as if they were a person's, and holds them against what moved: every name has what
/// it should have, and no paper came from nowhere or went nowhere but what became pieces, waste and dust.
pub(super) fn audit(gone: Area, settlement: &Settlement, ground: &Ground) -> Result<(), Refusal> {
    let Settlement { event, texts, moves, supplies, .. } = settlement;
    let after = read_stock(texts, ground.workshop)?;
    let lies = |stock: &Stock, name: &str| -> u64 {
        stock.sheets.iter().find(|sheet| sheet.id == name).map_or(0, |sheet| sheet.on_hand)
    };
    let mut names: BTreeSet<&str> = ground.stock.sheets.iter().map(|it| it.id.as_str()).collect();
    names.extend(after.sheets.iter().map(|sheet| sheet.id.as_str()));
    for name in names {
        let moved = moves.iter().find(|moved| moved.name == name);
        let expected = moved.map_or_else(|| lies(ground.stock, name), Move::is);
        if lies(&after, name) != expected {
            let found = lies(&after, name);
            return Err(Refusal::Fault(format!(
                "{name}: {expected} should lie there, not {found}"
            )));
        }
    }
    for (_, supply) in after.supplies() {
        let moved = supplies.iter().find(|moved| moved.name == supply.name);
        let lying = || ground.stock.supply(&supply.name).map(|(_, lying)| lying.on_hand);
        let expected = moved.map(SupplyMove::is).or_else(lying).unwrap_or_default();
        if supply.on_hand != expected {
            let told = |amount| supply.unit.told(amount);
            return Err(Refusal::Fault(format!(
                "{}: {} should lie there, not {}",
                supply.name,
                told(expected),
                told(supply.on_hand)
            )));
        }
    }
    let come = bought_area(ground.stock, &event.bought);
    if area(ground.stock) + come != area(&after) + gone {
        return Err(Refusal::Fault("the area of the shelf does not add up".to_owned()));
    }
    Ok(())
}

/// Reads the files of after a stock-take, and holds them against what was found: what was counted is there as it was
/// counted, all else as it was.
pub(super) fn audit_take(
    texts: &Texts,
    changes: &[Recount],
    ground: &Ground,
) -> Result<(), Refusal> {
    let after = read_stock(texts, ground.workshop)?;
    let mut expected: BTreeMap<&str, u64> =
        ground.stock.on_file().into_iter().map(|(name, known)| (name, known.count)).collect();
    expected.extend(changes.iter().map(|change| (change.name.as_str(), change.is)));
    let found = after.on_file();
    let unlike = expected.iter().find(|(name, count)| {
        // The row of an offcut of which none are left is gone.
        found.get(**name).map_or(0, |known| known.count) != **count
    });
    match unlike {
        Some((name, _)) => Err(Refusal::Fault(format!("{name} is not as it was counted"))),
        None if found.keys().any(|name| !expected.contains_key(name)) => {
            Err(Refusal::Fault("something came on the shelf that nobody counted".to_owned()))
        }
        None => Ok(()),
    }
}

/// The stock of these texts. Where they cannot be read again, a file goes beyond what it may hold.
fn read_stock(texts: &Texts, workshop: &Workshop) -> Result<Stock, Refusal> {
    let mut problems = Problems::new();
    let files = USUAL_NAMES.with(texts.each().map(Option::as_deref));
    let files = files.map(|(name, text)| Some(Named::new(name, text?)));
    let stock = stock::read(files, workshop, &mut problems);
    if !problems.has_errors()
        && let Some(stock) = stock
    {
        return Ok(stock);
    }
    let title = "the files would exceed their limits";
    problems.push(
        Problem::error("settle-limits", title)
            .help("the messages above are about the files as they would be; nothing was written")
            .help("split the stock over several names, or several shelves"),
    );
    Err(Refusal::Problems(problems))
}

/// The area of all paper that lies on a shelf.
pub fn area(stock: &Stock) -> Area {
    stock.sheets.iter().map(|sheet| sheet.size.area() * sheet.on_hand).sum()
}

fn bought_area(stock: &Stock, bought: &Counts) -> Area {
    let sheets = stock.sheets.iter();
    sheets.map(|it| it.size.area() * bought.get(&it.id).copied().unwrap_or_default()).sum()
}
