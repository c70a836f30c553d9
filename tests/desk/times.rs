//! How long a page waits for its plan, and what the desk takes for it. `reports/benchmarks/desk.md` has the last figures.

#![allow(clippy::print_stdout, reason = "it tells what it measured")]

use super::*;
use serde_json::json;
use std::fmt::Write as _;
use std::time::Instant;

/// An order of so many lines of different sizes on four papers, and sheets for it.
fn workshop(lines: u64) -> Home {
    let home = Home::new();
    let mut order = "line,card,fold,count,paper,mat,envelope\n".to_owned();
    for number in 0..lines {
        let (width, height) = (24 + number * 7 % 41, 32 + number * 11 % 53);
        let paper = ["fern", "moss", "dusk", "wren"][number as usize % 4];
        let fold = ["side", "top", "flat"][number as usize % 3];
        let mat = if number % 5 == 0 { "moss" } else { "" };
        let envelope = if number % 7 == 0 { "wren" } else { "" };
        let count = 5 + number * 13 % 60;
        let _ = writeln!(
            order,
            "l{number},{width}/8 x {height}/8,{fold},{count},{paper},{mat},{envelope}"
        );
    }
    home.put("many.csv", order);
    let sheets = ["fern", "moss", "dusk", "wren"].map(|paper| {
        format!("{paper}-12,{paper},12,12,20,0.90,1,216,0.011\n{paper}-26,{paper},26,20,4,3.10,1,216,0.011\n")
    });
    home.put(
        "sheets.csv",
        format!("sheet,paper,width,height,on hand,price,pack,gsm,thickness\n{}", sheets.concat()),
    );
    home.put("workshop.toml", "[trimmer]\nknife = \"30 in\"\n");
    home
}

/// `cargo test --release -- --ignored --nocapture desk::times`
#[test]
#[ignore = "it measures, and proves nothing"]
fn how_long_a_page_waits() {
    println!(
        "| lines | first plan, ms | final plan, ms | table, ms | most memory, MB |\n| --- | --- | --- | --- | --- |"
    );
    for lines in [6, 60, 600] {
        let desk = Desk::of(workshop(lines));
        let files = desk.files("many.csv");
        let body = json!({ "ask": "plan", "desk": files }).to_string();
        let (host, secret) = (&desk.host, &desk.secret);
        let mut stream = TcpStream::connect(host).unwrap();
        let head = format!(
            "POST /{secret}/ask HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: {}\r\n\r\n",
            body.len()
        );
        let begun = Instant::now();
        stream.write_all(head.as_bytes()).unwrap();
        stream.write_all(body.as_bytes()).unwrap();
        let mut times = Vec::new();
        for line in BufReader::new(stream).lines().map(Result::unwrap) {
            if line.contains("\"is\":\"plan\"") {
                assert!(!line.contains("\"made\":null"), "{line}");
                times.push(begun.elapsed().as_millis());
            }
        }
        let begun = Instant::now();
        desk.ask(&json!({ "ask": "table", "desk": files, "kind": "order", "changes": [{ "set": { "row": 0, "column": 3, "text": "7" } }] }));
        let table = begun.elapsed().as_millis();
        let status = std::fs::read_to_string(format!("/proc/{}/status", desk.server.id()))
            .unwrap_or_default();
        let peak = status.lines().find_map(|line| {
            line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.trim().parse::<u64>().ok()
        });
        let peak = peak.map_or("?".to_owned(), |peak| (peak / 1024).to_string());
        println!("| {lines} | {} | {} | {table} | {peak} |", times[0], times[times.len() - 1]);
    }
}
