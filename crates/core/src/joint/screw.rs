//! Screws: a clearance hole in the part that comes up, a pilot hole in the part that receives; the head countersunk, or under a washer
//! in a hole or a slot that lets the part move.
//!
//! Holes: two published charts of wood screws (shank hole, pilot in hard and in soft wood; charts differ by a whole drill, so test in
//! offcuts). Thread: 7 diameters in side grain, 10 in end grain; edges 4 and ends 7 diameters away (from memory). Slot: shank and
//! travel both ways and 1; oversize hole: shank and twice the travel and 1, for a travel of 2 at most, the washer 6 more than the
//! hole (common practice, no source).

use casewright_solid::{Prism, Profile};
use glam::{DVec2, DVec3};

use super::room::Frame;
use super::rules::{Broken, Rules};
use super::tenon::pocket_range;
use super::{Fit, Fitted, Joining, JointKind, axis_of, depth_range, face_and_point, local_axis, plane_axes};
use crate::design::Ruled;
use crate::length::{Length, trimmed};
use crate::model::{Assembly, Contact, Face, Feature, JointId};
use crate::place::Dir;
use crate::timber::clearance::{FREE, slot_length};

/// The gauge of a wood screw.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Gauge {
    /// Some 3.5 mm.
    Six,
    /// Some 4.2 mm.
    Eight,
    /// Some 4.8 mm.
    Ten,
    /// Some 5.5 mm.
    Twelve,
}

impl Gauge {
    /// All, from thin to thick.
    pub const ALL: [Gauge; 4] = [Gauge::Six, Gauge::Eight, Gauge::Ten, Gauge::Twelve];

    /// Its number.
    pub fn number(self) -> u32 {
        match self {
            Gauge::Six => 6,
            Gauge::Eight => 8,
            Gauge::Ten => 10,
            Gauge::Twelve => 12,
        }
    }

    /// Diameter of the screw, mm.
    pub fn diameter(self) -> f64 {
        match self {
            Gauge::Six => 3.5,
            Gauge::Eight => 4.2,
            Gauge::Ten => 4.8,
            Gauge::Twelve => 5.5,
        }
    }

    /// Diameter of the hole that its shank passes, mm.
    pub fn shank_hole(self) -> f64 {
        match self {
            Gauge::Six => 3.6,
            Gauge::Eight => 4.4,
            Gauge::Ten => 4.8,
            Gauge::Twelve => 5.6,
        }
    }

    /// The pilot holes that charts give, mm: in hard wood, or in soft wood.
    pub fn pilot(self, hard: bool) -> (f64, f64) {
        match (self, hard) {
            (Gauge::Six, true) => (2.4, 2.8),
            (Gauge::Six, false) => (2.0, 2.0),
            (Gauge::Eight, true) => (2.8, 3.2),
            (Gauge::Eight, false) => (2.4, 2.4),
            (Gauge::Ten, true) => (3.2, 3.6),
            (Gauge::Ten, false) => (2.8, 2.8),
            (Gauge::Twelve, true) => (3.6, 4.0),
            (Gauge::Twelve, false) => (3.2, 3.2),
        }
    }
}

/// The head, and the hole it draws against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Head {
    /// Countersunk flush; the part can't move.
    Countersunk,
    /// On a washer over a round hole that is larger than the shank; for little travel.
    OversizeHole {
        /// How far the part moves to either side, mm.
        travel: f64,
        /// Diameter of the washer, mm.
        washer: f64,
    },
    /// On a washer over a slot.
    Slot {
        /// How far the receiving part moves along the way of the slot, and against it, mm.
        travel: [f64; 2],
        /// The way of the slot.
        way: Dir,
        /// Diameter of the washer, mm.
        washer: f64,
    },
}

/// A row of screws that is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    /// Their gauge.
    pub gauge: Gauge,
    /// Their length, mm.
    pub length: Length,
    /// How many, evenly along the contact.
    pub count: u32,
    /// From the end of the contact to the first and from the last to the other end, mm.
    pub margin: Length,
    /// The head and its hole.
    pub head: Head,
    /// Hole for the shank, mm; by rule the chart's.
    pub shank_hole: Ruled,
    /// Pilot hole, mm; by rule the middle of the charts for the wood.
    pub pilot: Ruled,
    /// Whether the receiving part is of hard wood.
    pub hard: bool,
}

/// The figures of a row of screws, as bored.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Their gauge.
    pub gauge: Gauge,
    /// Their length, mm.
    pub length: f64,
    /// From the middle of the contact to each along it, mm.
    pub at: Vec<f64>,
    /// Diameter of the hole in the part that comes up, and across a slot, mm.
    pub hole: f64,
    /// Length of the slot; the hole's diameter where it is round, mm.
    pub slot: f64,
    /// Diameter of the pilot hole, mm.
    pub pilot: f64,
    /// How much of the thread is in the receiving part, mm.
    pub engaged: f64,
    /// Whether it goes into end grain.
    pub end_grain: bool,
    /// From the pilot hole's middle to the nearest edge, and to the nearest end of the receiving part, mm.
    pub to_edges: [f64; 2],
    /// The head.
    pub head: Head,
    /// Least pilot hole by the charts, mm.
    pub least_pilot: f64,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let count = self.at.len();
        let words = if count == 1 { "screw".to_owned() } else { format!("{count} screws") };
        let head = match self.head {
            Head::Countersunk => "countersunk".to_owned(),
            Head::OversizeHole { washer, .. } => format!("washer {} over a hole of {}", trimmed(washer), trimmed(self.hole)),
            Head::Slot { washer, .. } => format!("washer {} over a slot {} × {}", trimmed(washer), trimmed(self.hole), trimmed(self.slot)),
        };
        format!("{words} gauge {} × {}, {head}, pilot {}", self.gauge.number(), trimmed(self.length), trimmed(self.pilot))
    }

    /// When the screws are drawn.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        let free = self.slot - self.gauge.diameter();
        let (what, class, clearance) = match self.head {
            Head::Countersunk => ("shank in its hole", Fit::Slip, free),
            Head::OversizeHole { travel, .. } => ("shank in its hole", Fit::LooseAcross, free - 2.0 * travel),
            Head::Slot { travel, .. } => ("shank in slot, along it", Fit::LooseAcross, free - travel[0] - travel[1]),
        };
        vec![Fitted { what, class, clearance }]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "7 diameters of thread in side grain, 10 in end grain (from memory); run a steel screw before a brass one (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        const MEMORY: &str = "from memory";
        const PRACTICE: &str = "common practice, no source";
        const CHARTS: &str = "two published charts of wood screws";
        let diameter = self.gauge.diameter();
        let thread = if self.end_grain { 10.0 } else { 7.0 } * diameter;
        let rule = if self.end_grain {
            "a screw holds by 10 diameters of thread in end grain"
        } else {
            "a screw holds by 7 diameters of thread in side grain"
        };
        let rules = Rules::default()
            .at_least(thread, self.engaged, rule, MEMORY)
            .at_least(4.0 * diameter, self.to_edges[0], "a screw stands 4 diameters from an edge", MEMORY)
            .mended_by_word("by", "glue")
            .at_least(7.0 * diameter, self.to_edges[1], "a screw stands 7 diameters from an end", MEMORY)
            .at_least(diameter, self.hole, "the shank is free in the part that comes up, else the joint stands open", CHARTS)
            .at_least(self.least_pilot, self.pilot, "a pilot hole is no smaller than the charts give", CHARTS)
            .at_most(diameter * 0.9, self.pilot, "a pilot hole leaves wood for the thread", CHARTS);
        let rules = match self.head {
            Head::Countersunk => rules,
            Head::OversizeHole { travel, washer } => rules
                .at_most(2.0, travel, "an oversize hole serves for 2 mm of travel; take a slot for more", PRACTICE)
                .at_least(self.hole + 6.0, washer, "a washer is 6 mm larger than its hole", PRACTICE)
                .at_least(
                    self.gauge.shank_hole() + 2.0 * travel + FREE,
                    self.hole,
                    "an oversize hole takes the travel to both sides",
                    PRACTICE,
                ),
            Head::Slot { travel, washer, .. } => rules
                .at_least(self.hole + 6.0, washer, "a washer is 6 mm larger than its slot is wide", PRACTICE)
                .at_least(self.gauge.shank_hole() + travel[0] + travel[1], self.slot, "a slot takes the travel both ways", PRACTICE),
        };
        rules.broken()
    }
}

/// Bores the holes of every screw in both parts.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id).clone();
    let frame = Frame::of(&joint.contact);
    let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
    let [.., (near, _)] = frame.body(a);
    let [_, _, (_, behind)] = frame.body(b);
    let through = -near;
    let shank = wanted.shank_hole.or(wanted.gauge.shank_hole());
    let (least_pilot, most_pilot) = wanted.gauge.pilot(wanted.hard);
    let pilot = wanted.pilot.or(f64::midpoint(least_pilot, most_pilot));
    let length = wanted.length.to_mm();
    let engaged = (length - through).max(0.0).min(behind);
    let (hole, slot) = match wanted.head {
        Head::Countersunk => (shank, shank),
        Head::OversizeHole { travel, .. } => (shank + 2.0 * travel + FREE, shank + 2.0 * travel + FREE),
        Head::Slot { travel, .. } => (shank, slot_length(shank, travel[0] + travel[1])),
    };
    let at = spread(joint.contact.extent.x, wanted.margin.to_mm(), wanted.count);
    let end_grain = local_axis(b, frame.into) == 0;
    let to_edges = distances(assembly, &joint.contact, joint.b, &at);
    for &at in &at {
        let middle = frame.point(at, 0.0, 0.0);
        let (out, centre) = face_and_point(assembly.part(joint.a), -frame.into, middle);
        let part = assembly.part(joint.a);
        let cut = match wanted.head {
            Head::Countersunk => Feature::Hole { face: out, centre, diameter: hole, depth: through, sink: 2.0 * wanted.gauge.diameter() },
            Head::OversizeHole { .. } => Feature::Hole { face: out, centre, diameter: hole, depth: through, sink: 0.0 },
            Head::Slot { travel, way, .. } => {
                let shifted = middle + way.vector() * (travel[0] - travel[1]) / 2.0;
                let (_, centre) = face_and_point(part, -frame.into, shifted);
                let along = local_axis(part, way.vector());
                Feature::Recess { face: out, centre, along, length: slot, width: hole, depth: through, round: true }
            }
        };
        assembly.cut(joint.a, cut, Some(id));
        let (face, centre) = face_and_point(assembly.part(joint.b), -frame.into, middle);
        assembly.cut(joint.b, Feature::Hole { face, centre, diameter: pilot, depth: engaged, sink: 0.0 }, Some(id));
    }
    JointKind::Screws(Figures {
        gauge: wanted.gauge,
        length,
        at,
        hole,
        slot,
        pilot,
        engaged,
        end_grain,
        to_edges,
        head: wanted.head,
        least_pilot,
    })
}

/// The middles of a row: the first and last a margin from the ends, the others evenly between.
fn spread(extent: f64, margin: f64, count: u32) -> Vec<f64> {
    let reach = (extent / 2.0 - margin).max(0.0);
    if count < 2 {
        return vec![0.0];
    }
    (0..count).map(|index| reach * (2.0 * f64::from(index) / f64::from(count - 1) - 1.0)).collect()
}

/// From the pilot holes to the nearest edge and to the nearest end of the receiving part; without end where they go into that way.
fn distances(assembly: &Assembly, contact: &Contact, part: crate::model::PartId, at: &[f64]) -> [f64; 2] {
    let (frame, part) = (Frame::of(contact), assembly.part(part));
    let size = part.lwt();
    let deep = local_axis(part, frame.into);
    let mut least = [f64::INFINITY; 2];
    for &at in at {
        let local = part.pose.inverse().point(frame.point(at, 0.0, 0.0));
        for axis in (0..3).filter(|axis| *axis != deep) {
            let distance = local[axis].min(size[axis] - local[axis]);
            let kind = usize::from(axis == 0);
            least[kind] = least[kind].min(distance);
        }
    }
    least
}

/// How many steps stand for the cone of a countersink: a solid is a blank less prisms, whose walls lie along an axis of the blank and whose ends lie across
/// it; the facets of a cone lie aslant to all three axes, so it is a stair. Each step takes as much wood as the cone does at its depth, so volume and mass are those
/// of the cone; no wall lies off it by more than half the width of a step, 0.15 mm for the head of a 10 gauge screw.
const SINK_STEPS: u32 = 8;

pub(super) fn hole_prisms(size: DVec3, face: Face, centre: DVec3, diameter: f64, depth: f64, sink: f64) -> Vec<Prism> {
    let axis = face.axis();
    let (u, v) = plane_axes(axis);
    let middle = DVec2::new(centre[u], centre[v]);
    let round =
        |diameter: f64, (from, to): (f64, f64)| Prism { axis: axis_of(axis), from, to, profile: Profile::circle(middle, diameter / 2.0) };
    let mut prisms = vec![round(diameter, pocket_range(face, size, depth))];
    if sink > diameter {
        let height = (sink - diameter) / 2.0;
        prisms.extend((0..SINK_STEPS).map(|step| {
            let (inner, outer) = (f64::from(step) / f64::from(SINK_STEPS), f64::from(step + 1) / f64::from(SINK_STEPS));
            let at = |share: f64| sink - (sink - diameter) * share;
            // The disc of the mean section of a frustum: V = π h (R² + R r + r²) / 3.
            let mean = ((at(inner).powi(2) + at(inner) * at(outer) + at(outer).powi(2)) / 3.0).sqrt();
            round(mean, depth_range(face, size, height * outer))
        }));
    }
    prisms
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pilot_of_a_chart_lies_between_the_root_and_the_shank() {
        for gauge in Gauge::ALL {
            for hard in [true, false] {
                let (least, most) = gauge.pilot(hard);
                assert!(least <= most && least > gauge.diameter() * 0.45 && most < gauge.diameter() * 0.85, "{gauge:?}");
            }
            // A published chart gives a clearance hole smaller than the shank; ours never is.
            assert!(gauge.shank_hole() >= gauge.diameter());
        }
    }

    /// A hole of 5 through 20, countersunk to 10 at 90°, takes a frustum 2.5 deep, π·2.5·(5² + 5·2.5 + 2.5²) / 3 = 114.54 mm³, and below it a cylinder, π·2.5²·17.5
    /// (geometry). No step stands farther off the cone than half its own width.
    #[test]
    fn a_countersink_takes_as_much_as_its_cone() {
        let size = DVec3::new(100.0, 40.0, 20.0);
        let prisms = hole_prisms(size, Face::FaceSide, DVec3::new(50.0, 20.0, 0.0), 5.0, 20.0, 10.0);
        let radius = |prism: &Prism| {
            let (low, high) = crate::model::prism_bounds(prism);
            (high.x - low.x) / 2.0
        };
        let mut steps: Vec<(f64, f64)> = prisms.iter().map(|prism| (prism.to.min(20.0), radius(prism))).collect();
        steps.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (mut taken, mut at) = (0.0, 0.0);
        for (to, radius) in steps {
            taken += std::f64::consts::PI * radius * radius * (to - at);
            if at < 2.5 {
                let cone = [5.0 - at, 5.0 - to];
                assert!(radius < cone[0] && radius > cone[1], "{radius} beside {cone:?}");
            }
            at = to;
        }
        assert!((taken - 114.537 - std::f64::consts::PI * 6.25 * 17.5).abs() < 0.01, "{taken}");
    }
}
