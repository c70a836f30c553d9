use super::*;
use proptest::prelude::*;

const COLUMNS: [KnownColumn; 3] =
    [KnownColumn::needed("line"), KnownColumn::needed("count"), KnownColumn::optional("mat inset")];

/// The content and places of all cells, and the codes and places of all problems.
fn read_all(bytes: &[u8]) -> (Vec<String>, Vec<String>) {
    let mut problems = Problems::new();
    let mut cells = Vec::new();
    if let Some(table) = read("orders/spring.csv", bytes, &mut problems)
        && let Some(columns) = table.columns(&COLUMNS, &mut problems)
    {
        for row in columns.rows() {
            for name in ["line", "count", "mat inset"] {
                let Some(cell) = row.cell(name) else { continue };
                let place = cell.place();
                cells.push(format!("{}:{} {}", place.line, place.column, cell.text()));
            }
        }
    }
    let problems = problems.iter().map(|problem| match &problem.place {
        Some(place) => {
            format!("{} {}:{} {}", problem.code, place.line, place.column, place.marked())
        }
        None => problem.code.to_owned(),
    });
    (cells, problems.collect())
}

fn clean(text: &str) -> Vec<String> {
    let (cells, problems) = read_all(text.as_bytes());
    assert_eq!(problems, Vec::<String>::new(), "{text:?}");
    cells
}

fn faults(text: &str) -> Vec<String> {
    read_all(text.as_bytes()).1
}

#[test]
fn every_habit_of_spreadsheets_reads_the_same() {
    let expected = ["2:1 tag", "2:5 12", "3:1 card", "3:6 4"];
    for text in [
        "line,count\ntag,12\ncard,4\n",
        "line,count\ntag,12\ncard,4",
        "line,count\r\ntag,12\r\ncard,4\r\n",
        "line,count\rtag,12\rcard,4\r",
        "line;count\ntag;12\ncard;4\n",
        "line\tcount\ntag\t12\ncard\t4\n",
        "\u{feff}line,count\ntag,12\ncard,4\n",
        "LINE, Count \ntag,12\ncard,4\n",
        "\"line\",\"count\"\ntag,12\ncard,4\n",
        "line,count,,\ntag,12,,\ncard,4,,\n,,,\n",
    ] {
        assert_eq!(clean(text), expected, "{text:?}");
    }
}

#[test]
fn blank_lines_and_comments_keep_the_count_of_lines() {
    let text = "\n# spring\r\nline,count\r\n\r\n , \ntag,12\n# done\n\ncard,4\n";
    assert_eq!(clean(text), ["6:1 tag", "6:5 12", "9:1 card", "9:6 4"]);
}

#[test]
fn quoted_cells_hold_separators_quotes_and_lines() {
    let text =
        "line,count,mat inset\n\"a, b\",\"1\",\"1/8\"\"\"\n\"two\nlines\",2,3\n\u{e9}\u{e9},5\n";
    assert_eq!(
        clean(text),
        [
            "2:1 a, b",
            "2:8 1",
            "2:12 1/8\"",
            "3:1 two\nlines",
            "4:8 2",
            "4:10 3",
            "5:1 \u{e9}\u{e9}",
            "5:4 5"
        ]
    );
}

#[test]
fn columns_come_in_any_order_and_spelling() {
    assert_eq!(clean("Mat_Inset,COUNT,line\n1/8,12,tag\n"), ["2:8 tag", "2:5 12", "2:1 1/8"]);
    assert_eq!(clean("mat-inset;count;line\n1/8;12;tag\n"), ["2:8 tag", "2:5 12", "2:1 1/8"]);
}

#[test]
fn cells_are_trimmed_and_their_places_are_too() {
    assert_eq!(clean("line,count\n  tag ,\t12\n"), ["2:3 tag", "2:9 12"]);
}

#[test]
fn quote_faults_are_marked() {
    assert_eq!(faults("line,count\ntag,\"12\ncard,4\n"), ["table-quote 2:5 \"12"]);
    assert_eq!(faults("line,count\n\"tag\" x,12\n"), ["table-quote 2:1 \"tag\" x"]);
    assert_eq!(faults("line,count\n\"tag\" ,12\n"), Vec::<String>::new());
    assert_eq!(faults("line,count\ntag,\""), ["table-quote 2:5 \""]);
}

#[test]
fn rows_longer_than_the_header_are_told_once() {
    assert_eq!(faults("line,count\ntag,12,x,y\n"), ["table-row 2:8 x"]);
    assert_eq!(faults("line,count\ntag,12,,\n"), Vec::<String>::new());
}

#[test]
fn rows_that_are_separated_otherwise_are_told_once() {
    assert_eq!(faults("line,count\ntag;12\ncard,4\n"), ["table-separator 2:1 tag;12"]);
    assert_eq!(faults("line;count\ntag,12\ncard,4\n"), ["table-separator 2:1 tag,12"]);
    assert_eq!(faults("line\tcount\na\t1\nb;2\n"), ["table-separator 3:1 b;2"]);
    assert_eq!(clean("line,count\na;b,1\n\"c;d\"\n"), ["2:1 a;b", "2:5 1", "3:1 c;d"]);
}

#[test]
fn header_faults_are_marked() {
    assert_eq!(faults("line,size\na,b\n"), ["table-column-missing 1:10 "]);
    assert_eq!(
        faults("line,cuont\na,b\n"),
        ["table-column-unknown 1:6 cuont", "table-column-missing 1:11 "]
    );
    assert_eq!(faults("line,count,Count\na,1,2\n"), ["table-column-doubled 1:12 Count"]);
    assert_eq!(faults("tag,12\ncard,4\n"), ["table-header 1:1 tag"]);
    let wide = format!("line,count{}\n", ",x".repeat(300));
    assert!(faults(&wide).contains(&"table-header 1:408 x".to_owned()));
}

#[test]
fn a_comment_that_could_be_a_row_is_told() {
    assert_eq!(faults("line,count\n#1,12\n# 2,12\n#3 of them\n"), ["table-comment 2:1 #1,12"]);
    assert_eq!(clean("line,count\n\"#1\",12\n"), ["2:1 #1", "2:6 12"]);
}

#[test]
fn files_that_are_no_text_are_told() {
    let codes = |bytes: &[u8]| read_all(bytes).1;
    assert_eq!(codes(b""), ["table-empty"]);
    assert_eq!(codes(b"\n# nothing\n,,\n"), ["table-empty"]);
    assert_eq!(codes(b"line,count\n\0\x01"), ["table-binary"]);
    assert_eq!(codes(b"PK\x03\x04line"), ["table-binary"]);
    assert_eq!(codes(b"\xff\xfel\0i\0"), ["table-encoding"]);
    assert_eq!(codes(b"line,count\nt\xe9g,1\n"), ["table-encoding 2:2 \u{fffd}"]);
    assert_eq!(codes(&vec![b'\n'; text::LARGEST + 1]), ["table-size"]);
    assert_eq!(codes(&vec![b'\n'; text::LARGEST]), ["table-empty"]);
}

#[test]
fn cells_larger_than_the_buffer_are_whole() {
    let long = "x".repeat(5000);
    assert_eq!(clean(&format!("line,count\n{long},1\n"))[0], format!("2:1 {long}"));
}

proptest! {
    #[test]
    fn any_bytes_are_read_without_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        read_all(&bytes);
    }

    #[test]
    fn any_text_of_marks_is_read_without_panic(text in "(line,count\n)?[a\"#,;\t\r\n \u{e9}\u{2028}]{0,60}") {
        read_all(text.as_bytes());
    }

    #[test]
    fn what_is_written_is_read(
        rows in proptest::collection::vec(("[a-z\u{e9}\",; \n\r]{0,8}x", "[0-9]{1,4}"), 1..6),
        separator in prop::sample::select(vec![',', ';', '\t']),
        ending in prop::sample::select(vec!["\n", "\r\n", "\r"]),
    ) {
        let mut text = format!("line{separator}count{ending}");
        for (name, count) in &rows {
            let name = name.replace('"', "\"\"");
            text += &format!("\"{name}\"{separator}{count}{ending}");
        }
        let read: Vec<String> =
            clean(&text).into_iter().map(|cell| cell.split_once(' ').unwrap().1.to_owned()).collect();
        let written: Vec<String> = rows
            .into_iter()
            .flat_map(|(name, count)| [name.trim().to_owned(), count])
            .collect();
        prop_assert_eq!(read, written);
    }

    #[test]
    fn the_marked_characters_are_the_cell(names in proptest::collection::vec("[a-z\u{e9}]{1,5}", 1..6)) {
        let text = format!("line,count\n\n{}", names.iter().map(|name| format!(" {name} ,1\r\n")).collect::<String>());
        let mut problems = Problems::new();
        let table = read("a.csv", text.as_bytes(), &mut problems).unwrap();
        let columns = table.columns(&COLUMNS, &mut problems).unwrap();
        let marked: Vec<String> = columns.rows().map(|row| row.cell("line").unwrap().place().marked()).collect();
        prop_assert_eq!(marked, names);
    }
}
