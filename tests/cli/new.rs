//! `new`: a workshop to begin with.

use super::*;

#[test]
fn a_new_workshop_is_ready_to_plan() {
    let home = Home::new();
    assert_eq!(
        home.done("new mine").out,
        "\
mine is a small workshop, ready to plan:

  mine/cards.csv      the order: which cards, and how many
  mine/sheets.csv     your paper: the sheets you have or can buy
  mine/workshop.toml  your bench: trimmer, spares, rates
  mine/offcuts.csv    your drawer: the offcuts to use first

Open the first three, and write in your own. Then plan:

  cardwright plan mine/cards.csv
"
    );
    assert_eq!(
        listing(&home.path("mine")),
        ["cards.csv", "offcuts.csv", "sheets.csv", "workshop.toml"]
    );
    let answer = home.run("plan mine/cards.csv");
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    assert!(
        answer.out.starts_with("cards: all 40 cards of 3 kinds can be made\n"),
        "{}",
        answer.out
    );
    home.done("settle reports/cards");
}

#[test]
fn a_new_workshop_in_millimetres_is_ready_to_plan() {
    let home = Home::new();
    home.done("new mine --unit mm");
    let answer = home.run("plan mine/cards.csv");
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    assert!(answer.out.contains("all 40 cards of 3 kinds can be made"), "{}", answer.out);
    assert!(answer.out.contains(" EUR"), "{}", answer.out);
    assert!(home.text("reports/cards/schedule.html").contains(" mm"));
    home.done("settle reports/cards");
}

/// What it says to type can be typed, from the same place.
#[cfg(unix)]
#[test]
fn the_command_is_told_as_it_is_typed() {
    let home = Home::new();
    let mut command = home.command("new");
    let answer = Answer::of(command.arg("my cards/may's").output().unwrap());
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    let typed = answer.out.lines().last().unwrap().trim();
    assert_eq!(typed, r"cardwright plan 'my cards/may'\''s/cards.csv'");
    let line = typed.replacen("cardwright", "\"$0\"", 1);
    let mut shell = Command::new("sh");
    shell.args(["-c", &line, env!("CARGO_BIN_EXE_cardwright")]).current_dir(home.path(""));
    let answer = Answer::of(shell.output().unwrap());
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
}

#[test]
fn a_folder_with_something_in_it_is_left_alone() {
    let call = Call::new("new mine").file("mine/a.jpg", "mine");
    assert_eq!(
        call.refused(),
        "error: mine is not empty\n = help: name a folder that is new or empty\n"
    );
    assert_eq!(listing(&call.home.path("mine")), ["a.jpg"]);
}

#[test]
fn a_new_workshop_has_all_keys_at_their_place() {
    // As in the workshop that comes with the project, but for what is of that workshop alone.
    let keys = |name: &str| -> Vec<String> {
        let text = fs::read_to_string(crate::program::project(name)).unwrap();
        let lines =
            text.lines().map(|line| line.split('=').next().unwrap_or_default().trim().to_owned());
        lines.filter(|line| !line.starts_with('#')).collect()
    };
    for starter in ["inch", "metric"] {
        let file = format!("src/cli/starter/{starter}/workshop.toml");
        assert_eq!(keys(&file), keys("orders/workshop.toml"), "{starter}");
    }
}

/// A shell that stands in a folder stands in it still, and sees what came into it.
#[cfg(unix)]
#[test]
fn the_folder_that_a_person_stands_in_stays_where_it_is() {
    use std::os::unix::fs::MetadataExt;
    let home = Home::new();
    let number = fs::metadata(home.path("")).unwrap().ino();
    let out = home.done("new .").out;
    assert_eq!(fs::metadata(home.path("")).unwrap().ino(), number);
    assert!(out.starts_with("this folder is a small workshop, ready to plan:\n\n  cards.csv  "));
    assert!(out.ends_with("\n  cardwright plan cards.csv\n"), "{out}");
    home.done("plan cards.csv");
}
