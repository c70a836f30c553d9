//! A page as a picture.

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::Pixmap;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{RenderCache, RenderSettings, render};

/// Dots in a point.
const SCALE: f32 = 4.0;
/// Dots in a millimetre.
const DOTS: f64 = SCALE as f64 * 72.0 / 25.4;

/// Widths and heights of all pages, in points.
pub fn sizes(pdf: Vec<u8>) -> Vec<(f64, f64)> {
    let pdf = Pdf::new(pdf).unwrap();
    let sizes = pdf.pages().iter().map(|page| page.render_dimensions());
    sizes.map(|(width, height)| (width.into(), height.into())).collect()
}

pub struct Picture {
    dots: Pixmap,
}

impl Picture {
    /// The page of this number, counted from 0.
    pub fn of(pdf: Vec<u8>, number: usize) -> Picture {
        let pdf = Pdf::new(pdf).unwrap();
        let page = &pdf.pages()[number];
        let settings = RenderSettings {
            x_scale: SCALE,
            y_scale: SCALE,
            bg_color: WHITE,
            ..Default::default()
        };
        let interpreter = InterpreterSettings::default();
        Picture { dots: render(page, &RenderCache::new(), &interpreter, &settings) }
    }

    /// Lengths of all lines that run across, in millimetres.
    pub fn dark_runs(&self) -> Vec<f64> {
        let mut runs = Vec::new();
        for row in self.dots.data().chunks(self.dots.width().into()) {
            let dark = |dot: &hayro::vello_cpu::color::PremulRgba8| dot.r < 128;
            for run in row.chunk_by(|one, other| dark(one) == dark(other)) {
                if dark(&run[0]) {
                    runs.push(run.len() as f64 / DOTS);
                }
            }
        }
        runs
    }
}
