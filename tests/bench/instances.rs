//! The open instances: how they are read, and how they become an order that can be planned.
//!
//! They are no part of the project. Tests and benches read them from the folder that `CARDWRIGHT_BENCHMARKS` names,
//! else from `../shared/benchmarks`, and say `skipped` where it is missing. There, `gcut/gcut1.txt` and its like hold
//! `W H m` and then `m` lines `w h value demand`; `published.tsv` holds the values to be reached.
//!
//! - `gcut1` to `gcut13`: Beasley, J. E. (1985). Algorithms for unconstrained two-dimensional guillotine cutting.
//!   *Journal of the Operational Research Society* 36, 297–306.
//! - `cgcut1` to `cgcut3`: Christofides, N., Whitlock, C. (1977). An algorithm for two-dimensional cutting problems.
//!   *Operations Research* 25, 30–44.
//! - Furniture orders: Macedo, R., Alves, C., Valério de Carvalho, J. M. (2010). Arc-flow model for the two-dimensional
//!   guillotine cutting stock problem. *Computers & Operations Research* 37, 991–1001.

use cardwright::batch::{Inputs, Source};
use cardwright::cuts::Bench;
use cardwright::measure::{Length, Size};
use cardwright::patterns::Shape;
use std::path::{Path, PathBuf};

/// A bench that cuts any length without loss.
pub const EASY: Bench =
    Bench { blade: Length::ZERO, knife: Length::MAX, hold: Length::ZERO, stages: None };

/// An order that comes with the program, and the files beside it.
pub fn shipped(order: &str) -> Inputs {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(order);
    let beside = |name: &str| {
        let bytes = std::fs::read(path.with_file_name(name)).ok()?;
        Some(Source { name: name.to_owned(), bytes })
    };
    Inputs {
        orders: vec![Source { name: order.to_owned(), bytes: std::fs::read(&path).unwrap() }],
        sheets: beside("sheets.csv").unwrap(),
        offcuts: beside("offcuts.csv"),
        envelopes: beside("envelopes.csv"),
        sundries: beside("sundries.csv"),
        workshop: beside("workshop.toml"),
        ..Inputs::default()
    }
}

/// The folder of open instances, if it is there.
pub fn benchmarks() -> Option<PathBuf> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/benchmarks");
    let folder = std::env::var_os("CARDWRIGHT_BENCHMARKS").map_or_else(beside, PathBuf::from);
    folder.join("published.tsv").is_file().then_some(folder)
}

/// A sheet and rows of width, height, value, demand.
pub struct Instance {
    /// Its name, such as `gcut1`.
    pub name: String,
    /// The sheet, in ticks.
    pub plate: Size,
    /// What to cut from it.
    pub rows: Vec<[i64; 4]>,
}

impl Instance {
    /// Reads `set/name.txt`.
    pub fn read(folder: &Path, set: &str, name: &str) -> Instance {
        let text = std::fs::read_to_string(folder.join(format!("{set}/{name}.txt"))).unwrap();
        let mut numbers = text.split_ascii_whitespace().map(|word| word.parse::<i64>().unwrap());
        let mut next = || numbers.next().unwrap();
        let plate = Size::new(Length::from_ticks(next()), Length::from_ticks(next()));
        let rows = (0..next()).map(|_| [next(), next(), next(), next()]).collect();
        Instance { name: name.to_owned(), plate, rows }
    }

    /// gcut`number` with demands: piece i (from 1) is wanted 1 + ((7919 i + 104729 number) mod 100)
    /// times.
    pub fn gcut_with_demands(folder: &Path, number: i64) -> Instance {
        let mut instance = Instance::read(folder, "gcut", &format!("gcut{number}"));
        for (row, index) in instance.rows.iter_mut().zip(1..) {
            row[3] = 1 + (7919 * index + 104_729 * number) % 100;
        }
        instance
    }

    /// The pieces as the pattern search takes them.
    pub fn shapes(&self, turned: bool) -> Vec<Shape> {
        let size =
            |row: &[i64; 4]| Size::new(Length::from_ticks(row[0]), Length::from_ticks(row[1]));
        self.rows.iter().map(|row| Shape { size: size(row), upright: true, turned }).collect()
    }

    /// The instance as an order in millimetres, of sheets that cost 1.00 each, so that what is spent is
    /// a hundred times the number of sheets.
    pub fn inputs(&self, turned: bool) -> Inputs {
        let turn = if turned { "free" } else { "none" };
        let mut order = String::from("line,card,count,paper,turn\n");
        for (row, index) in self.rows.iter().zip(1..) {
            let [width, height, _, demand] = row;
            order.push_str(&format!("piece{index:03},{width} x {height},{demand},fern,{turn}\n"));
        }
        let (width, height) = (self.plate.width.ticks(), self.plate.height.ticks());
        let sheets = format!("sheet,paper,width,height,price\nplate,fern,{width},{height},1.00\n");
        inputs(&self.name, order, sheets, None, METRIC.to_owned())
    }
}

/// A bench without loss, limits or spares that measures in millimetres.
pub const METRIC: &str = "unit = \"mm\"
[trimmer]
knife = \"100000 mm\"
graduation = \"1 mm\"
[keep]
short = \"100 mm\"
long = \"100 mm\"
[spares]
percent = 0
at_least = 0
";

/// The files of a batch.
pub fn inputs(
    name: &str,
    order: String,
    sheets: String,
    offcuts: Option<String>,
    workshop: String,
) -> Inputs {
    let source = |name: &str, text: String| Source { name: name.to_owned(), bytes: text.into() };
    Inputs {
        orders: vec![source(&format!("{name}.csv"), order)],
        sheets: source("sheets.csv", sheets),
        offcuts: offcuts.map(|text| source("offcuts.csv", text)),
        workshop: Some(source("workshop.toml", workshop)),
        ..Inputs::default()
    }
}

/// A row of `published.tsv`.
#[derive(Clone, Debug)]
pub struct Published {
    pub set: String,
    pub instance: String,
    pub turned: bool,
    pub question: String,
    pub value: i64,
}

/// All published values.
pub fn published(folder: &Path) -> Vec<Published> {
    let table = std::fs::read_to_string(folder.join("published.tsv")).unwrap();
    let rows = table.lines().skip(1).map(|line| {
        let cells: Vec<&str> = line.split('\t').collect();
        Published {
            set: cells[0].to_owned(),
            instance: cells[1].to_owned(),
            turned: cells[2] == "turned",
            question: cells[3].to_owned(),
            value: cells[4].parse().unwrap(),
        }
    });
    rows.collect()
}
