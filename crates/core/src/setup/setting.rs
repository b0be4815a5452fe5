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
    /// Holes that the threads of screws cut into.
    Pilot,
    /// Bevels, tapers, rounds and chamfers.
    Shape,
}

impl Work {
    /// All of them, in the order of the work.
    pub const ALL: [Work; 11] = [
        Work::Mortise,
        Work::Tenon,
        Work::Groove,
        Work::Housing,
        Work::Rabbet,
        Work::Cutout,
        Work::Dovetail,
        Work::Teeth,
        Work::Hole,
        Work::Pilot,
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
            Work::Pilot => "pilot holes for screws",
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
            Work::Hole | Work::Pilot => Some(ToolWork::Hole),
            Work::Tenon | Work::Rabbet | Work::Cutout | Work::Dovetail | Work::Teeth | Work::Shape => None,
        }
    }

    /// How it is made, where the words of each cut tell its places and no setting does (common practice, no source).
    pub(super) fn way(self) -> &'static str {
        match self {
            Work::Tenon => "saw cheeks and shoulders just outside the line, and plane down to it with a shoulder plane",
            Work::Rabbet => "knife the shoulder, saw it to depth, and take the waste off with a chisel or a rabbet plane",
            Work::Cutout => "saw in the waste beside the line, and pare to it with a chisel",
            Work::Dovetail => "saw the tails, mark the pins from them, and pare to the line",
            Work::Teeth => "stick the template on, saw the seats square to their depth, then the slopes, and pare to the line",
            Work::Shape => "saw outside the line or the template, and plane to it",
            Work::Pilot => {
                "bore each through the hole of what is screwed on, when that lies in its place; the figures are for marking it off before"
            }
            Work::Mortise | Work::Groove | Work::Housing | Work::Hole => "",
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

/// A round cutter goes no deeper at once than it is thick, and no deeper than this, mm (common practice, no source).
const DEEPEST: f64 = 6.0;
/// A round cutter reaches so many of its diameters deep at most before it is a long one (common practice, no source).
const REACHES: f64 = 4.0;

impl Cutter {
    /// In how many passes it comes to a depth, each deeper than the one before; one where it goes there at once.
    pub(super) fn passes_to(&self, depth: f64) -> u32 {
        match *self {
            Cutter::Round(size) | Cutter::Square(size) if size > 0.0 => (depth / size.min(DEEPEST) - 1e-6).ceil().max(1.0) as u32,
            Cutter::Round(_) | Cutter::Square(_) | Cutter::Slot { .. } | Cutter::Drill(_) | Cutter::Any => 1,
        }
    }

    /// Whether it must be longer than most of its thickness to come to a depth.
    pub(super) fn must_be_long(&self, depth: f64) -> bool {
        match *self {
            Cutter::Round(size) | Cutter::Square(size) => depth > REACHES * size,
            Cutter::Slot { .. } | Cutter::Drill(_) | Cutter::Any => false,
        }
    }

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

    /// In the order of the work, cutter by cutter; there by depths, then by fences.
    pub(super) fn order(&self, other: &Setting) -> Ordering {
        let numbers = |setting: &Setting| {
            let [kind, size] = setting.cutter.numbers();
            [f64::from(setting.work.place()), kind, size, setting.depth, setting.at(), setting.width]
        };
        numbers(self).iter().zip(numbers(other)).fold(Ordering::Equal, |order, (a, b)| order.then(a.total_cmp(&b)))
    }

    /// Whether both are of one kind of work and made with one cutter.
    pub(super) fn shares_cutter(&self, other: &Setting) -> bool {
        self.work == other.work && self.cutter.is_same(&other.cutter)
    }

    /// How many of cutter, depth and fence are moved from the setting before.
    pub fn changes_from(&self, before: &Setting) -> u32 {
        let cutter = !self.shares_cutter(before);
        let fence = self.fence.is_some() != before.fence.is_some() || !near(self.at(), before.at());
        u32::from(cutter) + u32::from(!near(self.depth, before.depth)) + u32::from(fence)
    }
}
