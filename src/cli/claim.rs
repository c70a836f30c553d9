//! Whose report lies in a folder. Orders of one name in two folders would share `reports/NAME`, and `settle` would book
//! the later one in place of the other: so the report of another order stays while that order is there, or while its
//! batch is under way. In a folder that was named with `--out`, only a batch that is under way counts.

use super::access;
use super::console::{Console, Exit};
use super::files;
use super::settings::{NamedFile, PlanSettings, Sources};
use super::typed::as_typed;
use crate::batch::Source;
use crate::reports::visible::shown;
use crate::settling::{self, ToSettle};
use crate::shelf::{Origin, inside};
use std::path::{Path, PathBuf};

/// The report of another order.
struct OtherReport {
    report: ToSettle,
    origin: Origin,
    /// The folder it was planned in.
    home: PathBuf,
    /// The other order.
    order: PathBuf,
}

/// Refuses a folder that another order claims.
///
/// # Errors
/// It is told already which order that is.
pub fn check(folder: &Path, settings: &PlanSettings, console: &mut Console) -> Result<(), Exit> {
    let Some(claim) = claim(folder, &settings.sources.orders) else { return Ok(()) };
    let order = shown(&claim.order.display().to_string());
    let title = match claim.is_under_way(console) {
        true => format!("{} is the report of {order}, which is under way", folder.display()),
        false if settings.out.is_none() && claim.order.exists() => {
            format!("{} is the report of another order: {order}", folder.display())
        }
        false => return Ok(()),
    };
    let free = as_typed(&free(folder));
    Err(console.refused(&title, &format!("name a folder with --out, such as --out {free}")))
}

/// The claim of an order that is none of these; `None` where the folder has no report that says whose it is.
fn claim(folder: &Path, orders: &[PathBuf]) -> Option<OtherReport> {
    let source = |name: &str| {
        let path = folder.join(name);
        Some(Source { bytes: files::now(&path)?, name: path.display().to_string() })
    };
    let report = ToSettle { plan: source("plan.json")?, origin: source("origin.json")? };
    let origin = settling::origin(&report.origin).ok()?;
    let home = planned_in(folder, &origin);
    let is_ours = |name: &str| {
        let other = home.join(name);
        let is_same = |order: &PathBuf| match (order.canonicalize(), other.canonicalize()) {
            (Ok(order), Ok(other)) => order == other,
            // What came through a pipe has nothing but its name.
            _ => settling::order_name(order) == name,
        };
        orders.iter().any(is_same)
    };
    let other = origin.copies.as_ref()?.orders.iter().find(|order| !is_ours(&order.name))?;
    let order = home.join(&other.name);
    Some(OtherReport { report, home, order, origin })
}

/// The folder in which a report was planned, as seen from here: this one, unless its note leads to another.
fn planned_in(folder: &Path, origin: &Origin) -> PathBuf {
    let full = |path: &Path| path.canonicalize().ok();
    let found = || {
        let (noted, found) = (inside(origin.report.as_deref()?)?, full(folder)?);
        let home = found.ancestors().nth(noted.components().count())?.to_owned();
        (full(&home.join(noted))? == found && full(Path::new("."))? != home).then_some(home)
    };
    found().unwrap_or_default()
}

impl OtherReport {
    /// Whether a part of the batch is settled, or paper is set aside for it. A shelf that cannot be read says nothing.
    fn is_under_way(&self, console: &mut Console) -> bool {
        let file = |noted: &Option<String>, name: &str| NamedFile {
            path: self.home.join(noted.as_deref().and_then(inside).unwrap_or(name.into())),
            named: false,
        };
        let sources = Sources {
            orders: Vec::new(),
            sheets: file(&self.origin.sheets, "sheets.csv"),
            offcuts: file(&self.origin.offcuts, "offcuts.csv"),
            workshop: file(&self.origin.workshop, "workshop.toml"),
        };
        match access::view(&sources, console) {
            Ok(Some(view)) => settling::is_under_way(&self.report, &view.journal),
            _ => false,
        }
    }
}

/// The folder's name with the first number behind it that is free.
fn free(folder: &Path) -> PathBuf {
    let name = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut names = (2..).map(|number: u64| folder.with_file_name(format!("{name}-{number}")));
    names.find(|path| path.symlink_metadata().is_err()).unwrap_or_else(|| folder.to_owned())
}
