//! Orders made by rule. Each is described where it is made; every number comes from [`Random`], drawn
//! in the order of the text, so that a seed names an order for good.

use crate::instances::inputs;
use crate::random::Random;
use cardwright::batch::Inputs;

/// No blade, no squaring, a knife longer than any sheet here; spares as usual.
const INCHES: &str = "unit = \"in\"\n[trimmer]\nknife = \"40 in\"\n";
/// The same without spares.
const NO_SPARES: &str =
    "unit = \"in\"\n[trimmer]\nknife = \"40 in\"\n[spares]\npercent = 0\nat_least = 0\n";

const ORDER: &str = "line,card,fold,count,paper,liner,envelope\n";
const SHEETS: &str = "sheet,paper,width,height,on hand,price,pack\n";
const OFFCUTS: &str = "offcut,paper,width,height,count\n";

/// 200 lines over 40 papers with 300 odd offcuts.
///
/// Line i (from 0) is of paper i mod 40, and each seventh may also be cut from the next paper. The card
/// is 1 3/4 to 6 by 1 3/4 to 6 in, in eighths; side fold, top fold or flat; 5 to 150 wanted, times
/// `times`, at most a million. Each fifth line has a liner, each ninth a cut envelope, of a random paper
/// of the 40. Each paper is sold as 12 x 12 in sheets for 0.60 to 1.60 with 0 to 10 on hand; each second
/// also as 8 1/2 x 11 in sheets in packs of 25 for 6.00 to 18.00. An offcut is of a random paper, 1 to
/// 11 7/8 by 1 to 11 7/8 in, 1 to 3 of it.
pub fn drawers(seed: u64, times: u64) -> Inputs {
    let mut random = Random::new(seed);
    let paper = |number: u64| format!("p{:02}", number % 40);
    let mut order = ORDER.to_owned();
    for line in 0..200 {
        let (width, height) = (random.eighths(14, 48), random.eighths(14, 48));
        let fold = random.one_of(&["side", "top", "flat"]);
        let count = (random.between(5, 150) * times).min(1_000_000);
        let second = if line % 7 == 6 { format!("|{}", paper(line + 1)) } else { String::new() };
        let layer = |every: u64, random: &mut Random| match line % every {
            0 => paper(random.between(0, 39)),
            _ => String::new(),
        };
        let (liner, envelope) = (layer(5, &mut random), layer(9, &mut random));
        let base = paper(line);
        order.push_str(&format!(
            "line{line:03},{width} x {height},{fold},{count},{base}{second},{liner},{envelope}\n"
        ));
    }
    let mut sheets = SHEETS.to_owned();
    for number in 0..40 {
        let (on_hand, price) = (random.between(0, 10), money(random.between(60, 160)));
        let paper = paper(number);
        sheets.push_str(&format!("{paper}-12,{paper},12,12,{on_hand},{price},1\n"));
        if number % 2 == 0 {
            let price = money(random.between(600, 1800));
            sheets.push_str(&format!("{paper}-letter,{paper},8 1/2,11,0,{price},25\n"));
        }
    }
    let mut offcuts = OFFCUTS.to_owned();
    for number in 0..300 {
        let paper = paper(random.between(0, 39));
        offcuts.push_str(&offcut(number, &paper, 95, &mut random));
    }
    inputs("drawers", order, sheets, Some(offcuts), INCHES.to_owned())
}

/// One paper, 60 different pieces of 1 to 3 copies each, three sheet sizes, 40 offcuts.
///
/// Piece i is 1 1/2 to 7 7/8 by 1 1/2 to 7 7/8 in, flat. The sheets are 12 x 12 in for 1.10, 8 1/2 x
/// 11 in for 0.75 and 19 x 25 in for 3.20, 0 to 3 of each on hand. An offcut is 1 to 11 7/8 by 1 to
/// 11 7/8 in, 1 to 3 of it.
pub fn odd_pieces(seed: u64) -> Inputs {
    let mut random = Random::new(seed);
    let mut order = ORDER.to_owned();
    for line in 0..60 {
        let (width, height) = (random.eighths(12, 63), random.eighths(12, 63));
        let count = random.between(1, 3);
        order.push_str(&format!("line{line:02},{width} x {height},flat,{count},fern,,\n"));
    }
    let mut sheets = SHEETS.to_owned();
    for (name, size, price) in [
        ("fern-12", "12,12", "1.10"),
        ("fern-letter", "8 1/2,11", "0.75"),
        ("fern-19", "19,25", "3.20"),
    ] {
        let on_hand = random.between(0, 3);
        sheets.push_str(&format!("{name},fern,{size},{on_hand},{price},1\n"));
    }
    let mut offcuts = OFFCUTS.to_owned();
    for number in 0..40 {
        offcuts.push_str(&offcut(number, "fern", 95, &mut random));
    }
    inputs("odd-pieces", order, sheets, Some(offcuts), NO_SPARES.to_owned())
}

/// Packs: ten kinds of flat pieces, 1 1/2 to 7 7/8 in, 10 to 60 of each, from five sheet sizes, 6 to 25
/// by 6 to 25 in, sold in packs of 1 to 30 for 0.5 to 2 minor units a square inch.
pub fn packs(seed: u64) -> Inputs {
    let mut random = Random::new(seed);
    let mut order = ORDER.to_owned();
    for line in 0..10 {
        let (width, height) = (random.eighths(12, 63), random.eighths(12, 63));
        let count = random.between(10, 60);
        order.push_str(&format!("line{line:02},{width} x {height},flat,{count},fern,,\n"));
    }
    let mut sheets = SHEETS.to_owned();
    for number in 0..5 {
        let (width, height) = (random.between(8, 25), random.between(8, 25));
        let pack = random.between(1, 30);
        let price = money(width * height * pack * random.between(50, 200) / 100);
        sheets.push_str(&format!("fern-{number},fern,{width},{height},0,{price},{pack}\n"));
    }
    inputs("packs", order, sheets, None, NO_SPARES.to_owned())
}

/// Scarce paper: twelve kinds of flat pieces, 1 1/2 to 5 7/8 in, 1 to 6 of each, from 30 offcuts of 4 to
/// 11 7/8 in and six 12 x 12 in sheets on hand; more of these cost 1.10.
pub fn scarce(seed: u64) -> Inputs {
    let mut random = Random::new(seed);
    let mut order = ORDER.to_owned();
    for line in 0..12 {
        let (width, height) = (random.eighths(12, 47), random.eighths(12, 47));
        let count = random.between(1, 6);
        order.push_str(&format!("line{line:02},{width} x {height},flat,{count},fern,,\n"));
    }
    let sheets = format!("{SHEETS}fern-12,fern,12,12,6,1.10,1\n");
    let mut offcuts = OFFCUTS.to_owned();
    for number in 0..30 {
        let (width, height) = (random.eighths(32, 95), random.eighths(32, 95));
        offcuts.push_str(&format!("offcut{number:03},fern,{width},{height},1\n"));
    }
    inputs("scarce", order, sheets, Some(offcuts), NO_SPARES.to_owned())
}

fn offcut(number: u64, paper: &str, most: u64, random: &mut Random) -> String {
    let (width, height) = (random.eighths(8, most), random.eighths(8, most));
    let count = random.between(1, 3);
    format!("offcut{number:03},{paper},{width},{height},{count}\n")
}

fn money(minor: u64) -> String {
    format!("{}.{:02}", minor / 100, minor % 100)
}
