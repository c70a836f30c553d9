//! The published optima of gcut1 to gcut13 (instances: Beasley 1985, JORS 36:297-306; optima: Cintra,
//! Miyazawa, Wakabayashi & Xavier 2008, EJOR 191:61-85).

use cardwright::measure::{Length, Size};
use cardwright::patterns::{Bench, Shape, Space};
use std::path::PathBuf;

/// The folder of open instances, if it is there.
pub fn benchmarks() -> Option<PathBuf> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/benchmarks");
    let folder = std::env::var_os("CARDWRIGHT_BENCHMARKS").map_or_else(beside, PathBuf::from);
    folder.join("published.tsv").is_file().then_some(folder)
}

/// An instance: a sheet and rows of width, height, value, demand.
pub struct Instance {
    pub plate: Size,
    pub rows: Vec<[i64; 4]>,
}

impl Instance {
    pub fn read(path: PathBuf) -> Instance {
        let text = std::fs::read_to_string(path).unwrap();
        let mut numbers = text.split_ascii_whitespace().map(|word| word.parse::<i64>().unwrap());
        let mut next = || numbers.next().unwrap();
        let plate = Size::new(Length::from_ticks(next()), Length::from_ticks(next()));
        let rows = (0..next()).map(|_| [next(), next(), next(), next()]).collect();
        Instance { plate, rows }
    }

    pub fn shapes(&self, turned: bool) -> Vec<Shape> {
        let size =
            |row: &[i64; 4]| Size::new(Length::from_ticks(row[0]), Length::from_ticks(row[1]));
        self.rows.iter().map(|row| Shape { size: size(row), upright: true, turned }).collect()
    }
}

/// A bench that cuts any length without loss.
pub const EASY: Bench = Bench { blade: Length::ZERO, knife: Length::MAX, hold: Length::ZERO };

#[test]
fn gcut_reaches_the_published_optima() {
    let Some(folder) = benchmarks() else {
        println!("skipped: no benchmark folder");
        return;
    };
    let table = std::fs::read_to_string(folder.join("published.tsv")).unwrap();
    let mut seen = 0;
    for line in table.lines() {
        let cells: Vec<&str> = line.split('\t').collect();
        if cells[0] != "gcut" || cells[3] != "most area on one sheet, any number of each piece" {
            continue;
        }
        let instance = Instance::read(folder.join(format!("gcut/{}.txt", cells[1])));
        let areas: Vec<i64> = instance.rows.iter().map(|row| row[0] * row[1]).collect();
        let space = Space::new(instance.plate, &instance.shapes(cells[2] == "turned"), EASY);
        let best = space.best(&areas);
        assert_eq!(best.value(), cells[4].parse::<i64>().unwrap(), "{} {}", cells[1], cells[2]);
        seen += 1;
    }
    assert_eq!(seen, 26);
}
