//! Laps: two parts halved over each other, crossing or at an end.
//!
//! Each gives up half the thickness that they share (common practice, no source); what is left of a part at its lap is a third of it at
//! least (common practice, no source). Fit: glued, snug.

use casewright_solid::{Prism, Profile};
use glam::{DVec2, DVec3};

use super::fit::{Fit, Fitted};
use super::rules::{Broken, Rules};
use super::tenon::pocket_range;
use super::{Fixing, Joining, JointKind, OVERSHOOT, axis_of, face_and_point};
use crate::design::Ruled;
use crate::length::{Length, trimmed};
use crate::model::{Assembly, Contact, Face, Feature, JointId, Part};
use crate::place::{Block, Dir};

/// A lap that is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    /// How deep the part that comes up is cut, mm; by rule half of what the two share.
    pub depth: Ruled,
    /// Recess less part in width, mm.
    pub fit: Length,
    /// Whether it is glued.
    pub glued: bool,
}

impl Default for Wanted {
    fn default() -> Wanted {
        Wanted { depth: Ruled::ByRule, fit: Length::mm(0.1), glued: true }
    }
}

/// The figures of a lap, as cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// How deep the part that comes up is cut, mm.
    pub depth_in_coming: f64,
    /// How deep the part that receives is cut, mm.
    pub depth_in_receiving: f64,
    /// Thickness of the two, mm.
    pub stock: [f64; 2],
    /// Recess less part in width, mm.
    pub fit: f64,
    /// Whether it is at an end of the part that comes up.
    pub at_end: bool,
    /// Whether it is glued; one that is laid dry has room.
    pub glued: bool,
    /// Every straight way in which the part that comes up can leave.
    pub ways: Vec<Dir>,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let words = if self.at_end { "end lap" } else { "cross lap" };
        format!("{words}, {} and {} deep", trimmed(self.depth_in_coming), trimmed(self.depth_in_receiving))
    }

    fn ways_apart(&self, _: &Contact) -> Vec<Dir> {
        self.ways.clone()
    }

    fn fits(&self) -> Vec<Fitted> {
        // One that is laid dry has as much room as its place asks for.
        let snug = Fitted { what: "part in the lap of the other, in width", class: Fit::GluedSnug, clearance: self.fit };
        if self.glued { vec![snug] } else { Vec::new() }
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "long grain glued to long grain across the grain: the faces hold well, but move against each other where they are wide (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        let snug = Fit::GluedSnug.clearance();
        let rules = Rules::default()
            .at_most(self.stock[0] * 2.0 / 3.0, self.depth_in_coming, "a lap leaves a third of its part", PRACTICE)
            .at_most(self.stock[1] * 2.0 / 3.0, self.depth_in_receiving, "a lap leaves a third of its part", PRACTICE)
            .at_least(*snug.start(), self.fit, "a lap is no narrower than the part in it", PRACTICE);
        let rules =
            if self.glued { rules.at_most(*snug.end(), self.fit, "a glued lap has at most 0.15 mm of room", PRACTICE) } else { rules };
        rules.broken()
    }
}

/// Cuts both parts where they share the same room: the part that comes up on the side toward which it moves, the other against it.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id).clone();
    let into = joint.contact.into;
    let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
    let (first, second) = (a.block(), b.block());
    let shared = Block { min: first.min.max(second.min), max: first.max.min(second.max) };
    let thick = shared.size()[into.axis()];
    let sides = [(a, into), (b, into.opposite())].map(|(part, out)| face_and_point(part, out.vector(), shared.centre()).0);
    if shared.size().min_element() <= 0.0 || sides.iter().any(|face| face.axis() == 0) {
        // They share nothing that could be halved, or one would be cut in two.
        return JointKind::Plain(Fixing::Rest);
    }
    let fit = wanted.fit.to_mm();
    let depth = wanted.depth.or(thick / 2.0).clamp(0.0, thick);
    let depths = [depth, thick - depth];
    let stock = [first.size()[into.axis()], second.size()[into.axis()]];
    let mut ways = vec![into.opposite()];
    // An end that stops in the other part can also draw back along its grain; at a corner it can leave past the other's end.
    let (drawn_back, at_end) = draw_back(a, b, &shared);
    ways.extend(drawn_back);
    ways.extend(draw_back(b, a, &shared).0.map(Dir::opposite));
    for ((part, face), depth) in [joint.a, joint.b].into_iter().zip(sides).zip(depths) {
        let lap = recess(assembly.part(part), face, &shared, depth, fit);
        assembly.cut(part, lap, Some(id));
    }
    JointKind::Lap(Figures { depth_in_coming: depths[0], depth_in_receiving: depths[1], stock, fit, at_end, glued: wanted.glued, ways })
}

/// The way in which a part draws back along its grain from what it shares with the other, where it ends there; and whether it does.
fn draw_back(part: &Part, other: &Part, shared: &Block) -> (Option<Dir>, bool) {
    let grain = Dir::nearest(part.pose.vector(DVec3::X)).axis();
    let (own, room, beyond) = (part.block(), shared, other.block());
    let ends_low = (own.min[grain] - room.min[grain]).abs() < 1e-6 && own.max[grain] > room.max[grain] + 1e-6;
    let ends_high = (own.max[grain] - room.max[grain]).abs() < 1e-6 && own.min[grain] < room.min[grain] - 1e-6;
    let across = Dir::nearest(other.pose.vector(DVec3::X)).axis() != grain && beyond.size()[grain] > 0.0;
    let way = match (ends_low && across, ends_high && across) {
        (true, false) => Some(Dir::along(grain, 1.0)),
        (false, true) => Some(Dir::along(grain, -1.0)),
        _ => None,
    };
    (way, ends_low || ends_high)
}

/// The recess over what is shared, run out where the part ends.
fn recess(part: &Part, face: Face, shared: &Block, depth: f64, fit: f64) -> Feature {
    let inverse = part.pose.inverse();
    let (a, b) = (inverse.point(shared.min), inverse.point(shared.max));
    let length = part.lwt().x;
    let (from, to) = (a.x.min(b.x), a.x.max(b.x));
    let from = if from <= 1e-6 { 0.0 } else { from - fit / 2.0 };
    let to = if to >= length - 1e-6 { length } else { to + fit / 2.0 };
    // Whatever of the part lies outside the shared room on that side stays above the lap.
    let axis = face.axis();
    let (near, far) = (a[axis].min(b[axis]), a[axis].max(b[axis]));
    let before = if face.is_first() { near } else { part.lwt()[axis] - far };
    Feature::Lap { face, from, to, depth: depth + before }
}

pub(super) fn lap_prisms(size: DVec3, face: Face, from: f64, to: f64, depth: f64) -> Vec<Prism> {
    let deep = face.axis();
    if deep == 0 {
        return Vec::new();
    }
    let across = 3 - deep;
    let (low, high) = pocket_range(face, size, depth);
    let from = if from <= 1e-9 { -OVERSHOOT } else { from };
    let to = if to >= size.x - 1e-9 { size.x + OVERSHOOT } else { to };
    // Along W the profile plane is (T, L), along T it is (L, W).
    let point = |l: f64, d: f64| if across == 1 { DVec2::new(d, l) } else { DVec2::new(l, d) };
    vec![Prism {
        axis: axis_of(across),
        from: -OVERSHOOT,
        to: size[across] + OVERSHOOT,
        profile: Profile::rect(point(from, low), point(to, high)),
    }]
}
