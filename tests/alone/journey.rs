//! An order from nothing to the shelf and back, in a page that was opened from the disk.

use super::*;
use crate::driven::PATIENCE;
use crate::pages::browser::engine;
use std::path::Path;
use std::thread::sleep;
use std::time::{Duration, Instant};

const INSIDE: &str = "document.querySelector('iframe.walk').contentDocument";

/// Types into a cell of the order's table and waits until that is kept.
#[track_caller]
fn write(page: &mut Driven, column: &str, text: &str) {
    let cell = format!(
        "(() => {{ const at = document.querySelector('.grid [data-name={column}]').dataset.column; const cell = \
         document.querySelector(`.grid [data-row=\"0\"][data-column=\"${{at}}\"]`); cell.focus(); return cell; }})()"
    );
    page.until(&cell);
    page.type_in(text);
    page.press("Enter", false);
    page.until(&format!("{cell}.textContent === {}", json!(text)));
    page.until("document.querySelector('.saved').textContent === 'Saved'");
}

/// What the file of an order says.
fn order(page: &mut Driven) -> String {
    let ran = page.eval("(async () => { const asked = indexedDB.open('cardwright'); await new Promise((done) => { asked.onsuccess = done; }); const got = asked.result.transaction('files').objectStore('files').get('cards.csv'); await new Promise((done) => { got.onsuccess = done; }); return new TextDecoder().decode(got.result); })()");
    ran.as_str().unwrap().to_owned()
}

/// The file that the page hands to the browser.
fn downloaded(folder: &Path) -> std::path::PathBuf {
    let end = Instant::now() + PATIENCE;
    loop {
        let found = folder.read_dir().into_iter().flatten().flatten().map(|entry| entry.path());
        if let Some(file) =
            found.into_iter().find(|path| path.extension().is_some_and(|it| it == "zip"))
        {
            return file;
        }
        assert!(Instant::now() < end, "nothing was saved");
        sleep(Duration::from_millis(50));
    }
}

#[test]
fn an_order_goes_all_the_way_without_a_network() {
    let Some(mut page) = opened(Home::new()) else { return };
    let engine = engine();
    page.until("document.querySelector('.welcome button')");
    page.accessible(&engine, "where to begin");
    page.click("A small workshop to change, in inches");
    page.until("document.querySelector('.verdict')?.textContent.includes('can be made')");
    page.accessible(&engine, "order");
    write(&mut page, "count", "14");
    page.until("document.querySelector('.verdict').textContent.includes('all 42 cards')");
    page.click("Cut");
    page.click("Write the schedule");
    page.until(&format!(
        "[...{INSIDE}.querySelectorAll('#walk button')].some(it => it.textContent.trim() === 'Done')"
    ));
    page.eval(&format!("[...{INSIDE}.querySelectorAll('#walk button')].find(it => it.textContent.trim() === 'Done').click()"));
    page.click("Show what will change");
    page.until("document.querySelector('.record .outcome').textContent.includes('sheets.csv')");
    page.click("Record it");
    page.until("document.querySelector('.record .good')");
    page.accessible(&engine, "cut");
    page.click("Shelf");
    page.until("document.querySelectorAll('.line li').length === 2");
    // Out of the browser, and into one that knows nothing.
    let folder = page.home.path("saved");
    let place = json!({ "behavior": "allow", "downloadPath": folder.display().to_string() });
    page.send("Page.setDownloadBehavior", place);
    page.click("Save as a file");
    page.until("document.querySelector('.home').textContent.includes('Last saved as a file')");
    let file = downloaded(&folder);
    assert!(page.requests.iter().all(|it| !it.contains("\"http")), "{:?}", page.requests);
    assert_eq!(page.complaints, [""; 0]);
    let Some(mut other) = opened(Home::new()) else { return };
    other.until("document.querySelector('.welcome input[type=file]')");
    other.choose_file("document.querySelector('.welcome input[type=file]')", &file);
    other.until("document.querySelector('.verdict')?.textContent.includes('42 cards')");
    assert!(order(&mut other).contains(",14,"), "{}", order(&mut other));
    other.click("Shelf");
    other.until("document.querySelectorAll('.line li').length === 2");
    assert_eq!(other.complaints, [""; 0]);
}

/// What was typed is there when the browser comes back, whatever ended it.
#[test]
fn a_killed_browser_loses_nothing_that_was_typed() {
    let mut home = Home::new();
    for count in 21..24 {
        let Some(mut page) = opened(home) else { return };
        if count == 21 {
            page.click("A small workshop to change, in inches");
        }
        page.until("document.querySelector('.verdict')?.textContent.includes('can be made')");
        if count > 21 {
            assert!(order(&mut page).contains(&format!(",{},", count - 1)), "{}", order(&mut page));
        }
        write(&mut page, "count", &count.to_string());
        let end = Instant::now() + PATIENCE;
        while !order(&mut page).contains(&format!(",{count},")) {
            assert!(Instant::now() < end, "{count} was not kept");
        }
        home = page.killed();
    }
}

#[test]
fn a_file_that_is_no_workshop_is_told() {
    let Some(mut page) = with_nothing() else { return };
    let file = page.home.path("odd.zip");
    page.home.put("odd.zip", b"a letter to a friend, by mistake");
    page.choose_file("document.querySelector('.home input[type=file]')", &file);
    page.until(
        "document.querySelector('.home .error').textContent.includes('not a saved workshop')",
    );
}
