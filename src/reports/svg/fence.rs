//! A stack as it lies at the fence: what comes off is hatched, the knife runs across.

use super::fills;
use super::view::{Caption, FONT, SMALL, WordsLook, element, put_box, put_lines, tenths};
use crate::measure::Length;
use crate::reports::picture::millimetres;
use crate::reports::picture::{Hatch, Point, Rectangle, width_of};
use crate::reports::report::YieldKind;
use crate::reports::visible::{escaped, shown};
use crate::reports::walk::{FenceView, LyingPart};
use std::fmt::Write;

/// Room for a stack.
const WIDE: f64 = 80.0;
const DEEP: f64 = 72.0;
/// The bar of the fence.
const FENCE: f64 = 6.6;
/// Radius of the disc that holds a stack's letter.
const DISC: f64 = 6.0;
/// How far the arrow beside the letter reaches beyond its disc.
const TIP: f64 = 4.4;
/// How far the knife's line reaches on each side.
const REACH: f64 = 5.0;

/// A stack at the fence, true to scale; `letter` is written on it.
pub fn fence(view: &FenceView, letter: &str, gauge: &str, told: Caption) -> String {
    let (along, away) = (millimetres(view.size.width), millimetres(view.size.height));
    let scale = (WIDE / along).min(DEEP / away);
    let (width, depth) = (along * scale, away * scale);
    let (body, taken) = (String::new(), Vec::new());
    let mut stack = Fence { scale, width, depth, body, taken };
    stack.put_paper(&view.parts);
    stack.put_knife(&view.cuts, gauge);
    view.parts.iter().for_each(|part| stack.put_words(part));
    let left = stack.put_letter(letter, view);
    stack.put_trimmer(view);
    let half = stack.half();
    // Bold letters are broader.
    let gauge_end = width + REACH + 1.5 + 1.2 * width_of(gauge, FONT);
    let left = left.min(width / 2.0 - half) - 1.0;
    let right = gauge_end.max(width / 2.0 + half) + 1.0;
    let (y, height) = (-FENCE - 1.0, depth + FENCE + 3.0);
    element(told, Rectangle { x: left, y, width: right - left, height }, &stack.body)
}

/// A stack while it is drawn.
struct Fence {
    scale: f64,
    width: f64,
    depth: f64,
    body: String,
    /// Where words stand.
    taken: Vec<Rectangle>,
}

impl Fence {
    fn at(&self, distance: Length) -> f64 {
        millimetres(distance) * self.scale
    }

    /// Half of the bar of the fence: longer than the stack, and long enough for its name.
    fn half(&self) -> f64 {
        (self.width / 2.0 + REACH + 2.0).max(26.0)
    }

    /// All of the width, between two distances from the fence.
    fn strip(&self, from: Length, to: Length) -> Rectangle {
        let (top, bottom) = (self.at(from), self.at(to));
        Rectangle { x: 0.0, y: top, width: self.width, height: bottom - top }
    }

    fn put_paper(&mut self, parts: &[LyingPart]) {
        let whole = Rectangle { x: 0.0, y: 0.0, width: self.width, height: self.depth };
        put_box(&mut self.body, "paper", "", whole);
        for part in parts {
            let area = self.strip(part.from, part.to);
            let (class, fill) = match (part.kind, part.fill) {
                (YieldKind::Waste, _) => ("", fills::name(Hatch::Waste)),
                (YieldKind::Drawer, _) => ("keep", String::new()),
                (_, Some(fill)) => ("", fills::name(Hatch::of_line(fill))),
                (YieldKind::Stack | YieldKind::Piece, None) => continue,
            };
            let inset = if class == "keep" { 0.9_f64.min(area.height / 4.0) } else { 0.0 };
            let (x, y) = (area.x + inset, area.y + inset);
            let (width, height) = (area.width - 2.0 * inset, area.height - 2.0 * inset);
            put_box(&mut self.body, class, &fill, Rectangle { x, y, width, height });
        }
        let mut off = parts.iter().filter(|part| part.comes_off && part.kind != YieldKind::Waste);
        if let Some(first) = off.next() {
            let last = off.next_back().unwrap_or(first);
            let area = self.strip(first.from, last.to);
            put_box(&mut self.body, "", "off", area);
        }
    }

    /// The knife, the cuts that follow, and the distance from the fence.
    fn put_knife(&mut self, cuts: &[Length], gauge: &str) {
        let width = tenths(self.width);
        let line = |at: &Length| format!("M0 {}H{width}", tenths(self.at(*at)));
        let next: String = cuts.iter().skip(1).map(line).collect();
        let lines = cuts
            .iter()
            .map(|at| Rectangle::around(self.width / 2.0, self.at(*at), self.width, 2.0));
        let lines: Vec<Rectangle> = lines.collect();
        self.taken.extend(lines);
        if !next.is_empty() {
            let _ = write!(self.body, "<path class=\"next\" d=\"{next}\"/>");
        }
        let knife = cuts.first().map_or(self.depth, |at| self.at(*at));
        let (near, far) = (self.width + 2.0, self.width + REACH);
        let _ = write!(
            self.body,
            "<path class=\"set\" d=\"M{near} .3H{far}M{middle} .3V{knife}\"/>\
             <path class=\"knife\" d=\"M-{REACH} {knife}H{far}\"/>\
             <text class=\"from\" x=\"{x}\" y=\"{y}\">{gauge}</text>",
            near = tenths(near),
            far = tenths(far),
            middle = tenths(f64::midpoint(near, far)),
            knife = tenths(knife),
            x = tenths(far + 1.0),
            y = tenths((knife / 2.0 + 1.8).max(4.0)),
            gauge = escaped(gauge),
        );
    }

    /// What a part is: in its first strip, else over all of them, else nowhere.
    fn put_words(&mut self, part: &LyingPart) {
        let all = self.strip(part.from, part.to);
        let first = Rectangle { height: all.height / part.count as f64, ..all };
        let _ = self.put_within(part, first) || part.count > 1 && self.put_within(part, all);
    }

    /// Writes what a part is, where it fits; whether it does.
    fn put_within(&mut self, part: &LyingPart, area: Rectangle) -> bool {
        let centre = Point::new(area.x + area.width / 2.0, area.y + area.height / 2.0);
        let words: Vec<String> = part.words.iter().map(|words| shown(words)).collect();
        let alone = words.first().cloned().unwrap_or_default();
        let wordings = [words.join("\n"), words.join(", "), alone];
        let looks = [(false, FONT), (false, SMALL), (true, FONT), (true, SMALL)];
        for look in looks.map(|(upward, size)| WordsLook { size, upward }) {
            for text in &wordings {
                let tall = look.height(text.lines().count());
                let widest = text.lines().map(|line| width_of(line, look.size)).fold(0.0, f64::max);
                let (across, down) = if look.upward { (tall, widest) } else { (widest, tall) };
                if across + 2.0 <= area.width && down + 0.6 <= area.height {
                    put_lines(&mut self.body, text, centre, look);
                    self.taken.push(Rectangle::around(centre.x, centre.y, across, down));
                    return true;
                }
            }
        }
        false
    }

    /// The letter of the stack, with an arrow to where its top is, where no words stand; how far to the left it reaches.
    fn put_letter(&mut self, letter: &str, view: &FenceView) -> f64 {
        let edge = DISC + TIP + 0.6;
        let (near, far) = (edge, self.width - edge);
        let (top, bottom) = (edge, self.depth - edge);
        let (x, y) = (self.width / 2.0, self.depth / 2.0);
        let corners =
            [[near, y], [far, y], [near, top], [far, top], [near, bottom], [x, bottom], [x, y]];
        // Between two cuts.
        let between =
            view.cuts.windows(2).map(|cuts| f64::midpoint(self.at(cuts[0]), self.at(cuts[1])));
        let places: Vec<[f64; 2]> = corners.into_iter().chain(between.map(|y| [near, y])).collect();
        let is_free = |[x, y]: &[f64; 2]| {
            let disc = with_arrow(Rectangle::around(*x, *y, 2.0 * DISC, 2.0 * DISC), view.turns);
            let is_inside = disc.x >= 0.0
                && disc.y >= 0.0
                && disc.x + disc.width <= self.width
                && disc.y + disc.height <= self.depth;
            is_inside && !self.taken.iter().any(|words| words.meets(&disc))
        };
        let [x, y] = places.into_iter().find(is_free).unwrap_or([-REACH - DISC - 4.0, y]);
        let turn = match view.turns {
            0 => String::new(),
            turns => format!(" transform=\"rotate({})\"", 90 * u32::from(turns)),
        };
        let many = if letter.len() > 1 { " class=\"many\"" } else { "" };
        let _ = write!(
            self.body,
            "<g class=\"letter\" transform=\"translate({} {})\"><circle r=\"{DISC}\"/>\
             <path class=\"up\" d=\"M-3.2 -6.4L0 -10.4L3.2 -6.4z\"{turn}/><text y=\"3\"{many}>{}</text></g>",
            tenths(x),
            tenths(y),
            escaped(letter)
        );
        with_arrow(Rectangle::around(x, y, 2.0 * DISC, 2.0 * DISC), view.turns).x
    }

    /// The fence with the edge that lies against it, and the side lay.
    fn put_trimmer(&mut self, view: &FenceView) {
        let (middle, half) = (self.width / 2.0, self.half());
        let bar = Rectangle { x: middle - half, y: -FENCE, width: 2.0 * half, height: FENCE - 0.5 };
        put_box(&mut self.body, "trimmer", "", bar);
        let edge = view.fence;
        let _ = write!(
            self.body,
            "<text class=\"on\" x=\"{}\" y=\"-2\">fence: {edge} edge</text>",
            tenths(middle)
        );
        if let Some(side) = view.side {
            let x = if side.on_left { -4.0 } else { self.width + 0.5 };
            let lay = Rectangle { x, y: -0.5, width: 3.5, height: self.depth + 0.5 };
            put_box(&mut self.body, "trimmer", "", lay);
        }
    }
}

/// The disc of a letter with its arrow, turned so often to the right.
fn with_arrow(disc: Rectangle, turns: u8) -> Rectangle {
    let Rectangle { x, y, width, height } = disc;
    match turns {
        0 => Rectangle { y: y - TIP, height: height + TIP, ..disc },
        1 => Rectangle { width: width + TIP, ..disc },
        2 => Rectangle { height: height + TIP, ..disc },
        _ => Rectangle { x: x - TIP, width: width + TIP, ..disc },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Size;
    use crate::reports::fixture::{inch, size};
    use crate::reports::walk::SideView;

    fn part(from: &str, to: &str, kind: YieldKind, words: &[&str]) -> LyingPart {
        LyingPart {
            from: inch(from),
            to: inch(to),
            count: 1,
            comes_off: from == "0",
            kind,
            fill: None,
            words: words.iter().map(|word| (*word).to_owned()).collect(),
        }
    }

    fn lying(view: &FenceView) -> String {
        fence(view, "B", "6 in", Caption { id: "p", title: "t", description: "d" })
    }

    fn view() -> FenceView {
        let stays = part("6", "12", YieldKind::Waste, &["waste"]);
        FenceView {
            size: size("10 x 12"),
            fence: "left",
            turns: 1,
            side: None,
            cuts: vec![inch("6")],
            parts: vec![part("0", "6", YieldKind::Stack, &["stack C", "to step 2"]), stays],
        }
    }

    /// 12 in are 72 units deep, so 10 in are 60 wide and the knife cuts at 36.
    #[test]
    fn a_stack_is_drawn_to_scale() {
        let svg = lying(&view());
        assert!(svg.contains("class=\"paper\" d=\"M0 0H60V72H0z\""), "{svg}");
        assert!(svg.contains("class=\"knife\" d=\"M-5 36H65\""), "{svg}");
        assert!(svg.contains("fill=\"url(#off)\" d=\"M0 0H60V36H0z\""), "{svg}");
        assert!(svg.contains("fill=\"url(#waste)\" d=\"M0 36H60V72H0z\""), "{svg}");
    }

    #[test]
    fn an_arrow_shows_where_the_top_of_the_stack_is() {
        assert!(
            lying(&view()).contains(
                "class=\"up\" d=\"M-3.2 -6.4L0 -10.4L3.2 -6.4z\" transform=\"rotate(90)\""
            )
        );
        assert!(!lying(&FenceView { turns: 0, ..view() }).contains("rotate("));
    }

    #[test]
    fn the_arrow_takes_room_on_its_side() {
        let disc = Rectangle { x: 10.0, y: 20.0, width: 12.0, height: 12.0 };
        let reach = |turns| {
            let Rectangle { x, y, width, height } = with_arrow(disc, turns);
            [x, y, x + width, y + height]
        };
        assert_eq!(reach(0), [10.0, 20.0 - TIP, 22.0, 32.0]);
        assert_eq!(reach(1), [10.0, 20.0, 22.0 + TIP, 32.0]);
        assert_eq!(reach(2), [10.0, 20.0, 22.0, 32.0 + TIP]);
        assert_eq!(reach(3), [10.0 - TIP, 20.0, 22.0, 32.0]);
    }

    #[test]
    fn a_side_lay_stands_on_its_side() {
        let bars = |side| lying(&FenceView { side, ..view() }).matches("\"trimmer\"").count();
        let edge = "top";
        assert_eq!(bars(None), 1);
        assert_eq!(bars(Some(SideView { on_left: true, edge })), 2);
    }

    /// A strip too small for its name still has its hatch, and the letter stands beside the stack.
    #[test]
    fn a_narrow_stack_has_its_letter_beside_it() {
        let narrow = Size::new(inch("12"), inch("1/2"));
        let parts = vec![part("0", "1/4", YieldKind::Piece, &["a.very.long.name.indeed"])];
        let svg = lying(&FenceView { size: narrow, cuts: vec![inch("1/4")], parts, ..view() });
        assert!(svg.contains("translate(-15 ") && !svg.contains("indeed"), "{svg}");
    }
}
