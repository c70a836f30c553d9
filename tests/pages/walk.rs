//! The walk in a browser: one step at a time through a whole order, by key and by click.

use super::browser::{Browser, engine};
use crate::program::Home;

/// Every schedule that comes with the project.
const SCHEDULES: [&str; 4] = [
    "reports/wedding/schedule.html",
    "tests/golden/keepsake/schedule.html",
    "tests/golden/seating/schedule.html",
    "tests/golden/swap/schedule.html",
];

/// What scripts of these tests have in common.
const WORDS: &str = "
    var at = name => document.querySelector(name);
    var all = name => [...document.querySelectorAll(name)];
    var press = name => at('[data-do=' + name + ']').click();
    var key = name => document.body.dispatchEvent(new KeyboardEvent('keydown', { key: name, bubbles: true }));
    var shown = () => at('.stop:not([hidden])');
    var place = () => at('.bar .place').textContent;
    var tell = words => { document.title = words; };
";

fn told(browser: &Browser, page: &str, script: &str) -> String {
    browser.title(&browser.copy(page, "page.html", &format!("{WORDS}{script}")))
}

/// Each stop has words and, where something is cut, scored or made, a picture that can be seen.
#[test]
fn a_whole_order_is_walked_by_key_and_back_again() {
    let Some(browser) = Browser::find() else { return };
    for page in SCHEDULES {
        let script = "
            at('#begin').click();
            var faults = [], count = all('.stop').length, seen = new Set();
            for (var number = 1; number <= count; number++) {
                var stop = shown(), part = stop.dataset.shows ? document.getElementById(stop.dataset.shows) : stop;
                seen.add(stop.id);
                if (part.offsetHeight < 50 || !part.querySelector('h2')) faults.push('no words: ' + place());
                var view = stop.querySelector('.view');
                if (!stop.dataset.shows && stop.dataset.ends === undefined && !(view && view.getBoundingClientRect().height > 50)) faults.push('no picture: ' + place());
                if (all('main > *').filter(it => it.offsetHeight).length > 2) faults.push('too much: ' + place());
                if (!at('#now').textContent.includes(stop.dataset.place)) faults.push('not told: ' + place());
                if (location.hash !== '#at-' + stop.id) faults.push('no address: ' + place());
                key('ArrowRight');
            }
            if (seen.size !== count) faults.push(seen.size + ' of ' + count);
            for (var number = 1; number < count; number++) key('ArrowLeft');
            if (shown().id !== 'go-1') faults.push('not back');
            if (all('input:checked').length) faults.push('ticked');
            press('leave');
            if (at('#walk').offsetHeight || !at('#cut').offsetHeight) faults.push('not left');
            tell(faults.join('; '));";
        assert_eq!(told(&browser, page, script), "", "{page}");
    }
}

#[test]
fn all_is_done_when_every_step_is() {
    let Some(browser) = Browser::find() else { return };
    for page in SCHEDULES {
        let script = "
            at('#begin').click();
            all('.stop').forEach(() => press('done'));
            tell(all('input:not(:checked)').length + ' left; ' + (at('#stop').hidden ? '' : at('#settle').textContent));";
        let name = page.split('/').nth_back(1).unwrap();
        let expected = format!("0 left; cardwright settle reports/{name}");
        assert_eq!(told(&browser, page, script), expected);
    }
}

/// Ticks, place and counts are there again after a reload, and what is typed then is understood.
#[test]
fn a_person_spoils_one_stops_comes_back_and_settles() {
    let Some(browser) = Browser::find() else { return };
    let home = Home::with(&["orders"]);
    home.done("plan orders/wedding.csv --quiet");
    let page = home.path("reports/wedding/schedule.html");
    let page = page.to_str().unwrap();
    let spoil = "
        at('#begin').click();
        while (!place().startsWith('Cut: step 9 of')) press('done');
        press('lift'); press('lift');
        press('spoil');
        var rows = all('.counts li').map(row => row.querySelector('.name').textContent);
        all('.counts [data-by=\"1\"]').forEach(button => button.click());
        press('close');
        tell(rows.join(', '));";
    assert_eq!(told(&browser, page, spoil), "stack B, invitation.card");
    let stop = "
        at('#begin').click();
        var where = place() + ', ' + at('.lifted .done').textContent + ' lifts, ' + at('.sum').textContent;
        press('stop');
        tell(where + '; ' + at('#settle').textContent);";
    let (place, command) = told(&browser, page, stop)
        .split_once("; ")
        .map(|(place, command)| (place.to_owned(), command.to_owned()))
        .unwrap();
    assert_eq!(place, "Cut: step 9 of 44, 2 lifts, 2");
    let spoiled = "--spoiled B=1 --spoiled invitation.card=1";
    assert_eq!(command, format!("cardwright settle reports/wedding --done 9:2 {spoiled}"));
    let answer = home.done(command.strip_prefix("cardwright ").unwrap());
    assert!(answer.out.contains("3 pieces spoiled"), "{}", answer.out);
    // A stack that is cut by now is the pieces that came of it: two cards of the sheet, and one.
    let on = "
        at('#begin').click();
        press('done');
        press('stop');
        tell(at('#settle').textContent);";
    let command = told(&browser, page, on);
    let expected = "cardwright settle reports/wedding --done 9 --spoiled invitation.card=3";
    assert_eq!(command, expected);
}

#[test]
fn a_step_left_out_is_said() {
    let Some(browser) = Browser::find() else { return };
    let script = "
        at('#begin').click();
        press('stop');
        var none = at('#stop .none').hidden;
        ['#step-1', '#step-2', '#step-4'].forEach(name => at(name).click());
        press('stop'); press('stop');
        tell(none + '; ' + at('#stop .gap').textContent + '; ' + at('#settle').textContent);";
    let expected = "false; Step 3 is not ticked as done, so no later step is recorded. Tick it if it is done.; \
                    cardwright settle reports/wedding --done 2";
    assert_eq!(told(&browser, SCHEDULES[0], script), expected);
}

/// Every stop, at the width of a phone.
#[test]
fn the_walk_fits_on_a_phone() {
    let Some(browser) = Browser::find() else { return };
    for page in SCHEDULES {
        let tell = "
            at('#begin').click();
            var root = document.documentElement, wide = [];
            all('.stop').forEach(() => {
                if (root.scrollWidth > root.clientWidth) wide.push(place());
                press('next');
            });
            parent.postMessage(wide.join('; '), '*');";
        browser.copy(page, "inner.html", &format!("{WORDS}{tell}"));
        browser.home.put(
            "outer.html",
            "<title></title><script>onmessage = told => document.title = told.data</script>\
             <iframe src=inner.html width=360 height=700 style='border:0'></iframe>",
        );
        assert_eq!(browser.title(&browser.home.path("outer.html")), "", "{page}");
    }
}

#[test]
fn the_walk_is_accessible() {
    let Some(browser) = Browser::find() else { return };
    let Some(engine) = engine() else { return };
    for page in SCHEDULES {
        let script = "
            at('#begin').click();
            var faults = [], passes = 0;
            var look = async () => {
                var found = await axe.run();
                passes = found.passes.length;
                found.violations.forEach(fault => faults.push(place() + ': ' + fault.id + ' at ' + fault.nodes[0].target));
            };
            (async () => {
                var places = ['Before', 'Cut', 'Count', 'Score', 'Fold', 'Glue', 'Pack'];
                for (var start of places) {
                    if (!all('.stop').some(stop => stop.dataset.place.startsWith(start))) continue;
                    while (!place().startsWith(start)) press('next');
                    await look();
                }
                press('spoil'); await look();
                press('stop'); await look();
                tell(passes + ' rules pass; ' + faults.join('; '));
            })();";
        let title = told(&browser, page, &format!("{engine};{script}"));
        let (passes, faults) =
            title.split_once(" rules pass; ").unwrap_or_else(|| panic!("{title}"));
        assert!(passes.parse::<u32>().unwrap() > 10, "{title}");
        assert_eq!(faults, "", "{page}");
    }
}
