//! `Reading::order("…").says("…")`: bytes in, exact rendered text out.

use cardwright::cli::render;
use cardwright::diagnostics::Problems;
use cardwright::{orders, stock, workshop};

/// Files that are read together, all of them sound until one is replaced.
pub struct Reading {
    pub order: Vec<u8>,
    pub sheets: Vec<u8>,
    pub offcuts: Option<Vec<u8>>,
    pub workshop: Vec<u8>,
}

const ORDER: &str = "line,card,count,paper\ntag,2 x 3,12,fern\n";
const SHEETS: &str = "sheet,paper,width,height,price\nfern-12,fern,12,12,1.10\n";

impl Default for Reading {
    fn default() -> Reading {
        Reading { order: ORDER.into(), sheets: SHEETS.into(), offcuts: None, workshop: Vec::new() }
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

    /// `workshop.toml` holds these bytes.
    pub fn workshop(bytes: impl AsRef<[u8]>) -> Reading {
        Reading { workshop: bytes.as_ref().to_vec(), ..Reading::default() }
    }

    /// All that is told, problem by problem.
    pub fn text(&self) -> String {
        render::problems(&self.problems(), false)
    }

    /// The problems of all files.
    pub fn problems(&self) -> Problems {
        let mut problems = Problems::new();
        let workshop = workshop::read("workshop.toml", &self.workshop, &mut problems);
        let sheets = ("sheets.csv", self.sheets.as_slice());
        let offcuts = self.offcuts.as_ref().map(|bytes| ("offcuts.csv", bytes.as_slice()));
        let stock = stock::read(sheets, offcuts, &workshop, &mut problems);
        let (file, style) = ("orders/spring.csv", workshop.style());
        let order = orders::read("spring", file, &self.order, style, &mut problems);
        if order.is_some() && stock.is_some() {
            let papers = stock::papers([sheets].into_iter().chain(offcuts));
            orders::check_papers(file, &self.order, &papers, &mut problems);
        }
        problems
    }

    /// Compares all that is told with `expected`, whose first line break is only for looks.
    #[track_caller]
    pub fn says(&self, expected: &str) {
        let text = self.text();
        let expected = expected.strip_prefix('\n').unwrap_or(expected);
        assert!(text == expected, "\n--- told ---\n{text}--- expected ---\n{expected}---\n");
    }
}
