//! What the judge may find.

use crate::measure::Length;
use crate::plan::SCHEMA;
use thiserror::Error;

/// One rule that a plan breaks. Lengths are as the workshop writes them, money is in minor units, and values of paper
/// are in the units of its group.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[allow(missing_docs, reason = "each field is named in the message of its variant")]
pub enum Fault {
    /// Another schema, or another version of it.
    #[error("the schema is `{found}`, not `{SCHEMA}`")]
    Schema { found: String },
    /// The plan of another order.
    #[error("the plan is of `{found}`, not of `{expected}`")]
    Order { found: String, expected: String },
    /// Another tick.
    #[error("`ticks_per_mm` is {found}, not {}", Length::TICKS_PER_MM)]
    TicksPerMm { found: i64 },
    /// Another currency than the workshop's.
    #[error("the currency is `{found}`, the bench has `{expected}`")]
    Currency { found: String, expected: String },
    /// A fold line that does not cross its piece.
    #[error("piece `{piece}` has a score line outside it")]
    ScoreOutside { piece: String },
    /// A number that no bench or shop could mean.
    #[error("{what} is out of range")]
    OutOfRange { what: String },
    /// A list that is not sorted, or names something twice.
    #[error("the {list} are out of order, or `{id}` appears twice")]
    Unsorted { list: &'static str, id: String },
    /// Runs are called R1, R2, ….
    #[error("run `{found}` should be called `{expected}`")]
    RunName { found: String, expected: String },

    /// A piece of the bill is not planned.
    #[error("piece `{piece}` of the order is missing")]
    PieceMissing { piece: String },
    /// A piece that nobody asks for.
    #[error("piece `{piece}` is not in the order")]
    PieceUnknown { piece: String },
    /// A piece that is not as the bill has it.
    #[error("piece `{piece}` differs from the order in `{field}`")]
    PieceDiffers { piece: String, field: &'static str },
    /// `cut` is not what the layouts yield.
    #[error("piece `{piece}`: the list says {said} are cut, the layouts give {found}")]
    PieceCount { piece: String, said: u64, found: i128 },
    /// Fewer than need and spares together.
    #[error("piece `{piece}`: {needed} are needed, the layouts give {found}")]
    PieceShort { piece: String, needed: u64, found: i128 },

    /// A sheet that the workshop does not have.
    #[error("sheet `{sheet}` is not in the stock")]
    SheetUnknown { sheet: String },
    /// A sheet that is not as the stock has it.
    #[error("sheet `{sheet}` differs from the stock in `{field}`")]
    SheetDiffers { sheet: String, field: &'static str },
    /// A sheet that is listed though none is cut or bought.
    #[error("sheet `{sheet}` is neither used nor bought")]
    SheetIdle { sheet: String },
    /// `used` is not what the runs add up to.
    #[error("sheet `{sheet}`: the list says {said} are used, the runs use {found}")]
    SheetCount { sheet: String, said: u64, found: i128 },
    /// More used than on hand and bought.
    #[error("sheet `{sheet}`: {used} are used, {had} are on hand or bought")]
    SheetShort { sheet: String, used: u64, had: i128 },
    /// Packs of a sheet without a price.
    #[error("sheet `{sheet}` cannot be bought")]
    NotForSale { sheet: String },
    /// More packs than it takes, or fewer.
    #[error("sheet `{sheet}`: {said} packs are bought, {needed} are needed")]
    Packs { sheet: String, said: u64, needed: i128 },
    /// Another value than the rule gives.
    #[error("sheet `{sheet}` is valued at {said}, not at {found}")]
    SheetValue { sheet: String, said: i64, found: i128 },

    /// A sheet of a paper that no piece is cut from.
    #[error("sheet `{sheet}` is of a paper that no piece is cut from")]
    SheetOutside { sheet: String },

    /// An envelope or sundry that the order needs is not planned.
    #[error("`{supply}` is missing among the supplies")]
    SupplyMissing { supply: String },
    /// One that nobody asks for.
    #[error("`{supply}` is among the supplies and not in the order")]
    SupplyUnknown { supply: String },
    /// One that is not as order and stock have it.
    #[error("`{supply}` differs from order or stock in `{field}`")]
    SupplyDiffers { supply: String, field: &'static str },
    /// More packs than it takes, or fewer.
    #[error("`{supply}`: {said} packs are bought, {needed} are needed")]
    SupplyPacks { supply: String, said: u64, needed: i128 },
    /// Packs without a price.
    #[error("`{supply}` cannot be bought")]
    SupplyNotForSale { supply: String },

    /// A run that cuts no sheet.
    #[error("run {run} cuts no sheet")]
    EmptyRun { run: String },
    /// A run that gives no piece of the order.
    #[error("run {run} cuts no piece")]
    NoPiece { run: String },
    /// A sheet whose rough edges the knife cannot reach over.
    #[error("run {run} cuts a sheet that the knife cannot square")]
    NotSquared { run: String },
    /// A run of a sheet that the plan does not list.
    #[error("run {run} cuts sheet `{sheet}`, which the plan does not list")]
    RunSheet { run: String, sheet: String },
    /// A layout that is not its whole sheet.
    #[error("run {run}: the layout is not exactly its sheet")]
    Root { run: String },
    /// A cut that does not go through its plate.
    #[error("run {run}: the cut at {at} misses the part at {x}, {y}")]
    CutOutside { run: String, at: String, x: String, y: String },
    /// Two parts and the blade that are not the plate they were cut from.
    #[error("run {run}: what the cut at {at} gives does not add up to the part at {x}, {y}")]
    Tiling { run: String, at: String, x: String, y: String },
    /// Something is cut from a part that the blade takes whole.
    #[error("run {run}: the part at {x}, {y} has no width and is not waste")]
    UnderBlade { run: String, x: String, y: String },
    /// A cut that is longer than the knife.
    #[error("run {run}: the cut at {at} is {length} long, the knife only {knife}")]
    Knife { run: String, at: String, length: String, knife: String },
    /// A plate that is too narrow to be held.
    #[error("run {run}: the part cut at {at} is only {side} on one side, too narrow to hold")]
    Hold { run: String, at: String, side: String },
    /// More stages than the bench allows.
    #[error("run {run} has {stages} stages, at most {most} are allowed")]
    Stages { run: String, stages: u32, most: u32 },
    /// A piece that the plan does not list.
    #[error("run {run} cuts piece `{piece}`, which the plan does not list")]
    LeafUnknown { run: String, piece: String },
    /// A piece of the wrong size.
    #[error("run {run}: piece `{piece}` at {x}, {y} has the wrong size")]
    LeafSize { run: String, piece: String, x: String, y: String },
    /// A piece on a paper that is not one of its own.
    #[error("run {run}: piece `{piece}` may not be cut from paper `{paper}`")]
    LeafPaper { run: String, piece: String, paper: String },
    /// A piece that may not be turned.
    #[error("run {run}: piece `{piece}` at {x}, {y} must not be turned on this sheet")]
    LeafTurned { run: String, piece: String, x: String, y: String },
    /// A fold across the grain under a strict rule.
    #[error("run {run}: the fold of piece `{piece}` at {x}, {y} runs across the grain")]
    LeafGrain { run: String, piece: String, x: String, y: String },
    /// A piece or offcut with a rough edge.
    #[error("run {run}: `{id}` at {x}, {y} reaches into the edge that squaring cuts off")]
    Squaring { run: String, id: String, x: String, y: String },
    /// A remnant that should have been kept.
    #[error("run {run}: the waste at {x}, {y} is large enough to keep")]
    WasteWorthKeeping { run: String, x: String, y: String },
    /// A strip for the drawer that the plan does not list.
    #[error("run {run} leaves offcut `{offcut}`, which the plan does not list")]
    OffcutUnknown { run: String, offcut: String },
    /// A strip for the drawer that is not as the list has it.
    #[error("run {run}: offcut `{offcut}` differs from the list in `{field}`")]
    OffcutDiffers { run: String, offcut: String, field: &'static str },
    /// `count` is not what the run leaves.
    #[error("offcut `{offcut}`: the list says {said} are kept, the layouts leave {found}")]
    OffcutCount { offcut: String, said: u64, found: i128 },
    /// A strip too small to keep.
    #[error("offcut `{offcut}` is too small to keep")]
    OffcutTooSmall { offcut: String },

    /// A sum that is not the sum.
    #[error("the total `{field}` is {said}, the plan adds up to {found}")]
    Total { field: &'static str, said: i128, found: i128 },
    /// Areas that do not add up to the sheets.
    #[error("pieces, offcuts, waste and blade are {parts} square ticks, the sheets {sheets}")]
    Balance { parts: i128, sheets: i128 },
    /// Cuts without a setting of the gauge, or more settings than cuts.
    #[error("{said} gauge settings for {cuts} different cuts")]
    GaugeSettings { said: u64, cuts: u64 },

    /// Proofs that are not one for each group of papers.
    #[error("the proofs are of the papers [{found}], not [{expected}]")]
    Groups { found: String, expected: String },
    /// Another unit of price or worth than the stock gives, or one that the plan's own prices rule out.
    #[error("the {what} of {papers} is {found}, not {expected}")]
    Unit { papers: String, what: &'static str, found: String, expected: String },
    /// A level's value that is not what the plan costs.
    #[error("{level} of {papers} is {said}, the plan adds up to {found}")]
    LevelValue { papers: String, level: &'static str, said: i64, found: i128 },
    /// A bound that is above the value, or below nothing.
    #[error("{level} of {papers}: the bound {bound} does not go with the value {value}")]
    BoundBeyondValue { papers: String, level: &'static str, bound: i64, value: i64 },
    /// `optimal` though the bound is below the value, or `gap` though they meet.
    #[error("{level} of {papers}: wrong status for the bound {bound} and the value {value}")]
    Status { papers: String, level: &'static str, bound: i64, value: i64 },
    /// A number of a certificate that may not be.
    #[error("{level} of {papers}: `{what}` of the certificate is missing or out of range")]
    CertificateNumber { papers: String, level: &'static str, what: String },
    /// A value of something that is not part of the group.
    #[error("{level} of {papers}: `{id}` does not belong in this certificate")]
    CertificateUnknown { papers: String, level: &'static str, id: String },
    /// A sheet value that a pack of it would not pay for.
    #[error("{level} of {papers}: the certificate values a pack of `{sheet}` above its price")]
    CertificatePack { papers: String, level: &'static str, sheet: String },
    /// A pattern that is worth more than the certificate allows.
    #[error(
        "{level} of {papers}: a pattern of `{sheet}` is worth {found}, more than the {most} allowed"
    )]
    CertificatePattern {
        papers: String,
        level: &'static str,
        sheet: String,
        found: i128,
        most: i128,
    },
    /// A table that would take too long.
    #[error("{level} of {papers}: there are too many patterns of `{sheet}` to check")]
    CertificateTooLarge { papers: String, level: &'static str, sheet: String },
    /// A bound that the certificate does not prove.
    #[error("{level} of {papers}: a bound of {bound} is claimed, {proven} is proven")]
    Unproven { papers: String, level: &'static str, bound: i64, proven: i128 },
}
