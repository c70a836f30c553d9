//! `Reading::order("…").says("…")`: bytes in, exact rendered text out.

use cardwright::batch::{self, IfShort, Inputs, Options, Outcome, Source};
use cardwright::cli::render;
use cardwright::diagnostics::Problems;

/// Files that are read together, all of them sound until one is replaced.
pub struct Reading {
    pub order: Vec<u8>,
    pub sheets: Vec<u8>,
    pub offcuts: Option<Vec<u8>>,
    pub envelopes: Option<Vec<u8>>,
    pub sundries: Option<Vec<u8>>,
    pub workshop: Vec<u8>,
}

const ORDER: &str = "line,card,count,paper\ntag,2 x 3,12,fern\n";
const SHEETS: &str = "sheet,paper,width,height,price\nfern-12,fern,12,12,1.10\n";

impl Default for Reading {
    fn default() -> Reading {
        let (offcuts, envelopes, sundries) = Default::default();
        let (order, sheets) = (ORDER.into(), SHEETS.into());
        Reading { order, sheets, offcuts, envelopes, sundries, workshop: Vec::new() }
    }
}

impl Reading {
    /// `orders/spring.csv` holds these bytes.
    pub fn order(bytes: impl AsRef<[u8]>) -> Reading {
        Reading { order: bytes.as_ref().to_vec(), ..Reading::default() }
    }

    /// One order line with these columns and cells beside the needed ones.
    pub fn order_cells(columns: &str, cells: &str) -> Reading {
        Reading::order(format!("line,card,count,paper,{columns}\ntag,2 x 3,12,fern,{cells}\n"))
    }

    /// `sheets.csv` holds these bytes.
    pub fn sheets(bytes: impl AsRef<[u8]>) -> Reading {
        Reading { sheets: bytes.as_ref().to_vec(), ..Reading::default() }
    }

    /// One sheet with this column and cell beside the needed ones.
    pub fn sheet_cell(column: &str, cell: &str) -> Reading {
        Reading::sheets(format!("sheet,paper,width,height,{column}\nfern-12,fern,12,12,{cell}\n"))
    }

    /// `offcuts.csv` holds these bytes.
    pub fn offcuts(bytes: impl AsRef<[u8]>) -> Reading {
        Reading { offcuts: Some(bytes.as_ref().to_vec()), ..Reading::default() }
    }

    /// The same with these bytes in `envelopes.csv`.
    pub fn with_envelopes(self, bytes: impl AsRef<[u8]>) -> Reading {
        Reading { envelopes: Some(bytes.as_ref().to_vec()), ..self }
    }

    /// The same with these bytes in `sundries.csv`.
    pub fn with_sundries(self, bytes: impl AsRef<[u8]>) -> Reading {
        Reading { sundries: Some(bytes.as_ref().to_vec()), ..self }
    }

    /// `workshop.toml` holds these bytes.
    pub fn workshop(bytes: impl AsRef<[u8]>) -> Reading {
        Reading { workshop: bytes.as_ref().to_vec(), ..Reading::default() }
    }

    /// The same with these bytes in `workshop.toml`.
    pub fn with_workshop(self, bytes: impl AsRef<[u8]>) -> Reading {
        Reading { workshop: bytes.as_ref().to_vec(), ..self }
    }

    /// The same with one kind of sheet, of this size.
    pub fn with_sheet(self, size: &str) -> Reading {
        let (width, height) = size.split_once(" x ").unwrap();
        let row = format!("sheet,paper,width,height,price\nfern,fern,{width},{height},1.10\n");
        Reading { sheets: row.into(), ..self }
    }

    /// All that is told, problem by problem.
    pub fn text(&self) -> String {
        render::problems(&self.problems(), false)
    }

    /// The problems of all files.
    pub fn problems(&self) -> Problems {
        batch::check(&self.inputs())
    }

    /// The bytes of the plan.
    pub fn plan(&self) -> Vec<u8> {
        serde_json::to_vec_pretty(&self.outcome().made.unwrap().plan).unwrap()
    }

    /// How planning ends.
    pub fn outcome(&self) -> Outcome {
        self.outcome_with(IfShort::Tell)
    }

    /// How planning ends where something else is done if the paper is not enough.
    pub fn outcome_with(&self, if_short: IfShort) -> Outcome {
        let outcome = batch::plan(&self.inputs(), &Options { if_short, ..Options::default() });
        assert!(outcome.faults.is_empty(), "{:?}", outcome.faults);
        outcome
    }

    /// The files.
    pub fn inputs(&self) -> Inputs {
        let source =
            |name: &str, bytes: &Vec<u8>| Source { name: name.to_owned(), bytes: bytes.clone() };
        Inputs {
            orders: vec![source("orders/spring.csv", &self.order)],
            sheets: source("sheets.csv", &self.sheets),
            offcuts: self.offcuts.as_ref().map(|bytes| source("offcuts.csv", bytes)),
            envelopes: self.envelopes.as_ref().map(|bytes| source("envelopes.csv", bytes)),
            sundries: self.sundries.as_ref().map(|bytes| source("sundries.csv", bytes)),
            workshop: Some(source("workshop.toml", &self.workshop)),
            ..Inputs::default()
        }
    }

    /// Compares all that is told with `expected`.
    #[track_caller]
    pub fn says(&self, expected: &str) {
        same(&self.text(), expected);
    }

    /// Compares all that is told when the batch is planned with `expected`.
    #[track_caller]
    pub fn says_when_planned(&self, expected: &str) {
        same(&self.text_when_planned(), expected);
    }

    /// All that is told when the batch is planned.
    pub fn text_when_planned(&self) -> String {
        render::problems(&self.outcome().problems, false)
    }
}

/// Compares two texts; the first line break of `expected` is only for looks.
#[track_caller]
pub fn same(text: &str, expected: &str) {
    let expected = expected.strip_prefix('\n').unwrap_or(expected);
    assert!(text == expected, "\n--- told ---\n{text}--- expected ---\n{expected}---\n");
}
