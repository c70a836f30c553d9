//! Terminals of another kind: narrow ones, and those without colour or without a way back in the line.
//!
//! A terminal is made by `script`, of util-linux; where there is none, these tests say so.
#![cfg(target_os = "linux")]

use super::*;

/// What a terminal of so many columns shows.
fn shown(
    home: &Home,
    columns: u32,
    environment: &[(&str, &str)],
    arguments: &str,
) -> Option<String> {
    let program = env!("CARGO_BIN_EXE_cardwright");
    let mut command = Command::new("script");
    let typed = format!("stty rows 30 cols {columns} -onlcr; '{program}' {arguments}");
    command.args(["-qec", &typed, "/dev/null"]).current_dir(home.path(""));
    command.env_remove("NO_COLOR").env("TERM", "xterm").envs(environment.iter().copied());
    match command.output() {
        Ok(output) => Some(String::from_utf8(output.stdout).unwrap()),
        Err(_) => {
            println!("skipped: there is no `script`");
            None
        }
    }
}

/// The letters alone, without colour.
fn plain(text: &str) -> String {
    let mut parts = text.split("\u{1b}[");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |text, part| text + part.split_once('m').map_or("", |it| it.1))
}

const RESULTS: [&str; 8] = [
    "plan orders/wedding.csv",
    "shelf orders --on 2027-05-09",
    "sizes A7",
    "sizes post",
    "explain",
    "explain order-count",
    "check orders/wedding.csv",
    "plan --help",
];

#[test]
fn forty_columns_suffice_and_no_word_is_lost() {
    let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    for arguments in RESULTS {
        let home = Home::with(&["orders"]);
        // Progress is for a watched terminal; here only the result is looked at.
        let piped = format!("{arguments} 2> /dev/null");
        let Some(narrow) = shown(&home, 40, &[], &piped).map(|text| plain(&text)) else { return };
        let wide = home.done(arguments).out;
        assert_eq!(words(&narrow), words(&wide), "{arguments}");
        for line in narrow.lines() {
            assert!(line.chars().count() <= 40, "{arguments}: {line}");
        }
    }
}

#[test]
fn what_went_wrong_is_parted_between_words_as_well() {
    let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    let home = Home::with(&["orders"]);
    for arguments in
        ["plan none.csv", "plan orders/wedding.csv --out orders -q", "explain none", "plan"]
    {
        let Some(told) = shown(&home, 40, &[], arguments).map(|text| plain(&text)) else { return };
        assert_eq!(words(&told), words(&home.run(arguments).err), "{arguments}");
        for line in told.lines() {
            assert!(line.chars().count() <= 40, "{arguments}: {line}");
        }
    }
}

#[test]
fn a_wide_terminal_gets_what_a_pipe_gets() {
    let home = Home::with(&["orders"]);
    for arguments in ["shelf orders --on 2027-05-09", "sizes A7", "explain"] {
        let Some(wide) = shown(&home, 400, &[], arguments) else { return };
        assert_eq!(wide, home.done(arguments).out, "{arguments}");
    }
}

#[test]
fn a_mistake_is_marked_below_its_letters() {
    let padding = "x".repeat(90);
    let call = Call::of_tags("").file(
        "spring.csv",
        format!("line,note,card,count,paper\ntag,{padding},2 x 3,twelve,fern\n"),
    );
    let Some(told) = shown(&call.home, 40, &[], "check spring.csv") else { return };
    let lines: Vec<String> = plain(&told).lines().map(str::to_owned).collect();
    let marks = lines.iter().position(|line| line.contains("^^^^^^")).unwrap();
    let at = lines[marks].find("^^^^^^").unwrap();
    assert_eq!(&lines[marks - 1][at..at + 6], "twelve", "{told}");
    assert!(lines[marks - 1].len() <= 40, "{told}");
}

/// <https://no-color.org>: any value that is not empty.
#[test]
fn colour_can_be_declined() {
    let call = Call::of_tags("");
    let arguments = "plan spring.csv --out reports/may";
    let Some(coloured) = shown(&call.home, 80, &[], arguments) else { return };
    assert!(coloured.contains("\u{1b}[1m") || coloured.contains("\u{1b}[3"), "{coloured}");
    // Going back in the line is no colour: only the progress does that.
    let quiet = shown(&call.home, 80, &[("NO_COLOR", "1")], &format!("{arguments} 2> /dev/null"));
    assert!(!quiet.unwrap().contains('\u{1b}'));
}

/// The same of what is told on standard error. A value that is empty declines nothing.
#[test]
fn colour_can_be_declined_where_mistakes_are_told() {
    let call = Call::of_tags("").file("bad.csv", "line,card,count,paper\ntag,2 x 3,twelve,fern\n");
    for arguments in ["check bad.csv", "plan none.csv", "plan", "plan --loud"] {
        let told = |environment: &[(&str, &str)]| {
            shown(&call.home, 80, environment, &format!("{arguments} > /dev/null"))
        };
        let Some(coloured) = told(&[]) else { return };
        assert!(coloured.contains("\u{1b}[1m") || coloured.contains("\u{1b}[3"), "{coloured:?}");
        assert_eq!(told(&[("NO_COLOR", "")]).unwrap(), coloured, "{arguments}");
        let letters = told(&[("NO_COLOR", "1")]).unwrap();
        assert!(!letters.contains('\u{1b}'), "{arguments}: {letters:?}");
        assert_eq!(letters, plain(&coloured), "{arguments}");
    }
}

#[test]
fn a_dumb_terminal_gets_letters_alone() {
    let call = Call::of_tags("");
    for arguments in ["plan spring.csv", "plan none.csv", "plan --help", "plan", "check spring.csv"]
    {
        let Some(text) = shown(&call.home, 80, &[("TERM", "dumb")], arguments) else { return };
        assert!(!text.is_empty() && !text.contains(['\u{1b}', '\r']), "{arguments}: {text:?}");
    }
}
