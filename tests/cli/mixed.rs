//! What is alike goes together, and what looks alike is told apart.

use super::*;

const NO_SPARES: &str = "[spares]\npercent = 0\nat_least = 0\n";

fn workshop(sheets: &str, order: &str) -> Home {
    let home = Home::new();
    home.put("sheets.csv", format!("sheet;paper;width;height;on hand\n{sheets}"));
    home.put("workshop.toml", NO_SPARES);
    home.put("may.csv", format!("line,card,count,paper\n{order}"));
    home
}

/// Two layouts leave a strip of 12 x 3 in each: in the drawer they are one kind.
#[test]
fn alike_offcuts_of_two_runs_have_one_name_and_a_count() {
    let home = workshop("fern-12;fern;12;12;2\n", "a,12 x 9,1,fern\nb,6 x 9,2,fern\n");
    let before = home.text("sheets.csv");
    home.done("plan may.csv");
    let rows = "fern-may-01,fern,12 in,3 in,2,,free,may,\n";
    assert!(home.text("reports/may/offcuts.csv").ends_with(rows));
    let plan: serde_json::Value =
        serde_json::from_str(&home.text("reports/may/plan.json")).unwrap();
    let offcuts = plan["offcuts"].as_array().unwrap();
    assert_eq!(offcuts.len(), 1, "{offcuts:?}");
    assert_eq!((&offcuts[0]["run"], &offcuts[0]["more_runs"][0]), (&"R1".into(), &"R2".into()));
    home.done("check reports/may/plan.json may.csv");
    // Cut in two parts, they still lie together; the new file is parted like that of the sheets.
    let drawer = |count: u64| {
        format!(
            "offcut;paper;width;height;count;grain;print;from;since\n\
             fern-may-01;fern;12 in;3 in;{count};;free;may;2031-05-09\n"
        )
    };
    home.done("settle reports/may --partly R2=1 --on 2031-05-09");
    assert_eq!(home.text("offcuts.csv"), drawer(1));
    home.done("settle reports/may --on 2031-05-10");
    assert_eq!(home.text("offcuts.csv"), drawer(2));
    home.done("settle reports/may --undo");
    home.done("settle reports/may --undo");
    assert_eq!(home.text("sheets.csv"), before);
    assert!(!home.path("offcuts.csv").exists());
    // All at once is one kind, too.
    home.done("settle reports/may --on 2031-05-09");
    assert_eq!(home.text("offcuts.csv"), drawer(2));
}

/// Strips of one size that differ in grain do not lie together.
#[test]
fn offcuts_of_other_grain_have_a_name_of_their_own() {
    let home = workshop("", "a,12 x 9,2,fern\n");
    home.put(
        "sheets.csv",
        "sheet,paper,width,height,on hand,grain\na,fern,12,12,1,width\nb,fern,12,12,1,height\n",
    );
    home.done("plan may.csv");
    let text = home.text("reports/may/offcuts.csv");
    assert_eq!(text.lines().count(), 3, "{text}");
}

#[test]
fn counting_and_packing_say_how_many_of_each_paper() {
    let home = workshop("fern-12;fern;12;12;2\nmoss-12;moss;12;12;1\n", "tag,6 x 6,9,fern|moss\n");
    home.done("plan may.csv");
    let page = home.text("reports/may/schedule.html");
    let cut = ["8 of fern and 1 of moss", "5 of fern and 4 of moss"];
    assert!(cut.iter().any(|cut| page.contains(cut)), "{page}");
    let packed = ["flat, 8 fern and 1 moss", "flat, 5 fern and 4 moss"];
    assert!(packed.iter().any(|packed| page.contains(packed)), "{page}");
}

/// A stack of 6 x 6 in that is cut on may be turned without anybody seeing it.
#[test]
fn a_stack_whose_sides_are_equal_has_its_top_marked() {
    let order = |first: &str, second: &str| {
        format!("line,card,count,paper,turn\na,{first},1,fern,\nb,{second},2,fern,half\n")
    };
    let home = workshop("fern;fern;12;6;1\n", "");
    home.put("may.csv", order("6 x 6", "6 x 3"));
    home.done("plan may.csv");
    let page = home.text("reports/may/schedule.html");
    assert!(page.contains("to step 2: mark its top edge"), "{page}");
    assert!(page.contains("R1, marked edge on top"), "{page}");
    home.put("may.csv", order("7 x 6", "5 x 3"));
    home.done("plan may.csv");
    assert!(!home.text("reports/may/schedule.html").contains("mark its top edge"));
}
