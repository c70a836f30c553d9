//! The work after cutting: score, fold, glue, make envelopes and boxes.

use super::{PieceStep, ScoreStep, folds};
use crate::diagnostics::listed;
use crate::folds::{Fold, FoldStyle};
use crate::folds::{Score, mat_face};
use crate::measure::{Axis, Length, LengthStyle, Size};
use crate::orders::{LinerKind, Order, OrderLine};
use crate::pieces::{CardFinish, Part, Piece, Share, Upright, finishes, scores_upright, upright};
use crate::plan::Plan;
use crate::stock::{KnownPapers, PaperFacts, Stock};
use crate::workshop::{EnvelopeKind, Workshop};
use std::collections::BTreeMap;

/// One kind of piece and how many of it are worked on.
#[derive(Clone, Copy, Debug)]
pub(super) struct CutPiece<'a> {
    pub piece: &'a Piece,
    pub count: u64,
    pub upright: Upright,
}

/// All pieces with how many are wanted, spares and those cut before too, in the order of the bill: what layouts yield
/// beyond that is cut, and no more done with it.
pub(super) fn cut_pieces<'a>(pieces: &'a [Piece], plan: &Plan, stock: &Stock) -> Vec<CutPiece<'a>> {
    let count = |piece: &Piece| {
        let planned = plan.pieces.iter().find(|planned| planned.id == piece.id);
        let cut = planned.map_or(piece.wanted(), |planned| planned.cut.min(piece.wanted()));
        piece.done.good + cut
    };
    let cut =
        |piece: &'a Piece| CutPiece { piece, count: count(piece), upright: upright(piece, stock) };
    pieces.iter().map(cut).collect()
}

/// Every piece that has a score line; what is scored at the same distances follows each other, so that
/// the stops of a scoring board stay where they are.
pub(super) fn scoring(cuts: &[CutPiece<'_>], papers: &KnownPapers) -> Vec<ScoreStep> {
    let mut scored: Vec<&CutPiece> =
        cuts.iter().filter(|cut| !cut.piece.scores.is_empty()).collect();
    scored.sort_by_key(|cut| {
        let scores = scores_upright(cut.piece, cut.upright).into_iter();
        let distances: Vec<_> = scores.map(|score| (score.across, score.at)).collect();
        (distances.len(), distances)
    });
    scored
        .into_iter()
        .map(|CutPiece { piece, count, upright }| ScoreStep {
            piece: piece.id.clone(),
            part: piece.part,
            size: piece.size,
            scores: scores_upright(piece, *upright),
            count: *count,
            twice: apart(papers.heaviest(&piece.papers)),
        })
        .collect()
}

/// Paper above this is scored twice: 350 g/m2 (common practice, no source; a handbook of print production does so above
/// 600 g/m2).
const ONCE: u64 = 350_000;
/// So is paper of this thickness: 0.45 mm (likewise).
const THICK: Length = Length::from_ticks(Length::TICKS_PER_MM * 45 / 100);

/// How far apart two scores of such paper are: as far as it is thick, so that it turns a quarter at each (from memory).
fn apart(paper: PaperFacts) -> Option<Length> {
    let thickness = paper.thickness?.length();
    let is_stiff = paper.weight.is_some_and(|weight| weight > ONCE) || thickness >= THICK;
    is_stiff.then_some(thickness)
}

/// Every card that folds, and what folds with it or round it.
pub(super) fn folding(
    cuts: &[CutPiece<'_>],
    lines: &NamedLines,
    workshop: &Workshop,
) -> Vec<PieceStep> {
    let style = workshop.style();
    let folded = cuts.iter().filter(|cut| cut.piece.folds() > 0);
    let fold = |piece: &Piece| {
        let line = piece.shares.first().and_then(|share| lines.get(share.line.as_str()));
        line.map_or(FoldStyle::Half, |line| line.fold.style)
    };
    let words = |cut: &CutPiece| match (cut.piece.part, fold(cut.piece)) {
        (Part::Band, _) => band_words(cut.piece, style),
        (Part::Card, fold) if !matches!(fold, FoldStyle::Flat | FoldStyle::Half) => {
            folds::words(fold, cut, style)
        }
        _ => fold_words(cut, style),
    };
    let seconds = |cut: &CutPiece| workshop.rates.fold * cut.piece.folds();
    folded.map(|cut| step(cut, words(cut), seconds(cut))).collect()
}

fn band_words(piece: &Piece, style: LengthStyle) -> String {
    let at: Vec<String> = piece.scores.iter().map(|score| style.with_unit(score.at)).collect();
    format!("fold both ends back at {}, ridges inside, so that they overlap", at.join(" and "))
}

/// The ridge of a crease goes inside the fold (common practice, no source).
fn fold_words(CutPiece { piece, upright, .. }: &CutPiece<'_>, style: LengthStyle) -> String {
    let design = match upright {
        Upright::Any => "",
        // What is glued into the card shows its design inside.
        Upright::Outside if piece.part == Part::Liner => ", design inside and upright",
        Upright::Outside => ", the side that was up outside, its design upright",
        Upright::Inside => ", turned so that the design inside is upright",
    };
    let words = |score: &Score| {
        let spine = match score.across {
            Axis::Width => "spine on the left",
            Axis::Height => "spine on top",
        };
        let folded = piece.size.with(score.across, folded_side(piece.size, *score));
        format!(
            "fold at {}, {spine}{design}, ridge of the score line inside: {} folded",
            style.with_unit(score.at),
            style.size(folded)
        )
    };
    piece.scores.iter().map(words).collect::<Vec<_>>().join("; ")
}

/// The wider of the two panels.
pub(super) fn folded_side(size: Size, score: Score) -> Length {
    score.at.max(size.along(score.across) - score.at)
}

/// Every card to which something is done by hand; lines that share a piece and want it finished alike together.
pub(super) fn finishing(
    cuts: &[CutPiece<'_>],
    lines: &NamedLines,
    workshop: &Workshop,
) -> Vec<PieceStep> {
    let cards = cuts.iter().filter(|cut| cut.piece.part == Part::Card);
    cards.flat_map(|cut| finished(cut, lines, workshop)).collect()
}

fn finished(cut: &CutPiece<'_>, lines: &NamedLines, workshop: &Workshop) -> Vec<PieceStep> {
    let CutPiece { piece, count, .. } = cut;
    let mut ways: Vec<(Vec<CardFinish>, Vec<&Share>)> = Vec::new();
    for share in &piece.shares {
        let line = lines.get(share.line.as_str());
        let way = line.map(|line| finishes(line, workshop)).unwrap_or_default();
        match ways.iter_mut().find(|(known, _)| *known == way) {
            Some((_, shares)) => shares.push(share),
            None => ways.push((way, vec![share])),
        }
    }
    let is_all = ways.len() == 1;
    // What there is beyond the need goes to the lines in their order.
    let mut over = count.saturating_sub(piece.need());
    let of = |(way, shares): (Vec<CardFinish>, Vec<&Share>)| {
        let sum = |of: fn(&Share) -> u64| shares.iter().map(|share| of(share)).sum::<u64>();
        let more = over.min(sum(|share| share.spares));
        over -= more;
        let wanted = sum(|share| share.need) + more;
        let told: Vec<String> = way.iter().map(CardFinish::told).collect();
        let names: Vec<String> = shares.iter().map(|share| share.line.clone()).collect();
        let whose = if is_all { String::new() } else { format!("those of {}: ", listed(&names)) };
        let each: u64 = way.iter().map(CardFinish::seconds).sum();
        let cut = CutPiece { count: if is_all { *count } else { wanted.min(*count) }, ..*cut };
        let step = step(&cut, format!("{whose}{}", told.join("; ")), each);
        (!way.is_empty()).then(|| PieceStep { size: piece.folded(), ..step })
    };
    ways.into_iter().filter_map(of).collect()
}

/// Every piece that is glued to another, or round it; a band comes last, round the finished card.
pub(super) fn sticking(
    cuts: &[CutPiece<'_>],
    lines: &NamedLines,
    workshop: &Workshop,
) -> Vec<PieceStep> {
    let style = workshop.style();
    let mut layers: Vec<&CutPiece> = cuts.iter().filter(|cut| cut.piece.part.is_stuck()).collect();
    layers.sort_by_key(|cut| cut.piece.part == Part::Band);
    let seconds = workshop.rates.stick;
    layers.into_iter().map(|cut| step(cut, glue_words(cut, lines, style), seconds)).collect()
}

/// The lines of an order by their names.
pub(super) type NamedLines<'a> = BTreeMap<&'a str, &'a OrderLine>;

pub(super) fn by_name(order: &Order) -> NamedLines<'_> {
    order.lines.iter().map(|line| (line.name.value.as_str(), line)).collect()
}

fn glue_words(cut: &CutPiece<'_>, lines: &NamedLines, style: LengthStyle) -> String {
    let piece = cut.piece;
    match piece.part {
        Part::Liner if piece.folds() > 0 => {
            "lay it in the fold of the card, with a thin line of glue on its back half, close to the fold"
                .to_owned()
        }
        Part::EnvelopeLiner => lining_words(piece, style),
        Part::Band => {
            let mut shares = piece.shares.iter().filter_map(|share| lines.get(share.line.as_str()));
            let has_insert = shares.any(|line| line.extras.insert.is_some());
            let insert = if has_insert { "lay the insert in the card; " } else { "" };
            format!(
                "{insert}wrap the band round the middle of the closed card, its ends over each other at the back; \
                 glue them to each other, not to the card, so that it slides off"
            )
        }
        _ if cut.upright == Upright::Outside => {
            format!("{}, design upright", layer_words(piece, lines, style))
        }
        _ => layer_words(piece, lines, style),
    }
}

fn lining_words(piece: &Piece, style: LengthStyle) -> String {
    let flap = piece.scores.last().map(|score| piece.size.height - score.at).unwrap_or_default();
    format!(
        "cut it to the shape that is drawn; slide it into the made-up envelope, its scored side against the front, its score line on \
         that of the open top flap; glue it to the flap only ({})",
        style.with_unit(flap)
    )
}

fn layer_words(piece: &Piece, lines: &NamedLines, style: LengthStyle) -> String {
    let place = layer_place(piece, lines);
    match margins(piece, lines, style) {
        Some((side, top)) if side == top => {
            format!("glue {place}, {} from every edge", style.with_unit(side))
        }
        Some((side, top)) => format!(
            "glue {place}, {} from the left and right edges, {} from top and bottom",
            style.with_unit(side),
            style.with_unit(top)
        ),
        None => format!("glue {place}, in the middle"),
    }
}

/// What a layer is glued to; where that differs between the lines that share it, of each.
fn layer_place(piece: &Piece, lines: &NamedLines) -> String {
    let mut places: Vec<(String, Vec<String>)> = Vec::new();
    for share in &piece.shares {
        let Some(line) = lines.get(share.line.as_str()) else { continue };
        let place = place_on(piece.part, line);
        match places.iter_mut().find(|(known, _)| *known == place) {
            Some((_, names)) => names.push(share.line.clone()),
            None => places.push((place, vec![share.line.clone()])),
        }
    }
    match places.as_slice() {
        [(place, _)] => place.clone(),
        _ => {
            let of_lines = |(place, names): &(String, Vec<String>)| {
                format!("{} {}", listed(names), place.trim_start_matches("it "))
            };
            let each: Vec<String> = places.iter().map(of_lines).collect();
            format!("it where its line says: {}", each.join("; "))
        }
    }
}

/// What a layer of one line is glued to.
fn place_on(part: Part, line: &OrderLine) -> String {
    let kind = line.liner.as_ref().map(|liner| liner.kind);
    match (part, line.fold, kind) {
        (Part::Liner, _, Some(LinerKind::PanelOf(panel))) => {
            format!("it inside the card, on panel {panel}, counted from the inside of the front")
        }
        (Part::Liner, Fold::SIDE, _) => "it inside the card, on the right half".to_owned(),
        (Part::Liner, Fold::TOP, _) => "it inside the card, on the lower half".to_owned(),
        (Part::Liner, Fold::FLAT, _) => "it on the back of the card".to_owned(),
        (Part::Liner, ..) => "it inside the card, on the middle panel".to_owned(),
        (_, fold, _) if fold.style == FoldStyle::Gate => "one on each half of the front".to_owned(),
        _ => "it on the front".to_owned(),
    }
}

/// What shows of the card at its sides and at top and bottom, where that is the same for all lines
/// that share the piece.
fn margins(piece: &Piece, lines: &NamedLines, style: LengthStyle) -> Option<(Length, Length)> {
    let face = |line: &&OrderLine| match piece.part {
        Part::Mat => mat_face(line.card.value, line.fold, style),
        _ => line.card.value,
    };
    let card = |line: &str| lines.get(line).map(face);
    let mut cards = piece.shares.iter().map(|share| card(&share.line));
    let card = cards.next()??;
    let same = cards.all(|other| other == Some(card));
    let side = half(card.width - piece.size.width)?;
    let top = half(card.height - piece.size.height)?;
    same.then_some((side, top))
}

fn half(length: Length) -> Option<Length> {
    let ticks = length.ticks();
    (ticks >= 0 && ticks % 2 == 0).then_some(Length::from_ticks(ticks / 2))
}

/// Every envelope that is cut.
pub(super) fn envelopes(cuts: &[CutPiece<'_>], workshop: &Workshop) -> Vec<PieceStep> {
    let blanks = cuts.iter().filter(|cut| cut.piece.part == Part::Envelope);
    let words = |piece: &Piece| {
        match workshop.envelope.kind {
        EnvelopeKind::Wrap => wrap_words(piece, workshop.style()),
        EnvelopeKind::Diagonal => {
            "cut out the small notches where two flaps meet at an edge; turn it over, the inside up; fold the left \
             and right flaps in; fold the bottom flap over, glue it to them and let it dry; crease the top flap, and open it again"
                .to_owned()
        }
    }
    };
    blanks.map(|cut| step(cut, words(cut.piece), workshop.rates.envelope)).collect()
}

/// Corners out, side flaps in, bottom flap, top flap: a flap that is glued lies on flaps that
/// are folded already (common practice, no source).
fn wrap_words(piece: &Piece, style: LengthStyle) -> String {
    let depth = |axis: Axis, from_end: bool| {
        let mut scores = piece.scores.iter().filter(|score| score.across == axis);
        let score = if from_end { scores.next_back() } else { scores.next() };
        let at =
            score.map(|score| if from_end { piece.size.along(axis) - score.at } else { score.at });
        at.map(|at| format!(" ({})", style.with_unit(at))).unwrap_or_default()
    };
    format!(
        "cut out the four corners along the score lines, each flap a little narrower towards its edge; turn it over, \
         the inside up; fold the side flaps{} in; fold the bottom flap{} over, glue it to them and let it dry; crease the top \
         flap{}, and open it again",
        depth(Axis::Width, false),
        depth(Axis::Height, false),
        depth(Axis::Height, true)
    )
}

/// Every box that is cut.
pub(super) fn boxes(cuts: &[CutPiece<'_>], workshop: &Workshop) -> Vec<PieceStep> {
    let blanks = cuts.iter().filter(|cut| cut.piece.part == Part::Box);
    let words = |cut: &CutPiece| box_words(cut.piece, workshop.style());
    blanks.map(|cut| step(cut, words(cut), workshop.rates.gift_box)).collect()
}

fn box_words(piece: &Piece, style: LengthStyle) -> String {
    let walls = piece.scores.first().map(|score| score.at).unwrap_or_default();
    format!(
        "cut away the strips beside the lid and its flap, the flap a little narrower towards its edge; slit the four corners in line with the score lines \
         of the front and back walls, so that each becomes a tab of that wall; turn it over, the inside up; fold all walls ({}) up; \
         glue the tabs inside the side walls, and hold or clip them till the glue is dry; crease the lid and its flap, and leave it open",
        style.with_unit(walls)
    )
}

/// What is done with all pieces of a kind, so many `seconds` with each.
fn step(cut: &CutPiece<'_>, what: String, seconds: u64) -> PieceStep {
    let CutPiece { piece, count, .. } = *cut;
    PieceStep {
        piece: piece.id.clone(),
        part: piece.part,
        size: piece.size,
        count,
        what,
        seconds: seconds * count,
    }
}
