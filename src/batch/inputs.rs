//! The files of a batch, and what is read from them.

use crate::diagnostics::{
    Problem, Problems, WorkshopFile, counted, listed, plan_command, shelf_command,
};
use crate::job::Job;
use crate::orders::{self, Order, StockNames};
use crate::pieces::{self, Before};
use crate::program::Start;
use crate::schedule::UncutSheets;
use crate::stock::{self, Counts, PerFile, Stock};
use crate::table::Named;
use crate::workshop::{self, Workshop};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A file that was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Source {
    /// Its name as the person gave it.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// All files a batch is made from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Inputs {
    /// One or more orders, planned as one batch.
    pub orders: Vec<Source>,
    /// The full sheets.
    pub sheets: Source,
    /// The drawer.
    pub offcuts: Option<Source>,
    /// Bought envelopes.
    pub envelopes: Option<Source>,
    /// Whatever else is bought ready-made.
    pub sundries: Option<Source>,
    /// The bench.
    pub workshop: Option<Source>,
    /// Paper that is set aside, by batch.
    pub reserved: BTreeMap<String, Counts>,
    /// What there is to know where the rest of a batch is to be made.
    pub rest: Option<Rest>,
    /// Sets that are made of a line, where these are fewer than ordered.
    pub sets: BTreeMap<String, u64>,
}

/// What is known of a batch that is under way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rest {
    /// What earlier plans have come to.
    pub before: Before,
    /// What the last of them had left to cut.
    pub known: Remainder,
}

impl Rest {
    /// The rest after this, of which no plan is known.
    pub fn of(before: Before) -> Rest {
        Rest { before, known: Remainder::default() }
    }
}

/// What is left of a plan: sheets and stacks, and how they would be cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Remainder {
    /// The ids of its pieces, by the index that the layouts have for them.
    pub pieces: Vec<String>,
    /// The sheets.
    pub sheets: Vec<UncutSheets>,
}

impl Source {
    fn file(&self) -> Named<'_> {
        Named::new(&self.name, &self.bytes)
    }
}

impl Inputs {
    /// The name of the batch.
    pub fn name(&self) -> String {
        let names: Vec<&str> = self.orders.iter().map(|source| batch_name(&source.name)).collect();
        names.join("+")
    }

    /// The files of the stock.
    fn stock(&self) -> PerFile<Option<Named<'_>>> {
        let Inputs { sheets, offcuts, envelopes, sundries, .. } = self;
        let [offcuts, envelopes, sundries] =
            [offcuts, envelopes, sundries].map(|source| source.as_ref().map(Source::file));
        PerFile { sheets: Some(sheets.file()), offcuts, envelopes, sundries }
    }
}

/// Everything that was read for a batch.
pub(super) struct Readied {
    pub job: Job,
    /// What is left of an earlier plan.
    pub known: Start,
    /// The batches for which paper is set aside that this one could use.
    pub set_aside: Vec<Aside>,
    /// The files that it was read from.
    pub names: FileNames,
}

/// Files as the person named them.
#[derive(Clone, Default)]
pub(super) struct FileNames {
    /// The orders.
    pub orders: Vec<String>,
    /// Those of the stock.
    pub stock: PerFile<Option<String>>,
    /// The bench.
    pub workshop: Option<String>,
}

impl FileNames {
    fn of(inputs: &Inputs) -> FileNames {
        let name = |source: &Source| source.name.clone();
        FileNames {
            orders: inputs.orders.iter().map(name).collect(),
            stock: inputs.stock().map(|file| file.map(|file| file.name.to_owned())),
            workshop: inputs.workshop.as_ref().map(name),
        }
    }

    /// A command on the shelf of these files, as the person would type it.
    pub fn shelf_command(&self, verb: &str) -> String {
        shelf_command(verb, &self.stock.each().map(Option::as_deref).named())
    }

    /// The command that plans these files with one more option.
    pub fn plan_command(&self, option: &str) -> String {
        let stock = self.stock.each().map(Option::as_deref).named();
        let bench = WorkshopFile { usual: "workshop.toml", path: self.workshop.as_deref() };
        let files: Vec<WorkshopFile> = stock.into_iter().chain([bench]).collect();
        plan_command(&self.orders, &files, option)
    }
}

/// Reads all files and finds all their mistakes; `None` where there are any.
pub(super) fn read(inputs: &Inputs, problems: &mut Problems) -> Option<Readied> {
    let workshop = read_workshop(inputs.workshop.as_ref(), problems);
    let sound_bench = !problems.has_errors();
    let mut later = Problems::new();
    let batch = read_batch(inputs, workshop, sound_bench, &mut later);
    if !sound_bench {
        // What looks doubtful on a bench that was misread may be right on the real one.
        later.drop_warnings();
    }
    problems.append(later);
    batch.filter(|_| !problems.has_errors())
}

/// Reads order and stock for a bench.
fn read_batch(
    inputs: &Inputs,
    workshop: Workshop,
    sound_bench: bool,
    problems: &mut Problems,
) -> Option<Readied> {
    // Every file is read before any is given up.
    let orders = read_orders(&inputs.orders, &workshop, problems);
    let mut of_stock = Problems::new();
    let stock = read_stock(inputs, &workshop, &mut of_stock);
    let sound_stock = !of_stock.has_errors();
    problems.append(of_stock);
    let mut stock = stock?;
    if sound_stock {
        stock::check_edges(inputs.sheets.file(), &stock, &workshop, problems);
    }
    check_papers(inputs, problems);
    check_names(inputs, problems);
    let mut order = together(orders.into_iter().flatten().collect());
    leave_out(&mut order, &inputs.sets, problems);
    let set_aside = set_aside(&mut stock, &order.name, &inputs.reserved);
    let names: Vec<&str> = inputs.orders.iter().map(|source| source.name.as_str()).collect();
    let mut of_pieces = Problems::of_file(&listed(&names));
    let job = Job::new(order, stock, workshop, &mut of_pieces);
    let job = job.after(inputs.rest.as_ref().map(|rest| rest.before.clone()), &mut of_pieces);
    // Pieces held against a stock or bench that was misread would be blamed for its mistakes.
    if sound_bench && sound_stock {
        pieces::check_fit(&job.bill.left(), &job.stock, &job.workshop, &mut of_pieces);
    }
    problems.append(of_pieces);
    let known = inputs.rest.as_ref().map(|rest| known(&rest.known, &job)).unwrap_or_default();
    check_rest(&job, problems);
    Some(Readied { job, known, set_aside, names: FileNames::of(inputs) })
}

/// What is left of a plan, with sheets and pieces by their places in stock and bill.
fn known(Remainder { pieces, sheets }: &Remainder, Job { stock, bill, .. }: &Job) -> Start {
    let mut start = Start::default();
    for UncutSheets { sheet, layout, count, .. } in sheets {
        let Some(sheet) = stock.sheets.iter().position(|known| known.id == *sheet) else {
            continue;
        };
        start.add(sheet, layout.clone(), *count);
    }
    let place = |id: &String| bill.pieces.iter().position(|piece| piece.id == *id);
    let places: Vec<Option<usize>> = pieces.iter().map(place).collect();
    start.renamed(|piece| places.get(piece).copied().flatten())
}

/// What is wrong with the sets that are said to be made.
pub(super) const WRONG_SETS: &str = "plan-sets";

/// Leaves of each line only the sets that are made.
fn leave_out(order: &mut Order, sets: &BTreeMap<String, u64>, problems: &mut Problems) {
    for (name, made) in sets {
        let line = order.lines.iter_mut().find(|line| line.name.value == *name);
        let ordered = line.as_ref().map_or(0, |line| line.count.value);
        match line {
            Some(line) if *made <= ordered => line.count.value = *made,
            _ => problems.push(not_ordered(name, *made, ordered)),
        }
    }
    order.lines.retain(|line| line.count.value > 0);
    if order.lines.is_empty() && !sets.is_empty() {
        let nothing = Problem::error(WRONG_SETS, "origin.json says that nothing is made");
        problems.push(nothing.help("plan the order again"));
    }
}

fn not_ordered(name: &str, made: u64, ordered: u64) -> Problem {
    let are = if made == 1 { "is" } else { "are" };
    let title = format!("origin.json says that {} of `{name}` {are} made", counted(made, "set"));
    let ordered = match ordered {
        0 => format!("the order has no line `{name}`"),
        ordered => format!("only {ordered} are ordered"),
    };
    Problem::error(WRONG_SETS, title).help(ordered).help("plan the order again")
}

fn read_orders(
    sources: &[Source],
    workshop: &Workshop,
    problems: &mut Problems,
) -> Vec<Option<Order>> {
    let mut read = |source: &Source| {
        let (style, own) = (workshop.style(), &workshop.formats);
        orders::read(batch_name(&source.name), source.file(), style, own, problems)
    };
    sources.iter().map(&mut read).collect()
}

/// The paper of a batch's files; `None` where they are not understood.
pub fn read_stock(inputs: &Inputs, workshop: &Workshop, problems: &mut Problems) -> Option<Stock> {
    stock::read(inputs.stock(), workshop, problems)
}

/// What another batch has set aside.
pub(super) struct Aside {
    /// Its name.
    pub holder: String,
    /// The papers, envelopes and sundries.
    pub names: BTreeSet<String>,
}

/// Takes what is set aside for other batches from the stock, and tells which these are.
fn set_aside(stock: &mut Stock, batch: &str, reserved: &BTreeMap<String, Counts>) -> Vec<Aside> {
    let mut all = Vec::new();
    for (holder, paper) in reserved.iter().filter(|(holder, _)| *holder != batch) {
        let mut names = BTreeSet::new();
        for sheet in &mut stock.sheets {
            let count = paper.get(&sheet.id).copied().unwrap_or_default();
            sheet.on_hand = sheet.on_hand.saturating_sub(count);
            names.extend((count > 0).then(|| sheet.paper.clone()));
        }
        for supply in stock.supplies_mut() {
            let count = paper.get(&supply.name).copied().unwrap_or_default();
            supply.on_hand = supply.on_hand.saturating_sub(count);
            names.extend((count > 0).then(|| supply.name.clone()));
        }
        all.push(Aside { holder: holder.clone(), names });
    }
    all
}

/// Tells where nothing is left to be made of a batch.
fn check_rest(job: &Job, problems: &mut Problems) {
    let is_made = job.bill.pieces.iter().all(|piece| piece.wanted() == 0);
    if job.before.is_some() && is_made && !problems.has_errors() {
        let title = format!("nothing is left to cut of {}", job.order.name);
        problems.push(
            Problem::error("rest-done", title)
                .help("all its pieces are finished; to make it again, plan it without `--rest`"),
        );
    }
}

/// Tells of orders that have one name: their lines could not be told apart.
fn check_names(inputs: &Inputs, problems: &mut Problems) {
    let mut seen: BTreeMap<&str, &str> = BTreeMap::new();
    for Source { name: file, .. } in &inputs.orders {
        let name = batch_name(file);
        if let Some(first) = seen.insert(name, file) {
            let title = format!("two orders are called `{name}`: {first} and {file}");
            problems.push(
                Problem::error("order-name-doubled", title)
                    .help("rename one of the files, or plan them one after the other"),
            );
        }
    }
}

/// Tells of papers in the orders that no file of the stock names.
fn check_papers(inputs: &Inputs, problems: &mut Problems) {
    let names = StockNames {
        papers: stock::papers(inputs.stock()),
        envelopes: stock::envelopes(inputs.stock()),
    };
    for Source { name, bytes } in &inputs.orders {
        orders::check_papers(name, bytes, &names, problems);
    }
}

/// Reads the bench, all defaults where there is no file.
pub(crate) fn read_workshop(source: Option<&Source>, problems: &mut Problems) -> Workshop {
    match source {
        Some(source) => workshop::read(&source.name, &source.bytes, problems),
        None => Workshop::default(),
    }
}

/// The name of an order: its file's, without folders and ending.
fn batch_name(file: &str) -> &str {
    Path::new(file).file_stem().and_then(|stem| stem.to_str()).unwrap_or("order")
}

/// Several orders as one batch; the lines then carry their order's name.
fn together(mut orders: Vec<Order>) -> Order {
    if orders.len() == 1 {
        return orders.swap_remove(0);
    }
    let names: Vec<&str> = orders.iter().map(|order| order.name.as_str()).collect();
    let name = names.join("+");
    let lines = orders.into_iter().flat_map(|order| {
        let Order { name, lines } = order;
        lines.into_iter().map(move |mut line| {
            let named = |line: &mut String| *line = format!("{name}.{line}");
            named(&mut line.name.value);
            line.goes_in.as_mut().map(|host| &mut host.value).map(named);
            line
        })
    });
    Order { name, lines: lines.collect() }
}
