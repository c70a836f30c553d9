//! What is meant: the arguments with their defaults filled in.

#[cfg(feature = "highs")]
use super::arguments::EngineArgument;
use super::arguments::{CheckArguments, EffortArgument, PlanArguments, WorkshopArguments};
use crate::batch::{Effort, Engine, IfShort, Options};
use crate::stock::{PerFile, USUAL_NAMES};
use jiff::civil::Date;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// A file, and whether the person named it: what was named must be there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedFile {
    /// Where it is.
    pub path: PathBuf,
    /// Whether the person named it.
    pub named: bool,
}

/// All files of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sources {
    /// The orders.
    pub orders: Vec<PathBuf>,
    /// The stock; its sheets must be there.
    pub stock: PerFile<NamedFile>,
    /// The bench.
    pub workshop: NamedFile,
}

impl Sources {
    /// The files of the shelf.
    pub fn shelf(&self) -> PerFile<&Path> {
        self.stock.each().map(|file| file.path.as_path())
    }

    /// All files, the orders first.
    pub fn paths(&self) -> Vec<&Path> {
        let orders = self.orders.iter().map(PathBuf::as_path);
        orders.chain(self.shelf().array()).chain([self.workshop.path.as_path()]).collect()
    }
}

/// What `plan` has to do.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSettings {
    /// What to read.
    pub sources: Sources,
    /// Where to write; `None` is a folder named after the order.
    pub out: Option<PathBuf>,
    /// How to plan.
    pub options: Options,
    /// Whether to plan again whenever a file is saved.
    pub watch: bool,
    /// Whether to set paper aside.
    pub reserve: bool,
    /// Whether only the rest of the batch is to be made.
    pub rest: bool,
    /// To whom the cards are offered.
    pub customer: Option<String>,
    /// The day of the offer.
    pub on: Option<Date>,
    /// Whether to keep quiet about what goes well.
    pub quiet: bool,
    /// Whether to print the plan.
    pub json: bool,
}

/// What `check` has to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckSettings {
    /// Input files; `None` where only plans are to be judged.
    pub sources: Option<Sources>,
    /// Plans to judge.
    pub plans: Vec<PathBuf>,
    /// The bench they are judged by.
    pub workshop: NamedFile,
    /// Whether a script reads what was found.
    pub json: bool,
}

impl From<PlanArguments> for PlanSettings {
    fn from(typed: PlanArguments) -> PlanSettings {
        let effort = match typed.effort {
            EffortArgument::Quick => Effort::Quick,
            EffortArgument::Normal => Effort::Normal,
            EffortArgument::Long => Effort::Long,
        };
        PlanSettings {
            sources: sources(typed.orders.clone(), &typed.workshop, &typed.orders),
            out: typed.out,
            options: Options {
                limit: typed.limit,
                effort,
                threads: typed.threads.map(usize::from),
                #[cfg(feature = "highs")]
                engine: engine(typed.engine),
                #[cfg(not(feature = "highs"))]
                engine: Engine::default(),
                if_short: if typed.as_many { IfShort::AsMany } else { IfShort::Tell },
            },
            watch: typed.watch,
            reserve: typed.reserve,
            rest: typed.rest,
            customer: typed.customer,
            on: typed.on,
            quiet: typed.quiet,
            json: typed.json,
        }
    }
}

#[cfg(feature = "highs")]
fn engine(typed: EngineArgument) -> Engine {
    match typed {
        EngineArgument::Microlp => Engine::Microlp,
        EngineArgument::Highs => Engine::Highs,
    }
}

impl From<CheckArguments> for CheckSettings {
    fn from(typed: CheckArguments) -> CheckSettings {
        let CheckArguments { files, mut workshop, json } = typed;
        let (mut orders, mut plans) = (Vec::new(), Vec::new());
        for file in &files {
            let role = match file.file_name().and_then(OsStr::to_str) {
                Some("sheets.csv") => &mut workshop.sheets,
                Some("offcuts.csv") => &mut workshop.offcuts,
                Some("envelopes.csv") => &mut workshop.envelopes,
                Some("sundries.csv") => &mut workshop.sundries,
                Some("workshop.toml") => &mut workshop.workshop,
                _ if file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json")) => {
                    plans.push(file.clone());
                    continue;
                }
                _ => {
                    orders.push(file.clone());
                    continue;
                }
            };
            *role = Some(file.clone());
        }
        let only_plans = plans.len() == files.len();
        // A plan lies in its report folder, far from the stock.
        let is_input = |file: &&PathBuf| only_plans || !plans.contains(file);
        let beside: Vec<PathBuf> = files.iter().filter(is_input).cloned().collect();
        let sources = sources(orders, &workshop, &beside);
        let bench = sources.workshop.clone();
        CheckSettings { sources: (!only_plans).then_some(sources), plans, workshop: bench, json }
    }
}

/// The files of a batch; what was not named lies beside the first of `beside`.
pub fn sources(orders: Vec<PathBuf>, named: &WorkshopArguments, beside: &[PathBuf]) -> Sources {
    let folder = beside.first().and_then(|order| order.parent()).unwrap_or(Path::new(""));
    let wanted = |(named, name): (Option<&PathBuf>, &str)| match named {
        Some(path) => NamedFile { path: path.clone(), named: true },
        None => NamedFile { path: folder.join(name), named: false },
    };
    Sources {
        orders,
        stock: named.stock().with(USUAL_NAMES).map(wanted),
        workshop: wanted((named.workshop.as_ref(), "workshop.toml")),
    }
}

#[cfg(test)]
mod tests {
    use super::super::arguments::{Arguments, Command};
    use super::*;
    use clap::Parser;
    use std::time::Duration;

    fn plan(typed: &str) -> PlanSettings {
        match Arguments::parse_from(typed.split(' ')).command {
            Command::Plan(arguments) => arguments.into(),
            other => panic!("{other:?}"),
        }
    }

    fn check(typed: &str) -> CheckSettings {
        match Arguments::parse_from(typed.split(' ')).command {
            Command::Check(arguments) => arguments.into(),
            other => panic!("{other:?}"),
        }
    }

    fn wanted(path: &str, named: bool) -> NamedFile {
        NamedFile { path: path.into(), named }
    }

    #[test]
    fn workshop_files_lie_beside_the_first_order() {
        let sources = plan("cardwright plan a/spring.csv b/tags.csv").sources;
        assert_eq!(sources.stock.sheets, wanted("a/sheets.csv", false));
        assert_eq!(sources.stock.offcuts, wanted("a/offcuts.csv", false));
        assert_eq!(sources.workshop, wanted("a/workshop.toml", false));
    }

    #[test]
    fn an_order_in_the_current_folder_has_its_files_there() {
        assert_eq!(
            plan("cardwright plan spring.csv").sources.stock.sheets,
            wanted("sheets.csv", false)
        );
    }

    #[test]
    fn named_files_are_taken_as_named() {
        let settings = plan(
            "cardwright plan a/spring.csv --sheets s.csv --out o --limit 7 --effort long --threads 3",
        );
        assert_eq!(settings.sources.stock.sheets, wanted("s.csv", true));
        assert_eq!(settings.out, Some("o".into()));
        let limit = Some(Duration::from_secs(7));
        let (effort, threads) = (Effort::Long, Some(3));
        assert_eq!(settings.options, Options { limit, effort, threads, ..Options::default() });
        assert!(!settings.quiet && !settings.json);
    }

    #[cfg(feature = "highs")]
    #[test]
    fn an_engine_can_be_chosen() {
        let chosen = |typed: &str| plan(typed).options.engine;
        assert_eq!(chosen("cardwright plan a.csv"), Engine::Microlp);
        assert_eq!(chosen("cardwright plan a.csv --engine microlp"), Engine::Microlp);
        assert_eq!(chosen("cardwright plan a.csv --engine highs"), Engine::Highs);
    }

    #[test]
    fn checked_files_are_told_apart_by_their_names() {
        let settings =
            check("cardwright check a/sheets.csv a/spring.csv r/plan.json b/workshop.toml");
        let sources = settings.sources.unwrap();
        assert_eq!(sources.orders, [PathBuf::from("a/spring.csv")]);
        assert_eq!(sources.stock.sheets, wanted("a/sheets.csv", true));
        assert_eq!(sources.stock.offcuts, wanted("a/offcuts.csv", false));
        assert_eq!(settings.workshop, wanted("b/workshop.toml", true));
        assert_eq!(settings.plans, [PathBuf::from("r/plan.json")]);
    }

    #[test]
    fn plans_alone_need_no_sheets() {
        assert_eq!(check("cardwright check r/plan.json").sources, None);
    }
}
