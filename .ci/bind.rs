//! Binds the page, its scripts and the program into one file that needs nothing else.
//!
//! `cargo run --example bind PROGRAM.wasm FILE.html`, as `.ci/page` runs it. Scripts are put one behind the other, each in a room of its own, so
//! that no name of one meets a name of another. The policy in the file names the scripts by their digests: no other one runs.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use cardwright::reports::SCRIPTS;
use flate2::Compression;
use flate2::write::GzEncoder;
use sha2::{Digest, Sha256};
use std::env::args_os;
use std::error::Error;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Where page and reports lie, seen from the project.
const PAGE: &str = "src/cli/desk/page";
/// The way to the program over a network, and the one within the page.
const CARRIERS: [&str; 2] = ["carrier.js", "alone/carrier.js"];

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let given: Vec<PathBuf> = args_os().skip(1).map(PathBuf::from).collect();
    let [program, file] = given.as_slice() else {
        return Err("say which program to bind, and into which file".into());
    };
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    let program = packed(&fs::read(program)?)?;
    let bound = bind(home, &program)?;
    let mut out = io::stdout();
    fs::File::create(file)?.write_all(bound.as_bytes())?;
    writeln!(
        out,
        "{}: {} bytes, {} of them the program",
        file.display(),
        bound.len(),
        program.len()
    )?;
    Ok(())
}

/// The program as text, packed as a browser can unpack it.
fn packed(program: &[u8]) -> Outcome<String> {
    let mut gzip = GzEncoder::new(Vec::new(), Compression::best());
    gzip.write_all(program)?;
    Ok(in_letters(&gzip.finish()?))
}

/// Bytes as letters of seven bits each, which is a seventh more and not a third as in base64; the last one is filled up. What may not
/// stand in a script of a page is written as the letter 128 after it.
fn in_letters(bytes: &[u8]) -> String {
    let (mut text, mut left, mut bits) = (String::new(), 0_u32, 0);
    let mut letter = |value: u32| {
        let value = if matches!(value, 0 | 13 | 60) { value + 128 } else { value };
        text.extend(char::from_u32(value));
    };
    for byte in bytes {
        (left, bits) = (left << 8 | u32::from(*byte), bits + 8);
        while bits >= 7 {
            bits -= 7;
            letter(left >> bits & 127);
        }
        left &= (1 << bits) - 1;
    }
    letter(left << (7 - bits) & 127);
    text
}

/// The whole file.
fn bind(home: &Path, program: &str) -> Outcome<String> {
    let page = home.join(PAGE);
    let [main, worker] = ["main.js", "alone/worker.js"].map(|first| Bundle::of(&page, first));
    let (main, worker) = (main?, worker?);
    let html = fs::read_to_string(page.join("index.html"))?;
    let style = fs::read_to_string(page.join("desk.css"))?;
    let policy = format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; worker-src blob: 'self'; style-src 'unsafe-inline'; img-src data:; \
         form-action 'none'",
        [SCRIPTS[0], &digest(&main)].join(" ")
    );
    let policy = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">");
    let inside = format!(
        "<script type=\"text/plain\" id=\"worker\">{worker}</script>\n\
         <script type=\"text/plain\" id=\"program\">{program}</script>\n\
         <script type=\"module\">{main}</script>\n</body>"
    );
    let html =
        swapped(&html, "<meta charset=\"utf-8\">", &format!("<meta charset=\"utf-8\">\n{policy}"))?;
    let html = swapped(
        &html,
        "<link rel=\"stylesheet\" href=\"desk.css\">",
        &format!("<style>{style}</style>"),
    )?;
    let html = swapped(&html, "<script type=\"module\" src=\"main.js\"></script>\n", "")?;
    swapped(&html, "</body>", &inside)
}

fn swapped(text: &str, old: &str, new: &str) -> Outcome<String> {
    match text.matches(old).count() {
        1 => Ok(text.replacen(old, new, 1)),
        count => Err(format!("{old} stands {count} times in the page").into()),
    }
}

/// A script as a policy names it.
fn digest(script: &str) -> String {
    format!("'sha256-{}'", STANDARD.encode(Sha256::digest(script)))
}

/// Scripts that are joined: each after those that it needs.
struct Bundle<'a> {
    page: &'a Path,
    /// The names of those that stand in it.
    names: Vec<String>,
    /// Those that are being read: none of them may be needed again.
    open: Vec<String>,
    text: String,
}

impl Bundle<'_> {
    /// A script with all that it needs.
    fn of(page: &Path, first: &str) -> Outcome<String> {
        let (names, open) = (Vec::new(), Vec::new());
        let mut bundle = Bundle { page, names, open, text: String::from("\"use strict\";\n") };
        bundle.add(first)?;
        match bundle.text.contains("</script") {
            true => Err(format!("{first} would end its own script").into()),
            false => Ok(bundle.text),
        }
    }

    /// Adds a script unless it is there; gives its number.
    fn add(&mut self, name: &str) -> Outcome<usize> {
        if let Some(number) = self.names.iter().position(|known| known == name) {
            return Ok(number);
        }
        if self.open.iter().any(|open| open == name) {
            return Err(format!("{name} needs itself").into());
        }
        self.open.push(name.to_owned());
        let script = fs::read_to_string(self.page.join(name))?;
        let (mut body, mut offered) = (String::new(), Vec::new());
        for line in script.lines() {
            match line.strip_prefix("import ") {
                Some(import) => body += &self.needed(name, import)?,
                None => body += own(line, &mut offered),
            }
            body.push('\n');
        }
        self.open.pop();
        self.text += &format!(
            "const room{} = (() => {{\n{body}return {{ {} }};\n}})();\n",
            self.names.len(),
            offered.join(", ")
        );
        self.names.push(name.to_owned());
        Ok(self.names.len() - 1)
    }

    /// What a script takes from another one: `{ a, b as c } from "./other.js";` or `* as a from ...`.
    fn needed(&mut self, name: &str, import: &str) -> Outcome<String> {
        let unread = || format!("{name}: import {import}");
        let (what, from) = import.split_once(" from ").ok_or_else(unread)?;
        let from = from.trim_end_matches(';').trim_matches('"');
        let number = self.add(&place(name, from))?;
        let what = match what.strip_prefix("* as ") {
            Some(whole) => whole.to_owned(),
            None => what.replace(" as ", ": "),
        };
        Ok(format!("const {what} = room{number};"))
    }
}

/// The path of a script that another one names.
fn place(name: &str, from: &str) -> String {
    let is_within = name.starts_with("alone/");
    let path = match (from.strip_prefix("../"), from.strip_prefix("./")) {
        (Some(outer), _) => outer.to_owned(),
        (None, Some(inner)) if is_within => format!("alone/{inner}"),
        (None, inner) => inner.unwrap_or(from).to_owned(),
    };
    let [network, within] = CARRIERS;
    if path == network { within.to_owned() } else { path }
}

/// A line of a script; what it offers to others is noted.
fn own<'a>(line: &'a str, offered: &mut Vec<String>) -> &'a str {
    let Some(rest) = line.strip_prefix("export ") else { return line };
    let words = rest.split(|letter: char| !letter.is_alphanumeric() && letter != '_');
    let name = words
        .filter(|word| !word.is_empty())
        .find(|word| !["async", "function", "class", "const"].contains(word));
    offered.extend(name.map(str::to_owned));
    rest
}
