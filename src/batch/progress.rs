//! How far the planning of a batch is, for a person who waits. Nothing that is planned hangs on it.

use crate::measure::{Currency, Money};
use crate::program::{Known, Stop};
use crate::stock::Units;
use std::sync::Mutex;

/// How far a batch is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Groups of papers, each planned for itself.
    pub groups: usize,
    /// Groups that are done.
    pub done: usize,
    /// What the best plan so far spends, and what every plan spends at least; `None` until each group has
    /// a plan.
    pub spend: Option<(Money, Money)>,
    /// The currency of both.
    pub currency: Currency,
}

/// A person who waits.
#[derive(Clone, Copy)]
pub struct Watch<'a> {
    /// Told of each change, by any thread.
    pub tell: &'a (dyn Fn(&Progress) + Sync),
    /// Whether they have waited long enough.
    pub stop: Stop<'a>,
}

impl Watch<'_> {
    /// Nobody watches, and nobody calls it off.
    pub const NOBODY: Watch<'static> = Watch { tell: &|_| (), stop: &|| false };
}

/// What is known of each group.
pub(crate) struct Board<'a> {
    groups: Mutex<Vec<Standing>>,
    currency: Currency,
    tell: &'a (dyn Fn(&Progress) + Sync),
}

#[derive(Clone, Copy, Default)]
struct Standing {
    spend: Option<(Money, Money)>,
    done: bool,
}

impl<'a> Board<'a> {
    /// For so many groups.
    pub fn new(groups: usize, currency: Currency, watch: Watch<'a>) -> Board<'a> {
        Board { groups: Mutex::new(vec![Standing::default(); groups]), currency, tell: watch.tell }
    }

    /// What is known of the spending of a group, in its units.
    pub fn tell(&self, group: usize, known: Known, units: &Units) {
        let spend = (units.money(known.value), units.money(known.bound));
        self.change(group, |group| group.spend = Some(spend));
    }

    /// A group is done.
    pub fn end(&self, group: usize) {
        self.change(group, |group| group.done = true);
    }

    fn change(&self, group: usize, change: impl FnOnce(&mut Standing)) {
        // A thread that broke down while it held the board left nothing worth telling.
        let Ok(mut groups) = self.groups.lock() else { return };
        change(&mut groups[group]);
        let spends: Option<Vec<(Money, Money)>> = groups.iter().map(|group| group.spend).collect();
        let sum = |part: fn(&(Money, Money)) -> Money, spends: &[(Money, Money)]| {
            let amounts = spends.iter().map(part).map(Money::minor);
            Money::from_minor(amounts.fold(0, i64::saturating_add))
        };
        let spend = spends.map(|it| (sum(|spend| spend.0, &it), sum(|spend| spend.1, &it)));
        (self.tell)(&Progress {
            groups: groups.len(),
            done: groups.iter().filter(|group| group.done).count(),
            spend,
            currency: self.currency.clone(),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spending_is_told_once_each_group_has_a_plan() {
        let told = Mutex::new(Vec::new());
        let tell = |far: &Progress| told.lock().unwrap().push((far.done, far.spend));
        let board = Board::new(2, Currency::default(), Watch { tell: &tell, ..Watch::NOBODY });
        let units = Units { price: Money::from_minor(10), ..Units::default() };
        board.tell(0, Known { value: 50, bound: 40 }, &units);
        board.end(0);
        board.tell(1, Known { value: 7, bound: 7 }, &units);
        board.tell(1, Known { value: 6, bound: 6 }, &units);
        board.end(1);
        let money = |value, bound| Some((Money::from_minor(value), Money::from_minor(bound)));
        assert_eq!(
            told.into_inner().unwrap(),
            [
                (0, None),
                (1, None),
                (1, money(570, 470)),
                (1, money(560, 460)),
                (2, money(560, 460)),
            ]
        );
    }
}
