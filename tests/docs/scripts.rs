//! What scripts read: the guide names every schema, and scripts read the same as a person is shown.

use super::markdown::{Page, coded};
use super::set;
use crate::program::{Home, listing, project};
use serde_json::Value;
use std::collections::BTreeSet;

/// The files of the schemas as the guide names them; `tests/cli/scripts.rs` holds them against what is printed.
#[test]
fn every_schema_is_named_and_is_there() {
    let named = coded(&Page::read("DEVELOPERS.md").section("What scripts read").text);
    let named = named.iter().map(String::as_str).filter(|name| name.ends_with(".json"));
    let (apart, files): (Vec<&str>, Vec<&str>) = named.partition(|name| name.contains('/'));
    assert_eq!(set(files), BTreeSet::from_iter(listing(&project("src/cli/schema"))));
    for file in apart {
        assert!(project(file).is_file(), "{file}");
    }
}

#[test]
fn what_check_finds_is_told_to_a_script_as_to_a_person() {
    let home = Home::with(&["orders"]);
    let sound = home.done("check orders/wedding.csv --json");
    let sound: Value = serde_json::from_str(&sound.out).unwrap();
    assert_eq!((&sound["sound"], &sound["problems"]), (&true.into(), &Value::Array(vec![])));
    home.put("orders/odd.csv", "line,card,count,paper\ntag,2 x 3,twelve,wren\n");
    let answer = home.run("check orders/odd.csv --json");
    assert_eq!((answer.code, answer.err.as_str()), (Some(1), ""));
    let found: Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(found["sound"], false);
    let [problem] = found["problems"].as_array().unwrap().as_slice() else { panic!("{found}") };
    assert_eq!((&problem["severity"], &problem["code"]), (&"error".into(), &"order-count".into()));
    let place = &problem["place"];
    assert_eq!((&place["file"], &place["line"]), (&"orders/odd.csv".into(), &2.into()));
    assert_eq!((&place["column"], &place["length"]), (&11.into(), &6.into()));
    let missing = home.run("check orders/none.csv --json");
    assert_eq!((missing.code, missing.err.as_str()), (Some(2), ""));
    let missing: Value = serde_json::from_str(&missing.out).unwrap();
    assert_eq!(missing["problems"][0]["code"], "file-missing");
}

#[test]
fn a_script_gets_all_codes_and_what_fits() {
    let home = Home::with(&["orders"]);
    let codes: Value = serde_json::from_str(&home.done("explain --json").out).unwrap();
    let known = cardwright::diagnostics::codes::all().count();
    assert_eq!(codes["codes"].as_array().unwrap().len(), known);
    let shelf: Value = serde_json::from_str(&home.done("shelf orders --json").out).unwrap();
    let wren = shelf["sheets"].as_array().unwrap().iter().find(|it| it["name"] == "wren-12");
    // 12 in are 304.8 mm.
    let twelve = shelf["ticks_per_mm"].as_u64().unwrap() * 3048 / 10;
    let wren = wren.unwrap();
    assert_eq!((&wren["count"], &wren["width"]), (&20.into(), &twelve.into()));
    let sizes: Value = serde_json::from_str(&home.done("sizes A7 --json").out).unwrap();
    let kinds = sizes["answers"].as_array().unwrap().iter().map(|it| it["kind"].as_str().unwrap());
    assert_eq!(kinds.collect::<BTreeSet<_>>(), BTreeSet::from(["card", "envelope"]));
}
