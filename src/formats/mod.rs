//! The tables of the trade, with a source per row.
//!
//! In: a name. Out: what it stands for. It knows nothing of orders.

mod cards;
mod contents;
mod envelopes;
mod fold;
mod labels;
mod list;
mod names;
mod own;
mod papers;
mod post;
mod sheets;

pub use cards::{CardFormat, alike, card, cards, ending_in};
pub use contents::{Contents, contents};
pub use envelopes::{
    EnvelopeFormat, EnvelopeSystem, LEAST_ROOM, envelope, envelopes, holders, holds, room,
};
pub use fold::fold;
pub use labels::{LabelGrid, label_grids};
pub use list::plain;
pub use names::{FormatKind, means, nearest_format, said_kind};
pub use own::{OwnFormats, is_name};
pub use papers::{
    Caliper, Grade, PaperWeight, calipers, grades, guessed_thickness, paper_weights,
    parse_paper_weight,
};
pub use post::{
    Letter, MailContents, MailForm, PostClass, PostRoom, PostRules, PostVerdict, Reason, RulesDay,
    Side, post_rules, rules_of,
};
pub use sheets::{SheetFormat, sheets};
