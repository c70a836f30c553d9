//! `check`: judged, and nothing written.

use super::*;

#[track_caller]
fn checked(call: &Call) -> String {
    let before = call.names();
    let answer = call.run();
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    assert_eq!(call.names(), before);
    answer.out
}

#[test]
fn good_files_are_told_to_be_good() {
    let order = Call::of_the_wedding("check orders/wedding.csv");
    assert_eq!(checked(&order), "1 order and workshop files: no mistakes\n");
    let stock = Call::of_the_wedding("check orders/sheets.csv orders/workshop.toml");
    assert_eq!(checked(&stock), "workshop files: no mistakes\n");
}

#[test]
fn mistakes_of_all_files_are_told_at_once() {
    let call = Call::of_tags("check spring.csv")
        .file("spring.csv", "line,card,count,paper\ntag,2 x 3,twelve,fern\n")
        .file("sheets.csv", "sheet,paper,width,height\nfern-12,fern,wide,12\n")
        .file("workshop.toml", "[trimmer]\nblade = -1\n");
    let err = call.ends_with(1);
    for place in ["spring.csv:2:11\n", "sheets.csv:2:14\n", "workshop.toml:2:9\n"] {
        assert!(err.contains(&format!(" --> {place}")), "{place}: {err}");
    }
    assert!(err.ends_with("\n\n3 errors\n"), "{err}");
}

/// Earlier versions called the card itself a base; what they planned is still checked and settled.
#[test]
fn a_plan_with_cards_called_bases_is_sound() {
    let call = Call::of_the_wedding("check reports/wedding/plan.json");
    call.home.done("plan orders/wedding.csv --quiet");
    let plan = call.home.text("reports/wedding/plan.json");
    assert!(plan.contains("invitation.card") && !plan.contains("invitation.base"));
    call.home.put("reports/wedding/plan.json", plan.replace(".card", ".base"));
    assert!(checked(&call).starts_with("1 plan: no mistakes\n"));
    call.home.done("settle reports/wedding");
}

/// Earlier versions squared every full sheet, whatever its edges; what they planned is still sound, and it is said what
/// nobody can know now.
#[test]
fn a_plan_that_squares_every_sheet_is_sound() {
    let sheets = |column: &str, cell: &str| {
        format!("sheet,paper,width,height,on hand,price{column}\nfern-12,fern,12,12,9,1.10{cell}\n")
    };
    let call = Call::of_tags("check spring.csv reports/spring/plan.json")
        .file("spring.csv", "line,card,count,paper\ntag,3 x 3,32,fern\n")
        .file("sheets.csv", sheets(",rough edges", ",4"))
        .file("workshop.toml", "[trimmer]\nsquaring = \"1/8 in\"\n");
    call.home.done("plan spring.csv --quiet");
    let unknown = "whether the full sheets have rough edges";
    assert!(!checked(&call).contains(unknown));
    call.home.put("sheets.csv", sheets("", ""));
    let answer = call.run();
    assert_eq!(answer.code, Some(0), "{}", answer.err);
    assert!(answer.out.contains(unknown), "{}", answer.out);
    // Two cut so, and one that is not: no version made such a plan.
    let plan = call.home.text("reports/spring/plan.json");
    assert!(plan.contains("\"rough_edges\": 4"));
    call.home
        .put("reports/spring/plan.json", plan.replace("\"rough_edges\": 4", "\"rough_edges\": 2"));
    assert_eq!(call.run().code, Some(1));
}

/// Nor did they say that a layer has its grain along the fold of its card.
#[test]
fn a_plan_whose_layers_lie_as_they_will_is_sound() {
    let call = Call::of_tags("check reports/spring/plan.json")
        .file("spring.csv", "line,card,fold,count,paper,mat\nnote,3 x 4,side,9,fern,fern\n")
        .file("workshop.toml", "[grain]\nrule = \"strict\"\n");
    call.home.done("plan spring.csv --quiet");
    let path = "reports/spring/plan.json";
    let mut plan: serde_json::Value = serde_json::from_str(&call.home.text(path)).unwrap();
    for piece in plan["pieces"].as_array_mut().unwrap() {
        let piece = piece.as_object_mut().unwrap();
        assert_eq!(piece["fold"], "height");
        if piece["part"] == "mat" {
            piece.remove("fold");
        }
    }
    call.home.put(path, plan.to_string());
    let told = checked(&call);
    assert!(told.starts_with("1 plan: no mistakes\n"));
    assert!(told.contains("whether layers lie along the fold of their card"), "{told}");
}

/// A line may be called as a card once was.
#[test]
fn a_line_with_an_old_name_is_no_old_plan() {
    let call = Call::of_tags("check reports/spring/plan.json")
        .file("spring.csv", "line,card,count,paper\ntag.base,2 x 3,12,fern\n");
    call.home.done("plan spring.csv --quiet");
    assert!(checked(&call).starts_with("1 plan: no mistakes\n"));
}

/// A warning is told and is no mistake.
#[test]
fn a_warning_spoils_nothing() {
    let call = Call::of_tags("check spring.csv")
        .file("spring.csv", "line,card,count,paper,notes\ntag,2 x 3,12,fern,red\n");
    let answer = call.run();
    assert_eq!(answer.out, "1 order and workshop files: no mistakes\n");
    assert_eq!(answer.code, Some(0));
    assert!(answer.err.starts_with("warning[table-column-unknown]: "), "{}", answer.err);
}

#[test]
fn files_that_are_not_there_are_wrong_use() {
    assert!(
        Call::of_tags("check summer.csv")
            .refused()
            .starts_with("error[file-missing]: there is no summer.csv\n")
    );
    assert!(
        Call::new("check reports/spring/plan.json")
            .refused()
            .starts_with("error[file-missing]: there is no reports/spring/plan.json\n")
    );
    assert!(
        Call::of_tags("check spring.csv --workshop bench.toml")
            .refused()
            .starts_with("error[file-missing]: there is no bench.toml\n")
    );
}

#[test]
fn a_plan_is_good_until_it_is_changed() {
    let call = Call::of_tags("check reports/spring/plan.json");
    call.home.done("plan spring.csv --quiet");
    assert_eq!(
        checked(&call),
        "1 plan: no mistakes\n\nreports/spring/plan.json\n  \
         Judged by  its own order, stock and bench, kept in origin.json\n  \
         Checked    every cut, count, area and sum\n  \
         Proven     all 2 limits on money and paper; all 2 are reached\n  \
         Not seen   the number of gauge settings (at most one a cut)\n"
    );
    let plan = call.home.text("reports/spring/plan.json");
    let changed = plan.replacen("\"need\": 12", "\"need\": 99", 1);
    assert_ne!(plan, changed);
    call.home.put("reports/spring/plan.json", changed);
    assert!(call.ends_with(1).starts_with(
        "error[plan-fault]: reports/spring/plan.json: piece `tag.card` differs from the order in \
         `need`\n"
    ));
}

#[test]
fn an_order_and_its_plan_are_checked_together() {
    let call = Call::of_the_wedding("check orders/wedding.csv reports/wedding/plan.json");
    call.home.done("plan orders/wedding.csv --quiet");
    assert!(checked(&call).starts_with(
        "1 order and workshop files, 1 plan: no mistakes\n\nreports/wedding/plan.json\n  \
         Judged by  the order, stock and bench named here\n"
    ));
}

/// A plan is judged by the copies beside it, wherever it lies, unless a bench is named; alone by what it records.
#[test]
fn a_plan_is_judged_by_its_own_bench_or_the_one_that_is_named() {
    let call = Call::of_the_wedding("check reports/wedding/plan.json");
    call.home.done("plan orders/wedding.csv --quiet");
    let own = "  Judged by  its own order, stock and bench, kept in origin.json\n";
    assert!(checked(&call).contains(own));
    call.home.put("other.toml", "unit = \"in\"\n");
    let other = call.home.run("check reports/wedding/plan.json --workshop other.toml");
    assert_eq!(other.code, Some(1), "{}", other.err);
    let named = "check reports/wedding/plan.json --workshop orders/workshop.toml";
    let out = call.home.done(named).out;
    assert!(
        out.contains(
            "  Judged by  its own order and stock, kept in origin.json, and the bench orders/workshop.toml\n"
        ),
        "{out}"
    );
    // Alone, a plan does not say what was wanted.
    call.home.put("alone.json", call.home.text("reports/wedding/plan.json"));
    let out = call.home.done("check alone.json --workshop orders/workshop.toml").out;
    for said in [
        "  Judged by  what it records itself, and the bench orders/workshop.toml\n",
        "the order (pieces, sizes, score lines, counts), the stock (what is on hand, prices), ",
    ] {
        assert!(out.contains(said), "{said}: {out}");
    }
    let alone = call.home.run("check alone.json");
    assert_eq!(alone.code, Some(1));
    assert!(alone.err.contains("= help: it was checked with the default bench: "), "{}", alone.err);
}
