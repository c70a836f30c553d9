//! Codes of finishes.

use crate::messages::builder::Reading;

#[test]
fn a_finish_that_the_workshop_does_not_know() {
    let reading = |cell: &str| {
        Reading::order_cells("finish", cell).with_workshop("[finish.corners]\nseconds = 12\n")
    };
    assert_eq!(reading("corners + corners").text(), "");
    reading("corner").says(
        r"
error[order-finish]: no finish is called `corner`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,corner
  |                   ^^^^^^ did you mean `corners`?
  |
  = help: write its name as in workshop.toml, or add it there
",
    );
    reading("corners +").says(
        r"
error[order-finish]: a `+` needs a finish on both sides
 --> orders/spring.csv:2:28
  |
2 | tag,2 x 3,12,fern,corners +
  |                            ^ expected finishes joined by +, such as corners + hole
",
    );
    reading("ribbon hole").says(
        r#"
error[order-finish]: no finish is called `ribbon hole`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,ribbon hole
  |                   ^^^^^^^^^^^ expected a finish of workshop.toml
  |
  = help: give it a section in workshop.toml: [finish."ribbon hole"], with `seconds` and `price` for a card
"#,
    );
    let blanks = reading("trail").with_workshop("[finish.\"trail \"]\nseconds = 1\n");
    assert_eq!(blanks.text(), "");
}
