//! A link as a code that a phone can scan (ISO/IEC 18004).

use qrcodegen::{QrCode, QrCodeEcc};

/// Blank modules round a code, so that it is found: 4 (ISO/IEC 18004).
const QUIET: i32 = 4;

/// A code for a terminal: each letter is two modules, one above the other. `None` where the link is too long for one.
pub fn for_terminal(link: &str) -> Option<String> {
    let code = QrCode::encode_text(link, QrCodeEcc::Medium).ok()?;
    // Dark modules are left out, so that a dark terminal shows them dark on light.
    let is_light = |x: i32, y: i32| !code.get_module(x, y);
    let range = -QUIET..code.size() + QUIET;
    let mut text = String::new();
    for y in range.clone().step_by(2) {
        for x in range.clone() {
            text.push(match (is_light(x, y), is_light(x, y + 1)) {
                (true, true) => '\u{2588}',
                (true, false) => '\u{2580}',
                (false, true) => '\u{2584}',
                (false, false) => ' ',
            });
        }
        text.push('\n');
    }
    Some(text)
}

/// A code for a page, as SVG of black modules on white.
pub fn for_page(link: &str) -> Option<String> {
    let code = QrCode::encode_text(link, QrCodeEcc::Medium).ok()?;
    let size = code.size() + 2 * QUIET;
    let places = (0..code.size()).flat_map(|y| (0..code.size()).map(move |x| [x, y]));
    let dark = places.filter(|[x, y]| code.get_module(*x, *y));
    let path: String = dark.map(|[x, y]| format!("M{} {}h1v1h-1z", x + QUIET, y + QUIET)).collect();
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"Code of the link\" viewBox=\"0 0 {size} {size}\" \
         shape-rendering=\"crispEdges\"><rect width=\"{size}\" height=\"{size}\" fill=\"#fff\"/><path d=\"{path}\"/></svg>"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO/IEC 18004: a code of version 1 has 21 modules a side, and a finder pattern of 7 in three corners.
    #[test]
    fn a_code_has_its_finder_patterns() {
        let svg = for_page("HTTP://A.B").unwrap();
        assert!(svg.contains("viewBox=\"0 0 29 29\""), "{svg}");
        for corner in ["M4 4h1", "M10 4h1", "M4 10h1", "M18 4h1", "M24 4h1", "M4 18h1", "M4 24h1"] {
            assert!(svg.contains(corner), "{corner}");
        }
        let text = for_terminal("HTTP://A.B").unwrap();
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!((lines.len(), lines[0].chars().count()), (15, 29));
        assert!(lines[0].chars().all(|letter| letter == '\u{2588}'), "blank above it");
    }
}
