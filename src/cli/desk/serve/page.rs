//! The page: its files are part of the program.

/// A file of the page.
#[derive(Clone, Copy, Debug)]
pub struct PageFile {
    /// Its name.
    pub name: &'static str,
    /// Its media type.
    pub kind: &'static str,
    /// What is in it.
    pub text: &'static str,
}

/// A file of a name in the folder `page`.
macro_rules! page {
    ($name:literal, $kind:literal) => {
        PageFile {
            name: $name,
            kind: concat!("text/", $kind, "; charset=utf-8"),
            text: include_str!(concat!("../page/", $name)),
        }
    };
}

/// All of them; the first is shown where none is named.
const FILES: [PageFile; 33] = [
    page!("index.html", "html"),
    page!("phone.html", "html"),
    page!("desk.css", "css"),
    page!("answer.js", "javascript"),
    page!("ask.js", "javascript"),
    page!("bench.js", "javascript"),
    page!("carrier.js", "javascript"),
    page!("changes.js", "javascript"),
    page!("conflict.js", "javascript"),
    page!("count.js", "javascript"),
    page!("cutting.js", "javascript"),
    page!("dom.js", "javascript"),
    page!("edit.js", "javascript"),
    page!("grid.js", "javascript"),
    page!("keeping.js", "javascript"),
    page!("layouts.js", "javascript"),
    page!("main.js", "javascript"),
    page!("paste.js", "javascript"),
    page!("phone.js", "javascript"),
    page!("picture.js", "javascript"),
    page!("plan.js", "javascript"),
    page!("problems.js", "javascript"),
    page!("record.js", "javascript"),
    page!("sheet.js", "javascript"),
    page!("shelf.js", "javascript"),
    page!("size.js", "javascript"),
    page!("start.js", "javascript"),
    page!("state.js", "javascript"),
    page!("sum.js", "javascript"),
    page!("tables.js", "javascript"),
    page!("ticks.js", "javascript"),
    page!("what.js", "javascript"),
    page!("words.js", "javascript"),
];

/// The file of a name.
pub fn file(name: &str) -> Option<PageFile> {
    let name = if name.is_empty() { FILES[0].name } else { name };
    FILES.into_iter().find(|file| file.name == name)
}
