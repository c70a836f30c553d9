//! The walk: every stop in the order of the work, one of which the script of the page shows. What its row of the schedule
//! says already is taken from there.

use super::section;
use crate::diagnostics::counted;
use crate::reports::report::Step;
use crate::reports::svg::{self, Caption};
use crate::reports::visible::escaped;
use crate::reports::walk::{CutStop, Doing, LyingPart, WalkStop, WorkStop};

/// All stops.
pub fn stops(walk: &[WalkStop]) -> String {
    walk.iter().enumerate().map(|(at, it)| stop(it, at + 1)).collect()
}

/// What is said at the end.
const FINISHED: &str = "<h2>All is done</h2><p>Close and latch the blade.</p><p>Press <b>Done</b>: it shows what to type, \
                        at the computer where you planned, so that your lists say what was used and what is in the drawer.</p>\
                        <p>Keep the spares that are left, in case one is missing.</p>";

fn stop(stop: &WalkStop, number: usize) -> String {
    let id = format!("go-{number}");
    let kind = if matches!(stop.task, Doing::Cut(_)) { "stop cut" } else { "stop" };
    let (more, inner) = match &stop.task {
        Doing::Section(section) => (format!(" data-shows=\"{section}\""), String::new()),
        Doing::Cut(cut) => (cut_data(&cut.step), cut_words(cut, &id)),
        Doing::Work(work) => (work_data(work), work_words(work, &id)),
        Doing::Finish => (" data-ends".to_owned(), FINISHED.to_owned()),
    };
    let left = match stop.left.as_str() {
        "" => String::new(),
        left => format!(" data-left=\"{left}\""),
    };
    format!(
        "<article class=\"{kind}\" id=\"{id}\" data-place=\"{}\"{left}{more} hidden>{inner}</article>\n",
        escaped(&stop.place)
    )
}

/// What the script reckons with: the box that is ticked, the stack, its sheets, the lifts, and whether it is whole sheets.
fn cut_data(step: &Step) -> String {
    format!(
        " data-tick=\"step-{}\" data-from=\"{}\" data-plates=\"{}\" data-lifts=\"{}\"{}",
        step.number,
        escaped(&step.stack),
        step.stack_count,
        step.lifts,
        if step.fetch.is_some() { " data-whole" } else { "" }
    )
}

fn work_data(work: &WorkStop) -> String {
    let piece = work.piece.as_ref();
    let piece =
        piece.map(|id| format!(" data-piece=\"{}\" data-count=\"{}\"", escaped(id), work.count));
    format!(" data-tick=\"{}\"{}", work.tick, piece.unwrap_or_default())
}

fn cut_words(cut: &CutStop, id: &str) -> String {
    let step = &cut.step;
    let heading = match step.fetch {
        Some(sheets) => {
            format!("Take {} of {}: stack {}", counted(sheets, "sheet"), step.sheet, step.stack)
        }
        None => format!("Cut stack {}", step.stack),
    };
    let set = if step.new_setting { "Set the gauge to" } else { "Leave the gauge at" };
    format!(
        "<h2><span class=\"disc\">{}</span> {}</h2><p class=\"quiet\">{}</p><p class=\"at\">{set} </p>{}<p>{}</p>\
         <p class=\"lifts\">{}</p>",
        step.number,
        section::joints(&heading),
        escaped(&about(step)),
        picture(cut, id),
        lie(cut),
        lifts(cut),
    )
}

/// What the stack is.
fn about(step: &Step) -> String {
    let marked = if step.marked { ", marked edge on top" } else { "" };
    let count = counted(step.stack_count, "sheet");
    format!("{count} {}, drawing {}{marked}", section::unbroken(&step.stack_size), step.run)
}

fn picture(cut: &CutStop, id: &str) -> String {
    let step = &cut.step;
    let title =
        format!("Stack {}, {} edge at the fence, knife at {}", step.stack, step.fence, step.gauge);
    let part = |part: &LyingPart| {
        let side = if part.comes_off { "comes off" } else { "stays" };
        format!("{side}: {}", part.words.join(" "))
    };
    let parts: Vec<String> = cut.view.parts.iter().map(part).collect();
    let told = Caption { id, title: &title, description: &parts.join("; ") };
    svg::fence(&cut.view, &step.stack, &step.gauge, told)
}

/// How the stack lies.
fn lie(cut: &CutStop) -> String {
    let step = &cut.step;
    let arrow = match cut.view.turns {
        0 => "away from you",
        1 => "to the right",
        2 => "towards you",
        _ => "to the left",
    };
    let fence = format!(
        "At the fence: <b>{}</b> edge, {} long. The arrow points <b>{arrow}</b>",
        step.fence,
        section::unbroken(&cut.edge)
    );
    let side = match step.side_lay {
        Some(edge) => format!("; at the side lay: <b>{edge}</b> edge"),
        None => String::new(),
    };
    let squares = if step.squaring { ". Squares the edge in front" } else { "" };
    let narrow = if cut.is_narrow { ". Narrow: press it down with a ruler or a block" } else { "" };
    format!("{fence}{side}{squares}{narrow}")
}

/// Lifts, and cuts in each.
fn lifts(cut: &CutStop) -> String {
    let step = &cut.step;
    let cuts = format!("<b>{}</b> {}", step.cuts, if step.cuts == 1 { "cut" } else { "cuts" });
    let short = match step.short_lift {
        Some(sheets) => format!(", {sheets} in the last"),
        None => String::new(),
    };
    let lifts = match step.lifts {
        1 => cuts,
        lifts => format!(
            "<b>{lifts}</b> lifts × {cuts}, at most {} in a lift{short}",
            counted(cut.lift, "sheet")
        ),
    };
    let push =
        if step.cuts > 1 { ". After each cut, push the stack to the fence again." } else { "" };
    format!("{lifts}{push}")
}

fn work_words(work: &WorkStop, id: &str) -> String {
    let about = match work.about.as_str() {
        "" => String::new(),
        about => format!("<p class=\"quiet\">{}</p>", escaped(&section::unbroken(about))),
    };
    let told = Caption { id, title: &work.title, description: "" };
    let list = |tag: &str, steps: &[String]| {
        let item = |step: &String| format!("<li>{}</li>", escaped(&section::unbroken(step)));
        let items: String = steps.iter().map(item).collect();
        if items.is_empty() { items } else { format!("<{tag} class=\"todo\">{items}</{tag}>") }
    };
    let holds = match list("ul", &work.holds) {
        holds if work.holds.len() < 2 => holds,
        holds => format!("<p>What goes together:</p>{holds}"),
    };
    let said: String = work.said.iter().map(|said| format!("<p>{}</p>", escaped(said))).collect();
    let cautions = match work.cautions.as_slice() {
        [] => String::new(),
        cautions => format!("<p class=\"mind\">{}</p>", escaped(&cautions.join(" "))),
    };
    format!(
        "<h2>{}</h2>{about}{cautions}{}{holds}{}{said}",
        section::joints(&work.heading),
        svg::panels(&work.panels, work.is_scored, told),
        list("ol", &work.steps),
    )
}
