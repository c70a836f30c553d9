//! `--out` over what the batch is planned from.

use super::*;
use crate::messages::same;

/// A report folder into which the order and its workshop have moved.
fn within() -> Home {
    let home = planned("plan spring.csv --quiet");
    for name in ["spring.csv", "sheets.csv", "workshop.toml"] {
        fs::create_dir_all(home.path("reports/spring/work")).unwrap();
        fs::rename(home.path(name), home.path(&format!("reports/spring/work/{name}"))).unwrap();
    }
    home.put("reports/spring/work/offcuts.csv", "offcut,paper,width,height\na,fern,6,7\n");
    home
}

#[test]
fn a_folder_that_holds_the_order_is_not_replaced() {
    let home = within();
    let order = "reports/spring/work/spring.csv";
    same(
        &refused(&home, &format!("plan {order} --out reports/spring"), 2),
        "error: reports/spring cannot be replaced: it holds reports/spring/work/spring.csv, which this \
         plan reads\n = help: name a folder with --out, such as --out reports/may\n",
    );
    for folder in [
        ".",
        "./",
        "reports",
        "reports/../reports/spring",
        "reports/spring/work",
        "reports/spring/work/..",
    ] {
        let err = refused(&home, &format!("plan {order} --out {folder} --reserve"), 2);
        assert!(err.contains(" cannot be replaced: "), "{folder}: {err}");
    }
    // The folder that is taken where none is named.
    home.put("spring.csv", FEW);
    home.put("sheets.csv", SHEETS);
    let err = refused(&home, "plan spring.csv --offcuts reports/spring/work/offcuts.csv", 2);
    assert!(err.starts_with("error: reports/spring cannot be replaced: "), "{err}");
    home.done(&format!("plan {order} --out reports/may --quiet"));
}

/// Each of the files, where it alone lies there.
#[test]
fn every_file_of_the_batch_counts() {
    let home = planned("plan spring.csv --quiet");
    for (option, name, text) in [
        ("--sheets", "sheets.csv", SHEETS),
        ("--offcuts", "offcuts.csv", "offcut,paper,width,height\na,fern,6,7\n"),
        ("--workshop", "workshop.toml", NO_SPARES),
    ] {
        home.put(&format!("reports/spring/{name}"), text);
        let err = refused(&home, &format!("plan spring.csv {option} reports/spring/{name}"), 2);
        let told =
            format!("cannot be replaced: it holds reports/spring/{name}, which this plan reads");
        assert!(err.contains(&told), "{err}");
    }
    let err = refused(&home, "plan spring.csv reports/spring/tag.csv --out reports/spring", 2);
    assert!(err.contains("it holds reports/spring/tag.csv, which this plan reads"), "{err}");
}

#[cfg(unix)]
#[test]
fn links_lead_to_the_same_answer() {
    use std::os::unix::fs::symlink;
    let home = within();
    symlink("reports/spring", home.path("front")).unwrap();
    symlink("reports/spring/work", home.path("back")).unwrap();
    symlink("reports/spring/work/spring.csv", home.path("order.csv")).unwrap();
    for arguments in [
        "back/spring.csv --out front",
        "front/work/spring.csv --out reports/spring",
        "order.csv --sheets back/sheets.csv --out front",
    ] {
        let err = refused(&home, &format!("plan {arguments}"), 2);
        assert!(err.contains(" cannot be replaced: "), "{err}");
    }
    // The journal lies beside the real sheets.
    home.put("spring.csv", FEW);
    symlink("reports/spring/work/sheets.csv", home.path("sheets.csv")).unwrap();
    let err = refused(&home, "plan spring.csv --reserve --out front", 2);
    assert!(
        err.starts_with("error: front cannot be replaced: it holds sheets.csv, which this"),
        "{err}"
    );
}

#[test]
fn a_folder_of_hers_with_the_name_of_a_report_is_told() {
    let home = planned("plan spring.csv --quiet");
    home.put("reports/spring/templates.svg/mine.txt", "mine");
    let err = refused(&home, "plan spring.csv", 2);
    assert!(err.contains("templates.svg is a folder with the name of a report\n"), "{err}");
    assert!(err.ends_with(" = help: rename your folder, or name another one with --out\n"));
}

/// A file of another program has the name of ours.
#[test]
fn a_plan_of_another_program_makes_no_report_folder() {
    let home = planned("plan spring.csv --quiet");
    for other in ["", "{}", "{\"schema\": \"travel-plan-2\"}"] {
        home.put("travel/plan.json", other);
        home.put("travel/cuts.csv", "mine");
        let err = refused(&home, "plan spring.csv --out travel --quiet", 2);
        assert!(err.contains("travel exists already and is not a report folder"), "{err}");
        assert_eq!(home.text("travel/cuts.csv"), "mine");
    }
}
