//! What scripts read has the shape that is told.

use super::markdown::{Page, coded};
use crate::program::Home;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Keys by the part of a document that has them: `problems[].place`.
type Parts = BTreeMap<String, BTreeSet<String>>;

/// Documents by their schemas.
fn documents() -> BTreeMap<String, Parts> {
    let home = Home::with(&["orders"]);
    home.put("spring.csv", "line,card,count,paper\ntag,2 x 3,twelve,wren\n");
    home.done("plan orders/wedding.csv --quiet --reserve");
    let answers = [
        home.run("check spring.csv --sheets orders/sheets.csv --json"),
        home.run("check reports/wedding/plan.json --json"),
        home.run("explain order-count --json"),
        home.run("shelf orders --on 2027-05-09 --json"),
        home.run("shelf history orders --json"),
        home.run("sizes --json"),
        home.run("sizes A7 --json"),
    ];
    let mut documents: BTreeMap<String, Parts> = BTreeMap::new();
    for answer in answers {
        let document: Value = serde_json::from_str(&answer.out).expect(&answer.err);
        assert_eq!(answer.err, "");
        let schema = document["schema"].as_str().unwrap().to_owned();
        collect(&document, String::new(), documents.entry(schema).or_default());
    }
    documents
}

fn collect(value: &Value, path: String, parts: &mut Parts) {
    match value {
        Value::Object(fields) => {
            let keys = parts.entry(path.clone()).or_default();
            keys.extend(fields.keys().cloned());
            for (key, value) in fields {
                let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                collect(value, path, parts);
            }
        }
        Value::Array(all) => all.iter().for_each(|it| collect(it, format!("{path}[]"), parts)),
        _ => {}
    }
}

#[test]
fn every_document_has_the_keys_that_are_told_and_no_others() {
    let rows = Page::read("DEVELOPERS.md").table("What scripts read", "schema");
    let mut told: BTreeMap<String, Parts> = BTreeMap::new();
    for row in rows {
        let (schema, part) = (coded(&row[0]).remove(0), coded(&row[1]).pop());
        let parts = told.entry(schema).or_default();
        parts.insert(part.unwrap_or_default(), coded(&row[2]).into_iter().collect());
    }
    assert_eq!(told, documents());
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
