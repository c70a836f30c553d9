//! Orders of one name in two folders, and the one folder of their reports.

use super::*;

/// Two workshops, each with an order called `spring`.
fn two() -> Home {
    let home = Home::new();
    for (folder, on_hand) in [("june", 5), ("july", 7)] {
        home.put(&format!("{folder}/spring.csv"), "line,card,count,paper\ntag,6 x 6,8,fern\n");
        let sheets = format!("sheet,paper,width,height,on hand\nfern-12,fern,12,12,{on_hand}\n");
        home.put(&format!("{folder}/sheets.csv"), sheets);
    }
    home
}

#[test]
fn the_report_of_another_order_of_this_name_stays() {
    let home = two();
    home.done("plan june/spring.csv");
    let before = home.text("reports/spring/origin.json");
    let answer = home.run("plan july/spring.csv");
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
    assert_eq!(
        answer.err,
        "error: reports/spring is the report of another order: june/spring.csv\n \
         = help: name a folder with --out, such as --out reports/spring-2\n"
    );
    assert_eq!(home.text("reports/spring/origin.json"), before);
    home.done("plan july/spring.csv --out reports/spring-2");
    let out = home.done("settle reports/spring --on 2031-05-09").out;
    assert!(out.contains("june/shelf.jsonl"), "{out}");
}

/// The same file is the same order, whatever it is called; and a file that is gone claims nothing.
#[test]
fn an_order_claims_no_folder_from_itself_or_once_it_is_gone() {
    let home = two();
    home.done("plan june/spring.csv");
    home.done("plan ./june/../june/spring.csv");
    let mut command = home.command("plan spring.csv --out ../reports/spring");
    let answer = Answer::of(command.current_dir(home.path("june")).output().unwrap());
    assert_eq!(answer.code, Some(0), "{}", answer.err);
    home.done("plan june/spring.csv");
    fs::rename(home.path("june/spring.csv"), home.path("june/autumn.csv")).unwrap();
    home.done("plan july/spring.csv");
}

/// Whoever names a folder may have it, but for one that is needed still.
#[test]
fn a_batch_that_is_under_way_keeps_its_folder() {
    let home = two();
    home.done("plan june/spring.csv --out reports/may");
    home.done("plan july/spring.csv --out reports/may");
    home.done("plan july/spring.csv --out reports/may --reserve");
    let told = "error: reports/may is the report of july/spring.csv, which is under way\n \
                = help: name a folder with --out, such as --out reports/may-2\n";
    let refused = |home: &Home| {
        let answer = home.run("plan june/spring.csv --out reports/may");
        assert_eq!((answer.code, answer.err.as_str()), (Some(2), told));
    };
    refused(&home);
    home.done("settle reports/may --partly R1=1 --on 2031-05-09");
    home.done("shelf drop spring july");
    fs::remove_file(home.path("july/spring.csv")).unwrap();
    refused(&home);
    home.done("settle reports/may --on 2031-05-09");
    home.done("plan june/spring.csv --out reports/may");
}

/// Lines are called after their order: two orders of one name cannot be one batch.
#[test]
fn two_orders_of_one_name_are_no_batch() {
    let call = Call::of_tags("plan a/cards.csv b/cards.csv --sheets sheets.csv")
        .file("a/cards.csv", "line,card,count,paper\ntag,2 x 3,12,fern\n")
        .file("b/cards.csv", "line,card,count,paper\ntag,2 x 3,12,fern\n");
    let err = call.ends_with(1);
    let title =
        "error[order-name-doubled]: two orders are called `cards`: a/cards.csv and b/cards.csv\n";
    assert!(err.starts_with(title), "{err}");
    assert!(err.contains("rename one of the files"), "{err}");
}
