//! How ends are joined, by where in the case: which joint, and the sizes of each.

use serde::{Deserialize, Serialize};

use super::Groove;
use crate::length::Length;

/// The joints, by where they are used.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joinery {
    /// Rail ends into posts and muntins.
    pub rail_to_post: EndJoint,
    /// Stile and muntin ends into the edges of rails.
    pub stile_to_rail: EndJoint,
    /// Cross rail ends into the faces of rails.
    pub cross_rail_to_rail: EndJoint,
    /// Standards against posts, stiles and muntins; never glued.
    pub standard_to_post: LooseTenons,
    /// Panels in their grooves.
    pub groove: Groove,
}

/// How the end of a part is joined to the part that receives it. The sizes of the joints that are not chosen are kept, so that a
/// maker can go from one to another and back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "WrittenEndJoint", into = "WrittenEndJoint")]
pub struct EndJoint {
    /// Which joint.
    pub by: EndJointKind,
    /// Sizes of loose tenons.
    pub loose: LooseTenons,
    /// Sizes of a tenon cut on the end.
    pub tenon: Tenon,
    /// Sizes of dowels.
    pub dowels: Dowels,
}

/// The joint of an end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum EndJointKind {
    /// A mortise in both parts and tenons of their own.
    #[default]
    LooseTenons,
    /// A tenon cut on the end, a mortise in the part that receives it.
    MortiseAndTenon,
    /// Dowels in holes of both parts.
    Dowels,
}

/// A size that follows a rule until the maker sets one against it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum Ruled {
    /// The rule's.
    #[default]
    ByRule,
    /// The maker's own, mm.
    Own(Length),
}

impl Ruled {
    /// The maker's own size, mm, where there is one.
    pub fn own(self) -> Option<f64> {
        match self {
            Ruled::ByRule => None,
            Ruled::Own(length) => Some(length.to_mm()),
        }
    }

    /// The maker's own size, or what the rule gives, mm.
    pub fn or(self, rule: f64) -> f64 {
        self.own().unwrap_or(rule)
    }
}

/// Loose tenons: a mortise in both parts and a tenon of its own piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LooseTenons {
    /// Thickness of the tenon, mm.
    pub thickness: Length,
    /// Length of the tenon along its grain, mm.
    pub length: Length,
    /// Width of the tenon, mm.
    pub width: Length,
    /// At most so many a joint; fewer where the part is too narrow.
    pub at_most: u32,
    /// From the edge of the part to the first mortise, and between two mortises at least, mm.
    pub margin: Length,
    /// Depth of the mortise in the part that comes up with its end, mm.
    pub depth_in_end: Length,
    /// Depth of the mortise in the part that receives, mm.
    pub depth_in_face: Length,
    /// Mortise less tenon in thickness, and in width where it is snug, mm.
    pub fit: Length,
    /// Mortise less tenon in width for all but the first of a row, in the receiving part, mm.
    pub play: Length,
    /// What the tenons of two ends do that meet in one post.
    #[serde(default)]
    pub meeting: LooseMeeting,
}

/// What the loose tenons of two ends do that meet in one post from two faces.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum LooseMeeting {
    /// Each goes as deep as is decided.
    #[default]
    AsDecided,
    /// Their ends are mitred, so that both can go deeper than the other's mortise would let them.
    Mitred,
    /// Those of the one end stand above those of the other.
    Staggered,
}

/// A tenon cut on the end of a part, and its mortise.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Tenon {
    /// Thickness; by rule a third of the part, mm.
    pub thickness: Ruled,
    /// Length beyond the shoulder; by rule four times the thickness, or as long as there is room for, mm.
    pub length: Ruled,
    /// From the edge of the part to the tenon; by rule 6, and more where a groove, another mortise or the end of the receiving part is near, mm.
    pub shoulder: Ruled,
    /// How far it goes.
    pub reach: Reach,
    /// What two do that meet in one post.
    pub meeting: Meeting,
    /// What is left between the tenon and the edge where a groove runs in or the receiving part ends.
    pub haunch: Haunch,
    /// On which sides it has shoulders.
    pub cheeks: Cheeks,
    /// How much deeper the mortise is than the tenon is long, where it stops, mm.
    pub deeper: Length,
    /// Mortise less tenon in thickness, mm.
    pub fit: Length,
    /// Mortise less tenon in width, both ends together, mm.
    pub side_room: Length,
    /// The ends of the mortises.
    pub corners: Corners,
}

impl Default for Tenon {
    fn default() -> Tenon {
        Tenon {
            thickness: Ruled::ByRule,
            length: Ruled::ByRule,
            shoulder: Ruled::ByRule,
            reach: Reach::Stopped,
            meeting: Meeting::Mitred,
            haunch: Haunch::WhereNeeded,
            cheeks: Cheeks::Both,
            deeper: Length::mm(2.0),
            fit: Length::mm(0.1),
            side_room: Length::mm(0.5),
            corners: Corners::Square,
        }
    }
}

/// How far a tenon goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Reach {
    /// It stops in the wood.
    #[default]
    Stopped,
    /// Its end shows on the far face.
    Through,
}

/// What two tenons do that meet in one post from two faces.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Meeting {
    /// Their ends are mitred, so that both are as long as they can be.
    #[default]
    Mitred,
    /// Both stop short of the other's mortise.
    Short,
    /// One stands above the other, each in its half of the height.
    Staggered,
}

/// What is left of the end between a tenon and the edge.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Haunch {
    /// A haunch where the receiving part ends there, and where a panel's groove runs in.
    #[default]
    WhereNeeded,
    /// Nothing but the shoulder.
    None,
}

/// On which sides a tenon has shoulders.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Cheeks {
    /// On both; the tenon stands in the middle.
    #[default]
    Both,
    /// On the face side only: barefaced.
    FaceSide,
    /// On the back side only: barefaced.
    BackSide,
}

/// The ends of a mortise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Corners {
    /// Squared, as a chisel leaves them; the tenon's edges are square.
    #[default]
    Square,
    /// Half round, as a round cutter leaves them; the tenon's edges are rounded to suit.
    Round,
}

/// Dowels in holes of both parts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Dowels {
    /// Diameter; by rule the usual one nearest to two fifths of the part, mm.
    pub diameter: Ruled,
    /// Length; by rule three diameters in each part, less where the receiving part is thin, mm.
    pub length: Ruled,
    /// From the edge of the part to the middle of the first dowel; by rule two diameters, at most a quarter of the part, mm.
    pub margin: Ruled,
    /// Greatest distance from dowel to dowel, mm.
    pub spacing: Length,
    /// How much deeper each hole is than the dowel goes, mm.
    pub deeper: Length,
    /// Hole less dowel in diameter; nothing or less for a press fit, mm.
    pub fit: Length,
}

impl Default for Dowels {
    fn default() -> Dowels {
        Dowels {
            diameter: Ruled::ByRule,
            length: Ruled::ByRule,
            margin: Ruled::ByRule,
            spacing: Length::mm(60.0),
            deeper: Length::mm(1.5),
            fit: Length::ZERO,
        }
    }
}

/// An end joint as it stands in a file: the sizes of loose tenons beside the choice, where they stood before there was one.
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "EndJoint")]
struct WrittenEndJoint {
    #[serde(default)]
    by: EndJointKind,
    thickness: Length,
    length: Length,
    width: Length,
    at_most: u32,
    margin: Length,
    depth_in_end: Length,
    depth_in_face: Length,
    fit: Length,
    play: Length,
    #[serde(default)]
    meeting: LooseMeeting,
    #[serde(default)]
    tenon: Tenon,
    #[serde(default)]
    dowels: Dowels,
}

impl From<WrittenEndJoint> for EndJoint {
    fn from(written: WrittenEndJoint) -> EndJoint {
        let WrittenEndJoint {
            by,
            thickness,
            length,
            width,
            at_most,
            margin,
            depth_in_end,
            depth_in_face,
            fit,
            play,
            meeting,
            tenon,
            dowels,
        } = written;
        let loose = LooseTenons { thickness, length, width, at_most, margin, depth_in_end, depth_in_face, fit, play, meeting };
        EndJoint { by, loose, tenon, dowels }
    }
}

impl From<EndJoint> for WrittenEndJoint {
    fn from(joint: EndJoint) -> WrittenEndJoint {
        let EndJoint { by, loose, tenon, dowels } = joint;
        let LooseTenons { thickness, length, width, at_most, margin, depth_in_end, depth_in_face, fit, play, meeting } = loose;
        WrittenEndJoint { by, thickness, length, width, at_most, margin, depth_in_end, depth_in_face, fit, play, meeting, tenon, dowels }
    }
}
