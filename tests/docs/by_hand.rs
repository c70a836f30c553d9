//! The order of `examples/by-hand/`, planned by a rule of thumb and by the program.
//!
//! The rule is common practice, no source: count how many of a kind of piece a sheet holds in a plain grid, in the
//! better of the two ways to lay it, and take so many sheets; then the next kind.

use super::markdown::Page;
use crate::program::{Home, project};
use serde_json::Value;

/// Sheets in one stroke, and the sides from which a remnant is kept, as in the lesson's `workshop.toml`.
const LIFT: u64 = 5;
const KEEP_IN: [u64; 2] = [1, 4];
/// Percent of a full sheet's price per area.
const KEEP_VALUE: u64 = 30;

/// What a way to plan comes to.
#[derive(Debug, Default, PartialEq, Eq)]
struct Sums {
    sheets: u64,
    /// Minor units.
    spend: u64,
    kept: u64,
    strokes: u64,
    settings: u64,
}

/// A kind of piece, and the sheet that it is cut from, with sides in ticks.
#[derive(Clone, Copy)]
struct Job {
    sheet: [u64; 2],
    piece: [u64; 2],
    count: u64,
}

/// A job laid as a grid: strips are cut first, then pieces from strips.
#[derive(Clone, Copy)]
struct Grid {
    job: Job,
    strips: u64,
    in_strip: u64,
}

impl Job {
    /// Turned by a quarter: piece, sheet, or both.
    fn turned(self, piece: bool, sheet: bool) -> Job {
        let turn = |[a, b]: [u64; 2], turned: bool| if turned { [b, a] } else { [a, b] };
        Job { piece: turn(self.piece, piece), sheet: turn(self.sheet, sheet), ..self }
    }

    /// The grid that holds most; of equals, the one with the fewest strokes.
    fn best(self) -> Grid {
        // Turning both is cutting the strips the other way.
        let ways = [(false, false), (true, false), (true, true), (false, true)];
        let grids = ways.map(|(piece, sheet)| Grid::of(self.turned(piece, sheet)));
        grids.into_iter().min_by_key(|grid| (grid.sheets(), grid.strokes())).unwrap()
    }
}

impl Grid {
    fn of(job: Job) -> Grid {
        let [strips, in_strip] = [0, 1].map(|side| job.sheet[side] / job.piece[side]);
        Grid { job, strips, in_strip }
    }

    fn sheets(&self) -> u64 {
        self.job.count.div_ceil((self.strips * self.in_strip).max(1))
    }

    /// Pieces in each strip that is cut, sheet by sheet: the last sheet is only cut as far as it is needed.
    fn cut(&self) -> Vec<Vec<u64>> {
        let mut left = self.job.count;
        let mut strip = || {
            let pieces = left.min(self.in_strip);
            left -= pieces;
            pieces
        };
        let sheets = (0..self.sheets()).map(|_| (0..self.strips).map(|_| strip()).collect());
        sheets.map(|strips: Vec<u64>| strips.into_iter().filter(|it| *it > 0).collect()).collect()
    }

    /// Cuts that part so many parts from something: none behind the last one where nothing is left.
    fn cuts(parts: u64, part: u64, whole: u64) -> u64 {
        if parts * part < whole { parts } else { parts - 1 }
    }

    /// Cuts of each sheet, then those of each strip.
    fn cut_counts(&self) -> [Vec<u64>; 2] {
        let Job { sheet, piece, .. } = self.job;
        let cut = self.cut();
        let strips = cut.iter().map(|it| Grid::cuts(it.len() as u64, piece[0], sheet[0]));
        let pieces = cut.iter().flatten().map(|it| Grid::cuts(*it, piece[1], sheet[1]));
        [strips.collect(), pieces.collect()]
    }

    /// Every stack is made as high as a lift before it is cut.
    fn strokes(&self) -> u64 {
        let strokes = |counts: Vec<u64>| -> u64 {
            let most = counts.iter().copied().max().unwrap_or_default();
            let at = |cut| counts.iter().filter(|count| **count >= cut).count() as u64;
            (1..=most).map(|cut| at(cut).div_ceil(LIFT)).sum()
        };
        self.cut_counts().map(strokes).iter().sum()
    }

    /// One for the strips and one for the pieces, where anything is cut at all.
    fn settings(&self) -> u64 {
        self.cut_counts().iter().filter(|counts| counts.iter().any(|count| *count > 0)).count()
            as u64
    }

    /// Areas of the remnants that are kept, in square ticks.
    fn kept(&self, inch: u64) -> Vec<u64> {
        let Job { sheet, piece, .. } = self.job;
        let mut remnants = Vec::new();
        for strips in self.cut() {
            remnants.push([sheet[0] - strips.len() as u64 * piece[0], sheet[1]]);
            remnants.extend(strips.iter().map(|pieces| [piece[0], sheet[1] - pieces * piece[1]]));
        }
        let is_kept =
            |[a, b]: &[u64; 2]| *a.min(b) >= KEEP_IN[0] * inch && *a.max(b) >= KEEP_IN[1] * inch;
        remnants.iter().filter(|it| is_kept(it)).map(|[a, b]| a * b).collect()
    }
}

fn number(value: &Value) -> u64 {
    value.as_u64().unwrap()
}

/// The rule of thumb for the pieces and sheets of a plan: what has to be cut is the same for both.
fn by_thumb(plan: &Value) -> Sums {
    let sides = |it: &Value| [number(&it["width"]), number(&it["height"])];
    let inch = number(&plan["ticks_per_mm"]) * 254 / 10;
    let mut sums = Sums::default();
    for sheet in plan["sheets"].as_array().unwrap() {
        let pieces = plan["pieces"].as_array().unwrap().iter();
        let pieces = pieces.filter(|it| it["papers"][0] == sheet["paper"]);
        let (price, pack) = (number(&sheet["price"]), number(&sheet["pack"]));
        let mut used = 0;
        for piece in pieces {
            let count = number(&piece["need"]) + number(&piece["spares"]);
            let grid = Job { sheet: sides(sheet), piece: sides(piece), count }.best();
            used += grid.sheets();
            sums.strokes += grid.strokes();
            sums.settings += grid.settings();
            let whole = sides(sheet).iter().product::<u64>() as f64 * pack as f64 * 100.0;
            let worth = |area: &u64| (*area as f64 * (price * KEEP_VALUE) as f64 / whole).round();
            sums.kept += grid.kept(inch).iter().map(worth).sum::<f64>() as u64;
        }
        let missing = used.saturating_sub(number(&sheet["on_hand"]));
        sums.sheets += used;
        sums.spend += missing.div_ceil(pack) * price;
    }
    sums
}

fn by_program(home: &Home, plan: &Value) -> Sums {
    let totals = &plan["totals"];
    let cuts = home.text("reports/market/cuts.csv");
    let mut lines = cuts.lines();
    let column = lines.next().unwrap().split(',').position(|title| title == "strokes").unwrap();
    let strokes = lines.map(|line| line.split(',').nth(column).unwrap().parse::<u64>().unwrap());
    Sums {
        sheets: number(&totals["sheets_used"]),
        spend: number(&totals["spend"]),
        kept: number(&totals["kept"]),
        strokes: strokes.sum(),
        settings: number(&totals["gauge_settings"]),
    }
}

#[test]
fn the_table_of_the_lesson_holds_what_both_come_to() {
    let home = Home::with(&["examples"]);
    let plan = home.done("plan examples/by-hand/market.csv --json").out;
    let plan: Value = serde_json::from_str(&plan).unwrap();
    let (thumb, program) = (by_thumb(&plan), by_program(&home, &plan));
    let money = |minor: u64| format!("{}.{:02} USD", minor / 100, minor % 100);
    let row = |what: &str, part: &dyn Fn(&Sums) -> String| {
        vec![what.to_owned(), part(&thumb), part(&program)]
    };
    let expected = [
        row("sheets cut up", &|sums| sums.sheets.to_string()),
        row("spent on packs", &|sums| money(sums.spend)),
        row("worth of the offcuts saved", &|sums| money(sums.kept)),
        row("cuts", &|sums| sums.strokes.to_string()),
        row("gauge settings", &|sums| sums.settings.to_string()),
    ];
    let page = Page::read("examples/by-hand/README.md");
    assert_eq!(page.table("What each way costs", "what"), expected);
    let text = std::fs::read_to_string(project("examples/by-hand/README.md")).unwrap();
    let [thumb, program] = [&thumb, &program].map(|sums| money(sums.spend - sums.kept));
    let program = program.trim_end_matches(" USD");
    let costs = format!("has cost {thumb} by the rule and {program} by Cardwright");
    assert!(text.split_whitespace().collect::<Vec<_>>().join(" ").contains(&costs), "{costs}");
}

/// Counts that the lesson's page tells of the rule, piece by piece.
#[test]
fn the_grids_of_the_lesson_are_those_of_the_rule() {
    let home = Home::with(&["examples"]);
    let plan = home.done("plan examples/by-hand/market.csv --json").out;
    let plan: Value = serde_json::from_str(&plan).unwrap();
    let side = number(&plan["ticks_per_mm"]) * 3048 / 10;
    let rows = Page::read("examples/by-hand/README.md").table("By the rule of thumb", "piece");
    let pieces = plan["pieces"].as_array().unwrap();
    assert_eq!(rows.len(), pieces.len());
    for piece in pieces {
        let sides = [number(&piece["width"]), number(&piece["height"])];
        let count = number(&piece["need"]) + number(&piece["spares"]);
        let grid = Job { sheet: [side; 2], piece: sides, count }.best();
        let part = if piece["part"] == "mat" { ", mat" } else { "" };
        let name = format!("{}{part}", piece["line"].as_str().unwrap());
        let row = rows.iter().find(|row| row[0] == name).unwrap_or_else(|| panic!("{name}"));
        let held = grid.strips * grid.in_strip;
        let told = [count.to_string(), held.to_string(), grid.sheets().to_string()];
        assert_eq!(row[3..], told, "{name}");
    }
}

/// Worked out on paper: a sheet of 12 x 12 holds 3 x 2 of 4 x 5, six; thirteen take three sheets, the last with
/// one piece. Strips: two cuts on each of the full ones, one on the last; that is two lifts. Pieces: two cuts in
/// each of seven strips but the last, which has one piece and one cut; seven and six strips are two lifts each.
#[test]
fn the_rule_is_followed_as_on_paper() {
    let grid = Grid::of(Job { sheet: [12, 12], piece: [4, 5], count: 13 });
    assert_eq!((grid.sheets(), grid.settings()), (3, 2));
    assert_eq!(grid.cut(), [vec![2, 2, 2], vec![2, 2, 2], vec![1]]);
    assert_eq!(grid.cut_counts(), [vec![2, 2, 1], vec![2, 2, 2, 2, 2, 2, 1]]);
    assert_eq!(grid.strokes(), 2 + 4);
    // Of the last sheet stays 8 x 12, of its strip 4 x 7; of each other strip 4 x 2.
    assert_eq!(grid.kept(1), [8, 8, 8, 8, 8, 8, 96, 28]);
}
