//! Commands that a message suggests: each runs as it is printed, from where the person stands.

use super::*;

/// The commands that a text suggests, between backquotes.
fn commands_of(text: &str) -> Vec<String> {
    let parts = text.split('`').skip(1).step_by(2);
    parts.filter(|part| part.starts_with("cardwright ")).map(str::to_owned).collect()
}

/// A workshop in the folder `june`, seen from the folder above it, where there is another one.
fn workshop() -> Home {
    let home = Home::new();
    for (name, text) in [
        ("june/spring.csv", "line,card,count,paper\ntag,6 x 6,8,fern\n"),
        ("june/summer.csv", "line,card,count,paper\ntag,6 x 6,16,fern\n"),
        ("june/sheets.csv", "sheet,paper,width,height,on hand\nfern-12,fern,12,12,5\n"),
        ("june/offcuts.csv", "offcut,paper,width,height\nold,fern,5,4\n"),
        ("june/workshop.toml", "[spares]\npercent = 0\nat_least = 0\n"),
        ("sheets.csv", "sheet,paper,width,height,on hand\nmoss-12,moss,12,12,5\n"),
    ] {
        home.put(name, text);
    }
    home
}

/// Runs what is suggested as it is printed, through a shell.
#[cfg(unix)]
#[track_caller]
fn run_as_printed(home: &Home, command: &str) -> Answer {
    let line = command.replacen("cardwright", "\"$0\"", 1);
    let mut shell = Command::new("sh");
    shell.args(["-c", &line, env!("CARGO_BIN_EXE_cardwright")]).current_dir(home.path(""));
    let answer = Answer::of(shell.output().unwrap());
    assert_eq!(answer.code, Some(0), "{command}: {}", answer.err);
    answer
}

#[cfg(unix)]
#[test]
fn paper_that_is_set_aside_is_shown_and_released() {
    let home = workshop();
    home.done("plan june/spring.csv --reserve --quiet");
    let answer = home.run("plan june/summer.csv --quiet");
    assert_eq!(answer.code, Some(1));
    let commands = commands_of(&answer.err);
    let as_many = "cardwright plan june/summer.csv --as-many";
    assert_eq!(commands, ["cardwright shelf june", "cardwright shelf drop spring june", as_many]);
    assert!(run_as_printed(&home, &commands[0]).out.ends_with("Set aside for spring\n"));
    let part = "summer: 12 of 16 cards can be made\n";
    assert!(run_as_printed(&home, as_many).out.starts_with(part));
    run_as_printed(&home, &commands[1]);
    home.done("plan june/summer.csv --quiet");
}

#[cfg(unix)]
#[test]
fn a_drawer_that_is_gone_is_written_again() {
    let home = workshop();
    home.done("plan june/spring.csv --quiet");
    home.done("settle reports/spring --on 2031-05-09");
    let drawer = home.text("june/offcuts.csv");
    fs::remove_file(home.path("june/offcuts.csv")).unwrap();
    for arguments in ["plan june/spring.csv --quiet", "settle reports/spring --undo"] {
        let told = commands_of(&home.run(arguments).err);
        assert_eq!(told, ["cardwright shelf rebuild june"], "{arguments}");
    }
    run_as_printed(&home, "cardwright shelf rebuild june");
    assert_eq!(home.text("june/offcuts.csv"), drawer);
}

#[cfg(unix)]
#[test]
fn a_batch_whose_report_was_replaced_is_taken_back_through_the_journal() {
    let home = workshop();
    let before = home.text("june/sheets.csv");
    home.done("plan june/spring.csv --quiet");
    home.done("settle reports/spring --on 2031-05-09");
    home.done("plan june/spring.csv --quiet --effort quick");
    let answer = home.run("settle reports/spring --undo");
    let commands = commands_of(&answer.err);
    assert_eq!(commands, ["cardwright shelf rebuild june --to 1", "cardwright shelf history june"]);
    commands.iter().for_each(|command| drop(run_as_printed(&home, command)));
    assert_eq!(home.text("june/sheets.csv"), before);
}

#[cfg(unix)]
#[test]
fn a_shelf_that_has_changed_since_goes_back_to_before() {
    let home = workshop();
    let before = home.text("june/sheets.csv");
    home.done("plan june/spring.csv --quiet");
    home.done("settle reports/spring --on 2031-05-09");
    home.put("june/sheets.csv", home.text("june/sheets.csv").replace(",3\n", ",4\n"));
    let answer = home.run("settle reports/spring --undo");
    assert_eq!(commands_of(&answer.err), ["cardwright shelf rebuild june"]);
    home.put("june/autumn.csv", "line,card,count,paper\ntag,6 x 6,8,fern\n");
    home.done("plan june/autumn.csv --quiet");
    home.done("settle reports/autumn --on 2031-05-10");
    let answer = home.run("settle reports/spring --undo");
    let commands = commands_of(&answer.err);
    assert_eq!(commands, ["cardwright shelf rebuild june --to 1"]);
    run_as_printed(&home, &commands[0]);
    assert_eq!(home.text("june/sheets.csv"), before);
}

#[cfg(unix)]
#[test]
fn paper_of_another_plan_is_released_where_a_report_asks_for_it() {
    let home = workshop();
    home.done("plan june/spring.csv --quiet --out reports/old");
    home.done("plan june/spring.csv --quiet --reserve");
    let answer = home.run("settle reports/old --on 2031-05-09");
    let commands = commands_of(&answer.err);
    assert_eq!(commands, ["cardwright shelf drop spring june"], "{}", answer.err);
    run_as_printed(&home, &commands[0]);
    home.done("settle reports/old --on 2031-05-09");
}

#[cfg(unix)]
#[test]
fn a_report_of_another_folder_is_settled_from_there() {
    let home = workshop();
    home.done("plan june/spring.csv --quiet");
    let mut command = home.command("settle ../reports/spring --on 2031-05-09");
    let answer = Answer::of(command.current_dir(home.path("june")).output().unwrap());
    let commands: Vec<String> =
        answer.err.split('`').skip(1).step_by(2).map(str::to_owned).collect();
    let [cd, settle] = commands.as_slice() else { panic!("{}", answer.err) };
    run_as_printed(&home, &format!("{cd} && {}", settle.replacen("cardwright", "\"$0\"", 1)));
}

/// Files by other names are named, each with its option.
#[cfg(unix)]
#[test]
fn files_of_other_names_are_named() {
    let home = workshop();
    fs::rename(home.path("june/sheets.csv"), home.path("june/my paper.csv")).unwrap();
    let plan = |arguments: &str| {
        let mut command = home.command(arguments);
        command.arg("--sheets").arg("june/my paper.csv");
        Answer::of(command.output().unwrap())
    };
    assert_eq!(plan("plan june/spring.csv --reserve --quiet").code, Some(0));
    let commands = commands_of(&plan("plan june/summer.csv --quiet").err);
    let files = "--sheets 'june/my paper.csv' --offcuts june/offcuts.csv";
    assert_eq!(
        commands,
        [
            format!("cardwright shelf {files}"),
            format!("cardwright shelf drop spring {files}"),
            "cardwright plan june/summer.csv --sheets 'june/my paper.csv' --as-many".to_owned(),
        ]
    );
    commands.iter().for_each(|command| drop(run_as_printed(&home, command)));
}

/// Two batches, the second of which takes what the first one left: 7 x 12 in of a sheet.
#[cfg(unix)]
fn one_after_the_other() -> Home {
    let home = workshop();
    home.put("june/autumn.csv", "line,card,count,paper\ntag,5 x 12,1,fern\n");
    home.put("june/winter.csv", "line,card,count,paper\ntag,7 x 12,1,fern\n");
    home.done("plan june/autumn.csv --quiet");
    home.done("settle reports/autumn --on 2031-05-09");
    home
}

#[cfg(unix)]
#[test]
fn an_offcut_that_is_set_aside_is_released_before_it_is_taken_back() {
    let home = one_after_the_other();
    home.done("plan june/winter.csv --quiet --reserve");
    let answer = home.run("settle reports/autumn --undo");
    let commands = commands_of(&answer.err);
    assert_eq!(commands, ["cardwright shelf june", "cardwright shelf drop winter june"]);
    commands.iter().for_each(|command| drop(run_as_printed(&home, command)));
    home.done("settle reports/autumn --undo");
}

#[cfg(unix)]
#[test]
fn what_was_interrupted_and_edited_since_is_finished() {
    let home = one_after_the_other();
    let journal = home.text("june/shelf.jsonl");
    let lines: Vec<&str> = journal.split_inclusive('\n').collect();
    // The files are written last, and the last line says that they are.
    home.put("june/shelf.jsonl", lines[..lines.len() - 1].concat());
    home.put("june/.shelf.lock", "");
    home.put("june/sheets.csv", "sheet,paper,width,height,on hand\nfern-12,fern,12,12,44\n");
    let answer = home.run("plan june/winter.csv --quiet --reserve");
    assert!(answer.err.contains("error[shelf-unfinished]"), "{}", answer.err);
    assert_eq!(commands_of(&answer.err), ["cardwright shelf rebuild june"]);
    run_as_printed(&home, "cardwright shelf rebuild june");
    home.done("plan june/winter.csv --quiet --reserve");
}

#[cfg(unix)]
#[test]
fn a_journal_that_was_cut_goes_on_from_what_is_left() {
    let home = one_after_the_other();
    let journal = home.text("june/shelf.jsonl");
    home.done("plan june/winter.csv --quiet");
    home.done("settle reports/winter --on 2031-05-10");
    home.put("june/shelf.jsonl", journal);
    let answer = home.run("plan june/summer.csv --quiet --reserve");
    assert!(answer.err.contains("error[shelf-cut]"), "{}", answer.err);
    assert_eq!(commands_of(&answer.err), ["cardwright shelf rebuild june"]);
    run_as_printed(&home, "cardwright shelf rebuild june");
    home.run("shelf june");
    assert_eq!(commands_of(&home.run("plan june/winter.csv --quiet --reserve").err), [""; 0]);
}
