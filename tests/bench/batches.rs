//! Small random batches in whole millimetres, described so that they can be changed and compared.

use super::instances::inputs;
use cardwright::batch::{self, Effort, Inputs, Made, Options, Outcome};
use proptest::prelude::*;

/// A batch.
#[derive(Clone, Debug)]
pub struct Batch {
    pub lines: Vec<Line>,
    pub sheets: Vec<Paper>,
    pub offcuts: Vec<Paper>,
    pub rules: Rules,
}

/// A line of the order.
#[derive(Clone, Debug)]
pub struct Line {
    pub name: String,
    pub width: i64,
    pub height: i64,
    pub fold: &'static str,
    pub count: u64,
    pub papers: Vec<&'static str>,
    pub turn: &'static str,
}

/// A kind of sheet or offcut.
#[derive(Clone, Debug)]
pub struct Paper {
    pub name: String,
    pub paper: &'static str,
    pub width: i64,
    pub height: i64,
    pub on_hand: u64,
    pub price: Option<u64>,
    pub pack: u64,
    pub grain: &'static str,
    pub print: &'static str,
    /// Rough edges: 0, 2 or 4.
    pub rough: u8,
}

/// The bench.
#[derive(Clone, Debug)]
pub struct Rules {
    pub knife: i64,
    pub blade: i64,
    pub squaring: i64,
    pub hold: i64,
    /// 0 is any number.
    pub stages: u32,
    pub keep: (i64, i64),
    pub spares: u64,
    pub grain: &'static str,
}

impl Line {
    /// Width and height of the blank, opened out.
    pub fn blank(&self) -> (i64, i64) {
        match self.fold {
            "side" => (2 * self.width, self.height),
            "top" => (self.width, 2 * self.height),
            _ => (self.width, self.height),
        }
    }
}

impl Paper {
    /// What squaring takes off each of its edges.
    pub fn margin(&self, rules: &Rules) -> i64 {
        if self.rough > 0 { rules.squaring } else { 0 }
    }
}

impl Batch {
    /// Flat cards of fern paper (width, height, count), sheets (width, height, on hand, price) and
    /// offcuts (width, height, count), on a bench without limits.
    pub fn plain(
        cards: &[(i64, i64, u64)],
        sheets: &[(i64, i64, u64, Option<u64>)],
        offcuts: &[(i64, i64, u64)],
    ) -> Batch {
        let line = |&(width, height, count): &(i64, i64, u64)| Line {
            name: String::new(),
            width,
            height,
            fold: "flat",
            count,
            papers: vec!["fern"],
            turn: "free",
        };
        let sheet = |&(width, height, on_hand, price): &(i64, i64, u64, Option<u64>)| Paper {
            name: String::new(),
            paper: "fern",
            width,
            height,
            on_hand,
            price,
            pack: 1,
            grain: "",
            print: "free",
            rough: 4,
        };
        let offcut =
            |&(width, height, count)| Paper { rough: 0, ..sheet(&(width, height, count, None)) };
        let rules = Rules {
            knife: 10_000,
            blade: 0,
            squaring: 0,
            hold: 0,
            stages: 0,
            keep: (1, 1),
            spares: 0,
            grain: "ignore",
        };
        named(Batch {
            lines: cards.iter().map(line).collect(),
            sheets: sheets.iter().map(sheet).collect(),
            offcuts: offcuts.iter().map(offcut).collect(),
            rules,
        })
    }

    /// The batch as the files a person would write.
    pub fn inputs(&self) -> Inputs {
        let mut order = String::from("line,card,fold,count,paper,turn\n");
        for line in &self.lines {
            let Line { name, width, height, fold, count, turn, .. } = line;
            let papers = line.papers.join("|");
            order.push_str(&format!("{name},{width} x {height},{fold},{count},{papers},{turn}\n"));
        }
        let mut sheets =
            String::from("sheet,paper,width,height,on hand,price,pack,grain,print,rough edges\n");
        for sheet in &self.sheets {
            let Paper { name, paper, width, height, on_hand, pack, grain, print, rough, .. } =
                sheet;
            let price = sheet.price.map(|price| format!("{}.{:02}", price / 100, price % 100));
            let price = price.unwrap_or_default();
            sheets.push_str(&format!(
                "{name},{paper},{width},{height},{on_hand},{price},{pack},{grain},{print},{rough}\n"
            ));
        }
        let mut offcuts = String::from("offcut,paper,width,height,count,grain,print\n");
        for offcut in &self.offcuts {
            let Paper { name, paper, width, height, on_hand, grain, print, .. } = offcut;
            offcuts
                .push_str(&format!("{name},{paper},{width},{height},{on_hand},{grain},{print}\n"));
        }
        let offcuts = (!self.offcuts.is_empty()).then_some(offcuts);
        inputs("batch", order, sheets, offcuts, self.rules.text())
    }

    /// Plans it with one thread and little effort.
    pub fn plan(&self) -> Outcome {
        self.plan_with(Options { effort: Effort::Quick, threads: Some(1), ..Options::default() })
    }

    /// Plans it.
    pub fn plan_with(&self, options: Options) -> Outcome {
        let outcome = batch::plan(&self.inputs(), &options);
        assert_eq!(outcome.faults, Vec::<String>::new(), "{self:?}");
        outcome
    }

    /// Plans it, where it can be made.
    pub fn made(&self) -> Option<Made> {
        self.plan().made
    }

    /// Plans it for a law about plans, of which an order that cannot be made is no case.
    pub fn case(&self) -> Result<Made, TestCaseError> {
        self.made().ok_or_else(|| TestCaseError::reject("it cannot be made"))
    }

    /// Full sheets and offcuts.
    pub fn stock(&self) -> impl Iterator<Item = &Paper> {
        self.sheets.iter().chain(&self.offcuts)
    }

    /// Every length times `factor`.
    pub fn scaled(&self, factor: i64) -> Batch {
        let mut batch = self.clone();
        for line in &mut batch.lines {
            (line.width, line.height) = (line.width * factor, line.height * factor);
        }
        for paper in batch.sheets.iter_mut().chain(&mut batch.offcuts) {
            (paper.width, paper.height) = (paper.width * factor, paper.height * factor);
        }
        let rules = &mut batch.rules;
        for length in [
            &mut rules.knife,
            &mut rules.blade,
            &mut rules.squaring,
            &mut rules.hold,
            &mut rules.keep.0,
            &mut rules.keep.1,
        ] {
            *length *= factor;
        }
        batch
    }
}

impl Rules {
    fn text(&self) -> String {
        let Rules { knife, blade, squaring, hold, stages, keep, spares, grain } = self;
        format!(
            "unit = \"mm\"\n[trimmer]\nknife = \"{knife} mm\"\ngraduation = \"1 mm\"\n\
             blade = \"{blade} mm\"\nsquaring = \"{squaring} mm\"\nsmallest_hold = \"{hold} mm\"\n\
             stages = {stages}\n[keep]\nshort = \"{} mm\"\nlong = \"{} mm\"\n[spares]\npercent = 0\n\
             at_least = {spares}\n[grain]\nrule = \"{grain}\"\n",
            keep.0, keep.1
        )
    }
}

/// How large the parts of a batch may be.
#[derive(Clone, Copy)]
pub struct Extent {
    pub lines: usize,
    pub kinds: usize,
    pub most_count: u64,
    pub piece: (i64, i64),
    pub sheet: (i64, i64),
    pub most_blade: i64,
}

/// Batches of up to `kinds` full sheets and as many offcuts of one or two papers.
pub fn batches(extent: Extent) -> impl Strategy<Value = Batch> {
    let Extent { lines, kinds, sheet, most_blade, .. } = extent;
    let lines = prop::collection::vec(line(extent), 1..=lines);
    let sheets = prop::collection::vec(paper(extent), 1..=kinds);
    let offcuts = prop::collection::vec(paper(extent), 0..=kinds);
    let keep = (1..=sheet.0, 1..=sheet.1);
    let knife = prop_oneof![3 => Just(10 * sheet.1), 1 => sheet.0..=sheet.1];
    let hold = prop_oneof![4 => Just(0), 1 => 0..=sheet.0 / 2];
    let grain = prop::sample::select(vec!["ignore", "prefer", "strict"]);
    let rules = (knife, 0..=most_blade, 0..=most_blade, hold, keep, 0..=1_u64, grain).prop_map(
        |(knife, blade, squaring, hold, keep, spares, grain)| Rules {
            knife,
            blade,
            squaring: squaring.max(blade),
            hold,
            stages: 0,
            keep: (keep.0.min(keep.1), keep.0.max(keep.1)),
            spares,
            grain,
        },
    );
    (lines, sheets, offcuts, rules)
        .prop_map(|(lines, sheets, offcuts, rules)| named(Batch { lines, sheets, offcuts, rules }))
}

/// Batches of which most can be made: no card is larger than the largest sheet of its papers, and of what is not for
/// sale there is plenty.
pub fn makeable(extent: Extent) -> impl Strategy<Value = Batch> {
    batches(extent).prop_map(fitted)
}

/// The batch, its cards cut down to its paper.
pub fn fitted(batch: Batch) -> Batch {
    let Batch { mut lines, mut sheets, offcuts, rules } = batch;
    for sheet in sheets.iter_mut().filter(|sheet| sheet.price.is_none()) {
        sheet.on_hand += 9;
    }
    let room = |paper: &Paper| {
        let margin = paper.margin(&rules);
        (paper.width - 2 * margin, paper.height - 2 * margin)
    };
    for line in &mut lines {
        let own = sheets.iter().chain(&offcuts).filter(|it| line.papers.contains(&it.paper));
        let mut rooms: Vec<(i64, i64)> = own.map(room).collect();
        if rooms.is_empty() {
            line.papers = vec![sheets[0].paper];
            rooms = vec![room(&sheets[0])];
        }
        let (width, height) = line.blank();
        let may_turn = ["", "free"].contains(&line.turn);
        let fits = |room: &(i64, i64)| {
            (width <= room.0 && height <= room.1)
                || (may_turn && height <= room.0 && width <= room.1)
        };
        if !rooms.iter().any(fits) {
            let largest = rooms.into_iter().max_by_key(|room| room.0 * room.1).unwrap();
            line.fold = "flat";
            (line.width, line.height) = (line.width.min(largest.0), line.height.min(largest.1));
        }
    }
    Batch { lines, sheets, offcuts, rules }
}

fn line(extent: Extent) -> impl Strategy<Value = Line> {
    let side = || extent.piece.0..=extent.piece.1;
    let fold = prop::sample::select(vec!["flat", "flat", "flat", "side", "top"]);
    let papers = vec![vec!["fern"], vec!["fern"], vec!["moss"], vec!["fern", "moss"]];
    let papers = prop::sample::select(papers);
    let turn = prop::sample::select(vec!["", "", "free", "half", "none"]);
    (side(), side(), fold, 1..=extent.most_count, papers, turn).prop_map(
        |(width, height, fold, count, papers, turn)| Line {
            name: String::new(),
            width,
            height,
            fold,
            count,
            papers,
            turn,
        },
    )
}

fn paper(extent: Extent) -> impl Strategy<Value = Paper> {
    let side = || extent.sheet.0..=extent.sheet.1;
    let name = prop::sample::select(vec!["fern", "fern", "moss"]);
    let on_hand = prop_oneof![Just(0), 0..=3_u64];
    let price = prop_oneof![3 => (1..=40_u64).prop_map(Some), 1 => Just(None)];
    let pack = prop_oneof![Just(1), 1..=4_u64];
    let grain = prop::sample::select(vec!["", "width", "height"]);
    let print = prop::sample::select(vec!["free", "free", "two-way", "one-way"]);
    (name, side(), side(), on_hand, price, pack, grain, print).prop_map(
        |(paper, width, height, on_hand, price, pack, grain, print)| Paper {
            name: String::new(),
            paper,
            width,
            height,
            on_hand,
            price,
            pack,
            grain,
            print,
            // All kinds of edges, whatever else is tried.
            rough: [0, 2, 4][(width + height) as usize % 3],
        },
    )
}

/// Gives names; keeps the lines to papers that there are, and offcuts to what offcuts can be.
fn named(mut batch: Batch) -> Batch {
    for (at, sheet) in batch.sheets.iter_mut().enumerate() {
        sheet.name = format!("sheet{at}");
    }
    for (at, offcut) in batch.offcuts.iter_mut().enumerate() {
        offcut.name = format!("offcut{at}");
        (offcut.on_hand, offcut.price, offcut.pack) = (offcut.on_hand.max(1), None, 1);
        offcut.rough = 0;
    }
    let there: Vec<&str> = batch.stock().map(|paper| paper.paper).collect();
    for (at, line) in batch.lines.iter_mut().enumerate() {
        line.name = format!("line{at}");
        line.papers.retain(|paper| there.contains(paper));
        if line.papers.is_empty() {
            line.papers.push(batch.sheets[0].paper);
        }
    }
    batch
}
