//! Two batches made by hand for the tests of this folder: a lesson of one sheet, and a fair with
//! several papers, packs to buy, an offcut that is used, liners and cut envelopes.

use super::Batch;
use crate::diagnostics::Spanned;
use crate::measure::{Area, Axis, Currency, Length, Money, Size, Unit};
use crate::orders::{Envelope, Fold, Order, OrderLine, Turn};
use crate::pieces::{Bill, Part, Piece, Score, Share};
use crate::plan::{
    Certificate, Content, KeptOffcut, Level, Node, Plan, PlannedPiece, Proof, Run, SCHEMA, Status,
    Totals, UsedSheet,
};
use crate::schedule::{
    CutLine, CutStep, Outcome, PackStep, PieceStep, RunCuts, Schedule, ScoreStep, Stack, Times,
    Yield,
};
use crate::stock::{Print, Sheet, SheetKind, Stock};
use crate::workshop::{
    EnvelopeKind, EnvelopeRules, GrainRule, Keep, Lift, Rates, Spares, Trimmer, Workshop,
};

/// Everything a batch refers to.
pub struct Made {
    pub order: Order,
    pub stock: Stock,
    pub workshop: Workshop,
    pub bill: Bill,
    pub plan: Plan,
    pub schedule: Schedule,
}

impl Made {
    pub fn batch(&self) -> Batch<'_> {
        Batch {
            order: &self.order,
            stock: &self.stock,
            workshop: &self.workshop,
            bill: &self.bill,
            plan: &self.plan,
            schedule: &self.schedule,
            since: None,
        }
    }
}

/// A length in inches, as a person writes it.
pub fn inch(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

/// A size in inches.
pub fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap().unwrap()
}

/// A way to cut, without places.
enum Cut {
    X(&'static str, Box<[Cut; 2]>),
    Y(&'static str, Box<[Cut; 2]>),
    Piece(&'static str, bool),
    Keep(&'static str),
    Waste,
}

fn x(at: &'static str, left: Cut, right: Cut) -> Cut {
    Cut::X(at, Box::new([left, right]))
}

fn y(at: &'static str, upper: Cut, lower: Cut) -> Cut {
    Cut::Y(at, Box::new([upper, lower]))
}

fn node(cut: Cut, left: Length, top: Length, size: Size) -> Node {
    let content = match cut {
        Cut::X(at, parts) => {
            let [first, second] = *parts;
            let at = inch(at);
            let rest = size.with(Axis::Width, size.width - at);
            let first = node(first, left, top, size.with(Axis::Width, at));
            Content::CutX(left + at, Box::new([first, node(second, left + at, top, rest)]))
        }
        Cut::Y(at, parts) => {
            let [first, second] = *parts;
            let at = inch(at);
            let rest = size.with(Axis::Height, size.height - at);
            let first = node(first, left, top, size.with(Axis::Height, at));
            Content::CutY(top + at, Box::new([first, node(second, left, top + at, rest)]))
        }
        Cut::Piece(id, turned) => Content::Piece(id.to_owned(), turned),
        Cut::Keep(id) => Content::Offcut(id.to_owned()),
        Cut::Waste => Content::Waste,
    };
    Node { x: left, y: top, size, content }
}

fn run(id: &str, sheet: &str, (count, sheet_size): (u64, &str), cut: Cut) -> Run {
    let layout = node(cut, Length::ZERO, Length::ZERO, size(sheet_size));
    Run { id: id.to_owned(), sheet: sheet.to_owned(), count, layout }
}

/// Writes the cuts of a run down as they come, equal neighbours joined.
struct Walk {
    steps: Vec<CutStep>,
    number: u32,
    letters: u8,
    gauge: Option<Length>,
    lift: u64,
    /// Lifts of a plain stack of this run.
    sheets: u64,
}

impl Walk {
    fn letter(&mut self) -> String {
        self.letters += 1;
        char::from(b'A' + self.letters - 1).to_string()
    }

    fn cut(&mut self, node: &Node, letter: String) {
        let (axis, first) = match &node.content {
            Content::CutX(_, parts) => (Axis::Width, &parts[0]),
            Content::CutY(_, parts) => (Axis::Height, &parts[0]),
            _ => return,
        };
        let (mut rest, mut cuts, mut lines) = (node, 0, Vec::new());
        while let Content::CutX(at, parts) | Content::CutY(at, parts) = &rest.content {
            let same = parts[0].size == first.size && leaf(&parts[0]) == leaf(first);
            if matches!(&rest.content, Content::CutX(..)) != (axis == Axis::Width) || !same {
                break;
            }
            lines.push(line(axis, *at, rest));
            cuts += 1;
            rest = &parts[1];
            if leaf(first).is_none() {
                break;
            }
        }
        self.push(node, letter, (axis, first, rest), (cuts, lines));
    }

    fn push(
        &mut self,
        node: &Node,
        letter: String,
        (axis, first, rest): (Axis, &Node, &Node),
        (cuts, lines): (u64, Vec<CutLine>),
    ) {
        let gauge = first.size.along(axis);
        let mut next = Vec::new();
        let mut yields = Vec::new();
        for (part, each) in [(first, cuts), (rest, 1)] {
            let what = leaf(part).unwrap_or_else(|| {
                let letter = self.letter();
                next.push((part.clone(), letter.clone()));
                Outcome::Stack(letter)
            });
            let count = each * self.sheets;
            match yields.iter_mut().find(|found: &&mut Yield| found.what == what) {
                Some(found) => found.count += count,
                None => yields.push(Yield { what, size: part.size, count }),
            }
        }
        self.number += 1;
        let lifts = self.sheets.div_ceil(self.lift);
        let short = self.sheets % self.lift;
        self.steps.push(CutStep {
            number: self.number,
            squaring: false,
            from: Stack { letter, size: node.size, count: self.sheets },
            across: axis,
            gauge,
            new_setting: self.gauge != Some(gauge),
            off_graduation: !gauge.is_multiple_of(inch("1/16")),
            cuts_per_lift: cuts,
            lifts,
            short_lift: (short != 0 && lifts > 1).then_some(short),
            yields,
            lines,
        });
        self.gauge = Some(gauge);
        for (part, letter) in next {
            self.cut(&part, letter);
        }
    }
}

fn leaf(node: &Node) -> Option<Outcome> {
    Some(match &node.content {
        Content::Piece(id, turned) => Outcome::Piece(id.clone(), *turned),
        Content::Offcut(id) => Outcome::Offcut(id.clone()),
        Content::Waste => Outcome::Waste,
        Content::CutX(..) | Content::CutY(..) => return None,
    })
}

fn line(axis: Axis, at: Length, node: &Node) -> CutLine {
    match axis {
        Axis::Width => CutLine { x1: at, y1: node.y, x2: at, y2: node.y + node.size.height },
        Axis::Height => CutLine { x1: node.x, y1: at, x2: node.x + node.size.width, y2: at },
    }
}

fn runs_of(plan: &Plan, lift: u64) -> Vec<RunCuts> {
    let mut walk = Walk { steps: Vec::new(), number: 0, letters: 0, gauge: None, lift, sheets: 0 };
    let mut runs = Vec::new();
    for run in &plan.runs {
        let sheet = plan.sheets.iter().find(|sheet| sheet.id == run.sheet).unwrap();
        walk.sheets = run.count;
        walk.letters = 0;
        let letter = walk.letter();
        walk.cut(&run.layout, letter);
        runs.push(RunCuts {
            run: run.id.clone(),
            sheet: run.sheet.clone(),
            paper: sheet.paper.clone(),
            size: Size::new(sheet.width, sheet.height),
            sheets: run.count,
            lift,
            cuts: std::mem::take(&mut walk.steps),
        });
    }
    runs
}

fn schedule(plan: &Plan, order: &Order) -> Schedule {
    let runs = runs_of(plan, 5);
    let strokes = runs.iter().flat_map(|run| &run.cuts).map(|cut| cut.cuts_per_lift * cut.lifts);
    let settings = runs.iter().flat_map(|run| &run.cuts).filter(|cut| cut.new_setting).count();
    let of_part = |part: Part| plan.pieces.iter().filter(move |piece| piece.part == part);
    let step = |piece: &PlannedPiece, what: &str| PieceStep {
        piece: piece.id.clone(),
        part: piece.part,
        size: Size::new(piece.width, piece.height),
        count: piece.need + piece.spares,
        what: what.to_owned(),
    };
    Schedule {
        strokes: strokes.sum(),
        gauge_settings: settings as u64,
        scoring: plan.pieces.iter().filter(|piece| !piece.scores.is_empty()).map(scored).collect(),
        folding: of_part(Part::Base).map(|piece| step(piece, "fold on the score line")).collect(),
        sticking: of_part(Part::Liner).map(|piece| step(piece, "stick inside, centred")).collect(),
        envelopes: of_part(Part::Envelope)
            .map(|piece| {
                step(piece, "fold the side flaps in, then the bottom flap up and stick it")
            })
            .collect(),
        packing: order.lines.iter().map(packed).collect(),
        times: Times {
            cutting: 2_400,
            scoring: 680,
            folding: 400,
            sticking: 840,
            envelopes: 2_520,
            packing: 900,
        },
        runs,
    }
}

fn scored(piece: &PlannedPiece) -> ScoreStep {
    ScoreStep {
        piece: piece.id.clone(),
        part: piece.part,
        size: Size::new(piece.width, piece.height),
        scores: piece.scores.clone(),
        count: piece.need + piece.spares,
    }
}

fn packed(line: &OrderLine) -> PackStep {
    let mut contents = vec!["card, folded".to_owned()];
    if line.liner.is_some() {
        contents.push("inside panel stuck in".to_owned());
    }
    match line.envelope {
        Envelope::None => {}
        Envelope::Bought => contents.push("bought envelope".to_owned()),
        Envelope::Cut(_) => contents.push("made-up envelope".to_owned()),
    }
    PackStep { line: line.name.value.clone(), count: line.count.value, contents }
}

fn workshop() -> Workshop {
    Workshop {
        unit: Unit::Inch,
        currency: Currency::new("USD").unwrap(),
        trimmer: Trimmer {
            knife: inch("30"),
            graduation: inch("1/16"),
            blade: Length::ZERO,
            squaring: Length::ZERO,
            lift: Lift::Sheets(5),
            smallest_hold: Length::ZERO,
        },
        keep: Keep { short: inch("1"), long: inch("4"), value: 30 },
        spares: Spares { percent: 5, at_least: 1 },
        grain: GrainRule::Prefer,
        envelope: EnvelopeRules {
            kind: EnvelopeKind::Wrap,
            clear_long: inch("1/4"),
            clear_short: inch("1/8"),
            side_flap: None,
            top_flap: None,
            liner_inset: inch("1/4"),
        },
        rates: Rates {
            labour_per_hour: Money::from_minor(1800),
            overhead_percent: 15,
            margin_percent: 30,
            gauge: 20,
            stroke: 6,
            score: 8,
            fold: 6,
            stick: 20,
            envelope: 60,
            pack: 15,
        },
        post: "usps".to_owned(),
    }
}

fn ordered(name: &str, card: &str, fold: Fold, count: u64) -> OrderLine {
    OrderLine {
        name: Spanned::nowhere(name.to_owned()),
        card: Spanned::nowhere(size(card)),
        fold,
        count: Spanned::nowhere(count),
        papers: Spanned::nowhere(vec!["fern".to_owned()]),
        liner: None,
        mat: None,
        envelope: Envelope::None,
        turn: None,
        due: None,
        note: String::new(),
    }
}

fn sheet(id: &str, paper: &str, on_hand: u64, sheet_size: &str) -> Sheet {
    Sheet {
        id: id.to_owned(),
        kind: SheetKind::Sheet,
        paper: paper.to_owned(),
        size: size(sheet_size),
        on_hand,
        price: None,
        pack: 1,
        grain: None,
        print: Print::Free,
        milligrams_per_square_metre: None,
        thickness: None,
        from: None,
        since: None,
        place: None,
    }
}

fn offcut(id: &str, paper: &str, on_hand: u64, offcut_size: &str) -> Sheet {
    Sheet { kind: SheetKind::Offcut, ..sheet(id, paper, on_hand, offcut_size) }
}

/// `line.part` of one line, from one paper.
fn piece(id: &str, part: Part, piece_size: &str, need: u64, spares: u64) -> Piece {
    let line = id.split('.').next().unwrap().to_owned();
    Piece {
        id: id.to_owned(),
        part,
        papers: vec!["fern".to_owned()],
        size: size(piece_size),
        turn: None,
        fold_along: None,
        scores: Vec::new(),
        shares: vec![Share { line, need, spares }],
        place: None,
    }
}

fn score(across: Axis, at: &str) -> Score {
    Score { across, at: inch(at) }
}

fn planned(piece: &Piece, cut: u64) -> PlannedPiece {
    PlannedPiece {
        id: piece.id.clone(),
        line: piece.shares[0].line.clone(),
        part: piece.part,
        papers: piece.papers.clone(),
        width: piece.size.width,
        height: piece.size.height,
        turn: Turn::Free,
        need: piece.need(),
        spares: piece.spares(),
        cut,
        scores: piece.scores.clone(),
    }
}

fn used(sheet: &Sheet, used: u64, packs_bought: u64, value: i64) -> UsedSheet {
    UsedSheet {
        id: sheet.id.clone(),
        kind: sheet.kind,
        paper: sheet.paper.clone(),
        width: sheet.size.width,
        height: sheet.size.height,
        on_hand: sheet.on_hand,
        used,
        packs_bought,
        pack: sheet.pack,
        price: sheet.price,
        value: Money::from_minor(value),
    }
}

fn kept(id: &str, paper: &str, count: u64, run: &str, offcut_size: &str) -> KeptOffcut {
    let size = size(offcut_size);
    let (id, paper, run) = (id.to_owned(), paper.to_owned(), run.to_owned());
    KeptOffcut { id, paper, width: size.width, height: size.height, count, run }
}

fn level(value: i64, bound: i64) -> Level {
    Level {
        value: Money::from_minor(value),
        bound: Money::from_minor(bound),
        status: if value == bound { Status::Optimal } else { Status::Gap },
        complete_search: false,
        certificate: Certificate { scale: 1, ..Certificate::default() },
    }
}

fn proof(papers: &[&str], spend: Level, stock: Level) -> Proof {
    Proof { papers: papers.iter().map(|paper| (*paper).to_owned()).collect(), spend, stock }
}

fn area_of(node: &Node, wanted: fn(&Content) -> bool) -> Area {
    match &node.content {
        Content::CutX(_, parts) | Content::CutY(_, parts) => {
            parts.iter().map(|part| area_of(part, wanted)).sum()
        }
        content if wanted(content) => node.size.area(),
        _ => Area::ZERO,
    }
}

fn finish(order: Order, stock: Stock, bill: Bill, mut plan: Plan) -> Made {
    let over = |wanted: fn(&Content) -> bool| -> Area {
        plan.runs.iter().map(|run| area_of(&run.layout, wanted) * run.count).sum()
    };
    plan.totals = Totals {
        sheets_used: plan.runs.iter().map(|run| run.count).sum(),
        sheet_area: plan.runs.iter().map(|run| run.layout.size.area() * run.count).sum(),
        piece_area: over(|content| matches!(content, Content::Piece(..))),
        offcut_area: over(|content| matches!(content, Content::Offcut(_))),
        waste_area: over(|content| matches!(content, Content::Waste)),
        runs: plan.runs.len() as u64,
        ..plan.totals
    };
    let schedule = schedule(&plan, &order);
    plan.totals.gauge_settings = schedule.gauge_settings;
    Made { order, stock, workshop: workshop(), bill, plan, schedule }
}

fn empty_plan(order: &str) -> Plan {
    Plan {
        schema: SCHEMA.to_owned(),
        ticks_per_mm: Length::TICKS_PER_MM,
        order: order.to_owned(),
        currency: "USD".to_owned(),
        pieces: Vec::new(),
        sheets: Vec::new(),
        runs: Vec::new(),
        offcuts: Vec::new(),
        totals: Totals::default(),
        proof: Vec::new(),
    }
}

/// One 12 x 12 in sheet: two bases 8 1/2 x 5 1/2 and two 6 x 3 in, folded to 4 1/4 x 5 1/2 and
/// 3 x 3 in; a strip 8 1/2 x 1 is kept, one of 12 x 1/2 is not (common practice, no source).
pub fn lesson() -> Made {
    let order = Order {
        name: "lesson".to_owned(),
        lines: vec![
            ordered("note", "4 1/4 x 5 1/2", Fold::Side, 2),
            ordered("tag", "3 x 3", Fold::Top, 2),
        ],
    };
    let full = sheet("fern-12", "fern", 1, "12 x 12");
    let mut note = piece("note.base", Part::Base, "8 1/2 x 5 1/2", 2, 0);
    note.scores = vec![score(Axis::Width, "4 1/4")];
    let mut tag = piece("tag.base", Part::Base, "3 x 6", 2, 0);
    tag.scores = vec![score(Axis::Height, "3")];
    let left = y("5 1/2", Cut::Piece("note.base", false), {
        y("5 1/2", Cut::Piece("note.base", false), Cut::Keep("lesson-01"))
    });
    // The tags lie beside the notes, a strip of 1/2 in runs down the sheet's right edge.
    let tags = y("6", Cut::Piece("tag.base", false), Cut::Piece("tag.base", false));
    let right = x("3", tags, Cut::Waste);
    let plan = Plan {
        pieces: vec![planned(&note, 2), planned(&tag, 2)],
        sheets: vec![used(&full, 1, 0, 110)],
        runs: vec![run("R1", "fern-12", (1, "12 x 12"), x("8 1/2", left, right))],
        offcuts: vec![kept("lesson-01", "fern", 1, "R1", "8 1/2 x 1")],
        totals: Totals { stock: Money::from_minor(110), ..Totals::default() },
        proof: vec![proof(&["fern"], level(0, 0), level(110, 110))],
        ..empty_plan("lesson")
    };
    finish(order, Stock { sheets: vec![full] }, Bill { pieces: vec![note, tag] }, plan)
}

fn fair_stock() -> Vec<Sheet> {
    vec![
        Sheet {
            price: Some(Money::from_minor(340)),
            grain: Some(Axis::Width),
            ..sheet("fern-26", "fern", 7, "26 x 20")
        },
        Sheet {
            price: Some(Money::from_minor(600)),
            pack: 25,
            ..sheet("kraft-12", "kraft", 12, "12 x 12")
        },
        Sheet { print: Print::OneWay, ..sheet("plum-letter", "plum", 30, "8 1/2 x 11") },
        Sheet { grain: Some(Axis::Height), ..offcut("fern-d1", "fern", 3, "8 1/2 x 4 1/4") },
        Sheet {
            since: Some(jiff::civil::date(2024, 2, 29)),
            ..offcut("plum-d2", "plum", 2, "6 x 2")
        },
    ]
}

fn fair_pieces() -> Vec<Piece> {
    let mut base = piece("invite.base", Part::Base, "10 x 7", 40, 2);
    base.scores = vec![score(Axis::Width, "5")];
    let mut envelope = piece("invite.envelope", Part::Envelope, "9 1/4 x 12", 40, 2);
    envelope.scores = vec![
        score(Axis::Width, "1"),
        score(Axis::Width, "8 1/4"),
        score(Axis::Height, "5"),
        score(Axis::Height, "10 1/8"),
    ];
    envelope.papers = vec!["kraft".to_owned()];
    let mut liner = piece("invite.liner", Part::Liner, "6 1/2 x 4 1/2", 40, 2);
    liner.papers = vec!["plum".to_owned()];
    let mut place = piece("place.base", Part::Base, "4 x 6", 22, 2);
    place.scores = vec![score(Axis::Height, "3")];
    vec![base, envelope, liner, place]
}

fn fair_runs() -> Vec<Run> {
    let base = || Cut::Piece("invite.base", true);
    let place = || Cut::Piece("place.base", false);
    let column = || y("10", base(), base());
    let liner = || Cut::Piece("invite.liner", false);
    let side = y("6", place(), y("6", place(), y("6", place(), Cut::Keep("fair-01"))));
    let bases =
        x("7", column(), x("7", column(), x("7", column(), x("4", side, Cut::Keep("fair-02")))));
    let liners = y("4 1/2", liner(), y("4 1/2", liner(), Cut::Keep("fair-03")));
    let old = x("6", y("4", Cut::Piece("place.base", true), Cut::Waste), Cut::Waste);
    vec![
        run("R1", "fern-26", (7, "26 x 20"), bases),
        run("R2", "fern-d1", (3, "8 1/2 x 4 1/4"), old),
        run("R3", "plum-letter", (21, "8 1/2 x 11"), x("6 1/2", liners, Cut::Keep("fair-04"))),
        run("R4", "kraft-12", (42, "12 x 12"), {
            x("9 1/4", Cut::Piece("invite.envelope", false), Cut::Keep("fair-05"))
        }),
    ]
}

/// A fair: two kinds of cards, four papers, an offcut from the drawer, packs to buy.
pub fn fair() -> Made {
    let mut invite = ordered("invite", "5 x 7", Fold::Side, 40);
    invite.liner = Some(Spanned::nowhere("plum".to_owned()));
    invite.envelope = Envelope::Cut(Spanned::nowhere("kraft".to_owned()));
    invite.due = Some(jiff::civil::date(2031, 5, 3));
    let place =
        OrderLine { note: "no glitter".to_owned(), ..ordered("place", "4 x 3", Fold::Top, 22) };
    let order = Order { name: "fair".to_owned(), lines: vec![invite, place] };
    let (sheets, pieces) = (fair_stock(), fair_pieces());
    let plan = Plan {
        pieces: pieces
            .iter()
            .zip([42, 42, 42, 24])
            .map(|(piece, cut)| planned(piece, cut))
            .collect(),
        sheets: vec![
            used(&sheets[3], 3, 0, 7),
            used(&sheets[0], 7, 0, 340),
            used(&sheets[1], 42, 2, 24),
            used(&sheets[2], 21, 0, 30),
        ],
        runs: fair_runs(),
        offcuts: vec![
            kept("fair-01", "fern", 7, "R1", "4 x 2"),
            kept("fair-02", "fern", 7, "R1", "1 x 20"),
            kept("fair-03", "plum", 21, "R3", "6 1/2 x 2"),
            kept("fair-04", "plum", 21, "R3", "2 x 11"),
            kept("fair-05", "kraft", 42, "R4", "2 3/4 x 12"),
        ],
        totals: Totals {
            spend: Money::from_minor(1200),
            stock: Money::from_minor(4039),
            kept: Money::from_minor(412),
            ..Totals::default()
        },
        proof: vec![
            proof(&["fern"], level(0, 0), level(2401, 2389)),
            proof(&["kraft"], level(1200, 1200), level(1008, 1008)),
            proof(&["plum"], level(0, 0), level(630, 630)),
        ],
        ..empty_plan("fair")
    };
    finish(order, Stock { sheets }, Bill { pieces }, plan)
}
