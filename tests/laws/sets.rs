//! Sets that lie in each other.

use crate::bench::cases;
use crate::bench::instances::{METRIC, inputs};
use cardwright::batch::{self, Effort, Options};
use cardwright::measure::{Thickness, Weight};
use cardwright::quote::{FinishedSet, quote};
use proptest::prelude::*;

/// The sets of lines, each of which may go in one before it; what a line is made of, its number decides.
fn sets(hosts: &[Option<usize>], nested: bool) -> Option<Vec<FinishedSet>> {
    let mut order = "line,card,count,paper,envelope,goes in,with\n".to_owned();
    for (line, host) in hosts.iter().enumerate() {
        let card = ["90 x 60 mm", "70 x 120 mm", "100 x 100 mm"][line % 3];
        let envelope = ["bought", "kraft"][line % 2];
        let with = ["", "ribbon 120 mm", "tag"][line % 3];
        let host = host.filter(|_| nested).map(|host| format!("l{host}")).unwrap_or_default();
        order.push_str(&format!("l{line},{card},3,{},{envelope},{host},{with}\n", "fern"));
    }
    let sheets = "sheet,paper,width,height,price,gsm,thickness\n\
                  fern,fern,600,600,1.00,210,0.27 mm\nkraft,kraft,600,600,1.00,100,0.12 mm\n";
    let sundries =
        "sundry,unit,price,grams,thickness\nribbon,m,0.40,2.5,0.3 mm\ntag,,0.10,1.2,0.5 mm\n";
    let mut inputs = inputs("may", order, sheets.to_owned(), None, METRIC.to_owned());
    let source =
        |name: &str, text: &str| batch::Source { name: name.to_owned(), bytes: text.into() };
    // One size alone, which holds whatever lies in it: an envelope does not depend on its contents.
    let envelopes = "envelope,size,price,gsm,thickness\nwide,300 x 300 mm,0.20,90,0.1 mm\n";
    inputs.envelopes = Some(source("envelopes.csv", envelopes));
    inputs.sundries = Some(source("sundries.csv", sundries));
    let options = Options { effort: Effort::Quick, threads: Some(1), ..Options::default() };
    let made = batch::plan(&inputs, &options).made?;
    Some(quote(&made).lines.into_iter().map(|line| line.set).collect())
}

proptest! {
    #![proptest_config(cases(24))]

    /// However sets lie in each other, one weighs, and is as thick as, all that is in it and its own parts. Envelopes that are
    /// cut are larger where more lies in them, so those lines have nothing in them here.
    #[test]
    fn a_set_is_the_sum_of_its_parts(hosts in prop::collection::vec(any::<prop::sample::Index>(), 1..6)) {
        // Into a bought envelope of an earlier line, or nowhere.
        let host = |(line, at): (usize, &prop::sample::Index)| {
            let open: Vec<Option<usize>> = (0..line).step_by(2).map(Some).chain([None]).collect();
            open[at.index(open.len())]
        };
        let hosts: Vec<Option<usize>> = hosts.iter().enumerate().map(host).collect();
        let (Some(apart), Some(nested)) = (sets(&hosts, false), sets(&hosts, true)) else {
            return Err(TestCaseError::reject("too deep"));
        };
        for (line, set) in nested.iter().enumerate() {
            let is_in = |other: usize| {
                std::iter::successors(Some(other), |other| hosts[*other]).any(|it| it == line)
            };
            let all: Vec<&FinishedSet> =
                (0..hosts.len()).filter(|other| is_in(*other)).map(|other| &apart[other]).collect();
            let weight = all.iter().map(|set| set.weight.unwrap()).sum::<Weight>();
            let thick = all.iter().fold(Thickness::ZERO, |sum, set| sum + set.thickness.unwrap());
            prop_assert_eq!(set.weight, Some(weight));
            prop_assert_eq!(set.thickness, Some(thick));
        }
    }
}
