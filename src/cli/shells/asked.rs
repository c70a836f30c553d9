//! Scripts that ask the program for the names of formats whenever Tab is pressed, so that those of the workshop are
//! among them. Without an answer, as where `workshop.toml` has a mistake, the names in the script remain.

/// Bash has a function for all commands: another one goes before it. It gives its words to the shell to expand, so
/// only plain names may come from the program.
const BASH: &str = r#"_cardwright_asking() {
    _cardwright "$@"
    if [[ "${COMP_WORDS[1]}" == sizes && "$2" != -* && "$3" != --workshop ]]; then
        local names
        names="$("$1" sizes --names 2>/dev/null)" && COMPREPLY=( $(compgen -W "${names}" -- "$2") )
    fi
}

"#;

/// Zsh has a list for each argument: a function takes its place.
const ZSH: &str = r#"(( $+functions[_cardwright_names] )) ||
_cardwright_names() {
    local -a names
    names=( ${(f)"$(cardwright sizes --names 2>/dev/null)"} )
    (( $#names )) || names=( NAMES )
    compadd -a names
}

"#;

/// Fish adds up what it is told.
pub const FISH: &str = r#"complete -c cardwright -n "__fish_cardwright_using_subcommand sizes" -f -a "(cardwright sizes --names 2>/dev/null)"
"#;

/// Bash's script as it asks; `None` where it has not the usual form.
pub fn bash(script: &str) -> Option<String> {
    let registered = script.rfind("if [[ \"${BASH_VERSINFO[0]}\"")?;
    let (functions, registered) = script.split_at(registered);
    let registered =
        registered.replace("complete -F _cardwright ", "complete -F _cardwright_asking ");
    Some(format!("{functions}{BASH}{registered}"))
}

/// Zsh's script as it asks, likewise.
pub fn zsh(script: &str) -> Option<String> {
    let argument = script.find("'::name -- ")?;
    let from = argument + script[argument..].find(":(")? + 1;
    let to = from + script[from..].find(")'")? + 1;
    let names = &script[from + 1..to - 1];
    let functions = script.find("(( $+functions[")?;
    let before = format!("{}_cardwright_names{}", &script[..from], &script[to..functions]);
    Some(format!("{before}{}{}", ZSH.replace("NAMES", names), &script[functions..]))
}
