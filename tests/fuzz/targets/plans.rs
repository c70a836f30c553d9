//! Small orders, planned with little effort and written: no panic, no plan that the judge rejects, none that
//! it does not read again.
#![no_main]

use arbitrary::Arbitrary;
use cardwright::batch::{self, By, Effort, Inputs, Options, Source};
use cardwright::reports::{self, Batch, Offered, Report};
use cardwright::{buying, pricing};
use libfuzzer_sys::fuzz_target;

#[derive(Arbitrary, Debug)]
struct Small {
    metric: bool,
    lines: Vec<Line>,
    sheets: Vec<Sheet>,
    offcuts: Vec<Sheet>,
    bench: Bench,
}

#[derive(Arbitrary, Debug)]
struct Line {
    name: String,
    side: (u8, u8),
    count: u8,
    paper: u8,
    fold: u8,
    turn: u8,
    mat: Option<(u8, u8)>,
    liner: Option<u8>,
    envelope: Option<u8>,
    note: String,
}

#[derive(Arbitrary, Debug)]
struct Sheet {
    paper: u8,
    side: (u8, u8),
    on_hand: u8,
    price: Option<u16>,
    pack: u8,
    grain: u8,
    print: u8,
}

#[derive(Arbitrary, Debug)]
struct Bench {
    knife: u8,
    blade: u8,
    squaring: u8,
    hold: u8,
    stages: u8,
    keep: (u8, u8, u8),
    spares: (u8, u8),
    grain: u8,
    diagonal: bool,
}

const PAPERS: [&str; 4] = ["fern", "moss", "fern|moss", "larch"];

fuzz_target!(|small: Small| planned(&small));

fn planned(small: &Small) {
    let named = |name: &str, text: String| Source { name: name.to_owned(), bytes: text.into() };
    let inputs = Inputs {
        orders: vec![named("spring.csv", order(small))],
        sheets: named("sheets.csv", stock("sheet", small.sheets.iter().take(3), small.metric)),
        offcuts: Some(named(
            "offcuts.csv",
            stock("offcut", small.offcuts.iter().take(3), small.metric),
        )),
        workshop: Some(named("workshop.toml", bench(&small.bench, small.metric))),
        ..Inputs::default()
    };
    let options = Options { effort: Effort::Quick, threads: Some(1), ..Options::default() };
    let outcome = batch::plan(&inputs, &options);
    assert!(outcome.faults.is_empty(), "{:?}", outcome.faults);
    let Some(made) = outcome.made else {
        assert!(outcome.problems.has_errors(), "neither a plan nor a reason");
        return;
    };
    let prices = pricing::prices(&made, &outcome.searched, &options, &|| false);
    let other_buying = buying::otherwise(&made, &outcome.searched, &options, &|| false);
    let batch =
        Batch { made: &made, since: None, prices: &prices, other_buying: &other_buying, offered: Offered::default() };
    let report = Report::of(&batch).expect("a report");
    let files = reports::files(&batch, &report).expect("files");
    for (name, bytes) in &files {
        if !name.ends_with(".pdf") {
            let text = std::str::from_utf8(bytes).expect("text");
            assert!(
                !text.contains(['\u{1b}', '\u{202e}', '\u{7}']) || name == "plan.json",
                "{name}"
            );
        }
    }
    let (_, bytes) = files.into_iter().find(|(name, _)| name == "plan.json").expect("a plan");
    let plan = Source { name: "plan.json".to_owned(), bytes };
    let judged = batch::judge(&plan, By::Inputs(&inputs));
    assert!(judged.sound.is_some(), "{:?}", judged.problems.iter().collect::<Vec<_>>());
}

/// A cell in quotes.
fn cell(text: &str) -> String {
    format!("\"{}\"", text.replace('"', "\"\"").replace('\0', ""))
}

fn order(small: &Small) -> String {
    let mut text =
        String::from("line,card,fold,count,paper,liner,mat,mat inset,envelope,turn,note\n");
    for (at, line) in small.lines.iter().take(4).enumerate() {
        let paper = |which: u8| PAPERS[usize::from(which) % 2];
        let (mat, inset) = line.mat.map_or((String::new(), String::new()), |(which, inset)| {
            (paper(which).to_owned(), length(inset % 16, small.metric))
        });
        let cells = [
            cell(&format!("{} {at}", line.name)),
            format!("{} x {}", side(line.side.0, small.metric), side(line.side.1, small.metric)),
            ["side", "top", "flat"][usize::from(line.fold) % 3].to_owned(),
            (line.count % 20 + 1).to_string(),
            PAPERS[usize::from(line.paper) % 3].to_owned(),
            line.liner.map_or("", paper).to_owned(),
            mat,
            inset,
            line.envelope
                .map_or("", |which| ["bought", "fern", "moss"][usize::from(which) % 3])
                .to_owned(),
            ["", "free", "half", "none"][usize::from(line.turn) % 4].to_owned(),
            cell(&line.note),
        ];
        text += &(cells.join(",") + "\n");
    }
    text
}

fn stock<'a>(kind: &str, sheets: impl Iterator<Item = &'a Sheet>, metric: bool) -> String {
    let (counts, prices) = match kind {
        "sheet" => ("on hand", ",price,pack,print"),
        _ => ("count", ""),
    };
    let mut text = format!("{kind},paper,width,height,{counts},grain{prices}\n");
    for (at, sheet) in sheets.enumerate() {
        let width = length(sheet.side.0.max(32), metric);
        let height = length(sheet.side.1.max(32), metric);
        let paper = PAPERS[usize::from(sheet.paper) % 2];
        let grain = ["", "width", "height"][usize::from(sheet.grain) % 3];
        text += &format!("{kind}{at},{paper},{width},{height},{},{grain}", sheet.on_hand % 8);
        if kind == "sheet" {
            let price = sheet
                .price
                .map_or(String::new(), |price| format!("{}.{:02}", price / 100, price % 100));
            let print = ["", "free", "two-way", "one-way"][usize::from(sheet.print) % 4];
            text += &format!(",{price},{},{print}", sheet.pack % 6 + 1);
        }
        text.push('\n');
    }
    text
}

/// Sixteenths of an inch, or twice as many millimetres.
fn length(parts: u8, metric: bool) -> String {
    match metric {
        true => format!("{} mm", u16::from(parts) * 2),
        false => format!("{} {}/16 in", parts / 16, parts % 16),
    }
}

/// A side of a card, at least an inch or so.
fn side(parts: u8, metric: bool) -> String {
    length(parts % 80 + 14, metric)
}

fn bench(bench: &Bench, metric: bool) -> String {
    let unit = if metric { "mm" } else { "in" };
    let length = |parts: u8| length(parts, metric);
    let (short, long, value) = bench.keep;
    let stages = match bench.stages % 5 {
        few @ 2.. => format!("stages = {few}\n"),
        _ => String::new(),
    };
    let rule = ["strict", "prefer", "ignore"][usize::from(bench.grain) % 3];
    let kind = if bench.diagonal { "diagonal" } else { "wrap" };
    format!(
        "unit = \"{unit}\"\n[trimmer]\nknife = \"{}\"\nblade = \"{}\"\nsquaring = \"{}\"\nsmallest_hold = \"{}\"\n{stages}\
         [keep]\nshort = \"{}\"\nlong = \"{}\"\nvalue = {}\n[spares]\npercent = {}\nat_least = {}\n\
         [grain]\nrule = \"{rule}\"\n[envelope]\nkind = \"{kind}\"\n",
        length(bench.knife.max(40)),
        length(bench.blade % 3),
        length(bench.squaring % 8),
        length(bench.hold % 32),
        length(short % 64 + 1),
        length(long % 64 + 64),
        value % 101,
        bench.spares.0 % 30,
        bench.spares.1 % 4,
    )
}
