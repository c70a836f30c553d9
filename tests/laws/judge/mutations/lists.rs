//! Ways to break what a plan lists: its form, its pieces, its sheets.

use super::*;

mutations! {
    "another schema": |made| { made.plan.schema.push('0'); true } => Fault::Schema { .. },
    "another tick": |made| { made.plan.ticks_per_mm += 1; true } => Fault::TicksPerMm { .. },
    "another currency": |made| { made.plan.currency = "EUR".to_owned(); true }
        => Fault::Currency { .. },
    "a piece twice": |made| double(&mut made.plan.pieces)
        => Fault::Unsorted { list: "pieces", .. },
    "a sheet twice": |made| double(&mut made.plan.sheets) => Fault::Unsorted { list: "sheets", .. },
    "an offcut twice": |made| double(&mut made.plan.offcuts)
        => Fault::Unsorted { list: "offcuts", .. },
    "a paper twice": |made| piece(made, |piece| { double(&mut piece.papers); })
        => Fault::Unsorted { list: "papers of a piece", .. },
    "a score twice": |made| piece(made, |piece| piece.scores = vec![score(1), score(1)])
        => Fault::Unsorted { list: "scores of a piece", .. },
    "a run called otherwise": |made| run(made, |run| run.id = "R0".to_owned())
        => Fault::RunName { .. },
    "a piece of no width": |made| piece(made, |piece| piece.width = Length::ZERO)
        => Fault::OutOfRange { .. },
    "a pack of none": |made| sheet(made, |sheet| sheet.pack = 0) => Fault::OutOfRange { .. },
    "more than the world's paper": |made| run(made, |run| run.count = u64::MAX)
        => Fault::OutOfRange { .. },

    "less asked for": |made| piece(made, |piece| piece.need -= 1)
        => Fault::PieceDiffers { field: "need", .. },
    "more spares": |made| piece(made, |piece| piece.spares += 1)
        => Fault::PieceDiffers { field: "spares", .. },
    "a piece for another line": |made| piece(made, |piece| piece.line.push('+'))
        => Fault::PieceDiffers { field: "line", .. },
    "a wider piece": |made| piece(made, |piece| piece.width += TICK)
        => Fault::PieceDiffers { field: "width", .. },
    "a higher piece": |made| piece(made, |piece| piece.height += TICK)
        => Fault::PieceDiffers { field: "height", .. },
    "another crease": |made| piece(made, |piece| piece.scores.push(score(i64::MAX)))
        => Fault::PieceDiffers { field: "scores", .. },
    "another way to lie": |made| piece(made, |piece| {
        piece.turn = if piece.turn == Turn::None { Turn::Free } else { Turn::None };
    }) => Fault::PieceDiffers { field: "turn", .. },
    "a piece on any paper": |made| piece(made, |piece| piece.papers.push("zebra".to_owned()))
        => Fault::PieceDiffers { field: "papers", .. },
    "a forgotten piece": |made| made.plan.pieces.pop().is_some() => Fault::PieceMissing { .. },
    "a piece nobody asked for": |made| made.bill.pieces.pop().is_some()
        => Fault::PieceUnknown { .. },
    "a piece said to be cut": |made| piece(made, |piece| piece.cut += 1)
        => Fault::PieceCount { .. },
    "too few pieces": |made| {
        let Some(share) = first(&mut made.bill.pieces).map(|piece| &mut piece.shares[0]) else {
            return false;
        };
        share.need += 1000;
        piece(made, |piece| piece.need += 1000)
    } => Fault::PieceShort { .. },

    "a sheet of another name": |made| sheet(made, |sheet| sheet.id.push('0'))
        => Fault::SheetUnknown { .. },
    "a run of an unlisted sheet": |made| run(made, |run| run.sheet = "unused".to_owned())
        => Fault::RunSheet { .. },
    "a wider sheet": |made| sheet(made, |sheet| sheet.width += TICK)
        => Fault::SheetDiffers { field: "width", .. },
    "a higher sheet": |made| sheet(made, |sheet| sheet.height += TICK)
        => Fault::SheetDiffers { field: "height", .. },
    "a sheet of another kind": |made| sheet(made, |sheet| sheet.kind = other(sheet.kind))
        => Fault::SheetDiffers { field: "kind", .. },
    "a sheet of another paper": |made| sheet(made, |sheet| sheet.paper.push('0'))
        => Fault::SheetDiffers { field: "paper", .. },
    "more on hand": |made| sheet(made, |sheet| sheet.on_hand += 1)
        => Fault::SheetDiffers { field: "on_hand", .. },
    "a larger pack": |made| sheet(made, |sheet| sheet.pack += 1)
        => Fault::SheetDiffers { field: "pack", .. },
    "another price": |made| sheet(made, |sheet| {
        sheet.price = Some(sheet.price.unwrap_or(Money::ZERO) + CENT);
    }) => Fault::SheetDiffers { field: "price", .. },
    "a sheet said to be used": |made| sheet(made, |sheet| sheet.used += 1)
        => Fault::SheetCount { .. },
    "a sheet for nothing": |made| {
        let idle = UsedSheet { id: "zz".to_owned(), used: 0, packs_bought: 0, ..match made.plan.sheets.last() {
            Some(sheet) => sheet.clone(),
            None => return false,
        } };
        made.plan.sheets.push(idle);
        true
    } => Fault::SheetIdle { .. },
    "a pack too many": |made| for_sale(made, |sheet| sheet.packs_bought += 1)
        => Fault::Packs { .. },
    "a pack too few": |made| bought(made, |sheet| sheet.packs_bought -= 1)
        => Fault::Packs { .. },
    "sheets from nowhere": |made| bought(made, |sheet| sheet.packs_bought -= 1)
        => Fault::SheetShort { .. },
    "a pack of what is not for sale": |made| bought(made, |sheet| sheet.price = None)
        => Fault::NotForSale { .. },
    "a dearer sheet": |made| sheet(made, |sheet| sheet.value = Worth::from_units(sheet.value.units() + 1))
        => Fault::SheetValue { .. },
}
