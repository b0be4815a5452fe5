//! From cuts to prisms, and what the joints share to set them out.

use casewright_solid::{Prism, Profile};
use glam::{DVec2, DVec3};

use super::{bridle, button, groove, lap, loose_tenon, notch, pin, plate, screw, seat, tenon};
use crate::model::{Face, Feature, Part, Shaping};
use crate::place::Dir;

impl Feature {
    /// The prisms that cut it out of a blank of `size`. Those that run out of the blank overshoot it, so that no skin is left.
    pub fn prisms(&self, size: DVec3) -> Vec<Prism> {
        match *self {
            Feature::Mortise { .. } | Feature::Recess { .. } => tenon::pocket_prisms(self, size),
            Feature::Tenon { .. } => tenon::tenon_prisms(self, size),
            Feature::Hole { face, centre, diameter, depth, sink } => screw::hole_prisms(size, face, centre, diameter, depth, sink),
            Feature::Lap { face, from, to, depth } => lap::lap_prisms(size, face, from, to, depth),
            Feature::Fork { second_end, length, from, to } => bridle::fork_prisms(size, second_end, length, from, to),
            Feature::Groove { .. } => groove::prisms(self, size),
            Feature::Notch { second_end, back_edge, length, width } => notch::prisms(size, second_end, back_edge, length, width),
            Feature::Rabbet { second_end, back_side, length, depth } => button::rabbet_prisms(size, second_end, back_side, length, depth),
            Feature::Bevel { second_end, inset } => seat::bevel_prisms(size, second_end, inset),
            Feature::Teeth { first, pitch, seat, crest, count } => seat::teeth_prisms(size, first, pitch, seat, crest, count),
            Feature::HalfRounds { first, pitch, radius, count } => seat::half_round_prisms(size, first, pitch, radius, count),
            Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
                pin::row_prisms(size, face, first, pitch, count, [diameter, depth])
            }
            Feature::RoundEdges => loose_tenon::round_edge_prisms(size),
            Feature::RoundEnds => plate::round_end_prisms(size),
            Feature::EdgeRabbet(cut) => cut.prisms(size),
            Feature::Housing(cut) => cut.prisms(size),
            Feature::Tail(cut) => cut.prisms(size),
            Feature::EndGap(cut) => cut.prisms(size),
            Feature::Socket(cut) => cut.prisms(size),
            Feature::EdgeRound(cut) => cut.prisms(size),
            Feature::EdgeChamfer(cut) => cut.prisms(size),
            Feature::Taper(cut) => cut.prisms(size),
        }
    }
}

/// How far prisms stand out of the blank where they run out of it, mm.
pub(crate) const OVERSHOOT: f64 = 1.0;

/// The face of `part` that looks in the case's direction `out`, and a point of the case in the part's own measures.
pub(crate) fn face_and_point(part: &Part, out: DVec3, point: DVec3) -> (Face, DVec3) {
    (Face::looking(part.pose.inverse().vector(out)), part.pose.inverse().point(point))
}

/// The axis of the part, 0 to 2, that runs in the case's direction `along`.
pub(crate) fn local_axis(part: &Part, along: DVec3) -> usize {
    Dir::nearest(part.pose.inverse().vector(along)).axis()
}

/// The depth range of a pocket of `depth` from `face`, overshooting the face.
pub(crate) fn depth_range(face: Face, size: DVec3, depth: f64) -> (f64, f64) {
    let extent = size[face.axis()];
    if face.is_first() { (-OVERSHOOT, depth) } else { (extent - depth, extent + OVERSHOOT) }
}

/// The profile plane's first and second axis for a prism along `axis`: cyclic, so L → (W, T), W → (T, L), T → (L, W).
pub(crate) fn plane_axes(axis: usize) -> (usize, usize) {
    ((axis + 1) % 3, (axis + 2) % 3)
}

pub(crate) fn axis_of(index: usize) -> casewright_solid::Axis {
    match index {
        0 => casewright_solid::Axis::L,
        1 => casewright_solid::Axis::W,
        _ => casewright_solid::Axis::T,
    }
}

/// An upright rectangle prism along axis `axis` (0 to 2).
pub(crate) fn rect_prism(axis: usize, from: f64, to: f64, min: DVec2, max: DVec2) -> Prism {
    Prism { axis: axis_of(axis), from, to, profile: Profile::rect(min, max) }
}

/// A prism along axis `axis` (0 to 2) over a polygon, whose corners are points of the part; none when it encloses nothing.
pub(crate) fn polygon_prism(axis: usize, from: f64, to: f64, corners: &[DVec3]) -> Option<Prism> {
    let (u, v) = plane_axes(axis);
    let outline = corners.iter().map(|corner| DVec2::new(corner[u], corner[v])).collect();
    Profile::polygon(outline).ok().map(|profile| Prism { axis: axis_of(axis), from, to, profile })
}
