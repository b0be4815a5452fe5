//! How much of a receiving part is free for the end that comes up: what stands in the way, and what else comes in.

use glam::DVec3;

use crate::model::{Assembly, Contact, Feature, JointId, Material, Part};
use crate::place::Dir;
use crate::timber::Timbers;

/// The least wood left behind a blind mortise, mm (common practice, no source: at least 4 behind a blind hole).
pub const LEAST_BEHIND: f64 = 4.0;

/// The least wood between a cut and the end of the part, along the grain, mm: 12 to 15 in hardwood (common practice, no source).
pub const LEAST_END: f64 = 12.0;

/// The least wall between two cuts, mm: 3 in hardwood and sheets, 5 in softwood (common practice, no source).
pub(crate) fn least_wall(part: &Part, timbers: &Timbers) -> f64 {
    if is_soft(part, timbers) { 5.0 } else { 3.0 }
}

/// The least wood beside a mortise, mm: 6 in hardwood, 8 in softwood (common practice, no source). Sheets have no grain that
/// splits there; they need what must stay behind a blind hole.
pub(crate) fn least_cheek(part: &Part, timbers: &Timbers) -> f64 {
    match part.material {
        Material::Solid(_) if is_soft(part, timbers) => 8.0,
        Material::Solid(_) => 6.0,
        Material::Sheet(_) | Material::Bought(_) => LEAST_BEHIND,
    }
}

/// A timber of which nothing is known counts as softwood, which needs the thicker walls.
pub(crate) fn is_soft(part: &Part, timbers: &Timbers) -> bool {
    match &part.material {
        Material::Solid(id) => timbers.species(id).is_none_or(|species| species.softwood),
        Material::Sheet(_) | Material::Bought(_) => false,
    }
}

/// What else enters the receiving part where an end comes up to it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Beyond {
    /// A part that comes in from another face at the same height.
    pub crossing: Option<Crossing>,
    /// Whether another end comes up to the far face at the same place.
    pub facing: bool,
}

/// A part that comes into the same part from another face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// From the face at which this end comes up to the nearer side of the part that crosses, along the way in, mm.
    pub near: f64,
    /// The same to its farther side, mm.
    pub far: f64,
    /// The way in which the other part comes up.
    pub into: Dir,
    /// From the face at which the other part comes up to the middle of this end, along the other's way in, mm.
    pub before: f64,
    /// From and to of the other part along this end's contact, from the middle of it, mm.
    pub along: (f64, f64),
}

impl Crossing {
    /// The share of an end's extent along its contact that is its own where the two stand one above the other, a `wall` between them: the
    /// farther one where it comes along the width of the case.
    pub(super) fn share(&self, (low, high): (f64, f64), into: Dir, wall: f64) -> (f64, f64) {
        let middle = f64::midpoint(low.max(self.along.0), high.min(self.along.1));
        if into.axis() < self.into.axis() { (middle + wall / 2.0, high) } else { (low, middle - wall / 2.0) }
    }

    /// From and to of a pocket so thick in the middle of the other part, along this end's way in, mm.
    pub(super) fn pocket(&self, thickness: f64) -> (f64, f64) {
        let middle = f64::midpoint(self.near, self.far);
        (middle - thickness / 2.0, middle + thickness / 2.0)
    }

    /// Whether two pockets so thick and so deep, a pocket a part, come nearer to each other than `wall`, mm.
    pub(super) fn meets(&self, thickness: f64, depth: f64, wall: f64) -> bool {
        let half = thickness / 2.0;
        let reaches = |middle: f64| depth > middle - half - wall + 1e-9;
        reaches(f64::midpoint(self.near, self.far)) && reaches(self.before)
    }
}

/// The place of a joint as seen from the middle of its contact: along the contact, across it, and into the receiving part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    centre: DVec3,
    pub along: DVec3,
    pub across: DVec3,
    pub into: DVec3,
}

impl Frame {
    pub fn of(contact: &Contact) -> Frame {
        let (into, along) = (contact.into.vector(), contact.along.vector());
        Frame { centre: contact.centre, along, across: into.cross(along).abs(), into }
    }

    /// A point given along, across and into, in the case.
    pub fn point(&self, along: f64, across: f64, into: f64) -> DVec3 {
        self.centre + self.along * along + self.across * across + self.into * into
    }

    /// From and to of two opposite corners along the contact, across it and into the receiving part.
    pub fn spans(&self, a: DVec3, b: DVec3) -> [(f64, f64); 3] {
        let (a, b) = (a - self.centre, b - self.centre);
        [self.along, self.across, self.into].map(|axis| {
            let (a, b) = (a.dot(axis), b.dot(axis));
            (a.min(b), a.max(b))
        })
    }

    /// The spans of the upright box between a part's shoulders.
    pub fn body(&self, part: &Part) -> [(f64, f64); 3] {
        let body = part.body();
        self.spans(body.min, body.max)
    }
}

/// The boxes of a cut, in the part's own measures and no larger than its blank.
pub(super) fn boxes(feature: &Feature, size: DVec3) -> Vec<(DVec3, DVec3)> {
    feature
        .prisms(size)
        .iter()
        .map(|prism| {
            let axis = match prism.axis {
                casewright_solid::Axis::L => 0,
                casewright_solid::Axis::W => 1,
                casewright_solid::Axis::T => 2,
            };
            let (u, v) = super::plane_axes(axis);
            let corners = prism.profile.facets(casewright_solid::Facets::PerTurn(16));
            let (mut low, mut high) = (DVec3::splat(f64::INFINITY), DVec3::splat(f64::NEG_INFINITY));
            for corner in corners {
                (low[u], low[v]) = (low[u].min(corner.x), low[v].min(corner.y));
                (high[u], high[v]) = (high[u].max(corner.x), high[v].max(corner.y));
            }
            (low[axis], high[axis]) = (prism.from, prism.to);
            (low.max(DVec3::ZERO), high.min(size))
        })
        .collect()
}

/// A pocket that is to be cut into the receiving part: its spans along, across and into.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pocket {
    pub along: (f64, f64),
    pub across: (f64, f64),
    pub depth: f64,
}

/// What is cut into the receiving part already, where a pocket would come too near to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Obstacle {
    /// From and to along the contact of what the pocket must keep out of, the wall between the two with it.
    pub along: (f64, f64),
    /// How deep a pocket may go that passes over it, mm.
    pub over: f64,
    /// Whether it is for another end: a mortise or a hole.
    pub is_hole: bool,
}

/// Everything cut into the part before that a pocket does not leave `wall` to. Joints that `on_purpose` names may be met.
pub(super) fn obstacles(
    assembly: &Assembly,
    part: &Part,
    frame: &Frame,
    pocket: Pocket,
    wall: f64,
    on_purpose: impl Fn(JointId) -> bool,
) -> Vec<Obstacle> {
    let near = |a: (f64, f64), b: (f64, f64)| a.0 < b.1 + wall - SAME && b.0 < a.1 + wall - SAME;
    let size = part.lwt();
    let mut found = Vec::new();
    for cut in &assembly.part(part.id).cuts {
        if cut.joint.is_some_and(&on_purpose) {
            continue;
        }
        for (low, high) in boxes(&cut.feature, size) {
            let [along, across, into] = frame.spans(part.pose.point(low), part.pose.point(high));
            if near(into, (0.0, pocket.depth)) && near(across, pocket.across) && near(along, pocket.along) {
                let is_hole = matches!(cut.feature, Feature::Mortise { .. } | Feature::Hole { .. });
                found.push(Obstacle { along: (along.0 - wall, along.1 + wall), over: into.0 - wall, is_hole });
            }
        }
    }
    found
}

/// Places and depths this near to each other are the same, mm.
const SAME: f64 = 1e-6;

/// What obstacles leave of a span to pockets so deep, in order along it.
pub(super) fn free(span: (f64, f64), depth: f64, obstacles: &[Obstacle]) -> Vec<(f64, f64)> {
    let mut free = vec![span];
    for obstacle in obstacles.iter().filter(|obstacle| obstacle.over < depth - SAME) {
        let (low, high) = obstacle.along;
        free = free.into_iter().flat_map(|(from, to)| [(from, to.min(low)), (from.max(high), to)]).filter(|(from, to)| to > from).collect();
    }
    free
}

/// Every depth that is worth a try for a pocket `depth` deep at most: that, and what passes over each obstacle.
pub(super) fn depths(depth: f64, obstacles: &[Obstacle]) -> impl Iterator<Item = f64> {
    std::iter::once(depth).chain(obstacles.iter().map(|obstacle| obstacle.over).filter(move |over| *over > 0.0 && *over < depth))
}

/// The depth of the grooves that a part has along the edge at either end of a span, `[low, high]`, mm; 0 where there is none.
pub(super) fn grooves_at_edges(part: &Part, frame: &Frame) -> [f64; 2] {
    let size = part.lwt();
    let [(low, high), ..] = frame.body(part);
    let mut depths = [0.0_f64; 2];
    for cut in &part.cuts {
        if !matches!(cut.feature, Feature::Groove { .. }) {
            continue;
        }
        for (a, b) in boxes(&cut.feature, size) {
            let [(from, to), ..] = frame.spans(part.pose.point(a), part.pose.point(b));
            // A groove in this edge reaches it; one in a side does not end there.
            if from - low < 1e-6 && to < high - 1e-6 {
                depths[0] = depths[0].max(to - low);
            } else if high - to < 1e-6 && from > low + 1e-6 {
                depths[1] = depths[1].max(high - from);
            }
        }
    }
    depths
}
