//! Sets that lie in the envelope of another line.

use crate::messages::builder::Reading;

fn suite(rows: &str) -> Reading {
    Reading::order(format!("line,card,count,paper,envelope,goes in\n{rows}")).with_sheet("15 x 24")
}

#[test]
fn a_host_that_is_no_line() {
    suite("invite,5 x 7,10,fern,fern,\nreply,3 x 5,10,fern,fern,invit\n").says(
        r"
error[order-goes-in]: `reply` goes in `invit`, which is no line
 --> orders/spring.csv:3:26
  |
3 | reply,3 x 5,10,fern,fern,invit
  |                          ^^^^^ did you mean `invite`?
",
    );
    let told = suite("reply,3 x 5,10,fern,fern,box\n").text();
    assert!(told.contains("expected the name of another line of this file"), "{told}");
    // A host with a mistake of its own is there.
    let told = suite("invite,5 x,10,fern,fern,\nreply,3 x 5,10,fern,fern,invite\n").text();
    assert!(!told.contains("order-goes-in"), "{told}");
}

#[test]
fn a_host_without_an_envelope() {
    for envelope in ["", "posted without"] {
        let rows = format!("invite,5 x 7,10,fern,{envelope},\nreply,3 x 5,10,fern,fern,invite\n");
        suite(&rows).says(
            r"
error[order-goes-in]: `reply` goes in `invite`, which has no envelope
 --> orders/spring.csv:3:26
  |
3 | reply,3 x 5,10,fern,fern,invite
  |                          ^^^^^^ expected a line with an envelope
  |
  = help: give `invite` an `envelope`, or clear this cell
",
        );
    }
}

#[test]
fn lines_that_lie_in_each_other() {
    let alone = suite("invite,5 x 7,10,fern,fern,invite\n").text();
    assert!(alone.contains("`invite` lies in itself"), "{alone}");
    let rows = "a,5 x 7,10,fern,fern,b\nb,5 x 7,10,fern,fern,a\nc,3 x 5,10,fern,fern,a\n";
    let told = suite(rows).text();
    assert_eq!(told.matches("lies in itself").count(), 2, "{told}");
}

#[test]
fn unequal_counts() {
    suite("invite,5 x 7,10,fern,fern,\nreply,3 x 5,8,fern,,invite\n").says(
        r"
warning[order-goes-in-count]: 8 reply go in 10 invite
 --> orders/spring.csv:3:21
  |
3 | reply,3 x 5,8,fern,,invite
  |                     ^^^^^^ 2 of 10 invite go out without
  |
  = help: one goes in each: make both counts the same, if that was meant
",
    );
    let told = suite("invite,5 x 7,10,fern,fern,\nreply,3 x 5,12,fern,,invite\n").text();
    assert!(told.contains("2 of 12 reply are left over"), "{told}");
    assert_eq!(suite("invite,5 x 7,10,fern,fern,\nreply,3 x 5,10,fern,,invite\n").text(), "");
}

/// 0.02 in a layer: a card of one layer leaves the room of a quarter of an inch, with a reply in its envelope of three
/// layers it takes more than half of it.
#[test]
fn all_that_goes_in_takes_room() {
    let reading = |goes_in: &str| {
        let order =
            suite(&format!("invite,5 x 7,10,fern,fern,\nreply,3 x 5,10,fern,fern,{goes_in}\n"));
        let sheets = "sheet,paper,width,height,price,thickness\nfern,fern,15,24,1,0.02\n";
        let bench = "[envelope]\nclear_long = 0.125\nclear_short = 0.125\n";
        Reading { sheets: sheets.into(), ..order }.with_workshop(bench)
    };
    assert!(!reading("").text().contains("piece-envelope-tight"));
    let told = reading("invite").text();
    assert!(told.contains("what goes into the envelope is 0.1 in thick"), "{told}");
}

#[test]
fn envelopes_one_in_the_other() {
    let row = |at: usize| {
        format!(
            "l{at},5 x 7,10,fern,fern,{}\n",
            if at > 0 { format!("l{}", at - 1) } else { String::new() }
        )
    };
    let chain = |most: usize| suite(&(0..=most).map(row).collect::<String>()).text();
    assert!(!chain(4).contains("order-goes-in"), "{}", chain(4));
    let told = chain(6);
    assert_eq!(told.matches("lies in more than 4 envelopes").count(), 2, "{told}");
}
