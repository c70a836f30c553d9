//! Codes of planning, of plans and of the work they ask for.

use super::builder::{Reading, same};
use cardwright::batch::{self, By, IfShort, Inputs, Source};
use cardwright::cli::render;
use cardwright::reports::{Batch, Offered, Report};
use std::collections::BTreeMap;

/// Twelve tags of 2 x 3 in and one to spare, from so many sheets of 6 x 6 in that cannot be bought.
fn few_sheets(count: u64) -> Reading {
    Reading::sheets(format!("sheet,paper,width,height,on hand\nfern-6,fern,6,6,{count}\n"))
}

#[test]
fn stock_short() {
    few_sheets(2).says("");
    few_sheets(2).says_when_planned(
        r"
error[program-stock-short]: the stock of fern is not enough
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern
  |              ^^^^ 1 of `tag.card` is missing
  |
  = help: 1 more of `fern-6` on hand would be enough
  = help: add sheets on hand, or a price in sheets.csv if more can be bought
  = help: or name a second paper in the order, joined by `|`
  = help: can be made: 11 of 12 tag; without spares all 12 tag
  = help: `cardwright plan orders/spring.csv --sheets sheets.csv --workshop workshop.toml --as-many` plans those with spares
",
    );
    few_sheets(3).says_when_planned("");
}

/// What can be bought is too small for a tag.
#[test]
fn stock_short_with_what_can_be_bought() {
    let sheets =
        "sheet,paper,width,height,on hand,price\nfern-6,fern,6,6,2,\nfern-2,fern,2,2,0,0.10\n";
    Reading::sheets(sheets).says_when_planned(
        r"
error[program-stock-short]: the stock of fern is not enough, even with what can be bought
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern
  |              ^^^^ 1 of `tag.card` is missing
  |
  = help: 1 more of `fern-6` on hand would be enough
  = help: add sheets on hand, or a price in sheets.csv if more can be bought
  = help: or name a second paper in the order, joined by `|`
  = help: can be made: 11 of 12 tag; without spares all 12 tag
  = help: `cardwright plan orders/spring.csv --sheets sheets.csv --workshop workshop.toml --as-many` plans those with spares
",
    );
}

#[test]
fn stock_short_of_two_papers() {
    let sheets = "sheet,paper,width,height,on hand\na,fern,6,6,1\nb,moss,2,3,6\n";
    let order = "line,card,count,paper\ntag,2 x 3,12,fern|moss\n";
    Reading { sheets: sheets.into(), ..Reading::order(order) }.says_when_planned(
        r"
error[program-stock-short]: the stock of fern and moss is not enough
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern|moss
  |              ^^^^^^^^^ 1 of `tag.card` is missing
  |
  = help: 1 more of `b` on hand would be enough
  = help: add sheets on hand, or a price in sheets.csv if more can be bought
  = help: or name a second paper in the order, joined by `|`
  = help: can be made: 11 of 12 tag; without spares all 12 tag
  = help: `cardwright plan orders/spring.csv --sheets sheets.csv --workshop workshop.toml --as-many` plans those with spares
",
    );
}

/// A class set of thirty place names and thirty tags.
fn class_set(offcuts: &str) -> Reading {
    Reading {
        order: "line,card,fold,count,paper\nnames,3 1/2 x 2,top,30,fern\ntags,2 x 3,flat,30,fern\n"
            .into(),
        sheets: "sheet,paper,width,height,on hand\nfern-12,fern,12,12,0\n".into(),
        offcuts: Some(format!("offcut,paper,width,height,count\n{offcuts}").into()),
        ..Reading::default()
    }
}

/// From a drawer alone: strips for names, others for tags.
#[test]
fn as_many_as_a_drawer_makes() {
    let short = class_set("wide,fern,3 1/2,12,9\nnarrow,fern,2,12,9\n");
    let told = r"
error[program-stock-short]: the stock of fern is not enough
 --> orders/spring.csv:2:28
  |
2 | names,3 1/2 x 2,top,30,fern
  |                        ^^^^ 5 of `names.card` are missing
  |
  = help: add sheets on hand, or a price in sheets.csv if more can be bought
  = help: or name a second paper in the order, joined by `|`
  = help: can be made: 25 of 30 names and all 30 tags; without spares 27 of 30 names and all 30 tags
  = help: `cardwright plan orders/spring.csv --sheets sheets.csv --offcuts offcuts.csv --workshop workshop.toml --as-many` plans those with spares
";
    let text = short.text_when_planned();
    // Which pieces the best attempt lacks is another matter.
    let helps = |text: &str| text.split_once("= help: or name").unwrap().1.to_owned();
    same(&helps(&text), &helps(told));
    let outcome = short.outcome_with(IfShort::AsMany);
    same(
        &render::problems(&outcome.problems, false),
        r"
warning[program-as-many]: the stock of fern is not enough; left out: 5 of 30 names
",
    );
    let made = outcome.made.unwrap();
    let report = Report::of(&Batch {
        made: &made,
        since: None,
        prices: &[],
        other_buying: &[],
        offered: Offered::default(),
    });
    let report = report.unwrap();
    assert_eq!(
        report.answer(),
        "In part: 55 of 60 cards of 2 kinds can be made: 25 of 30 names and all 30 tags."
    );
    let quoted = "For what is made: 25 of 30 names and all 30 tags. Paper: ";
    assert!(report.quote.rates.starts_with(quoted), "{}", report.quote.rates);
}

#[test]
fn as_many_as_nothing_makes() {
    let none = Reading {
        offcuts: Some("offcut,paper,width,height\nsmall,fern,4,3\n".into()),
        sheets: "sheet,paper,width,height,on hand\nfern-12,fern,12,12,0\n".into(),
        ..Reading::order("line,card,count,paper\nnames,4 x 3,9,fern\n")
    };
    let text = none.text_when_planned();
    let told = "  = help: can be made: no complete card; without spares 1 of 9 names\n";
    assert!(text.ends_with(told), "{text}");
    let outcome = none.outcome_with(IfShort::AsMany);
    assert!(outcome.made.is_none());
    same(&render::problems(&outcome.problems, false), &text);
}

/// With spares or without, and of several groups that are short only the last says what can be made.
#[test]
fn as_many_of_several_papers() {
    let reading = Reading {
        order: "line,card,count,paper\na,6 x 6,8,fern\nb,6 x 6,9,moss\n".into(),
        sheets: "sheet,paper,width,height,on hand\nf,fern,12,12,1\nm,moss,12,12,2\n".into(),
        ..Reading::default()
    };
    let bench = "[spares]\npercent = 0\nat_least = 0\n";
    let text = reading.with_workshop(bench).text_when_planned();
    assert_eq!(text.matches("can be made").count(), 1, "{text}");
    let command = "`cardwright plan orders/spring.csv --sheets sheets.csv --workshop workshop.toml --as-many`";
    let told = format!(
        "  = help: can be made: 4 of 8 a and 8 of 9 b\n  = help: {command} plans these\n\n2 errors\n"
    );
    assert!(text.ends_with(&told), "{text}");
}

/// Whoever changes what a plan is said to make, or the order.
#[test]
fn sets_that_were_not_ordered() {
    let few = few_sheets(2);
    let made = few.outcome_with(IfShort::AsMany).made.unwrap();
    assert_eq!(made.job.sets(), BTreeMap::from([("tag".to_owned(), 11)]));
    let name = "plan.json".to_owned();
    let plan = Source { name, bytes: serde_json::to_vec(&made.plan).unwrap() };
    let told = |sets: &[(&str, u64)], by: fn(&Inputs) -> By| {
        let sets = sets.iter().map(|(line, sets)| ((*line).to_owned(), *sets)).collect();
        let inputs = Inputs { sets, ..few.inputs() };
        render::problems(&batch::judge(&plan, by(&inputs)).problems, false)
    };
    let ways: [fn(&Inputs) -> By; 2] = [|inputs| By::Kept(inputs), |inputs| By::Inputs(inputs)];
    for by in ways {
        same(&told(&[("tag", 11)], by), "");
        same(
            &told(&[("tag", 13)], by),
            r"
error[plan-sets]: origin.json says that 13 sets of `tag` are made
 |
 = help: only 12 are ordered
 = help: plan the order again
",
        );
        same(
            &told(&[("tag", 11), ("card", 1)], by),
            r"
error[plan-sets]: origin.json says that 1 set of `card` is made
 |
 = help: the order has no line `card`
 = help: plan the order again
",
        );
        same(
            &told(&[("tag", 0)], by),
            r"
error[plan-sets]: origin.json says that nothing is made
 |
 = help: plan the order again
",
        );
        assert!(told(&[("tag", 10)], by).contains("[plan-fault]"));
        assert!(told(&[], by).contains("[plan-fault]"));
    }
}

#[test]
fn off_graduation() {
    let tags = |side: &str| {
        Reading::order(format!("line,card,count,paper\ntag,2 x {side},12,fern\n"))
            .with_sheet("2 x 4")
            .with_workshop("[spares]\npercent = 0\nat_least = 0\n")
    };
    tags("1 1/16").says_when_planned("");
    tags("1 1/32").says_when_planned(
        r"
warning[schedule-off-graduation]: step 1: 1.03125 in is between two marks of the gauge (1/16 in apart)
 |
 = help: the nearest gauge settings are 1 in and 1 1/16 in
 = help: mark the exact distance on one sheet and set the gauge to it, or choose a size that falls on a mark
",
    );
}

/// Two cards of 12 x 13 in from a strip of 26 x 12 in: whichever is left over, the gauge has to go to 13 in.
#[test]
fn reach() {
    let cards =
        Reading::order("line,card,count,paper\ncard,12 x 13,2,fern\n").with_sheet("26 x 12");
    let bench = |reach: &str| {
        format!("[trimmer]\nreach = \"{reach}\"\n[spares]\npercent = 0\nat_least = 0\n")
    };
    let cards = |reach: &str| {
        Reading { sheets: cards.sheets.clone(), ..Reading::order(&cards.order) }
            .with_workshop(bench(reach))
    };
    cards("13 in").says_when_planned("");
    cards("12 15/16 in").says_when_planned(
        r"
warning[schedule-reach]: step 1: 13 in is farther than the gauge reaches (12 15/16 in)
 |
 = help: mark the line with pencil and ruler on the top sheet, and cut along it
 = help: if your gauge reaches farther, say how far: `reach` under [trimmer] in workshop.toml
",
    );
}

/// Bands of 1/8 in: the strip behind the knife is as narrow.
#[test]
fn hold() {
    let strips =
        Reading::order("line,card,count,paper\nstrip,1/8 x 12,8,fern\n").with_sheet("12 x 12");
    strips.with_workshop("[spares]\npercent = 0\nat_least = 0\n").says_when_planned(
        r"
warning[schedule-hold]: step 2: 1/8 in is narrower than you can hold (1/4 in)
 |
 = help: measure what is to be left instead, so that the wide part is held, and keep your fingers behind the clamp
 = help: if a clamp holds narrower strips, say so: `smallest_hold` under [trimmer] in workshop.toml
",
    );
}

/// A strip of two cards and a strip of three: while one waits for its cuts, so does what is left of the sheet, or the other.
#[test]
fn waiting() {
    let bench = |waiting: u32| {
        let cards = "line,card,count,paper\na,2 x 3,2,fern\nb,1 x 2,4,fern\n";
        Reading::order(cards).with_sheet("5 x 4").with_workshop(format!(
            "[trimmer]\nwaiting = {waiting}\n[spares]\npercent = 0\nat_least = 0\n"
        ))
    };
    bench(2).says_when_planned("");
    bench(1).says_when_planned(
        r"
warning[schedule-waiting]: up to 2 stacks wait on the bench, and it has room for 1
 |
 = help: no order of these cuts needs less room
 = help: if your bench has more room, say so: `waiting` under [trimmer] in workshop.toml
",
    );
}

/// One warning for all of them, with the distances.
#[test]
fn off_graduation_several_times() {
    Reading::order("line,card,count,paper\na,2 x 1 1/32,1,fern\nb,2 x 1 5/32,1,fern\n")
        .with_sheet("2 x 4")
        .with_workshop("[spares]\npercent = 0\nat_least = 0\n")
        .says_when_planned(
            r"
warning[schedule-off-graduation]: 2 distances are between two marks of the gauge (1/16 in apart)
 |
 = help: step 2: 1.03125 in, between 1 in and 1 1/16 in
 = help: step 1: 1.15625 in, between 1 1/8 in and 1 3/16 in
 = help: mark the exact distance on one sheet and set the gauge to it, or choose a size that falls on a mark
",
        );
}

/// Scores are set like cuts: a card of 191 mm, opened flat, folds at 95.5 mm.
#[test]
fn off_graduation_of_a_score() {
    let bench = "unit = \"mm\"\n[spares]\npercent = 0\nat_least = 0\n";
    let card = |width: &str| {
        let order = format!("line,card,fold,count,paper\nnote,{width} x 100,side,1,fern\n");
        let sheets = "sheet,paper,width,height,price\nfern,fern,191,100,1.10\n".into();
        Reading { sheets, ..Reading::order(order) }.with_workshop(bench)
    };
    card("95.5").says_when_planned(
        r"
warning[schedule-off-graduation]: score of `note.card`: 95.5 mm is between two marks of the gauge (1 mm apart)
 |
 = help: the nearest gauge settings are 95 mm and 96 mm
 = help: mark the exact distance on one sheet and set the gauge to it, or choose a size that falls on a mark
",
    );
    assert!(!card("95").text_when_planned().contains("score of"));
}

/// Of 6 kinds of pieces all are told, of 7 the last two are counted.
#[test]
fn stock_short_of_many_kinds() {
    // The one sheet there is yields one card of any kind.
    let told = |kinds: usize| {
        let row = |kind| format!("t{kind},4 x 3 {kind}/16,1,fern\n");
        let rows: String = (1..=kinds).map(row).collect();
        let reading = Reading::order(format!("line,card,count,paper\n{rows}"));
        let sheets = "sheet,paper,width,height,on hand\na,fern,4,4,1\n".into();
        let text = Reading { sheets, ..reading }
            .with_workshop("[spares]\npercent = 0\nat_least = 0\n")
            .text_when_planned();
        let label = text.lines().find_map(|line| line.split_once("^^^^ "));
        label.unwrap_or_else(|| panic!("{text}")).1.to_owned()
    };
    let six = told(7);
    assert_eq!(six.matches("1 of `").count(), 6, "{six}");
    assert!(!six.contains("more"), "{six}");
    let seven = told(8);
    assert_eq!(seven.matches("1 of `").count(), 5, "{seven}");
    assert!(seven.ends_with(" and 2 more kinds are missing"), "{seven}");
}

/// What is told of a plan with these bytes.
fn judged(bytes: &[u8]) -> String {
    let plan = Source { name: "reports/spring/plan.json".to_owned(), bytes: bytes.to_vec() };
    render::problems(&batch::judge(&plan, By::Defaults).problems, false)
}

#[test]
fn unreadable() {
    same(
        &judged(b"{\"schema\": \"cardwright-plan-1\",\n \"ticks\": 40000}"),
        r#"
error[plan-unreadable]: reports/spring/plan.json is not a plan
 --> reports/spring/plan.json:2:8
  |
2 |  "ticks": 40000}
  |        ^ unknown field `ticks`, expected one of `schema`, `ticks_per_mm`, `order`, `currency`, `pieces`, `sheets`, `runs`, `offcuts`, `supplies`, `totals`, `proof`
  |
  = help: name a plan.json that `cardwright plan` wrote
"#,
    );
}

#[test]
fn unreadable_order() {
    same(
        &judged(b"line,card,count,paper\n"),
        r"
error[plan-unreadable]: reports/spring/plan.json is not a plan
 --> reports/spring/plan.json:1:1
  |
1 | line,card,count,paper
  | ^ expected value
  |
  = help: name a plan.json that `cardwright plan` wrote
",
    );
}

#[test]
fn fault() {
    let plan = Reading::default().plan();
    same(&judged(&plan), "");
    let text = String::from_utf8(plan).unwrap();
    let fewer = text.replacen("\"need\": 12", "\"need\": 99", 1);
    assert_ne!(text, fewer);
    same(
        &judged(fewer.as_bytes()),
        r"
error[plan-fault]: reports/spring/plan.json: piece `tag.card`: 100 are needed, the layouts give 13
 |
 = help: plan the order again
 = help: it was checked with the default bench: name its own with --workshop
",
    );
}

/// Nobody knows the unit of a plan by itself: without its bench, lengths are told in millimetres.
#[test]
fn fault_in_the_unit_of_the_bench() {
    let mut plan: serde_json::Value = serde_json::from_slice(&Reading::default().plan()).unwrap();
    let layout = &mut plan["runs"][0]["layout"];
    let cut = ["cut_x", "cut_y"].into_iter().find(|cut| layout[*cut].is_i64()).unwrap();
    layout[cut] = (-254 * 40_000 / 10).into();
    let told = |plan: &serde_json::Value, bench: Option<&str>| {
        let name = "plan.json".to_owned();
        let plan = Source { name, bytes: serde_json::to_vec(plan).unwrap() };
        let name = "workshop.toml".to_owned();
        let bench = bench.map(|text| Source { name, bytes: text.as_bytes().to_vec() });
        render::problems(
            &batch::judge(&plan, bench.as_ref().map_or(By::Defaults, By::Bench)).problems,
            false,
        )
    };
    let inches = "the cut at -1 in misses the part at 0 in, 0 in\n";
    let millimetres = "the cut at -25.4 mm misses the part at 0 mm, 0 mm\n";
    assert!(told(&plan, Some("unit = \"in\"")).contains(inches));
    assert!(told(&plan, Some("unit = \"mm\"")).contains(millimetres));
    assert!(told(&plan, None).contains(millimetres));
    // A plan may say anything.
    plan["runs"][0]["layout"][cut] = i64::MIN.into();
    assert!(told(&plan, None).contains("the cut at -230584300921369.3952 mm misses"));
}

/// Two cards a sheet, whichever way they lie: the one along the grain is free.
#[test]
fn folds_lie_along_the_grain_where_it_is_free() {
    let cards = |sheet: &str, rule: &str| {
        Reading {
            order: "line,card,fold,count,paper\ncard,6 x 6,side,4,fern\n".into(),
            sheets: format!("sheet,paper,width,height,price,grain\nfern,fern,{sheet}\n").into(),
            ..Reading::default()
        }
        .with_workshop(format!("[spares]\npercent = 0\nat_least = 0\n[grain]\nrule = \"{rule}\"\n"))
    };
    for grain in ["width", "height"] {
        cards(&format!("12,12,1.10,{grain}"), "prefer").says_when_planned("");
    }
    cards("12,6,1.10,height", "prefer").says_when_planned("");
    cards("12,6,1.10,width", "ignore").says_when_planned("");
    cards("12,6,1.10,width", "prefer").says_when_planned(
        r#"
warning[schedule-grain]: 4 of 4 `card.card` fold across the grain of fern
 |
 = help: score them well: a fold across the fibres can crack
 = help: `rule = "strict"` under [grain] lays cards and their layers along it, whatever that costs
"#,
    );
}

/// Moss is too small for a fold along its grain, which does not keep that of fern from lying so.
#[test]
fn folds_lie_along_the_grain_of_one_paper_where_they_cannot_of_another() {
    for grain in ["width", "height"] {
        let told = Reading {
            order: "line,card,fold,count,paper\nfree,6 x 6,side,4,fern\nbound,6 x 5,side,1,moss\n"
                .into(),
            sheets: format!(
                "sheet,paper,width,height,price,grain\nfern,fern,12,12,1.10,{grain}\n\
                 moss,moss,12,5,1,width\n"
            )
            .into(),
            ..Reading::default()
        }
        .with_workshop("[spares]\npercent = 0\nat_least = 0\n[grain]\nrule = \"prefer\"\n")
        .text_when_planned();
        assert!(told.contains("1 of 1 `bound.card` folds across the grain of moss"), "{told}");
        assert!(!told.contains("fern"), "{told}");
    }
}

/// One warning a paper, whatever is folded of it; none of a paper as thin as text of 70 lb (105 g/m2, GPO paper
/// specification JCP A91).
#[test]
fn folds_across_the_grain_are_told_by_paper() {
    let told = |gsm: &str| {
        let reading = Reading {
            order:
                "line,card,fold,count,paper,band\na,6 x 6,side,4,fern,wren\nb,6 x 5,side,1,fern,\n"
                    .into(),
            sheets: format!(
                "sheet,paper,width,height,price,grain,gsm\nfern,fern,12,6,1.10,width,\n\
                 wren,wren,14 1/2,1 1/2,0.50,width,{gsm}\n"
            )
            .into(),
            ..Reading::default()
        };
        let bench = "[spares]\npercent = 0\nat_least = 0\n";
        let text = reading.with_workshop(bench).text_when_planned();
        let titles = text.lines().filter(|line| line.contains("schedule-grain"));
        titles.map(str::to_owned).collect::<Vec<_>>()
    };
    let fern = "warning[schedule-grain]: 4 of 4 `a.card` and 1 of 1 `b.card` fold across the grain of fern";
    let wren = "warning[schedule-grain]: 4 of 4 `a.band` fold across the grain of wren";
    for gsm in ["", "105.001"] {
        assert_eq!(told(gsm), [fern, wren], "{gsm}");
    }
    assert_eq!(told("105"), [fern]);
}

/// Of a price of which 30 % is the margin, 70 % is the cost.
#[test]
fn wholesale_below_cost() {
    let bench = |percent: u64| format!("[rates]\nwholesale_percent = {percent}\n");
    let order = "line,card,count,paper\ntag,2 x 3,12,fern\n";
    Reading::order(order).with_workshop(bench(60)).says_when_planned(
        r"
warning[quote-wholesale]: the wholesale price of tag is below its cost
 |
 = help: wholesale_percent under [rates] in workshop.toml is 60: raise it, or margin_percent
",
    );
    Reading::order(order).with_workshop(bench(71)).says_when_planned("");
}
