use super::*;
use proptest::prelude::*;

/// The stock of both files and the codes of its problems.
fn read_stock(sheets: &str, offcuts: Option<&str>) -> (Vec<Sheet>, Vec<&'static str>) {
    let mut problems = Problems::new();
    let files = PerFile { sheets: Some(sheets), offcuts, ..PerFile::default() };
    let files = USUAL_NAMES.with(files).map(|(name, text)| Some(Named::new(name, text?)));
    let stock = read(files, &Workshop::default(), &mut problems);
    let codes = problems.iter().map(|problem| problem.code).collect();
    (stock.map_or(Vec::new(), |stock| stock.sheets), codes)
}

fn sheet(columns: &str, cells: &str) -> Sheet {
    let text = format!("sheet,paper,width,height,{columns}\nfern-12,fern,12,12 in,{cells}\n");
    let (sheets, codes) = read_stock(&text, None);
    assert_eq!(codes, [""; 0], "{cells}");
    sheets.into_iter().next().unwrap()
}

fn codes(columns: &str, cells: &str) -> Vec<&'static str> {
    let text = format!("sheet,paper,width,height,{columns}\nfern-12,fern,12,12,{cells}\n");
    read_stock(&text, None).1
}

#[test]
fn every_column_of_sheets_is_read() {
    let sheet = sheet(
        "on hand,price,pack,grain,print,gsm,thickness,rough edges",
        "5,1.10,25,Height,one-way,175.8,0.25 mm,2",
    );
    assert_eq!((sheet.id.as_str(), sheet.paper.as_str()), ("fern-12", "fern"));
    assert_eq!(sheet.kind, SheetKind::Sheet);
    assert_eq!(
        sheet.size,
        Size::new(Length::from_inch_parts(12, 1), Length::from_inch_parts(12, 1))
    );
    assert_eq!((sheet.on_hand, sheet.pack), (5, 25));
    assert_eq!(sheet.price, Some(Money::from_minor(110)));
    assert_eq!((sheet.grain, sheet.print), (Some(Axis::Height), Print::OneWay));
    assert_eq!(sheet.milligrams_per_square_metre, Some(175_800));
    assert_eq!(sheet.thickness, Some(Thickness::from_micrometres(250)));
    assert_eq!(sheet.rough_edges, RoughEdges::Two);
    assert_eq!((sheet.from, sheet.since), (None, None));
    assert_eq!(sheet.place.unwrap().marked(), "fern-12");
}

#[test]
fn blank_cells_of_sheets_have_their_defaults() {
    let sheet = sheet("on hand,price,pack,grain,print,gsm,thickness,rough edges", ",,,,,,,");
    assert_eq!((sheet.on_hand, sheet.price, sheet.pack), (0, None, 1));
    assert_eq!((sheet.grain, sheet.print), (None, Print::Free));
    assert_eq!(sheet.rough_edges, RoughEdges::None);
    assert_eq!((sheet.milligrams_per_square_metre, sheet.thickness), (None, None));
}

#[test]
fn every_column_of_offcuts_is_read() {
    let offcuts = "offcut,paper,width,height,count,grain,print,from,since\n\
                   f-1,fern,3,8 1/2,7,width,two-way,wedding,2026-02-28\nf-2,fern,1,4,,,,,\n";
    let (sheets, codes) = read_stock("sheet,paper,width,height\nf,fern,12,12\n", Some(offcuts));
    assert_eq!(codes, [""; 0]);
    let [full, first, second] = sheets.as_slice() else { panic!("{sheets:?}") };
    assert_eq!(full.kind, SheetKind::Sheet);
    assert_eq!((first.kind, first.on_hand, first.price), (SheetKind::Offcut, 7, None));
    assert_eq!((first.grain, first.print), (Some(Axis::Width), Print::TwoWay));
    assert_eq!(first.from.as_deref(), Some("wedding"));
    assert_eq!(first.since, Some(jiff::civil::date(2026, 2, 28)));
    assert_eq!((second.on_hand, second.pack, second.print), (1, 1, Print::Free));
}

#[test]
fn boundaries_of_counts_and_measures() {
    for (column, sound, wrong) in [
        ("on hand", vec!["0", "1", "1000000"], vec!["-1", "1000001", "1.5"]),
        ("pack", vec!["1", "1000000"], vec!["0", "1000001", "one"]),
        ("price", vec!["0.01", "10000000"], vec!["-0.01", "10000000.01", "1.001"]),
        ("gsm", vec!["0.001", "80", "1000000"], vec!["0", "-80", "0.0001", "1000000.001"]),
        ("thickness", vec!["0.000025 mm", "0.01"], vec!["0", "-0.01", "thin"]),
    ] {
        for cell in sound {
            assert_eq!(codes(column, cell), [""; 0], "{column} {cell}");
        }
        for cell in wrong {
            assert_eq!(codes(column, cell).len(), 1, "{column} {cell}");
        }
    }
}

#[test]
fn names_are_unique_over_both_files() {
    let sheets = "sheet,paper,width,height\na,fern,12,12\na,fern,12,12\nb,fern,12,12\n";
    let offcuts = "offcut,paper,width,height\nb,fern,3,4\nc,fern,3,4\nc,fern,3,4\n";
    let (sheets, codes) = read_stock(sheets, Some(offcuts));
    assert_eq!(codes, ["stock-sheet-doubled"; 3]);
    let names: Vec<&str> = sheets.iter().map(|sheet| sheet.id.as_str()).collect();
    assert_eq!(names, ["a", "b", "c"]);
}

#[test]
fn mistakes_of_both_files_come_at_once() {
    let broken = "sheet,paper,width,height\na,fern,0,12\n";
    let (sheets, codes) = read_stock(broken, Some("offcut,paper,width\nb,fern,no\n"));
    assert_eq!(codes, ["stock-size", "table-column-missing", "stock-size"]);
    assert!(sheets.is_empty());
    let (_, codes) = read_stock("\0", Some("\0"));
    assert_eq!(codes, ["table-binary", "table-binary"]);
}

#[test]
fn papers_of_mistaken_rows_are_known() {
    let rows = "sheet,paper,width,height\na,fern,0,12\nb,moss,12,12\n";
    let sheets = Named::new("sheets.csv", rows);
    let offcuts = Named::new("offcuts.csv", "offcut,paper\nc,cream\n");
    let envelopes = Named::new("envelopes.csv", "envelope\nA7\n,\nA2\n");
    let [sheets, offcuts, envelopes] = [sheets, offcuts, envelopes].map(Some);
    let none = Some(Named::new("none.csv", b"\0"));
    let files = PerFile { sheets, offcuts, envelopes, sundries: none };
    assert_eq!(Vec::from_iter(papers(files)), ["cream", "fern", "moss"]);
    assert_eq!(Vec::from_iter(crate::stock::envelopes(files)), ["A2", "A7"]);
    assert!(papers(PerFile { sheets: none, ..PerFile::default() }).is_empty());
}

#[test]
fn a_slip_in_an_offcut_paper_is_warned_of_once() {
    let offcuts = "offcut,paper,width,height\na,Fern,3,4\nb,Fern,3,4\nc,gold,3,4\nd,fern,3,4\n";
    let sheets = "sheet,paper,width,height\nf,fern,12,12\n";
    assert_eq!(read_stock(sheets, Some(offcuts)).1, ["stock-paper"]);
}

proptest! {
    #[test]
    fn any_cells_are_read_without_panic(cells in proptest::collection::vec("[-0-9 x/|.a]{0,12}|[^,\"\n\r]{0,8}", 11)) {
        let row = cells.join(",");
        let names = |columns: &[KnownColumn]| columns.iter().map(|column| column.name).collect::<Vec<_>>().join(",");
        read_stock(&format!("{}\n{row}\n", names(&SHEETS)), Some(&format!("{}\n{row}\n", names(&OFFCUTS))));
    }
}

#[test]
fn a_guarded_name_is_read_without_its_guard() {
    let sheets = "sheet,paper,width,height\n'=fern-12,'@fern,12,12\n'twas,@fern,12,12\n";
    let offcuts = "offcut,paper,width,height,from\n'-f,'@fern,3,4,'+spring\n";
    let (sheets, codes) = read_stock(sheets, Some(offcuts));
    assert_eq!(codes, [""; 0]);
    let told: Vec<_> =
        sheets.iter().map(|sheet| (sheet.id.as_str(), sheet.paper.as_str())).collect();
    assert_eq!(told, [("=fern-12", "@fern"), ("'twas", "@fern"), ("-f", "@fern")]);
    assert_eq!(sheets[2].from.as_deref(), Some("+spring"));
}
