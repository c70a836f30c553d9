//! What is not cut yet, and how it is to be cut.

use super::{Replay, WaitingStack};
use crate::cuts::Layout;
use crate::measure::{Length, Size};
use crate::schedule::{Fate, Yield};

/// Gives a piece of this id its index; `None` where it has none.
pub type Indexed<'a> = &'a dyn Fn(&str) -> Option<usize>;

/// Sheets that are not begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UncutSheets {
    /// The sheet's id.
    pub sheet: String,
    /// The run they belong to; `None` of a stack.
    pub run: Option<String>,
    /// How its true part is to be cut.
    pub layout: Layout,
    /// How many.
    pub count: u64,
}

impl Replay<'_> {
    /// How the plates of a waiting stack are to be cut, within their true edges: pieces by the index that `index` gives
    /// them; what has none is left uncut. `None` where that cannot be said.
    pub fn layout(&self, stack: &WaitingStack, index: Indexed) -> Option<Layout> {
        let whole = self.uncut_layout(&stack.letter, stack.size, index);
        whole.clipped(stack.inner, self.trimmer.blade)
    }

    /// The sheets that no cut was made in, by run, and how the true part of each is to be cut.
    pub fn uncut(&self, index: Indexed) -> Vec<UncutSheets> {
        let mut all = Vec::new();
        for run in self.runs {
            let (layout, count, inner) = match run.cuts.first() {
                Some(first) => {
                    let letter = first.from.letter.as_str();
                    let Some(lying) = self.stacks.get(letter) else { continue };
                    let inner = self.told(letter, lying).inner;
                    (self.uncut_layout(letter, lying.size, index), lying.count, inner)
                }
                None if self.is_ended => continue,
                None => {
                    let Some(place) = run.places.first() else { continue };
                    (leaf(&place.what, run.size, index), run.sheets, run.size)
                }
            };
            let layout = layout.clipped(inner, self.trimmer.blade);
            let (sheet, run) = (run.sheet.clone(), Some(run.run.clone()));
            all.extend(layout.map(|layout| UncutSheets { sheet, run, layout, count }));
        }
        all.retain(|uncut| uncut.count > 0);
        all
    }

    /// The cuts of a stack's plates and of all that comes from them, squaring left out.
    fn uncut_layout(&self, letter: &str, size: Size, index: Indexed) -> Layout {
        let Some(step) = self.step_of(letter) else { return Layout::remnant(size) };
        let part = |part: &Yield| match &part.what {
            Fate::Stack(next) => self.uncut_layout(next, part.size, index),
            what => leaf(what, part.size, index),
        };
        if step.squaring {
            let kept = step.yields.iter().find(|part| part.what != Fate::Waste);
            return kept.map_or(Layout::remnant(size), part);
        }
        let (axis, blade) = (step.across, self.trimmer.blade);
        let (rest, strips): (Vec<_>, Vec<_>) =
            step.yields.iter().enumerate().partition(|(at, _)| step.beyond == Some(*at));
        let mut parts: Vec<Layout> = Vec::new();
        for (_, one) in strips.into_iter().chain(rest) {
            let layout = part(one);
            parts.extend((0..step.per_plate(one)).map(|_| layout.clone()));
        }
        if parts.len() as u64 == step.cuts_per_lift {
            let taken = (step.gauge + blade) * step.cuts_per_lift as i64;
            let left = (size.along(axis) - taken).max(Length::ZERO);
            parts.push(Layout::remnant(size.with(axis, left)));
        }
        Layout::in_strips(size, axis, &parts, blade)
    }
}

fn leaf(what: &Fate, size: Size, index: Indexed) -> Layout {
    match what {
        Fate::Piece(id, turned) => {
            index(id).map_or(Layout::remnant(size), |shape| Layout::piece(size, shape, *turned))
        }
        Fate::Stack(_) | Fate::Offcut(_) | Fate::Waste => Layout::remnant(size),
    }
}
