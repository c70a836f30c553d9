//! `cardwright sizes`: formats, envelopes, sheets, papers and posts, and what fits what.

use super::arguments::SizesArguments;
use super::console::{Console, Exit};
use super::files;
use super::json;
use super::settings::NamedFile;
use super::table::{add, table};
use crate::diagnostics::{Problems, listed};
use crate::folds::{Blank, Score};
use crate::formats::{
    self, FormatKind, OwnFormats, PostClass, PostRules, nearest_format, said_kind,
};
use crate::measure::{Axis, Length, LengthError, LengthStyle, Size, Thickness, Unit};
use crate::sizes::{
    Held, OpenedFold, PostFacts, SHEET_FOLDS, SizeFacts, What, Yielded, answers, other_reading,
};
use crate::workshop::Workshop;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// What the posts decide, said wherever their rules are shown.
const POST_DECIDES: &str = "The post decides; these are its limits as of the day given, or as read on it, for a thin, light letter.\n";

/// What shows a list and no format.
pub const LISTS: [&str; 5] = ["cards", "envelopes", "sheets", "papers", "post"];

/// Shows all formats, or what is known of one.
pub fn run(typed: &SizesArguments, console: &mut Console) -> Exit {
    let mut problems = Problems::new();
    let workshop = files::optional(&workshop(&typed.workshop), &mut problems);
    if !problems.is_empty() {
        console.problems(&problems);
        return Exit::Use;
    }
    let workshop = crate::batch::read_workshop(workshop.as_ref(), &mut problems);
    console.problems(&problems);
    if problems.has_errors() {
        return Exit::Mistakes;
    }
    if typed.names {
        let names: String =
            names(&workshop.formats).iter().map(|name| format!("{name}\n")).collect();
        return console.result(names.as_bytes());
    }
    let list = |name: &str| LISTS.contains(&name);
    let text = match typed.name.as_deref() {
        name if typed.json && name.is_none_or(list) => {
            return console.result(json::text(&json::formats(&workshop)).as_bytes());
        }
        None => all(&workshop),
        Some("cards") => cards(&workshop),
        Some("envelopes") => envelopes(&workshop),
        Some("sheets") => sheets(&workshop),
        Some("papers") => papers(&workshop),
        Some("post") => posts(&workshop),
        Some(name) => {
            let answers = answers(name, &workshop);
            if answers.is_empty() && is_too_small(name, &workshop) {
                let least = workshop.style().with_unit(Length::LEAST_SIDE);
                let title = format!("{name:?} is too small to be cut");
                return console.refused(&title, &format!("no side can be less than {least}"));
            }
            if answers.is_empty() {
                return match inexact(name, &workshop) {
                    Some(near) => {
                        let title = format!("a side of {name:?} is not an exact length");
                        console.refused(&title, &format!("the nearest thousandths are {near}"))
                    }
                    None => unknown(name, &workshop, console),
                };
            }
            if typed.json {
                return console.result(json::text(&json::answers(&answers)).as_bytes());
            }
            let texts: Vec<String> = answers.iter().map(|answer| told(answer, &workshop)).collect();
            match answers.first().map(|answer| answer.what) {
                Some(What::Size) => doubted(name, texts.join("\n"), &workshop),
                _ => texts.join("\n"),
            }
        }
    };
    console.page(&text)
}

/// The text, and in which unit the size was read if that is doubtful.
fn doubted(name: &str, text: String, workshop: &Workshop) -> String {
    let Some(other) = other_reading(name, workshop) else { return text };
    let unit = match workshop.unit {
        Unit::Inch => "inches",
        Unit::Millimetre => "millimetres",
        Unit::Centimetre => "centimetres",
    };
    let (first, rest) = text.split_once('\n').unwrap_or((&text, ""));
    format!(
        "{first}\n  Read in {unit}, the unit of the workshop. If you mean another, write {other}.\n{rest}"
    )
}

/// The lengths beside the side of a size that is between two of them, in the unit that it was typed in.
fn inexact(name: &str, workshop: &Workshop) -> Option<String> {
    let error = Size::parse(name, workshop.unit)?.err()?;
    let (_, LengthError::NotExact { below, unit, .. }) = error else { return None };
    let step = match unit {
        Unit::Inch => Length::from_inch_parts(1, 1000),
        Unit::Millimetre | Unit::Centimetre => Length::from_ticks(Length::TICKS_PER_MM / 1000),
    };
    let low = below.rounded_down(step);
    let style = LengthStyle { unit, graduation: Length::from_ticks(1) };
    Some(format!("{} and {}", style.with_unit(low), style.with_unit(low + step)))
}

/// Whether it is a size that no trimmer cuts.
fn is_too_small(name: &str, workshop: &Workshop) -> bool {
    let size = Size::parse(name, workshop.unit).and_then(Result::ok);
    size.is_some_and(|size| size.is_positive() && size.short() < Length::LEAST_SIDE)
}

/// The bench that is named, else the one here, else the one in `orders`.
fn workshop(named: &Option<PathBuf>) -> NamedFile {
    let here = || match Path::new("workshop.toml").exists() {
        true => PathBuf::from("workshop.toml"),
        false => PathBuf::from("orders/workshop.toml"),
    };
    NamedFile { path: named.clone().unwrap_or_else(here), named: named.is_some() }
}

fn unknown(name: &str, workshop: &Workshop, console: &mut Console) -> Exit {
    let own = &workshop.formats;
    let cards = own.all_cards().map(|card| (FormatKind::Card, card.name.as_str()));
    let envelopes =
        own.all_envelopes().map(|envelope| (FormatKind::Envelope, envelope.name.as_str()));
    let sheets = own.all_sheets().map(|sheet| (FormatKind::Sheet, sheet.name.as_str()));
    let names: Vec<_> = cards.chain(envelopes).chain(sheets).collect();
    let of = |kind: Option<FormatKind>| {
        let names = names.iter().filter(move |(own, _)| kind.is_none_or(|kind| kind == *own));
        names.map(|(_, name)| *name)
    };
    // An envelope for an envelope, whatever is spelt more alike.
    let said = said_kind(name);
    let same_kind = said.and_then(|(kind, rest)| nearest_format(&rest, of(Some(kind))));
    let help = match same_kind.or_else(|| nearest_format(name, of(None))) {
        Some(near) => format!("did you mean {near}?"),
        None => "`cardwright sizes` lists all names; a size is width x height".to_owned(),
    };
    console.refused(&format!("there is no format {name:?}, and it is not a size"), &help)
}

fn all(workshop: &Workshop) -> String {
    let parts = [
        ("Cards", cards(workshop)),
        ("Envelopes", envelopes(workshop)),
        ("Sheets", sheets(workshop)),
        ("Papers", papers(workshop)),
        ("Posts", posts(workshop)),
    ];
    let parts = parts.iter().map(|(title, text)| format!("{title}\n\n{text}"));
    parts.collect::<Vec<_>>().join("\n")
}

/// A size in inches and in millimetres.
fn both(size: Size, workshop: &Workshop) -> [String; 2] {
    let graduation = workshop.trimmer.graduation;
    [Unit::Inch, Unit::Millimetre].map(|unit| match unit {
        Unit::Inch => inches(size, graduation),
        unit => LengthStyle { unit, graduation }.size(size),
    })
}

/// In inches: a fraction where there is one, else to a hundredth.
fn inches(size: Size, graduation: Length) -> String {
    let exact = LengthStyle { unit: Unit::Inch, graduation }.size(size);
    if !exact.contains("mm") && exact.len() < 24 {
        return exact;
    }
    let hundredths = |length: Length| {
        let inch = i128::from(Length::TICKS_PER_INCH);
        let nearest = (i128::from(length.ticks()) * 200 + inch).div_euclid(2 * inch);
        format!("{}.{:02}", nearest / 100, nearest % 100)
    };
    format!("about {} x {} in", hundredths(size.width), hundredths(size.height))
}

fn cards(workshop: &Workshop) -> String {
    let rows = workshop.formats.all_cards().map(|card| {
        let [inches, mm] = both(card.size, workshop);
        let fold = card.fold.opens().map(|_| card.fold.word());
        vec![card.name.clone(), inches, mm, fold.unwrap_or_default(), card.source.clone()]
    });
    table(&["card", "inches", "millimetres", "fold", "source"], rows.collect())
}

fn envelopes(workshop: &Workshop) -> String {
    let rows = workshop.formats.all_envelopes().map(|envelope| {
        let [inches, mm] = both(envelope.size, workshop);
        vec![envelope.name.clone(), inches, mm, envelope.source.clone()]
    });
    table(&["envelope", "inches", "millimetres", "source"], rows.collect())
}

fn sheets(workshop: &Workshop) -> String {
    let rows = workshop.formats.all_sheets().map(|sheet| {
        let [inches, mm] = both(sheet.size, workshop);
        let edges = if sheet.trimmed { "trimmed" } else { "rough" };
        vec![sheet.name.clone(), inches, mm, edges.to_owned(), sheet.source.clone()]
    });
    table(&["sheet", "inches", "millimetres", "edges", "source"], rows.collect())
}

fn papers(workshop: &Workshop) -> String {
    let thickness = |thickness: Thickness| {
        let mm = LengthStyle { unit: Unit::Millimetre, graduation: workshop.trimmer.graduation };
        mm.with_unit(thickness.length())
    };
    let gsm = |milligrams: u64| {
        let tenths = (milligrams + 50) / 100;
        format!("{}.{}", tenths / 10, tenths % 10)
    };
    let rows = formats::paper_weights().into_iter().map(|weight| {
        vec![
            format!("{} lb {}", weight.pounds, weight.grade),
            gsm(weight.milligrams_per_square_metre),
            thickness(weight.guessed),
        ]
    });
    let sold = table(&["paper", ">g/m2", ">thickness, a guess"], rows.collect());
    let rows = formats::calipers().iter().map(|caliper| {
        vec![
            caliper.name.clone(),
            gsm(caliper.milligrams_per_square_metre),
            thickness(caliper.thickness),
            caliper.source.clone(),
        ]
    });
    let specified = table(&["stock", ">g/m2", ">thickness", "specified by"], rows.collect());
    format!(
        "{sold}\n  Papers of one weight differ in thickness: measure yours, and write it in sheets.csv.\n\n{specified}"
    )
}

fn posts(workshop: &Workshop) -> String {
    let style = workshop.style();
    let row = |rules: &PostRules, class: &PostClass| {
        let sides = |sides: [Option<Length>; 3]| {
            let written =
                sides.map(|side| side.map_or("-".to_owned(), |side| style.with_unit(side)));
            if sides == [None; 3] { "-".to_owned() } else { written.join(" x ") }
        };
        let heaviest = class.heaviest().map(|weight| weight.grams()).unwrap_or_default();
        vec![
            rules.name.clone(),
            class.name.clone(),
            sides(class.least()),
            sides(class.most()),
            heaviest,
            rules.as_of(),
            class.source.clone(),
        ]
    };
    let rules = formats::post_rules().iter();
    let rows = rules.flat_map(|rules| rules.classes.iter().map(move |class| row(rules, class)));
    let titles = ["rules", "class", "at least", "at most", ">to", "as of", "source"];
    format!("{}\n  {POST_DECIDES}", table(&titles, rows.collect()))
}

fn told(answer: &SizeFacts, workshop: &Workshop) -> String {
    let [inches, mm] = both(answer.size, workshop);
    let (kind, source) = match answer.what {
        What::Size => ("size".to_owned(), ""),
        What::Card(card) => (format!("card {}", card.name), card.source.as_str()),
        What::Envelope(envelope) => {
            (format!("envelope {}", envelope.name), envelope.source.as_str())
        }
        What::Sheet(sheet) => (format!("sheet {}", sheet.name), sheet.source.as_str()),
    };
    let mut text = format!("{kind}: {inches}, {mm}");
    if !source.is_empty() {
        text.push_str(&format!(" ({source})"));
    }
    text.push('\n');
    let titles = |what| [what, "inches", "millimetres", ">room long", ">room short"];
    add(&mut text, table(&titles("fits in"), held(&answer.envelopes, workshop)));
    add(&mut text, table(&titles("holds"), held(&answer.cards, workshop)));
    add(&mut text, opened_table(&answer.opened, workshop));
    add(&mut text, cut_table(&answer.sheets, workshop));
    if matches!(answer.what, What::Size | What::Card(_)) && answer.sheets.is_empty() {
        text.push_str("\n  No listed sheet is large enough, or the knife is too short: add your own under [formats.sheets].\n");
    }
    if matches!(answer.what, What::Size | What::Card(_)) && answer.envelopes.is_empty() {
        text.push_str("\n  No listed envelope holds it: cut one, or add your own under [formats.envelopes].\n");
    }
    add(&mut text, alone(&answer.alone));
    add(&mut text, post_table(&answer.post, workshop));
    text
}

fn held(all: &[Held], workshop: &Workshop) -> Vec<Vec<String>> {
    let style = workshop.style();
    let row = |held: &Held| {
        let [inches, mm] = both(held.size, workshop);
        let (long, short) = held.room;
        vec![held.name.to_owned(), inches, mm, style.with_unit(long), style.with_unit(short)]
    };
    all.iter().map(row).collect()
}

fn cut_table(all: &[Yielded], workshop: &Workshop) -> String {
    let count = |count: Option<u64>| match count {
        None => "many".to_owned(),
        Some(0) => "-".to_owned(),
        Some(count) => count.to_string(),
    };
    let row = |cut: &Yielded| {
        let [inches, mm] = both(cut.sheet.size, workshop);
        let left = cut.used.map(|used| 1000 - used);
        let left = left.map(|left| format!("{}.{} %", left / 10, left % 10));
        let counts = cut.counts.map(count);
        [cut.sheet.name.clone(), inches, mm]
            .into_iter()
            .chain(counts)
            .chain([left.unwrap_or_default()])
            .collect()
    };
    let folds = SHEET_FOLDS.map(|fold| format!(">{}", fold.word()));
    let titles = ["cut from", "inches", "millimetres"];
    let titles: Vec<&str> =
        titles.into_iter().chain(folds.iter().map(String::as_str)).chain([">left, flat"]).collect();
    table(&titles, all.iter().map(row).collect())
}

/// `gate   9 7/8 x 7 in   250.825 x 177.8 mm   2 7/16 and 7 7/16 in from the left`.
fn opened_table(all: &[OpenedFold], workshop: &Workshop) -> String {
    let style = workshop.style();
    let scored = |scores: &[Score], across: Axis| {
        let at = scores.iter().filter(|score| score.across == across);
        let at: Vec<String> = at.map(|score| style.with_unit(score.at)).collect();
        let edge = if across == Axis::Width { "left" } else { "top" };
        (!at.is_empty()).then(|| format!("{} from the {edge}", listed(&at)))
    };
    let row = |opened: &OpenedFold| {
        let Blank { size, scores, .. } = &opened.blank;
        let [inches, mm] = both(*size, workshop);
        let scored: Vec<String> =
            [Axis::Width, Axis::Height].into_iter().filter_map(|it| scored(scores, it)).collect();
        vec![opened.fold.word(), inches, mm, scored.join(", ")]
    };
    let rows =
        table(&["fold", "inches, open", "millimetres", "scores"], all.iter().map(row).collect());
    match rows.is_empty() {
        true => rows,
        false => format!(
            "{rows}\n  Of thin paper; the panel of a letter fold that is folded in is shorter where the paper is thicker.\n"
        ),
    }
}

/// `Without an envelope, unfolded and in a single sheet: postcard (usps).`
fn alone(all: &[(&PostRules, &PostClass)]) -> String {
    let told =
        |(rules, class): &(&PostRules, &PostClass)| format!("{} ({})", class.name, rules.name);
    let told: Vec<String> = all.iter().map(told).collect();
    match told.is_empty() {
        true => String::new(),
        false => {
            format!("  Without an envelope, unfolded and in a single sheet: {}.\n", listed(&told))
        }
    }
}

fn post_table(post: &[PostFacts], workshop: &Workshop) -> String {
    let style = workshop.style();
    let row = |facts: &PostFacts| {
        let why = facts.verdict.why(style);
        let better = facts.roomier.map(|(name, class)| format!("in {name}: {}", class.name));
        let why = Some(why).filter(|why| !why.is_empty()).into_iter().chain(better);
        vec![
            facts.rules.name.clone(),
            facts.verdict.word().to_owned(),
            why.collect::<Vec<_>>().join("; "),
            facts.room.map(|room| room.told(style, false)).unwrap_or_default(),
            facts.rules.as_of(),
        ]
    };
    let titles = ["post", "class", "why", "could be", "as of"];
    let rows = table(&titles, post.iter().map(row).collect());
    if rows.is_empty() { rows } else { format!("{rows}\n  {POST_DECIDES}") }
}
/// Lists, and all formats of one word, without their family: some shells part a name at its blanks, and read much
/// else as a command.
pub fn names(own: &OwnFormats) -> BTreeSet<&str> {
    let cards = own.all_cards().map(|card| card.name.as_str());
    let envelopes = own.all_envelopes().map(|envelope| envelope.name.as_str());
    let sheets = own.all_sheets().map(|sheet| sheet.name.as_str());
    let short = |name| {
        let bare = ["ISO ", "US "].iter().find_map(|family| str::strip_prefix(name, family));
        bare.unwrap_or(name)
    };
    let is_plain = |letter: char| letter.is_alphanumeric() || "/.-_".contains(letter);
    let formats = cards.chain(envelopes).chain(sheets).map(short);
    formats.filter(|name| name.chars().all(is_plain)).chain(LISTS).collect()
}
