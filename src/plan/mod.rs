//! The plan: what is cut from what, what is bought and kept, and how sure it is.
//!
//! A [`Plan`] is plain data, whose serialised form is `plan.json`, schema `cardwright-plan-2`. [`check`] is the judge;
//! it knows nothing of the solver. The strips of a division may lie in any order: here they lie as they were found, in
//! drawings as they come off (`schedule/arrange.rs`).

pub mod check;
mod node;
mod papers;
mod reached;
mod supplies;
pub mod unrepeated;
mod worth;

pub use node::{Content, Leaf, Node};
pub use reached::Reached;
pub use supplies::{PlannedSupply, supplies};
pub use worth::{worth_kept, worth_used};

use crate::folds::Score;
use crate::measure::{Area, Axis, Length, Money, Worth};
use crate::orders::Turn;
use crate::pieces::{Done, Part};
use crate::stock::{Back, Print, RoughEdges, SheetKind};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The schema's name, first field of every plan.
pub const SCHEMA: &str = "cardwright-plan-2";

/// The schema before, whose plans are still read: they say nothing of grain, print, rough edges and folds.
pub const FIRST_SCHEMA: &str = "cardwright-plan-1";

/// The schema of `plan.json` itself (JSON Schema, draft 2020-12).
pub const JSON_SCHEMA: &str = include_str!("schema/plan-2.json");

/// That of [`FIRST_SCHEMA`].
pub const FIRST_JSON_SCHEMA: &str = include_str!("schema/plan-1.json");

/// A plan; lengths in ticks, money in minor units, areas in square ticks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// [`SCHEMA`], or [`FIRST_SCHEMA`] where it was written by an earlier version.
    pub schema: String,
    /// [`Length::TICKS_PER_MM`].
    pub ticks_per_mm: i64,
    /// Name of the batch.
    pub order: String,
    /// ISO 4217 code.
    pub currency: String,
    /// What has to be cut, sorted by id.
    pub pieces: Vec<PlannedPiece>,
    /// The sheets that are used or bought, sorted by id.
    pub sheets: Vec<UsedSheet>,
    /// The runs, in order of their number.
    pub runs: Vec<Run>,
    /// The offcuts that go back in the drawer, sorted by id.
    pub offcuts: Vec<KeptOffcut>,
    /// Envelopes and sundries, sorted by id.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub supplies: Vec<PlannedSupply>,
    /// Sums.
    pub totals: Totals,
    /// One proof for each group of papers that had to be solved together.
    pub proof: Vec<Proof>,
}

impl Plan {
    /// Money for all that is bought, envelopes and sundries too.
    pub fn spend(&self) -> Money {
        self.totals.spend + self.supplies.iter().map(PlannedSupply::cost).sum()
    }
}

/// One kind of piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlannedPiece {
    /// Unique id.
    pub id: String,
    /// Order lines that need it, joined by `+`.
    pub line: String,
    /// What it becomes.
    pub part: Part,
    /// Papers it may be cut from, sorted.
    pub papers: Vec<String>,
    /// Across.
    pub width: Length,
    /// Down.
    pub height: Length,
    /// How it may lie on the papers it is cut from.
    pub turn: Turn,
    /// Direction in which its grain should run, along a fold; `None` where it may run either way.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub fold: Option<Axis>,
    /// Pieces the order asks for.
    pub need: u64,
    /// Pieces the spares rule adds.
    pub spares: u64,
    /// Good pieces that earlier plans of the batch have cut.
    #[serde(skip_serializing_if = "is_usual", default)]
    pub done: u64,
    /// Pieces that were spoiled before.
    #[serde(skip_serializing_if = "is_usual", default)]
    pub spoiled: u64,
    /// Pieces the layouts yield.
    pub cut: u64,
    /// Score lines.
    pub scores: Vec<Score>,
}

impl PlannedPiece {
    /// Pieces that are still to be cut.
    pub fn wanted(&self) -> u64 {
        Done { good: self.done, spoiled: self.spoiled }.left_of(self.need, self.spares)
    }
}

/// One kind of sheet that is used or bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UsedSheet {
    /// Unique id.
    pub id: String,
    /// Full sheet or offcut.
    pub kind: SheetKind,
    /// Its paper.
    pub paper: String,
    /// Across, before squaring.
    pub width: Length,
    /// Down, before squaring.
    pub height: Length,
    /// Direction of the fibres; `None` where nobody knows it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub grain: Option<Axis>,
    /// How the design of its face may lie.
    #[serde(skip_serializing_if = "is_usual", default)]
    pub print: Print,
    /// How that of its back may lie.
    #[serde(skip_serializing_if = "is_usual", default)]
    pub back: Back,
    /// How many of its edges are cut true before anything is measured.
    #[serde(skip_serializing_if = "is_usual", default)]
    pub rough_edges: RoughEdges,
    /// How many lie in the workshop.
    pub on_hand: u64,
    /// How many are cut.
    pub used: u64,
    /// Packs to buy.
    pub packs_bought: u64,
    /// Sheets in a pack.
    pub pack: u64,
    /// Price of a pack; `None` where it cannot be bought.
    pub price: Option<Money>,
    /// Value of one sheet, as level 2 counts it, in units of the worth of its group of papers.
    pub value: Worth,
}

/// Whether a value is what a missing key stands for.
fn is_usual<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// The same pattern cut on `count` sheets.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// `R1`, `R2`, …
    pub id: String,
    /// Id of the sheet.
    pub sheet: String,
    /// Sheets cut, at least 1.
    pub count: u64,
    /// The cut tree, in the coordinates of the whole sheet.
    pub layout: Node,
}

/// Equal strips that go back in the drawer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptOffcut {
    /// Unique id.
    pub id: String,
    /// Its paper.
    pub paper: String,
    /// Across, in the sheet's direction.
    pub width: Length,
    /// Down, in the sheet's direction.
    pub height: Length,
    /// How many.
    pub count: u64,
    /// The run that leaves them; the first, where there are more.
    pub run: String,
    /// The other runs that leave them, in order of their number.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub more_runs: Vec<String>,
}

impl KeptOffcut {
    /// All runs that leave them, in order of their number.
    pub fn runs(&self) -> impl Iterator<Item = &String> {
        std::iter::once(&self.run).chain(&self.more_runs)
    }
}

/// Sums over the plan.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Totals {
    /// Money for the packs to buy (level 1).
    pub spend: Money,
    /// Worth of all paper used: the exact sum, rounded once.
    pub stock: Money,
    /// Worth of the offcuts kept: likewise.
    pub kept: Money,
    /// Sheets and offcuts cut.
    pub sheets_used: u64,
    /// Area of the sheets cut.
    pub sheet_area: Area,
    /// Area of the pieces.
    pub piece_area: Area,
    /// Area of the offcuts kept.
    pub offcut_area: Area,
    /// Area thrown away.
    pub waste_area: Area,
    /// Area lost under the blade.
    pub blade_area: Area,
    /// How often the gauge is set (level 4).
    pub gauge_settings: u64,
    /// Number of runs.
    pub runs: u64,
}

/// How sure the plan of some papers is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Proof {
    /// The papers, sorted.
    pub papers: Vec<String>,
    /// What prices are counted in, in the certificates: the greatest common divisor of all packs of the papers.
    #[serde(skip_serializing_if = "is_one", default = "one")]
    pub price_unit: Money,
    /// What worth is counted in, as numerator and denominator of minor units in lowest terms; `None` where no sheet of
    /// the papers has a price, and area counts.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub unit: Option<[i64; 2]>,
    /// Level 1.
    pub spend: Level<Money>,
    /// Level 2.
    pub stock: Level<Worth>,
}

fn one() -> Money {
    Money::from_minor(1)
}

fn is_one(amount: &Money) -> bool {
    *amount == one()
}

impl Proof {
    /// Whether each level is proven.
    pub fn statuses(&self) -> [Status; 2] {
        [self.spend.status, self.stock.status]
    }
}

/// Value, bound and certificate of one level.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Level<Amount> {
    /// What the plan costs at this level.
    pub value: Amount,
    /// What every plan costs at least.
    pub bound: Amount,
    /// Whether both meet.
    pub status: Status,
    /// Whether the bound is higher than the certificate's: it then rests on a search, which the judge cannot
    /// repeat.
    pub complete_search: bool,
    /// The numbers that prove a bound.
    pub certificate: Certificate,
}

/// Whether a level is proven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Status {
    /// No plan is better.
    Optimal,
    /// A better plan may exist, down to the bound.
    Gap,
}

/// Whole numbers that prove a bound, each divided by `scale`: in units of price at level 1, in units of worth at level 2.
/// How they prove it is derived beside the program (`program/mod.rs`).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Certificate {
    /// What the values are divided by, at least 1.
    pub scale: i64,
    /// Value of one piece (π), by piece id.
    pub piece_values: BTreeMap<String, i64>,
    /// Value of one more sheet (σ), by sheet id; 0 where absent.
    pub sheet_values: BTreeMap<String, i64>,
    /// Value of a unit of the budget (ρ); level 2 only.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub budget_value: Option<i64>,
}
