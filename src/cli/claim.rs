//! Whose report lies in a folder. Orders of one name in two folders would share `reports/NAME`, and `settle` would book
//! the later one in place of the other: so the report of another order stays while that order is there, or while its
//! batch is under way. In a folder that was named with `--out`, only a batch that is under way counts.

use super::access;
use super::console::{Console, Exit};
use super::files;
use super::settings::{NamedFile, PlanSettings, Sources};
use super::typed::as_typed;
use crate::reports::visible::shown;
use crate::settling::{self, ToSettle};
use crate::shelf::{Journal, Origin, inside};
use crate::stock::USUAL_NAMES;
use std::path::{Path, PathBuf};

/// The report that lies in a folder.
struct LyingReport {
    report: ToSettle,
    origin: Origin,
    /// The folder it was planned in.
    home: PathBuf,
}

/// Refuses a folder that another order claims, or whose report is in use: a part of it is settled, and by its steps the
/// rest is cut.
///
/// # Errors
/// It is told already why the folder stays as it is.
pub fn check(folder: &Path, settings: &PlanSettings, console: &mut Console) -> Result<(), Exit> {
    let Some(lying) = LyingReport::of(folder) else { return Ok(()) };
    let free = as_typed(&free(folder));
    let Some(order) = lying.other_order(&settings.sources.orders) else {
        return match lying.asks(console, settling::is_in_use) {
            false => Ok(()),
            true => {
                let title = format!("{} is in use: part of it is settled", folder.display());
                let help = format!(
                    "plan what is left with --rest, or all of it again with --out, such as --out {free}"
                );
                Err(console.refused(&title, &help))
            }
        };
    };
    let name = shown(&order.display().to_string());
    let title = match lying.asks(console, settling::is_under_way) {
        true => format!("{} is the report of {name}, which is under way", folder.display()),
        false if settings.out.is_none() && order.exists() => {
            format!("{} is the report of another order: {name}", folder.display())
        }
        false => return Ok(()),
    };
    Err(console.refused(&title, &format!("name a folder with --out, such as --out {free}")))
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

impl LyingReport {
    /// The one in a folder; `None` where there is none that says whose it is.
    fn of(folder: &Path) -> Option<LyingReport> {
        let report = files::report_now(folder)?;
        let origin = settling::origin(&report.origin).ok()?;
        let home = planned_in(folder, &origin);
        Some(LyingReport { report, home, origin })
    }

    /// An order that it is of and that is none of these.
    fn other_order(&self, orders: &[PathBuf]) -> Option<PathBuf> {
        let is_ours = |name: &str| {
            let other = self.home.join(name);
            let is_same = |order: &PathBuf| match (order.canonicalize(), other.canonicalize()) {
                (Ok(order), Ok(other)) => order == other,
                // What came through a pipe has nothing but its name.
                _ => settling::order_name(order) == name,
            };
            orders.iter().any(is_same)
        };
        let copies = self.origin.copies.as_ref()?;
        let other = copies.orders.iter().find(|order| !is_ours(&order.name))?;
        Some(self.home.join(&other.name))
    }

    /// Asks the journal of its shelf about it. A shelf that cannot be read says nothing.
    fn asks(&self, console: &mut Console, what: fn(&ToSettle, &Journal) -> bool) -> bool {
        let file = |(noted, name): (&Option<String>, &str)| NamedFile {
            path: self.home.join(noted.as_deref().and_then(inside).unwrap_or(name.into())),
            named: false,
        };
        let sources = Sources {
            orders: Vec::new(),
            stock: self.origin.stock().with(USUAL_NAMES).map(file),
            workshop: file((&self.origin.workshop, "workshop.toml")),
        };
        match access::view(&sources, console) {
            Ok(Some(view)) => what(&self.report, &view.journal),
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
