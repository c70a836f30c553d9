//! Many plans into one folder at once, and a person at work in it.

use super::*;
use std::process::Stdio;

const FEW_ROUNDS: u32 = 1;
const MANY_ROUNDS: u32 = 60;
const AT_ONCE: usize = 6;
/// Files that come into the folder in a round, and as many into a folder in it.
const NOTES: u32 = 40;

#[test]
fn many_at_once_lose_nothing() {
    crowd(FEW_ROUNDS);
}

#[test]
#[ignore = "takes minutes: the same as above, sixty times"]
fn many_at_once_lose_nothing_again_and_again() {
    crowd(MANY_ROUNDS);
}

/// Plans two orders into one folder at once, while files come into it; each of these has to be there at last.
fn crowd(rounds: u32) {
    let home = planned("plan spring.csv --quiet");
    home.put("many.csv", MANY);
    let reports = home.path("reports/spring");
    let plans = ["spring", "many"].map(|order| {
        home.done(&format!("plan {order}.csv --quiet --out {order}"));
        home.text(&format!("{order}/plan.json"))
    });
    let mut notes = 0;
    for round in 0..rounds {
        let run = |number: usize| {
            let order = if number.is_multiple_of(2) { "spring" } else { "many" };
            let mut command =
                home.command(&format!("plan {order}.csv --quiet --out reports/spring"));
            command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
        };
        let mut running: Vec<_> = (0..AT_ONCE).map(run).collect();
        while running.iter_mut().any(|it| it.try_wait().unwrap().is_none()) {
            // A report folder is there at every moment, and so is what was in it before.
            assert!(plans.contains(&home.text("reports/spring/plan.json")), "round {round}");
            assert_eq!(home.text("reports/spring/photo.jpg"), "mine", "round {round}");
            assert_eq!(home.text("reports/spring/letters/two.txt"), "dear", "round {round}");
            if notes < (round + 1) * NOTES {
                for folder in ["", "letters/"] {
                    home.put(&format!("reports/spring/{folder}note-{notes}"), notes.to_string());
                }
                notes += 1;
            }
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
        for child in running {
            let answer = Answer::of(child.wait_with_output().unwrap());
            let waited = answer.err.lines().all(|line| {
                line.starts_with("waiting for another plan to finish writing beside reports/spring")
            });
            assert!(answer.code == Some(0) && waited, "round {round}: {}", answer.err);
        }
        let lost = (0..notes).flat_map(|note| {
            ["", "letters/"].map(|folder| (reports.join(format!("{folder}note-{note}")), note))
        });
        let lost: Vec<_> = lost
            .filter(|(path, note)| fs::read_to_string(path).ok() != Some(note.to_string()))
            .collect();
        assert!(lost.is_empty(), "round {round}: {lost:?}");
        assert_eq!(listing(&home.path("reports")), ["spring"]);
    }
    println!("{rounds} rounds of {AT_ONCE} plans, {} files came meanwhile", 2 * notes);
}
