//! What scripts read: every document that `--json` prints, and every line of the journal, is as its schema says.
//!
//! The schemas are in `src/cli/schema/`, that of `plan.json` is in `src/plan/schema/`.

use super::*;
use crate::bench::schema_faults;
use crate::program::project;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

const FOLDER: &str = "src/cli/schema";
/// The schema of what `settle --json` prints, and of a line of the journal.
const ENTRY: &str = "entry.json";
/// Keys of an entry whose values have names of the person's own for keys.
const BY_NAME: [&str; 12] = [
    "runs", "rest", "bought", "used", "paper", "spoiled", "aside", "work", "rates", "taken",
    "units", "wasted",
];
/// Keys that are only there where they say something.
const OPTIONAL: [&str; 16] = [
    "aside",
    "cost",
    "envelopes",
    "lifts",
    "pieces",
    "reached",
    "report",
    "rest_of",
    "spoiled",
    "stacks",
    "sundries",
    "table",
    "taken",
    "units",
    "wasted",
    "work",
];
/// So many of equal things are changed on purpose.
const LOOKED_AT: usize = 3;

/// Documents by the files of their schemas.
type Documents = BTreeMap<String, Vec<Value>>;

fn schema(file: &str) -> Value {
    let text = fs::read_to_string(project(FOLDER).join(file)).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// The file of a document's schema: `check-1.json`.
fn file_of(document: &Value) -> String {
    let name = document["schema"].as_str();
    name.map_or(ENTRY.to_owned(), |name| name.replace("cardwright-", "") + ".json")
}

/// What a script reads in a workshop where a batch is planned, settled, taken back and dropped, step by step as well, and
/// where files are edited and rebuilt.
fn documents() -> Documents {
    let home = Home::with(&["orders"]);
    let mut documents = Documents::new();
    let mut add = |document: Value| {
        documents.entry(file_of(&document)).or_default().push(document);
    };
    let mut ask = |arguments: &str| {
        let answer = home.run(arguments);
        assert_eq!(answer.err, "", "{arguments}");
        add(serde_json::from_str(&answer.out).unwrap());
    };
    home.put("spring.csv", "line,card,count,paper\ntag,2 x 3,twelve,wren\n");
    ask("shelf history orders --json");
    home.put(
        "counted.csv",
        "name,count,paper,width,height\nribbon,150,,,\nseal,,,,\n,2,slate,4,5\n",
    );
    ask("shelf take counted.csv orders --preview --on 2027-05-08 --json");
    ask("shelf take counted.csv orders --on 2027-05-08 --json");
    home.done("plan orders/wedding.csv --quiet --reserve");
    ask("check orders/wedding.csv --json");
    ask("check reports/wedding/plan.json --json");
    ask("check spring.csv --sheets orders/sheets.csv --json");
    ask("check orders/none.csv --json");
    ask("explain --json");
    ask("explain order-count --json");
    ask("sizes --json");
    ask("sizes A7 --json");
    ask("sizes 4x6 --json");
    ask("sizes letter --json");
    ask("shelf orders --on 2027-05-09 --json");
    ask("settle reports/wedding --hours cut=1.5 --on 2027-05-09 --json");
    ask("shelf orders --on 2027-05-09 --json");
    ask("settle reports/wedding --undo --on 2027-05-09 --json");
    ask("settle reports/wedding --done 34:1 --spoiled AL=2 --on 2027-05-09 --json");
    home.done("plan orders/wedding.csv --rest --quiet");
    ask("settle reports/wedding-2 --done 2 --on 2027-05-09 --json");
    ask("settle reports/wedding-2 --undo --on 2027-05-09 --json");
    ask("settle reports/wedding --undo --on 2027-05-09 --json");
    home.done("plan orders/winter.csv --quiet");
    ask("settle reports/winter --spoiled seal=1 --on 2027-05-09 --json");
    ask("settle reports/winter --undo --on 2027-05-09 --json");
    for name in ["sheets", "offcuts", "envelopes", "sundries"].map(|it| format!("orders/{it}.csv"))
    {
        let name = name.as_str();
        home.put(name, home.text(name) + "# counted\n");
    }
    ask("shelf history orders --json");
    home.done("shelf drop wedding orders --on 2027-05-10");
    home.done("shelf rebuild orders --to 1 --on 2027-05-10");
    ask("shelf history orders --json");
    // A shelf whose envelopes and sundries came later.
    let bare = Home::with(&["orders"]);
    let later = ["orders/envelopes.csv", "orders/sundries.csv"];
    later.iter().for_each(|name| fs::remove_file(bare.path(name)).unwrap());
    bare.done("plan orders/wedding.csv --quiet --reserve");
    fs::create_dir(bare.path("later")).unwrap();
    later.iter().for_each(|name| bare.put(&name.replace("orders", "later"), home.text(name)));
    let files = "--envelopes later/envelopes.csv --sundries later/sundries.csv";
    bare.done(&format!("plan orders/wedding.csv --quiet --reserve {files}"));
    // A stock-take that changes every file.
    let counted = Home::with(&["orders"]);
    counted.put("counted.csv", "name,count\nwren-12,1\nwren-spring-02,1\nA6 ivory,3\nseal,1\n");
    counted.done("shelf take counted.csv orders --on 2027-05-08");
    for home in [&home, &bare, &counted] {
        for line in home.text("orders/shelf.jsonl").lines() {
            add(serde_json::from_str(line).unwrap());
        }
    }
    documents
}

fn below(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

/// The paths of all keys that a part of a schema tells of: `problems[].place.file`.
fn told(schema: &Value, part: &Value, path: &str, paths: &mut BTreeSet<String>) {
    if let Some(name) = part["$ref"].as_str() {
        told(schema, schema.pointer(name.trim_start_matches('#')).unwrap(), path, paths);
    }
    for choice in part["anyOf"].as_array().into_iter().flatten() {
        told(schema, choice, path, paths);
    }
    if part["items"].is_object() {
        told(schema, &part["items"], &format!("{path}[]"), paths);
    }
    for (key, inner) in part["properties"].as_object().into_iter().flatten() {
        let path = below(path, key);
        told(schema, inner, &path, paths);
        paths.insert(path);
    }
}

/// The paths of all keys of a document.
fn shown(value: &Value, path: &str, paths: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (key, value) in fields {
                let path = below(path, key);
                shown(value, &path, paths);
                paths.insert(path);
            }
        }
        Value::Array(all) => all.iter().for_each(|it| shown(it, &format!("{path}[]"), paths)),
        _ => {}
    }
}

/// Where objects stand in a document, of equal things the first few: `/problems/0/place`.
fn objects(value: &Value, pointer: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            found.push(pointer.to_owned());
            for (key, value) in fields {
                objects(value, &format!("{pointer}/{key}"), found);
            }
        }
        Value::Array(all) => {
            for (at, value) in all.iter().take(LOOKED_AT).enumerate() {
                objects(value, &format!("{pointer}/{at}"), found);
            }
        }
        _ => {}
    }
}

#[test]
fn every_schema_is_one_and_bears_its_name() {
    for file in listing(&project(FOLDER)) {
        let schema = schema(&file);
        jsonschema::draft202012::meta::validate(&schema).unwrap();
        let name = file.trim_end_matches(".json");
        assert_eq!(schema["$id"], format!("urn:cardwright:{}", name.replace('-', ":")), "{file}");
        if file != ENTRY {
            assert_eq!(schema["title"], format!("cardwright-{name}"));
            assert_eq!(schema["properties"]["schema"]["const"], schema["title"]);
        }
    }
}

/// Both ways: nothing is printed that a schema does not tell of, and no schema tells of what is never printed.
#[test]
fn every_document_is_as_its_schema_says() {
    let documents = documents();
    let files: Vec<&String> = documents.keys().collect();
    assert_eq!(files, listing(&project(FOLDER)).iter().collect::<Vec<_>>());
    for (file, documents) in &documents {
        let schema = schema(file);
        let validator = jsonschema::draft202012::new(&schema).unwrap();
        let (mut known, mut found) = (BTreeSet::new(), BTreeSet::new());
        told(&schema, &schema, "", &mut known);
        for document in documents {
            let faults = validator.iter_errors(document);
            let faults: Vec<String> =
                faults.map(|fault| format!("{}: {fault}", fault.instance_path())).collect();
            assert_eq!(faults, [""; 0], "{file}: {document:#}");
            shown(document, "", &mut found);
        }
        let unseen: Vec<&String> = known.difference(&found).collect();
        assert!(unseen.is_empty(), "{file} tells of {unseen:?}, which nothing shows");
    }
}

#[test]
fn a_plan_is_as_its_schema_says() {
    let home = Home::with(&["orders"]);
    let plan = home.done("plan orders/wedding.csv --json").out;
    assert_eq!(schema_faults(&serde_json::from_str(&plan).unwrap()), [""; 0]);
}

/// A schema that let anything pass would promise nothing: in every object, a key more and a key less are refused.
#[test]
fn what_a_schema_does_not_tell_of_is_refused() {
    for (file, documents) in documents() {
        let validator = jsonschema::draft202012::new(&schema(&file)).unwrap();
        for document in &documents {
            let mut places = Vec::new();
            objects(document, "", &mut places);
            for place in places {
                let is_by_name = BY_NAME.iter().any(|key| place.ends_with(&format!("/{key}")));
                let changed = |change: &dyn Fn(&mut serde_json::Map<String, Value>)| {
                    let mut changed = document.clone();
                    let object = changed.pointer_mut(&place).unwrap();
                    change(object.as_object_mut().unwrap());
                    changed
                };
                let more = changed(&|fields| drop(fields.insert("odd".to_owned(), json!(["odd"]))));
                assert!(!validator.is_valid(&more), "{file}: {place} with a key more");
                let fields = document.pointer(&place).unwrap().as_object().unwrap();
                let is_needed = |key: &&String| {
                    let is_count =
                        document.pointer(&format!("{place}/{key}")).is_some_and(Value::is_number);
                    is_count && **key != "lifts" || !OPTIONAL.contains(&key.as_str())
                };
                for key in fields.keys().filter(|key| !is_by_name && is_needed(key)) {
                    let less = changed(&|fields| drop(fields.remove(key)));
                    assert!(!validator.is_valid(&less), "{file}: {place} without {key}");
                }
            }
        }
    }
}
