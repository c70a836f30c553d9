//! How often a stack is fetched, turned or put aside.

use super::{CutStep, Fate};

/// For each of the steps, which follow each other: the stack is fetched where the step before did not leave it in the
/// hand, else turned where it is cut the other way; and what it leaves is put aside but for what is cut next.
pub(super) fn moves(steps: &[&CutStep]) -> Vec<u64> {
    let of = |(at, step): (usize, &&CutStep)| {
        let before = at.checked_sub(1).map(|before| steps[before]);
        let in_hand = before.filter(|before| stacks(before).any(|left| *left == step.from.letter));
        let fetched = in_hand.is_none_or(|before| before.across != step.across);
        let next = steps.get(at + 1).map(|next| &next.from.letter);
        u64::from(fetched) + stacks(step).filter(|left| Some(*left) != next).count() as u64
    };
    steps.iter().enumerate().map(of).collect()
}

/// The letters of the stacks that a step leaves.
fn stacks(step: &CutStep) -> impl Iterator<Item = &String> {
    step.yields.iter().filter_map(|part| match &part.what {
        Fate::Stack(letter) => Some(letter),
        Fate::Piece(..) | Fate::Offcut(_) | Fate::Waste => None,
    })
}

#[cfg(test)]
mod tests {
    use super::super::{Edge, Stack, Yield};
    use super::*;
    use crate::measure::{Axis, Length, Size};

    fn step(from: &str, across: Axis, leaves: &[&str]) -> CutStep {
        let size = Size::new(Length::from_mm(50), Length::from_mm(50));
        let left =
            |letter: &&str| Yield { what: Fate::Stack((*letter).to_owned()), size, count: 1 };
        CutStep {
            number: 0,
            squaring: false,
            from: Stack { letter: from.to_owned(), size, count: 1 },
            across,
            fence: Edge::start(across),
            side_lay: None,
            gauge: Length::from_mm(20),
            new_setting: true,
            off_graduation: false,
            cuts_per_lift: 1,
            lifts: 1,
            short_lift: None,
            moves: 0,
            yields: leaves.iter().map(left).collect(),
            beyond: None,
            lines: Vec::new(),
        }
    }

    #[test]
    fn a_stack_is_fetched_turned_and_put_aside() {
        use Axis::{Height, Width};
        let steps = [
            step("A", Width, &["B", "C"]), // fetched, one stack put aside
            step("B", Width, &["D"]),      // in the hand
            step("D", Height, &[]),        // turned
            step("C", Width, &["E"]),      // fetched
            step("F", Width, &[]),         // fetched, but E was put aside before
        ];
        assert_eq!(moves(&steps.each_ref()), [2, 0, 1, 2, 1]);
    }
}
