//! Joints: what each cuts in its two parts, which loose parts it adds, and its figures.
//!
//! `derive` says where parts meet and in what [`Role`]; [`choose`] answers with the joint that the
//! design wants there; the joint then writes its cuts into both parts. Nothing but a joint cuts a part for joining.

pub mod button;
pub mod groove;
pub mod loose_tenon;
pub mod notch;
pub mod seat;

use casewright_solid::{Prism, Profile};
use glam::{DVec2, DVec3};

use crate::design::{Joinery, LooseTenons};
use crate::model::{Face, Feature, Part, Role};

/// A joint with its figures, as cut.
#[derive(Clone, Debug, PartialEq)]
pub enum JointKind {
    /// Mortises in both parts, tenons of their own.
    LooseTenons(loose_tenon::Figures),
    /// A panel edge in a groove.
    Groove(groove::Figures),
    /// A button's tongue in a slot.
    Button(button::Figures),
    /// A part notched round another.
    Notch {
        /// Free room, mm.
        clearance: f64,
    },
    /// A cleat in the teeth.
    Seat {
        /// Which tooth, from 1.
        tooth: u32,
    },
    /// One part lies on another.
    Rest,
    /// Face glued to face.
    Glue,
    /// Screwed.
    Screw,
}

impl JointKind {
    /// What it is called, with its leading figures: "loose tenon 8 × 40".
    pub fn describe(&self) -> String {
        match self {
            JointKind::LooseTenons(figures) => figures.describe(),
            JointKind::Groove(figures) => figures.describe(),
            JointKind::Button(figures) => figures.describe(),
            JointKind::Notch { clearance } => format!("notched round it, {} free", crate::length::trimmed(*clearance)),
            JointKind::Seat { tooth } => format!("in tooth {tooth}"),
            JointKind::Rest => "lies on it".to_owned(),
            JointKind::Glue => "glued face to face".to_owned(),
            JointKind::Screw => "screwed".to_owned(),
        }
    }
}

/// What the design wants where parts meet in a role.
#[derive(Clone, Copy, Debug)]
pub enum Choice<'a> {
    /// Loose tenons of these sizes, glued or not.
    LooseTenons(&'a LooseTenons, bool),
    /// A groove.
    Groove,
    /// A button's tongue.
    Button,
    /// A notch.
    Notch,
    /// A tooth.
    Seat,
    /// Nothing but weight.
    Rest,
    /// Glue.
    Glue,
    /// A screw.
    Screw,
}

/// The joint for a role.
pub fn choose(role: Role, joinery: &Joinery) -> Choice<'_> {
    match role {
        Role::RailToPost | Role::RailToMuntin => Choice::LooseTenons(&joinery.rail_to_post, true),
        Role::StileToRail | Role::MuntinToRail => Choice::LooseTenons(&joinery.stile_to_rail, true),
        Role::CrossRailToRail => Choice::LooseTenons(&joinery.cross_rail_to_rail, true),
        Role::StandardToPost => Choice::LooseTenons(&joinery.standard_to_post, false),
        Role::PanelToFrame => Choice::Groove,
        Role::ButtonToRail => Choice::Button,
        Role::ButtonToTop => Choice::Screw,
        Role::BearerToRail => Choice::Glue,
        Role::TopToPost | Role::FloorToBearer | Role::SlatToCleat => Choice::Rest,
        Role::FloorRoundPost | Role::SlatRoundStandard => Choice::Notch,
        Role::CleatToStandard => Choice::Seat,
    }
}

impl Feature {
    /// The prisms that cut it out of a blank of `size`. Those that run out of the blank overshoot it, so that no skin is left.
    pub fn prisms(&self, size: DVec3) -> Vec<Prism> {
        match *self {
            Feature::Mortise { .. } => loose_tenon::mortise_prisms(self, size),
            Feature::Groove { .. } => groove::prisms(self, size),
            Feature::Notch { second_end, back_edge, length, width } => notch::prisms(size, second_end, back_edge, length, width),
            Feature::Rabbet { second_end, back_side, length, depth } => button::rabbet_prisms(size, second_end, back_side, length, depth),
            Feature::Bevel { second_end, inset } => seat::bevel_prisms(size, second_end, inset),
            Feature::Teeth { first, pitch, seat, crest, count } => seat::teeth_prisms(size, first, pitch, seat, crest, count),
            Feature::RoundEdges => loose_tenon::round_edge_prisms(size),
        }
    }
}

/// How far prisms stand out of the blank where they run out of it, mm.
const OVERSHOOT: f64 = 1.0;

/// The face of `part` that looks in the case's direction `out`, and a point of the case in the part's own measures.
pub(crate) fn face_and_point(part: &Part, out: DVec3, point: DVec3) -> (Face, DVec3) {
    (Face::looking(part.pose.inverse().vector(out)), part.pose.inverse().point(point))
}

/// The axis of the part, 0 to 2, that runs in the case's direction `along`.
pub(crate) fn local_axis(part: &Part, along: DVec3) -> usize {
    crate::place::Dir::nearest(part.pose.inverse().vector(along)).axis()
}

/// The depth range of a pocket of `depth` from `face`, overshooting the face.
fn depth_range(face: Face, size: DVec3, depth: f64) -> (f64, f64) {
    let extent = size[face.axis()];
    if face.is_first() { (-OVERSHOOT, depth) } else { (extent - depth, extent + OVERSHOOT) }
}

/// The profile plane's first and second axis for a prism along `axis`: cyclic, so L → (W, T), W → (T, L), T → (L, W).
fn plane_axes(axis: usize) -> (usize, usize) {
    ((axis + 1) % 3, (axis + 2) % 3)
}

fn axis_of(index: usize) -> casewright_solid::Axis {
    match index {
        0 => casewright_solid::Axis::L,
        1 => casewright_solid::Axis::W,
        _ => casewright_solid::Axis::T,
    }
}

/// An upright rectangle prism along axis `axis` (0 to 2).
fn rect_prism(axis: usize, from: f64, to: f64, min: DVec2, max: DVec2) -> Prism {
    Prism { axis: axis_of(axis), from, to, profile: Profile::rect(min, max) }
}
