use super::*;
use crate::measure::Unit;
use crate::stock::{PerFile, USUAL_NAMES, read};

const SHEETS: &str = "sheet;paper;width;height;on hand\nfern, 12;fern;12;12;5\n";
const OFFCUTS: &str = "offcut,paper,width,height,count,grain,print\n\
                       =fern-1,fern,4.5 mm,3,2,height,one-way/tumbled\nfern-2,fern,4,3,,,\n";
const SUNDRIES: &str = "sundry,unit,on hand\nribbon,yd,8 1/3\n";

fn stock() -> Stock {
    let texts = PerFile {
        sheets: Some(SHEETS),
        offcuts: Some(OFFCUTS),
        sundries: Some(SUNDRIES),
        ..PerFile::default()
    };
    let files = USUAL_NAMES.with(texts).map(|(name, text)| Some(Named::new(name, text?)));
    let mut problems = Problems::new();
    let stock = read(files, &Workshop::default(), &mut problems).unwrap();
    let told: Vec<&str> = problems.iter().map(|problem| problem.title.as_str()).collect();
    assert_eq!(told, [""; 0]);
    stock
}

/// The stock-take of a table without mistakes.
fn taken(text: &str) -> StockTake {
    let mut problems = Problems::new();
    let file = Named::new("counted.csv", text);
    let take = read_take(file, &stock(), &Workshop::default(), &mut problems);
    assert!(problems.is_empty(), "{problems:?}");
    take.unwrap()
}

fn finding(take: &StockTake, name: &str) -> Finding {
    take.found[name].value
}

/// Whatever names, sizes and units there are, the list is read as nothing but a confirmation.
#[test]
fn a_list_that_nobody_filled_in_confirms_all() {
    let style = LengthStyle { unit: Unit::Inch, graduation: crate::measure::Length::ZERO };
    for sheets in [SHEETS, &SHEETS.replace(';', "\t"), "sheet,paper,width,height\n"] {
        let list = take_list(&stock(), sheets, style);
        assert_eq!(table::delimiter(&list), table::delimiter(sheets));
        let take = taken(&list);
        let names: Vec<&str> = take.found.keys().map(String::as_str).collect();
        assert_eq!(names, ["=fern-1", "fern, 12", "fern-2", "ribbon"]);
        assert!(take.found.values().all(|finding| finding.value == Finding::There));
        assert!(take.strips.is_empty());
    }
}

#[test]
fn every_row_is_understood() {
    let take = taken(
        "count,name,what,paper,width,height,grain,print\n4,\"fern, 12\",,,,,,\n1,=fern-1,Not found,,,,,\n\
         ,fern-2,thrown away,fern,,,,\n2 yd,ribbon,,,,,,\n,,,,,,,\n3,,,fern,1/2,30 mm,width,two-way\n",
    );
    assert_eq!(finding(&take, "fern, 12"), Finding::Count(4));
    assert_eq!(finding(&take, "=fern-1"), Finding::NotFound { left: 1 });
    assert_eq!(finding(&take, "fern-2"), Finding::ThrownAway { left: 0 });
    assert_eq!(finding(&take, "ribbon").is(0), 2 * AmountUnit::of("yd").parts());
    let [strip] = take.strips.as_slice() else { panic!("{:?}", take.strips) };
    assert_eq!((strip.count, strip.grain, strip.print), (3, Some(Axis::Width), Print::TwoWay));
    assert_eq!(strip.size.height.ticks(), 30 * crate::measure::Length::TICKS_PER_MM);
}

/// What comes from elsewhere than a table is held to the same.
#[test]
fn what_no_table_says_is_checked_too() {
    let codes = |take: &StockTake| -> Vec<&'static str> {
        let mut problems = Problems::new();
        take.check(&stock(), &mut problems);
        problems.iter().map(|problem| problem.code).collect()
    };
    let of = |name: &str, finding: Finding| StockTake {
        found: [(name.to_owned(), Spanned::nowhere(finding))].into(),
        ..StockTake::default()
    };
    assert_eq!(codes(&StockTake::default()), ["take-empty"]);
    assert_eq!(codes(&of("moss", Finding::There)), ["take-name"]);
    assert_eq!(codes(&of("=fern-1", Finding::ThrownAway { left: 2 })), ["take-count"]);
    assert_eq!(codes(&of("=fern-1", Finding::ThrownAway { left: 1 })), [""; 0]);
    assert_eq!(codes(&of("=fern-1", Finding::NotFound { left: 0 })), [""; 0]);
    let mut strips = taken("name,count,paper,width,height\n,1,fern,2,3\n,1,fern,2,3\n");
    strips.strips[0].paper = "fren".to_owned();
    assert_eq!(codes(&strips), ["stock-paper"]);
    strips.strips[1].count = 0;
    assert_eq!(codes(&strips), ["take-strip", "stock-paper"]);
}
