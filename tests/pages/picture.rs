//! A page as a picture, made by `pdftoppm` of Poppler, where it is installed.

use std::io::Write;
use std::process::{Command, Stdio};

/// Dots in an inch.
const RESOLUTION: u32 = 288;
/// Dots in a millimetre.
const DOTS: f64 = RESOLUTION as f64 / 25.4;

pub struct Picture {
    width: usize,
    /// Grey, row by row; 0 is black.
    dots: Vec<u8>,
}

impl Picture {
    /// The page of this number, counted from 1; `None` where nothing is installed that draws it.
    pub fn of(pdf: &[u8], page: usize) -> Option<Picture> {
        let (page, resolution) = (page.to_string(), RESOLUTION.to_string());
        let mut drawing = Command::new("pdftoppm")
            .args(["-gray", "-r", &resolution, "-f", &page, "-l", &page, "-"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .ok()?;
        let mut input = drawing.stdin.take().unwrap();
        let pdf = pdf.to_vec();
        let writing = std::thread::spawn(move || input.write_all(&pdf));
        let answer = drawing.wait_with_output().unwrap();
        writing.join().unwrap().unwrap();
        Some(Picture::read(&answer.stdout))
    }

    /// A raw portable graymap: `P5`, width, height and 255, then the dots.
    fn read(bytes: &[u8]) -> Picture {
        let mut parts = bytes.splitn(4, |byte| byte.is_ascii_whitespace());
        assert_eq!(parts.next(), Some(b"P5".as_slice()));
        let number = |part: Option<&[u8]>| -> usize {
            std::str::from_utf8(part.unwrap()).unwrap().parse().unwrap()
        };
        let (width, height) = (number(parts.next()), number(parts.next()));
        let rest = parts.next().unwrap();
        let dots = rest[rest.len() - width * height..].to_vec();
        Picture { width, dots }
    }

    /// Lengths of all lines that run across, in millimetres.
    pub fn dark_runs(&self) -> Vec<f64> {
        let dark = |dot: &u8| *dot < 128;
        let rows = self.dots.chunks(self.width);
        let runs = rows.flat_map(|row| row.chunk_by(|one, other| dark(one) == dark(other)));
        runs.filter(|run| dark(&run[0])).map(|run| run.len() as f64 / DOTS).collect()
    }
}
