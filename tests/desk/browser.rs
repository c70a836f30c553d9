//! The desk in a browser, as three people use it: an order from nothing, a morning at the bench, a count of the drawer.
//!
//! Needs Chromium, and for accessibility the engine axe-core, as `tests/pages/browser.rs` says; where one is missing, its checks
//! say that they are skipped. The browser is driven through a pair of pipes by its own protocol (Chrome DevTools Protocol).

#![allow(clippy::print_stdout, reason = "a check that is skipped says so")]

use super::Desk;
use crate::pages::browser::{Browser, engine};
use crate::program::Home;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How long something may take to appear.
const PATIENCE: Duration = Duration::from_secs(30);

/// A page that is open in a browser.
struct Driven {
    browser: Child,
    /// Its profile goes with it.
    _home: Home,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    session: Value,
    sent: u64,
    /// What the page complained of.
    complaints: Vec<String>,
}

impl Driven {
    fn open(link: &str) -> Option<Driven> {
        Browser::find()?;
        let home = Home::new();
        let profile = format!("--user-data-dir={}", home.path("profile").display());
        let program = std::env::var("CARDWRIGHT_CHROMIUM").unwrap_or("chromium".to_owned());
        // The browser reads from its file 3 and writes to its file 4.
        let pipes = "exec \"$0\" \"$@\" 3<&0 4>&1 </dev/null >/dev/null 2>&1";
        let mut browser = Command::new("sh")
            .args([
                "-c",
                pipes,
                &program,
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--no-first-run",
            ])
            .args(["--remote-debugging-pipe", "--window-size=1400,1000", &profile, "about:blank"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (to, from) = (browser.stdin.take().unwrap(), browser.stdout.take().unwrap());
        let from = BufReader::new(from);
        let mut driven = Driven {
            browser,
            _home: home,
            to,
            from,
            session: Value::Null,
            sent: 0,
            complaints: Vec::new(),
        };
        let target =
            driven.send("Target.createTarget", json!({ "url": "about:blank" }))["targetId"].clone();
        let attached =
            driven.send("Target.attachToTarget", json!({ "targetId": target, "flatten": true }));
        driven.session = attached["sessionId"].clone();
        for domain in ["Page", "Runtime", "Log"] {
            driven.send(&format!("{domain}.enable"), json!({}));
        }
        driven.send("Page.navigate", json!({ "url": link }));
        Some(driven)
    }

    /// Sends a command and waits for its answer.
    fn send(&mut self, method: &str, params: Value) -> Value {
        self.sent += 1;
        let id = self.sent;
        let mut message = json!({ "id": id, "method": method, "params": params });
        if !self.session.is_null() {
            message["sessionId"] = self.session.clone();
        }
        self.to.write_all(format!("{message}\0").as_bytes()).unwrap();
        loop {
            let mut bytes = Vec::new();
            self.from.read_until(0, &mut bytes).unwrap();
            assert!(!bytes.is_empty(), "the browser has gone");
            let answer: Value = serde_json::from_slice(&bytes[..bytes.len() - 1]).unwrap();
            match answer["method"].as_str() {
                Some("Log.entryAdded") => {
                    self.complaints.push(answer["params"]["entry"]["text"].to_string())
                }
                Some("Runtime.exceptionThrown") => {
                    self.complaints.push(answer["params"].to_string())
                }
                _ => {}
            }
            if answer["id"] == json!(id) {
                assert!(answer["error"].is_null(), "{method}: {answer}");
                return answer["result"].clone();
            }
        }
    }

    /// What an expression comes to in the page.
    fn eval(&mut self, expression: &str) -> Value {
        let params =
            json!({ "expression": expression, "awaitPromise": true, "returnByValue": true });
        let answer = self.send("Runtime.evaluate", params);
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {answer}");
        answer["result"]["value"].clone()
    }

    /// Waits until an expression holds.
    #[track_caller]
    fn until(&mut self, expression: &str) {
        let end = Instant::now() + PATIENCE;
        while self.eval(&format!(
            "(() => {{ try {{ return Boolean({expression}); }} catch {{ return false; }} }})()"
        )) != json!(true)
        {
            if Instant::now() >= end {
                let shown = self.eval("document.getElementById('main').innerText + document.getElementById('answer').innerText");
                panic!("never: {expression}\n{shown}\n{:?}", self.complaints);
            }
            sleep(Duration::from_millis(50));
        }
    }

    /// Presses a key, such as `Tab`, with Shift where `shift` says so.
    fn press(&mut self, key: &str, shift: bool) {
        let code = match key {
            "Tab" => 9,
            "Enter" => 13,
            "Escape" => 27,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            _ => panic!("no code for {key}"),
        };
        let text = if key == "Enter" { json!("\r") } else { Value::Null };
        let modifiers = if shift { 8 } else { 0 };
        let mut event = json!({ "type": "rawKeyDown", "key": key, "code": key, "windowsVirtualKeyCode": code, "modifiers": modifiers });
        if !text.is_null() {
            event["type"] = json!("keyDown");
            event["text"] = text;
        }
        self.send("Input.dispatchKeyEvent", event.clone());
        event["type"] = json!("keyUp");
        self.send("Input.dispatchKeyEvent", event);
    }

    /// Types letters one by one.
    fn type_in(&mut self, text: &str) {
        for letter in text.chars() {
            for kind in ["keyDown", "keyUp"] {
                let letter = letter.to_string();
                self.send("Input.dispatchKeyEvent", json!({ "type": kind, "key": letter, "text": if kind == "keyDown" { letter.as_str() } else { "" } }));
            }
        }
    }

    /// Clicks the button, link or choice with these words.
    #[track_caller]
    fn click(&mut self, words: &str) {
        let found = format!(
            "[...document.querySelectorAll('button, a, label')].find(it => it.offsetParent && it.textContent.trim() === {})",
            json!(words)
        );
        self.until(&found);
        self.eval(&format!("{found}.click()"));
    }

    /// Nothing stands in the way of anybody, as far as the engine sees.
    fn accessible(&mut self, engine: &Option<String>, place: &str) {
        let Some(engine) = engine else { return };
        self.eval(&format!("{engine}; 0"));
        let told = self.eval("axe.run(document, { iframes: false }).then(it => it.violations.map(it => it.id + ' ' + it.nodes.map(it => it.target.join(' ')).join(', ')))");
        assert_eq!(told, json!([]), "{place}");
    }
}

impl Drop for Driven {
    fn drop(&mut self) {
        let _ = self.browser.kill();
        let _ = self.browser.wait();
    }
}

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
    page.click("Make 25");
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
    page.click("Look at what changes");
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
    page.click("Keep mine");
    page.until("document.querySelector('.saved').textContent === 'Saved'");
    assert_eq!(desk.home.text("spring.csv"), "line,card,count,paper\nlabel,2 x 3,14,fern\n");
    // The refusal of the first save is the only thing to be said of.
    assert!(page.complaints.iter().all(|it| it.contains("409")), "{:?}", page.complaints);
}
