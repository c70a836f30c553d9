use super::*;
use crate::folds::Fold;
use crate::measure::Unit;
use proptest::prelude::*;

const INCHES: LengthStyle =
    LengthStyle { unit: Unit::Inch, graduation: Length::from_inch_parts(1, 16) };
const MILLIMETRES: LengthStyle = LengthStyle { unit: Unit::Millimetre, ..INCHES };

/// The order and the codes of its problems.
fn read_order(text: &str, style: LengthStyle) -> (Order, Vec<&'static str>) {
    let mut problems = Problems::new();
    let file = Named::new("orders/spring.csv", text);
    let order = read("spring", file, style, &OwnFormats::default(), &mut problems);
    let order = order.unwrap_or(Order { name: "none".to_owned(), lines: Vec::new() });
    (order, problems.iter().map(|problem| problem.code).collect())
}

/// The only line of an order with these columns and cells.
fn line(columns: &str, cells: &str, style: LengthStyle) -> OrderLine {
    let (order, codes) = read_order(&format!("{columns}\n{cells}\n"), style);
    assert_eq!(codes, [""; 0], "{cells}");
    order.lines.into_iter().next().unwrap()
}

fn codes(columns: &str, cells: &str) -> Vec<&'static str> {
    read_order(&format!("line,card,count,paper,{columns}\ntag,2 x 3,12,fern,{cells}\n"), INCHES).1
}

fn inches(numerator: i64, denominator: i64) -> Length {
    Length::from_inch_parts(numerator, denominator)
}

#[test]
fn every_column_is_read() {
    let line = line(
        "line;card;fold;count;paper;liner;mat;mat inset;envelope;turn;due;note",
        "invite;5 1/2 x 4 1/4;Top;100;fern | moss;cream;gold;1/16;kraft;half;2026-05-30;no glitter",
        INCHES,
    );
    assert_eq!(line.name.value, "invite");
    assert_eq!(line.card.value, Size::new(inches(11, 2), inches(17, 4)));
    assert_eq!(line.fold, Fold::TOP);
    assert_eq!(line.count.value, 100);
    assert_eq!(line.papers.value, ["fern", "moss"]);
    assert_eq!(line.liner.unwrap().paper.value, "cream");
    let mat = &line.mats[0];
    assert_eq!((mat.paper.value.as_str(), mat.inset), ("gold", inches(1, 16)));
    assert_eq!(line.turn, Some(Turn::Half));
    assert_eq!(line.due, Some(jiff::civil::date(2026, 5, 30)));
    assert_eq!(line.note, "no glitter");
    let Envelope::Cut(envelope) = line.envelope else { panic!("{:?}", line.envelope) };
    assert_eq!(envelope.value, "kraft");
    assert_eq!(envelope.place.unwrap().marked(), "kraft");
}

#[test]
fn blank_cells_have_their_defaults() {
    for (columns, cells) in [
        ("line,card,count,paper", "tag,2 x 3,12,fern"),
        (
            "line,card,count,paper,fold,liner,mat,mat inset,envelope,turn,due,note",
            "tag,2 x 3,12,fern,,,,,,,,",
        ),
    ] {
        let line = line(columns, cells, INCHES);
        assert_eq!(line.fold, Fold::FLAT);
        assert_eq!((line.liner, line.mats, line.turn, line.due), (None, vec![], None, None));
        assert_eq!((line.envelope, line.note.as_str()), (Envelope::None, ""));
    }
}

#[test]
fn an_envelope_is_bought_or_there_is_none_in_any_case() {
    let envelope = |cell: &str| {
        line("line,card,count,paper,envelope", &format!("a,2 x 3,1,fern,{cell}"), INCHES)
    };
    assert_eq!(envelope("Bought").envelope, Envelope::Bought);
    assert_eq!(envelope("posted  Without").envelope, Envelope::PostedWithout);
    let unused = codes("envelope,envelope liner", "posted without,cream");
    assert_eq!(unused, ["order-unused"], "nothing is there to be lined");
    assert_eq!(codes("envelope,envelope liner", "bought,cream"), [""; 0]);
}

#[test]
fn a_named_format_brings_its_size_and_fold() {
    let card = |card: &str, fold: &str| {
        let cells = format!("tag,{card},12,fern,{fold}");
        let line = line("line,card,count,paper,fold", &cells, MILLIMETRES);
        (line.card.value, line.fold)
    };
    let place_card = Size::new(inches(7, 2), inches(2, 1));
    assert_eq!(card("place card", ""), (place_card, Fold::FLAT));
    assert_eq!(card("Tent Card", ""), (place_card, Fold::TOP));
    assert_eq!(card("tent card", "flat"), (place_card, Fold::FLAT));
    assert_eq!(card("US A2", "side"), (Size::new(inches(17, 4), inches(11, 2)), Fold::SIDE));
    assert_eq!(
        card("iso a6", ""),
        (Size::new(Length::from_mm(105), Length::from_mm(148)), Fold::FLAT)
    );
}

#[test]
fn bare_sizes_are_in_the_unit_of_the_workshop() {
    let size = |style| line("line,card,count,paper", "tag,105 x 148,12,fern", style).card.value;
    assert_eq!(size(MILLIMETRES), Size::new(Length::from_mm(105), Length::from_mm(148)));
    assert_eq!(size(INCHES), Size::new(inches(105, 1), inches(148, 1)));
}

#[test]
fn what_is_usual_is_in_the_unit_of_the_workshop() {
    let usual = |style| {
        let cells = "tag,60 x 90 mm,12,fern,gold,cream";
        let line = line("line,card,count,paper,mat,band", cells, style);
        (line.mats[0].inset, line.extras.band.unwrap().width)
    };
    assert_eq!(usual(INCHES), (inches(1, 8), inches(3, 2)));
    assert_eq!(usual(MILLIMETRES), (Length::from_mm(3), Length::from_mm(40)));
}

#[test]
fn a_mat_must_be_left() {
    // The card is 2 in wide: half of it is 1 in.
    assert_eq!(codes("mat,mat inset", "gold,15/16"), [""; 0]);
    assert_eq!(codes("mat,mat inset", "gold,0.999975 mm"), [""; 0]);
    assert_eq!(codes("mat,mat inset", "gold,1"), ["order-mat-inset"]);
    assert_eq!(codes("mat,mat inset", "gold,17/16"), ["order-mat-inset"]);
    assert_eq!(codes("mat,mat inset", "gold,0"), [""; 0]);
    assert_eq!(codes("mat,mat inset", "gold,-0.001"), ["order-mat-inset"]);
}

#[test]
fn counts_reach_from_one_to_a_million() {
    let codes = |count: &str| {
        read_order(&format!("line,card,count,paper\ntag,2 x 3,{count},fern\n"), INCHES).1
    };
    assert_eq!(codes("0"), ["order-count"]);
    assert_eq!(codes("1"), [""; 0]);
    assert_eq!(codes("1000000"), [""; 0]);
    assert_eq!(codes("1000001"), ["order-count"]);
}

#[test]
fn every_mistake_of_a_row_is_told() {
    let columns = "line,card,fold,count,paper,mat,mat inset,turn,due";
    let (order, codes) = read_order(&format!("{columns}\n,0 x 1,no,0,|,m,no,no,no\n"), INCHES);
    assert_eq!(
        codes,
        [
            "table-cell-blank",
            "order-size",
            "order-fold",
            "order-count",
            "order-paper",
            "order-mat-inset",
            "order-turn",
            "order-date"
        ]
    );
    assert!(order.lines.is_empty());
}

#[test]
fn sound_lines_are_kept_beside_mistaken_ones() {
    let text =
        "line,card,count,paper\na,2 x 3,0,fern\nb,2 x 3,1,fern\nb,2 x 3,2,fern\nc,2 x 3,3,fern\n";
    let (order, codes) = read_order(text, INCHES);
    assert_eq!(codes, ["order-count", "order-line-doubled"]);
    let names: Vec<&str> = order.lines.iter().map(|line| line.name.value.as_str()).collect();
    assert_eq!(names, ["b", "c"]);
}

#[test]
fn papers_are_told_apart_and_named_once() {
    let papers = |cell: &str| {
        let (order, codes) =
            read_order(&format!("line,card,count,paper\ntag,2 x 3,1,{cell}\n"), INCHES);
        (order.lines.into_iter().flat_map(|line| line.papers.value).collect::<Vec<_>>(), codes)
    };
    assert_eq!(papers("a|b"), (vec!["a".to_owned(), "b".to_owned()], vec![]));
    assert_eq!(papers("a | A"), (vec!["a".to_owned(), "A".to_owned()], vec![]));
    assert_eq!(
        papers("a|b|a"),
        (vec!["a".to_owned(), "b".to_owned()], vec!["order-paper-doubled"])
    );
    for gap in ["|", "a|", "|a", "a||b", "a| |b"] {
        assert_eq!(papers(gap), (vec![], vec!["order-paper"]), "{gap}");
    }
}

proptest! {
    #[test]
    fn the_order_of_columns_changes_nothing(
        order in Just(vec![0_usize, 1, 2, 3, 4, 5]).prop_shuffle(),
    ) {
        let names = ["line", "card", "count", "paper", "fold", "note"];
        let cells = ["tag", "US A7", "12", "fern|moss", "side", "red"];
        let text = |order: &[usize]| {
            let pick = |from: [&str; 6]| order.iter().map(|at| from[*at]).collect::<Vec<_>>().join(",");
            format!("{}\n{}\n", pick(names), pick(cells))
        };
        let plain = |text: String| {
            let (order, codes) = read_order(&text, INCHES);
            let line = order.lines.into_iter().next().unwrap();
            (line.name.value, line.card.value, line.count.value, line.papers.value, line.fold, line.note, codes)
        };
        prop_assert_eq!(plain(text(&order)), plain(text(&[0, 1, 2, 3, 4, 5])));
    }

    #[test]
    fn any_cells_are_read_without_panic(cells in proptest::collection::vec("[-0-9 x/|.a]{0,12}|[^,\"\n\r]{0,8}", 12)) {
        let names = COLUMNS.map(|column| column.name).join(",");
        read_order(&format!("{names}\n{}\n", cells.join(",")), INCHES);
    }
}

#[test]
fn several_mats_lie_on_each_other() {
    let mats = |mat: &str, inset: &str| {
        let line = line(
            "line,card,count,paper,mat,mat inset",
            &format!("tag,2 x 3,12,fern,{mat},{inset}"),
            INCHES,
        );
        let mats = line.mats.into_iter();
        mats.map(|mat| (mat.paper.value, mat.inset)).collect::<Vec<_>>()
    };
    let of = |paper: &str, parts| (paper.to_owned(), inches(parts, 16));
    assert_eq!(mats("gold + moss", "1/16"), [of("gold", 1), of("moss", 1)]);
    assert_eq!(
        mats("gold+moss+gold", "1/16+1/8 + 1/4"),
        [of("gold", 1), of("moss", 2), of("gold", 4)]
    );
    assert_eq!(mats("gold+moss", ""), [of("gold", 2), of("moss", 2)]);
    assert_eq!(codes("mat,mat inset", "gold+moss,1/8+1/8+1/8"), ["order-mat-inset"]);
    assert_eq!(codes("mat,mat inset", "gold+moss,1/2"), ["order-mat-inset"], "nothing is left");
    assert_eq!(codes("mat,mat inset", "gold+moss,7/16"), [""; 0]);
    assert_eq!(codes("mat", "gold+"), ["order-mat"]);
}
