//! What the maker decides and measures: the only thing that is saved.
//!
//! A [`Design`] is plain data. Any value a field's type allows may stand in it; [`check`](decisions::check) says
//! which are out of range, and [`derive()`](crate::derive()) refuses those. The names of the fields in the file are the paths
//! under which every decision can be asked for and set ([`decisions`]).

mod carcase;
mod contents;
pub mod dealer;
pub mod decisions;
pub mod edit;
mod facing;
mod fixing;
mod glue;
mod groove;
mod interior;
mod joinery;
mod limits;
mod matched;
mod moisture;
mod money;
mod own;
pub mod pile;
pub mod placed;
mod rough;
mod shelving;
pub mod shop;
mod site;
pub mod text;
mod timber;
pub mod timber_file;
mod top;

use serde::{Deserialize, Serialize};

use crate::length::Length;

pub use carcase::{Bottom, Carcase, Filling, FloorPieces, Frame, LooseFloor, Rails, Section, Side};
pub use contents::{Bears, BoxKind, COUNTS, HandRoom, Lies, MASSES, NESTS, SIZES, SPARES, Taken};
pub use facing::{Facing, Facings, Lipped, Veneered};
pub use fixing::{Clips, Plates, SlottedStrips, TopFixing};
pub use glue::{Glue, GlueStages, Gluing, OpenTime, SAFE_SHARE, SECONDS_A_JOINT, Tool, ToolWork, Tools, find_glue, glues};
pub use groove::{CutterKind, Groove, GrooveWidth, PanelCorners};
pub use interior::{Along, Bay, BaySize, Divider, Fitting, Opening, Split};
pub use joinery::{
    Cheeks, Corners, Dowels, EndJoint, EndJointKind, Haunch, Joinery, LooseMeeting, LooseTenons, Meeting as TenonMeeting, Reach, Ruled,
    Tenon,
};
pub use limits::{Anchors, LIFT, Limits, ON_TOP, Wall};
pub use moisture::{Moisture, Place, Season};
pub use money::{MakeUp, Money, Priced, Work, finish_id, hardware_id};
pub use own::{OwnSheet, OwnSpecies};
pub use rough::{FirstCut, Kerfs, Machine, MachineWork, Machines, Rings, Rough, SHORT, SheetCuts, Sold, Thickness, thicknesses};
pub use shelving::{
    Board, Cleat, CleatsBy, FixedCleats, Housed, MidStandards, PinOf, Pins, Sawtooth, ShelfOf, Shelves, Slats, Spacers, System, Teeth,
    ThickBy,
};
pub use shop::Shop;
pub use site::{Cabin, Passage, Site};
pub use timber::{Coating, Finish, SawnAs, Sheet, Sticks, Timber};
pub use top::{Arrises, Buttons, EdgeShape, EdgeSides, Edges, FixedLine, Slab, Top};

/// The version of the file format that this program writes. Version 1 is the first.
pub const FORMAT: u32 = 1;

/// A case as its maker decided it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Design {
    /// Version of the file format; [`FORMAT`].
    pub format: u32,
    /// What the piece is called.
    pub name: String,
    /// The things it must hold, a line a kind.
    pub contents: Vec<BoxKind>,
    /// The room that must stay free about them.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub hand_room: HandRoom,
    /// Where it will stand, and what it must pass on the way.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub site: Site,
    /// What it is judged by under load.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub limits: Limits,
    /// The outside: posts, frames, top, floor.
    pub carcase: Carcase,
    /// How the room inside is divided, and what stands in each part of it.
    pub interior: Opening,
    /// Sawtooth standards, cleats and slats, alike in every bay that has them.
    pub sawtooth: Sawtooth,
    /// Solid shelves.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub shelf: Board,
    /// Rows of holes and the pins in them.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub pins: Pins,
    /// Cleats that are fixed.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub cleats: FixedCleats,
    /// Shelves let into posts and dividers.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub housed: Housed,
    /// Joints, by where they are used.
    pub joinery: Joinery,
    /// Timber, sheet goods and the moisture they live at.
    pub timber: Timber,
    /// Prices and hours.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub money: Money,
    /// Sizes of single parts that the maker set against the rules.
    #[serde(default)]
    pub overrides: Vec<Override>,
    /// What was measured and done in the shop, and what the shop has.
    #[serde(default, skip_serializing_if = "Shop::is_empty")]
    pub shop: Shop,
}

/// A size of one part that the maker set against the rules. The checks still run against it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Override {
    /// The part's name, such as `rail.front.bottom`.
    pub part: String,
    /// Which of its sizes.
    pub of: Dimension,
    /// The size, mm. The part grows or shrinks away from its first end, face edge or face side.
    pub value: Length,
}

/// One of the three sizes of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Dimension {
    /// Along the grain.
    Length,
    /// Across the grain.
    Width,
    /// Through it.
    Thickness,
}

impl Dimension {
    /// All three, in the order in which they are said.
    pub const ALL: [Dimension; 3] = [Dimension::Length, Dimension::Width, Dimension::Thickness];

    /// 0, 1, 2.
    pub fn index(self) -> usize {
        match self {
            Dimension::Length => 0,
            Dimension::Width => 1,
            Dimension::Thickness => 2,
        }
    }

    /// Its name in lower case.
    pub fn word(self) -> &'static str {
        match self {
            Dimension::Length => "length",
            Dimension::Width => "width",
            Dimension::Thickness => "thickness",
        }
    }
}
