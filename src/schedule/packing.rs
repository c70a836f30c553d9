//! What one finished set of each order line holds.

use super::PackStep;
use super::colours::Colours;
use crate::diagnostics::{counted, listed};
use crate::folds::{Fold, FoldStyle};
use crate::job::Job;
use crate::measure::LengthStyle;
use crate::orders::{Envelope, GiftBox, Liner, LinerKind, OrderLine};
use crate::pieces::{CardFinish, CardSundry, Enclosed, Pocket, finishes, sundries};
use crate::plan::Plan;
use crate::stock::StockItem;
use crate::workshop::Workshop;
use std::collections::BTreeMap;

/// Every order line, after those whose sets go in its envelope.
pub(super) fn packing(plan: &Plan, job: &Job) -> Vec<PackStep> {
    let Job { order, stock, workshop, bill, .. } = job;
    let mut colours = Colours::of(plan, bill);
    let enclosed = Enclosed::of(order, bill, stock, workshop);
    let parts = order.lines.iter().map(|line| {
        let pocket = enclosed.pocket(line);
        let own = sundries(line, stock);
        (line.name.value.as_str(), contents(line, &colours.take(line), pocket, &own, workshop))
    });
    let mut parts: BTreeMap<&str, Vec<String>> = parts.collect();
    let mut steps = Vec::new();
    let nesting = enclosed.nesting();
    for line in nesting.inside_out() {
        let name = line.name.value.as_str();
        let inner = nesting.inside(name).iter().map(|inner| inner.name.value.as_str());
        let inner: Vec<String> =
            inner.map(|inner| format!("{inner} with it: {}", parts[inner].join("; "))).collect();
        let contents = parts.entry(name).or_default();
        contents.extend(inner);
        let (line_name, count) = (name.to_owned(), line.count.value);
        steps.push(PackStep {
            line: line_name,
            count,
            contents: contents.clone(),
            tasks: tasks(line, &nesting.names_inside(name), &sundries(line, stock)),
            seconds: sundries(line, stock).iter().map(|it| it.sundry.seconds).sum::<u64>() * count,
        });
    }
    steps
}

fn contents(
    line: &OrderLine,
    papers: &str,
    pocket: Option<&Pocket>,
    sundries: &[CardSundry],
    workshop: &Workshop,
) -> Vec<String> {
    let style = workshop.style();
    let fold = line.fold.told();
    let card = style.size(line.card.value);
    let mut contents = vec![format!("card {card}, {fold}, {papers}")];
    contents.extend(line.liner.as_ref().map(liner));
    contents.extend(line.extras.insert.as_ref().map(|insert| {
        let size = insert.size.map(|size| format!(" {}", style.size(size))).unwrap_or_default();
        format!("insert{size} laid in, {}", insert.paper.value)
    }));
    let face = match line.fold.style {
        FoldStyle::Gate => "each half of the front",
        _ => "the front",
    };
    contents.extend(line.mats.iter().map(|mat| format!("mat on {face}, {}", mat.paper.value)));
    let band = line.extras.band.as_ref();
    contents.extend(band.map(|band| format!("band round it, {}", band.paper.value)));
    let finished: Vec<String> = finishes(line, workshop).iter().map(CardFinish::told).collect();
    contents.extend((!finished.is_empty()).then(|| format!("finish: {}", listed(&finished))));
    contents.extend(sundries.iter().map(CardSundry::told));
    let envelope = match &line.envelope {
        Envelope::None => None,
        Envelope::PostedWithout => Some("posted without an envelope".to_owned()),
        Envelope::Bought | Envelope::Ready(_) => Some(bought(pocket, style)),
        Envelope::Cut(paper) => {
            let room = pocket.and_then(|pocket| roomier(line, pocket, workshop));
            Some(format!("envelope, cut from {}{}", paper.value, room.unwrap_or_default()))
        }
    };
    let lining = line.extras.envelope_liner.as_ref();
    let lining = lining.map(|paper| format!(", lined with {}", paper.value));
    contents.extend(envelope.map(|envelope| envelope + &lining.unwrap_or_default()));
    contents
        .extend(line.extras.gift_box.as_ref().map(|gift_box| in_box(gift_box, line.count.value)));
    contents
}

/// What is done with the parts of all sets, one after the other; sets of the `inner` lines lie in their envelopes. A band was put round everything when it was glued.
fn tasks(line: &OrderLine, inner: &[String], sundries: &[CardSundry]) -> Vec<String> {
    let pieces = |it: &CardSundry| {
        let StockItem { name, unit, .. } = &it.sundry.supply;
        let sets = line.count.value;
        let each = unit.told(it.amount);
        unit.is_length().then(|| format!("cut {}, {each} each", counted_of(sets, name)))
    };
    let cut: Vec<String> = sundries.iter().filter_map(pieces).collect();
    let told: Vec<String> = sundries.iter().map(CardSundry::told).collect();
    let added = (!told.is_empty()).then(|| format!("add to each card: {}", listed(&told)));
    let insert = line.extras.insert.as_ref().filter(|_| line.extras.band.is_none());
    let where_to = if line.fold == Fold::FLAT { "with each card" } else { "in each card" };
    let insert = insert.map(|_| format!("lay an insert {where_to}"));
    let laid = (!inner.is_empty()).then(|| {
        format!(
            "lay a finished {} on the front of each card, long side along long side",
            listed(inner)
        )
    });
    let enveloped = match line.envelope {
        Envelope::None | Envelope::PostedWithout => None,
        // Its guest finds card and envelope together, and seals it (common practice, no source).
        _ if line.goes_in.is_some() => Some(
            "lay each card on its envelope, under the flap; do not stick the flap down".to_owned(),
        ),
        _ => Some(
            "put each card in its envelope, and fold the flap down without sealing it".to_owned(),
        ),
    };
    let boxed = line.extras.gift_box.as_ref().map(|gift_box| match gift_box.holds {
        1 => format!("put each set in its box, and {TUCK}"),
        holds => match boxes(gift_box, line.count.value) {
            1 => format!("put all sets in the box, and {TUCK}"),
            boxes => format!("put {holds} sets in each of {boxes} boxes, and {TUCK}"),
        },
    });
    let kept = line.host().map(|host| format!("put them aside for {host}"));
    let tasks = [added, insert, laid, enveloped, boxed, kept].into_iter().flatten();
    let tasks: Vec<String> = cut.into_iter().chain(tasks).collect();
    if tasks.is_empty() { vec![format!("count out {}", line.count.value)] } else { tasks }
}

/// `40 pieces of ribbon`.
fn counted_of(count: u64, what: &str) -> String {
    format!("{} of {what}", counted(count, "piece"))
}

/// How a box is closed.
const TUCK: &str = "tuck the flap of the lid inside the front wall";

/// Boxes for so many sets.
fn boxes(gift_box: &GiftBox, sets: u64) -> u64 {
    sets.div_ceil(gift_box.holds.max(1))
}

/// The envelope that fits the card most closely, since nobody said which.
fn bought(pocket: Option<&Pocket>, style: LengthStyle) -> String {
    match pocket.map(|pocket| (pocket.name.as_ref(), pocket.face)) {
        Some((Some(name), face)) => format!("envelope, bought: {name}, {}", style.size(face)),
        _ => "envelope, bought".to_owned(),
    }
}

/// The room that a cut envelope leaves, where the marks of the gauge make it more than the workshop asks for.
fn roomier(line: &OrderLine, pocket: &Pocket, workshop: &Workshop) -> Option<String> {
    let (card, rules) = (line.card.value, &workshop.envelope);
    let [long, short] = [pocket.face.width - card.long(), pocket.face.height - card.short()];
    let style = workshop.style();
    (long != rules.clear_long || short != rules.clear_short)
        .then(|| format!(", {} and {} of room", style.with_unit(long), style.with_unit(short)))
}

fn liner(liner: &Liner) -> String {
    let paper = &liner.paper.value;
    match liner.kind {
        LinerKind::Folded => format!("folded liner inside, {paper}"),
        LinerKind::Panel => format!("liner inside, {paper}"),
        LinerKind::PanelOf(panel) => format!("liner inside on panel {panel}, {paper}"),
    }
}

fn in_box(gift_box: &GiftBox, sets: u64) -> String {
    let paper = &gift_box.paper.value;
    match gift_box.holds {
        1 => format!("a box for each, cut from {paper}"),
        holds => {
            let boxes = counted(boxes(gift_box, sets), "box");
            format!("{boxes}, cut from {paper}, {holds} sets to a box")
        }
    }
}
