//! Input that means harm: whatever it is, it is answered by a message and the right exit code, in little memory,
//! and nothing is written where it should not be.

use super::*;
use crate::program::files;
use std::path::Path;

/// What acts on what stands around it: a turn of the writing, a colour, a bell, what takes no room, a hidden letter.
const ACTS: [char; 6] = ['\u{202e}', '\u{1b}', '\u{7}', '\u{200b}', '\u{ad}', '\u{e0041}'];

/// A name of markup and of characters that act.
fn name() -> String {
    let acts: String = ACTS.into_iter().collect();
    format!("<script>alert(1)</script>&{acts}end")
}

/// The answer to a call that may use so much memory, in KiB.
#[cfg(target_os = "linux")]
fn within(call: &Call, kib: u64) -> Answer {
    let mut command = Command::new("sh");
    let limited = format!("ulimit -v {kib}; exec \"$0\" {}", call.arguments);
    command.args(["-c", &limited, env!("CARGO_BIN_EXE_cardwright")]);
    command.current_dir(call.home.path(""));
    Answer::of(command.output().unwrap())
}

#[cfg(target_os = "linux")]
#[test]
fn a_gigabyte_is_refused_in_little_memory() {
    for (arguments, large) in [
        ("plan spring.csv", "spring.csv"),
        ("plan spring.csv", "sheets.csv"),
        ("plan spring.csv", "offcuts.csv"),
        ("plan spring.csv", "workshop.toml"),
        ("check plan.json", "plan.json"),
    ] {
        let call = Call::of_tags(arguments).file(large, "");
        let file = fs::OpenOptions::new().write(true).open(call.home.path(large)).unwrap();
        file.set_len(1 << 30).unwrap();
        let before = call.names();
        let answer = within(&call, 400_000);
        assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""), "{large}: {}", answer.err);
        assert!(answer.err.starts_with("error[file-size]: "), "{large}: {}", answer.err);
        assert_eq!(call.names(), before);
    }
}

#[test]
fn a_row_of_ten_megabytes_is_a_message() {
    let long = "x".repeat(10_000_000);
    for order in [
        format!("line,card,count,paper\n{long},2 x 3,12,fern\n"),
        format!("line,card,count,paper\ntag,{long},12,fern\n"),
        format!("line,card,count,paper,note\ntag,2 x 3,12,fern,\"{}\"\n", "x\n".repeat(5_000_000)),
    ] {
        let err = Call::of_tags("plan spring.csv").file("spring.csv", order).ends_with(1);
        assert!(err.starts_with("error[table-cell-long]: "), "{err}");
        assert!(err.len() < 2000, "{} bytes", err.len());
    }
    for (order, code) in [
        (format!("line,card,count,paper\ntag,2 x 3,12,fern{}\n", ",x".repeat(5_000_000)), "row"),
        (format!("line,card,count,paper{}\n", ",x".repeat(5_000_000)), "header"),
        (format!("line,card,count,paper\n\"{}\n", "x\n".repeat(5_000_000)), "quote"),
    ] {
        let err = Call::of_tags("plan spring.csv").file("spring.csv", order).ends_with(1);
        assert!(err.contains(&format!("error[table-{code}]: ")), "{err}");
        assert!(err.len() < 50_000, "{} bytes", err.len());
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_million_lines_are_refused_in_little_memory() {
    let lines: String = (0..1_000_000).map(|line| format!("t{line},2x3,1,f\n")).collect();
    let call = Call::of_tags("plan spring.csv")
        .file("spring.csv", format!("line,card,count,paper\n{lines}"));
    let answer = within(&call, 600_000);
    assert_eq!(answer.code, Some(1), "{}", answer.err);
    assert!(answer.err.contains("error[table-rows]: "), "{}", answer.err);
}

/// All ways to leave one of so many pieces out are looked at, but never held at once.
#[cfg(target_os = "linux")]
#[test]
fn thousands_of_pieces_from_one_sheet_take_little_memory() {
    let call = Call::of_tags("plan spring.csv --threads 1 --effort quick -q")
        .file("spring.csv", "line,card,count,paper\ntag,6.5 mm x 6.5 mm,1900,fern\n")
        .file("sheets.csv", "sheet,paper,width,height,price\nfern,fern,300 mm,300 mm,1\n");
    let answer = within(&call, 500_000);
    assert_eq!(answer.code, Some(0), "{}", answer.err);
}

#[test]
fn deep_plans_and_benches_are_messages() {
    let leaf = r#"{"x":0,"y":0,"width":1,"height":1,"waste":true}"#;
    let cut = r#"{"x":0,"y":0,"width":1,"height":1,"cut_x":1,"parts":["#;
    let (open, close) = (cut.repeat(10_000), format!(",{leaf}]}}").repeat(10_000));
    let tree = format!("{open}{leaf}{close}");
    let plan = format!(
        r#"{{"schema":"cardwright-plan-1","runs":[{{"id":"R1","sheet":"s","count":1,"layout":{tree}}}]}}"#
    );
    for plan in [plan, "[".repeat(1_000_000), "{\"a\":".repeat(1_000_000)] {
        let err = Call::of_tags("check plan.json").file("plan.json", plan).ends_with(1);
        assert!(err.starts_with("error[plan-unreadable]: plan.json is not a plan\n"), "{err}");
        assert!(err.len() < 2000, "{} bytes", err.len());
    }
    for bench in [
        format!("a = {}\n", "[".repeat(500_000)),
        format!("a = {}1{}\n", "{a=".repeat(100_000), "}".repeat(100_000)),
        format!("{}a = 1\n", "a.".repeat(500_000)),
        format!("[{}a]\n", "a.".repeat(500_000)),
    ] {
        let err = Call::of_tags("plan spring.csv").file("workshop.toml", bench).ends_with(1);
        assert!(err.contains("error[workshop-syntax]: a line cannot be read"), "{err}");
    }
}

/// Numbers of other languages, of other scripts, and those at the ends of what a machine can hold.
const NO_NUMBERS: [&str; 18] = [
    "nan",
    "NaN",
    "inf",
    "-inf",
    "infinity",
    "1e9999",
    "1e3",
    "0x10",
    "0b1",
    "-1",
    "--1",
    "1/0",
    "0/0",
    "9223372036854775807",
    "9223372036854775808",
    "-9223372036854775808",
    "18446744073709551616",
    "\u{662}\u{661}",
];

#[test]
fn what_is_no_number_is_told_in_every_cell() {
    let order = |columns: &str, cells: &str| format!("line,{columns}\ntag,{cells}\n");
    let sheet = |column: &str, cell: &str| match column {
        "width" => format!("sheet,paper,width,height\nfern,fern,{cell},12\n"),
        column => format!("sheet,paper,width,height,{column}\nfern,fern,12,12,{cell}\n"),
    };
    for number in NO_NUMBERS {
        for (file, text) in [
            ("spring.csv", order("card,count,paper", &format!("{number} x 3,12,fern"))),
            ("spring.csv", order("card,count,paper", &format!("2 x 3,{number},fern"))),
            (
                "spring.csv",
                order("card,count,paper,mat,mat inset", &format!("2 x 3,12,fern,fern,{number}")),
            ),
            ("sheets.csv", sheet("width", number)),
            ("sheets.csv", sheet("price", number)),
            ("sheets.csv", sheet("pack", number)),
            ("sheets.csv", sheet("on hand", number)),
            ("sheets.csv", sheet("thickness", number)),
            ("workshop.toml", format!("[trimmer]\nknife = \"{number}\"\n")),
            ("workshop.toml", format!("[spares]\nat_least = \"{number}\"\n")),
            ("workshop.toml", format!("[rates]\nlabour_per_hour = \"{number}\"\n")),
        ] {
            let err = Call::of_tags("plan spring.csv").file(file, &text).ends_with(1);
            assert!(err.starts_with("error["), "{text}: {err}");
            assert!(err.contains(&format!(" --> {file}:")), "{text}: {err}");
        }
    }
}

/// Nothing that acts, and no markup of the names, stands in a text.
#[track_caller]
fn harmless(what: &str, text: &str) {
    let acts = |letter: char| letter.is_control() && letter != '\n' || ACTS.contains(&letter);
    assert!(!text.contains(acts), "{what}: {:?}", text.chars().find(|letter| acts(*letter)));
    if what.ends_with(".html") || what.ends_with(".svg") {
        assert!(!text.contains("<script>alert"), "{what}");
    }
}

#[test]
fn names_and_notes_are_shown_and_never_act() {
    let name = name();
    let call = Call::of_tags("plan spring.csv")
        .file(
            "spring.csv",
            format!(
                "line,card,count,paper,envelope,note\n\
                 {name},3 x 4,12,fern{name},bought,<img src=x>{name}\n\
                 \"=1+{name}\nnext\",2 x 5,12,fern{name},moss,\"two\nlines\"\n"
            ),
        )
        .file(
            "sheets.csv",
            format!(
                "sheet,paper,width,height,price\ns{name},fern{name},12,12,1\nmoss,moss,12,12,1\n"
            ),
        )
        .file("offcuts.csv", format!("offcut,paper,width,height\n@o{name},fern{name},6,6\n"));
    let answer = call.run();
    assert_eq!(answer.code, Some(0), "{}", answer.err);
    harmless("stdout", &answer.out);
    harmless("stderr", &answer.err);
    for (file, bytes) in files(&call.home.path("reports/spring")) {
        if file.ends_with(".pdf") {
            let text = pdf_extract::extract_text_from_mem(&bytes).unwrap();
            assert!(!text.contains(ACTS), "{file}");
        } else if !file.ends_with(".json") {
            // JSON is for programs: there, names are what they are.
            harmless(&file, &String::from_utf8(bytes).unwrap());
        }
    }
    let cuts = call.home.text("reports/spring/cuts.csv");
    assert!(cuts.contains(r"\u{202e}"), "{cuts}");
}

#[cfg(unix)]
#[test]
fn a_file_name_is_shown_and_never_acts() {
    let name = "a\nb\u{202e}\u{1b}[31m";
    let call = Call::of_tags("");
    fs::copy(call.home.path("spring.csv"), call.home.path(&format!("{name}.csv"))).unwrap();
    let mut command = call.command();
    let answer = Answer::of(command.arg("plan").arg(format!("{name}.csv")).output().unwrap());
    assert_eq!(answer.code, Some(0), "{}", answer.err);
    harmless("stdout", &answer.out);
    assert_eq!(listing(&call.home.path("reports")), [name]);
    for (file, bytes) in files(&call.home.path("reports").join(name)) {
        if !file.ends_with(".pdf") && !file.ends_with(".json") {
            harmless(&file, &String::from_utf8(bytes).unwrap());
        }
    }
}

#[test]
fn what_was_typed_is_shown_and_never_acts() {
    let odd = "\u{1b}[2J\u{202e}x";
    for arguments in [
        vec!["plan", odd],
        vec!["plan", "spring.csv", "--out", "spring.csv/\u{1b}[2J\u{202e}x"],
        vec!["plan", "spring.csv", "--workshop", odd],
        vec!["plan", "spring.csv", "--limit", odd],
        vec!["plan", "spring.csv", "--effort", odd],
        vec!["check", "\u{1b}[2J\u{202e}x.json"],
        vec!["settle", odd],
        vec!["shelf", odd],
        vec!["sizes", odd],
        vec!["explain", odd],
        vec!["new", "spring.csv/\u{1b}[2J\u{202e}x"],
        vec![odd],
    ] {
        let call = Call::of_tags("");
        let before = call.names();
        let answer = Answer::of(call.command().args(&arguments).output().unwrap());
        assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""), "{}", answer.err);
        harmless("stderr", &answer.err);
        assert_eq!(call.names(), before);
    }
}

#[test]
fn numbers_of_options_have_their_limits() {
    let seconds = "expected seconds from 0.001 to 86400, such as 10 or 0.5";
    for (arguments, expected) in [
        ("--limit 0", seconds),
        ("--limit -1", seconds),
        ("--limit 0.0001", seconds),
        ("--limit 86400.001", seconds),
        ("--limit .", seconds),
        ("--limit 86401", seconds),
        ("--limit=-1", seconds),
        ("--limit 1e9", seconds),
        ("--limit nan", seconds),
        ("--limit 18446744073709551616", seconds),
        ("--threads 0", "0 is not in 1..=512"),
        ("--threads 513", "513 is not in 1..=512"),
    ] {
        let err = Call::of_tags(&format!("plan spring.csv {arguments}")).refused();
        assert!(err.contains(expected), "{arguments}: {err}");
    }
}

/// Reports of an order whose name is no name for a folder lie in one that is ours, whatever the name.
#[test]
fn no_order_name_leads_out_of_the_reports() {
    for name in ["...csv", "..csv", "....csv", "a\\..\\b.csv", "-x.csv"] {
        let call = Call::of_tags("plan -q --");
        fs::copy(call.home.path("spring.csv"), call.home.path(name)).unwrap();
        let before = call.names();
        let answer = Answer::of(call.command().arg(Path::new(".").join(name)).output().unwrap());
        assert_eq!(answer.code, Some(0), "{name}: {}", answer.err);
        let mut after = call.names();
        after.retain(|name| name != "reports");
        assert_eq!(after, before, "{name}");
        assert_eq!(listing(&call.home.path("reports")).len(), 1, "{name}");
    }
    let call = Call::of_tags("plan -q deep/../spring.csv").file("deep/a", "");
    assert_eq!(call.run().code, Some(0));
    assert_eq!(listing(&call.home.path("reports")), ["spring"]);
}

#[cfg(unix)]
#[test]
fn links_that_lead_nowhere_are_messages() {
    use std::os::unix::fs::symlink;
    for (link, target) in
        [("reports", "nowhere/else"), ("reports", "reports"), ("spring.csv", "spring.csv")]
    {
        let call = Call::of_tags("plan -q spring.csv");
        let _ = fs::remove_file(call.home.path(link));
        symlink(target, call.home.path(link)).unwrap();
        let err = call.refused();
        assert!(err.starts_with("error"), "{err}");
    }
    // Every path that is typed may be absolute, or lead through links.
    let call = Call::of_tags("plan -q link/spring.csv");
    symlink(call.home.path(""), call.home.path("link")).unwrap();
    assert_eq!(call.run().code, Some(0));
}

#[cfg(unix)]
#[test]
fn files_that_never_end_are_refused() {
    for file in ["spring.csv", "sheets.csv", "workshop.toml"] {
        let call = Call::of_tags("plan spring.csv");
        let _ = fs::remove_file(call.home.path(file));
        std::os::unix::fs::symlink("/dev/zero", call.home.path(file)).unwrap();
        assert_eq!(
            call.refused(),
            format!(
                "error[file-kind]: {file} is a pipe or a device, not a file\n |\n \
                 = help: save the table in a file and name that, or send it to /dev/stdin\n"
            )
        );
    }
}

/// Opened, a pipe would wait for its other end.
#[cfg(unix)]
#[test]
fn pipes_and_sockets_are_refused() {
    for file in ["spring.csv", "sheets.csv", "offcuts.csv", "workshop.toml"] {
        for arguments in ["plan spring.csv", "check spring.csv", "shelf rebuild"] {
            let call = Call::of_tags(arguments);
            let path = call.home.path(file);
            let _ = fs::remove_file(&path);
            assert!(Command::new("mkfifo").arg(&path).status().unwrap().success());
            let Some(answer) = within_a_minute(call.command()) else {
                panic!("{arguments} waits for {file}");
            };
            assert!(matches!(answer.code, Some(1 | 2)), "{arguments}: {}", answer.err);
            fs::remove_file(&path).unwrap();
            let _socket = std::os::unix::net::UnixListener::bind(&path).unwrap();
            let answer = call.run();
            assert!(matches!(answer.code, Some(1 | 2)), "{arguments}: {}", answer.err);
        }
    }
}

/// The answer of a command that should not wait for anything.
#[cfg(unix)]
fn within_a_minute(mut command: Command) -> Option<Answer> {
    use std::process::Stdio;
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    for _ in 0..600 {
        if child.try_wait().unwrap().is_some() {
            return Some(Answer::of(child.wait_with_output().unwrap()));
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    None
}

/// What a command is started with is read, and so is the empty file.
#[cfg(target_os = "linux")]
#[test]
fn standard_input_is_read() {
    let call = Call::of_tags("plan -q /dev/stdin --sheets sheets.csv --workshop /dev/null");
    for input in ["cat spring.csv |", "< spring.csv"] {
        let (before, after) = match input.strip_prefix('<') {
            Some(_) => ("", input),
            None => (input, ""),
        };
        let mut command = Command::new("sh");
        let line = format!("{before} \"$0\" {} {after}", call.arguments);
        command.args(["-c", &line, env!("CARGO_BIN_EXE_cardwright")]);
        let answer = Answer::of(command.current_dir(call.home.path("")).output().unwrap());
        assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""), "{input}");
        assert!(call.home.path("reports/stdin/plan.json").is_file());
        fs::remove_dir_all(call.home.path("reports")).unwrap();
    }
}
