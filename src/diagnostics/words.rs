//! Plurals and lists.

/// `1 sheet`, `2 sheets`, `5 boxes`, `3 batches`, `4 copies`.
pub fn counted(count: u64, noun: &str) -> String {
    match count {
        1 => format!("1 {noun}"),
        _ => format!("{count} {}", plural(noun)),
    }
}

fn plural(noun: &str) -> String {
    let vowel = |letter: char| "aeiou".contains(letter);
    match noun.strip_suffix('y') {
        Some(stem) if !stem.ends_with(vowel) => format!("{stem}ies"),
        _ if ["x", "s", "ch", "sh"].iter().any(|ending| noun.ends_with(ending)) => {
            format!("{noun}es")
        }
        _ => format!("{noun}s"),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub fn listed<S: AsRef<str>>(words: &[S]) -> String {
    match words {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nouns_follow_their_number() {
        assert_eq!(counted(0, "sheet"), "0 sheets");
        assert_eq!(counted(1, "sheet"), "1 sheet");
        assert_eq!(counted(2, "sheet"), "2 sheets");
        assert_eq!(counted(2, "box"), "2 boxes");
        assert_eq!(counted(2, "batch"), "2 batches");
        assert_eq!(counted(2, "month"), "2 months");
        assert_eq!(counted(2, "copy"), "2 copies");
        assert_eq!(counted(2, "day"), "2 days");
    }

    #[test]
    fn lists_read_as_spoken() {
        assert_eq!(listed::<&str>(&[]), "");
        assert_eq!(listed(&["a"]), "a");
        assert_eq!(listed(&["a", "b"]), "a and b");
        assert_eq!(listed(&["a", "b", "c"]), "a, b and c");
    }
}
