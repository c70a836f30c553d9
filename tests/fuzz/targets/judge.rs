//! A plan with some of its values changed, or any bytes at all, before the judge.
#![no_main]

use arbitrary::{Arbitrary, Unstructured};
use cardwright::batch::{self, Source};
use cardwright::cli::render;
use libfuzzer_sys::fuzz_target;
use serde_json::Value;

const PLANS: [&str; 2] =
    [include_str!("../../golden/swap/plan.json"), include_str!("../../golden/seating/plan.json")];
const BENCHES: [&str; 2] = [
    include_str!("../../../examples/smallest/workshop.toml"),
    include_str!("../../../examples/metric/workshop.toml"),
];

/// A change of the value that stands at some place of the tree.
#[derive(Arbitrary, Debug)]
struct Edit {
    at: u16,
    change: Change,
}

#[derive(Arbitrary, Debug)]
enum Change {
    Number(i64),
    Near(i8),
    Scaled(i16),
    Edge(u8),
    Text(String),
    Copy(u16),
    Swap(u16),
    Remove,
    Double,
    Flip,
    Null,
}

fuzz_target!(|bytes: &[u8]| {
    match bytes.split_first() {
        Some((b'{', _)) => judged(bytes.to_vec(), BENCHES[0]),
        Some((first, rest)) => edited(usize::from(first % 2), rest),
        None => {}
    }
});

fn edited(which: usize, rest: &[u8]) {
    let Ok(mut plan) = serde_json::from_str(PLANS[which]) else { return };
    let edits = <Vec<Edit>>::arbitrary_take_rest(Unstructured::new(rest));
    for edit in edits.unwrap_or_default().into_iter().take(12) {
        apply(&mut plan, edit);
    }
    judged(plan.to_string().into_bytes(), BENCHES[which]);
}

fn judged(bytes: Vec<u8>, bench: &str) {
    let plan = Source { name: "plan.json".to_owned(), bytes };
    let bench = Source { name: "workshop.toml".to_owned(), bytes: bench.as_bytes().to_vec() };
    let told = render::problems(&batch::judge(&plan, batch::By::Bench(&bench)).problems, false);
    assert!(!told.contains(['\u{1b}', '\u{202e}', '\r']));
}

fn apply(plan: &mut Value, Edit { at, change }: Edit) {
    let other = |plan: &mut Value, at: u16| found(plan, at).map(|value| value.clone());
    let (copied, swapped) = match change {
        Change::Copy(from) => (other(plan, from), None),
        Change::Swap(with) => (other(plan, with), other(plan, at).map(|value| (with, value))),
        _ => (None, None),
    };
    let Some(value) = found(plan, at) else { return };
    let number = value.as_i64().unwrap_or_default();
    match change {
        Change::Number(number) => *value = number.into(),
        Change::Near(by) => *value = number.saturating_add(by.into()).into(),
        Change::Scaled(by) => *value = number.saturating_mul(by.into()).into(),
        Change::Edge(which) => *value = edge(which),
        Change::Text(text) => *value = text.into(),
        Change::Copy(_) | Change::Swap(_) => {
            if let Some(copied) = copied {
                *value = copied;
            }
        }
        Change::Remove => removed(value),
        Change::Double => doubled(value),
        Change::Flip => *value = (!value.as_bool().unwrap_or_default()).into(),
        Change::Null => *value = Value::Null,
    }
    if let Some((with, value)) = swapped
        && let Some(place) = found(plan, with)
    {
        *place = value;
    }
}

fn edge(which: u8) -> Value {
    const EDGES: [i64; 10] = [
        0,
        -1,
        i64::MIN,
        i64::MAX,
        i64::MAX / 2,
        i64::MAX / 4,
        1_000_000_000_000,
        1_000_000_000_001,
        4_000_000_000,
        16_000_000_000,
    ];
    match usize::from(which) % 12 {
        10 => u64::MAX.into(),
        11 => serde_json::json!(0.5),
        which => EDGES[which].into(),
    }
}

fn removed(value: &mut Value) {
    match value {
        Value::Array(list) => drop(list.pop()),
        Value::Object(map) => {
            if let Some(key) = map.keys().next().cloned() {
                map.remove(&key);
            }
        }
        _ => {}
    }
}

fn doubled(value: &mut Value) {
    if let Value::Array(list) = value
        && let Some(last) = list.last().cloned()
    {
        list.push(last);
    }
}

/// The value at a place, counted from the root, values before what they hold; counting begins again at the end.
fn found(plan: &mut Value, at: u16) -> Option<&mut Value> {
    let count = size(plan);
    let mut left = usize::from(at) % count.max(1);
    walk(plan, &mut left)
}

fn size(value: &Value) -> usize {
    1 + match value {
        Value::Array(list) => list.iter().map(size).sum(),
        Value::Object(map) => map.values().map(size).sum::<usize>(),
        _ => 0,
    }
}

fn walk<'a>(value: &'a mut Value, left: &mut usize) -> Option<&'a mut Value> {
    if *left == 0 {
        return Some(value);
    }
    *left -= 1;
    match value {
        Value::Array(list) => list.iter_mut().find_map(|one| walk(one, left)),
        Value::Object(map) => map.values_mut().find_map(|one| walk(one, left)),
        _ => None,
    }
}
