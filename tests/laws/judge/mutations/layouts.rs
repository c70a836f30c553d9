//! Ways to break how sheets are cut, and what is kept of them.

use super::*;

mutations! {
    "a run of nothing": |made| run(made, |run| run.count = 0) => Fault::EmptyRun { .. },
    "a layout beside its sheet": |made| run(made, |run| run.layout.x = TICK)
        => Fault::Root { .. },
    "a layout beyond its sheet": |made| run(made, |run| {
        run.layout.size.height += TICK;
    }) => Fault::Root { .. },
    "a cut beside its plate": |made| node(made, is_cut, |node| {
        let beyond = Length::from_ticks(i64::MAX);
        cut(node).at = beyond;
    }) => Fault::CutOutside { .. },
    "a cut elsewhere": |made| node(made, is_cut, |node| {
        cut(node).at += TICK;
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
            node.content = Content::Leaf(Leaf::Piece(id, false));
        })
    } => Fault::UnderBlade { .. },
    "a cut through nothing": |made| node(made, |node| !node.size.is_positive(), |node| {
        let part = Node { content: Content::Leaf(Leaf::Waste), ..node.clone() };
        node.content = Content::Cut(Cut::new(Axis::Width, node.x, [part.clone(), part]));
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
        node.content = Content::Leaf(Leaf::Piece("nobody".to_owned(), false));
    }) => Fault::LeafUnknown { .. },
    "a piece turned by mistake": |made| node(made, |node| is_piece(node) && !is_square(node), |node| {
        let Content::Leaf(Leaf::Piece(_, turned)) = &mut node.content else { return };
        *turned = !*turned;
    }) => Fault::LeafSize { .. },
    "a piece on the wrong paper": |made| every_piece(made, |piece| {
        piece.papers = vec!["zebra".to_owned()];
    }) => Fault::LeafPaper { .. },
    "a piece that may not turn": |made| every_piece(made, |piece| piece.turn = Some(Turn::Half))
        && node(made, |node| matches!(node.content, Content::Leaf(Leaf::Piece(_, true))), |_| ())
        => Fault::LeafTurned { .. },
    "a fold across the grain": |made| {
        made.workshop.grain = GrainRule::Strict;
        stock(made, |sheet| sheet.grain = Some(Axis::Width));
        every_piece(made, |piece| piece.grain_along = Some(Axis::Height))
            && node(made, |node| matches!(node.content, Content::Leaf(Leaf::Piece(_, false))), |_| ())
    } => Fault::LeafGrain { .. },
    "a turned fold across the grain": |made| {
        made.workshop.grain = GrainRule::Strict;
        stock(made, |sheet| sheet.grain = Some(Axis::Width));
        every_piece(made, |piece| piece.grain_along = Some(Axis::Width))
            && node(made, |node| matches!(node.content, Content::Leaf(Leaf::Piece(_, true))), |_| ())
    } => Fault::LeafGrain { .. },
    "rougher edges": |made| {
        made.workshop.trimmer.squaring += inches("6");
        let full = made.stock.sheets.iter().filter(|sheet| sheet.kind == SheetKind::Sheet);
        let full: Vec<String> = full.map(|sheet| sheet.id.clone()).collect();
        let mut runs = made.plan.runs.iter_mut().filter(|run| full.contains(&run.sheet));
        runs.any(|run| first_node(&mut run.layout, &is_piece).is_some())
    } => Fault::Squaring { .. },
    "an offcut thrown away": |made| node(made, is_offcut, |node| node.content = Content::Leaf(Leaf::Waste))
        => Fault::WasteWorthKeeping { .. },
    "an offcut without a name": |made| node(made, is_offcut, |node| {
        node.content = Content::Leaf(Leaf::Offcut("nobody".to_owned()));
    }) => Fault::OffcutUnknown { .. },
    "a wider offcut": |made| offcut(made, |offcut| offcut.width += TICK)
        => Fault::OffcutDiffers { field: "size", .. },
    "an offcut of another paper": |made| offcut(made, |offcut| offcut.paper.push('0'))
        => Fault::OffcutDiffers { field: "paper", .. },
    "an offcut of another run": |made| offcut(made, |offcut| offcut.run.push('0'))
        => Fault::OffcutDiffers { field: "run", .. },
    "an offcut of one run more": |made| offcut(made, |offcut| offcut.more_runs.push("R0".to_owned()))
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
}
