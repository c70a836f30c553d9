//! One way to break every rule, and the fault that must come of it.

use super::made::{Made, first_node};
use crate::bench::inches;
use cardwright::measure::{Area, Axis, Length, Money};
use cardwright::orders::Turn;
use cardwright::pieces::{Piece, Score};
use cardwright::plan::check::Fault;
use cardwright::plan::{Content, Level, Node, Status, UsedSheet};
use cardwright::stock::{Sheet, SheetKind};
use cardwright::workshop::GrainRule;

/// A way to break a rule.
pub struct Mutation {
    pub name: &'static str,
    /// Breaks it; `false` where this plan has nothing to break.
    pub breaks: fn(&mut Made) -> bool,
    /// Whether a fault is the right one.
    pub found: fn(&Fault) -> bool,
}

macro_rules! mutations {
    ($($name:literal: $breaks:expr => $fault:pat,)*) => {
        /// All ways.
        pub const MUTATIONS: &[Mutation] = &[$(Mutation {
            name: $name,
            breaks: $breaks,
            found: |fault| matches!(fault, $fault),
        }),*];
    };
}

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
    "a dearer sheet": |made| sheet(made, |sheet| sheet.value += CENT)
        => Fault::SheetValue { .. },

    "a run of nothing": |made| run(made, |run| run.count = 0) => Fault::EmptyRun { .. },
    "a layout beside its sheet": |made| run(made, |run| run.layout.x = TICK)
        => Fault::Root { .. },
    "a layout beyond its sheet": |made| run(made, |run| {
        run.layout.size.height += TICK;
    }) => Fault::Root { .. },
    "a cut beside its plate": |made| node(made, is_cut, |node| {
        let beyond = Length::from_ticks(i64::MAX);
        let (Content::CutX(at, _) | Content::CutY(at, _)) = &mut node.content else { return };
        *at = beyond;
    }) => Fault::CutOutside { .. },
    "a cut elsewhere": |made| node(made, is_cut, |node| {
        let (Content::CutX(at, _) | Content::CutY(at, _)) = &mut node.content else { return };
        *at += TICK;
    }) => Fault::Tiling { .. },
    "a part that overlaps": |made| node(made, is_cut, |node| {
        parts(node)[1].x -= TICK;
    }) => Fault::Tiling { .. },
    "a part that is too long": |made| node(made, is_cut, |node| {
        let part = &mut parts(node)[0];
        part.size.height += TICK;
    }) => Fault::Tiling { .. },
    "a thicker blade": |made| {
        made.workshop.trimmer.blade += TICK;
        node(made, is_cut, |_| ())
    } => Fault::Tiling { .. } | Fault::CutOutside { .. },
    "parts the wrong way round": |made| node(made, is_cut, |node| parts(node).swap(0, 1))
        => Fault::Tiling { .. },
    "a piece of nothing": |made| {
        let Some(id) = made.bill.pieces.first().map(|piece| piece.id.clone()) else { return false };
        node(made, |node| !node.size.is_positive(), |node| {
            node.content = Content::Piece(id, false);
        })
    } => Fault::UnderBlade { .. },
    "a cut through nothing": |made| node(made, |node| !node.size.is_positive(), |node| {
        let part = Node { content: Content::Waste, ..node.clone() };
        node.content = Content::CutX(node.x, Box::new([part.clone(), part]));
    }) => Fault::UnderBlade { .. },
    "a shorter knife": |made| {
        made.workshop.trimmer.knife = TICK;
        node(made, is_cut, |_| ())
    } => Fault::Knife { .. },
    "a bench that holds nothing": |made| {
        made.workshop.trimmer.smallest_hold = inches("100");
        node(made, |node| is_cut(node) && !squares(node), |_| ())
    } => Fault::Hold { .. },
    "a bench that never cuts": |made| {
        made.workshop.trimmer.stages = Some(0);
        node(made, |node| is_cut(node) && !squares(node), |_| ())
    } => Fault::Stages { .. },
    "a piece without a name": |made| node(made, is_piece, |node| {
        node.content = Content::Piece("nobody".to_owned(), false);
    }) => Fault::LeafUnknown { .. },
    "a piece turned by mistake": |made| node(made, |node| is_piece(node) && !is_square(node), |node| {
        let Content::Piece(_, turned) = &mut node.content else { return };
        *turned = !*turned;
    }) => Fault::LeafSize { .. },
    "a piece on the wrong paper": |made| every_piece(made, |piece| {
        piece.papers = vec!["zebra".to_owned()];
    }) => Fault::LeafPaper { .. },
    "a piece that may not turn": |made| every_piece(made, |piece| piece.turn = Some(Turn::Half))
        && node(made, |node| matches!(node.content, Content::Piece(_, true)), |_| ())
        => Fault::LeafTurned { .. },
    "a fold across the grain": |made| {
        made.workshop.grain = GrainRule::Strict;
        stock(made, |sheet| sheet.grain = Some(Axis::Width));
        every_piece(made, |piece| piece.fold_along = Some(Axis::Height))
            && node(made, |node| matches!(node.content, Content::Piece(_, false)), |_| ())
    } => Fault::LeafGrain { .. },
    "a turned fold across the grain": |made| {
        made.workshop.grain = GrainRule::Strict;
        stock(made, |sheet| sheet.grain = Some(Axis::Width));
        every_piece(made, |piece| piece.fold_along = Some(Axis::Width))
            && node(made, |node| matches!(node.content, Content::Piece(_, true)), |_| ())
    } => Fault::LeafGrain { .. },
    "rougher edges": |made| {
        made.workshop.trimmer.squaring += inches("6");
        let full = made.stock.sheets.iter().filter(|sheet| sheet.kind == SheetKind::Sheet);
        let full: Vec<String> = full.map(|sheet| sheet.id.clone()).collect();
        let mut runs = made.plan.runs.iter_mut().filter(|run| full.contains(&run.sheet));
        runs.any(|run| first_node(&mut run.layout, &is_piece).is_some())
    } => Fault::Squaring { .. },
    "an offcut thrown away": |made| node(made, is_offcut, |node| node.content = Content::Waste)
        => Fault::WasteWorthKeeping { .. },
    "an offcut without a name": |made| node(made, is_offcut, |node| {
        node.content = Content::Offcut("nobody".to_owned());
    }) => Fault::OffcutUnknown { .. },
    "a wider offcut": |made| offcut(made, |offcut| offcut.width += TICK)
        => Fault::OffcutDiffers { field: "size", .. },
    "an offcut of another paper": |made| offcut(made, |offcut| offcut.paper.push('0'))
        => Fault::OffcutDiffers { field: "paper", .. },
    "an offcut of another run": |made| offcut(made, |offcut| offcut.run.push('0'))
        => Fault::OffcutDiffers { field: "run", .. },
    "an offcut said to be kept": |made| offcut(made, |offcut| offcut.count += 1)
        => Fault::OffcutCount { .. },
    "an offcut that nobody cuts": |made| offcut(made, |_| ()) && {
        let mut more = made.plan.offcuts.clone();
        more.truncate(1);
        more[0].id = "zz".to_owned();
        more[0].count = 0;
        made.plan.offcuts.extend(more);
        true
    } => Fault::OffcutCount { found: 0, .. },
    "an offcut too small to keep": |made| offcut(made, |_| ()) && {
        made.workshop.keep.long = inches("100");
        true
    } => Fault::OffcutTooSmall { .. },

    "another spend": |made| { made.plan.totals.spend += CENT; true }
        => Fault::Total { field: "spend", .. },
    "another stock": |made| { made.plan.totals.stock += CENT; true }
        => Fault::Total { field: "stock", .. },
    "another worth of offcuts": |made| { made.plan.totals.kept += CENT; true }
        => Fault::Total { field: "kept", .. },
    "another number of sheets": |made| { made.plan.totals.sheets_used += 1; true }
        => Fault::Total { field: "sheets_used", .. },
    "another number of runs": |made| { made.plan.totals.runs += 1; true }
        => Fault::Total { field: "runs", .. },
    "another area of sheets": |made| { made.plan.totals.sheet_area += SPECK; true }
        => Fault::Total { field: "sheet_area", .. },
    "another area of pieces": |made| { made.plan.totals.piece_area += SPECK; true }
        => Fault::Total { field: "piece_area", .. },
    "another area of offcuts": |made| { made.plan.totals.offcut_area += SPECK; true }
        => Fault::Total { field: "offcut_area", .. },
    "another area of waste": |made| { made.plan.totals.waste_area += SPECK; true }
        => Fault::Total { field: "waste_area", .. },
    "another area of blade": |made| { made.plan.totals.blade_area += SPECK; true }
        => Fault::Total { field: "blade_area", .. },
    "areas out of balance": |made| { made.plan.totals.waste_area += SPECK; true }
        => Fault::Balance { .. },
    "a gauge that is never set": |made| {
        made.plan.totals.gauge_settings = 0;
        node(made, is_cut, |_| ())
    } => Fault::GaugeSettings,

    "a missing proof": |made| made.plan.proof.pop().is_some() => Fault::Groups { .. },
    "a proof of other papers": |made| match made.plan.proof.first_mut() {
        Some(proof) => { proof.papers.push("zebra".to_owned()); true }
        None => false,
    } => Fault::Groups { .. },
    "another value of the spend": |made| level(made, |spend, _| spend.value += CENT)
        => Fault::LevelValue { level: "spend", .. },
    "another value of the stock": |made| level(made, |_, stock| stock.value += CENT)
        => Fault::LevelValue { level: "stock", .. },
    "a bound above the value": |made| level(made, |spend, _| spend.bound = spend.value + CENT)
        => Fault::BoundBeyondValue { .. },
    "a bound below nothing": |made| level(made, |_, stock| stock.bound = Money::from_minor(-1))
        => Fault::BoundBeyondValue { .. },
    "a status made better": |made| level(made, |_, stock| stock.status = Status::Optimal)
        => Fault::Status { level: "stock", .. },
    "a status made worse": |made| level(made, |spend, _| {
        (spend.bound, spend.status) = (spend.value, Status::Gap);
    }) => Fault::Status { level: "spend", .. },
    "a scale of nothing": |made| level(made, |spend, _| spend.certificate.scale = 0)
        => Fault::CertificateNumber { .. },
    "a budget at the first level": |made| level(made, |spend, _| {
        spend.certificate.budget_value = Some(0);
    }) => Fault::CertificateNumber { level: "spend", .. },
    "no budget at the second level": |made| level(made, |_, stock| {
        stock.certificate.budget_value = None;
    }) => Fault::CertificateNumber { level: "stock", .. },
    "a negative sheet value": |made| level(made, |spend, _| {
        spend.certificate.sheet_values.insert("fern-full".to_owned(), -1);
    }) => Fault::CertificateNumber { .. },
    "a piece value of nobody": |made| level(made, |spend, _| {
        spend.certificate.piece_values.insert("nobody".to_owned(), 1);
    }) => Fault::CertificateUnknown { .. },
    "a sheet value of nobody": |made| level(made, |_, stock| {
        stock.certificate.sheet_values.insert("nobody".to_owned(), 1);
    }) => Fault::CertificateUnknown { .. },
}

const TICK: Length = Length::from_ticks(1);
const CENT: Money = Money::from_minor(1);
const SPECK: Area = Area::from_square_ticks(1);

fn double<T: Clone>(list: &mut Vec<T>) -> bool {
    list.extend(list.last().cloned());
    !list.is_empty()
}

fn first<T>(list: &mut [T]) -> Option<&mut T> {
    list.first_mut()
}

fn score(at: i64) -> Score {
    Score { across: Axis::Height, at: Length::from_ticks(at) }
}

fn other(kind: SheetKind) -> SheetKind {
    match kind {
        SheetKind::Sheet => SheetKind::Offcut,
        SheetKind::Offcut => SheetKind::Sheet,
    }
}

fn change<T>(found: Option<T>, change: impl FnOnce(T)) -> bool {
    found.map(change).is_some()
}

/// Changes the first of a list.
pub fn first_of<T>(list: &mut [T], by: impl FnOnce(&mut T)) -> bool {
    change(list.first_mut(), by)
}

fn piece(made: &mut Made, by: impl FnOnce(&mut cardwright::plan::PlannedPiece)) -> bool {
    change(made.plan.pieces.first_mut(), by)
}

fn sheet(made: &mut Made, by: impl FnOnce(&mut UsedSheet)) -> bool {
    change(made.plan.sheets.first_mut(), by)
}

fn for_sale(made: &mut Made, by: impl FnOnce(&mut UsedSheet)) -> bool {
    change(made.plan.sheets.iter_mut().find(|sheet| sheet.price.is_some()), by)
}

/// Changes a sheet of which packs are bought.
pub fn bought(made: &mut Made, by: impl FnOnce(&mut UsedSheet)) -> bool {
    change(made.plan.sheets.iter_mut().find(|sheet| sheet.packs_bought > 0), by)
}

fn run(made: &mut Made, by: impl FnOnce(&mut cardwright::plan::Run)) -> bool {
    change(made.plan.runs.first_mut(), by)
}

fn offcut(made: &mut Made, by: impl FnOnce(&mut cardwright::plan::KeptOffcut)) -> bool {
    change(made.plan.offcuts.first_mut(), by)
}

fn level(made: &mut Made, by: impl FnOnce(&mut Level, &mut Level)) -> bool {
    // A value above nothing, so that bound and value can be told apart.
    let mut proofs = made.plan.proof.iter_mut();
    let proof = proofs.find(|proof| proof.spend.value > Money::ZERO);
    change(proof, |proof| by(&mut proof.spend, &mut proof.stock))
}

fn node(made: &mut Made, wanted: impl Fn(&Node) -> bool, by: impl FnOnce(&mut Node)) -> bool {
    let mut runs = made.plan.runs.iter_mut();
    change(runs.find_map(|run| first_node(&mut run.layout, &wanted)), by)
}

fn every_piece(made: &mut Made, by: impl Fn(&mut Piece)) -> bool {
    made.bill.pieces.iter_mut().for_each(by);
    !made.bill.pieces.is_empty()
}

fn stock(made: &mut Made, by: impl Fn(&mut Sheet)) {
    made.stock.sheets.iter_mut().for_each(by);
}

fn parts(node: &mut Node) -> &mut [Node; 2] {
    match &mut node.content {
        Content::CutX(_, parts) | Content::CutY(_, parts) => parts,
        _ => panic!("not a cut"),
    }
}

fn is_cut(node: &Node) -> bool {
    matches!(node.content, Content::CutX(..) | Content::CutY(..))
}

fn is_piece(node: &Node) -> bool {
    matches!(node.content, Content::Piece(..))
}

fn is_offcut(node: &Node) -> bool {
    matches!(node.content, Content::Offcut(_))
}

fn is_square(node: &Node) -> bool {
    node.size.width == node.size.height
}

/// Whether a cut has waste on one side, as squaring cuts do.
fn squares(node: &Node) -> bool {
    let (Content::CutX(_, parts) | Content::CutY(_, parts)) = &node.content else { return false };
    parts.iter().any(|part| part.content == Content::Waste)
}
