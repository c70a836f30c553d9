//! The pages in a browser: what a person sees, prints and ticks off.
//!
//! Needs Chromium, by the name `chromium` or the one in `CARDWRIGHT_CHROMIUM`; the check for accessibility needs the
//! engine axe-core, too, whose `axe.min.js` `CARDWRIGHT_AXE` names. Where one is missing, its checks say that they are
//! skipped. `.ci/run` fetches the engine; by hand, `npm pack axe-core && tar xzf axe-core-*.tgz` does, then
//! `CARDWRIGHT_AXE=$PWD/package/axe.min.js cargo test pages::browser`.

#![allow(clippy::print_stdout, reason = "a check that is skipped says so")]

use super::{follow, packed, table, texts};
use crate::program::{Home, project};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Every page that comes with the project.
const PAGES: [&str; 4] = [
    "reports/wedding/schedule.html",
    "tests/golden/seating/schedule.html",
    "tests/golden/swap/schedule.html",
    "reports/wedding/offer.html",
];

/// Milliseconds that scripts of a page may take; a browser without a screen skips them.
const PATIENCE: &str = "--virtual-time-budget=20000";

/// A browser with a profile of its own.
pub struct Browser {
    program: String,
    pub(super) home: Home,
}

impl Browser {
    /// The browser, if there is one.
    pub fn find() -> Option<Browser> {
        let program = std::env::var("CARDWRIGHT_CHROMIUM").unwrap_or("chromium".to_owned());
        let answers = Command::new(&program).arg("--version").output();
        if !answers.is_ok_and(|answer| answer.status.success()) {
            println!("skipped: no browser `{program}`");
            return None;
        }
        Some(Browser { program, home: Home::new() })
    }

    fn run(&self, arguments: &[&str], page: &Path) -> String {
        let profile = format!("--user-data-dir={}", self.home.path("profile").display());
        let quiet = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", &profile];
        let mut command = Command::new(&self.program);
        command.args(quiet).args(arguments).arg(format!("file://{}", page.display()));
        let answer = command.output().unwrap();
        String::from_utf8_lossy(&answer.stdout).into_owned()
    }

    /// The title that a page has after this script was run in it.
    pub(super) fn title(&self, page: &Path) -> String {
        let dom = self.run(&[PATIENCE, "--dump-dom"], page);
        let title = dom.split_once("<title>").and_then(|(_, rest)| rest.split_once("</title>"));
        title.unwrap_or_else(|| panic!("no title: {dom}")).0.to_owned()
    }

    /// A copy of a page with a script at its end.
    pub(super) fn copy(&self, page: &str, name: &str, script: &str) -> PathBuf {
        let text = std::fs::read_to_string(project(page)).unwrap();
        // A page that lets no script run lets the test's run here.
        let text = text.replace(
            "style-src 'unsafe-inline'\">",
            "style-src 'unsafe-inline'; script-src 'unsafe-inline'\">",
        );
        let (body, end) = text.rsplit_once("</body>").unwrap();
        self.home.put(name, format!("{body}<script>{script}</script></body>{end}"));
        self.home.path(name)
    }
}

/// The engine that checks pages, if it is there.
pub fn engine() -> Option<String> {
    let named = std::env::var_os("CARDWRIGHT_AXE");
    if named.is_none() {
        println!("skipped: CARDWRIGHT_AXE names no axe.min.js");
    }
    named.map(|engine| std::fs::read_to_string(engine).unwrap())
}

#[test]
fn the_page_prints_with_all_its_steps() {
    let Some(browser) = Browser::find() else { return };
    let pdf = browser.home.path("printed.pdf");
    let to = format!("--print-to-pdf={}", pdf.display());
    browser.run(&[&to, "--no-pdf-header-footer"], &project(PAGES[0]));
    let pages = texts(&std::fs::read(pdf).unwrap());
    assert!(pages.len() > 3);
    let cuts = table(&std::fs::read_to_string(project("reports/wedding/cuts.csv")).unwrap());
    let settings = cuts.iter().filter(|row| row[10] == "yes");
    follow(&pages.concat(), settings.map(|row| packed(&format!("Set the gauge to {}", row[6]))));
    for (number, page) in (1..).zip(&pages) {
        assert!(page.contains(&format!("{number}/{}", pages.len())), "{page}");
    }
}

#[test]
fn ticks_stay_when_the_page_is_opened_again() {
    let Some(browser) = Browser::find() else { return };
    let ticked = "document.title = document.querySelectorAll('input:checked').length;";
    let click = "document.querySelector('#step-2').click();";
    let page = |script: &str| browser.copy(PAGES[0], "page.html", script);
    assert_eq!(browser.title(&page(ticked)), "0");
    assert_eq!(browser.title(&page(&format!("{click}{ticked}"))), "1");
    assert_eq!(browser.title(&page(ticked)), "1");
}

#[test]
fn the_page_fits_on_a_phone() {
    let Some(browser) = Browser::find() else { return };
    for page in PAGES {
        let tell = "var root = document.documentElement; \
                    parent.postMessage(root.scrollWidth - root.clientWidth, '*');";
        browser.copy(page, "inner.html", tell);
        browser.home.put(
            "outer.html",
            "<title></title><script>onmessage = told => document.title = told.data</script>\
             <iframe src=inner.html width=390 height=800 style='border:0'></iframe>",
        );
        assert_eq!(browser.title(&browser.home.path("outer.html")), "0", "{page}");
    }
}

#[test]
fn the_page_is_accessible() {
    let Some(browser) = Browser::find() else { return };
    let Some(engine) = engine() else { return };
    for page in PAGES {
        let run = "axe.run().then(found => document.title = found.passes.length + ' rules pass; ' + \
                   found.violations.map(fault => fault.id + ' at ' + fault.nodes.map(node => \
                   node.target).slice(0, 3)).join('; '), fault => document.title = fault);";
        let title = browser.title(&browser.copy(page, "page.html", &format!("{engine};{run}")));
        let (passes, faults) =
            title.split_once(" rules pass; ").unwrap_or_else(|| panic!("{title}"));
        assert!(passes.parse::<u32>().unwrap() > 10, "{title}");
        assert_eq!(faults, "", "{page}");
    }
}
