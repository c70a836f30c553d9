//! Whatever is ordered, planning ends: counted in steps, not in seconds.

use crate::bench::hostile::{Hostile, PLAIN};
use cardwright::batch::Watch;
use cardwright::batch::{self, Effort, Options, Outcome};

/// Orders of every kind that takes long, small enough for a test.
const HOSTILE: [Hostile; 8] = [
    PLAIN,
    Hostile { name: "joined", papers: 3, joined: true, offcuts: 12, ..PLAIN },
    Hostile { name: "narrow", narrow: true, offcuts: 12, ..PLAIN },
    Hostile { name: "stages", trimmer: "stages = 2\n", offcuts: 12, ..PLAIN },
    Hostile { name: "hold", narrow: true, trimmer: "smallest_hold = \"30 mm\"\n", ..PLAIN },
    Hostile { name: "blade", trimmer: "blade = \"1.337 mm\"\n", offcuts: 12, ..PLAIN },
    Hostile { name: "layers", lines: 9, papers: 2, layers: true, offcuts: 12, ..PLAIN },
    Hostile { name: "coarse", coarse: true, offcuts: 0, ..PLAIN },
];

/// Steps that planning in haste may take: those of its effort, several times, in each of which something is begun that
/// may take as long as a look at all sheets.
const MOST_STEPS: u64 = 6_000_000_000;

fn planned(order: &Hostile, options: Options, watch: Watch) -> Outcome {
    let outcome = batch::plan_watched(&order.inputs(), &options, watch);
    assert_eq!(outcome.faults, Vec::<String>::new(), "{}", order.name);
    assert!(outcome.made.is_some(), "{}: {:?}", order.name, outcome.problems);
    outcome
}

const QUICK: Options = Options {
    limit: None,
    effort: Effort::Quick,
    threads: Some(1),
    engine: cardwright::batch::Engine::Microlp,
    if_short: cardwright::batch::IfShort::GiveUp,
};

/// A small one of them.
#[test]
fn a_quick_plan_ends_after_a_number_of_steps() {
    ends_quickly(&Hostile { name: "small", lines: 8, offcuts: 8, ..PLAIN });
}

#[test]
#[ignore = "takes minutes where the program is not optimised"]
fn quick_plans_end_after_a_number_of_steps() {
    HOSTILE.iter().for_each(ends_quickly);
}

fn ends_quickly(order: &Hostile) {
    let made = planned(order, QUICK, Watch::NOBODY).searched;
    assert!(made.work < MOST_STEPS, "{}: {} steps", order.name, made.work);
    assert!(made.cells <= 2_000_000, "{}: {} cells", order.name, made.cells);
}

/// Called off before it began: the plan is made up at once, and judged as any other.
#[test]
fn what_is_called_off_is_a_plan_all_the_same() {
    let options = Options { effort: Effort::Long, ..QUICK };
    let watch = Watch { stop: &|| true, ..Watch::NOBODY };
    for order in &HOSTILE {
        let Outcome { made, searched, .. } = planned(order, options, watch);
        let looked = searched.work;
        assert!(looked < 200_000_000, "{}: {looked} steps after it was called off", order.name);
        assert!(searched.cells <= 8_000_000, "{}: {} cells", order.name, searched.cells);
        let proofs = made.unwrap().plan.proof;
        assert!(proofs.iter().any(|proof| proof.stock.value > proof.stock.bound), "{}", order.name);
    }
}
