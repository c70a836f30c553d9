use super::*;
use std::cell::RefCell;
use std::io::{self, ErrorKind, Write};
use std::rc::Rc;

/// A stream that keeps what was written.
#[derive(Clone, Default)]
pub(super) struct Kept(Rc<RefCell<Vec<u8>>>);

impl Kept {
    pub fn text(&self) -> String {
        String::from_utf8(self.0.borrow().clone()).unwrap()
    }
}

impl Write for Kept {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A stream that refuses.
struct Refuses(ErrorKind);

impl Write for Refuses {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

struct Said {
    code: u8,
    out: String,
    err: String,
}

fn say(arguments: &[&str]) -> Said {
    let (out, err) = (Kept::default(), Kept::default());
    let mut console = Console::kept(Box::new(out.clone()), Box::new(err.clone()));
    let arguments = ["cardwright"].iter().chain(arguments).map(OsString::from);
    let code = run(arguments, &mut console);
    Said { code, out: out.text(), err: err.text() }
}

#[test]
fn help_is_a_result_and_has_an_example() {
    for arguments in [&["--help"][..], &["plan", "--help"], &["check", "--help"]] {
        let said = say(arguments);
        assert_eq!((said.code, said.err.as_str()), (0, ""));
        assert!(said.out.contains("Example:\n  cardwright "), "{}", said.out);
    }
}

#[test]
fn wrong_use_is_told_on_the_other_stream() {
    for arguments in
        [&["plan"][..], &["plam", "a.csv"], &["plan", "a.csv", "--effort", "huge"], &[]]
    {
        let said = say(arguments);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?}");
        assert!(!said.err.is_empty());
    }
}

#[test]
fn a_word_of_the_same_meaning_is_answered_by_a_tip() {
    let said = say(&["make"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert_eq!(
        said.err,
        "\
error: unrecognized subcommand 'make'

  tip: `cardwright new FOLDER` makes a small workshop, ready to plan
  tip: `cardwright plan ORDER` plans an order and writes its schedule

Usage: cardwright <COMMAND>

For more information, try '--help'.
"
    );
    let said = say(&["plan", "a.csv", "--output", "may"]);
    assert_eq!(
        said.err,
        "\
error: unexpected argument '--output' found

  tip: `--out DIR` names the folder for the reports

Usage: cardwright plan --out <DIR> <ORDER>...

For more information, try '--help'.
"
    );
}

#[test]
fn missing_files_are_a_matter_of_access() {
    let said = say(&["plan", "no-such-folder/spring.csv"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(said.err.starts_with("error[file-missing]: there is no no-such-folder/spring.csv\n"));
    assert!(said.err.contains("error[file-missing]: there is no no-such-folder/sheets.csv\n"));
    assert!(said.err.ends_with("2 errors\n"), "{}", said.err);
}

#[test]
fn a_reader_who_goes_away_is_no_error() {
    let arguments = || ["cardwright", "--help"].map(OsString::from);
    let mut gone =
        Console::kept(Box::new(Refuses(ErrorKind::BrokenPipe)), Box::new(Kept::default()));
    assert_eq!(run(arguments(), &mut gone), 0);
    let err = Kept::default();
    let mut full = Console::kept(Box::new(Refuses(ErrorKind::StorageFull)), Box::new(err.clone()));
    assert_eq!(run(arguments(), &mut full), 2);
    assert!(err.text().starts_with("error: cannot write the result: "));
}

#[test]
fn a_code_is_explained_and_a_slip_is_guessed() {
    let said = say(&["explain", "order-count"]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(said.out.starts_with("order-count: "));
    let said = say(&["explain", "order-cuont"]);
    assert_eq!(said.code, 2);
    assert_eq!(
        said.err,
        "error: there is no code \"order-cuont\"\n = help: did you mean order-count?\n"
    );
}

#[test]
fn all_codes_are_listed() {
    let said = say(&["explain"]);
    assert_eq!(said.out.lines().count(), crate::diagnostics::codes::all().count());
}
