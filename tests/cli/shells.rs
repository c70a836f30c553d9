//! `completion` and `manual`: what other programs read of ours.

use super::*;
use crate::program::commands;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;

/// What a program says to a text, and whether it was content; `None` where there is no such program.
fn fed(program: &str, arguments: &[&str], text: &str) -> Option<(bool, String)> {
    let mut command = Command::new(program);
    command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let Ok(mut child) = command.spawn() else {
        println!("skipped: there is no {program}");
        return None;
    };
    child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&output.stdout).into_owned()
        + &String::from_utf8_lossy(&output.stderr);
    Some((output.status.success(), said))
}

#[test]
fn every_shell_gets_all_commands() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let script = Home::new().done(&format!("completion {shell}")).out;
        for command in commands() {
            assert!(script.contains(&command), "{shell}: {command}");
        }
        assert!(script.contains("--watch") || script.contains("-l watch"), "{shell}");
    }
}

/// Bash is asked what may follow `cardwright plan --wa` and the like, as when Tab is pressed.
#[test]
fn bash_completes_options_and_names() {
    let script = Home::new().done("completion bash").out;
    let Some((sound, said)) = fed("bash", &["-n"], &script) else { return };
    assert!(sound && said.is_empty(), "{said}");
    for (command, word, expected) in [
        ("plan", "--wa", "--watch"),
        ("sizes", "bookm", "bookmark"),
        ("sizes", "DL", "DL"),
        ("sizes", "pap", "papers"),
        ("explain", "order-cou", "order-count"),
        // Bash itself goes on with the files that are there.
        ("plan", "orders/we", ""),
        ("settle", "reports/we", ""),
    ] {
        let typed = format!(
            "\nCOMP_WORDS=(cardwright {command} {word}); COMP_CWORD=2\n\
             _cardwright cardwright {word} {command}; echo \"${{COMPREPLY[*]}}\"\n"
        );
        let (_, said) = fed("bash", &[], &(script.clone() + &typed)).unwrap();
        assert_eq!(said.trim(), expected, "{command} {word}");
    }
    assert!(script.contains("-o default cardwright"), "{script}");
}

/// The workshop of a person who buys cards of her own size.
fn of_minis(workshop: &str) -> Home {
    let home = Home::new();
    home.put("workshop.toml", workshop);
    home
}

const MINI: &str = "[formats.cards]\nminiature = \"2 x 3 in\"\n\"two words\" = \"2 x 3 in\"\n";

#[test]
fn the_program_is_asked_for_names() {
    let answer = of_minis(MINI).done("sizes --names");
    let names: Vec<&str> = answer.out.lines().collect();
    for name in ["miniature", "A7", "DL", "papers"] {
        assert!(names.contains(&name), "{name}");
    }
    assert!(names.iter().all(|name| !name.contains(' ')), "{names:?}");
    assert!(!Home::new().done("sizes --help").out.contains("--names"), "only scripts ask");
}

/// Bash asks the program for the workshop's own names; where it has no answer, those of the trade remain.
#[test]
fn bash_completes_the_workshops_own_names() {
    let script = Home::new().done("completion bash").out;
    let program = env!("CARGO_BIN_EXE_cardwright");
    for (workshop, word, expected) in [
        (MINI, "mini", "miniature"),
        (MINI, "bookm", "bookmark"),
        (MINI, "--js", "--json"),
        ("[formats", "bookm", "bookmark"),
        ("[formats", "mini", ""),
    ] {
        let home = of_minis(workshop);
        let typed = format!(
            "{script}\ncd '{}'; COMP_WORDS=({program} sizes {word}); COMP_CWORD=2\n\
             _cardwright_asking {program} {word} sizes; echo \"${{COMPREPLY[*]}}\"; complete -p cardwright\n",
            home.path("").display()
        );
        let Some((_, said)) = fed("bash", &[], &typed) else { return };
        let (first, registered) = said.split_once('\n').unwrap();
        assert_eq!(first, expected, "{workshop}: {word}");
        assert!(registered.contains("-F _cardwright_asking"), "{registered}");
    }
}

/// Zsh and fish ask likewise; what they complete is taken as they offer it.
#[test]
fn zsh_and_fish_complete_the_workshops_own_names() {
    let folder = Path::new(env!("CARGO_BIN_EXE_cardwright")).parent().unwrap().display();
    for (workshop, word, expected) in [
        (MINI, "mini", "miniature"),
        (MINI, "bookm", "bookmark"),
        ("[formats", "bookm", "bookmark"),
    ] {
        let home = of_minis(workshop);
        let here = home.path("").display().to_string();
        let script = home.done("completion zsh").out;
        home.put("_cardwright.zsh", script);
        // No line editor is there: `compadd` is replaced by one that prints what begins with the word.
        let typed = format!(
            "cd '{here}'; path=('{folder}' $path); compdef() {{ }}; source ./_cardwright.zsh\n\
             compadd() {{ print -l ${{(M)names:#{word}*}} }}; _cardwright_names\n"
        );
        if let Some((_, said)) = fed("zsh", &["-f"], &typed) {
            assert_eq!(said.trim(), expected, "zsh: {workshop}: {word}: {said}");
        }
        home.put("cardwright.fish", home.done("completion fish").out);
        let typed = format!(
            "cd '{here}'; set -x PATH '{folder}' $PATH; source cardwright.fish\n\
             complete -C 'cardwright sizes {word}'\n"
        );
        // Fish has no list of its own where the program has no answer.
        let expected = if workshop == MINI { expected } else { "" };
        if let Some((_, said)) = fed("fish", &["--no-config"], &typed) {
            assert_eq!(said.trim(), expected, "fish: {workshop}: {word}: {said}");
        }
    }
}

/// Zsh knows where a file is meant, and where a folder.
#[test]
fn files_and_folders_are_told_apart() {
    let script = Home::new().done("completion zsh").out;
    for (argument, completed) in [
        ("orders -- ", "_files"),
        ("report -- ", "_files -/"),
        ("--out=", "_files -/"),
        ("--sheets=", "_files"),
        ("--offcuts=", "_files"),
        ("--workshop=", "_files"),
    ] {
        let mut lines = script.lines().filter(|line| line.contains(argument)).peekable();
        assert!(lines.peek().is_some(), "{argument}");
        for line in lines {
            assert!(line.ends_with(&format!(":{completed}' \\")), "{argument}: {line}");
        }
    }
}

/// Of the manual's form (man(7), groff): a title line, sections, and no empty page.
#[test]
fn the_manual_has_a_page_for_each_command() {
    for command in commands() {
        let page = Home::new().done(&format!("manual {command}")).out;
        let title = format!(".TH cardwright-{command} 1 ");
        assert!(page.lines().any(|line| line.starts_with(&title)), "{command}: {page}");
        for section in [".SH NAME", ".SH SYNOPSIS", ".SH DESCRIPTION", ".SH OPTIONS"] {
            assert!(page.lines().any(|line| line == section), "{command}: {section}: {page}");
        }
    }
    let page = Home::new().done("manual").out;
    assert!(page.lines().any(|line| line.starts_with(".TH cardwright 1 ")), "{page}");
    assert!(page.contains("cardwright\\-plan(1)"), "{page}");
    let Some((sound, said)) = fed("man", &["-l", "-"], &page) else { return };
    if !sound || said.trim().is_empty() {
        println!("skipped: man shows nothing, as it does without its formatter");
        return;
    }
    assert!(said.contains("handmade cards"), "{said}");
}

#[test]
fn a_command_that_is_none_is_refused_with_the_nearest() {
    assert_eq!(
        Call::new("manual plam").refused(),
        "error: there is no command \"plam\"\n = help: did you mean plan?\n"
    );
}
