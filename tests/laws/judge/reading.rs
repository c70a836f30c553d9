//! Reading plan.json: what is well formed comes back byte for byte, what is not is an error.

use super::made::make;
use crate::bench::schema_faults;
use cardwright::measure::Money;
use cardwright::plan::{FIRST_JSON_SCHEMA, FIRST_SCHEMA, Plan};
use serde_json::{Value, json};

/// A plan written by hand, in the order of the keys that the schema describes.
const BY_HAND: &str = concat!(
    r#"{"schema":"cardwright-plan-2","ticks_per_mm":40000,"order":"wedding","currency":"USD","#,
    r#""pieces":[{"id":"invite.card","line":"invite","part":"base","papers":["fern"],"#,
    r#""width":8636000,"height":5588000,"turn":"free","need":1,"spares":1,"cut":2,"#,
    r#""scores":[{"across":"width","at":4318000}]}],"#,
    r#""sheets":[{"id":"fern-12","kind":"sheet","paper":"fern","width":12192000,"#,
    r#""height":12192000,"on_hand":0,"used":1,"packs_bought":1,"pack":1,"price":110,"#,
    r#""value":110},{"id":"fern-w","kind":"offcut","paper":"fern","width":4064000,"#,
    r#""height":4064000,"on_hand":1,"used":1,"packs_bought":0,"pack":1,"price":null,"value":3}],"#,
    r#""runs":[{"id":"R1","sheet":"fern-12","count":1,"layout":{"x":0,"y":0,"width":12192000,"#,
    r#""height":12192000,"cut_x":8636000,"parts":[{"x":0,"y":0,"width":8636000,"#,
    r#""height":12192000,"cut_y":5588000,"parts":[{"x":0,"y":0,"width":8636000,"#,
    r#""height":5588000,"piece":"invite.card","turned":false},{"x":0,"y":5588000,"#,
    r#""width":8636000,"height":6604000,"waste":true}]},{"x":8636000,"y":0,"width":3556000,"#,
    r#""height":12192000,"offcut":"fern-w-01"}]}}],"#,
    r#""offcuts":[{"id":"fern-w-01","paper":"fern","width":3556000,"height":12192000,"#,
    r#""count":1,"run":"R1"}],"#,
    r#""totals":{"spend":110,"stock":113,"kept":9,"sheets_used":2,"sheet_area":"1","#,
    r#""piece_area":"2","offcut_area":"3","waste_area":"4","blade_area":"0","#,
    r#""gauge_settings":2,"runs":1},"#,
    r#""proof":[{"papers":["fern"],"spend":{"value":110,"bound":110,"status":"optimal","#,
    r#""complete_search":false,"certificate":{"scale":1,"piece_values":{"invite.card":55},"#,
    r#""sheet_values":{"fern-12":110}}},"stock":{"value":113,"bound":100,"status":"gap","#,
    r#""complete_search":true,"certificate":{"scale":2,"piece_values":{},"sheet_values":{},"#,
    r#""budget_value":0}}}]}"#,
);

#[test]
fn a_plan_written_by_hand_comes_back_byte_for_byte() {
    let plan: Plan = serde_json::from_str(BY_HAND).unwrap();
    assert_eq!(serde_json::to_string(&plan).unwrap(), BY_HAND);
    assert_eq!(schema_faults(&serde_json::from_str(BY_HAND).unwrap()), Vec::<String>::new());
}

fn by_hand() -> Value {
    serde_json::from_str(BY_HAND).unwrap()
}

/// Both the reader and the schema refuse it.
fn refused(change: impl FnOnce(&mut Value)) {
    let mut value = by_hand();
    change(&mut value);
    assert_ne!(value, by_hand(), "nothing was changed");
    assert!(serde_json::from_value::<Plan>(value.clone()).is_err(), "read: {value}");
    assert!(!schema_faults(&value).is_empty(), "in the schema: {value}");
}

#[test]
fn unknown_and_missing_keys_are_errors_everywhere() {
    let places = [
        "",
        "/pieces/0",
        "/pieces/0/scores/0",
        "/sheets/0",
        "/runs/0",
        "/runs/0/layout",
        "/runs/0/layout/parts/1",
        "/offcuts/0",
        "/totals",
        "/proof/0",
        "/proof/0/spend",
        "/proof/0/spend/certificate",
    ];
    for place in places {
        let keys: Vec<String> =
            by_hand().pointer(place).unwrap().as_object().unwrap().keys().cloned().collect();
        refused(|value| value.pointer_mut(place).unwrap()["colour"] = json!("red"));
        for key in keys {
            // A price of null and one that is left out are the same to the reader alone.
            if key != "price" {
                refused(|value| {
                    value.pointer_mut(place).unwrap().as_object_mut().unwrap().remove(&key);
                });
            }
        }
    }
}

#[test]
fn wrong_types_are_errors() {
    for (place, wrong) in [
        ("/ticks_per_mm", json!(40000.5)),
        ("/pieces", json!({})),
        ("/pieces/0/width", json!("8636000")),
        ("/pieces/0/part", json!("lid")),
        ("/pieces/0/need", json!(-1)),
        ("/pieces/0/turn", json!(null)),
        ("/sheets/0/kind", json!("roll")),
        ("/sheets/0/price", json!("1.10")),
        ("/runs/0/layout", json!([])),
        ("/runs/0/layout/parts", json!([])),
        ("/runs/0/layout/parts/1", json!(null)),
        ("/totals/sheet_area", json!(1)),
        ("/totals/sheet_area", json!("one")),
        ("/proof/0/spend/status", json!("perhaps")),
        ("/proof/0/spend/certificate/scale", json!(1.5)),
        ("/proof/0/spend/certificate/piece_values", json!([])),
    ] {
        refused(|value| *value.pointer_mut(place).unwrap() = wrong);
    }
}

#[test]
fn a_node_is_one_thing_only() {
    let leaf = "/runs/0/layout/parts/1";
    for wrong in [
        json!({"x": 0, "y": 0, "width": 1, "height": 1}),
        json!({"x": 0, "y": 0, "width": 1, "height": 1, "waste": false}),
        json!({"x": 0, "y": 0, "width": 1, "height": 1, "waste": true, "offcut": "a"}),
        json!({"x": 0, "y": 0, "width": 1, "height": 1, "piece": "a"}),
        json!({"x": 0, "y": 0, "width": 1, "height": 1, "turned": true}),
        json!({"x": 0, "y": 0, "width": 1, "height": 1, "piece": "a", "turned": true, "waste": true}),
        json!({"x": 0, "y": 0, "width": 1, "height": 1, "cut_x": 1}),
        json!({"x": 0, "y": 0, "width": 1, "height": 1, "offcut": "a", "turned": true}),
    ] {
        refused(|value| *value.pointer_mut(leaf).unwrap() = wrong);
    }
    refused(|value| {
        value["runs"][0]["layout"]["cut_y"] = json!(1);
    });
    refused(|value| {
        let part = value["runs"][0]["layout"]["parts"][0].clone();
        value["runs"][0]["layout"]["parts"].as_array_mut().unwrap().push(part);
    });
}

#[test]
fn deep_nesting_is_an_error_and_no_crash() {
    let node = r#"{"x":0,"y":0,"width":1,"height":1,"cut_x":1,"parts":["#;
    let text =
        BY_HAND.replacen(r#""layout":{"#, &format!(r#""layout":{}{{"#, node.repeat(100_000)), 1);
    assert!(serde_json::from_str::<Plan>(&text).is_err());
    assert!(serde_json::from_str::<Plan>(&"[".repeat(1_000_000)).is_err());
}

#[test]
fn a_torn_file_is_an_error_wherever_it_tears() {
    for end in 0..BY_HAND.len() {
        assert!(serde_json::from_str::<Plan>(&BY_HAND[..end]).is_err(), "torn at {end}");
    }
}

/// Plans of before are read as they were, and written as they were, so that a journal knows them again.
#[test]
fn a_plan_of_the_first_schema_comes_back_byte_for_byte() {
    let first = BY_HAND.replace("cardwright-plan-2", FIRST_SCHEMA);
    let schema = serde_json::from_str(FIRST_JSON_SCHEMA).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    assert!(validator.is_valid(&serde_json::from_str(&first).unwrap()));
    let plan: Plan = serde_json::from_str(&first).unwrap();
    assert_eq!(serde_json::to_string(&plan).unwrap(), first);
}

/// Numbers at the ends of their types are judged, not computed with.
#[test]
fn extreme_numbers_are_faults_and_no_crash() {
    let plan = serde_json::to_value(make(vec![3; 60]).plan).unwrap();
    let mut places = Vec::new();
    numbers(&plan, String::new(), &mut places);
    for place in places {
        for extreme in
            [json!(u64::MAX), json!(i64::MAX), json!(i64::MIN), json!(i128::MAX.to_string())]
        {
            let mut value = plan.clone();
            *value.pointer_mut(&place).unwrap() = extreme;
            if let Ok(plan) = serde_json::from_value(value) {
                let mut made = make(vec![3; 60]);
                made.plan = plan;
                assert!(made.judged().is_err() || place.ends_with("gauge_settings"), "{place}");
                let _ = cardwright::plan::check::check_alone(&made.plan, &made.workshop);
            }
        }
    }
}

/// Pointers to all numbers, and to areas, which are numbers in text.
fn numbers(value: &Value, place: String, places: &mut Vec<String>) {
    match value {
        Value::Number(_) => places.push(place),
        Value::String(text) if place.ends_with("_area") && !text.is_empty() => places.push(place),
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                numbers(item, format!("{place}/{index}"), places);
            }
        }
        Value::Object(fields) => {
            for (key, field) in fields {
                numbers(field, format!("{place}/{key}"), places);
            }
        }
        _ => {}
    }
}

/// Sixty strips cut off one after the other: about as deep as a reader of JSON follows by default.
#[test]
fn a_tree_of_sixty_cuts_in_a_row_is_read() {
    let waste = r#"{"x":0,"y":0,"width":1,"height":1,"waste":true}"#;
    let open = format!(r#"{{"x":0,"y":0,"width":1,"height":1,"cut_x":1,"parts":[{waste},"#);
    let layout = |cuts: usize| format!("{}{waste}{}", open.repeat(cuts), "]}".repeat(cuts));
    let start = BY_HAND.find(r#"{"x":0"#).unwrap();
    let end = BY_HAND.find(r#"}],"offcuts""#).unwrap();
    let read = |cuts: usize| {
        let text = format!("{}{}{}", &BY_HAND[..start], layout(cuts), &BY_HAND[end..]);
        serde_json::from_str::<Plan>(&text)
    };
    assert!(read(60).is_ok());
    assert!(read(200).is_err(), "deeper ones are refused, not followed");
}

/// Two numbers that are sane alone and leave 128 bits together: packs of a price, and sheets that so much would buy.
#[test]
fn extreme_numbers_together_are_faults_and_no_crash() {
    let choices = |seed: u32| (0..60).map(|at| seed * 31 + at * at * 7).collect();
    let mut plans = (0..50).map(|seed| make(choices(seed)));
    let mut made = plans.find(|made| !made.plan.sheets.is_empty()).unwrap();
    let paper = &made.plan.sheets[0].paper;
    assert!(made.plan.proof.iter().any(|proof| proof.papers.contains(paper)));
    let mut dear = made.plan.sheets[0].clone();
    dear.id += "-dear";
    dear.price = Some(Money::from_minor(i64::MAX / 4));
    dear.packs_bought = 1_000_000_000_000;
    let mut many = made.plan.sheets[0].clone();
    many.id += "-many";
    many.price = Some(Money::from_minor(1));
    many.pack = 1_000_000_000_000;
    made.plan.sheets.extend([dear, many]);
    made.plan.sheets.sort_by(|a, b| a.id.cmp(&b.id));
    for proof in &mut made.plan.proof {
        proof.spend.certificate.sheet_values.clear();
        proof.stock.certificate.sheet_values.clear();
    }
    assert!(made.judged().is_err());
    assert!(cardwright::plan::check::check_alone(&made.plan, &made.workshop).is_err());
}
