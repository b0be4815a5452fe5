//! Every part at its finished size, with its cuts and where it stands, and every joint between them.

mod assembly;
mod feature;
mod glued;
mod kind;
mod marks;
mod prism_box;
mod row;

use casewright_solid::{Pose, Solid};
use glam::{DVec2, DVec3};

pub use assembly::{Assembly, Meeting, NewPart};
pub(crate) use assembly::{OVERRIDES, OwnSize, SHOP_PARTS, is_made};
pub use feature::{EdgeChamfer, EdgeRabbet, EdgeRound, EndGap, Face, Feature, Housing, Socket, Step, Stop, Tail, Taper};
pub(crate) use feature::{Shaping, channel};
pub use glued::GluedUp;
pub use kind::{BuildStage, Material, PartKind, Role};
pub use prism_box::PrismBox;
pub(crate) use prism_box::prism_bounds;

use crate::design::shop::State;
use crate::inspect::Finding;
use crate::joint::JointKind;
use crate::length::trimmed;
use crate::origin::{Origin, Size};
use crate::place::{Block, Dir};
use crate::timber::{Sawn, Timbers};

/// A part, by its place in [`Model::parts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub usize);

/// A joint, by its place in [`Model::joints`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JointId(pub usize);

/// The case worked out: what [`derive()`](crate::derive()) makes of a design.
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// What the piece is called.
    pub name: String,
    /// Every part; equal parts are separate entries with the same mark.
    pub parts: Vec<Part>,
    /// Every joint.
    pub joints: Vec<Joint>,
    /// The clear rooms between floor, shelves and top, for what it must hold.
    pub rooms: Vec<Room>,
    /// The bays from the left, with the levels at which shelves may lie.
    pub bays: Vec<Bay>,
    /// Lines of parts that are held while the rest of the part moves from there.
    pub held_lines: Vec<HeldLine>,
    /// Over everything, the top's overhang included: least and greatest corner, mm.
    pub bounds: Option<Block>,
    /// Every timber and sheet that its parts may be of.
    pub timbers: Timbers,
    /// What could not be placed as decided, found while deriving.
    pub findings: Vec<Finding>,
}

impl Model {
    /// For each part the body it belongs to, by a number that all parts of one body share: those that joints hold fast to each other.
    pub fn bodies(&self, holds: impl Fn(&Joint) -> bool) -> Vec<usize> {
        let mut body: Vec<usize> = (0..self.parts.len()).collect();
        for joint in self.joints.iter().filter(|joint| holds(joint)) {
            for member in std::iter::once(joint.b).chain(joint.loose.iter().copied()) {
                let (from, to) = (body[member.0], body[joint.a.0]);
                body.iter_mut().filter(|body| **body == from).for_each(|body| *body = to);
            }
        }
        body
    }

    /// The part of that id.
    pub fn part(&self, id: PartId) -> &Part {
        &self.parts[id.0]
    }

    /// The joint of that id.
    pub fn joint(&self, id: JointId) -> &Joint {
        &self.joints[id.0]
    }

    /// The part of that name, such as `rail.front.bottom`.
    pub fn find(&self, name: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.name == name)
    }

    /// The joints in which a part is a member or a loose part.
    pub fn joints_of(&self, id: PartId) -> impl Iterator<Item = &Joint> {
        self.joints.iter().filter(move |joint| joint.a == id || joint.b == id || joint.loose.contains(&id))
    }
}

/// One piece of wood or sheet.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its place in the model.
    pub id: PartId,
    /// A stable name: kind, assembly and place, such as `rail.front.bottom`.
    pub name: String,
    /// What a maker calls it: "Front rail, bottom".
    pub title: String,
    /// What is written on it; equal parts share it.
    pub mark: String,
    /// What it is.
    pub kind: PartKind,
    /// What it is made of.
    pub material: Material,
    /// How it was sawn, where it is solid timber.
    pub sawn: Sawn,
    /// Finished length (along the grain), width and thickness.
    pub size: [Size; 3],
    /// How far tenons stand out beyond the shoulders at the first and at the second end, mm; part of the length.
    pub beyond_shoulders: [f64; 2],
    /// How thick the shims are that make it up at the shoulders of its first and its second end, mm; no part of the length.
    pub shims: [f64; 2],
    /// Where it stands.
    pub pose: Pose,
    /// Everything cut into it: what is planned, or in a part that is cut what is there and what is still to be cut.
    pub cuts: Vec<Cut>,
    /// What is planned to be cut into it, where it is cut already and that is not what is there.
    pub planned: Option<Vec<Cut>>,
    /// When it goes in.
    pub stage: BuildStage,
    /// How far it is made.
    pub state: State,
}

impl Part {
    /// Finished length, width and thickness, mm.
    pub fn lwt(&self) -> DVec3 {
        DVec3::new(self.size[0].mm, self.size[1].mm, self.size[2].mm)
    }

    /// What is planned to be cut into it, whatever is there.
    pub fn planned_cuts(&self) -> &[Cut] {
        self.planned.as_deref().unwrap_or(&self.cuts)
    }

    /// The blank less its cuts.
    pub fn solid(&self) -> Solid {
        let size = self.lwt();
        Solid { size, prisms: self.cuts.iter().flat_map(|cut| cut.feature.prisms(size)).collect() }
    }

    /// The upright box it fills in the case; parts stand square to the case.
    pub fn block(&self) -> Block {
        let (a, b) = (self.pose.point(DVec3::ZERO), self.pose.point(self.lwt()));
        Block { min: a.min(b), max: a.max(b) }
    }

    /// The upright box between its shoulders: [`block`](Part::block) without the tenons at its ends, and with its shims.
    pub fn body(&self) -> Block {
        let [first, second] = [0, 1].map(|end| self.beyond_shoulders[end] - self.shims[end]);
        let (low, high) = (DVec3::new(first, 0.0, 0.0), self.lwt() - DVec3::new(second, 0.0, 0.0));
        let (a, b) = (self.pose.point(low), self.pose.point(high));
        Block { min: a.min(b), max: a.max(b) }
    }

    /// How thick the shim is at the end that looks in the case's direction `into`, mm; nothing where that is no end or has none.
    pub fn shim_towards(&self, into: Dir) -> f64 {
        match Face::looking(self.pose.inverse().vector(into.vector())) {
            Face::FirstEnd => self.shims[0],
            Face::SecondEnd => self.shims[1],
            _ => 0.0,
        }
    }

    /// Whether one of its sizes, 0 to 2, is the maker's own against the rules.
    pub(crate) fn is_own(&self, axis: usize) -> bool {
        matches!(&self.size[axis].origin, Origin::Decision { path } if path.starts_with(OVERRIDES))
    }

    /// Where its face side looks in the case: "to the front". Thicknesses are counted from it.
    pub fn face_side_looks(&self) -> &'static str {
        Dir::nearest(-self.pose.basis.z_axis).words()
    }

    /// Where its face edge looks in the case. Widths are counted from it.
    pub fn face_edge_looks(&self) -> &'static str {
        Dir::nearest(-self.pose.basis.y_axis).words()
    }

    /// `1264 × 96 × 24`.
    pub fn size_text(&self) -> String {
        format!("{} × {} × {}", trimmed(self.size[0].mm), trimmed(self.size[1].mm), trimmed(self.size[2].mm))
    }
}

/// A cut in a part, with the joint that asked for it; a shape of the part's own, such as a row of teeth, has none.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What is cut, in the part's own measures.
    pub feature: Feature,
    /// The joint it serves.
    pub joint: Option<JointId>,
    /// Whether it is there, in a part that is cut.
    pub there: CutState,
}

impl Cut {
    /// What it is, where and how large; and whether it is there, where that is not as planned.
    pub fn describe(&self) -> String {
        let words = self.feature.describe();
        self.there.words().map_or(words.clone(), |there| format!("{words}; {there}"))
    }
}

/// How a cut that is there, or planned, stands to the plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CutState {
    /// As planned, whether it is there or still to be cut with its part.
    #[default]
    AsPlanned,
    /// There, and other than planned now.
    Otherwise,
    /// There, and for nothing now.
    Idle,
    /// Planned now, and not there in a part that is cut.
    Missing,
}

impl CutState {
    /// What a list says of such a cut; nothing of one as planned.
    pub fn words(self) -> Option<&'static str> {
        match self {
            CutState::AsPlanned => None,
            CutState::Otherwise => Some("there, other than planned now"),
            CutState::Idle => Some("there for nothing"),
            CutState::Missing => Some("still to be cut"),
        }
    }
}

/// A joint between two parts, with any loose parts it adds.
#[derive(Clone, Debug)]
pub struct Joint {
    /// Its place in the model.
    pub id: JointId,
    /// What it is, with its figures.
    pub kind: JointKind,
    /// Where in the case it is used.
    pub role: Role,
    /// The part that comes up: rail, panel, slat.
    pub a: PartId,
    /// The part that receives: post, groove, cleat.
    pub b: PartId,
    /// Loose tenons and the like.
    pub loose: Vec<PartId>,
    /// Where they meet, as designed.
    pub contact: Contact,
    /// Whether it is glued.
    pub glued: bool,
}

impl Joint {
    /// Whether what stands in mortises or holes without glue holds its parts beside each other: they come apart the way they went together, and no other.
    pub fn is_plugged(&self) -> bool {
        !self.glued && matches!(self.kind, JointKind::LooseTenons(_) | JointKind::Tenon(_) | JointKind::Dowels(_))
    }
}

/// Where two parts meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The middle of the contact, in the case, mm, on the face of the receiving part.
    pub centre: DVec3,
    /// The direction in which the coming part looks at the receiving one. Most joints close along it; which ways one comes apart
    /// is its [`ways_apart`](JointKind::ways_apart) to tell.
    pub into: Dir,
    /// The long direction of the contact.
    pub along: Dir,
    /// Extent along `along`, and across it, mm.
    pub extent: DVec2,
}

/// A line across a part at which it is held fast: what is beside it moves away from there and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldLine {
    /// The part.
    pub part: PartId,
    /// The axis of the case along which it moves, 0 to 2.
    pub axis: usize,
    /// Where the line lies on that axis, mm.
    pub at: f64,
}

/// A bay of the case from its lowest level to its highest, with what is known of where shelves may lie in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bay {
    /// The free space without any shelf, mm.
    pub space: Block,
    /// Whether boxes may stand at its lowest level.
    pub has_floor: bool,
    /// Its teeth; none where it takes no shelves that can be moved.
    pub teeth: Option<ShelfLevels>,
}

/// What the levels of shelves are counted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LevelKind {
    /// The teeth of standards.
    Tooth,
    /// The holes of rows.
    Hole,
    /// Steps at which what holds a shelf is fixed.
    Step,
}

impl LevelKind {
    /// One and many of them: "tooth", "teeth".
    pub fn words(self) -> (&'static str, &'static str) {
        match self {
            LevelKind::Tooth => ("tooth", "teeth"),
            LevelKind::Hole => ("hole", "holes"),
            LevelKind::Step => ("level", "levels"),
        }
    }

    /// Whether a shelf is moved from one to another by hand, when the case is made.
    pub fn moves_by_hand(self) -> bool {
        match self {
            LevelKind::Tooth | LevelKind::Hole => true,
            LevelKind::Step => false,
        }
    }
}

/// The levels at which shelves may lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShelfLevels {
    /// What they are counted by.
    pub kind: LevelKind,
    /// Upper face of a shelf at the lowest level, as y in the case, mm.
    pub lowest: f64,
    /// From level to level, mm.
    pub pitch: f64,
    /// How many there are.
    pub count: u32,
    /// Thickness of a shelf where it roofs the room below, mm.
    pub thickness: f64,
    /// What holds a shelf reaches so far below it, mm: two shelves lie no closer.
    pub under: f64,
}

impl ShelfLevels {
    /// Upper face of a shelf at a level, counted from 1, as y in the case, mm.
    pub fn top(&self, level: u32) -> f64 {
        self.lowest + (f64::from(level) - 1.0) * self.pitch
    }

    /// The lowest level for a shelf so that so much height is free under it and over a floor at y, mm.
    pub fn over(&self, floor: f64, clear: f64) -> u32 {
        let levels = (clear.max(self.under) + self.thickness - (self.lowest - floor)) / self.pitch;
        1 + (levels - 1e-9).ceil().max(0.0) as u32
    }

    /// How many levels lie from a shelf to the next one above it, so that so much height is free between them, mm.
    pub fn steps(&self, clear: f64) -> u32 {
        ((clear.max(self.under) + self.thickness) / self.pitch - 1e-9).ceil().max(1.0) as u32
    }
}

/// A clear room in a bay between two levels: where boxes stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// What boxes stand on there: "shelf 1 of bay 2", or "the floor of bay 2".
    pub name: String,
    /// Which bay, from 0.
    pub bay: usize,
    /// Which of the bay's shelves its boxes stand on, from 0 in the order of the design; none for the floor.
    pub shelf: Option<usize>,
    /// The free space, mm; boxes stand on its lower face.
    pub space: Block,
}
