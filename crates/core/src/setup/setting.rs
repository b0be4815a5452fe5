//! How a tool is set: what cuts, where the fence stands, how deep.

use std::cmp::Ordering;

use crate::design::ToolWork;
use crate::length::trimmed_to;

/// A kind of work, in the order in which it is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Work {
    /// Pockets for tenons, buttons and plates.
    Mortise,
    /// Ends cut back to a tenon.
    Tenon,
    /// Channels along the grain.
    Groove,
    /// Channels across the grain.
    Housing,
    /// Steps along an edge or across an end.
    Rabbet,
    /// Recesses right across, open mortises and corners cut out.
    Cutout,
    /// Tails, pins and fingers.
    Dovetail,
    /// Rows of teeth or half circles.
    Teeth,
    /// Round holes.
    Hole,
    /// Bevels, tapers, rounds and chamfers.
    Shape,
}

impl Work {
    /// All of them, in the order of the work.
    pub const ALL: [Work; 10] = [
        Work::Mortise,
        Work::Tenon,
        Work::Groove,
        Work::Housing,
        Work::Rabbet,
        Work::Cutout,
        Work::Dovetail,
        Work::Teeth,
        Work::Hole,
        Work::Shape,
    ];

    /// Its name on a card.
    pub fn word(self) -> &'static str {
        match self {
            Work::Mortise => "mortises and slots",
            Work::Tenon => "tenons",
            Work::Groove => "grooves",
            Work::Housing => "housings",
            Work::Rabbet => "rabbets",
            Work::Cutout => "laps, open mortises and notches",
            Work::Dovetail => "dovetails and fingers",
            Work::Teeth => "teeth",
            Work::Hole => "holes",
            Work::Shape => "edges and slopes",
        }
    }

    pub(super) fn place(self) -> u8 {
        Work::ALL.iter().position(|work| *work == self).map_or(0, |place| place as u8)
    }

    /// The kind of tool on the maker's list that makes it; none where no such tool is kept.
    pub(super) fn tool(self) -> Option<ToolWork> {
        match self {
            Work::Mortise => Some(ToolWork::Slot),
            Work::Groove | Work::Housing => Some(ToolWork::Groove),
            Work::Hole => Some(ToolWork::Hole),
            Work::Tenon | Work::Rabbet | Work::Cutout | Work::Dovetail | Work::Teeth | Work::Shape => None,
        }
    }

    /// What to try on a test piece of the same stock (common practice, no source).
    pub(super) fn test(self) -> &'static str {
        match self {
            Work::Mortise => "the tenon, button or clip that is for it goes in by hand, as tight as it should be",
            Work::Tenon => "it goes into a mortise that is cut already, by hand, and its shoulder closes",
            Work::Groove => "an offcut of the panel slides along it without force and without rattling",
            Work::Housing => "the end of the shelf goes in by hand",
            Work::Rabbet => "what goes into it lies flush",
            Work::Cutout => "both faces come out flush",
            Work::Dovetail => "the joint goes together once, with a mallet",
            Work::Teeth => "a cleat lies on the first and on the last of them",
            Work::Hole => "the pin, dowel or screw goes in as it should",
            Work::Shape => "it looks as wanted",
        }
    }
}

/// What cuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cutter {
    /// A round cutter of a diameter, mm.
    Round(f64),
    /// A slot cutter or saw of a thickness and a diameter, mm.
    Slot {
        /// How wide it cuts.
        thickness: f64,
        /// Its diameter.
        diameter: f64,
    },
    /// A mortise chisel or a square cut, of a width, mm.
    Square(f64),
    /// A drill of a diameter, mm.
    Drill(f64),
    /// A saw and a plane, or whatever the maker likes.
    Any,
}

impl Cutter {
    /// Whether both are one.
    pub(super) fn is_same(&self, other: &Cutter) -> bool {
        let ([kind, size], [other_kind, other_size]) = (self.numbers(), other.numbers());
        (kind - other_kind).abs() < 0.5 && (size - other_size).abs() < SAME
    }

    pub(super) fn numbers(&self) -> [f64; 2] {
        match *self {
            Cutter::Any => [0.0, 0.0],
            Cutter::Square(width) => [1.0, width],
            Cutter::Round(diameter) => [2.0, diameter],
            Cutter::Slot { thickness, .. } => [3.0, thickness],
            Cutter::Drill(diameter) => [4.0, diameter],
        }
    }

    /// `round cutter 8`; empty where it is the maker's choice.
    pub fn words(&self) -> String {
        let mm = |mm: f64| trimmed_to(mm, 2);
        match *self {
            Cutter::Any => String::new(),
            Cutter::Square(width) => format!("round cutter {}, the ends squared with a chisel", mm(width)),
            Cutter::Round(diameter) => format!("round cutter {}", mm(diameter)),
            Cutter::Slot { thickness, diameter } => format!("slot cutter or saw {} thick, {} across", mm(thickness), mm(diameter)),
            Cutter::Drill(diameter) => format!("drill {}", mm(diameter)),
        }
    }
}

/// Where a fence stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fence {
    /// From the face against it to the near wall of the cut, mm; of a hole to its middle.
    pub mm: f64,
    /// Whether that is to the middle.
    pub to_middle: bool,
}

/// How a tool is set: all cuts of one setting are made without moving anything.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// What is cut.
    pub work: Work,
    /// What cuts.
    pub cutter: Cutter,
    /// Where the fence stands; none where there is none to set.
    pub fence: Option<Fence>,
    /// How deep, mm; 0 where the words of each cut tell it.
    pub depth: f64,
    /// How wide the cut comes out, mm; 0 where the words of each cut tell it.
    pub width: f64,
    /// By how much fence or stop is moved on from where it stood first, for each further pass that widens the cut, mm.
    pub passes: Vec<f64>,
}

/// Settings that differ by less are one, mm.
pub(super) const SAME: f64 = 0.05;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME
}

impl Setting {
    /// Whether both are one but for where the fence stands.
    pub(super) fn is_but_for_the_fence(&self, other: &Setting) -> bool {
        let to_middle = |setting: &Setting| setting.fence.map(|fence| fence.to_middle);
        self.work == other.work
            && self.cutter.is_same(&other.cutter)
            && to_middle(self) == to_middle(other)
            && near(self.depth, other.depth)
            && near(self.width, other.width)
    }

    /// Whether both are one.
    pub(super) fn is(&self, other: &Setting) -> bool {
        let passes = self.passes.len() == other.passes.len() && self.passes.iter().zip(&other.passes).all(|(a, b)| near(*a, *b));
        self.is_but_for_the_fence(other) && passes && near(self.at(), other.at())
    }

    fn at(&self) -> f64 {
        self.fence.map_or(0.0, |fence| fence.mm)
    }

    /// In the order of the work; there cutters change least, then depths, then fences.
    pub(super) fn order(&self, other: &Setting) -> Ordering {
        let numbers = |setting: &Setting| {
            let [kind, size] = setting.cutter.numbers();
            [f64::from(setting.work.place()), kind, size, setting.depth, setting.at(), setting.width]
        };
        numbers(self).iter().zip(numbers(other)).fold(Ordering::Equal, |order, (a, b)| order.then(a.total_cmp(&b)))
    }

    /// How many of cutter, depth and fence are moved from the setting before.
    pub fn changes_from(&self, before: &Setting) -> u32 {
        let cutter = self.work != before.work || !self.cutter.is_same(&before.cutter);
        let fence = self.fence.is_some() != before.fence.is_some() || !near(self.at(), before.at());
        u32::from(cutter) + u32::from(!near(self.depth, before.depth)) + u32::from(fence)
    }
}
