//! JSON in which no object says a thing twice: readers differ in which of two they believe.

use serde::Deserialize;
use serde::de::{DeserializeOwned, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use std::collections::BTreeSet;
use std::fmt;

/// Any value without repeated keys. What is no whole number has no place in our documents.
struct Unrepeated;

/// Reads a document.
///
/// # Errors
/// It is no such document, or an object in it has a key twice.
pub fn read<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, serde_json::Error> {
    let document = serde_json::from_slice(bytes)?;
    serde_json::from_slice::<Unrepeated>(bytes).map(|_| document)
}

impl<'de> Deserialize<'de> for Unrepeated {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Unrepeated, D::Error> {
        deserializer.deserialize_any(Duplicates)
    }
}

struct Duplicates;

impl<'de> Visitor<'de> for Duplicates {
    type Value = Unrepeated;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Unrepeated, A::Error> {
        let mut keys = BTreeSet::new();
        while let Some(key) = map.next_key::<String>()? {
            if keys.contains(&key) {
                return Err(A::Error::custom(format!("`{}` appears twice", key.escape_debug())));
            }
            keys.insert(key);
            map.next_value::<Unrepeated>()?;
        }
        Ok(Unrepeated)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Unrepeated, A::Error> {
        while list.next_element::<Unrepeated>()?.is_some() {}
        Ok(Unrepeated)
    }

    fn visit_bool<E>(self, _: bool) -> Result<Unrepeated, E> {
        Ok(Unrepeated)
    }

    fn visit_i64<E>(self, _: i64) -> Result<Unrepeated, E> {
        Ok(Unrepeated)
    }

    fn visit_u64<E>(self, _: u64) -> Result<Unrepeated, E> {
        Ok(Unrepeated)
    }

    fn visit_str<E>(self, _: &str) -> Result<Unrepeated, E> {
        Ok(Unrepeated)
    }

    fn visit_unit<E>(self) -> Result<Unrepeated, E> {
        Ok(Unrepeated)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_may_stand_there_once() {
        for sound in ["{}", r#"[{"a":1},{"a":-2}]"#, r#"{"a":{"a":null},"b":[true,"a"]}"#] {
            assert!(read::<Unrepeated>(sound.as_bytes()).is_ok(), "{sound}");
        }
        for doubled in [r#"{"a":1,"a":1}"#, r#"[0,{"b":{"a":1,"c":2,"a":3}}]"#] {
            let told = read::<Unrepeated>(doubled.as_bytes()).err().unwrap().to_string();
            assert!(told.starts_with("`a` appears twice"), "{told}");
        }
    }
}
