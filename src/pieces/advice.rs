//! Holds the bill against the stock: pieces that no sheet can give, by how much, and what would help.

use super::fit::{Obstacle, fits_somewhere, is_available, least_obstacle, true_size, weight};
use super::{Bill, Part, Piece, board, faces, flaps};
use crate::diagnostics::{Problem, Problems, listed};
use crate::measure::{Axis, Size};
use crate::orders::Turn;
use crate::stock::{KnownPapers, Sheet, Stock};
use crate::workshop::{GrainRule, Workshop};
use std::collections::BTreeSet;

/// Reports each piece that cannot be cut: its paper cannot be had, it is larger than every sheet of its
/// paper, or too small for the bench to hold. Warns of what may go wrong with one that can be. Pieces of unknown papers are passed over: those are
/// told where the order names them.
pub fn check_fit(bill: &Bill, stock: &Stock, workshop: &Workshop, problems: &mut Problems) {
    let look = Adviser { stock, workshop };
    let known = KnownPapers::of(stock);
    for piece in bill.pieces.iter().filter(|piece| look.knows_papers(piece)) {
        faces::check(piece, stock, problems);
        problems.extend(flaps::check(piece, workshop));
        problems.extend(board::check(piece, &known, workshop.style()));
        if fits_somewhere(piece, stock, workshop) {
            problems.extend(look.too_small(piece));
        } else {
            problems.push(look.too_large(piece));
        }
    }
    problems.extend(flaps::check_sheets(bill, stock, workshop));
}

/// What the pieces are held against.
struct Adviser<'a> {
    stock: &'a Stock,
    workshop: &'a Workshop,
}

impl Adviser<'_> {
    fn knows_papers(&self, piece: &Piece) -> bool {
        let mut papers = piece.papers.iter();
        papers.all(|paper| self.stock.sheets.iter().any(|sheet| sheet.paper == *paper))
    }

    /// The last cut that frees a piece goes through a plate with one of its sides: where both are too
    /// narrow to hold, it cannot be cut at all.
    fn too_small(&self, piece: &Piece) -> Option<Problem> {
        let hold = self.workshop.trimmer.smallest_hold;
        let is_whole = |sheet: &Sheet| {
            let room = true_size(sheet, &self.workshop.trimmer);
            room == piece.size || room == piece.size.turned()
        };
        if piece.size.long() >= hold || self.sheets_of(piece).any(is_whole) {
            return None;
        }
        let style = self.workshop.style();
        let title = format!("`{}` is too small to cut", piece.id);
        let label = format!(
            "both sides of {} are below {}, the narrowest strip you can hold",
            style.size(piece.size),
            style.with_unit(hold)
        );
        Some(Problem::error("piece-too-small", title).at(piece.place.as_ref(), label).help(
            "make the card larger, or `smallest_hold` under [trimmer] in workshop.toml smaller",
        ))
    }

    fn too_large(&self, piece: &Piece) -> Problem {
        if self.sheets_of(piece).next().is_none() {
            return self.nowhere(piece);
        }
        if self.a_looser_grain(piece).is_some() {
            return self.across_the_grain(piece);
        }
        // Where grain and print leave it no way to lie, its size would not let it lie otherwise either.
        let any_way = Workshop { grain: GrainRule::Ignore, ..self.workshop.clone() };
        let least = |sheet| {
            let own = least_obstacle(piece, sheet, self.workshop);
            own.or_else(|| least_obstacle(piece, sheet, &any_way))?
        };
        let sheets = self.sheets_of(piece).filter_map(|sheet| Some((least(sheet)?, sheet)));
        match sheets.min_by_key(|(obstacle, _)| weight(Some(*obstacle))) {
            None => self.nowhere(piece),
            Some((Obstacle::Knife, sheet)) => {
                let last = self.a_narrower_sheet(piece);
                self.advised(self.beyond_the_knife(piece, sheet), piece, last)
            }
            Some((Obstacle::Excess(excess), sheet)) => {
                let last = Some(self.a_larger_sheet(piece));
                self.advised(self.beyond_the_sheet(piece, sheet, excess), piece, last)
            }
        }
    }

    /// The problem with what would help.
    fn advised(&self, problem: Problem, piece: &Piece, last: Option<String>) -> Problem {
        let mut advice = self.advice(piece);
        let or = if advice.is_empty() { "" } else { "or " };
        advice.extend(last.map(|last| format!("{or}{last}")));
        advice.into_iter().fold(problem, Problem::help)
    }

    fn nowhere(&self, piece: &Piece) -> Problem {
        let papers = piece.papers.join(" or ");
        let title = format!("no {papers} on hand, and none can be bought");
        let label = format!("`{}` is cut from it", piece.id);
        let last = "write how many you have in `on hand`, or give a sheet a price".to_owned();
        let problem = Problem::error("piece-paper-none", title).at(piece.place.as_ref(), label);
        self.advised(problem, piece, Some(last))
    }

    fn across_the_grain(&self, piece: &Piece) -> Problem {
        let papers = piece.papers.join(" or ");
        let title = format!("`{}` fits no sheet of {papers} the way it must lie", piece.id);
        let what = if piece.is_glued_to_a_fold() {
            "its fibres would run across the fold of its card"
        } else {
            "its fold would run across the grain"
        };
        let why = match self.turning(piece) {
            Some(_) => "turning is not allowed",
            None => "the other way round it is too large",
        };
        let problem = Problem::error("piece-grain", title)
            .at(piece.place.as_ref(), format!("{what}, and {why}"));
        self.advised(problem, piece, Some(self.another_grain(piece)))
    }

    fn beyond_the_knife(&self, piece: &Piece, sheet: &Sheet) -> Problem {
        let style = self.workshop.style();
        let title = format!("the knife is too short to cut `{}`", piece.id);
        let label = format!(
            "`{}`, {}, needs a cut longer than {}",
            sheet.id,
            style.size(sheet.size),
            style.with_unit(self.workshop.trimmer.knife)
        );
        Problem::error("piece-too-large", title).at(piece.place.as_ref(), label)
    }

    fn beyond_the_sheet(&self, piece: &Piece, sheet: &Sheet, excess: Size) -> Problem {
        let style = self.workshop.style();
        let title = format!(
            "`{}`, {}, is larger than every sheet of {}",
            piece.id,
            style.size(piece.size),
            listed(&piece.papers)
        );
        let sides = [(excess.width, "wide"), (excess.height, "high")];
        let beyond: Vec<String> = sides
            .iter()
            .filter(|(length, _)| length.is_positive())
            .map(|(length, name)| format!("{} too {name}", style.with_unit(*length)))
            .collect();
        let room = true_size(sheet, &self.workshop.trimmer);
        let squared = if room == sheet.size { "" } else { " once squared" };
        let label =
            format!("{} for `{}`, {}{squared}", listed(&beyond), sheet.id, style.size(room));
        Problem::error("piece-too-large", title).at(piece.place.as_ref(), label)
    }

    fn sheets_of<'a>(&'a self, piece: &'a Piece) -> impl Iterator<Item = &'a Sheet> {
        let has_paper = |sheet: &&Sheet| piece.papers.contains(&sheet.paper);
        self.stock.sheets.iter().filter(has_paper).filter(|sheet| is_available(sheet))
    }

    /// What would let the piece be cut from the sheets there are.
    fn advice(&self, piece: &Piece) -> Vec<String> {
        let ways = [
            self.turning(piece),
            self.a_looser_grain(piece),
            self.another_fold(piece),
            self.a_smaller_box(piece),
            self.a_shorter_flap(piece),
            self.another_paper(piece),
        ];
        ways.into_iter().flatten().collect()
    }

    fn turning(&self, piece: &Piece) -> Option<String> {
        let turned = Piece { turn: Some(Turn::Free), ..piece.clone() };
        let helps = fits_somewhere(&turned, self.stock, self.workshop);
        helps.then(|| match piece.part {
            Part::Card | Part::Mat => {
                "it would fit after a quarter turn: to allow that, write `free` in the column `turn`"
                    .to_owned()
            }
            _ => "it would fit after a quarter turn, which the paper's print forbids".to_owned(),
        })
    }

    fn a_looser_grain(&self, piece: &Piece) -> Option<String> {
        let looser = Workshop { grain: GrainRule::Prefer, ..self.workshop.clone() };
        let helps =
            self.workshop.grain == GrainRule::Strict && fits_somewhere(piece, self.stock, &looser);
        helps.then(|| {
            let across = match piece.is_glued_to_a_fold() {
                true => "its fibres across the fold of its card",
                false => "its fold across the grain",
            };
            format!(
                "it would fit with {across}: to allow that, write `rule = \"prefer\"` under [grain]"
            )
        })
    }

    fn another_fold(&self, piece: &Piece) -> Option<String> {
        let fold = piece.grain_along.filter(|_| piece.part == Part::Card)?;
        let opens = fold.other();
        // Of more than two panels, nobody knows how else they would lie.
        let [score] = piece.scores.as_slice() else { return None };
        let closed = score.at;
        let size = piece.size.with(opens, closed).with(fold, piece.size.along(fold) * 2);
        let other = Piece { size, grain_along: Some(opens), ..piece.clone() };
        let name = match fold {
            Axis::Height => "top",
            Axis::Width => "side",
        };
        fits_somewhere(&other, self.stock, self.workshop).then(|| {
            format!(
                "it would fit with the fold at the {name}: {} before folding",
                self.workshop.style().size(size)
            )
        })
    }

    fn a_smaller_box(&self, piece: &Piece) -> Option<String> {
        (piece.part == Part::Box)
            .then(|| "fewer sets in the column `per box` make a lower box".to_owned())
    }

    fn a_shorter_flap(&self, piece: &Piece) -> Option<String> {
        // Only the wrap kind has creases along its edges.
        let wrap = piece.part == Part::Envelope && !piece.scores.is_empty();
        let top = wrap.then(|| flaps::longest_flap(piece, self.stock, self.workshop))??;
        let top = self.workshop.style().with_unit(top);
        Some(format!("it would fit with `top_flap = \"{top}\"` under [envelope]"))
    }

    fn another_paper(&self, piece: &Piece) -> Option<String> {
        let papers: BTreeSet<&String> =
            self.stock.sheets.iter().map(|sheet| &sheet.paper).collect();
        let fits = |paper: &&String| {
            let other = Piece { papers: vec![(*paper).clone()], ..piece.clone() };
            fits_somewhere(&other, self.stock, self.workshop)
        };
        let fitting: Vec<&String> = papers.into_iter().filter(fits).take(3).collect();
        (!fitting.is_empty()).then(|| format!("it would fit on sheets of {}", listed(&fitting)))
    }

    fn a_narrower_sheet(&self, piece: &Piece) -> Option<String> {
        let knife = self.workshop.trimmer.knife;
        let mut halves = self.sheets_of(piece).flat_map(|sheet| {
            [Axis::Width, Axis::Height].map(|axis| {
                let size = sheet.size.with(axis, sheet.size.along(axis).min(knife));
                Sheet { size, ..sheet.clone() }
            })
        });
        let helps = halves.any(|sheet| least_obstacle(piece, &sheet, self.workshop) == Some(None));
        let knife = self.workshop.style().with_unit(knife);
        helps.then(|| {
            format!("have the sheets cut down to {knife} or less on one side, and list that size")
        })
    }

    /// For a piece that is small enough, and lies across the fibres of each sheet.
    fn another_grain(&self, piece: &Piece) -> String {
        let along = match piece.grain_along {
            Some(Axis::Width) => "width",
            _ => "height",
        };
        let papers = piece.papers.join(" or ");
        format!("add a sheet of {papers} whose grain runs along its {along} to sheets.csv")
    }

    fn a_larger_sheet(&self, piece: &Piece) -> String {
        let squaring = self.workshop.trimmer.squaring * 2;
        let least = Size::new(piece.size.width + squaring, piece.size.height + squaring);
        let style = self.workshop.style();
        format!("add a sheet of at least {} to sheets.csv", style.size(least))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Length;
    use crate::pieces::samples::{base, envelope, inches, sheet, size, workshop};
    use crate::stock::Print;

    fn problems(piece: Piece, sheets: Vec<Sheet>, workshop: &Workshop) -> Vec<Problem> {
        let mut problems = Problems::new();
        let bill = Bill::of_pieces(vec![piece]);
        check_fit(&bill, &Stock::of_sheets(sheets), workshop, &mut problems);
        problems.iter().cloned().collect()
    }

    fn only(piece: Piece, sheets: Vec<Sheet>, workshop: &Workshop) -> Problem {
        let mut problems = problems(piece, sheets, workshop);
        assert_eq!(problems.len(), 1, "{problems:?}");
        problems.remove(0)
    }

    fn helps(problem: &Problem, words: &str) -> bool {
        problem.help.iter().any(|help| help.contains(words))
    }

    fn folded(card: &str) -> Piece {
        let mut piece = base(card);
        piece.grain_along = Some(Axis::Height);
        let half = Length::from_ticks(piece.size.width.ticks() / 2);
        piece.scores = vec![crate::folds::Score::new(Axis::Width, half)];
        piece
    }

    #[test]
    fn a_piece_as_large_as_its_sheet_fits() {
        assert_eq!(problems(base("12 x 9"), vec![sheet("9 x 12")], &workshop()), []);
    }

    #[test]
    fn a_piece_too_large_is_told_by_how_much() {
        let sheets = vec![sheet("8 x 8"), sheet("12 x 9")];
        let problem = only(base("12 1/16 x 9 1/2"), sheets, &workshop());
        assert_eq!(problem.code, "piece-too-large");
        assert_eq!(
            problem.title,
            "`invite.card`, 12 1/16 x 9 1/2 in, is larger than every sheet of fern"
        );
        assert_eq!(
            problem.label,
            "1/16 in too wide and 1/2 in too high for `fern 12 x 9`, 12 x 9 in"
        );
        assert_eq!(problem.help, ["add a sheet of at least 12 1/16 x 9 1/2 in to sheets.csv"]);
    }

    #[test]
    fn squaring_counts() {
        let mut workshop = workshop();
        workshop.trimmer.squaring = inches("1/8");
        let problem = only(base("12 x 9"), vec![sheet("12 x 9 1/4")], &workshop);
        assert!(problem.label.ends_with("11 3/4 x 9 in once squared"), "{}", problem.label);
        assert!(helps(&problem, "at least 12 1/4 x 9 1/4 in"));
    }

    #[test]
    fn a_turn_that_would_help_is_named() {
        let mut piece = base("12 x 9");
        piece.turn = Some(Turn::None);
        assert!(helps(&only(piece, vec![sheet("9 x 12")], &workshop()), "quarter turn"));
        let mut striped = sheet("9 x 12");
        striped.print = Print::TwoWay;
        assert!(helps(&only(base("12 x 9"), vec![striped], &workshop()), "quarter turn"));
    }

    #[test]
    fn a_fold_that_would_help_is_named() {
        let problem = only(folded("14 x 5"), vec![sheet("12 x 12")], &workshop());
        assert!(helps(&problem, "with the fold at the top: 7 x 10 in before folding"));
    }

    #[test]
    fn a_strict_grain_is_named() {
        let mut workshop = workshop();
        workshop.grain = GrainRule::Strict;
        let mut grainy = sheet("12 x 9");
        grainy.grain = Some(Axis::Width);
        let mut piece = folded("12 x 9");
        assert!(helps(&only(piece.clone(), vec![grainy.clone()], &workshop), "[grain]"));
        piece.turn = Some(Turn::None);
        let across = only(piece, vec![grainy.clone()], &workshop);
        assert_eq!(across.code, "piece-grain");
        assert!(!helps(&across, "at least"), "its size is not the cause: {across:?}");
        assert!(helps(&across, "or add a sheet of fern whose grain runs along its height"));
        let larger = only(folded("14 x 13"), vec![grainy], &workshop);
        assert!(!helps(&larger, "[grain]"), "it fits neither way");
    }

    #[test]
    fn a_flap_that_would_help_is_named() {
        let mut workshop = workshop();
        workshop.envelope.top_flap = Some(inches("2 11/16"));
        let problem = only(envelope("7 x 5"), vec![sheet("12 x 12")], &workshop);
        assert!(helps(&problem, "`top_flap = \"1 7/8 in\"`"), "{problem:?}");
    }

    /// Only flaps of the wrap kind have a length of their own, though others have creases, too.
    #[test]
    fn a_flap_is_named_for_the_wrap_kind_alone() {
        let mut card = base("5 x 13");
        card.scores = vec![crate::folds::Score::new(Axis::Height, inches("6 1/2"))];
        let pointed = Piece { scores: vec![], ..envelope("12 x 12") };
        for piece in [card, pointed] {
            let problem = only(piece, vec![sheet("12 x 12")], &workshop());
            assert!(!helps(&problem, "top_flap"), "{problem:?}");
        }
    }

    #[test]
    fn fewer_sets_are_advised_for_a_box() {
        let gift_box = Piece { part: Part::Box, ..base("14 x 13") };
        let sheets = || vec![sheet("12 x 12")];
        assert!(helps(
            &only(gift_box, sheets(), &workshop()),
            "fewer sets in the column `per box`"
        ));
        assert!(!helps(&only(base("14 x 13"), sheets(), &workshop()), "per box"));
    }

    #[test]
    fn another_paper_that_would_help_is_named() {
        let mut larger = sheet("20 x 26");
        larger.paper = "moss".to_owned();
        let mut workshop = workshop();
        workshop.trimmer.knife = inches("20");
        let problem = only(base("14 x 13"), vec![sheet("12 x 12"), larger], &workshop);
        assert!(helps(&problem, "sheets of moss"));
    }

    #[test]
    fn a_knife_too_short_is_told() {
        let problem = only(base("5 x 5"), vec![sheet("26 x 20")], &workshop());
        assert_eq!(problem.code, "piece-too-large");
        assert_eq!(problem.title, "the knife is too short to cut `invite.card`");
    }

    #[test]
    fn papers_that_are_gone_are_told_and_unknown_ones_are_the_orders_matter() {
        let mut other = sheet("12 x 12");
        other.paper = "ferm".to_owned();
        assert_eq!(problems(base("5 x 5"), vec![other], &workshop()), []);
        let mut gone = sheet("12 x 12");
        gone.price = None;
        assert_eq!(only(base("5 x 5"), vec![gone.clone()], &workshop()).code, "piece-paper-none");
        gone.on_hand = 1;
        assert_eq!(problems(base("5 x 5"), vec![gone], &workshop()), []);
    }

    #[test]
    fn a_piece_too_small_to_hold_is_told() {
        let mut workshop = workshop();
        workshop.trimmer.smallest_hold = inches("2");
        assert_eq!(problems(base("2 x 1"), vec![sheet("12 x 12")], &workshop), []);
        let problem = only(base("1 15/16 x 1"), vec![sheet("12 x 12")], &workshop);
        assert_eq!(problem.code, "piece-too-small");
        // As large as a sheet of its paper, it needs no cut; a sheet of another paper is no help.
        let size = size("1 15/16 x 1");
        let whole = Sheet { size, ..sheet("12 x 12") };
        assert_eq!(problems(base("1 15/16 x 1"), vec![whole.clone()], &workshop), []);
        let other = Sheet { paper: "moss".to_owned(), ..whole };
        let sheets = vec![sheet("12 x 12"), other];
        assert_eq!(only(base("1 15/16 x 1"), sheets, &workshop).code, "piece-too-small");
    }
}
