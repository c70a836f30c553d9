//! The page as somebody serves it: a browser that was there once shows it again without a network.

use super::*;
use std::io::{BufRead, BufReader, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;

/// A server of a folder with the page; it serves nothing any more once it was stopped.
pub(super) struct Served {
    pub link: String,
    stopped: Arc<AtomicBool>,
}

impl Served {
    pub fn page(file: &Path) -> Served {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
        let link = format!("http://{}/cardwright.html", listener.local_addr().unwrap());
        let stopped = Arc::new(AtomicBool::new(false));
        let (folder, is_over) = (file.parent().unwrap().to_owned(), Arc::clone(&stopped));
        thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                if is_over.load(Ordering::Relaxed) {
                    return;
                }
                let folder = folder.clone();
                thread::spawn(move || answer(stream, &folder));
            }
        });
        Served { link, stopped }
    }

    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
        let host = self.link.split('/').nth(2).unwrap();
        let _ = TcpStream::connect(host);
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.stop();
    }
}

fn answer(mut stream: TcpStream, folder: &Path) {
    let mut head = BufReader::new(stream.try_clone().unwrap()).lines();
    let line = head.next().and_then(Result::ok).unwrap_or_default();
    while head.next().and_then(Result::ok).is_some_and(|line| !line.is_empty()) {}
    let name = line.split([' ', '?']).nth(1).unwrap_or_default().trim_start_matches('/').to_owned();
    let kind = if name.ends_with(".js") { "text/javascript" } else { "text/html" };
    let (status, body) = match std::fs::read(folder.join(name)) {
        Ok(body) => ("200 OK", body),
        Err(_) => ("404 Not Found", Vec::new()),
    };
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
        body.len()
    );
    let _ = stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(&body));
}

#[test]
fn a_page_that_was_served_is_there_without_a_network() {
    let Some(file) = page() else { return };
    let served = Served::page(&file);
    let Some(mut page) = Driven::open(&served.link) else { return };
    page.click("A small workshop to change, in millimetres");
    page.until("document.querySelector('.verdict')?.textContent.includes('can be made')");
    page.until(
        "(navigator.serviceWorker.ready.then(() => { window.isKept = true; }), window.isKept)",
    );
    served.stop();
    page.eval("location.reload()");
    page.until("document.querySelector('.verdict')?.textContent.includes('can be made')");
    assert_eq!(page.complaints, [""; 0]);
}
