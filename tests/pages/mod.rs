//! The pages for the printer, read and looked at as any reader of PDF would.
//!
//! Text is taken out by `pdf-extract`, pictures are made by Poppler's `pdftoppm`, where it is installed;
//! neither shares code with what writes the pages.

#![allow(clippy::print_stdout, reason = "a check that is skipped says so")]

pub mod browser;
mod picture;
mod walk;

use crate::program::Home;
use picture::Picture;
use std::collections::BTreeSet;

/// The shipped order, printed on one of the sizes.
struct Printed {
    schedule: Vec<u8>,
    labels: Vec<u8>,
    cuts: Vec<Vec<String>>,
    home: Home,
}

/// The wedding on pages of this size.
fn printed(page: &str) -> Printed {
    let home = Home::with(&["orders"]);
    let workshop = home.text("orders/workshop.toml");
    assert!(workshop.contains("page = \"letter\""));
    home.put("orders/workshop.toml", workshop.replace("\"letter\"", &format!("\"{page}\"")));
    home.done("plan orders/wedding.csv --quiet");
    let bytes = |name: &str| std::fs::read(home.path(&format!("reports/wedding/{name}"))).unwrap();
    let cuts = table(&String::from_utf8(bytes("cuts.csv")).unwrap());
    Printed { schedule: bytes("schedule.pdf"), labels: bytes("labels.pdf"), cuts, home }
}

fn table(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

/// The text of each page without its blanks, which a PDF does not keep.
fn texts(pdf: &[u8]) -> Vec<String> {
    let pages = pdf_extract::extract_text_from_mem_by_pages(pdf).unwrap();
    pages.iter().map(|page| packed(page)).collect()
}

fn packed(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Whether these stand in the text one after the other.
#[track_caller]
fn follow(text: &str, words: impl IntoIterator<Item = String>) {
    let mut rest = text;
    for word in words {
        let packed = packed(&word);
        let at = rest.find(&packed).unwrap_or_else(|| panic!("{word} is missing or too early"));
        rest = &rest[at + packed.len()..];
    }
}

#[test]
fn pages_have_the_size_that_is_asked_for() {
    // 8 1/2 x 11 in (ANSI/ASME Y14.1) and 210 x 297 mm (ISO 216), in points of 1/72 in.
    for (page, size) in [("letter", (612.0, 792.0)), ("a4", (595.276, 841.89))] {
        let Printed { schedule, labels, .. } = printed(page);
        for pdf in [schedule, labels] {
            for (width, height) in sizes(&pdf) {
                approx::assert_abs_diff_eq!(width, size.0, epsilon = 0.01);
                approx::assert_abs_diff_eq!(height, size.1, epsilon = 0.01);
            }
        }
    }
}

/// Widths and heights of all pages, in points.
fn sizes(pdf: &[u8]) -> Vec<(f64, f64)> {
    let document = pdf_extract::Document::load_mem(pdf).unwrap();
    let number = |object: &pdf_extract::Object| f64::from(object.as_float().unwrap());
    let size = |page| {
        let page = document.get_dictionary(page).unwrap();
        let corners = page.get(b"MediaBox").unwrap().as_array().unwrap();
        (number(&corners[2]), number(&corners[3]))
    };
    document.get_pages().into_values().map(size).collect()
}

#[test]
fn the_text_can_be_taken_out_in_the_order_of_the_work() {
    for page in ["letter", "a4"] {
        let Printed { schedule, cuts, home, .. } = printed(page);
        let text = texts(&schedule).concat();
        let settings = cuts.iter().filter(|row| row[10] == "yes");
        follow(&text, settings.map(|row| format!("Set the gauge to {}", row[6])));
        follow(&text, cuts.iter().map(|row| row[3].clone()));
        for row in table(&home.text("reports/wedding/pieces.csv")) {
            assert!(text.contains(&packed(&row[0])), "{row:?}");
        }
        let headings =
            ["Buy", "Fetch paper and supplies", "Cut", "Count before", "Score", "Fold", "Glue"];
        follow(&text, headings.map(str::to_owned));
        follow(&text, ["Pack", "Put away", "Post"].map(str::to_owned));
        // What costs are is nothing for a helper.
        assert!(!text.contains(&packed("Prices for other counts")));
    }
}

#[test]
fn every_page_has_its_number_and_a_setting_that_goes_on_is_said_again() {
    let Printed { schedule, .. } = printed("letter");
    let pages = texts(&schedule);
    assert!(pages.len() > 3);
    for (number, page) in (1..).zip(&pages) {
        assert!(page.contains(&format!("{number}/{}", pages.len())), "{page}");
    }
    let steps = pages.iter().filter(|page| page.contains("StepTakeAtthefenceCutYouget"));
    let mut seen = 0;
    for page in steps {
        let after = page.split("StepTakeAtthefenceCutYouget").nth(1).unwrap();
        assert!(after.starts_with("Setthegaugeto"), "{after}");
        seen += 1;
    }
    assert!(seen > 1, "the steps fill several pages");
}

#[test]
fn the_fonts_travel_with_the_pages() {
    let Printed { schedule, labels, .. } = printed("letter");
    for pdf in [schedule, labels] {
        let document = pdf_extract::Document::load_mem(&pdf).unwrap();
        let mut fonts = BTreeSet::new();
        for object in document.objects.values() {
            let Ok(dictionary) = object.as_dict() else { continue };
            if dictionary.get(b"Type").and_then(|kind| kind.as_name()).ok()
                != Some(b"FontDescriptor")
            {
                continue;
            }
            let carried = [b"FontFile2".as_slice(), b"FontFile3"];
            assert!(carried.iter().any(|key| dictionary.has(key)), "{dictionary:?}");
            fonts.insert(dictionary.get(b"FontName").unwrap().as_name().unwrap().to_vec());
        }
        assert_eq!(fonts.len(), 2, "text and bold text");
    }
}

#[test]
fn the_bar_and_the_drawings_are_true() {
    for page in ["letter", "a4"] {
        let Printed { schedule, .. } = printed(page);
        let texts = texts(&schedule);
        let has = |words: &str, length: f64| {
            let number = texts.iter().position(|text| text.contains(words)).unwrap();
            let runs = Picture::of(&schedule, number + 1)?.dark_runs();
            Some(runs.iter().any(|run| (run - length).abs() < 0.2))
        };
        let Some(bar) = has("50mmlong", 50.0) else {
            println!("skipped: no pdftoppm");
            return;
        };
        assert!(bar, "the bar");
        // The first run cuts 12 x 12 in sheets; at 1 : 6 their edge is 50.8 mm and the line 0.7 mm more.
        assert_eq!(has("R117sheetsofdusk-12", 51.5), Some(true), "the first sheet");
        assert_eq!(has("R117sheetsofdusk-12", 60.0), Some(false), "what is not drawn");
    }
}

#[test]
fn every_stack_and_every_strip_has_its_label() {
    let Printed { labels, cuts, home, .. } = printed("a4");
    let text = texts(&labels).concat();
    let mut seen = BTreeSet::new();
    let stacks = cuts.iter().filter(|row| seen.insert(row[3].clone()));
    follow(&text, stacks.map(|row| format!("{} ", row[3])));
    let kept = table(&home.text("reports/wedding/offcuts.csv"));
    let from_here = kept.iter().filter(|row| row.iter().any(|cell| cell == "wedding"));
    assert!(from_here.clone().count() > 0);
    for row in from_here {
        assert!(text.contains(&packed(&row[0])), "{row:?}");
    }
}

/// What has to be minded where blades move is told before the first cut, and on every page of labels, which are cut too.
#[test]
fn the_cautions_stand_before_the_first_cut() {
    for page in ["letter", "a4"] {
        let Printed { schedule, labels, .. } = printed(page);
        let text = texts(&schedule).concat();
        let (before, _) = text.split_once("Setthegaugeto").unwrap();
        let cautions = [
            "A trimmer is for adults, one person at a time.",
            "Keep all fingers behind the guard at every cut",
            "Leave the guard on.",
            "Press the stack down before you cut",
            "Lower and latch the blade after every cut",
            "Never catch them.",
            "take fewer sheets, never force it.",
            "your local safety rules come before this schedule.",
        ];
        follow(before, cautions.map(str::to_owned));
        for text in texts(&labels) {
            assert!(text.contains(&packed("Cut with the guard on, fingers behind it.")), "{text}");
        }
    }
}

/// Blanks are cut by hand: each of their pages has the cautions for that, and a bar that proves its size.
#[test]
fn the_cautions_for_a_knife_stand_on_every_page_of_templates() {
    for page in ["letter", "a4"] {
        let home = Home::with(&["examples"]);
        let bench = "examples/keepsake/workshop.toml";
        home.put(bench, format!("page = \"{page}\"\n{}", home.text(bench)));
        home.done("plan examples/keepsake/keepsake.csv --out keepsake --quiet");
        let pages = texts(&std::fs::read(home.path("keepsake/templates.pdf")).unwrap());
        assert!(pages.len() > 1);
        for text in pages {
            let cautions =
                ["cut with scissors", "Keep your fingers behind the ruler", "50 mm long"];
            assert!(cautions.iter().all(|told| text.contains(&packed(told))), "{text}");
        }
    }
}

/// What is cut without the trimmer has cautions of its own, wherever the page on the screen has them.
#[test]
fn the_cautions_for_a_knife_stand_where_it_is_used() {
    let home = Home::with(&["examples"]);
    home.done("plan examples/keepsake/keepsake.csv --out keepsake --quiet");
    let caution =
        "Keep your fingers behind the ruler, and cover the blade as soon as you put it down.";
    let page = home.text("keepsake/schedule.html");
    let (screen, walk) = page.split_once("<div id=\"walk\"").unwrap();
    assert!(walk.contains(caution));
    let screen = screen.matches(caution).count();
    let text = texts(&std::fs::read(home.path("keepsake/schedule.pdf")).unwrap()).concat();
    assert!(screen > 0);
    assert_eq!(text.matches(&packed(caution)).count(), screen);
}

/// A page for a customer to keep: each card with its prices, nothing of the costs.
#[test]
fn an_offer_is_one_page() {
    let home = Home::with(&["orders"]);
    home.done("plan orders/wedding.csv --quiet --for Ada --on 2027-01-15");
    let pdf = std::fs::read(home.path("reports/wedding/offer.pdf")).unwrap();
    let pages = texts(&pdf);
    assert_eq!(pages.len(), 1);
    let quote = table(&home.text("reports/wedding/quote.csv"));
    // Cards, name, price of a card, price of all.
    let rows = quote.iter().filter(|row| row[0] != "in all");
    let words =
        rows.flat_map(|row| [row[1].clone(), row[0].clone(), row[10].clone(), row[8].clone()]);
    let head = ["Ada", "2027-01-15"].map(str::to_owned);
    follow(&pages[0], head.into_iter().chain(words).chain(["Total".to_owned()]));
    let page = home.text("reports/wedding/offer.html");
    // As numbers of their own: a price may end like a cost.
    let printed = pdf_extract::extract_text_from_mem(&pdf).unwrap();
    let numbers = |text: &str| -> BTreeSet<String> {
        let parts = text.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
        parts.map(str::to_owned).collect()
    };
    let told = &numbers(&page) | &numbers(&printed);
    for costs in quote.iter().flat_map(|row| &row[4..7]).filter(|cost| *cost != "0.00") {
        assert!(!told.contains(costs), "{costs}");
    }
    assert_eq!(page.matches("class=\"card\"").count(), 6);
}
