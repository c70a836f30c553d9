//! Where lines of text may break, on the screen and on pages.

/// Whether a length or size goes on: no line breaks between these two words.
pub fn go_together(before: &str, word: &str) -> bool {
    let number = |word: &str| {
        word.trim_start_matches('(').starts_with(|letter: char| letter.is_ascii_digit())
    };
    match before {
        "x" => number(word),
        _ if number(before) && !before.ends_with([',', ';', ')']) => {
            number(word) || word == "x" || word.starts_with("in") || word.starts_with("mm")
        }
        _ => false,
    }
}

/// The parts of a name, behind which it may break: each ends with a joint but the last.
pub fn joints(name: &str) -> impl Iterator<Item = &str> {
    name.split_inclusive(['.', '+', '-', '_'])
}

/// A text between its breaks: words, or several that go together.
pub fn held(text: &str) -> Vec<String> {
    let mut held: Vec<String> = Vec::new();
    let mut before = "";
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        match held.last_mut() {
            Some(last) if go_together(before, word) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => held.push(word.to_owned()),
        }
        before = word;
    }
    held
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_held_together() {
        assert_eq!(held("2 of 8 1/2 x 11 in, ivory"), ["2", "of", "8 1/2 x 11 in,", "ivory"]);
        assert_eq!(held("12 (305 x  33 mm) each"), ["12 (305 x 33 mm)", "each"]);
        assert_eq!(held(" to be, 2; 3 x "), ["to", "be,", "2;", "3 x"]);
        assert_eq!(joints("fern-12.a_b").collect::<Vec<_>>(), ["fern-", "12.", "a_", "b"]);
    }
}
