//! `completion` and `manual`: what other programs read of ours.

use super::*;
use crate::program::commands;
use std::io::Write;
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
