//! A browser that is driven as a person would: clicks, keys, files, and what the page says.
//!
//! Needs Chromium, and for accessibility the engine axe-core, as `tests/pages/browser.rs` says; where one is missing, its checks
//! say that they are skipped. The browser is driven through a pair of pipes by its own protocol (Chrome DevTools Protocol).

// Only so are its helpers known as tests.
#![cfg(all(test, unix))]

use crate::pages::browser::Browser;
use crate::program::Home;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How long something may take to appear.
pub const PATIENCE: Duration = Duration::from_secs(30);

/// A page that is open in a browser.
pub struct Driven {
    browser: Child,
    /// Its profile goes with it.
    pub home: Home,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    session: Value,
    sent: u64,
    /// What the page complained of.
    pub complaints: Vec<String>,
    /// What it asked for.
    pub requests: Vec<String>,
}

impl Driven {
    /// A page in a browser with a profile of its own; `None` where there is no browser.
    pub fn open(link: &str) -> Option<Driven> {
        Driven::with(Home::new(), link, "")
    }

    /// A page in a browser whose profile lies in a folder; the script runs in the page before its own.
    pub fn with(home: Home, link: &str, script: &str) -> Option<Driven> {
        Browser::find()?;
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
            home,
            to,
            from,
            session: Value::Null,
            sent: 0,
            complaints: Vec::new(),
            requests: Vec::new(),
        };
        let target =
            driven.send("Target.createTarget", json!({ "url": "about:blank" }))["targetId"].clone();
        let attached =
            driven.send("Target.attachToTarget", json!({ "targetId": target, "flatten": true }));
        driven.session = attached["sessionId"].clone();
        for domain in ["Page", "Runtime", "Log", "Network", "DOM"] {
            driven.send(&format!("{domain}.enable"), json!({}));
        }
        driven.send("Page.addScriptToEvaluateOnNewDocument", json!({ "source": script }));
        driven.send("Page.navigate", json!({ "url": link }));
        Some(driven)
    }

    /// Sends a command and waits for its answer.
    pub fn send(&mut self, method: &str, params: Value) -> Value {
        let answer = self.exchanged(method, params);
        assert!(answer["error"].is_null(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// Sends a command and gives whatever is answered.
    fn exchanged(&mut self, method: &str, params: Value) -> Value {
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
                // A question of the browser itself, such as whether to leave the page: it is answered with yes.
                Some("Page.javascriptDialogOpening") => self.asked(),
                Some("Network.requestWillBeSent") => {
                    self.requests.push(answer["params"]["request"]["url"].to_string())
                }
                Some("Runtime.exceptionThrown") => {
                    self.complaints.push(answer["params"].to_string())
                }
                _ => {}
            }
            if answer["id"] == json!(id) {
                return answer;
            }
        }
    }

    fn asked(&mut self) {
        self.sent += 1;
        let (id, method) = (self.sent, "Page.handleJavaScriptDialog");
        let message = json!({ "id": id, "method": method, "params": { "accept": true }, "sessionId": self.session });
        self.to.write_all(format!("{message}\0").as_bytes()).unwrap();
    }

    /// Ends the browser from one moment to the next, and gives its profile to whoever comes after it.
    pub fn killed(mut self) -> Home {
        let _ = self.browser.kill();
        let _ = self.browser.wait();
        std::mem::replace(&mut self.home, Home::new())
    }

    /// Chooses a file in a field for files.
    pub fn choose_file(&mut self, field: &str, file: &Path) {
        let found = self.send("Runtime.evaluate", json!({ "expression": field }));
        let object = found["result"]["objectId"].clone();
        let files = json!([file.display().to_string()]);
        self.send("DOM.setFileInputFiles", json!({ "files": files, "objectId": object }));
    }

    /// What an expression comes to in the page.
    pub fn eval(&mut self, expression: &str) -> Value {
        let params =
            json!({ "expression": expression, "awaitPromise": true, "returnByValue": true });
        let answer = self.send("Runtime.evaluate", params);
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {answer}");
        answer["result"]["value"].clone()
    }

    /// Waits until an expression holds.
    #[track_caller]
    pub fn until(&mut self, expression: &str) {
        let end = Instant::now() + PATIENCE;
        let tried = format!(
            "(() => {{ try {{ return Boolean({expression}); }} catch {{ return false; }} }})()"
        );
        let params = json!({ "expression": tried, "returnByValue": true });
        // A page that is on its way has no answer yet.
        while self.exchanged("Runtime.evaluate", params.clone())["result"]["result"]["value"]
            != json!(true)
        {
            if Instant::now() >= end {
                let shown = self.eval("document.getElementById('main').innerText + document.getElementById('answer').innerText");
                panic!("never: {expression}\n{shown}\n{:?}", self.complaints);
            }
            sleep(Duration::from_millis(50));
        }
    }

    /// Presses a key, such as `Tab`, with Shift where `shift` says so.
    pub fn press(&mut self, key: &str, shift: bool) {
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
    pub fn type_in(&mut self, text: &str) {
        for letter in text.chars() {
            for kind in ["keyDown", "keyUp"] {
                let letter = letter.to_string();
                self.send("Input.dispatchKeyEvent", json!({ "type": kind, "key": letter, "text": if kind == "keyDown" { letter.as_str() } else { "" } }));
            }
        }
    }

    /// Clicks the button, link or choice with these words.
    #[track_caller]
    pub fn click(&mut self, words: &str) {
        let found = format!(
            "[...document.querySelectorAll('button, a, label')].find(it => it.offsetParent && it.textContent.trim() === {})",
            json!(words)
        );
        self.until(&found);
        self.eval(&format!("{found}.click()"));
    }

    /// Nothing stands in the way of anybody, as far as the engine sees.
    pub fn accessible(&mut self, engine: &Option<String>, place: &str) {
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
