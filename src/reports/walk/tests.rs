use super::*;
use crate::made::Made;
use crate::measure::{Axis, Length, Size};
use crate::pieces::Part;
use crate::reports::fixture::{self, inch};
use crate::reports::report::{Report, YieldKind};
use crate::schedule::{Edge, Fate};

fn walked(made: &Made) -> Vec<WalkStop> {
    Report::of(&made.batch()).unwrap().walk
}

fn cuts(made: &Made) -> Vec<CutStop> {
    let stops = walked(made).into_iter();
    let cut = |stop: WalkStop| match stop.task {
        Doing::Cut(cut) => Some(*cut),
        Doing::Section(_) | Doing::Work(_) | Doing::Finish => None,
    };
    stops.filter_map(cut).collect()
}

fn work(made: &Made) -> Vec<WorkStop> {
    let stops = walked(made).into_iter();
    let work = |stop: WalkStop| match stop.task {
        Doing::Work(work) => Some(*work),
        Doing::Section(_) | Doing::Cut(_) | Doing::Finish => None,
    };
    stops.filter_map(work).collect()
}

#[test]
fn the_stops_go_through_the_whole_work_in_order() {
    let made = fixture::fair();
    let mut places: Vec<String> = walked(&made)
        .into_iter()
        .map(|stop| stop.place.split(':').next().unwrap().to_owned())
        .collect();
    places.dedup();
    let stages = ["Score", "Fold", "Make the envelopes", "Glue", "Pack", "Put away", "Finished"];
    let expected = [&["Before you cut", "Cut", "Count"][..], &stages].concat();
    assert_eq!(places, expected);
    let steps: Vec<u32> = cuts(&made).iter().map(|cut| cut.step.number).collect();
    let numbers: Vec<u32> = made.schedule.in_order().iter().map(|(_, step)| step.number).collect();
    assert_eq!(steps, numbers);
}

#[test]
fn nothing_to_buy_and_nothing_to_keep_are_no_stops() {
    let sections = |made: &Made| -> Vec<&'static str> {
        let stops = walked(made).into_iter();
        let section = |stop: WalkStop| match stop.task {
            Doing::Section(id) => Some(id),
            Doing::Cut(_) | Doing::Work(_) | Doing::Finish => None,
        };
        stops.filter_map(section).collect()
    };
    assert_eq!(sections(&fixture::fair()), ["care", "buy", "fetch", "how", "count", "drawer"]);
    let mut made = fixture::lesson();
    made.plan.offcuts.clear();
    assert_eq!(sections(&made), ["care", "fetch", "how", "count"]);
}

/// At the first stop, that is the time of the whole batch, stage by stage.
#[test]
fn the_time_left_is_that_of_the_timetable() {
    let mut made = fixture::fair();
    made.schedule = crate::schedule::schedule(&made.plan, &made.job);
    let stops = walked(&made);
    assert_eq!(stops[0].left, duration(made.schedule.times.total()));
    let packing = stops.iter().find(|stop| stop.place.starts_with("Pack")).unwrap();
    assert_eq!(packing.left, duration(made.schedule.times.packing));
    assert_eq!(stops.last().unwrap().left, "");
}

/// Every part is in its place, and all of them and the blade are the whole stack.
#[test]
fn parts_lie_side_by_side_from_the_fence_on() {
    for made in [fixture::lesson(), fixture::fair()] {
        let mut made = made;
        made.schedule = crate::schedule::schedule(&made.plan, &made.job);
        for cut in cuts(&made) {
            let view = &cut.view;
            let ends = view.parts.iter().map(|part| part.to);
            let begins = view.parts.iter().map(|part| part.from).skip(1);
            let ends: Vec<Length> = ends.collect();
            assert_eq!(ends[..ends.len() - 1], begins.collect::<Vec<_>>()[..]);
            assert_eq!(ends.last(), Some(&view.size.height));
            assert_eq!(view.cuts.len() as u64, cut.step.cuts);
            let last = view.parts.last().unwrap();
            assert!(view.parts.iter().all(|part| part.comes_off != (part == last)));
        }
    }
}

/// The sheet is drawn 12 x 9 in; against the fence lies its left, top, right or bottom edge.
#[test]
fn a_stack_is_turned_so_that_the_fence_is_at_the_back() {
    let lying = |fence: Edge, side: Edge| {
        let mut made = fixture::lesson();
        let cut = &mut made.schedule.runs[0].cuts[0];
        cut.from.size = fixture::size("12 x 9");
        (cut.fence, cut.across, cut.side_lay) = (fence, fence.axis(), Some(side));
        let view = cuts(&made).remove(0).view;
        (view.turns, view.size, view.side.unwrap().on_left)
    };
    let (upright, turned) = (fixture::size("12 x 9"), fixture::size("9 x 12"));
    assert_eq!(lying(Edge::Top, Edge::Left), (0, upright, true));
    assert_eq!(lying(Edge::Left, Edge::Bottom), (1, turned, true));
    assert_eq!(lying(Edge::Left, Edge::Top), (1, turned, false));
    assert_eq!(lying(Edge::Bottom, Edge::Right), (2, upright, true));
    assert_eq!(lying(Edge::Right, Edge::Top), (3, turned, true));
}

/// What squaring is for stays at the fence; the rough edge in front comes off.
#[test]
fn squaring_takes_off_what_is_beyond_the_knife() {
    let mut made = fixture::lesson();
    let cut = &mut made.schedule.runs[0].cuts[0];
    let size = cut.from.size;
    let rest = size.along(cut.across) - inch("1/4");
    cut.squaring = true;
    (cut.gauge, cut.cuts_per_lift, cut.beyond) = (rest, 1, Some(1));
    let count = cut.from.count;
    let yielded = |what: Fate, along: Length| crate::schedule::Yield {
        what,
        size: size.with(cut.across, along),
        count,
    };
    let kept = yielded(Fate::Stack("B".to_owned()), rest);
    cut.yields = vec![kept, yielded(Fate::Waste, inch("1/4"))];
    let view = cuts(&made).remove(0).view;
    let parts: Vec<(YieldKind, bool)> =
        view.parts.iter().map(|part| (part.kind, part.comes_off)).collect();
    assert_eq!(parts, [(YieldKind::Stack, false), (YieldKind::Waste, true)]);
    assert_eq!(view.cuts, [rest]);
}

/// The same boxes as those of the whole page.
#[test]
fn work_ticks_the_boxes_of_the_schedule() {
    let ticks: Vec<String> = work(&fixture::fair()).into_iter().map(|it| it.tick).collect();
    let expected = [
        "score-1-1",
        "score-2-1",
        "score-3-1",
        "fold-1",
        "fold-2",
        "make-the-envelopes-1",
        "glue-1",
        "pack-1",
        "pack-2",
    ];
    assert_eq!(ticks, expected);
}

#[test]
fn a_layer_lies_on_its_card_and_a_set_has_all_its_pieces() {
    let mut made = fixture::fair();
    let mut pieces = made.job.bill.pieces.iter_mut();
    pieces.find(|piece| piece.part == Part::Liner).unwrap().size = fixture::size("4 1/2 x 6 1/2");
    let all = work(&made);
    let glued = all.iter().find(|it| it.tick == "glue-1").unwrap();
    assert!(glued.panels[0].host.as_ref().unwrap().size.width >= glued.panels[0].size.width);
    let packed = all.iter().find(|it| it.tick == "pack-1").unwrap();
    let names: Vec<&str> = packed.panels.iter().map(|panel| panel.name.as_str()).collect();
    let pieces = made.job.bill.pieces.iter();
    let own = pieces.filter(|piece| piece.shares.iter().any(|share| share.line == "invite"));
    assert_eq!(names, own.map(|piece| piece.part.name()).collect::<Vec<_>>());
    assert!(names.contains(&Part::Envelope.name()));
}

#[test]
fn what_is_done_one_after_the_other_is_numbered() {
    let made = fixture::fair();
    let envelopes = work(&made).into_iter().find(|it| it.tick == "make-the-envelopes-1").unwrap();
    assert_eq!(envelopes.steps.len(), 2);
    assert_eq!(envelopes.steps[0], "fold the side flaps in");
    let scored = work(&made).remove(0);
    assert!(scored.is_scored && scored.steps == ["5 in from the left"]);
    assert_eq!(scored.panels[0].lines[0].across, Axis::Width);
    assert_eq!(scored.panels[0].size, Size::new(inch("10"), inch("7")));
}

/// Nobody walks through hundreds of lines: their list is one stop, with all of its time.
#[test]
fn very_many_lines_are_packed_by_their_list() {
    let mut made = fixture::fair();
    made.schedule = crate::schedule::schedule(&made.plan, &made.job);
    let one = made.schedule.packing[0].clone();
    made.schedule.packing = vec![one; 101];
    let stops = walked(&made);
    let packing: Vec<&WalkStop> =
        stops.iter().filter(|stop| stop.place.starts_with("Pack")).collect();
    assert_eq!(packing.len(), 1);
    assert_eq!(packing[0].task, Doing::Section("pack"));
    let sets = made.schedule.packing.iter().map(|step| step.count).sum::<u64>();
    assert_eq!(packing[0].left, duration(sets * made.job.workshop.rates.pack));
}
