//! Envelopes and sundries on the shelf, from plan to plan.

use super::said;
use crate::program::Home;
use serde_json::Value;
use std::fs;

const FILES: [&str; 4] = ["sheets", "offcuts", "envelopes", "sundries"];

fn home() -> Home {
    let home = Home::with(&["orders"]);
    home.done("plan orders/winter.csv --quiet");
    home
}

fn texts(home: &Home) -> [String; 4] {
    FILES.map(|name| home.text(&format!("orders/{name}.csv")))
}

fn plan(home: &Home, report: &str) -> Value {
    serde_json::from_str(&home.text(&format!("reports/{report}/plan.json"))).unwrap()
}

#[test]
fn what_the_cards_take_leaves_the_shelf_once_and_comes_back() {
    let home = home();
    let before = texts(&home);
    said(&home, "settle reports/winter --done 2 --spoiled seal=2 --on 2027-11-20");
    // All packs came with the first part, and nothing is taken yet but what was spoiled.
    assert!(home.text("orders/envelopes.csv").contains("A7 pine,US A7,62,"));
    assert!(home.text("orders/sundries.csv").contains("seal,,40,"));
    said(&home, "settle reports/winter --on 2027-11-20");
    assert!(home.text("orders/envelopes.csv").contains("A7 pine,US A7,22,"));
    assert!(home.text("orders/sundries.csv").contains("ribbon,in,400,"));
    assert!(home.text("orders/sundries.csv").contains("seal,,0,"));
    let history = said(&home, "shelf history orders");
    let line = "A7 pine (40), ribbon (880 in) and seal (40) used";
    assert!(history.contains(line), "{history}");
    assert!(history.contains("seal (2) spoiled"), "{history}");
    for _ in 0..2 {
        said(&home, "settle reports/winter --undo");
    }
    assert_eq!(texts(&home), before);
}

/// Two seals are spoiled of 42 that were there: the spares.
#[test]
fn what_is_spoiled_uses_spares_up_first() {
    let home = home();
    said(&home, "settle reports/winter --done 2 --spoiled seal=2 --on 2027-11-20");
    home.done("plan orders/winter.csv --rest --quiet");
    let plan = plan(&home, "winter-2");
    let seal = plan["supplies"].as_array().unwrap().iter().find(|it| it["id"] == "seal").unwrap();
    assert_eq!(
        (&seal["need"], &seal["spares"], &seal["packs_bought"]),
        (&40.into(), &0.into(), &0.into())
    );
    said(&home, "settle reports/winter-2 --on 2027-11-21");
    assert!(home.text("orders/sundries.csv").contains("seal,,0,"));
}

/// Nor can a supply that the plan does not take.
#[test]
fn more_than_there_is_cannot_be_spoiled() {
    let home = home();
    for count in ["500", "99999999999999999"] {
        let answer = home.run(&format!("settle reports/winter --spoiled ribbon={count}"));
        assert_eq!(answer.code, Some(1), "{}", answer.err);
        assert!(answer.err.contains("[settle-changed]: not enough `ribbon`"), "{}", answer.err);
    }
    let answer = home.run("settle reports/winter --spoiled nosuch=1");
    assert!(answer.err.contains("A7 pine, ribbon and seal"), "{}", answer.err);
}

#[test]
fn what_is_not_as_planned_is_not_settled() {
    for (file, old, new, told) in [
        ("sundries", "seal,,18", "seal,g,18", "planned with single ones"),
        ("sundries", "ribbon,in,200", "ribbon,,200", "planned in in"),
        ("envelopes", "A7 pine,US A7", "A7 pine,US A6", "planned as 7 1/4 x 5 1/4 in"),
    ] {
        let home = home();
        let name = format!("orders/{file}.csv");
        home.put(&name, home.text(&name).replace(old, new));
        let answer = home.run("settle reports/winter");
        assert!(
            answer.err.contains("is not as planned") && answer.err.contains(told),
            "{}",
            answer.err
        );
    }
    let home = home();
    let name = "orders/sundries.csv";
    home.put(name, home.text(name).replace("seal,", "stamp,"));
    let answer = home.run("settle reports/winter");
    assert!(answer.err.contains("`seal` is gone from the shelf"), "{}", answer.err);
    assert!(answer.err.contains("the plan uses 40"), "{}", answer.err);
}

/// What one batch has set aside, another does not get; the message says where it is.
#[test]
fn what_is_set_aside_is_kept() {
    let home = Home::with(&["orders"]);
    let name = "orders/envelopes.csv";
    home.put(name, home.text(name).replace("A7 pine,US A7,12,6.75,25", "A7 pine,US A7,60,,"));
    home.done("plan orders/winter.csv --reserve --quiet");
    home.put(
        "orders/other.csv",
        "line,card,fold,count,paper,envelope\nother,5 x 7,side,40,wren,A7 pine\n",
    );
    let answer = home.run("plan orders/other.csv");
    assert!(answer.err.contains("42 needed, 18 on hand"), "{}", answer.err);
    assert!(
        answer.err.contains("some is set aside for winter: `cardwright shelf orders`"),
        "{}",
        answer.err
    );
    let dropped = said(&home, "shelf drop winter orders");
    assert!(dropped.contains("42 A7 pine") && dropped.contains("200 in ribbon"), "{dropped}");
    home.done("plan orders/other.csv --quiet");
}

/// Offcuts get names that no sundry has.
#[test]
fn an_offcut_is_not_called_like_a_sundry() {
    let home = Home::with(&["orders"]);
    let name = "orders/sundries.csv";
    home.put(name, home.text(name).replace("seal,", "wren-winter-01,"));
    let order = "orders/winter.csv";
    home.put(order, home.text(order).replace("+ seal", "+ wren-winter-01"));
    home.done("plan orders/winter.csv --quiet");
    said(&home, "settle reports/winter --on 2027-11-20");
}

/// A shelf whose journal was begun without them may have envelopes anywhere; then they are its own, and no other shelf's.
#[test]
fn files_that_come_later_belong_to_the_first_shelf() {
    let home = Home::with(&["orders"]);
    for name in ["envelopes", "sundries"] {
        fs::create_dir_all(home.path("shared")).unwrap();
        let file = format!("{name}.csv");
        fs::rename(home.path(&format!("orders/{file}")), home.path(&format!("shared/{file}")))
            .unwrap();
    }
    fs::create_dir_all(home.path("june")).unwrap();
    for name in ["sheets", "offcuts"] {
        fs::copy(home.path(&format!("orders/{name}.csv")), home.path(&format!("june/{name}.csv")))
            .unwrap();
    }
    fs::copy(home.path("orders/workshop.toml"), home.path("june/workshop.toml")).unwrap();
    fs::copy(home.path("orders/winter.csv"), home.path("june/spring.csv")).unwrap();
    home.put("orders/tags.csv", "line,card,count,paper\ntag,3 x 2,4,wren\n");
    home.done("plan orders/tags.csv --quiet");
    said(&home, "settle reports/tags --on 2027-11-20");
    let files = "--envelopes shared/envelopes.csv --sundries shared/sundries.csv";
    home.done(&format!("plan orders/winter.csv --quiet {files}"));
    let before = home.text("shared/envelopes.csv");
    said(&home, "settle reports/winter --on 2027-11-20");
    assert!(
        said(&home, &format!("shelf history orders {files}")).contains("files added to the shelf")
    );
    let other = home.run(&format!("plan june/spring.csv --quiet {files}"));
    assert!(other.err.contains("[shelf-drawer]"), "{}", other.err);
    // By its own name it is another file, which the journal does not know.
    let asked = home.run("shelf orders");
    assert!(
        asked.err.contains("is the journal of sheets.csv, offcuts.csv, ../shared/envelopes.csv"),
        "{}",
        asked.err
    );
    said(&home, "settle reports/winter --undo");
    assert_eq!(home.text("shared/envelopes.csv"), before);
}
