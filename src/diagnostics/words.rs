//! Plurals and lists.

/// `1 sheet`, `2 sheets`, `5 boxes`: the plural is `noun` + s unless the noun already ends in x, s or h.
pub fn counted(count: u64, noun: &str) -> String {
    match (count, noun.chars().last()) {
        (1, _) => format!("1 {noun}"),
        (count, Some('x' | 's' | 'h')) => format!("{count} {noun}es"),
        (count, _) => format!("{count} {noun}s"),
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
