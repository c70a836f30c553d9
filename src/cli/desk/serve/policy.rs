//! What a browser may load and run (Content Security Policy).

use crate::reports::SCRIPTS;

/// The page: its own files, and nothing from elsewhere.
pub const PAGE: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; \
                        frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
/// What is no page.
pub const NOTHING: &str = "default-src 'none'; frame-ancestors 'none'";

/// A file of a report: it has all that it needs in it. It may come from anybody, and what runs in it can do what the desk can: in a
/// page the scripts of schedules run, and in other files none.
pub fn report(media: &str) -> String {
    let scripts = match media.starts_with("text/html") {
        true => SCRIPTS.join(" "),
        false => "'none'".to_owned(),
    };
    format!(
        "default-src 'none'; script-src {scripts}; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; \
         form-action 'none'; frame-ancestors 'self'"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::SCRIPT;
    use base64::Engine;
    use base64::engine::general_purpose::STANDARD;

    #[test]
    fn the_script_is_known_by_its_digest() {
        let digest = crate::shelf::digest(SCRIPT.as_bytes());
        let byte = |at: usize| u8::from_str_radix(&digest[at..at + 2], 16).unwrap();
        let bytes: Vec<u8> = (0..digest.len()).step_by(2).map(byte).collect();
        let named = format!("'sha256-{}'", STANDARD.encode(bytes));
        assert_eq!(SCRIPTS[0], named, "put it in front; one that was released stays behind it");
    }
}
