//! `workshop.toml` to a workshop.

use super::document::{Reader, TomlTable};
use super::{BlankRule, EnvelopeKind, Finish, GrainRule, PageSize, Postage, Workshop};
use crate::diagnostics::{Problem, Problems, SourceText};
use crate::formats::{self, CardFormat, EnvelopeFormat, OwnFormats, SheetFormat, label_grids};
use crate::measure::{Length, Unit};
use std::collections::BTreeSet;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

const POSITIVE: Length = Length::from_ticks(1);

/// Largest file that is read, in bytes. A bench with all keys has a few thousand.
const LARGEST: usize = 1 << 20;

/// Reads a workshop from the bytes of `file`; a missing key means its default.
///
/// All mistakes become problems; a key with a mistake has its default too.
pub fn read(file: &str, bytes: &[u8], problems: &mut Problems) -> Workshop {
    let mut found = Problems::of_file(file);
    let mut workshop = Workshop::default();
    if bytes.len() > LARGEST {
        problems.push(
            Problem::error("workshop-large", format!("{file} is larger than 1 MiB"))
                .help("it needs a few lines: check that it is the right file"),
        );
        return workshop;
    }
    match std::str::from_utf8(bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes)) {
        Ok(text) if !text.contains('\0') => {
            let mut told = read_text(file, text, &mut workshop);
            told.sort_by_key(|problem| {
                problem.place.as_ref().map(|place| (place.line, place.column))
            });
            found.extend(told);
        }
        _ => found.push(
            Problem::error("workshop-encoding", format!("{file} is not a text file in UTF-8"))
                .help("it is plain text, one key a line, such as unit = \"in\""),
        ),
    }
    problems.append(found);
    workshop
}

fn read_text(file: &str, text: &str, workshop: &mut Workshop) -> Vec<Problem> {
    let source = SourceText::new(file, text);
    let (document, errors) = DeTable::parse_recoverable(text);
    let mut reader = Reader { source: &source, unit: workshop.unit, problems: Vec::new() };
    let mut top = TomlTable::new(String::new(), Some(document.get_ref()));
    reader.top(&mut top, workshop);
    if !errors.is_empty() {
        // What the parser guesses behind a slip would only add confusion. The unit is known all the same, so
        // that other files are not misread.
        return errors.iter().map(|error| syntax(error, &source)).collect();
    }
    let mut section = reader.section(&mut top, "trimmer");
    reader.trimmer(&mut section, workshop);
    let mut section = reader.section(&mut top, "keep");
    reader.keep(&mut section, workshop);
    let mut section = reader.section(&mut top, "spares");
    reader.spares(&mut section, workshop);
    let mut section = reader.section(&mut top, "grain");
    reader.grain(&mut section, workshop);
    // Other sections name formats.
    let mut section = reader.section(&mut top, "formats");
    reader.formats(&mut section, workshop);
    let mut section = reader.section(&mut top, "envelope");
    reader.envelope(&mut section, workshop);
    let mut section = reader.section(&mut top, "rates");
    reader.rates(&mut section, workshop);
    let mut section = reader.section(&mut top, "maker");
    reader.maker(&mut section, workshop);
    let mut section = reader.section(&mut top, "post");
    reader.post(&mut section, workshop);
    let section = reader.section(&mut top, "finish");
    reader.finishes(&section, workshop);
    reader.finish(&top);
    reader.problems
}

fn syntax(error: &toml::de::Error, source: &SourceText) -> Problem {
    let place = error.span().map(|span| source.place(span));
    Problem::error("workshop-syntax", "a line cannot be read")
        .at(place.as_ref(), error.message().lines().next().unwrap_or_default())
        .help("write `key = value`; text, and a length with its unit, in quotes: knife = \"15 in\"")
        .help("a number has a point, not a comma: labour_per_hour = 22.50")
}

/// The classes of these rules, as words; those of all where the rules are mistaken.
fn classes_of(rules: Option<&str>) -> Vec<(&'static str, &'static str)> {
    let known =
        formats::post_rules().iter().filter(|known| rules.is_none_or(|it| known.name == it));
    let classes = known.flat_map(|rules| &rules.classes);
    classes.map(|class| (class.name.as_str(), class.name.as_str())).collect()
}

/// Puts what was read in the place of a default.
fn set<T>(target: &mut T, read: Option<T>) {
    if let Some(value) = read {
        *target = value;
    }
}

impl Reader<'_> {
    fn top(&mut self, top: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let units = [("in", Unit::Inch), ("mm", Unit::Millimetre)];
        if let Some(unit) = self.word(top, "unit", &units) {
            // The other keys have the defaults of benches with this unit.
            *workshop = Workshop::usual(unit);
            self.unit = unit;
        }
        set(&mut workshop.currency, self.currency(top, "currency"));
        set(&mut workshop.page, self.word(top, "page", &PageSize::NAMES));
        let grids = label_grids().iter().map(|grid| (grid.name.as_str(), Some(grid)));
        let labels: Vec<_> = std::iter::once(("cut", None)).chain(grids).collect();
        set(&mut workshop.labels, self.word(top, "labels", &labels));
    }

    fn trimmer(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let trimmer = &mut workshop.trimmer;
        set(&mut trimmer.knife, self.length(section, "knife", POSITIVE));
        trimmer.reach = trimmer.knife;
        set(&mut trimmer.reach, self.length(section, "reach", POSITIVE));
        set(&mut trimmer.graduation, self.length(section, "graduation", POSITIVE));
        set(&mut trimmer.blade, self.length(section, "blade", Length::ZERO));
        set(&mut trimmer.squaring, self.length(section, "squaring", Length::ZERO));
        set(&mut trimmer.smallest_hold, self.length(section, "smallest_hold", Length::ZERO));
        let stages = self.count(section, "stages", 0..=100);
        set(&mut trimmer.stages, stages.map(|most| (most > 0).then_some(most as u32)));
        set(&mut trimmer.waiting, self.count(section, "waiting", 1..=10_000));
        set(&mut trimmer.lift.sheets, self.count(section, "lift", 1..=10_000).map(Some));
        let thickness = self.thickness(section, "lift_thickness");
        set(&mut trimmer.lift.thickness, thickness);
        let squaring = trimmer.squaring;
        if squaring != Length::ZERO && squaring < trimmer.blade {
            let blade = workshop.style().with_unit(workshop.trimmer.blade);
            let place = self.place(section, "squaring").or(self.place(section, "blade"));
            self.problems.push(
                Problem::error("workshop-squaring", "trimmer.squaring is less than the blade")
                    .at(place.as_ref(), format!("expected 0, or at least {blade}"))
                    .help("the squaring cut takes the blade's width off too"),
            );
        }
        self.finish(section);
    }

    fn keep(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let keep = &mut workshop.keep;
        set(&mut keep.short, self.length(section, "short", POSITIVE));
        set(&mut keep.long, self.length(section, "long", POSITIVE));
        set(&mut keep.value, self.percent(section, "value", 100));
        if keep.short > keep.long {
            let long = workshop.style().with_unit(workshop.keep.long);
            let place = self.place(section, "short").or(self.place(section, "long"));
            self.problems.push(
                Problem::error("workshop-keep", "keep.short is longer than keep.long")
                    .at(place.as_ref(), format!("expected at most keep.long, {long}")),
            );
        }
        self.finish(section);
    }

    fn spares(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        set(&mut workshop.spares.percent, self.percent(section, "percent", 1000));
        set(&mut workshop.spares.at_least, self.count(section, "at_least", 0..=1_000_000));
        self.finish(section);
    }

    fn grain(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let rules = [
            ("strict", GrainRule::Strict),
            ("prefer", GrainRule::Prefer),
            ("ignore", GrainRule::Ignore),
        ];
        set(&mut workshop.grain, self.word(section, "rule", &rules));
        self.finish(section);
    }

    fn envelope(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let rules = &mut workshop.envelope;
        let kinds = [("wrap", EnvelopeKind::Wrap), ("diagonal", EnvelopeKind::Diagonal)];
        set(&mut rules.kind, self.word(section, "kind", &kinds));
        set(&mut rules.clear_long, self.length(section, "clear_long", Length::ZERO));
        set(&mut rules.clear_short, self.length(section, "clear_short", Length::ZERO));
        set(&mut rules.side_flap, self.length_or_auto(section, "side_flap"));
        set(&mut rules.top_flap, self.length_or_auto(section, "top_flap"));
        let blank = self.blank(section, &workshop.formats);
        set(&mut rules.blank, blank);
        set(&mut rules.liner_inset, self.length(section, "liner_inset", Length::ZERO));
        let price = self.money(section, "price", &workshop.currency);
        set(&mut workshop.envelope.price, price);
        self.finish(section);
    }

    /// `usual`, `least`, or a sheet that blanks fill, by name or size.
    fn blank(&mut self, section: &mut TomlTable<'_>, formats: &OwnFormats) -> Option<BlankRule> {
        let fill = |size| Some(BlankRule::Fill(size));
        let words = [("usual", Some(BlankRule::Usual)), ("least", Some(BlankRule::Least))];
        let sheets = formats.all_sheets().map(|sheet| (sheet.name.as_str(), fill(sheet.size)));
        let mistaken = formats.mistaken.iter().map(|name| (name.as_str(), None));
        let choices: Vec<_> = words.into_iter().chain(sheets).chain(mistaken).collect();
        self.word_or_size(section, "blank", &choices, fill).flatten()
    }

    fn rates(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let labour = self.money(section, "labour_per_hour", &workshop.currency);
        let overhead = self.percent(section, "overhead_percent", 1000);
        // A margin is part of the price, so it stays below all of it.
        let margin = self.percent(section, "margin_percent", 99);
        let minimum = self.money(section, "order_minimum", &workshop.currency);
        let priced = [labour.is_some(), overhead.is_some(), margin.is_some(), minimum.is_some()];
        workshop.has_rates = priced.contains(&true);
        let rates = &mut workshop.rates;
        set(&mut rates.order_minimum, minimum);
        set(&mut rates.setup_minutes, self.count(section, "setup_minutes", 0..=10_000));
        set(&mut rates.tax_percent, self.exact_percent(section, "tax_percent"));
        set(&mut rates.deposit_percent, self.percent(section, "deposit_percent", 100));
        rates.valid_days = self.count(section, "valid_days", 1..=3650);
        let wholesale = self.count(section, "wholesale_percent", 1..=100);
        rates.wholesale_percent = wholesale.map(|percent| percent as u32);
        set(&mut rates.labour_per_hour, labour);
        set(&mut rates.overhead_percent, overhead);
        set(&mut rates.margin_percent, margin);
        set(&mut rates.hours_per_day, self.count(section, "hours_per_day", 1..=24));
        let days = self.count(section, "days_per_week", 1..=7);
        set(&mut rates.days_per_week, days.map(|days| days as u8));
        set(&mut rates.dry_hours, self.count(section, "dry_hours", 0..=240));
        let mut seconds = self.section(section, "seconds");
        for (key, target) in [
            ("gauge", &mut rates.gauge),
            ("stroke", &mut rates.stroke),
            ("stack", &mut rates.stack),
            ("score", &mut rates.score),
            ("fold", &mut rates.fold),
            ("stick", &mut rates.stick),
            ("envelope", &mut rates.envelope),
            ("box", &mut rates.gift_box),
            ("pack", &mut rates.pack),
        ] {
            set(target, self.count(&mut seconds, key, 0..=86_400));
        }
        self.finish(&seconds);
        self.finish(section);
    }

    fn maker(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let maker = &mut workshop.maker;
        let texts = [
            ("name", &mut maker.name),
            ("address", &mut maker.address),
            ("terms", &mut maker.terms),
        ];
        for (key, target) in texts {
            set(target, self.text(section, key));
        }
        self.finish(section);
    }

    fn post(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let rules: Vec<(&str, &str)> = formats::post_rules()
            .iter()
            .map(|rules| (rules.name.as_str(), rules.name.as_str()))
            .collect();
        let word = self.word(section, "rules", &rules);
        let is_mistaken = word.is_none() && self.place(section, "rules").is_some();
        set(&mut workshop.post.rules, word.map(str::to_owned));
        let known = Some(workshop.post.rules.as_str()).filter(|_| !is_mistaken);
        let classes = classes_of(known);
        for mut price_section in self.sections(section, "prices") {
            let class = self.word(&mut price_section, "class", &classes);
            let up_to = self.weight(&mut price_section, "up_to");
            let money = self.money(&mut price_section, "price", &workshop.currency);
            for key in ["class", "up_to", "price"] {
                if self.place(&price_section, key).is_none() {
                    self.missing(&price_section, key);
                }
            }
            if let (Some(class), Some(up_to), Some(price)) = (class, up_to, money) {
                let same = |known: &Postage| (known.class.as_str(), known.up_to) == (class, up_to);
                if workshop.post.prices.iter().any(same) {
                    let place = self.place(&price_section, "up_to");
                    let title = format!("two prices for a {class} of this weight");
                    self.problems.push(
                        Problem::error("workshop-doubled", title)
                            .at(place.as_ref(), "expected one price for each weight"),
                    );
                }
                workshop.post.prices.push(Postage { class: class.to_owned(), up_to, price });
            }
            self.finish(&price_section);
        }
        workshop.post.prices.sort_by_key(|postage| postage.up_to);
        self.finish(section);
    }

    fn formats(&mut self, section: &mut TomlTable<'_>, workshop: &mut Workshop) {
        let source = || "this workshop".to_owned();
        let OwnFormats { cards, envelopes, sheets, mistaken } = &mut workshop.formats;
        let own = self.section(section, "cards");
        let card = |(name, (size, fold))| CardFormat { name, size, fold, source: source() };
        cards.extend(self.named(&own, mistaken, Reader::card).into_iter().map(card));
        let own = self.section(section, "envelopes");
        let envelope = |(name, size)| EnvelopeFormat { name, size, system: None, source: source() };
        envelopes.extend(self.named(&own, mistaken, Reader::size).into_iter().map(envelope));
        let own = self.section(section, "sheets");
        let sheet = |(name, size)| SheetFormat { name, size, trimmed: true, source: source() };
        sheets.extend(self.named(&own, mistaken, Reader::size).into_iter().map(sheet));
        self.finish(section);
    }

    /// One with a mistake counts as free, so that orders may name it.
    fn finishes(&mut self, section: &TomlTable<'_>, workshop: &mut Workshop) {
        let currency = workshop.currency.clone();
        let own = |reader: &mut Self, name: &str, value: &Spanned<DeValue<'_>>| {
            let mut section = reader.own_section(name, value)?;
            let seconds = reader.count(&mut section, "seconds", 0..=86_400);
            let price = reader.money(&mut section, "price", &currency);
            reader.finish(&section);
            Some((seconds.unwrap_or_default(), price.unwrap_or_default()))
        };
        let read = self.named(section, &mut BTreeSet::new(), own).into_iter();
        let finish = |(name, (seconds, price)): (String, _)| Finish {
            name: name.trim().to_owned(),
            seconds,
            price,
        };
        workshop.finishes = read.map(finish).collect();
    }

    fn percent(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
        most: u32,
    ) -> Option<u32> {
        let count = self.count(section, key, 0..=u64::from(most))?;
        u32::try_from(count).ok()
    }
}

#[cfg(test)]
mod tests;
