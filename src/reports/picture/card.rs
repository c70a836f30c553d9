//! A card as a customer sees it: its front with the layers on it, opened where something lies inside, and its envelope from
//! the back.

use super::fills::tint;
use super::{Canvas, Colour, Fill, Line, Panel, Point, Rectangle, Scale, Stroke, Text};
use crate::folds::{self, FoldStyle, PanelSpan};
use crate::measure::{Axis, Length, Size};
use crate::reports::offer::{CardView, LayerView};

/// Between two views of a card, and below them for their names.
const GAP: f64 = 5.0;
const NAME: f64 = 4.6;
/// Letters of the names: 8 point.
const FONT: f64 = 2.85;
/// How much lighter an envelope is where its flap is not.
const LIGHT: f64 = 0.7;

/// One view of a card: a rectangle that it takes, and what it is called.
struct CardFace {
    size: Size,
    name: &'static str,
    kind: FaceKind,
}

/// What it shows.
enum FaceKind {
    Front,
    Opened(Axis),
    Envelope,
}

/// All views, from left to right.
fn faces(card: &CardView) -> Vec<CardFace> {
    let mut faces = vec![CardFace { size: card.size, name: "front", kind: FaceKind::Front }];
    // One that is folded several times is shown open even where nothing lies in it.
    let shows = !card.inside.is_empty() || card.fold.style != FoldStyle::Half;
    if let Some(axis) = card.fold.opens().filter(|_| shows) {
        faces.push(CardFace { size: card.open.size, name: "opened", kind: FaceKind::Opened(axis) });
    }
    if let Some(envelope) = &card.envelope {
        faces.push(CardFace { size: envelope.size, name: "envelope", kind: FaceKind::Envelope });
    }
    faces
}

/// Width and height of a card's picture, in millimetres.
pub fn card_size(card: &CardView, scale: Scale) -> Point {
    let faces = faces(card);
    let width: f64 = faces.iter().map(|face| scale.on_paper(face.size.width).max(13.0)).sum();
    let tall = faces.iter().map(|face| scale.on_paper(face.size.height)).fold(0.0, f64::max);
    Point::new(width + GAP * (faces.len() as f64 - 1.0) + 0.6, tall + NAME + 0.6)
}

/// Draws it, from its own left and upper edge.
pub fn draw_card(card: &CardView, scale: Scale, canvas: &mut dyn Canvas) {
    let (mut x, foot) = (0.3, card_size(card, scale).y - NAME);
    for face in faces(card) {
        let [width, height] = [face.size.width, face.size.height].map(|it| scale.on_paper(it));
        let area = Rectangle { x, y: foot - height, width, height };
        let mut view = FaceOnPage { card, scale, area, canvas };
        match face.kind {
            FaceKind::Front => view.front(),
            FaceKind::Opened(axis) => view.opened(axis),
            FaceKind::Envelope => view.envelope(),
        }
        canvas.text(&Text {
            colour: Colour::QUIET,
            ..Text::at(Point::new(x, foot + 3.4), FONT, face.name)
        });
        x += width.max(13.0) + GAP;
    }
}

/// A view while it is drawn.
struct FaceOnPage<'a> {
    card: &'a CardView,
    scale: Scale,
    area: Rectangle,
    canvas: &'a mut dyn Canvas,
}

impl FaceOnPage<'_> {
    fn paper(&mut self, area: Rectangle, paper: usize, opacity: f64) {
        let fill = Fill::Plain(tint(paper), opacity);
        let stroke = Some(Stroke::ink(0.25));
        self.canvas.shape(&Panel { area, corner: 0.0, fill, stroke });
    }

    /// A layer in the middle of some of the card.
    fn layer(&mut self, layer: &LayerView, within: Rectangle) {
        let [width, height] =
            [layer.size.width, layer.size.height].map(|it| self.scale.on_paper(it));
        let (x, y) = (within.x + within.width / 2.0, within.y + within.height / 2.0);
        self.paper(Rectangle::around(x, y, width, height), layer.paper, 1.0);
    }

    fn front(&mut self) {
        let area = self.area;
        self.paper(area, self.card.paper, 1.0);
        let card = self.card;
        for half in front_panels(card, area) {
            card.front.iter().for_each(|layer| self.layer(layer, half));
        }
        let Some(opens) = card.fold.opens() else { return };
        // A gate opens in the middle of its front, others at their spine.
        let (share, width) = match card.fold.style {
            FoldStyle::Gate => (0.5, 0.5),
            _ => (0.0, 0.9),
        };
        let line = across(area, opens, share);
        self.canvas.lines(Stroke::ink(width), &[Line::new(line)]);
    }

    /// Opened, with its inner side up: layers as large as the open card in its middle, others on their panels.
    fn opened(&mut self, axis: Axis) {
        let (area, card) = (self.area, self.card);
        self.paper(area, card.paper, 1.0);
        let panels = folds::inner_panels(&card.open, axis);
        let whole = self.scale.on_paper(card.open.size.along(axis)).max(0.1);
        let scale = self.scale;
        let share = |at: Length| scale.on_paper(at) / whole;
        let place = |span: &PanelSpan| {
            let (from, to) = (share(span.from), share(span.to));
            match axis {
                Axis::Width => {
                    let (x, width) = (area.x + area.width * from, area.width * (to - from));
                    Rectangle { x, width, ..area }
                }
                Axis::Height => {
                    let (y, height) = (area.y + area.height * from, area.height * (to - from));
                    Rectangle { y, height, ..area }
                }
            }
        };
        for layer in &card.inside {
            let panel = layer.panel.and_then(|panel| panels.get(panel));
            self.layer(layer, panel.map_or(area, place));
        }
        let folds = panels.iter().skip(1).map(|panel| share(panel.from));
        let lines: Vec<Line> = folds.map(|share| Line::new(across(area, axis, share))).collect();
        let dots = Stroke { dash: Some([0.1, 1.0]), round: true, ..Stroke::ink(0.35) };
        self.canvas.lines(dots, &lines);
        if card.fold.style == FoldStyle::French {
            self.canvas.lines(dots, &[Line::new(across(area, axis.other(), 0.5))]);
        }
    }

    /// From the back, with its flap closed.
    fn envelope(&mut self) {
        let Some(envelope) = &self.card.envelope else { return };
        let Rectangle { x, y, width, .. } = self.area;
        self.paper(self.area, envelope.paper, LIGHT);
        let flap = self.scale.on_paper(envelope.flap);
        let slant = (flap / 3.0).min(width / 4.0);
        let (left, right, below) = (x + slant, x + width - slant, y + flap);
        let lines =
            [[x, y, left, below], [left, below, right, below], [right, below, x + width, y]];
        self.canvas.lines(Stroke::ink(0.25), &lines.map(Line::new));
    }
}

/// What a layer lies on: all of the front, or each half of a gate's.
fn front_panels(card: &CardView, area: Rectangle) -> Vec<Rectangle> {
    let half_width = Rectangle { width: area.width / 2.0, ..area };
    let half_height = Rectangle { height: area.height / 2.0, ..area };
    match (card.fold.style, card.fold.opens()) {
        (FoldStyle::Gate, Some(Axis::Width)) => {
            vec![half_width, Rectangle { x: area.x + half_width.width, ..half_width }]
        }
        (FoldStyle::Gate, Some(Axis::Height)) => {
            vec![half_height, Rectangle { y: area.y + half_height.height, ..half_height }]
        }
        _ => vec![area],
    }
}

/// A line across a rectangle, at a share of its width or height.
fn across(area: Rectangle, axis: Axis, share: f64) -> [f64; 4] {
    let Rectangle { x, y, width, height } = area;
    match axis {
        Axis::Width => [x + width * share, y, x + width * share, y + height],
        Axis::Height => [x, y + height * share, x + width, y + height * share],
    }
}

/// The largest scale in which all cards fit in so much room, below each other.
pub fn card_scale<'a>(cards: impl Iterator<Item = &'a CardView> + Clone, room: Point) -> Scale {
    let fits = |scale: &Scale| {
        let sizes: Vec<Point> = cards.clone().map(|card| card_size(card, *scale)).collect();
        let tall: f64 = sizes.iter().map(|size| size.y).sum();
        tall <= room.y && sizes.iter().all(|size| size.x <= room.x)
    };
    let smallest = Scale::of(20);
    (2..20).map(Scale::of).find(fits).unwrap_or(smallest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folds::{Fold, FoldedPaper};
    use crate::reports::fixture::{inch, size};
    use crate::reports::offer::EnvelopeView;
    use crate::workshop::Workshop;

    /// What was drawn, but for its names.
    #[derive(Default)]
    struct Drawn {
        areas: Vec<Rectangle>,
        lines: usize,
    }

    impl Canvas for Drawn {
        fn shape(&mut self, shape: &Panel) {
            self.areas.push(shape.area);
        }
        fn lines(&mut self, _: Stroke, lines: &[Line]) {
            self.lines += lines.len();
        }
        fn text(&mut self, _: &Text) {}
        fn block(&mut self, _: &super::super::Paragraph) {}
    }

    fn card(fold: Fold) -> CardView {
        let style = Workshop::default().style();
        let paper = FoldedPaper::thin(style);
        let layer = |text: &str, panel| LayerView { size: size(text), paper: 1, panel };
        CardView {
            size: size("4 x 6"),
            fold,
            open: folds::opened(size("4 x 6"), fold, paper),
            paper: 0,
            front: vec![layer("3 x 5", Some(1))],
            inside: vec![layer("7 1/2 x 5 1/2", None), layer("2 x 3", Some(1))],
            envelope: Some(EnvelopeView { size: size("6 1/2 x 4 1/2"), flap: inch("2"), paper: 2 }),
        }
    }

    /// An inch is 25.4 mm, a quarter of it 6.35 mm. Layers lie in the middle of the front, of the open card, or of the panel
    /// on the right.
    #[test]
    fn layers_lie_where_they_are_glued() {
        let mut drawn = Drawn::default();
        draw_card(&card(Fold::SIDE), Scale::of(4), &mut drawn);
        let middle = |area: &Rectangle| [area.x + area.width / 2.0, area.y + area.height / 2.0];
        let [front, mat, opened, liner, insert, envelope] = &drawn.areas[..] else {
            panic!("{:?}", drawn.areas)
        };
        assert_eq!([front.width, opened.width, envelope.width], [25.4, 50.8, 41.275]);
        assert_eq!(middle(front), middle(mat));
        assert_eq!(middle(opened), middle(liner));
        let [x, y] = middle(opened);
        assert_eq!(middle(insert), [x + 12.7, y]);
        // A spine, a fold, three edges of the flap.
        assert_eq!(drawn.lines, 5);
    }

    #[test]
    fn what_does_not_open_has_no_inside() {
        let mut drawn = Drawn::default();
        draw_card(&card(Fold::FLAT), Scale::of(4), &mut drawn);
        assert_eq!((drawn.areas.len(), drawn.lines), (3, 3));
    }

    #[test]
    fn all_cards_fit_in_the_room() {
        let cards = vec![card(Fold::TOP); 3];
        let room = Point::new(150.0, 150.0);
        let scale = card_scale(cards.iter(), room);
        let size = card_size(&cards[0], scale);
        assert!(size.x <= room.x && 3.0 * size.y <= room.y, "{scale:?}");
        assert_eq!(card_scale(cards.iter().cycle().take(100), room), Scale::of(20));
    }
}
