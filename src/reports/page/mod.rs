//! The parts of the schedule that say the same on the screen and on paper: headings, sentences and tables, once for
//! both. The page of the screen and the pages of the printer are two translations of them.

mod sections;

pub use sections::{after_cutting, before_cutting};

/// A part of the schedule.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// Its name in addresses.
    pub id: &'static str,
    /// Its heading.
    pub title: &'static str,
    /// What leads to it from the top of the page, if anything does.
    pub way: Option<&'static str>,
    /// What is said before the table, a paragraph each.
    pub said: Vec<String>,
    /// Whether the timetable is drawn before the table.
    pub has_timetable: bool,
    /// The table.
    pub table: Option<ListTable>,
    /// What is said after it.
    pub more: Vec<String>,
    /// Whether it is for the desk and not for the bench, whose pages name the day at each stage, and where costs are
    /// nothing for a helper.
    pub is_for_desk: bool,
    /// Whether it is for those who want to know, in small letters.
    pub is_quiet: bool,
}

impl Section {
    /// Whether nothing but its title is said.
    pub fn is_title_alone(&self) -> bool {
        self.table.is_none() && self.said.is_empty()
    }
}

/// A table.
#[derive(Clone, Debug, Default)]
pub struct ListTable {
    /// What is ticked in front of each row, if anything is.
    pub ticks: Option<Ticks>,
    /// Its columns, but for that of the ticks.
    pub columns: Vec<ListColumn>,
    /// Its rows.
    pub groups: Vec<ListGroup>,
    /// What stands below all rows; the last cell takes the room that is left. Empty where nothing does.
    pub foot: Vec<ListCell>,
    /// What it is called where it may be wider than a screen: it is then moved by itself.
    pub wide: Option<&'static str>,
    /// Whether it holds sums of money, close to each other.
    pub is_money: bool,
}

/// Boxes to tick.
#[derive(Clone, Copy, Debug)]
pub struct Ticks {
    /// The list, as part of their addresses.
    pub list: &'static str,
    /// What is ticked, such as `bought`.
    pub done: &'static str,
}

/// A column.
#[derive(Clone, Debug)]
pub struct ListColumn {
    /// Its head.
    pub head: String,
    /// Whether numbers stand in it.
    pub is_numbers: bool,
    /// Its width on paper, in millimetres; 0 is what the others leave.
    pub width: u32,
}

/// Rows that stay together.
#[derive(Clone, Debug, Default)]
pub struct ListGroup {
    /// What holds for all of them: a word, and what follows it.
    pub band: Option<RowsHead>,
    /// The rows.
    pub rows: Vec<ListRow>,
}

/// What holds for the rows below it.
#[derive(Clone, Debug)]
pub struct RowsHead {
    /// What it is about.
    pub word: &'static str,
    /// What is said of that.
    pub lines: Vec<String>,
}

/// A row.
#[derive(Clone, Debug)]
pub struct ListRow {
    /// What it is of, as a box to tick is called.
    pub of: String,
    /// Its cells, but for the box.
    pub cells: Vec<ListCell>,
}

/// What stands in a cell.
#[derive(Clone, Debug)]
pub enum ListCell {
    /// Nothing.
    Blank,
    /// How many, to be read from where one stands.
    Count(u64),
    /// The head of the row.
    Name(String),
    /// The head of the row with a quiet text: what it is made of, if that is said, and its size.
    Named {
        /// Tint and hatch of its order line.
        fill: Option<usize>,
        name: String,
        papers: Option<String>,
        size: String,
    },
    /// The head of all rows of its group, in the first of them.
    Head(String),
    /// Nothing, below such a head.
    Below,
    /// A few words.
    Text(String),
    /// A sentence, whose lengths are held together.
    Sentence(String),
    /// What matters, and why in quiet letters.
    Told(String, String),
    /// A list.
    List(Vec<String>),
    /// A day.
    Day(String),
    /// A number with its unit.
    Number(String),
    /// The number that matters most.
    Sum(String),
}
