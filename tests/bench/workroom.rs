//! A shelf in a folder of its own, from which orders are planned and settled.

use cardwright::batch::{self, Inputs, Made, Options, Rest, Source};
use cardwright::diagnostics::{Problems, Severity};
use cardwright::settling::{self, Account, HowFar, ToSettle, Trouble};
use cardwright::shelf::{
    Disk, ORIGIN_SCHEMA, Origin, Request, Reversal, Settlement, Shelf, Spot, SystemDisk, digest,
};
use cardwright::stock::{Stock, USUAL_NAMES};
use cardwright::workshop::Workshop;
use std::fs::File;
use std::io::Write;
use std::path::PathBuf;

/// A shelf in a folder, and the bench beside it.
pub struct Workroom {
    folder: tempfile::TempDir,
    pub bench: Source,
    workshop: Workshop,
}

impl Workroom {
    /// With the files of a batch, but for its orders.
    pub fn with(inputs: &Inputs) -> Workroom {
        let folder = tempfile::tempdir().unwrap();
        let bench = inputs.workshop.clone().unwrap();
        let workshop = cardwright::workshop::read("", &bench.bytes, &mut Problems::new());
        let room = Workroom { folder, bench, workshop };
        room.put("sheets.csv", &inputs.sheets.bytes);
        let Inputs { offcuts, envelopes, sundries, .. } = inputs;
        for source in [offcuts, envelopes, sundries].into_iter().flatten() {
            room.put(&source.name, &source.bytes);
        }
        room
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file of the shelf as a person would.
    pub fn put(&self, name: &str, bytes: &[u8]) {
        File::create(self.path(name)).unwrap().write_all(bytes).unwrap();
    }

    /// The shelf, open for a change.
    pub fn shelf(&self) -> Shelf<SystemDisk> {
        self.shelf_on(SystemDisk)
    }

    /// The same on a disk of its own.
    fn shelf_on<D: Disk>(&self, disk: D) -> Shelf<D> {
        let files = USUAL_NAMES.map(|name| self.path(name));
        let spot = Spot::of(&disk, files.each().map(PathBuf::as_path)).unwrap();
        Shelf::open(disk, spot).unwrap()
    }

    /// What lies on it.
    pub fn stock(&self) -> Stock {
        settling::stock(&self.shelf(), &self.workshop).unwrap()
    }

    /// Plans an order from what lies on the shelf; `None` where there is too little.
    pub fn planned(&self, order: Source, options: &Options) -> Option<(Made, ToSettle)> {
        self.made(order, options, None).ok()
    }

    /// Plans the rest of an order of which a part was settled last by this report; the codes of what stands in its way, such
    /// as that nothing is begun or left.
    pub fn rest_of(
        &self,
        order: Source,
        last: &ToSettle,
        options: &Options,
    ) -> Result<(Made, ToSettle), Vec<&'static str>> {
        let journal = self.shelf().journal;
        let name = order.name.trim_end_matches(".csv");
        let begun = settling::begun(name, &journal).map_err(|problem| vec![problem.code])?;
        let known = settling::remainder(last, &begun.plan, &journal).unwrap_or_default();
        let rest = Rest { before: begun.before, known };
        self.made(order, options, Some((begun.plan, rest)))
    }

    fn made(
        &self,
        order: Source,
        options: &Options,
        rest: Option<(String, Rest)>,
    ) -> Result<(Made, ToSettle), Vec<&'static str>> {
        let (rest_of, rest) = rest.unzip();
        let shelf = self.shelf();
        let source = |name: &str, bytes: &Option<Vec<u8>>| {
            bytes.clone().map(|bytes| Source { name: name.to_owned(), bytes })
        };
        let inputs = Inputs {
            orders: vec![order],
            sheets: source("sheets.csv", &shelf.bytes.sheets).unwrap(),
            offcuts: source("offcuts.csv", &shelf.bytes.offcuts),
            envelopes: source("envelopes.csv", &shelf.bytes.envelopes),
            sundries: source("sundries.csv", &shelf.bytes.sundries),
            workshop: Some(self.bench.clone()),
            reserved: shelf.journal.reserved(),
            rest,
            sets: Default::default(),
        };
        let outcome = batch::plan(&inputs, options);
        assert_eq!(outcome.faults, Vec::<String>::new());
        let errors = outcome.problems.iter().filter(|it| it.severity == Severity::Error);
        let codes: Vec<&str> = errors.map(|problem| problem.code).collect();
        let made = outcome.made.ok_or(codes)?;
        let origin = Origin {
            schema: ORIGIN_SCHEMA.to_owned(),
            report: None,
            sheets: None,
            offcuts: None,
            envelopes: None,
            sundries: None,
            workshop: None,
            entries: shelf.journal.entries().len() as u64,
            steps: Some(digest(made.schedule.steps_in_short().as_bytes())),
            rest_of,
            copies: Some(settling::copies(&inputs).unwrap()),
        };
        let named = |name: &str, bytes| Source { name: name.to_owned(), bytes };
        let report = ToSettle {
            plan: named("plan.json", serde_json::to_vec(&made.plan).unwrap()),
            origin: named("origin.json", origin.bytes().unwrap()),
        };
        Ok((made, report))
    }

    /// Settles a report as a person says.
    pub fn settle_so(&self, report: &ToSettle, account: &Account) -> Result<Settlement, Trouble> {
        self.settle_on(SystemDisk, report, account)
    }

    /// The same on a disk of its own.
    pub fn settle_on<D: Disk>(
        &self,
        disk: D,
        report: &ToSettle,
        account: &Account,
    ) -> Result<Settlement, Trouble> {
        let shelf = &mut self.shelf_on(disk);
        let settled = settling::settle(report, Some(&self.bench), account, shelf);
        settled.map(|settled| settled.settlement)
    }

    /// Takes the last part of a report that was settled back, on a disk of its own.
    pub fn undo_on<D: Disk>(&self, disk: D, report: &ToSettle) -> Result<Reversal, Trouble> {
        let on = "2031-05-10".parse().unwrap();
        settling::undo(report, on, &mut self.shelf_on(disk))
    }

    /// Settles all of a report.
    pub fn settle(&self, report: &ToSettle) -> Result<Settlement, Trouble> {
        let request = Request { counted: false, on: "2031-05-09".parse().unwrap() };
        let account = Account {
            extent: HowFar::All,
            spoiled: Default::default(),
            took: Default::default(),
            request,
        };
        self.settle_so(report, &account)
    }
}
