//! What the maker decides and measures: the only thing that is saved.
//!
//! A [`Design`] is plain data. Any value a field's type allows may stand in it; [`check`](decisions::check) says
//! which are out of range, and [`derive()`](crate::derive()) refuses those. The names of the fields in the file are the paths
//! under which every decision can be asked for and set ([`decisions`]).

pub mod decisions;
pub mod edit;
mod fixing;
mod glue;
mod joinery;
mod limits;
mod moisture;
mod money;
mod own;
pub mod shop;
pub mod text;

pub use fixing::{Clips, Plates, SlottedStrips, TopFixing};
pub use glue::{Glue, GlueStages, Gluing, OpenTime, SAFE_SHARE, SECONDS_A_JOINT, Tool, ToolWork, Tools, find_glue, glues};
pub use joinery::{
    Cheeks, Corners, Dowels, EndJoint, EndJointKind, Haunch, Joinery, LooseMeeting, LooseTenons, Meeting as TenonMeeting, Reach, Ruled,
    Tenon,
};
pub use limits::{Anchors, LIFT, Limits, ON_TOP, Wall};
use serde::{Deserialize, Serialize};

use crate::length::Length;
use crate::timber::Sawn;
pub use moisture::{Moisture, Place, Season};
pub use money::{MakeUp, Money, Priced, Work};
pub use own::{OwnSheet, OwnSpecies};
pub use shop::Shop;

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
    /// What it is judged by under load.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub limits: Limits,
    /// The outside: posts, frames, top, floor.
    pub carcase: Carcase,
    /// How the room inside is divided, and what stands in each part of it.
    pub interior: Opening,
    /// Sawtooth standards, cleats and slats, alike in every bay that has them.
    pub sawtooth: Sawtooth,
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

/// One kind of thing to be kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoxKind {
    /// What it is called.
    pub name: String,
    /// Outside size from left to right as it stands on the shelf, mm.
    pub width: Length,
    /// Outside size from front to back, mm.
    pub depth: Length,
    /// Outside size upward, mm.
    pub height: Length,
    /// Weight of one, full, kg.
    pub mass: f64,
    /// How many there are.
    pub count: u32,
}

/// The outside of the case.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Carcase {
    /// Over the posts, left to right, mm.
    pub width: Length,
    /// From the floor to the upper face of the top, mm.
    pub height: Length,
    /// Over the posts, front to back, mm.
    pub depth: Length,
    /// Section of the four corner posts.
    pub post: Section,
    /// Rails of all frames.
    pub rails: Rails,
    /// Left side.
    pub left: Side,
    /// Right side.
    pub right: Side,
    /// Back.
    pub back: Side,
    /// What closes it above.
    pub top: Top,
    /// What closes it below.
    pub bottom: Bottom,
    /// Whether it is fastened to the wall behind it.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub wall: Wall,
}

/// A section, seen from above for an upright part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Section {
    /// Along the width of the case, mm.
    pub width: Length,
    /// Along the depth of the case, mm.
    pub depth: Length,
}

/// The rails of the frames.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rails {
    /// Thickness of every rail, mm.
    pub thickness: Length,
    /// Width (height as it stands) of the rails under the top, mm.
    pub top: Length,
    /// Width of the rails at the bottom, mm.
    pub bottom: Length,
    /// Width of the rails between, where a frame has any, mm.
    pub middle: Length,
    /// From the floor to the lower edge of the bottom rails, mm.
    pub foot: Length,
    /// How far the rails stand back from the outer face of the posts, mm.
    pub reveal: Length,
}

/// One side of the carcase.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Side {
    /// Rails between posts, with or without panels.
    Frame(Frame),
    /// Nothing: no rails, no panel.
    Open,
}

/// A frame of posts, rails and muntins.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Frame {
    /// How many rails stand between the top and the bottom rail, evenly spaced.
    pub middle_rails: u32,
    /// What fills the frame.
    pub filling: Filling,
}

/// What fills a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Filling {
    /// Sheet panels in grooves.
    Panel,
    /// Nothing.
    Open,
}

/// What closes the case above.
#[allow(clippy::large_enum_variant, reason = "a design has one top")]
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Top {
    /// A slab of boards glued edge to edge, its grain along the width.
    Slab(Slab),
    /// Nothing.
    Open,
}

/// A solid top.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slab {
    /// Thickness, mm.
    pub thickness: Length,
    /// Over the front of the posts, mm.
    pub over_front: Length,
    /// Over the back of the posts, mm.
    pub over_back: Length,
    /// Over the posts on the left and on the right, mm.
    pub over_sides: Length,
    /// How its edges are worked.
    #[serde(default)]
    pub edges: Edges,
    /// What holds it down and lets it move.
    #[serde(default)]
    pub fixing: TopFixing,
    /// Wooden buttons; and, for whatever holds the top, how they are spread and which line stays where it is.
    pub buttons: Buttons,
    /// Metal clips.
    #[serde(default)]
    pub clips: Clips,
    /// Figure-eight plates.
    #[serde(default)]
    pub plates: Plates,
    /// Screws in slotted strips.
    #[serde(default)]
    pub strips: SlottedStrips,
}

/// How the edges of a solid top are worked. Breaking the arrises by 0.5 to 1 mm is bench work and not among it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edges {
    /// What is taken off.
    pub shape: EdgeShape,
    /// Radius of the round, or width of the chamfer on both faces, mm.
    pub size: Length,
    /// Which arrises.
    pub arrises: Arrises,
    /// Along which edges.
    pub sides: EdgeSides,
}

impl Default for Edges {
    /// Square; 3 mm on the upper arrises of front and ends as soon as it is not.
    fn default() -> Self {
        Edges { shape: EdgeShape::default(), size: Length::mm(3.0), arrises: Arrises::default(), sides: EdgeSides::default() }
    }
}

/// What is taken off an arris.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum EdgeShape {
    /// Nothing.
    #[default]
    Square,
    /// A quarter round.
    Round,
    /// A chamfer at 45°.
    Chamfer,
}

/// Which arrises of an edge are worked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Arrises {
    /// The upper ones.
    #[default]
    Upper,
    /// The lower ones: the edge seems lighter from above.
    Lower,
    /// Both.
    Both,
}

/// Along which edges of a top its arrises are worked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum EdgeSides {
    /// Front and both ends; the back stands against a wall.
    #[default]
    FrontAndEnds,
    /// All round.
    AllRound,
}

/// Wooden buttons under a solid top: screwed to the top, their tongues in slots of the rails.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Buttons {
    /// Length along the grain, tongue included, mm.
    pub length: Length,
    /// Width along the rail, mm.
    pub width: Length,
    /// Thickness, mm.
    pub thickness: Length,
    /// Length and thickness of the tongue, mm.
    pub tongue: Length,
    /// From a post, muntin or cross rail to the middle of the first button, mm.
    pub first: Length,
    /// Greatest distance from button to button, mm.
    pub spacing: Length,
    /// The line of the top that stays where it is.
    pub fixed: FixedLine,
}

/// The line of a solid top that stays where it is while the rest moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum FixedLine {
    /// The front stays: all movement shows at the back.
    Front,
    /// The middle stays: half shows at each edge.
    Centre,
    /// The back stays: all movement shows at the front.
    Back,
}

/// What closes the case below.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Bottom {
    /// One piece of sheet a bay, laid on bearers after glue-up.
    LooseFloor(LooseFloor),
    /// Nothing.
    Open,
}

/// A floor that goes in after glue-up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LooseFloor {
    /// Free room round each piece, mm.
    pub clearance: Length,
    /// Section of the bearers glued to the front and back rails: width and height alike, mm.
    pub bearer: Length,
}

/// The room inside, or a part of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Opening {
    /// A bay with what stands in it.
    Leaf(Fitting),
    /// Divided into several openings.
    Split(Split),
}

/// An opening divided by upright dividers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Split {
    /// Which way it is divided.
    pub along: Along,
    /// What stands between two neighbours.
    pub divider: Divider,
    /// The openings, from the left.
    pub bays: Vec<Bay>,
}

/// The direction in which an opening is divided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Along {
    /// Side by side along the width.
    Width,
}

/// A divider: a stile in front, a muntin at the back, cross rails between them above and below.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Divider {
    /// Width of stile and muntin along the width of the case, mm.
    pub width: Length,
    /// Width (height as it stands) of the cross rails, mm.
    pub cross_rail: Length,
}

/// One of the openings of a split.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bay {
    /// How much of the width it takes.
    pub size: BaySize,
    /// What it is.
    pub opening: Opening,
}

/// How much of the width an opening takes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum BaySize {
    /// So much clear width, mm.
    Clear(Length),
    /// A share of what the clear widths leave.
    Share(f64),
}

/// What stands in a bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Fitting {
    /// Adjustable shelves of slats on cleats in sawtooth standards.
    Sawtooth(Shelves),
    /// Nothing.
    Empty,
}

/// The shelves of a bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shelves {
    /// The tooth on which each shelf lies, counted from the lowest, which is 1.
    pub shelves: Vec<u32>,
}

/// Sawtooth standards with loose cleats and slats.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sawtooth {
    /// From tooth to tooth, mm.
    pub pitch: Length,
    /// Depth of a seat, mm.
    pub seat: Length,
    /// Flat left at the tip of a tooth, mm.
    pub crest: Length,
    /// Width of a standard behind its seats, mm.
    pub backing: Length,
    /// Thickness of the standards, mm.
    pub thickness: Length,
    /// From the foot of the standard to its lowest seat, mm.
    pub first: Length,
    /// The cleats.
    pub cleat: Cleat,
    /// The slats.
    pub slats: Slats,
}

/// The loose cleats in the teeth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cleat {
    /// Height, mm.
    pub height: Length,
    /// Thickness along the width of the case, mm.
    pub thickness: Length,
    /// How much shorter than from riser to riser, mm.
    pub play: Length,
}

/// The slats that make a shelf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slats {
    /// How many a shelf.
    pub count: u32,
    /// Width of each, mm.
    pub width: Length,
    /// Thickness of each, mm.
    pub thickness: Length,
    /// Free room at each end, and round what they are notched for, mm.
    pub play: Length,
    /// How far the foremost slat stands back from the front of the posts, mm.
    pub set_back: Length,
    /// What decides how thick they are.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub thick_by: ThickBy,
}

/// What decides how thick the slats are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThickBy {
    /// The maker.
    #[default]
    AsDecided,
    /// The load: no less than the maker decided, and thicker where a shelf with its boxes one high would sag further than it is made for.
    Load,
}

/// Grooves for panels.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Groove {
    /// Depth, mm.
    pub depth: Length,
    /// How far short of the bottom of the groove the panel ends, mm.
    pub play: Length,
    /// How the width is found.
    pub width_by: GrooveWidth,
    /// Groove less panel in thickness, when the width follows the sheet, mm.
    pub fit: Length,
    /// Width of the groove when it is the maker's own, mm.
    pub own_width: Length,
    /// How wide the cutter that makes the grooves cuts, mm: the diameter of a round cutter, the thickness of a slot cutter.
    pub cutter: Length,
    /// What kind of cutter it is.
    #[serde(default)]
    pub cutter_kind: CutterKind,
    /// Diameter of the slot cutter or saw, when it is one, mm.
    #[serde(default = "slot_cutter")]
    pub cutter_diameter: Length,
    /// How panels pass what the cutter leaves where a groove stops.
    #[serde(default)]
    pub corners: PanelCorners,
}

/// How a panel passes what the cutter leaves where its groove stops.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum PanelCorners {
    /// Its corners stay square: the groove is at full depth as far as they reach, and runs out beyond.
    #[default]
    Square,
    /// Its corners are cut off: the groove runs out where the panel ends.
    CutOff,
}

/// What kind of cutter makes a groove.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum CutterKind {
    /// A round cutter that plunges: a groove stops half round.
    #[default]
    Round,
    /// A slot cutter, or a saw: a groove stops in a ramp.
    Slot,
}

/// The slot cutter that is taken until the maker says which: 40 mm (common practice, no source).
fn slot_cutter() -> Length {
    Length::mm(40.0)
}

/// How the width of a groove is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum GrooveWidth {
    /// The measured thickness of the sheet and the fit.
    FromSheet,
    /// The maker's own width.
    Own,
}

/// Timber, sheets and moisture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Timber {
    /// Species of the carcase: posts, rails, stiles, muntins, bearers.
    pub frame: String,
    /// Species of the top and its buttons.
    pub top: String,
    /// Species of standards, cleats and slats.
    pub shelving: String,
    /// The sheet for the panels.
    pub panel: Sheet,
    /// The sheet for the floor.
    pub floor: Sheet,
    /// How the solid timber was sawn.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub sawn: SawnAs,
    /// What it is finished with.
    #[serde(default, skip_serializing_if = "shop::is_default")]
    pub finish: Finish,
    /// Moisture of the timber.
    pub moisture: Moisture,
    /// The sticks that solid parts are crosscut from.
    pub sticks: Sticks,
    /// Species that the tables do not have.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own_species: Vec<OwnSpecies>,
    /// Sheets that the tables do not have.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own_sheets: Vec<OwnSheet>,
}

/// What a piece is finished with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Finish {
    /// It is not decided yet.
    #[default]
    Open,
    /// Nothing, or soap, or wax.
    Bare,
    /// A drying oil, such as linseed or tung, or what has some in it.
    DryingOil,
    /// Lacquer, varnish or shellac without oil.
    Film,
}

/// How the solid timber was sawn, by what it is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SawnAs {
    /// The carcase.
    #[serde(default)]
    pub frame: Sawn,
    /// The top and its buttons.
    #[serde(default)]
    pub top: Sawn,
    /// Standards, cleats and slats.
    #[serde(default)]
    pub shelving: Sawn,
}

/// Sheet goods as sold and as measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// Product, by its name in the table of sheet goods.
    pub product: String,
    /// Thickness it is sold as, mm.
    pub nominal: Length,
    /// Thickness measured on the sheet in the shop, mm. Grooves follow this one.
    pub measured: Length,
}

/// Sticks of one section, from which solid parts are crosscut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sticks {
    /// Length, mm.
    pub length: Length,
    /// Width of the saw cut, mm.
    pub kerf: Length,
    /// Cut off each end, mm.
    pub trim: Length,
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
