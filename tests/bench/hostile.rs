//! Orders that take longest: sizes to a thousandth of a millimetre, no two alike, on large sheets and many offcuts.

use super::instances::inputs;
use cardwright::batch::Inputs;

/// Such an order.
#[derive(Clone, Copy, Debug)]
pub struct Hostile {
    pub name: &'static str,
    pub lines: u64,
    pub papers: u64,
    pub offcuts: u64,
    /// Whether every card may be of any of the papers.
    pub joined: bool,
    /// Whether every third card is a strip.
    pub narrow: bool,
    /// Whether every card has all the layers that it can have.
    pub layers: bool,
    /// Whether sizes are whole millimetres.
    pub coarse: bool,
    /// What else stands under `[trimmer]`.
    pub trimmer: &'static str,
}

/// One paper and forty offcuts on a bench without limits.
pub const PLAIN: Hostile = Hostile {
    name: "fine",
    lines: 25,
    papers: 1,
    offcuts: 40,
    joined: false,
    narrow: false,
    layers: false,
    coarse: false,
    trimmer: "",
};

impl Hostile {
    /// The files of the order.
    pub fn inputs(&self) -> Inputs {
        let bench = format!("unit = \"mm\"\n[trimmer]\nknife = \"1200 mm\"\n{}", self.trimmer);
        let (order, sheets, offcuts) = (self.order(), self.sheets(), self.offcuts());
        inputs("hostile", order, sheets, Some(offcuts), bench)
    }

    /// The same by name.
    pub fn files(&self) -> Vec<(String, Vec<u8>)> {
        let inputs = self.inputs();
        let sources = inputs.orders.into_iter().chain([inputs.sheets]);
        let sources = sources.chain(inputs.offcuts).chain(inputs.workshop);
        sources.map(|source| (source.name, source.bytes)).collect()
    }

    fn order(&self) -> String {
        let mut chance = Chance(7);
        let layers = ["liner", "mat", "envelope", "envelope liner", "band", "insert"];
        let mut text = "line,card,fold,count,paper".to_owned();
        if self.layers {
            layers.iter().for_each(|layer| text.push_str(&format!(",{layer}")));
        }
        for line in 0..self.lines {
            let most = if self.layers { 130 } else { 180 };
            let strip = self.narrow && line % 3 == 0;
            let width = if strip {
                self.length(&mut chance, (3, 9))
            } else {
                self.length(&mut chance, (40, most))
            };
            let height = self.length(&mut chance, (40, most));
            let fold = if self.layers {
                "side"
            } else {
                ["flat", "side", "top"][chance.below(3) as usize]
            };
            let papers: Vec<String> = (0..self.papers).map(|paper| format!("p{paper}")).collect();
            let paper = if self.joined {
                papers.join("|")
            } else {
                papers[(line % self.papers) as usize].clone()
            };
            let count = 3 + chance.below(58);
            text.push_str(&format!("\nl{line},{width} x {height},{fold},{count},{paper}"));
            if self.layers {
                layers.iter().for_each(|_| text.push_str(&format!(",{paper}")));
            }
        }
        text + "\n"
    }

    fn sheets(&self) -> String {
        let mut chance = Chance(11);
        let mut text = "sheet,paper,width,height,on hand,price,pack\n".to_owned();
        for paper in 0..self.papers {
            let (width, height) =
                (self.length(&mut chance, (450, 520)), self.length(&mut chance, (640, 700)));
            let (large, small) = (310 + chance.below(90), 110 + chance.below(90));
            text.push_str(&format!(
                "big{paper},p{paper},700,1000,2,{}.{:02},5\n",
                large / 100,
                large % 100
            ));
            text.push_str(&format!(
                "mid{paper},p{paper},{width},{height},3,{}.{:02},1\n",
                small / 100,
                small % 100
            ));
        }
        text
    }

    fn offcuts(&self) -> String {
        let mut chance = Chance(13);
        let mut text = "offcut,paper,width,height,count\n".to_owned();
        for offcut in 0..self.offcuts {
            let (width, height) =
                (self.length(&mut chance, (60, 650)), self.length(&mut chance, (120, 900)));
            let (paper, count) = (chance.below(self.papers), 1 + chance.below(3));
            text.push_str(&format!("c{offcut},p{paper},{width},{height},{count}\n"));
        }
        text
    }

    fn length(&self, chance: &mut Chance, (least, most): (u64, u64)) -> String {
        let thousandths = 1000 * least + chance.below(1000 * (most - least));
        match self.coarse {
            true => format!("{}", thousandths / 1000),
            false => format!("{}.{:03}", thousandths / 1000, thousandths % 1000),
        }
    }
}

/// Repeatable chance (Knuth's MMIX generator, The Art of Computer Programming 2, 3.3.4; from memory).
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}
