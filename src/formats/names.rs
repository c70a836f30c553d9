//! Names as people say them: `DIN A6`, `a-7`, `#10`, `C6 envelope`.

use super::list::plain;
use crate::diagnostics::slips;

/// What a format is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FormatKind {
    /// A finished card.
    Card,
    /// An envelope.
    Envelope,
    /// A full sheet.
    Sheet,
}

/// Families that are left out when people speak of a size.
const FAMILIES: [&str; 3] = ["iso", "us", "no."];

/// Other ways to write a family. DIN adopted ISO 216 (DIN EN ISO 216) and made its envelopes (DIN 678).
const WRITTEN: [(&str, &str); 6] =
    [("iso", "iso"), ("din", "iso"), ("us", "us"), ("no.", "no."), ("no", "no."), ("#", "no.")];

/// Series whose sizes are a letter and a number.
const SERIES: [&str; 5] = ["a", "b", "c", "ra", "sra"];

/// Whether a name is meant: itself, or itself without its family.
pub fn means(name: &str, text: &str) -> bool {
    let (name, text) = (words(name), words(text));
    name == text || (family(&text).is_none() && bare(&name) == text)
}

/// The words of a name, each family in one way: `DIN-A6`, `dina6` and `ISO A 6` are `iso` and `a6`.
pub(super) fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in plain(name).split(' ').filter(|word| !word.is_empty()) {
        let (family, rest) = parted(word);
        words.extend(family.map(str::to_owned));
        let (last, before) = (words.last().cloned(), words.iter().rev().nth(1));
        let is_number = !rest.is_empty() && rest.bytes().all(|byte| byte.is_ascii_digit());
        match last {
            Some(last)
                if is_number
                    && SERIES.contains(&last.as_str())
                    && before.is_some_and(|word| is_family(word)) =>
            {
                words.pop();
                words.push(last + &rest);
            }
            // "DIN lang" is DL (from memory).
            Some(last) if last == "iso" && rest == "lang" => words.push("dl".to_owned()),
            _ if rest.is_empty() => {}
            _ => words.push(rest),
        }
    }
    words
}

/// A word's family and what stands behind it.
fn parted(word: &str) -> (Option<&'static str>, String) {
    for (written, family) in WRITTEN {
        let Some(rest) = word.strip_prefix(written) else { continue };
        let size = rest.strip_prefix('-').unwrap_or(rest);
        let is_size = match family {
            "no." => size.starts_with(|first: char| first.is_ascii_digit()),
            _ => is_designation(&joined(size)),
        };
        if rest.is_empty() || is_size {
            return (Some(family), joined(size));
        }
    }
    (None, joined(word))
}

/// `a-7` as `a7`.
fn joined(word: &str) -> String {
    let without: String = word.chars().filter(|letter| *letter != '-').collect();
    if is_designation(&without) { without } else { word.to_owned() }
}

/// `a6`, `sra3`, `c6/c5` or `dl`.
fn is_designation(word: &str) -> bool {
    let is_size = |part: &str| {
        let number = part.trim_start_matches(|letter: char| letter.is_ascii_alphabetic());
        let series = &part[..part.len() - number.len()];
        let digits = number.bytes().all(|byte| byte.is_ascii_digit());
        SERIES.contains(&series) && (1..=2).contains(&number.len()) && digits
    };
    word == "dl" || word.split('/').all(is_size)
}

fn is_family(word: &str) -> bool {
    FAMILIES.contains(&word)
}

fn family(words: &[String]) -> Option<&String> {
    words.iter().find(|word| is_family(word))
}

/// The words without their family.
fn bare(words: &[String]) -> Vec<String> {
    words.iter().filter(|word| !is_family(word)).cloned().collect()
}

/// How well a shortened or wordy name may stand for `name`: itself without its family, such as `A6`; or the size of
/// that name among other words, such as `A6 card`. A family that is named is no other.
pub(super) fn stands_for(text: &str, name: &str) -> bool {
    let (text, name) = (words(text), words(name));
    let (bare_text, bare_name) = (bare(&text), bare(&name));
    let is_size = matches!(bare_name.as_slice(), [only] if is_designation(only));
    let named = family(&text);
    (named.is_none() || named == family(&name))
        && !bare_text.is_empty()
        && (bare_name == bare_text || (is_size && bare_text.contains(&bare_name[0])))
}

/// The kind that a name says at its end or its beginning, and the rest of it: `C6 envelope`.
pub fn said_kind(text: &str) -> Option<(FormatKind, String)> {
    let plain = plain(text);
    let kind = |word: &str| match word {
        "card" | "cards" => Some(FormatKind::Card),
        "envelope" | "envelopes" => Some(FormatKind::Envelope),
        "sheet" | "sheets" | "paper" => Some(FormatKind::Sheet),
        _ => None,
    };
    let behind = plain.rsplit_once(' ').and_then(|(rest, word)| Some((kind(word)?, rest)));
    let front = || plain.split_once(' ').and_then(|(word, rest)| Some((kind(word)?, rest)));
    behind.or_else(front).map(|(kind, rest)| (kind, rest.to_owned()))
}

/// The name that was meant, most likely: one of the same number, with the same words before one with the same
/// letters. A name of another number or family is another size and no slip.
pub fn nearest_format<'a>(text: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = words(text);
    let sizes = |words: &[String]| -> Vec<String> {
        let has_digit = |word: &&String| word.bytes().any(|byte| byte.is_ascii_digit());
        words.iter().filter(has_digit).cloned().collect()
    };
    let is_near =
        |word: &String, other: &String| slips(word, other).is_some_and(|count| count <= 1);
    let ranked = |name: &'a str| {
        let known = words(name);
        let is_said = |word: &String| known.iter().any(|other| is_near(word, other));
        let same_words = bare(&typed).iter().all(is_said) && !typed.is_empty();
        let count = slips(text, name);
        (same_words || count.is_some()).then_some((!same_words, count.unwrap_or(usize::MAX), name))
    };
    let is_same = |name: &&str| {
        let known = words(name);
        let named = family(&typed).zip(family(&known));
        sizes(&known) == sizes(&typed) && named.is_none_or(|(one, other)| one == other)
    };
    let same_size = names.into_iter().filter(is_same);
    let best = same_size.filter_map(ranked).min_by_key(|(other, count, _)| (*other, *count));
    best.map(|(.., name)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_family_is_written_in_many_ways() {
        for name in
            ["ISO A6", "iso  a6", "DIN A6", "DIN-A6", "DINA6", "DIN A 6", "iso-a6", "ISO A-6"]
        {
            assert_eq!(words(name), ["iso", "a6"], "{name}");
        }
        for name in ["No. 10", "no 10", "#10", "No.10", "# 10"] {
            assert_eq!(words(name), ["no.", "10"], "{name}");
        }
        for name in ["US A7", "us-a7", "USA7"] {
            assert_eq!(words(name), ["us", "a7"], "{name}");
        }
        assert_eq!(words("DIN lang"), words("ISO DL"));
        assert_eq!(words("place-card"), ["place-card"]);
        assert_eq!(words("notelet"), ["notelet"]);
        assert_eq!(words("use a6"), ["use", "a6"]);
    }

    #[test]
    fn a_family_may_be_left_out_and_not_changed() {
        assert!(means("ISO C6", "C6") && means("ISO C6", "DIN C6") && means("No. 10", "#10"));
        assert!(means("ISO C6/C5", "c6/c5") && means("third of ISO A4", "third of A4"));
        assert!(!means("ISO A6", "US A6") && !means("ISO C6", "C5") && !means("ISO C6", ""));
    }

    #[test]
    fn a_size_stands_for_each_family() {
        for text in ["A6", "a6 card", "UK A6"] {
            assert!(stands_for(text, "ISO A6") && stands_for(text, "US A6"), "{text}");
        }
        assert!(stands_for("DIN A6 card", "ISO A6") && !stands_for("DIN A6 card", "US A6"));
        assert!(
            !stands_for("A4", "third of ISO A4") && stands_for("third of A4", "third of ISO A4")
        );
        assert!(!stands_for("", "ISO A6") && !stands_for("card", "place card"));
    }

    #[test]
    fn a_kind_is_said_at_an_end() {
        let kind = |text| said_kind(text).map(|(kind, rest)| (kind, rest.clone()));
        assert_eq!(kind("C6 Envelope"), Some((FormatKind::Envelope, "c6".to_owned())));
        assert_eq!(kind("card A7"), Some((FormatKind::Card, "a7".to_owned())));
        assert_eq!(kind("A4 paper"), Some((FormatKind::Sheet, "a4".to_owned())));
        assert_eq!(kind("card"), None);
        assert_eq!(kind("bookmark"), None);
    }

    #[test]
    fn meaning_comes_before_letters() {
        let names = [
            "ISO A8",
            "US A9",
            "square 5",
            "square 6",
            "square envelope 6",
            "place card",
            "slimline",
        ];
        let near = |text| nearest_format(text, names);
        assert_eq!(near("sqare 6"), Some("square 6"));
        assert_eq!(near("envelope 6"), Some("square envelope 6"));
        assert_eq!(near("placecard"), Some("place card"));
        assert_eq!(near("slimlin"), Some("slimline"));
        // Nearer in letters, and another size.
        assert_eq!(near("square 7"), None);
        assert_eq!(near("ISO A9"), None);
        assert_eq!(near("banner"), None);
        assert_eq!(near(""), None);
    }
}
