//! The shelf from batch to batch, through the program as a person starts it.

// Only so are its helpers known as tests.
#![cfg(test)]

mod batches;
mod crowd;
mod days;
mod drawer;
mod forged;
mod kill;
mod learned;
mod refused;
mod reserve;
mod saved;
mod settle;
mod strange;
mod supplies;
mod system;
mod take;
mod underway;
mod waiting;

use crate::program::{Answer, Home};
use cardwright::shelf::{PerFile, Shelf, Spot, SystemDisk};

/// A person's own way to write: other columns, another order, comments.
const SHEETS: &str = "# what the shop sends
sheet;paper;width;height;on hand;price;pack
fern-12;fern;12;12;1;1.10;1
moss-12;moss;12;12;0;5.00;5
";
const OFFCUTS: &str = "offcut;paper;height;width;count;from;since
# the good ones
old-1;fern; 3 1/2 ;2 1/4;2;winter;2030-01-05

old-2;fern;4;1;;winter;2030-01-05
";
const SPRING: &str = "line,card,count,paper\ntag,2 x 3,45,fern\nnote,5 x 7,4,moss\n";
const SUMMER: &str = "line,card,count,paper\ntag,2 x 3,22,fern\n";

/// A stock-take of it: a sheet less, one of two strips not found, the other as the file says, two strips without a label.
const COUNTED: &str = "name,count,what,paper,width,height,print
fern-12,0,,,,,
old-1,1,not found,,,,
old-2,,,,,,
,2,,moss,2,3 1/4,two-way
";

/// A workshop with two small orders, both planned: with their spares, the tags fill their sheets.
fn planned() -> Home {
    let home = Home::new();
    home.put("spring.csv", SPRING);
    home.put("summer.csv", SUMMER);
    home.put("sheets.csv", SHEETS);
    home.put("offcuts.csv", OFFCUTS);
    home.done("plan spring.csv --quiet");
    home.done("plan summer.csv --quiet");
    home
}

/// Both files of the shelf.
fn stock(home: &Home) -> (String, String) {
    (home.text("sheets.csv"), home.text("offcuts.csv"))
}

/// What is said of a call that changes nothing on the shelf.
#[track_caller]
fn refusal(home: &Home, arguments: &str) -> String {
    let before = stock(home);
    let answer = home.run(arguments);
    assert_eq!((answer.code, answer.out.as_str()), (Some(1), ""), "{}", answer.err);
    assert_eq!(stock(home), before);
    answer.err
}

/// The answer of a call that has nothing to tell beside its result.
#[track_caller]
fn said(home: &Home, arguments: &str) -> String {
    let Answer { code, out, err } = home.run(arguments);
    assert_eq!((code, err.as_str()), (Some(0), ""), "{arguments}");
    out
}

/// The shelf of a workshop's own files, opened without the program.
fn opened(home: &Home) -> Shelf<SystemDisk> {
    let names = ["sheets.csv", "offcuts.csv", "envelopes.csv", "sundries.csv"];
    let [sheets, offcuts, envelopes, sundries] = names.map(|name| home.path(name));
    let files = PerFile {
        sheets: sheets.as_path(),
        offcuts: offcuts.as_path(),
        envelopes: envelopes.as_path(),
        sundries: sundries.as_path(),
    };
    Shelf::open(SystemDisk, Spot::of(&SystemDisk, files).unwrap()).unwrap()
}
