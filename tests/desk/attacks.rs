//! Who is not let in, and what may not be asked for.

use super::*;
use serde_json::json;

/// Every door, each with what it would be given.
fn doors() -> Vec<(String, Value)> {
    let post = ["ask", "save", "report", "settle", "undo", "release", "ticks"];
    post.iter().map(|door| ((*door).to_owned(), json!({}))).collect()
}

#[test]
fn nothing_is_served_without_the_secret() {
    let desk = Desk::of_tags();
    for path in ["", "files", "index.html", "desk.css", "reports/x/schedule.html"] {
        for secret in ["", "0", &"0".repeat(32), &desk.secret[1..], &format!("{}0", desk.secret)] {
            let reply = desk.asked(&format!("GET /{secret}/{path}"), "", "");
            assert_eq!((reply.status, reply.body.as_str()), (403, ""), "{secret} {path}");
        }
        assert_eq!(desk.asked(&format!("GET /{path}"), "", "").status, 403);
    }
    assert_eq!(desk.get("").status, 200);
}

/// A name that was made to lead here is not that of the link, and another page's requests are not this one's.
#[test]
fn other_names_and_other_pages_are_not_let_in() {
    let desk = Desk::of_tags();
    let line = format!("GET /{}/files HTTP/1.1\r\n", desk.secret);
    for host in ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost", ""] {
        assert_eq!(
            desk.raw(format!("{line}Host: {host}\r\n\r\n").as_bytes()).status,
            403,
            "{host}"
        );
    }
    let twice = format!("{line}Host: {0}\r\nHost: {0}\r\n\r\n", desk.host);
    assert_eq!(desk.raw(twice.as_bytes()).status, 403);
    assert_eq!(desk.raw(format!("{line}\r\n").as_bytes()).status, 403);
    let own = format!("Origin: http://{}\r\n", desk.host);
    for (door, body) in doors() {
        let line = format!("POST /{}/{door}", desk.secret);
        let body = body.to_string();
        for fields in [
            "",
            "Origin: null\r\n",
            "Origin: http://evil.example\r\n",
            &format!("Origin: https://{}\r\n", desk.host),
            &format!("{own}Origin: http://evil.example\r\n"),
            &format!("{own}Sec-Fetch-Site: cross-site\r\n"),
            &format!("{own}Sec-Fetch-Site: none\r\n"),
        ] {
            assert_eq!(desk.asked(&line, fields, &body).status, 403, "{door} {fields}");
        }
        assert_ne!(desk.asked(&line, &own, &body).status, 403, "{door}");
    }
    let site = "Sec-Fetch-Site: same-site\r\n";
    assert_eq!(desk.asked(&format!("GET /{}/files", desk.secret), site, "").status, 403);
}

#[test]
fn every_answer_says_what_a_page_may_load() {
    let desk = Desk::of_tags();
    for path in ["", "desk.css", "files", "none", "reports/x/y.html"] {
        let head = desk.get(path).head;
        assert!(head.contains("\r\nContent-Security-Policy: default-src 'none'"), "{head}");
        assert!(!head.to_lowercase().contains("access-control-allow"), "{head}");
        for field in [
            "X-Content-Type-Options: nosniff",
            "Cache-Control: no-store",
            "Referrer-Policy: no-referrer",
        ] {
            assert!(head.contains(field), "{path}: {head}");
        }
    }
    let page = desk.get("");
    assert!(page.head.contains("script-src 'self'; style-src 'self'"), "{}", page.head);
    assert!(
        !page.body.contains("<script>")
            && !page.body.contains(" style=")
            && !page.body.contains(" onclick=")
    );
}

/// A report may come from anybody: but for the script of every schedule, nothing runs in it.
#[test]
fn a_report_runs_no_script_but_the_program_s_own() {
    let desk = Desk::of_tags();
    desk.home.done("plan spring.csv --quiet");
    desk.home.put("reports/spring/picture.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>");
    let page = desk.get("reports/spring/schedule.html");
    assert!(page.head.contains("; script-src 'sha256-"), "{}", page.head);
    for file in ["schedule.html", "offer.html", "picture.svg", "cuts.csv", "plan.json"] {
        let reply = desk.get(&format!("reports/spring/{file}"));
        assert_eq!(reply.status, 200, "{file}");
        let policy = reply.head.split("Content-Security-Policy: ").nth(1).unwrap();
        let policy = policy.split('\r').next().unwrap();
        let scripts = policy.split("; ").find(|part| part.starts_with("script-src ")).unwrap();
        assert!(!scripts.contains("unsafe"), "{file}: {policy}");
        assert_eq!(scripts == "script-src 'none'", !file.ends_with(".html"), "{file}: {policy}");
    }
}

#[test]
fn what_is_too_large_or_doubtful_is_refused() {
    let desk = Desk::of_tags();
    let origin = format!("Origin: http://{}\r\n", desk.host);
    let ask = format!("POST /{}/ask", desk.secret);
    let claimed = format!("{origin}Content-Length: {}\r\n", 17 << 20);
    assert_eq!(desk.asked(&ask, &claimed, "").status, 413);
    assert_eq!(
        desk.asked(&ask, &format!("{origin}Transfer-Encoding: chunked\r\n"), "").status,
        411
    );
    assert_eq!(desk.asked(&ask, &format!("A: {}\r\n", "b".repeat(40_000)), "").status, 431);
    assert_eq!(desk.raw(b"\0\x01\x02\r\n\r\n").status, 400);
    for body in ["", "{", "[]", "{\"ask\":\"all\"}", "{\"ask\":\"plan\"}"] {
        let reply = desk.asked(&ask, &origin, body);
        assert_eq!(reply.status, 400, "{body}: {reply:?}");
    }
    // It is all there still.
    assert_eq!(desk.get("files").status, 200);
}

#[test]
fn no_path_leads_out_of_the_folder() {
    let desk = Desk::of_tags();
    desk.home.done("plan spring.csv --quiet");
    desk.home.put("reports/secret.csv", "a\n");
    for path in [
        "reports/../sheets.csv",
        "reports/spring/../secret.csv",
        "reports/%2e%2e/sheets.csv",
        "reports/spring/..%2fsecret.csv",
        "reports/./secret.csv",
        "reports//secret.csv",
        "reports/spring/",
        "reports/spring/.",
        "../sheets.csv",
        "/etc/passwd",
        "ticks?report=..",
        "ticks?report=%2e%2e%2fspring",
    ] {
        assert_eq!(desk.get(path).status, 404, "{path}");
    }
    assert_eq!(desk.get("reports/spring/cuts.csv").status, 200);
    for name in [
        "../a.csv",
        "/a.csv",
        "a/b.csv",
        "a\\b.csv",
        "..csv",
        ".a.csv",
        "a.csv ",
        "a.toml",
        "shelf.jsonl",
        "-a.csv",
        "a\n.csv",
        "a:b.csv",
        ".csv",
        "con.csv",
        "Nul.csv",
        "",
    ] {
        let reply = desk.post("save", &json!({ "name": name, "was": null, "text": "x" }));
        assert_eq!(reply.status, 422, "{name:?}");
    }
    for report in ["..", "../x", "--undo", "", "nothing"] {
        let reply = desk.post("settle", &json!({ "report": report }));
        assert_eq!(reply.status, 404, "{report}");
    }
    for order in ["sheets.csv", "../spring.csv", "--help", "x.csv"] {
        assert_eq!(desk.post("report", &json!({ "order": order })).status, 404, "{order}");
    }
}
