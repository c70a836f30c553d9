//! A spreadsheet that saves a file while the shelf is changed.

use super::*;
use crate::messages::same;
use std::fs;
use std::process::Stdio;
use std::thread::sleep;
use std::time::Instant;

#[test]
fn a_file_that_was_saved_since_it_was_read() {
    use cardwright::settling::{Trouble, rebuild};
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    let after = stock(&home);
    let mut shelf = opened(&home);
    let edited = after.0.clone() + "# by hand\n";
    home.put("sheets.csv", &edited);
    let day = "2031-05-10".parse().unwrap();
    let Err(Trouble::Problems(problems)) = rebuild(Some(1), day, &mut shelf) else {
        panic!("it was rebuilt");
    };
    let told = cardwright::cli::render::problems(&problems, false);
    let sheets = home.path("sheets.csv");
    let sheets = sheets.display();
    same(
        &told,
        &format!(
            r"
error[shelf-saved]: {sheets} was saved by another program just now
 |
 = help: the file is as that program saved it, and nothing else was changed: run the command again
"
        ),
    );
    drop(shelf);
    assert_eq!(stock(&home), (edited, after.1));
    said(&home, "shelf rebuild --to 1 --on 2031-05-10");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    assert!(home.text("shelf.jsonl").contains("# by hand"));
}

#[test]
fn what_a_spreadsheet_saves_meanwhile_is_kept() {
    save(40);
}

#[test]
#[ignore = "takes a minute: the same as above with more rounds"]
fn what_a_spreadsheet_saves_meanwhile_is_kept_hundreds_of_times() {
    save(400);
}

/// Settles and takes back, and saves a file at another moment each time, into the file or by putting another in its
/// place.
fn save(rounds: u32) {
    let home = planned();
    let start = Instant::now();
    said(&home, "settle reports/spring --on 2031-05-09");
    let longest = start.elapsed();
    let (mut done, mut refused) = (0, 0);
    for round in 0..rounds {
        let arguments = match round % 2 == 0 {
            true => "shelf rebuild --to 1 --on 2031-05-09",
            false => "settle reports/spring --on 2031-05-09",
        };
        let mut command = home.command(arguments);
        let child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        sleep(longest * (round * 37 % 101) / 100);
        let name = ["sheets.csv", "offcuts.csv"][(round / 2 % 2) as usize];
        let edit = format!("# edit {round} by hand\n");
        let text = fs::read_to_string(home.path(name)).unwrap() + &edit;
        match round % 3 {
            0 => home.put(name, text),
            _ => {
                home.put("saved.tmp", text);
                fs::rename(home.path("saved.tmp"), home.path(name)).unwrap();
            }
        }
        let answer = Answer::of(child.wait_with_output().unwrap());
        match answer.code {
            Some(0) => done += 1,
            Some(1) => refused += 1,
            other => panic!("{other:?}: {}", answer.err),
        }
        let journal = home.text("shelf.jsonl");
        let kept = home.text(name).contains(&edit) || journal.contains(edit.trim_end());
        assert!(kept, "round {round}, {name}, {arguments}: {}{}", answer.out, answer.err);
        let out = home.done("shelf history").out;
        assert!(out.contains("Each entry follows from the one before"), "{out}");
    }
    println!("{rounds} rounds, no edit lost: {done} done, {refused} refused");
    assert!(done > 0);
}
