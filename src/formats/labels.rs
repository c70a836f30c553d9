//! Sheets of adhesive labels.

use super::list::rows;
use crate::diagnostics::Problems;
use crate::measure::{Length, Size};
use crate::table::{KnownColumn, Named};
use std::sync::LazyLock;

/// A sheet of labels: so many beside and below each other, all of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LabelGrid {
    /// Its name in `workshop.toml`.
    pub name: String,
    /// The page that it is, as `workshop.toml` calls it.
    pub page: String,
    /// Labels beside each other.
    pub across: usize,
    /// Labels below each other.
    pub down: usize,
    /// The size of a label.
    pub size: Size,
    /// From the left edge of the page to the first label.
    pub left: Length,
    /// From the upper edge of the page to the first label.
    pub top: Length,
    /// From one label to the next, across and down.
    pub step: Size,
    /// Where the sizes come from.
    pub source: String,
}

const COLUMNS: [KnownColumn; 11] = [
    KnownColumn::needed("name"),
    KnownColumn::needed("page"),
    KnownColumn::needed("across"),
    KnownColumn::needed("down"),
    KnownColumn::needed("width"),
    KnownColumn::needed("height"),
    KnownColumn::needed("left"),
    KnownColumn::needed("top"),
    KnownColumn::needed("step across"),
    KnownColumn::needed("step down"),
    KnownColumn::needed("source"),
];

static GRIDS: LazyLock<Vec<LabelGrid>> = LazyLock::new(|| read(&mut Problems::new()));

/// All sheets of labels, in the order of the table.
pub fn label_grids() -> &'static [LabelGrid] {
    &GRIDS
}

fn read(problems: &mut Problems) -> Vec<LabelGrid> {
    let file = Named::new("labels.csv", include_bytes!("labels.csv"));
    let count = |text: &str| text.parse().ok();
    rows(file, &COLUMNS, problems, |cells| {
        Some(LabelGrid {
            name: cells.text("name")?,
            page: cells.text("page")?,
            across: cells.read("across", count)??,
            down: cells.read("down", count)??,
            size: cells.size()?,
            left: cells.length("left")?,
            top: cells.length("top")?,
            step: Size::new(cells.length("step across")?, cells.length("step down")?),
            source: cells.text("source")?,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_whole() {
        let mut problems = Problems::new();
        let all = read(&mut problems);
        assert_eq!(problems, Problems::new());
        assert_eq!(
            all.iter().map(|it| it.name.as_str()).collect::<Vec<_>>(),
            ["letter-30", "a4-21"]
        );
    }

    /// What is left of the page is the same on both sides, and above and below.
    #[test]
    fn the_labels_lie_in_the_middle_of_their_page() {
        let pages = [("letter", "8 1/2 in", "11 in"), ("a4", "210 mm", "297 mm")];
        for grid in label_grids() {
            let (_, width, height) = pages.iter().find(|page| page.0 == grid.page).unwrap();
            let [width, height] =
                [width, height].map(|side| super::super::list::length(side).unwrap());
            let taken = |count: usize, step: Length, size: Length| step * (count as i64 - 1) + size;
            let across = taken(grid.across, grid.step.width, grid.size.width);
            let down = taken(grid.down, grid.step.height, grid.size.height);
            assert_eq!(
                (across + grid.left * 2, down + grid.top * 2),
                (width, height),
                "{}",
                grid.name
            );
            assert!(grid.step.width >= grid.size.width && grid.step.height >= grid.size.height);
        }
    }
}
