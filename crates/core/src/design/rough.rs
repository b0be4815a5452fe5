//! How much larger than finished parts are roughed out, in what thicknesses boards are sold, and what the machines of the shop take.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::Ruled;
use crate::length::Length;
use crate::timber::How;

/// From finished to rough.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Rough {
    /// Added to the finished length of solid parts, mm.
    pub length: Length,
    /// Added to their finished width, mm.
    pub width: Length,
    /// In what thicknesses boards are sold.
    pub sold: Sold,
    /// What planing takes off a rough board to [`SHORT`], both faces together, where the table of thicknesses tells nothing else, mm.
    pub planed: Length,
    /// The same of a longer one, mm.
    pub planed_long: Length,
    /// What the saw takes that rips boards, mm; by rule that of [`Sticks`](super::Sticks).
    pub rip_kerf: Ruled,
    /// The same of the saw that crosscuts them.
    pub crosscut_kerf: Ruled,
    /// The same of the saw that cuts sheets, both ways.
    pub sheet_kerf: Ruled,
    /// The same of the saw that resaws boards, between two leaves.
    pub resaw_kerf: Length,
    /// What flattening takes off each leaf once it is resawn, mm.
    pub resaw_flat: Length,
    /// Taken off each edge of a board or sheet before it is cut, mm.
    pub edge: Length,
    /// What is left of a board is kept from this length on, mm.
    pub keep_length: Length,
    /// And from this width on, mm.
    pub keep_width: Length,
    /// How many boards of each species and thickness are bought besides, should one be bad.
    pub spare: u32,
    /// How the strips of a wide part are turned before they are glued up.
    pub rings: Rings,
    /// Which cut is made first on a board.
    pub first: FirstCut,
    /// How often a sheet is turned while it is cut up.
    pub sheets: SheetCuts,
    /// By how much a sheet may measure otherwise than its parts and their grooves are made for, either way, mm; beyond that nothing is cut from it.
    pub sheet_off: Length,
}

/// How often a sheet is turned while it is cut up: strips, across these, and along what is left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum SheetCuts {
    /// Into strips, and these across: with a saw on a track, or where the saw is seldom turned.
    Two,
    /// And once more along what is left.
    #[default]
    Three,
    /// As often as it takes.
    Free,
}

impl SheetCuts {
    /// The stages of the cuts; none for any number.
    pub fn stages(self) -> Option<u8> {
        match self {
            SheetCuts::Two => Some(2),
            SheetCuts::Three => Some(3),
            SheetCuts::Free => None,
        }
    }
}

/// How the growth rings of strips lie that are glued up side by side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Rings {
    /// Every second strip is turned over: the cups go up and down and the whole stays nearly flat.
    #[default]
    Alternate,
    /// All look one way, for the figure: the whole cups in one curve, and is held flat by what it is fixed to.
    Matched,
}

impl Rings {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Rings::Alternate => "every second strip turned over",
            Rings::Matched => "all strips the same way up",
        }
    }
}

/// Which cut is made first on a board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum FirstCut {
    /// Whichever wastes least.
    #[default]
    Either,
    /// Crosscut to length, then rip.
    Crosscut,
    /// Rip, then crosscut.
    Rip,
}

impl Default for Rough {
    /// 25 and 6 mm, 6 and 7 planed off, 2 and 1 for resawing, 5 off each edge, 300 × 50 kept, a board to spare of each thickness, and sheets as they are designed to
    /// 0.1, half of the play that a groove has by rule: common practice, no source.
    fn default() -> Rough {
        Rough {
            length: Length::mm(25.0),
            width: Length::mm(6.0),
            sold: Sold::Metric,
            planed: Length::mm(6.0),
            planed_long: Length::mm(7.0),
            rip_kerf: Ruled::ByRule,
            crosscut_kerf: Ruled::ByRule,
            sheet_kerf: Ruled::ByRule,
            resaw_kerf: Length::mm(2.0),
            resaw_flat: Length::mm(1.0),
            edge: Length::mm(5.0),
            keep_length: Length::mm(300.0),
            keep_width: Length::mm(50.0),
            spare: 1,
            rings: Rings::Alternate,
            first: FirstCut::Either,
            sheets: SheetCuts::Three,
            sheet_off: Length::mm(0.1),
        }
    }
}

/// What the saws take of what they cut up, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kerfs {
    /// A crosscut, which lies at a place along a board.
    pub crosscut: f64,
    /// A rip, which lies at a place across it.
    pub rip: f64,
}

impl Kerfs {
    /// By the way in which a cut has its place: along the board (0) and across it (1).
    pub fn by_way(self) -> [f64; 2] {
        [self.crosscut, self.rip]
    }
}

impl Rough {
    /// What the saws take where each takes `kerf`, mm, unless the maker says otherwise: of boards, or of sheets.
    pub fn kerfs(&self, kerf: f64, sheets: bool) -> Kerfs {
        if sheets {
            let sheet = self.sheet_kerf.or(kerf);
            Kerfs { crosscut: sheet, rip: sheet }
        } else {
            Kerfs { crosscut: self.crosscut_kerf.or(kerf), rip: self.rip_kerf.or(kerf) }
        }
    }

    /// What comes flat and clean on both faces out of a board so thick as sawn, in a piece so long, mm; negative where nothing does.
    pub fn clean(&self, sawn: f64, length: f64) -> f64 {
        let is_short = length <= SHORT;
        let table = thicknesses().iter().find(|step| step.sold == self.sold && (step.sawn - sawn).abs() < SAME_STEP);
        match table.and_then(|step| step.clean.map(|clean| (step, clean))) {
            Some((step, [short, long])) => sawn - step.sawn + if is_short { short } else { long },
            None => sawn - if is_short { self.planed } else { self.planed_long }.to_mm(),
        }
    }
}

/// A board that differs by less from a thickness in which boards are sold is of it, mm.
const SAME_STEP: f64 = 0.5;

/// How boards are sold by thickness.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Sold {
    /// In millimetres.
    Metric,
    /// In quarters of an inch.
    Quarters,
}

/// A thickness in which boards are sold.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thickness {
    /// What it is called: `32`, `5/4`.
    pub id: String,
    /// With which others it is sold.
    pub sold: Sold,
    /// As sawn, mm.
    pub sawn: f64,
    /// What comes out of it flat and clean on both faces, to [`SHORT`] and longer, mm, where a source tells; else it is what
    /// [`Rough::planed`] leaves.
    #[serde(default)]
    pub clean: Option<[f64; 2]>,
    /// Where the figures come from.
    pub source: String,
    /// How they were obtained: read, derived, memory or practice.
    pub status: String,
}

/// The thickness as sawn, mm, that goes by a name: `8/4`; none where it is no name of a thickness.
pub fn thickness_called(name: &str) -> Option<f64> {
    let quarters = name.trim().trim_end_matches(" quarter").trim_end_matches(" quarters").replace(' ', "");
    let called = |step: &&Thickness| step.sold == Sold::Quarters && step.id == quarters;
    thicknesses().iter().find(called).map(|step| step.sawn)
}

/// The names that [`thickness_called`] knows: `4/4, 5/4`.
pub(super) fn quarters_called() -> String {
    let names = thicknesses().iter().filter(|step| step.sold == Sold::Quarters).map(|step| step.id.as_str());
    names.collect::<Vec<_>>().join(", ")
}

/// Pieces up to this length lose less when they are flattened, mm (common practice, no source).
pub const SHORT: f64 = 1500.0;

static THICKNESSES: LazyLock<Vec<Thickness>> =
    LazyLock::new(|| ron::from_str(include_str!("../../../../assets/timber/thicknesses.ron")).unwrap_or_default());

/// Every thickness of the table, the thinnest of each way of selling first.
pub fn thicknesses() -> &'static [Thickness] {
    &THICKNESSES
}

impl Thickness {
    /// With its unit: `32 mm`, `5/4`.
    pub fn words(&self) -> String {
        match self.sold {
            Sold::Metric => format!("{} mm", self.id),
            Sold::Quarters => self.id.clone(),
        }
    }

    /// How its figures were obtained.
    pub fn how(&self) -> How {
        match self.status.as_str() {
            "read" => How::Read,
            "derived" => How::Derived,
            _ => How::Memory,
        }
    }
}

/// A machine of the shop, and what it takes. In a file, among `shop.machines`:
///
/// ```text
/// (name: "Thickness planer", does: Thickness, least_length: 300, least_thickness: 6, greatest_width: 310, greatest_thickness: 150,
///  greatest_length: 4000)
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Machine {
    /// What the maker calls it.
    pub name: String,
    /// What it does.
    pub does: MachineWork,
    /// A shorter piece is not held by its rollers, or too near to hands, mm.
    pub least_length: Length,
    /// The least thickness that it leaves, mm.
    pub least_thickness: Length,
    /// The greatest width that goes in, mm.
    pub greatest_width: Length,
    /// The greatest thickness that goes in, mm.
    pub greatest_thickness: Length,
    /// The greatest length for which there is room before and behind it, mm.
    pub greatest_length: Length,
}

/// What a machine does to a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum MachineWork {
    /// Makes a face flat and an edge square to it.
    Flatten,
    /// Brings it to its thickness.
    Thickness,
    /// Saws it to its width.
    Rip,
}

/// The machines of a shop; of those that do the same, the first that takes a piece is used.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Machines(pub Vec<Machine>);

static MACHINES: LazyLock<Vec<Machine>> =
    LazyLock::new(|| ron::from_str(include_str!("../../../../assets/machines.ron")).unwrap_or_default());

impl Default for Machines {
    /// Those of the table.
    fn default() -> Machines {
        Machines(MACHINES.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_tables_is_read_and_thicker_boards_give_more() {
        assert_eq!(thicknesses().len(), 17);
        for sold in [Sold::Metric, Sold::Quarters] {
            let of_kind: Vec<_> = thicknesses().iter().filter(|step| step.sold == sold).collect();
            assert!(of_kind.len() >= 5);
            let rules = Rough { sold, ..Rough::default() };
            let [short, long] = [600.0, 2000.0].map(|length| move |step: &Thickness| rules.clean(step.sawn, length));
            assert!(of_kind.is_sorted_by(|a, b| a.sawn < b.sawn && short(a) < short(b) && long(a) < long(b)));
            assert!(of_kind.iter().all(|step| long(step) < short(step) && short(step) < step.sawn && !step.source.is_empty()));
        }
        let machines = Machines::default().0;
        for does in [MachineWork::Flatten, MachineWork::Thickness, MachineWork::Rip] {
            assert!(machines.iter().any(|machine| machine.does == does), "{does:?}");
        }
    }
}
