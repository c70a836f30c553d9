//! The work after cutting, for one order of an invitation and a flat place card.

use super::super::finish::{CutPiece, by_name, finishing};
use super::super::{PieceStep, Schedule, Times};
use super::fixtures::{inch, plan, scheduled, sheet, workshop};
use crate::diagnostics::Spanned;
use crate::folds::Fold;
use crate::folds::Score;
use crate::measure::{Axis, Length, Money, Size};
use crate::orders::{
    Envelope, Extras, GiftBox, Insert, Liner, LinerKind, Mat, Order, OrderLine, Turn,
};
use crate::pieces::{Bill, Part, Piece, Share, Upright};
use crate::plan::{Plan, PlannedPiece};
use crate::stock::{Print, Sheet, Stock};
use crate::workshop::{EnvelopeKind, Finish, Workshop};

fn size(width: (i64, i64), height: (i64, i64)) -> Size {
    Size::new(inch(width.0, width.1), inch(height.0, height.1))
}

fn line(name: &str, card: Size, fold: Fold, count: u64) -> OrderLine {
    OrderLine {
        name: Spanned::nowhere(name.to_owned()),
        card: Spanned::nowhere(card),
        fold,
        count: Spanned::nowhere(count),
        papers: Spanned::nowhere(vec!["fern".to_owned(), "moss".to_owned()]),
        liner: None,
        mats: Vec::new(),
        envelope: Envelope::None,
        goes_in: None,
        with: Vec::new(),
        finish: Vec::new(),
        extras: Extras::default(),
        turn: None,
        due: None,
        note: String::new(),
    }
}

/// Ten side-fold invitations with a liner, a mat and a cut envelope; twenty flat place cards with a
/// bought one.
fn order() -> Order {
    let paper = |name: &str| Spanned::nowhere(name.to_owned());
    let mut invite = line("invite", size((11, 2), (17, 4)), Fold::SIDE, 10);
    invite.liner = Some(Liner { paper: paper("cream"), kind: LinerKind::Panel });
    invite.mats = vec![Mat { paper: paper("gold"), inset: inch(1, 8) }];
    invite.envelope = Envelope::Cut(paper("kraft"));
    let mut place = line("place", size((7, 2), (2, 1)), Fold::FLAT, 20);
    place.envelope = Envelope::Bought;
    Order { name: "test".to_owned(), lines: vec![invite, place] }
}

fn piece(id: &str, part: Part, size: Size, scores: Vec<Score>) -> Piece {
    let line = id.split('.').next().unwrap().to_owned();
    let need = if line == "invite" { 10 } else { 20 };
    Piece {
        id: id.to_owned(),
        part,
        papers: vec!["fern".to_owned()],
        size,
        turn: Some(Turn::Free),
        grain_along: None,
        scores,
        shares: vec![Share { line, need, spares: 1 }],
        done: Default::default(),
        place: None,
    }
}

fn score(across: Axis, numerator: i64, denominator: i64) -> Score {
    Score::new(across, inch(numerator, denominator))
}

fn bill() -> Bill {
    // A wrap envelope for 5 1/2 x 4 1/4 in: blank 7 3/4 x 11, side flaps 1, scores at 4 1/4 and
    // 8 5/8 (common practice, no source).
    let flaps = vec![
        score(Axis::Width, 1, 1),
        score(Axis::Width, 27, 4),
        score(Axis::Height, 17, 4),
        score(Axis::Height, 69, 8),
    ];
    Bill {
        supplies: Vec::new(),
        pieces: vec![
            piece(
                "invite.card",
                Part::Card,
                size((11, 1), (17, 4)),
                vec![score(Axis::Width, 11, 2)],
            ),
            piece("invite.liner", Part::Liner, size((5, 1), (15, 4)), vec![]),
            piece("invite.mat", Part::Mat, size((21, 4), (4, 1)), vec![]),
            piece("invite.envelope", Part::Envelope, size((31, 4), (11, 1)), flaps),
            piece("place.card", Part::Card, size((7, 2), (2, 1)), vec![]),
        ],
    }
}

/// A plan that cuts twelve pieces of each kind: of eleven that are wanted, one is too many.
fn twelve_each() -> Plan {
    let mut plan = plan(Vec::new());
    let planned = |piece: &Piece| PlannedPiece {
        id: piece.id.clone(),
        line: piece.shares[0].line.clone(),
        part: piece.part,
        papers: piece.papers.clone(),
        width: piece.size.width,
        height: piece.size.height,
        turn: Turn::Free,
        fold: piece.grain_along,
        need: piece.need(),
        spares: piece.spares(),
        done: 0,
        spoiled: 0,
        cut: 12,
        scores: piece.scores.clone(),
    };
    plan.pieces = bill().pieces.iter().map(planned).collect();
    plan
}

fn made() -> Schedule {
    scheduled(&twelve_each(), &bill(), &order(), &workshop(), &Stock::default())
}

#[test]
fn pieces_with_scores_are_scored_as_often_as_they_are_wanted() {
    let scored: Vec<_> = made()
        .scoring
        .iter()
        .map(|step| (step.piece.clone(), step.scores.len(), step.count))
        .collect();
    assert_eq!(scored, [("invite.card".to_owned(), 1, 11), ("invite.envelope".to_owned(), 4, 11)]);
}

#[test]
fn cards_fold_to_their_finished_size() {
    let folded = made().folding;
    assert_eq!(folded.len(), 1);
    assert_eq!(
        folded[0].what,
        "fold at 5 1/2 in, spine on the left, ridge of the score line inside: 5 1/2 x 4 1/4 in folded"
    );
}

#[test]
fn a_top_fold_has_its_spine_on_top() {
    let mut bill = bill();
    bill.pieces[0] =
        piece("invite.card", Part::Card, size((11, 2), (17, 2)), vec![score(Axis::Height, 17, 4)]);
    let made = scheduled(&twelve_each(), &bill, &order(), &workshop(), &Stock::default());
    assert_eq!(
        made.folding[0].what,
        "fold at 4 1/4 in, spine on top, ridge of the score line inside: 5 1/2 x 4 1/4 in folded"
    );
}

#[test]
fn layers_are_stuck_with_their_margins() {
    let stuck: Vec<String> = made().sticking.into_iter().map(|step| step.what).collect();
    assert_eq!(
        stuck,
        [
            "glue it inside the card, on the right half, 1/4 in from every edge",
            "glue it on the front, 1/8 in from every edge"
        ]
    );
}

#[test]
fn a_layer_for_two_sizes_of_cards_goes_in_the_middle() {
    let mut bill = bill();
    bill.pieces[2].shares.push(Share { line: "place".to_owned(), need: 20, spares: 1 });
    let made = scheduled(&twelve_each(), &bill, &order(), &workshop(), &Stock::default());
    assert_eq!(made.sticking[1].what, "glue it on the front, in the middle");
}

/// What is stuck on the front, for a mat of this size on a card of 5 1/2 x 4 1/4 in.
fn mat_words(size: Size, turn: Option<Turn>, stock: &Stock) -> String {
    let mut bill = bill();
    (bill.pieces[2].size, bill.pieces[2].turn) = (size, turn);
    scheduled(&twelve_each(), &bill, &order(), &workshop(), stock).sticking[1].what.clone()
}

#[test]
fn margins_are_told_where_they_can_be_measured() {
    let words = |size| mat_words(size, Some(Turn::Free), &Stock::default());
    assert_eq!(
        words(size((21, 4), (15, 4))),
        "glue it on the front, 1/8 in from the left and right edges, 1/4 in from top and bottom"
    );
    let tick = Length::from_ticks(1);
    let middle = "glue it on the front, in the middle";
    assert_eq!(words(size((6, 1), (5, 1))), middle, "larger than the card");
    let mut odd = size((21, 4), (4, 1));
    odd.width -= tick;
    assert_eq!(words(odd), middle, "no half of a tick");
}

#[test]
fn a_design_with_an_up_is_stuck_upright() {
    let print = |print| Stock::of_sheets(vec![Sheet { print, ..sheet("fern") }]);
    let words = |stock: &Stock| mat_words(size((21, 4), (4, 1)), None, stock);
    let plain = "glue it on the front, 1/8 in from every edge";
    assert_eq!(words(&print(Print::TwoWay)), plain);
    assert_eq!(words(&print(Print::OneWay)), format!("{plain}, design upright"));
}

#[test]
fn no_more_is_worked_on_than_is_cut() {
    let mut plan = twelve_each();
    plan.pieces[3].cut = 5;
    let made = scheduled(&plan, &bill(), &order(), &workshop(), &Stock::default());
    assert_eq!((made.envelopes[0].count, made.folding[0].count), (5, 11));
}

#[test]
fn envelopes_are_made_up_in_the_order_of_work() {
    let envelopes = made().envelopes;
    assert_eq!((envelopes.len(), envelopes[0].count), (1, 11));
    assert_eq!(
        envelopes[0].what,
        "cut out the four corners along the score lines, each flap a little narrower towards its edge; turn it over, \
         the inside up; fold the side flaps (1 in) in; fold the bottom flap (4 1/4 in) over, glue it to them and let it dry; \
         crease the top flap (2 3/8 in), and open it again"
    );
}

#[test]
fn a_square_blank_is_folded_from_its_corners() {
    let mut workshop = workshop();
    workshop.envelope.kind = EnvelopeKind::Diagonal;
    let made = scheduled(&twelve_each(), &bill(), &order(), &workshop, &Stock::default());
    assert!(made.envelopes[0].what.starts_with("cut out the small notches"));
}

#[test]
fn packing_lists_what_a_set_holds() {
    let packed = made().packing;
    let sets: Vec<_> = packed.iter().map(|step| (step.line.as_str(), step.count)).collect();
    assert_eq!(sets, [("invite", 10), ("place", 20)]);
    assert_eq!(
        packed[0].contents,
        [
            "card 5 1/2 x 4 1/4 in, side fold, fern or moss",
            "liner inside, cream",
            "mat on the front, gold",
            "envelope, cut from kraft"
        ]
    );
    assert_eq!(
        packed[1].contents,
        ["card 3 1/2 x 2 in, flat, fern or moss", "envelope, bought: US A1, 5 1/8 x 3 5/8 in"]
    );
}

#[test]
fn sets_go_into_boxes() {
    let last = |holds: u64| {
        let mut order = order();
        let paper = Spanned::nowhere("board".to_owned());
        order.lines[1].extras.gift_box = Some(GiftBox { paper, holds });
        let made = scheduled(&twelve_each(), &bill(), &order, &workshop(), &Stock::default());
        let packed = &made.packing[1];
        [packed.contents.last(), packed.tasks.last()].map(|said| said.cloned().unwrap())
    };
    assert_eq!(
        last(1),
        [
            "a box for each, cut from board",
            "put each set in its box, and tuck the flap of the lid inside the front wall"
        ]
    );
    let [holds, task] = last(8);
    assert_eq!(holds, "3 boxes, cut from board, 8 sets to a box");
    assert_eq!(
        task,
        "put 8 sets in each of 3 boxes, and tuck the flap of the lid inside the front wall"
    );
    assert_eq!(
        last(20)[1],
        "put all sets in the box, and tuck the flap of the lid inside the front wall"
    );
}

#[test]
fn a_set_is_put_together_from_the_inside_out() {
    let tasks = |change: fn(&mut Order)| {
        let mut order = order();
        change(&mut order);
        let made = scheduled(&twelve_each(), &bill(), &order, &workshop(), &Stock::default());
        made.packing[1].tasks.clone()
    };
    assert_eq!(
        tasks(|_| ()),
        ["put each card in its envelope, and fold the flap down without sealing it"]
    );
    let insert = |order: &mut Order| {
        let paper = Spanned::nowhere("cream".to_owned());
        order.lines[1].extras.insert = Some(Insert { paper, size: None });
    };
    let [laid, put] = [
        "lay an insert with each card",
        "put each card in its envelope, and fold the flap down without sealing it",
    ];
    assert_eq!(tasks(insert), [laid, put]);
    assert_eq!(tasks(|order| order.lines[1].envelope = Envelope::None), ["count out 20"]);
}

#[test]
fn times_follow_the_rates() {
    // Rates: 8 s a score, 6 s a fold, 20 s a layer, 60 s an envelope, 15 s a set.
    let expected = Times {
        boxes: 0,
        cutting: 0,
        scoring: (11 + 4 * 11) * 8,
        folding: 11 * 6,
        finishing: 0,
        sticking: 22 * 20,
        envelopes: 11 * 60,
        packing: 30 * 15,
    };
    assert_eq!(made().times, expected);
}

/// A folded liner, an envelope's liner, a band and a box.
fn extras() -> Bill {
    let score = |across: Axis, at: (i64, i64)| Score::new(across, inch(at.0, at.1));
    let down = |at: (i64, i64)| score(Axis::Height, at);
    let across = |at: (i64, i64)| score(Axis::Width, at);
    let ends = vec![across((3, 1)), across((9, 1))];
    let walls = vec![
        across((1, 2)),
        across((6, 1)),
        down((1, 2)),
        down((4, 1)),
        down((9, 2)),
        down((8, 1)),
    ];
    Bill {
        supplies: Vec::new(),
        pieces: vec![
            piece("invite.band", Part::Band, size((12, 1), (3, 2)), ends),
            piece("invite.liner", Part::Liner, size((9, 1), (4, 1)), vec![across((9, 2))]),
            piece(
                "invite.envelope-liner",
                Part::EnvelopeLiner,
                size((5, 1), (6, 1)),
                vec![down((4, 1))],
            ),
            piece("invite.box", Part::Box, size((13, 2), (17, 2)), walls),
        ],
    }
}

#[test]
fn what_belongs_to_a_card_besides_is_folded_stuck_and_made_up() {
    let made = scheduled(&plan(Vec::new()), &extras(), &order(), &workshop(), &Stock::default());
    let told = |steps: &[PieceStep]| -> Vec<(String, String)> {
        steps.iter().map(|step| (step.piece.clone(), step.what.clone())).collect()
    };
    let folded = told(&made.folding);
    assert_eq!(
        folded[0].1,
        "fold both ends back at 3 in and 9 in, ridges inside, so that they overlap"
    );
    assert_eq!(folded[1].0, "invite.liner");
    assert_eq!(folded.len(), 2);
    // The band comes last, round all that is stuck before.
    let stuck = told(&made.sticking);
    let names: Vec<&str> = stuck.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["invite.liner", "invite.envelope-liner", "invite.band"]);
    assert!(stuck[0].1.contains("in the fold of the card"), "{}", stuck[0].1);
    assert!(stuck[1].1.contains("to the flap only (2 in)"), "{}", stuck[1].1);
    assert!(stuck[2].1.starts_with("wrap the band round the middle"), "{}", stuck[2].1);
    let boxes = told(&made.boxes);
    assert!(boxes[0].1.contains("fold all walls (1/2 in) up"), "{}", boxes[0].1);
    // Eleven of each: 3 folds of 6 s, 3 gluings of 20 s, a box of 120 s.
    let times = made.times;
    assert_eq!((times.folding, times.sticking, times.boxes), (11 * 18, 11 * 60, 11 * 120));
}

#[test]
fn a_piece_that_the_plan_does_not_know_counts_as_ordered() {
    let made = scheduled(&plan(Vec::new()), &bill(), &order(), &workshop(), &Stock::default());
    assert_eq!(made.scoring[0].count, 11);
}

/// Two lines share a card, and only one wants corners: beyond what is needed, the first has what there is.
#[test]
fn no_line_is_finished_with_the_cards_of_another() {
    let mut order = order();
    order.lines[0].finish = vec![Spanned::nowhere("corners".to_owned())];
    let corners = Finish { name: "corners".to_owned(), seconds: 12, price: Money::ZERO };
    let workshop = Workshop { finishes: vec![corners], ..workshop() };
    let mut card = piece("invite.card", Part::Card, size((7, 2), (2, 1)), vec![]);
    card.shares.push(Share { line: "place".to_owned(), need: 20, spares: 1 });
    for (count, finished) in [(30, 10), (31, 11), (32, 11)] {
        let cuts = [CutPiece { piece: &card, count, upright: Upright::Any }];
        let steps = finishing(&cuts, &by_name(&order), &workshop);
        let found: Vec<_> = steps.iter().map(|it| (it.count, it.what.as_str())).collect();
        assert_eq!(found, [(finished, "those of invite: corners")], "{count}");
        assert_eq!(steps[0].seconds, 12 * finished);
    }
}
