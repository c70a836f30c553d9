//! The page is whole: every file that it loads is served.

use super::*;

#[test]
fn every_file_that_the_page_names_is_served() {
    let desk = Desk::of_tags();
    let page = desk.get("").body + &desk.get("phone.html").body;
    let mut names: Vec<String> =
        quoted(&page).filter(|it| it.ends_with(".js") || it.ends_with(".css")).collect();
    names.sort();
    names.dedup();
    assert!(names.len() >= 3, "{page}");
    let mut seen = 0;
    while let Some(name) = names.get(seen).cloned() {
        let reply = desk.get(name.trim_start_matches("./"));
        assert_eq!(reply.status, 200, "{name}");
        let more = quoted(&reply.body).filter(|it| it.starts_with("./") && it.ends_with(".js"));
        let more: Vec<String> = more.filter(|it| !names.contains(it)).collect();
        names.extend(more);
        seen += 1;
    }
    let scripts = crate::program::project("src/cli/desk/page").read_dir().unwrap();
    // The two pages themselves are named by none.
    let scripts = scripts.flatten().filter(|entry| entry.path().is_file());
    assert_eq!(scripts.count(), seen + 2, "each file of the folder is loaded: {names:?}");
}

/// What stands between quotes.
fn quoted(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(['"', '\'', '\n']).map(str::to_owned)
}
