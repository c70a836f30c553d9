//! A stack as it lies at the trimmer, seen from where the person stands: the fence is at the back, the knife cuts in
//! front of it.

use crate::measure::{Length, Size};
use crate::reports::Batch;
use crate::reports::report::{Step, YieldKind, YieldRow};
use crate::reports::steps;
use crate::schedule::{CutStep, Edge, Fate, Yield};

/// A stack at the fence. Lengths are measured from the fence, and along it from the left.
#[derive(Clone, Debug, PartialEq)]
pub struct FenceView {
    /// Width along the fence, height away from it.
    pub size: Size,
    /// Quarter turns to the right, from how the sheet is drawn to how it lies.
    pub turns: u8,
    /// The edge against the fence, as the sheet is drawn.
    pub fence: &'static str,
    /// What lies against the side lay, where that matters.
    pub side: Option<SideView>,
    /// Where the knife cuts; after each cut the stack is pushed to the fence again.
    pub cuts: Vec<Length>,
    /// What the stack becomes, from the fence on.
    pub parts: Vec<LyingPart>,
}

/// Which side of the trimmer guides the stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SideView {
    /// Whether the side lay is on the left.
    pub on_left: bool,
    /// The edge of the sheet, as it is drawn.
    pub edge: &'static str,
}

/// Equal strips beside each other, or what lies beyond the knife at the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LyingPart {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Plates side by side.
    pub count: u64,
    /// Whether it comes off; what stays is cut on, or is what the squaring is for.
    pub comes_off: bool,
    /// Stack, piece, strip for the drawer, or waste.
    pub kind: YieldKind,
    /// Tint and hatch of its order line.
    pub fill: Option<usize>,
    /// What it is, and where it goes.
    pub words: Vec<String>,
}

/// The edges in the order in which a turn to the right brings them to the top, backwards.
const ROUND: [Edge; 4] = [Edge::Top, Edge::Right, Edge::Bottom, Edge::Left];

fn place(edge: Edge) -> u8 {
    ROUND.iter().position(|known| *known == edge).unwrap_or_default() as u8
}

/// How a stack lies for a cut; `step` is its row.
pub fn view(batch: &Batch, cut: &CutStep, step: &Step) -> FenceView {
    let away = cut.fence.axis();
    let size = Size::new(cut.from.size.along(away.other()), cut.from.size.along(away));
    let turns = (4 - place(cut.fence)) % 4;
    let side = cut.side_lay.zip(step.side_lay).map(|(edge, name)| SideView {
        on_left: (place(edge) + turns) % 4 == place(Edge::Left),
        edge: name,
    });
    let blade = batch.made.job.workshop.trimmer.blade;
    let cuts = (0..cut.cuts_per_lift as i64)
        .map(|number| cut.gauge * (number + 1) + blade * number)
        .take_while(|at| *at < size.height)
        .collect();
    FenceView { size, turns, fence: step.fence, side, cuts, parts: parts(batch, cut, step) }
}

fn parts(batch: &Batch, cut: &CutStep, step: &Step) -> Vec<LyingPart> {
    let (blade, end) =
        (batch.made.job.workshop.trimmer.blade, cut.from.size.along(cut.fence.axis()));
    let mut from = Length::ZERO;
    let mut parts = Vec::new();
    let rows = cut.yields.iter().zip(&step.yields).enumerate();
    for (at, (part, row)) in rows.clone() {
        let beyond = u64::from(cut.beyond == Some(at));
        let count = cut.per_plate(part).saturating_sub(beyond);
        if count == 0 {
            continue;
        }
        let strips = count as i64;
        let to = (from + cut.gauge * strips + blade * (strips - 1)).min(end);
        parts.push(LyingPart {
            from,
            to,
            ..lying(batch, Coming { part, row }, count, !cut.squaring)
        });
        from = to + blade;
    }
    let beyond = rows.filter(|(at, _)| cut.beyond == Some(*at) && from < end);
    parts.extend(beyond.map(|(_, (part, row))| LyingPart {
        from,
        to: end,
        ..lying(batch, Coming { part, row }, 1, cut.squaring)
    }));
    parts
}

/// What comes out, as the schedule and as its row say it.
struct Coming<'a> {
    part: &'a Yield,
    row: &'a YieldRow,
}

fn lying(batch: &Batch, Coming { part, row }: Coming, count: u64, comes_off: bool) -> LyingPart {
    let fill = match &part.what {
        Fate::Piece(id, _) => Some(steps::fill(batch, id)),
        Fate::Stack(_) | Fate::Offcut(_) | Fate::Waste => None,
    };
    let name = match row.kind {
        YieldKind::Stack => format!("stack {}", row.name),
        YieldKind::Piece | YieldKind::Drawer => row.name.clone(),
        YieldKind::Waste => "waste".to_owned(),
    };
    let name = match (count, row.kind) {
        (1, _) => name,
        (_, YieldKind::Stack) => format!("{name}: {count} strips"),
        _ => format!("{count} × {name}"),
    };
    let next = (!row.next.is_empty()).then(|| format!("to {}", row.next));
    let words = [Some(name), next].into_iter().flatten().collect();
    let (from, to) = (Length::ZERO, Length::ZERO);
    LyingPart { from, to, count, comes_off, kind: row.kind, fill, words }
}
