//! `plan.json`: the plan itself, for programs.

use crate::plan::Plan;

/// The plan as indented JSON, keys in their declared order, with a line end behind it.
pub fn plan(plan: &Plan) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = serde_json::to_vec_pretty(plan)?;
    bytes.push(b'\n');
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use crate::plan::Plan;
    use crate::reports::fixture;

    #[test]
    fn a_plan_read_back_is_the_same_plan() {
        for made in [fixture::lesson(), fixture::fair()] {
            let bytes = super::plan(&made.plan).unwrap();
            assert_eq!(serde_json::from_slice::<Plan>(&bytes).unwrap(), made.plan);
            assert!(bytes.ends_with(b"}\n"));
        }
    }

    #[test]
    fn keys_stand_in_their_declared_order() {
        let text = String::from_utf8(super::plan(&fixture::lesson().plan).unwrap()).unwrap();
        let keys = ["\"schema\"", "\"ticks_per_mm\"", "\"order\"", "\"currency\"", "\"pieces\""];
        let places: Vec<usize> = keys.iter().map(|key| text.find(key).unwrap()).collect();
        assert!(places.is_sorted());
    }
}
