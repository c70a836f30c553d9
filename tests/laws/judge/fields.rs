//! Every field of the schema is judged: given order, stock and bench, each has a change that is refused.
//!
//! Each number, word and list of real plans is changed in every way that the schema still allows. What passes then has to
//! be a sound plan all the same, and is listed here with the reason.

use crate::bench::shipped;
use cardwright::batch::{self, By, Inputs, Options, Rest, Source};
use cardwright::pieces::{Before, Tally};
use cardwright::plan::JSON_SCHEMA;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Fields of which some changes are as true as what they replace.
const AS_TRUE: [(&str, &str); 8] = [
    ("totals.gauge_settings", "the schedule alone knows it; the judge holds it between bounds"),
    ("leaf.turned", "a square lies the same either way"),
    ("level.bound", "one that rests on a search is believed, whatever it is, and told"),
    ("level.complete_search", "what the certificate proves needs no search, and none is told"),
    ("certificate.scale", "a smaller share of the same values proves a bound that is rounded up"),
    ("certificate.piece_values", "other values may prove the same bound"),
    ("certificate.sheet_values", "other values may prove the same bound"),
    ("certificate.budget_value", "other values may prove the same bound"),
];

/// Blade, squaring and grain; designs on both faces; packs, an offcut, and a line that takes either of two papers.
fn everything() -> Inputs {
    let source =
        |name: &str, text: &str| Source { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    Inputs {
        orders: vec![source(
            "everything.csv",
            "line,card,fold,count,paper,liner,envelope,with\n\
             note,4 1/4 x 5 1/2,side,9,fern,moss,bought,ribbon 12 in\n\
             tent,3 1/4 x 2,top,14,fern|moss,,,\n\
             tag,2 1/4 x 3,flat,11,wren,,moss,ribbon 5 in\n\
             map,2 x 2,accordion 4,3,fern,,,\n",
        )],
        sheets: source(
            "sheets.csv",
            "sheet,paper,width,height,on hand,price,pack,grain,print,rough edges\n\
             fern-a,fern,12,18,2,0.90,1,height,two-way/tumbled,4\n\
             moss-a,moss,20,13,1,7.50,5,width,one-way,2\n\
             moss-b,moss,11,17,0,0.80,1,height,two-way/one-way,2\n\
             wren-a,wren,12,12,9,,1,width,free,4\n",
        ),
        offcuts: Some(source(
            "offcuts.csv",
            "offcut,paper,width,height,count,grain\nwren-strip,wren,2 1/2,12 1/4,3,height\n",
        )),
        envelopes: Some(source(
            "envelopes.csv",
            "envelope,size,on hand,price,pack\nA2,US A2,3,1.20,4\nA7,US A7,30,,\n",
        )),
        sundries: Some(source("sundries.csv", "sundry,unit,on hand\nribbon,yd,20\n")),
        workshop: Some(source(
            "workshop.toml",
            "[trimmer]\nknife = \"20 in\"\nblade = \"1/32 in\"\nsquaring = \"1/8 in\"\n\
             [grain]\nrule = \"strict\"\n",
        )),
        ..Inputs::default()
    }
}

/// Two layouts that leave the same strip.
fn alike() -> Inputs {
    let source =
        |name: &str, text: &str| Source { name: name.to_owned(), bytes: text.as_bytes().to_vec() };
    Inputs {
        orders: vec![source(
            "alike.csv",
            "line,card,count,paper\na,12 x 9,1,fern\nb,6 x 9,2,fern\n",
        )],
        sheets: source("sheets.csv", "sheet,paper,width,height,on hand\na,fern,12,12,2\n"),
        offcuts: None,
        workshop: Some(source("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n")),
        ..Inputs::default()
    }
}

/// The rest of a batch of which some pieces are finished and some spoiled.
fn begun() -> Inputs {
    let inputs = everything();
    let made = batch::plan(&inputs, &Options::default()).made.unwrap();
    let tallies = made.job.bill.pieces.iter().zip(1..).map(|(piece, number)| Tally {
        finished: 4 + number,
        spoiled: number % 3,
        lost: number % 2,
        ..Tally::of(piece)
    });
    let before = Before { parts: 1, pieces: tallies.collect(), paper: [0, 1], ..Before::default() };
    Inputs { rest: Some(Rest::of(before)), ..inputs }
}

/// All inputs with the plan that is made of them.
fn plans() -> Vec<(Inputs, Value)> {
    let shipped = ["orders/wedding.csv", "examples/metric/seating.csv"].map(shipped);
    let all = shipped.into_iter().chain([everything(), alike(), begun()]);
    all.map(|inputs| {
        let outcome = batch::plan(&inputs, &Options::default());
        let Some(made) = outcome.made else { panic!("{:?}", outcome.problems) };
        (inputs, serde_json::to_value(&made.plan).unwrap())
    })
    .collect()
}

/// A place in a plan: a pointer to it, and the field of the schema that it is.
struct Spot {
    pointer: String,
    field: String,
}

/// All places of a plan.
fn spots(value: &Value, at: &Spot, found: &mut Vec<Spot>) {
    let below = |key: &str, field: String| Spot { pointer: format!("{}/{key}", at.pointer), field };
    match value {
        Value::Object(fields) => {
            let owner = owner(&at.field, fields);
            for (key, value) in fields {
                // The values of a certificate are all of one field.
                let field = match owner.as_str() {
                    values if values.ends_with("_values") => values.to_owned(),
                    owner => format!("{owner}.{key}"),
                };
                let spot = below(&key.replace('~', "~0").replace('/', "~1"), field);
                spots(value, &spot, found);
                found.push(spot);
            }
        }
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                spots(item, &below(&index.to_string(), at.field.clone()), found);
            }
        }
        _ => {}
    }
}

/// The name of a kind of object, as the schema's definitions have it.
fn owner(field: &str, fields: &Map<String, Value>) -> String {
    if fields.contains_key("x") {
        return if fields.contains_key("parts") { "cut" } else { "leaf" }.to_owned();
    }
    let last = field.rsplit('.').next().unwrap_or_default();
    match last {
        "" => "plan",
        "pieces" => "piece",
        "sheets" => "sheet",
        "runs" => "run",
        "offcuts" => "offcut",
        "supplies" => "supply",
        "scores" => "score",
        "spend" | "stock" => "level",
        "piece_values" | "sheet_values" => field,
        other => other,
    }
    .to_owned()
}

/// Everything that could stand there instead.
fn changes(value: &Value, names: &BTreeSet<String>) -> Vec<Value> {
    match value {
        Value::Null => vec![json!(1), json!(100)],
        Value::Bool(is) => vec![json!(!is)],
        Value::Number(number) => {
            let Some(number) = number.as_i64() else { return Vec::new() };
            let near = [number + 1, number - 1, number * 2, number / 2, 0, 4, 1 << 40, 1 << 62];
            near.into_iter().filter(|other| *other != number).map(|other| json!(other)).collect()
        }
        Value::String(text) => match text.parse::<i128>() {
            Ok(area) => vec![json!((area + 1).to_string()), json!((area / 2 + 7).to_string())],
            Err(_) => {
                let others = names.iter().filter(|other| *other != text);
                others.map(|other| json!(other)).chain([json!(format!("{text}x"))]).collect()
            }
        },
        Value::Array(items) => {
            let mut fewer = items.clone();
            fewer.pop();
            let mut more = items.clone();
            more.extend(items.first().cloned());
            let mut turned = items.clone();
            turned.reverse();
            let all = [fewer, more, turned];
            all.into_iter().filter(|other| other != items).map(Value::Array).collect()
        }
        Value::Object(fields) => {
            let mut fewer = fields.clone();
            fields.keys().next().map(|key| fewer.remove(key));
            let mut more = fields.clone();
            more.insert("nobody".to_owned(), json!(1));
            let all = [fewer, more];
            all.into_iter().filter(|other| other != fields).map(Value::Object).collect()
        }
    }
}

/// All names and words of a plan.
fn words(value: &Value, names: &mut BTreeSet<String>) {
    match value {
        Value::String(text) if text.parse::<i128>().is_err() => {
            names.insert(text.clone());
        }
        Value::Array(items) => items.iter().for_each(|item| words(item, names)),
        Value::Object(fields) => fields.values().for_each(|field| words(field, names)),
        _ => {}
    }
}

/// What came of changing a field.
#[derive(Default)]
struct Verdicts {
    refused: usize,
    passed: Vec<String>,
}

fn is_sound(plan: &Value, inputs: &Inputs) -> bool {
    let bytes = serde_json::to_vec(plan).unwrap();
    let source = Source { name: "plan.json".to_owned(), bytes };
    batch::judge(&source, By::Inputs(inputs)).sound.is_some()
}

/// Changes every place of a plan in every way, at most a few places of each field.
fn tally(plan: &Value, inputs: &Inputs, tallies: &mut BTreeMap<String, Verdicts>) {
    let mut names: BTreeSet<String> = [
        "free", "half", "none", "two-way", "one-way", "tumbled", "width", "height", "sheet",
        "offcut", "envelope", "sundry", "outer", "inner",
    ]
    .map(str::to_owned)
    .into();
    names.extend(["base", "liner", "mat", "optimal", "gap", "EUR"].map(str::to_owned));
    words(plan, &mut names);
    let schema = serde_json::from_str(JSON_SCHEMA).unwrap();
    let schema = jsonschema::draft202012::new(&schema).unwrap();
    let mut all = Vec::new();
    spots(plan, &Spot { pointer: String::new(), field: String::new() }, &mut all);
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for Spot { pointer, field } in all {
        let count = seen.entry(field.clone()).or_default();
        *count += 1;
        if *count > 6 {
            continue;
        }
        let old = plan.pointer(&pointer).unwrap();
        for new in changes(old, &names) {
            let mut changed = plan.clone();
            *changed.pointer_mut(&pointer).unwrap() = new.clone();
            if !schema.is_valid(&changed) {
                continue;
            }
            let tally = tallies.entry(field.clone()).or_default();
            match is_sound(&changed, inputs) {
                true => tally.passed.push(format!("{pointer}: {old} -> {new}")),
                false => tally.refused += 1,
            }
        }
    }
}

/// The keys of all objects that the schema describes.
fn keys(schema: &Value, found: &mut BTreeSet<String>) {
    match schema {
        Value::Object(fields) => {
            if let Some(Value::Object(properties)) = fields.get("properties") {
                found.extend(properties.keys().cloned());
            }
            fields.values().for_each(|field| keys(field, found));
        }
        Value::Array(items) => items.iter().for_each(|item| keys(item, found)),
        _ => {}
    }
}

#[test]
fn every_field_has_a_change_that_is_refused() {
    let mut tallies = BTreeMap::new();
    for (inputs, plan) in plans() {
        assert!(is_sound(&plan, &inputs));
        tally(&plan, &inputs, &mut tallies);
    }
    let mut wrong = Vec::new();
    for (field, Verdicts { refused, passed }) in &tallies {
        if *refused == 0 {
            wrong.push(format!("{field}: no change is refused, such as {:?}", passed.first()));
        }
        let may_pass = AS_TRUE.iter().any(|(other, _)| other == field);
        if !may_pass && !passed.is_empty() {
            wrong.push(format!(
                "{field}: {} of {} pass: {passed:#?}",
                passed.len(),
                refused + passed.len()
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let (refused, passed) = tallies
        .values()
        .fold((0, 0), |sum, tally| (sum.0 + tally.refused, sum.1 + tally.passed.len()));
    println!("{refused} changes are refused, {passed} are as true as what they replace");
    // Two have one value each that the schema allows; a waste is waste or something else; of three the keys are fixed, and
    // each of these is tried.
    let mut all = BTreeSet::new();
    keys(&serde_json::from_str(JSON_SCHEMA).unwrap(), &mut all);
    let tried: BTreeSet<&str> =
        tallies.keys().filter_map(|field| field.rsplit('.').next()).collect();
    let untried: Vec<&String> = all.iter().filter(|key| !tried.contains(key.as_str())).collect();
    assert_eq!(untried, ["certificate", "layout", "schema", "ticks_per_mm", "totals", "waste"]);
}
