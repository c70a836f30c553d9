//! The shelf: sheets and offcuts as they lie there, from batch to batch.
//!
//! In: a checked plan and the files of the stock. Out: these files after the batch, a journal beside them, and the way
//! back. It knows nothing of reports.
//!
//! `settle.rs`, which writes nothing, works out the files after the batch from the plan and the files before it, as
//! changes of single cells and rows (`table/draft.rs`). `audit.rs` then reads the new files as if a person had written
//! them, and holds them against the plan: every name has what it should, and the area that was there and was bought is
//! the area that is there and became pieces, waste and dust. Only then does `store/` write them.

mod audit;
mod changes;
mod disk;
mod event;
mod inventory;
mod journal;
mod names;
mod newcomers;
mod origin;
mod portion;
mod settle;
mod store;
mod take;
mod undo;
mod unfit;

pub use crate::stock::{PerFile, Texts};
pub use audit::area;
pub use disk::{Disk, Sharing, SystemDisk};
pub use event::{
    Digests, Entry, Event, PartCost, Recount, RecountReason, Settled, Shift, StageWork, Stored,
    StoredStack, SupplyUnits, TakeRecord, digest, digests,
};
pub use inventory::{Inventory, Lying, LyingSupply, PaperSum};
pub use journal::Journal;
pub use origin::{
    Copies, FIRST_ORIGIN_SCHEMA, ORIGIN_SCHEMA, OrderCopy, Origin, identity, identity_of_files,
    inside, noted,
};
pub use portion::{NewStrips, Portion, StackLeft};
pub use settle::{Ground, Move, Planned, Refusal, Request, Settlement, SupplyMove, settle, units};
pub use store::{
    End, JOURNAL, Locks, Shelf, Spot, StoreError, View, Waiting, catching_up, check_names, look,
};
pub use take::{StockTaken, TakenRow, take, taken_already};
pub use undo::{Past, Reversal, differing_lines, undo};
pub use unfit::settled_already;
