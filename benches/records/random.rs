//! Numbers that look random and are the same everywhere: the linear congruential generator with
//! Knuth's MMIX constants (Knuth, The Art of Computer Programming 2, 3.3.4), the upper half of its state.

/// The generator.
pub struct Random(u64);

impl Random {
    /// Starts from a seed; the first sixteen numbers are thrown away.
    pub fn new(seed: u64) -> Random {
        let mut random = Random(seed);
        (0..16).for_each(|_| {
            random.next();
        });
        random
    }

    fn next(&mut self) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 32
    }

    /// A number from `least` to `most`.
    pub fn between(&mut self, least: u64, most: u64) -> u64 {
        least + self.next() % (most - least + 1)
    }

    /// One of these.
    pub fn one_of<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.between(0, words.len() as u64 - 1) as usize]
    }

    /// A length from `least` to `most` eighths of an inch, as it is typed.
    pub fn eighths(&mut self, least: u64, most: u64) -> String {
        let eighths = self.between(least, most);
        match (eighths / 8, eighths % 8) {
            (whole, 0) => whole.to_string(),
            (0, part) => format!("{part}/8"),
            (whole, part) => format!("{whole} {part}/8"),
        }
    }
}
