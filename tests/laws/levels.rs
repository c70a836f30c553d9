//! Levels 3 and 4: what they gain costs nothing above them, and is what the plan says.

use crate::bench::batches::{Batch, Extent, makeable};
use crate::bench::cases;
use crate::bench::shipped;
use cardwright::batch::{self, Effort, Made, Options};
use cardwright::made::Gains;
use cardwright::measure::Money;
use proptest::prelude::*;

const SMALL: Extent =
    Extent { lines: 6, kinds: 3, most_count: 12, piece: (8, 40), sheet: (30, 90), most_blade: 2 };

fn made(batch: &Batch, effort: Effort) -> Option<Made> {
    batch.plan_with(Options { effort, ..Options::default() }).made
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn no_level_is_improved_at_the_price_of_one_above(batch in makeable(SMALL)) {
        let made = made(&batch, Effort::Normal);
        prop_assume!(made.is_some());
        let made = made.unwrap();
        let (plan, totals) = (&made.plan, &made.plan.totals);
        // What the program settled on stands in the proof.
        let spend: Money = plan.proof.iter().map(|proof| proof.spend.value).sum();
        prop_assert_eq!(totals.spend, spend);
        for proof in &plan.proof {
            let used = plan.sheets.iter().filter(|sheet| proof.papers.contains(&sheet.paper));
            let units = used.map(|sheet| sheet.value.units() * sheet.used as i64);
            prop_assert_eq!(proof.stock.value.units(), units.sum::<i64>());
        }
        let Gains { kept, settings, runs } = made.gains;
        prop_assert!(kept.0 <= kept.1, "{:?}", made.gains);
        prop_assert!(settings.0 >= settings.1, "{:?}", made.gains);
        prop_assert!(runs.0 >= runs.1, "{:?}", made.gains);
    }

    #[test]
    fn what_was_gained_is_what_the_plan_has(batch in makeable(SMALL)) {
        let made = made(&batch, Effort::Normal);
        prop_assume!(made.is_some());
        let made = made.unwrap();
        let totals = &made.plan.totals;
        let Gains { kept, settings, runs } = made.gains;
        prop_assert_eq!(kept.1, totals.kept);
        prop_assert_eq!(settings.1, made.schedule.gauge_settings);
        prop_assert_eq!(settings.1, totals.gauge_settings);
        prop_assert_eq!(runs.1, made.plan.runs.len() as u64);
    }
}

/// Two sheets of four strips with six places each, of which nothing would be kept either way; lifts of five. All of
/// them take 3 + 2 x 5 strokes; sixteen a sheet 3 + 4 + 5, since one strip has four; thirteen 3 + 1 + 5; twenty would
/// take two more than all.
#[test]
fn no_strokes_are_made_for_what_nobody_wants() {
    for (wanted, cut, strokes) in [(48, 48, 13), (40, 48, 13), (32, 32, 12), (26, 26, 9)] {
        let mut batch = Batch::plain(&[(20, 30, wanted)], &[(120, 120, 2, None)], &[]);
        batch.rules.keep = (400, 400);
        let made = made(&batch, Effort::Quick).unwrap();
        assert_eq!((made.plan.pieces[0].cut, made.schedule.strokes), (cut, strokes), "{wanted}");
        assert_eq!((made.plan.runs.len(), made.schedule.gauge_settings), (1, 2), "{wanted}");
    }
}

#[test]
fn the_wedding_gains_on_both_levels() {
    let mut inputs = shipped("orders/wedding.csv");
    // A bench with all the room that the order of cuts may take.
    let bench = inputs.workshop.as_mut().unwrap();
    let text = String::from_utf8(bench.bytes.clone()).unwrap();
    bench.bytes = text.replace("waiting = 10 ", "waiting = 100 ").into_bytes();
    let gains = batch::plan(&inputs, &Options::default()).made.unwrap().gains;
    assert!(gains.kept.0 < gains.kept.1, "{gains:?}");
    assert!(gains.settings.0 > gains.settings.1, "{gains:?}");
}
