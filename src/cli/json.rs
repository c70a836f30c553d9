//! What a script reads: the same as a person is shown, in a fixed shape. `schema/` holds the JSON Schema of each
//! document.
//!
//! Lengths are ticks and money minor units, both whole, as in `plan.json`; what is not known is `null`. A key may be
//! added; one that changes its meaning asks for a new schema.

use super::shelf::ChainProof;
use crate::diagnostics::codes::Code;
use crate::diagnostics::{Problem, Problems};
use crate::folds::Blank;
use crate::formats::{self, PostClass, PostRules, RulesDay};
use crate::measure::{Length, LengthStyle, Size};
use crate::reports::verdict::Judged;
use crate::shelf::{End, Entry, Inventory, Lying, LyingSupply};
use crate::sizes::{Held, OpenedFold, PostFacts, SizeFacts, What, Yielded};
use crate::stock::rounded;
use crate::workshop::Workshop;
use serde_json::{Value, json};

/// The text of a document, with a line end.
pub fn text(document: &Value) -> String {
    format!("{document:#}\n")
}

/// An entry of the journal, as a line of it says it.
///
/// # Errors
/// It is no JSON, which is a fault of the program.
pub fn entry(entry: &Entry) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(entry).map(|text| text + "\n")
}

/// What `check` found, and what of the sound plans is proven.
pub fn checked(problems: &Problems, plans: &[Judged]) -> Value {
    let told: Vec<Value> = problems.iter().map(Problem::document).collect();
    let plans: Vec<Value> = plans
        .iter()
        .map(|plan| {
            json!({
                "plan": plan.name,
                "judged_by": plan.against(),
                "on_trust": plan.trusted(),
                "unseen": plan.unseen(),
            })
        })
        .collect();
    let sound = !problems.has_errors();
    json!({ "schema": "cardwright-check-1", "sound": sound, "problems": told, "plans": plans })
}

/// Codes of errors and warnings.
pub fn codes<'a>(codes: impl Iterator<Item = &'a Code>) -> Value {
    let told: Vec<Value> = codes
        .map(|code| {
            json!({ "code": code.name, "meaning": code.meaning, "explanation": code.explanation })
        })
        .collect();
    json!({ "schema": "cardwright-codes-1", "codes": told })
}

/// What lies on a shelf, and for which batches some of it is set aside.
pub fn shelf(inventory: &Inventory, workshop: &Workshop, holders: &[String]) -> Value {
    let Inventory { papers, sheets, offcuts, supplies } = inventory;
    let style = workshop.style();
    let papers: Vec<Value> = papers
        .iter()
        .map(|it| {
            json!({
                "paper": it.paper,
                "sheets": it.sheets,
                "offcuts": it.offcuts,
                "worth": it.value.as_ref().map(|value| rounded(value).minor()),
            })
        })
        .collect();
    json!({
        "schema": "cardwright-shelf-1",
        "ticks_per_mm": Length::TICKS_PER_MM,
        "currency": workshop.currency.code(),
        "papers": papers,
        "sheets": sheets.iter().map(|it| lying(it, style)).collect::<Vec<_>>(),
        "offcuts": offcuts.iter().map(|it| lying(it, style)).collect::<Vec<_>>(),
        "supplies": supplies.iter().map(supply).collect::<Vec<_>>(),
        "set_aside_for": holders,
    })
}

/// Every change to a shelf, as a person reads it, and where the entries lead.
pub fn history(entries: &[(&Entry, String)], proof: &ChainProof, end: End) -> Value {
    let entries: Vec<Value> = entries
        .iter()
        .map(|(entry, told)| {
            // As the journal names it.
            let event = json!(entry.event);
            json!({
                "number": entry.number,
                "on": entry.on,
                "event": event.as_object().and_then(|event| event.keys().next()),
                "batch": entry.event.batch(),
                "told": told,
            })
        })
        .collect();
    let edits: &[String] = match proof {
        ChainProof::Edited(lines) => lines,
        ChainProof::Contradicted | ChainProof::Current => &[],
    };
    json!({
        "schema": "cardwright-history-1",
        "entries": entries,
        "sound": !matches!(proof, ChainProof::Contradicted),
        "current": matches!(proof, ChainProof::Current),
        "edits": edits,
        "complete": match end {
            End::Whole => Some(true),
            End::Cut => Some(false),
            End::Unknown => None,
        },
    })
}

fn supply(it: &LyingSupply) -> Value {
    json!({
        "name": it.name,
        "kind": it.kind.word(),
        "width": it.size.map(|size| size.width.ticks()),
        "height": it.size.map(|size| size.height.ticks()),
        "unit": it.unit.word(),
        "parts": it.unit.parts(),
        "amount": it.amount,
        "set_aside": it.reserved,
        "worth": it.value.as_ref().map(|value| rounded(value).minor()),
    })
}

fn lying(it: &Lying, style: LengthStyle) -> Value {
    let cards: Vec<Value> =
        it.cards.iter().map(|(card, count)| json!({ "card": card, "count": count })).collect();
    json!({
        "name": it.name,
        "paper": it.paper,
        "width": it.size.width.ticks(),
        "height": it.size.height.ticks(),
        "size": style.size(it.size),
        "count": it.count,
        "set_aside": it.reserved,
        "worth": it.value.as_ref().map(|value| rounded(value).minor()),
        "since": it.since.map(|(since, _)| since.to_string()),
        "days": it.since.map(|(_, days)| days),
        "cards": cards,
    })
}

/// All formats and papers.
pub fn formats(workshop: &Workshop) -> Value {
    let own = &workshop.formats;
    let cards = own.all_cards().map(|it| format(&it.name, it.size, &it.source));
    let envelopes = own.all_envelopes().map(|it| format(&it.name, it.size, &it.source));
    let sheets = own.all_sheets().map(|it| format(&it.name, it.size, &it.source));
    let papers = formats::paper_weights().into_iter().map(|it| {
        json!({
            "paper": format!("{} lb {}", it.pounds, it.grade),
            "mg_per_m2": it.milligrams_per_square_metre,
            "guessed_thickness": it.guessed.length().ticks(),
        })
    });
    json!({
        "schema": "cardwright-formats-1",
        "ticks_per_mm": Length::TICKS_PER_MM,
        "cards": cards.collect::<Vec<_>>(),
        "envelopes": envelopes.collect::<Vec<_>>(),
        "sheets": sheets.collect::<Vec<_>>(),
        "papers": papers.collect::<Vec<_>>(),
    })
}

fn format(name: &str, size: Size, source: &str) -> Value {
    json!({
        "name": name,
        "width": size.width.ticks(),
        "height": size.height.ticks(),
        "source": source,
    })
}

/// All that a name or a size may mean.
pub fn answers(answers: &[SizeFacts]) -> Value {
    json!({
        "schema": "cardwright-sizes-1",
        "ticks_per_mm": Length::TICKS_PER_MM,
        "answers": answers.iter().map(answer).collect::<Vec<_>>(),
    })
}

fn answer(answer: &SizeFacts) -> Value {
    let (kind, name) = match answer.what {
        What::Size => ("size", None),
        What::Card(card) => ("card", Some(&card.name)),
        What::Envelope(envelope) => ("envelope", Some(&envelope.name)),
        What::Sheet(sheet) => ("sheet", Some(&sheet.name)),
    };
    let alone = answer.alone.iter().map(|(rules, class)| alone(rules, class));
    json!({
        "kind": kind,
        "name": name,
        "width": answer.size.width.ticks(),
        "height": answer.size.height.ticks(),
        "opened": answer.opened.iter().map(opened).collect::<Vec<_>>(),
        "envelopes": answer.envelopes.iter().map(held).collect::<Vec<_>>(),
        "cards": answer.cards.iter().map(held).collect::<Vec<_>>(),
        "sheets": answer.sheets.iter().map(cut).collect::<Vec<_>>(),
        "posts": answer.post.iter().map(post).collect::<Vec<_>>(),
        "alone": alone.collect::<Vec<_>>(),
    })
}

fn opened(opened: &OpenedFold) -> Value {
    let Blank { size, scores, .. } = &opened.blank;
    json!({
        "fold": opened.fold.word(),
        "width": size.width.ticks(),
        "height": size.height.ticks(),
        "scores": scores,
    })
}

fn held(held: &Held) -> Value {
    let (long, short) = held.room;
    json!({ "name": held.name, "room_long": long.ticks(), "room_short": short.ticks() })
}

fn cut(cut: &Yielded) -> Value {
    let [flat, side, top, gate, letter, french, accordion] = cut.counts;
    json!({
        "name": cut.sheet.name,
        "flat": flat,
        "side_fold": side,
        "top_fold": top,
        "gate_fold": gate,
        "letter_fold": letter,
        "french_fold": french,
        "accordion_4": accordion,
    })
}

fn post(facts: &PostFacts) -> Value {
    let PostFacts { rules, verdict, room, roomier } = facts;
    let [longer, higher, _] = room.unwrap_or_default().sides.map(|side| side.map(Length::ticks));
    json!({
        "rules": rules.name,
        "class": verdict.class.map(|class| &class.name),
        "as_of": rules.day.day(),
        "dated": matches!(rules.day, RulesDay::AsOf(_)),
        "goes_as": verdict.word(),
        "longer": longer,
        "higher": higher,
        "roomier": roomier.map(|(name, class)| json!({ "name": name, "class": class.name })),
    })
}

fn alone(rules: &PostRules, class: &PostClass) -> Value {
    json!({ "rules": rules.name, "class": class.name })
}
