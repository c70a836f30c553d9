//! What may go wrong with an envelope; it is planned even so.

use super::FLAP_OVERLAP;
use super::diagonal::Diagonal;
use super::wrap::Wrap;
use crate::diagnostics::{Place, Problem, Problems};
use crate::measure::Length;
use crate::workshop::{BlankRule, Workshop};

/// Says what may go wrong with an envelope.
pub(super) struct Doubts<'a> {
    pub workshop: &'a Workshop,
    pub place: Option<&'a Place>,
    pub problems: &'a mut Problems,
}

impl Doubts<'_> {
    /// The sheet that blanks are to fill is of no use for this one.
    pub fn about_filling(&mut self) {
        let style = self.workshop.style();
        let BlankRule::Fill(sheet) = self.workshop.envelope.blank else { return };
        self.warn(
            "envelopes of this size do not fill the sheet",
            format!("no number of them fills {}, so it has its usual flaps", style.size(sheet)),
            "choose another sheet for `blank`, other clearances, or \"usual\"".to_owned(),
        );
    }

    pub fn about_wrap(&mut self, wrap: &Wrap) {
        let style = self.workshop.style();
        if wrap.overlap() < FLAP_OVERLAP {
            let least = wrap.pocket.height - wrap.bottom + FLAP_OVERLAP;
            self.warn(
                "the envelope's top flap barely covers its bottom flap",
                format!(
                    "the overlap is {}, the gum needs {}",
                    style.with_unit(wrap.overlap()),
                    style.with_unit(FLAP_OVERLAP)
                ),
                format!("make `top_flap` at least {}", style.with_unit(least)),
            );
        }
        if wrap.top > wrap.pocket.height {
            self.warn(
                "the envelope's top flap reaches past its bottom edge",
                format!("the pocket is {} high", style.with_unit(wrap.pocket.height)),
                format!("make `top_flap` at most {}", style.with_unit(wrap.pocket.height)),
            );
        }
        if wrap.side * 2 > wrap.pocket.width {
            self.warn(
                "the envelope's side flaps overlap",
                format!("the pocket is {} wide", style.with_unit(wrap.pocket.width)),
                "make `side_flap` at most half of that".to_owned(),
            );
        }
    }

    pub fn about_diagonal(&mut self, diagonal: &Diagonal) {
        if diagonal.passes_its_edge() {
            self.warn(
                "the envelope's pointed flap reaches past its bottom edge",
                format!("the face is {}", self.workshop.style().size(diagonal.face)),
                "set `kind` to \"wrap\" for long cards, or trim the point by hand".to_owned(),
            );
        }
    }

    pub fn about_room(&mut self, thick: Length, room: Length) {
        let style = self.workshop.style();
        let title = format!("what goes into the envelope is {} thick", style.thickness(thick));
        let room_for_it = style.with_unit(room);
        let label = match thick < room {
            true => format!("less than half of the {room_for_it} of room is left"),
            false => format!("the {room_for_it} of room is used up: it will not go in"),
        };
        let wanted = (thick * 2).rounded_up(self.workshop.trimmer.graduation);
        let problem = Problem::warning("piece-envelope-tight", title).at(self.place, label);
        self.problems.push(problem.help(format!(
            "make `clear_long` and `clear_short` under [envelope] in workshop.toml at least {}",
            style.with_unit(wanted)
        )));
    }

    fn warn(&mut self, title: &str, label: String, help: String) {
        let problem = Problem::warning("piece-envelope-flap", title).at(self.place, label);
        self.problems.push(problem.help(format!("{help} (under [envelope] in workshop.toml)")));
    }
}
