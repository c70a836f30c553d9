//! A drawer belongs to one shelf, however many name it.
//!
//! A few rounds run with all tests; `cargo test -- --ignored --nocapture drawer` runs [`MANY`] and tells what it met.

use super::*;
use crate::messages::same;
use std::fs;
use std::process::Stdio;
use std::thread::sleep;
use std::time::Instant;

const FEW: u32 = 30;
const MANY: u32 = 300;

const NAMES: [&str; 2] = ["may", "june"];
const BEFORE: &str = "sheet,paper,width,height,on hand\nfern-12,fern,12,12,40\n";
const DRAWER: &str = "offcut,paper,width,height,count\nold-1,fern,3,5,2\n";

/// Two workshops that name one drawer, each with an order that is planned and leaves a strip.
fn workshops() -> Home {
    let home = Home::new();
    home.put("drawer/offcuts.csv", DRAWER);
    for name in NAMES {
        home.put(&format!("{name}/workshop.toml"), "[spares]\npercent = 0\nat_least = 0\n");
        home.put(&format!("{name}/sheets.csv"), BEFORE);
        home.put(&format!("{name}/{name}.csv"), "line,card,count,paper\ntag,10 x 12,1,fern\n");
        home.done(&format!("plan {name}/{name}.csv --offcuts drawer/offcuts.csv --quiet"));
    }
    home
}

/// All as before anybody settled.
fn reset(home: &Home) {
    home.put("drawer/offcuts.csv", DRAWER);
    for name in ["drawer/.offcuts.csv.shelf", "may/shelf.jsonl", "june/shelf.jsonl"] {
        let _ = fs::remove_file(home.path(name));
    }
    for name in NAMES {
        home.put(&format!("{name}/sheets.csv"), BEFORE);
        let _ = fs::remove_file(home.path(&format!("{name}/.shelf.lock")));
    }
}

/// Commands that run at once, each with what it came to.
fn at_once<const N: usize>(home: &Home, commands: [&str; N]) -> [Answer; N] {
    let start = |arguments: &str| {
        let mut command = home.command(arguments);
        command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
    };
    let running = commands.map(start);
    running.map(|child| Answer::of(child.wait_with_output().unwrap()))
}

/// Strips in the drawer that a batch left.
fn strips(home: &Home, name: &str) -> usize {
    home.text("drawer/offcuts.csv").matches(&format!("\nfern-{name}-01,")).count()
}

/// Whether it was done, or refused for the drawer.
#[track_caller]
fn is_done(answer: &Answer) -> bool {
    match answer.code {
        Some(0) => true,
        Some(1) => {
            assert!(answer.err.starts_with("error[shelf-drawer]: "), "{}", answer.err);
            false
        }
        other => panic!("{other:?}: {}", answer.err),
    }
}

/// A shelf of which every entry leads to the next, and the last one to its files.
#[track_caller]
fn is_sound(home: &Home, name: &str) {
    let shelf = format!("shelf history {name} --offcuts drawer/offcuts.csv");
    let out = home.done(&shelf).out;
    assert!(out.ends_with(", and your files match the last\n"), "{out}");
}

#[test]
fn the_second_is_told_whose_it_is() {
    let home = workshops();
    said(&home, "settle reports/may --on 2031-05-09");
    assert_eq!(home.text("drawer/.offcuts.csv.shelf"), "../may/sheets.csv\n");
    let own = fs::canonicalize(home.path("may")).unwrap();
    let expected = format!(
        r"
error[shelf-drawer]: drawer/offcuts.csv belongs to another shelf
 |
 = help: it belongs to {0}/sheets.csv; two shelves would overwrite each other's changes
 = help: name those sheets with --sheets, or another file of its kind
 = help: if that shelf is no longer used, move {0}/shelf.jsonl away; nothing settled there can be undone then
",
        own.display()
    );
    for arguments in [
        "settle reports/june",
        "settle reports/june --undo",
        "plan june/june.csv --offcuts drawer/offcuts.csv",
        "plan june/june.csv --offcuts drawer/offcuts.csv --reserve",
        "shelf june --offcuts drawer/offcuts.csv",
        "shelf history june --offcuts drawer/offcuts.csv",
        "shelf rebuild june --offcuts drawer/offcuts.csv",
        "shelf drop june june --offcuts drawer/offcuts.csv",
    ] {
        let answer = home.run(arguments);
        assert_eq!((answer.code, answer.out.as_str()), (Some(1), ""), "{arguments}");
        same(&answer.err, &expected);
    }
    assert_eq!(home.text("june/sheets.csv"), BEFORE);
    assert!(!home.path("june/shelf.jsonl").exists());
    // Each way out.
    home.put("june/offcuts.csv", DRAWER);
    said(&home, "settle reports/june --offcuts june/offcuts.csv --on 2031-05-10");
    fs::rename(home.path("may/shelf.jsonl"), home.path("may/old.jsonl")).unwrap();
    fs::rename(home.path("june/shelf.jsonl"), home.path("june/old.jsonl")).unwrap();
    home.put("june/sheets.csv", BEFORE);
    fs::remove_file(home.path("june/.shelf.lock")).unwrap();
    home.done("settle reports/june --on 2031-05-11");
    assert_eq!((strips(&home, "may"), strips(&home, "june")), (1, 1));
}

/// Sheets and drawer in one folder: no file of ours tells whose they are.
#[test]
fn those_who_keep_both_together_get_no_mark() {
    let home = planned();
    said(&home, "settle reports/spring");
    let ours = crate::program::listing(&home.path(""));
    let ours: Vec<&String> = ours.iter().filter(|name| name.contains("shelf")).collect();
    assert_eq!(ours, [".shelf.lock", "shelf.jsonl"]);
}

#[cfg(unix)]
#[test]
fn a_link_to_a_drawer_is_that_drawer() {
    let home = workshops();
    std::os::unix::fs::symlink("../drawer/offcuts.csv", home.path("june/offcuts.csv")).unwrap();
    home.done("plan june/june.csv --quiet");
    said(&home, "settle reports/may");
    let answer = home.run("settle reports/june");
    assert!(!is_done(&answer));
    // Moved together, it is the same shelf still, and the link leads to the same drawer.
    fs::create_dir(home.path("moved")).unwrap();
    for name in ["may", "june", "drawer", "reports"] {
        fs::rename(home.path(name), home.path("moved").join(name)).unwrap();
    }
    let moved = |arguments: &str| {
        let mut command = home.command(arguments);
        Answer::of(command.current_dir(home.path("moved")).output().unwrap())
    };
    assert!(!is_done(&moved("settle reports/june")));
    assert!(is_done(&moved("settle reports/may --undo")));
    assert_eq!(fs::read_to_string(home.path("moved/drawer/offcuts.csv")).unwrap(), DRAWER);
}

#[test]
fn of_two_at_once_one_gets_the_drawer() {
    crowd(FEW);
}

#[test]
#[ignore = "takes minutes: the same as above with ten times the rounds"]
fn of_two_at_once_one_gets_the_drawer_hundreds_of_times() {
    crowd(MANY);
}

/// Rounds in which both settle at once, and then the one takes back and sets aside while the other tries all that
/// writes.
fn crowd(rounds: u32) {
    let home = workshops();
    let mut won = [0, 0];
    for _ in 0..rounds {
        reset(&home);
        let answers = at_once(&home, ["settle reports/may", "settle reports/june"]);
        let done = [is_done(&answers[0]), is_done(&answers[1])];
        assert_ne!(done[0], done[1], "{}{}", answers[0].err, answers[1].err);
        for (name, done) in NAMES.into_iter().zip(done) {
            assert_eq!(strips(&home, name), usize::from(done), "{name}");
        }
        let winner = usize::from(done[1]);
        won[winner] += 1;
        let [own, other] = [NAMES[winner], NAMES[1 - winner]];
        let [undo, settle, reserve, rebuild] = at_once(
            &home,
            [
                &format!("settle reports/{own} --undo"),
                &format!("settle reports/{other}"),
                &format!(
                    "plan {other}/{other}.csv --offcuts drawer/offcuts.csv --reserve --out out"
                ),
                &format!("shelf rebuild {other} --offcuts drawer/offcuts.csv"),
            ],
        );
        assert!(is_done(&undo));
        assert!([settle, reserve, rebuild].iter().all(|answer| !is_done(answer)));
        assert_eq!(home.text("drawer/offcuts.csv"), DRAWER);
        assert_eq!(home.text(&format!("{other}/sheets.csv")), BEFORE);
        is_sound(&home, own);
    }
    println!(
        "{rounds} rounds, none lost: {} got it {} times, {} {} times",
        NAMES[0], won[0], NAMES[1], won[1]
    );
}

/// One of two is killed at any moment; then both try once more.
#[cfg(unix)]
#[test]
fn one_who_is_killed_leaves_the_drawer_to_one() {
    let home = workshops();
    let start = Instant::now();
    said(&home, "settle reports/may");
    let longest = start.elapsed() * 11 / 10;
    let mut kept = [0, 0];
    for round in 0..FEW {
        reset(&home);
        let mut command = home.command("settle reports/may");
        let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        sleep(longest * (round * 37 % 101) / 100);
        child.kill().unwrap();
        child.wait().unwrap();
        let june = is_done(&home.run("settle reports/june"));
        let may = home.run("settle reports/may");
        // Killed after it counted, it is settled.
        let may = match may.err.contains("error[settle-twice]: ") {
            true => true,
            false => is_done(&may),
        };
        assert_ne!(may, june, "round {round}");
        assert_eq!((strips(&home, "may"), strips(&home, "june")), (may.into(), june.into()));
        is_sound(&home, NAMES[usize::from(june)]);
        kept[usize::from(june)] += 1;
    }
    println!("{FEW} rounds: the one who was killed kept it {} times", kept[0]);
}
