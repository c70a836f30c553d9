//! What one finished set of each order line holds.

use super::PackStep;
use crate::measure::LengthStyle;
use crate::orders::{Envelope, Fold, Order, OrderLine};

/// Every order line, in the order of the file.
pub(super) fn packing(order: &Order, style: LengthStyle) -> Vec<PackStep> {
    let step = |line: &OrderLine| PackStep {
        line: line.name.value.clone(),
        count: line.count.value,
        contents: contents(line, style),
    };
    order.lines.iter().map(step).collect()
}

fn contents(line: &OrderLine, style: LengthStyle) -> Vec<String> {
    let fold = match line.fold {
        Fold::Side => "side fold",
        Fold::Top => "top fold",
        Fold::Flat => "flat",
    };
    let card = style.size(line.card.value);
    let mut contents = vec![format!("card {card}, {fold}, {}", line.papers.value.join(" or "))];
    contents.extend(line.liner.as_ref().map(|paper| format!("liner inside, {}", paper.value)));
    contents.extend(line.mats.iter().map(|mat| format!("mat on the front, {}", mat.paper.value)));
    contents.extend(match &line.envelope {
        Envelope::None => None,
        Envelope::Bought => Some("envelope, bought".to_owned()),
        Envelope::Cut(paper) => Some(format!("envelope, cut from {}", paper.value)),
    });
    contents
}
