//! The desk in a browser, as three people use it: an order from nothing, a morning at the bench, a count of the drawer.
//!
//! Needs Chromium, and for accessibility the engine axe-core, as `tests/pages/browser.rs` says; where one is missing, its checks
//! say that they are skipped. The browser is driven through a pair of pipes by its own protocol (Chrome DevTools Protocol).

#![allow(clippy::print_stdout, reason = "a check that is skipped says so")]

use super::Desk;
use crate::driven::{Driven, PATIENCE};
use crate::pages::browser::engine;
use crate::program::Home;
use serde_json::json;
use std::thread::sleep;
use std::time::{Duration, Instant};

/// From an empty folder: paper, an order in three clicks, and the keyboard alone in its table.
#[test]
fn an_order_is_made_from_nothing() {
    let home = Home::new();
    home.put("sheets.csv", "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,3,1.10\n");
    let desk = Desk::of(home);
    let link = format!("http://{}/{}/", desk.host, desk.secret);
    let Some(mut page) = Driven::open(&link) else { return };
    let engine = engine();
    page.until("document.querySelector('.start input')");
    page.accessible(&engine, "new order");
    page.click("tent card");
    page.click("Plan 25 cards");
    page.until("document.querySelectorAll('.grid tbody tr').length === 2");
    let order = |desk: &Desk| desk.home.text("new cards.csv");
    assert!(order(&desk).contains("tent card"), "{}", order(&desk));
    // The keyboard: to the table, along its first line, a paper, and a count that is none.
    let at = |page: &mut Driven| {
        page.eval("(document.activeElement.dataset.row ?? '') + ' ' + (document.activeElement.dataset.column ?? '')")
    };
    page.eval("document.body.focus()");
    for _ in 0..30 {
        if at(&mut page) == json!("0 0") {
            break;
        }
        page.press("Tab", false);
    }
    assert_eq!(at(&mut page), json!("0 0"), "Tab leads into the table");
    let column = |page: &mut Driven, name: &str| {
        let names = page.eval("[...document.querySelectorAll('.grid thead th')].map(it => it.textContent.replace('*', '').trim())");
        names.as_array().unwrap().iter().position(|it| it == name).unwrap()
    };
    let (count, paper) = (column(&mut page, "count"), column(&mut page, "paper"));
    for _ in 0..count {
        page.press("ArrowRight", false);
    }
    page.type_in("many");
    page.press("Enter", false);
    page.until("document.querySelector('.grid [aria-invalid=true]')");
    page.accessible(&engine, "a mistake");
    page.eval(&format!(
        "document.querySelector('.grid [data-row=\"0\"][data-column=\"{count}\"]').focus()"
    ));
    page.type_in("12");
    page.press("Enter", false);
    page.eval(&format!(
        "document.querySelector('.grid [data-row=\"0\"][data-column=\"{paper}\"]').focus()"
    ));
    page.type_in("fern");
    page.press("Tab", false);
    page.until(
        "document.querySelector('.verdict').textContent.includes('all 12 cards can be made')",
    );
    page.until("document.querySelector('.saved').textContent === 'Saved'");
    assert!(order(&desk).contains(",12,fern"), "{}", order(&desk));
    page.accessible(&engine, "order");
    assert_eq!(page.complaints, [""; 0]);
}

/// A schedule, a step that is ticked, a spoiled card, what changes on the shelf, and all of it taken back.
#[test]
fn a_morning_at_the_bench() {
    let desk = Desk::of_tags();
    let link = format!("http://{}/{}/#cut/spring.csv", desk.host, desk.secret);
    let Some(mut page) = Driven::open(&link) else { return };
    let engine = engine();
    let before = desk.home.text("sheets.csv");
    page.click("Write the schedule");
    let inside = "document.querySelector('iframe.walk').contentDocument";
    page.until(&format!("{inside}.querySelector('button')"));
    page.until(&format!(
        "[...{inside}.querySelectorAll('button')].some(it => it.textContent.trim() === 'Done')"
    ));
    page.eval(&format!("[...{inside}.querySelectorAll('button')].find(it => it.textContent.trim() === 'Done').click()"));
    page.until("document.querySelector('iframe.walk').contentWindow.location.hash.includes('go-')");
    let end = Instant::now() + PATIENCE;
    while !desk.home.path("reports/spring/ticks.json").exists() {
        assert!(Instant::now() < end, "ticks are kept on disk");
        sleep(Duration::from_millis(50));
    }
    page.accessible(&engine, "cut");
    page.click("Show what will change");
    page.until("document.querySelector('.record .outcome').textContent.includes('sheets.csv')");
    assert_eq!(desk.home.text("sheets.csv"), before, "only looked at");
    page.click("Record it");
    page.until("document.querySelector('.record .good')");
    assert_ne!(desk.home.text("sheets.csv"), before);
    page.click("Shelf");
    page.until("document.querySelectorAll('.line li').length >= 2");
    page.accessible(&engine, "shelf");
    page.click("Plan");
    page.until("document.querySelector('.layout svg [data-piece]')");
    page.accessible(&engine, "plan");
    page.click("Bench");
    page.until("document.querySelector('.bench')");
    page.accessible(&engine, "bench");
    assert_eq!(page.complaints, [""; 0]);
}

/// Two windows: what one writes comes to the other, and what both write is shown to whoever comes second.
#[test]
fn what_changes_on_disk_is_noticed() {
    let desk = Desk::of_tags();
    let link = format!("http://{}/{}/", desk.host, desk.secret);
    let Some(mut page) = Driven::open(&link) else { return };
    page.until("document.querySelector('.verdict').textContent.includes('all 12 cards')");
    desk.home.put("spring.csv", "line,card,count,paper\ntag,2 x 3,14,fern\n");
    page.until("document.querySelector('.verdict').textContent.includes('all 14 cards')");
    page.eval("document.querySelector('.grid [data-row=\"0\"][data-column=\"0\"]').focus()");
    page.type_in("label");
    desk.home.put("spring.csv", "line,card,count,paper\ntag,2 x 3,15,fern\n");
    page.press("Enter", false);
    page.until("document.querySelector('dialog[open]')");
    assert_eq!(desk.home.text("spring.csv"), "line,card,count,paper\ntag,2 x 3,15,fern\n");
    page.click("Keep what is on this page");
    page.until("document.querySelector('.saved').textContent === 'Saved'");
    assert_eq!(desk.home.text("spring.csv"), "line,card,count,paper\nlabel,2 x 3,14,fern\n");
    // The refusal of the first save is the only thing to be said of.
    assert!(page.complaints.iter().all(|it| it.contains("409")), "{:?}", page.complaints);
}

/// Desk and phone at one walk: what is ticked on one is ticked on the other, and what both count adds up.
#[test]
fn desk_and_phone_stay_in_step() {
    let desk = Desk::of_tags();
    desk.post("report", &serde_json::json!({ "order": "spring.csv" }));
    let link = format!("http://{}/{}/#cut/spring.csv", desk.host, desk.secret);
    let Some(mut one) = Driven::open(&link) else { return };
    let Some(mut other) = Driven::open(&link) else { return };
    let inside = "document.querySelector('iframe.walk').contentDocument";
    let boxes = format!("{inside}.querySelectorAll('input[type=checkbox]')");
    for page in [&mut one, &mut other] {
        page.until(&format!("{inside}.querySelector('#walk') && {boxes}.length > 3"));
    }
    one.eval(&format!("{boxes}[0].click()"));
    other.until(&format!("{boxes}[0].checked"));
    other.eval(&format!("{boxes}[1].click()"));
    one.eval(&format!("{boxes}[2].click()"));
    one.until(&format!("{boxes}[1].checked && {boxes}[2].checked"));
    other.until(&format!("{boxes}[0].checked && {boxes}[2].checked"));
    other.eval(&format!("{boxes}[0].click()"));
    one.until(&format!("!{boxes}[0].checked && {boxes}[1].checked"));
    // A step counts what is spoiled; each device counts its own.
    let spoil = "Object.keys(localStorage).filter((key) => key.startsWith('cardwright-walk-')).map((key) => { const kept = JSON.parse(localStorage.getItem(key)); kept.spoiled = { 'tag.card': (kept.spoiled['tag.card'] ?? 0) + 1 }; localStorage.setItem(key, JSON.stringify(kept)); }).length";
    for page in [&mut one, &mut other] {
        assert_eq!(page.eval(spoil), 1);
    }
    let sum = "Object.entries(localStorage).some(([key, text]) => key.startsWith('cardwright-walk-') && JSON.parse(text).spoiled['tag.card'] === 2)";
    for page in [&mut one, &mut other] {
        page.until(sum);
        assert_eq!(page.complaints.iter().filter(|it| !it.contains("409")).count(), 0);
    }
}

/// A new row stands where it was inserted, however fast she types, and what stood there keeps its text.
#[test]
fn a_new_row_overwrites_none() {
    let home = Home::new();
    home.put("spring.csv", "line,card,count,paper\ntag,2 x 3,12,fern\nlabel,2 x 3,4,fern\n");
    home.put("sheets.csv", "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,3,1.10\n");
    let desk = Desk::of(home);
    let link = format!("http://{}/{}/", desk.host, desk.secret);
    let Some(mut page) = Driven::open(&link) else { return };
    let saved = "document.querySelector('.saved').textContent === 'Saved'";
    page.until("document.querySelectorAll('.place.order tbody tr').length === 3");
    for name in ["at once", "later"] {
        page.eval(
            "document.querySelector('.place.order [data-row=\"1\"][data-column=\"0\"]').focus()",
        );
        page.eval("[...document.querySelectorAll('.place.order button')].find(it => it.textContent === 'Insert row').click()");
        if name == "later" {
            page.until(saved);
            sleep(Duration::from_millis(500));
        }
        page.type_in(name);
        page.press("Enter", false);
        let end = Instant::now() + PATIENCE;
        while !desk.home.text("spring.csv").contains(name) {
            assert!(Instant::now() < end, "{}", desk.home.text("spring.csv"));
            sleep(Duration::from_millis(50));
        }
        page.until(saved);
    }
    let expected =
        "line,card,count,paper\ntag,2 x 3,12,fern\nlater,,,\nat once,,,\nlabel,2 x 3,4,fern\n";
    assert_eq!(desk.home.text("spring.csv"), expected);
    assert_eq!(page.complaints, [""; 0]);
}

/// Two presses in a row do one step, and her own steps are no news to her.
#[test]
fn a_second_press_takes_nothing_more_back() {
    let desk = Desk::of_tags();
    desk.post("report", &json!({ "order": "spring.csv" }));
    for done in [json!("1"), serde_json::Value::Null] {
        desk.step("settle", &json!({ "report": "spring", "done": done }));
    }
    let entries = |desk: &Desk| desk.get("history").json()["entries"].as_array().unwrap().len();
    let before = entries(&desk);
    let Some(mut page) =
        Driven::open(&format!("http://{}/{}/#cut/spring.csv", desk.host, desk.secret))
    else {
        return;
    };
    page.click("Take back what was recorded last");
    let found =
        "[...document.querySelectorAll('button')].find(it => it.textContent === 'Take it back')";
    page.until(found);
    page.eval(&format!("(press => {{ press.click(); press.click(); }})({found})"));
    page.until("document.querySelector('.record .good')");
    sleep(Duration::from_millis(1500));
    assert_eq!(entries(&desk), before + 1);
    assert_eq!(page.eval("document.getElementById('notices').textContent"), json!(""));
    assert_eq!(page.complaints, [""; 0]);
}

/// A report that came from somebody else is shown, and does nothing.
#[test]
fn a_foreign_script_does_not_run() {
    let desk = Desk::of_tags();
    let order = desk.home.text("spring.csv");
    desk.home.put("reports/zz/plan.json", "{}");
    let act = "parent.document.title = document.title = 'mine'; parent.fetch('save', { method: 'POST', body: '{}' });";
    desk.home.put(
        "reports/zz/schedule.html",
        format!("<!doctype html><html data-plan=\"1\"><body onload=\"{act}\">here<script>{act}</script><img src=\"data:,\" onerror=\"{act}\"></body></html>"),
    );
    desk.home.put(
        "reports/zz/picture.svg",
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\"><title>here</title><script>{act}</script></svg>"),
    );
    let home = format!("http://{}/{}/", desk.host, desk.secret);
    let Some(mut page) = Driven::open(&format!("{home}#cut/spring.csv")) else { return };
    page.until(
        "document.querySelector('iframe.walk').contentDocument.body.textContent.includes('here')",
    );
    sleep(Duration::from_millis(500));
    assert_ne!(page.eval("document.title"), json!("mine"));
    assert!(
        page.complaints.iter().all(|it| it.contains("Content Security Policy")),
        "{:?}",
        page.complaints
    );
    page.send("Page.navigate", json!({ "url": format!("{home}reports/zz/picture.svg") }));
    page.until("document.title === 'here'");
    sleep(Duration::from_millis(300));
    assert_eq!(page.eval("document.title"), json!("here"));
    assert_eq!(desk.home.text("spring.csv"), order);
}

/// Lines that are the same at both ends take no time, and a page with very many that differ stays alive.
#[test]
fn large_texts_are_compared_at_once() {
    let desk = Desk::of_tags();
    let Some(mut page) = Driven::open(&format!("http://{}/{}/", desk.host, desk.secret)) else {
        return;
    };
    page.until("document.querySelector('.verdict')");
    let told = page.eval(
        "import('./conflict.js').then(({ compare, shortened }) => {
          const many = (end) => Array.from({ length: 100000 }, (_, at) => `row ${at}${end}`), begun = performance.now();
          const mine = many(''), theirs = [...mine.slice(0, 5), 'new', ...mine.slice(5, 9), 'other', ...mine.slice(10)];
          const small = compare(mine.join('\\n'), theirs.join('\\n')), large = compare(mine.join('\\n'), many('!').join('\\n'));
          const differing = small.map(lines => lines.filter(it => it.differs).map(it => it.text));
          return { differing, shown: [...small, ...large].map(lines => shortened(lines).length), quick: performance.now() - begun < 5000 };
        })",
    );
    assert_eq!(told["differing"], json!([["row 9"], ["new", "other"]]));
    assert_eq!(told["quick"], true);
    assert!(
        told["shown"].as_array().unwrap().iter().all(|it| it.as_u64().unwrap() <= 401),
        "{told}"
    );
}
