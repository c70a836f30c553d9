use super::*;
use crate::made::Made;
use crate::reports::fixture;
use crate::reports::json;
use crate::reports::picture::{DrawingRoom, Picture};

fn page(made: &Made) -> String {
    let report = Report::of(&made.batch()).unwrap();
    schedule(&report, &json::plan(&made.plan).unwrap()).unwrap()
}

#[test]
fn the_page_is_complete_in_itself() {
    let page = page(&fixture::fair());
    for outside in ["http:", "https:", "src=", "@import", "<link", "url(http", "//cdn"] {
        let found = page.matches(outside).count();
        let named = page.matches("xmlns=\"http://www.w3.org/2000/svg\"").count();
        assert_eq!(found, if outside == "http:" { named } else { 0 }, "{outside}");
    }
}

#[test]
fn every_stage_has_its_place_in_order() {
    let page = page(&fixture::fair());
    let ids = ["summary", "care", "buy", "fetch", "cut", "count", "score", "fold"];
    let more = ["make-the-envelopes", "glue", "pack", "drawer", "time", "proof"];
    let places: Vec<usize> = ids
        .iter()
        .chain(&more)
        .map(|id| page.find(&format!("<section id=\"{id}\"")).expect(id))
        .collect();
    assert!(places.is_sorted());
}

#[test]
fn stages_without_work_are_left_out() {
    let page = page(&fixture::lesson());
    for id in ["buy", "glue", "make-the-envelopes"] {
        assert!(!page.contains(&format!("<section id=\"{id}\"")), "{id}");
    }
    assert!(page.contains("Nothing to buy."));
}

/// The words and answers at the top are those of the summary.
#[test]
fn the_answers_stand_at_the_top() {
    for made in [fixture::lesson(), fixture::fair()] {
        let (page, report) = (page(&made), Report::of(&made.batch()).unwrap());
        let rows = report.answers.rows().into_iter();
        let rows: String = rows
            .map(|(word, told)| format!("<div><dt>{word}</dt><dd>{}</dd></div>\n", escaped(told)))
            .collect();
        assert!(page.contains(&format!("<dl class=\"answers\">\n{rows}</dl>\n")), "{rows}");
    }
}

#[test]
fn every_box_has_a_label_and_an_id_of_its_own() {
    let page = page(&fixture::fair());
    let boxes: Vec<&str> = page.split("<input type=\"checkbox\"").skip(1).collect();
    let ids: std::collections::BTreeSet<&str> =
        boxes.iter().map(|text| text.split('"').nth(1).unwrap()).collect();
    assert_eq!(ids.len(), boxes.len());
    assert!(boxes.iter().all(|text| text.split('>').next().unwrap().contains("aria-label=\"")));
    let steps = fixture::fair().schedule.runs.iter().map(|run| run.cuts.len()).sum::<usize>();
    assert!(ids.iter().filter(|id| id.starts_with("step-")).count() == steps);
}

#[test]
fn names_cannot_break_the_page() {
    let mut made = fixture::lesson();
    let evil = "<script>alert(1)</script>\u{202e}\"'&";
    made.plan.order = evil.to_owned();
    made.job.order.lines[0].name.value = evil.to_owned();
    made.schedule.packing[0].line = evil.to_owned();
    made.job.stock.sheets[0].paper = evil.to_owned();
    made.schedule.runs[0].paper = evil.to_owned();
    made.plan.sheets[0].paper = evil.to_owned();
    made.plan.offcuts[0].paper = evil.to_owned();
    let page = page(&made);
    assert_eq!(page.matches("<script").count(), 1);
    assert!(page.contains(&format!("<script>{SCRIPT}</script>")));
    assert_eq!(page.matches("<style>").count(), 1);
    assert!(page.contains(r#"@bottom-left { content: "\3c script\3e alert\28 1\29 \3c \2f "#));
    assert!(!page.contains("<script>alert") && !page.contains('\u{202e}'));
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;\\u{202e}&quot;&#39;&amp;"));
}

#[test]
fn ticks_belong_to_one_plan() {
    let first = page(&fixture::lesson());
    let mut made = fixture::lesson();
    made.plan.totals.kept = crate::measure::Money::from_minor(1);
    let second = page(&made);
    let mark = |page: &str| page.split("data-plan=\"").nth(1).unwrap()[..16].to_owned();
    assert_ne!(mark(&first), mark(&second));
    assert_eq!(mark(&first), mark(&page(&fixture::lesson())));
}

#[test]
fn the_fingerprint_is_fnv_1a() {
    // Test values of the authors' reference code (from memory).
    assert_eq!(fingerprint(b""), 0xcbf2_9ce4_8422_2325);
    assert_eq!(fingerprint(b"a"), 0xaf63_dc4c_8601_ec8c);
}

/// A page with nothing in it.
fn blank(report: &Report) -> Page<'_> {
    let empty = String::new;
    Page {
        report,
        page_name: empty(),
        plan_mark: empty(),
        definitions: empty(),
        scale: empty(),
        ruler: empty(),
        ruler_length: "",
        runs: Vec::new(),
        before: Vec::new(),
        after: Vec::new(),
        walk: empty(),
    }
}

#[test]
fn lengths_are_not_broken() {
    let held = |text: &str| section::unbroken(text).replace('\u{a0}', "_");
    assert_eq!(
        held("fold at 1 3/4 in, spine left; 4 x 1 3/4 in"),
        "fold at 1_3/4_in, spine left; 4_x_1_3/4_in"
    );
    assert_eq!(held("card 105 x 148 mm, flat; 2 sheets"), "card 105_x_148_mm, flat; 2 sheets");
    assert_eq!(
        held("flaps (1 in) in; the top (2 1/16 in) down"),
        "flaps (1_in) in; the top (2_1/16_in) down"
    );
}

#[test]
fn dimensions_are_set_large_and_small() {
    let made = fixture::lesson();
    let report = Report::of(&made.batch()).unwrap();
    let page = blank(&report);
    let whole = "<span class=\"whole\">8</span> <span class=\"part\">1/2</span> <span class=\"unit\">in</span>";
    assert_eq!(page.dimension("8 1/2 in"), whole);
    assert_eq!(
        page.dimension("1/2 in"),
        "<span class=\"part\">1/2</span> <span class=\"unit\">in</span>"
    );
    assert_eq!(
        page.dimension("215.9 mm"),
        "<span class=\"whole\">215.9</span> <span class=\"unit\">mm</span>"
    );
}

#[test]
fn a_ruler_is_as_long_as_it_says() {
    // 3 in = 76.2 mm.
    assert!(ruler(Unit::Inch).contains("M0 7H76.20"));
    assert!(ruler(Unit::Millimetre).contains("M0 7H80.00"));
}

#[test]
fn a_name_breaks_behind_its_joints_only() {
    let shown = page(&fixture::lesson());
    assert!(shown.contains("sign.<wbr>card") && !shown.contains("<wbr></"));
    assert_eq!(css_string("a-1\u{fc}"), "a\\2d 1\\fc ");
}

#[test]
fn a_crowded_sheet_is_drawn_larger_and_by_itself() {
    let mut made = fixture::lesson();
    let common = Scale::of(5);
    let run = |made: &Made| Report::of(&made.batch()).unwrap().runs.remove(0);
    assert!(!Picture::readable(run(&made).picture.drawing, common, DrawingRoom::SCREEN).is_wide);
    made.job.stock.sheets[0].size = fixture::size("12 x 12");
    let place = made.schedule.runs[0].places[0].clone();
    let side = crate::measure::Length::from_mm(30);
    for column in 0..20 {
        let mut small = place.clone();
        // Equal ones would be named together.
        let height = side + crate::measure::Length::from_mm(column);
        (small.x, small.size) = (side * column, crate::measure::Size::new(side, height));
        made.schedule.runs[0].places.push(small);
    }
    let picture = Picture::readable(run(&made).picture.drawing, common, DrawingRoom::SCREEN);
    assert!(picture.is_wide && picture.scale() < common);
}

#[test]
fn all_cautions_stand_before_the_first_cut() {
    let page = page(&fixture::fair());
    let cut = page.find("<section id=\"cut\"").unwrap();
    for caution in words::CAUTIONS {
        assert!(page.find(caution).is_some_and(|at| at < cut), "{caution}");
    }
}

/// Articles of the walk, by their own markup.
fn stops(page: &str) -> Vec<&str> {
    let stops = page.split("<article class=\"stop").skip(1);
    stops.map(|stop| stop.split("</article>").next().unwrap()).collect()
}

#[test]
fn every_stop_of_the_walk_is_hidden_until_it_is_shown() {
    let made = fixture::fair();
    let (page, report) = (page(&made), Report::of(&made.batch()).unwrap());
    let stops = stops(&page);
    assert_eq!(stops.len(), report.walk.len());
    assert!(stops.iter().all(|stop| stop.split('>').next().unwrap().ends_with(" hidden")));
    assert!(page.contains("<div id=\"walk\" hidden>"));
}

/// What the script looks for on the page is there.
#[test]
fn a_stop_names_a_box_or_a_section_of_the_page() {
    for made in [fixture::fair(), fixture::lesson()] {
        let page = page(&made);
        for stop in stops(&page) {
            let named = |name: &str| Some(stop.split_once(name)?.1.split('"').next().unwrap());
            let of = match (named("data-tick=\""), named("data-shows=\"")) {
                (Some(tick), None) => format!("<input type=\"checkbox\" id=\"{tick}\""),
                (None, Some(section)) => format!("<section id=\"{section}\""),
                (None, None) if stop.contains(" data-ends") => continue,
                both => panic!("{both:?}"),
            };
            assert!(page.contains(&of), "{of}");
        }
    }
}

#[test]
fn every_id_of_the_page_is_its_own() {
    let page = page(&fixture::fair());
    let ids: Vec<&str> =
        page.split(" id=\"").skip(1).map(|text| text.split('"').next().unwrap()).collect();
    let own: std::collections::BTreeSet<&&str> = ids.iter().collect();
    assert_eq!(own.len(), ids.len());
}

#[test]
fn a_step_of_the_walk_says_stack_gauge_fence_and_lifts() {
    let page = page(&fixture::fair());
    let stops = stops(&page);
    let cut = stops.iter().find(|stop| stop.contains("data-tick=\"step-1\"")).unwrap();
    for words in
        ["stack A", "Set the gauge to", "At the fence: <b>", "<b>2</b> lifts × <b>1</b> cut"]
    {
        assert!(cut.contains(words), "{words}: {cut}");
    }
    assert!(
        cut.contains("data-whole") && cut.contains("<title") && cut.contains("class=\"knife\"")
    );
    let caution = page.find(words::AT_THE_KNIFE).unwrap();
    assert!(caution < page.find("<article class=\"stop").unwrap());
}

/// Where a blade is used without the trimmer, its cautions come before what to do.
#[test]
fn work_by_hand_says_what_to_mind_first() {
    let page = page(&fixture::fair());
    let stops = stops(&page);
    let made_up = stops.iter().find(|stop| stop.contains("make-the-envelopes-1")).unwrap();
    let caution = made_up.find(words::BY_HAND[1]).unwrap();
    assert!(caution < made_up.find("<ol").unwrap());
    let glued = stops.iter().find(|stop| stop.contains("\"glue-1\"")).unwrap();
    assert!(!glued.contains(words::BY_HAND[1]));
}
