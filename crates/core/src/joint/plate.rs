//! Figure-eight plates under a solid top: one ring screwed into a recess in the upper edge of a rail, the other to the top.
//!
//! The recess is a hair deeper than the plate and open toward the room, and is wider there, so that the plate can swing; plates 300 to 450 apart, for tops
//! 450 wide at most (magazines' articles on fastening table tops). The screw up into the top stands so far before the rail that a driver gets to it. A plate gives way across itself by `r · sin θ`, and along itself only
//! by `r · (1 − cos θ)`; a plate R wide to either side that swings by θ takes `R / cos θ + s · tan θ` to either side s before its ring (arithmetic).

use casewright_solid::{Axis, Prism, Profile, Segment};
use glam::{DVec2, DVec3};

use super::rules::{Broken, Rules};
use super::screwed_up;
use super::{Fit, Fitted, Joining, JointKind, OVERSHOOT, face_and_point, local_axis};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, Contact, Feature, JointId};
use crate::place::Dir;

/// How far a plate may swing to either side, degrees (common practice, no source).
pub const SWING: f64 = 30.0;
/// A plate can swing by so much at least, wherever its top moves, degrees (common practice, no source).
const LEAST_SWING: f64 = 5.0;
/// How much deeper than its plate a recess is at least, at most, and usually, mm (common practice, no source).
const LEAST_DEEPER: f64 = 0.1;
const MOST_DEEPER: f64 = 0.5;
const USUAL_DEEPER: f64 = 0.2;
/// From ring to ring, usually, mm (common practice, no source).
const USUAL_CENTRES: f64 = 15.0;
/// From the face of the rail to the screw up into the top, at least, so that a driver gets past the rail, mm (common practice, no source).
const LEAST_BEFORE: f64 = 5.0;
/// From the face of the rail to the screw into its edge, so that there is as much wood beside its hole as beside a mortise, mm.
const LEAST_INSIDE: f64 = 7.5;
/// Half the head of a screw of gauge 8, mm (from memory).
const HEAD: f64 = 4.2;
/// Room round a ring in its recess, mm (common practice, no source).
pub const RING_ROOM: f64 = 0.5;

/// The figures of a plate in its recess, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Diameter of a ring.
    pub diameter: f64,
    /// From the middle of one ring to the middle of the other.
    pub centres: f64,
    /// Thickness of the metal.
    pub metal: f64,
    /// Depth of the recess.
    pub depth: f64,
    /// From the middle of the ring in the rail to the face of the rail at which the recess is open.
    pub inside: f64,
    /// Wood left between the recess and the other face of the rail.
    pub wall: f64,
    /// How far the top moves along the plate, to the wettest and to the driest together.
    pub along: f64,
    /// How far it moves across the plate, the greater of both ways.
    pub across: f64,
    /// The screw into the rail.
    pub screw: screwed_up::Figures,
}

/// From the middle of the ring in a rail so thick to its face: the middle of its edge, or so near to the room that a driver gets to the screw of the other
/// ring.
pub fn ring_in_rail(thick: f64, centres: f64) -> f64 {
    (thick / 2.0).min((centres - LEAST_BEFORE).max(LEAST_INSIDE))
}

/// How far a plate of so far apart rings gives way along itself when it swings as far as it may, mm.
pub fn gives_along(centres: f64) -> f64 {
    centres * (1.0 - SWING.to_radians().cos())
}

impl Figures {
    /// How far a plate gives way along itself when it swings as far as it may, mm.
    pub fn gives_along(&self) -> f64 {
        gives_along(self.centres)
    }

    /// How far a plate gives way across itself to either side, mm.
    pub fn gives_across(&self) -> f64 {
        self.centres * SWING.to_radians().sin()
    }

    /// Width of the recess round the ring, mm.
    pub fn recess(&self) -> f64 {
        self.diameter + 2.0 * RING_ROOM
    }

    /// How far its recess lets the plate swing to either side, radians: as far as the top moves it, to the whole degree, and no farther than it may.
    pub fn swing(&self) -> f64 {
        let share = |moved: f64| (moved / self.centres).clamp(0.0, 1.0);
        let wanted = share(self.across).asin().max((1.0 - share(self.along)).acos()).to_degrees();
        (wanted - 1e-9).ceil().clamp(LEAST_SWING, SWING).to_radians()
    }

    /// Width of the recess where it is open to the room, so that the plate can swing, mm.
    pub fn mouth(&self) -> f64 {
        let swing = self.swing();
        self.recess() / swing.cos() + 2.0 * self.inside * swing.tan()
    }

    /// How far behind the middle of the ring the wider part of the recess begins, mm: where the side of a plate that has swung leaves the round.
    fn behind(&self) -> f64 {
        self.recess() / 2.0 * self.swing().sin()
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!(
            "figure-eight plate, rings {}, in a recess {} × {}, {} wide at the mouth",
            trimmed(self.diameter),
            trimmed(self.recess()),
            trimmed(self.depth),
            trimmed_to(self.mouth(), 1)
        )
    }

    /// Up out of its recess, and toward the room.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "ring in recess", class: Fit::Loose, clearance: self.recess() - self.diameter }]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "holds the top down and gives way by swinging: for tops 450 mm wide at most (magazines' articles on fastening table tops)"
    }

    fn broken(&self) -> Vec<Broken> {
        const HAIR: &str = "a hair: magazines' articles on fastening table tops; 0.1 to 0.5 mm: common practice, no source";
        const DRIVEN: &str = "the screw up into the top stands before the rail, so that a driver gets to it";
        const SWINGS: &str = "r·(1 − cos θ) along, r·sin θ across, 30° to either side: arithmetic";
        Rules::default()
            .at_most(self.gives_along(), self.along, "a plate square to its rail gives way along itself by little", SWINGS)
            .fails_at(self.gives_along())
            .mended_by_word("carcase.top.fixing", "buttons")
            .mended_by_word("carcase.top.fixing", "clips")
            .at_most(self.gives_across(), self.across, "a plate gives way across itself as far as it swings", SWINGS)
            .fails_at(self.gives_across())
            .mended_by("centres", (self.across / SWING.to_radians().sin()).ceil())
            .at_least(self.metal + LEAST_DEEPER, self.depth, "a recess is a hair deeper than its plate", HAIR)
            .mended_by("deeper", USUAL_DEEPER)
            .at_most(self.metal + MOST_DEEPER, self.depth, "a recess is no more than a hair deeper than its plate", HAIR)
            .mended_by("deeper", USUAL_DEEPER)
            .at_least(3.0, self.wall, "a recess leaves 3 mm of the rail", "common practice, no source")
            .fails_at(0.0)
            .mended_by("diameter", (self.diameter - 2.0 * (3.0 - self.wall)).floor())
            .at_least(LEAST_BEFORE, self.centres - self.inside, DRIVEN, "common practice, no source")
            .fails_at(HEAD)
            .mended_by("centres", USUAL_CENTRES)
            .broken()
    }
}

/// Rounds the plate, and cuts its recess in the upper edge of the rail, open toward the room: bored round the ring, and from there on as wide as the plate swings;
/// and bores for its screw.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, figures: &Figures) -> JointKind {
    let joint = assembly.joint(id).clone();
    let contact = joint.contact;
    assembly.cut(joint.a, Feature::RoundEnds, Some(id));
    // Along the plate, from the ring in the rail toward the room.
    let open = contact.along.vector();
    let ring = figures.recess() / 2.0;
    let recesses = [(-ring, figures.inside, figures.recess(), true), (-figures.behind(), figures.inside, figures.mouth(), false)];
    for (from, to, width, round) in recesses {
        let rail = assembly.part(joint.b);
        // A round one is carried on so far that its other end is round outside of the rail.
        let to = if round { to + 2.0 * ring } else { to };
        let (face, centre) = face_and_point(rail, -contact.into.vector(), contact.centre + open * f64::midpoint(from, to));
        let along = local_axis(rail, open);
        let recess = Feature::Recess { face, centre, along, length: to - from, width, depth: figures.depth, round };
        assembly.cut(joint.b, recess, Some(id));
    }
    let (face, centre) = face_and_point(assembly.part(joint.b), -contact.into.vector(), contact.centre);
    let (diameter, depth) = (figures.screw.pilot, figures.depth + figures.screw.engaged);
    assembly.cut(joint.b, Feature::Hole { face, centre, diameter, depth, sink: 0.0 }, Some(id));
    JointKind::Plate(figures.clone())
}

/// What leaves both ends half round, seen from the face side.
pub(super) fn round_end_prisms(size: DVec3) -> Vec<Prism> {
    let radius = size.y / 2.0;
    let corner = |end: f64, inward: f64| {
        let centre = DVec2::new(end + inward * radius, radius);
        let (low, high) = (DVec2::new(centre.x, 0.0), DVec2::new(centre.x, size.y));
        let out = end - inward * OVERSHOOT;
        let path = Profile::path(
            low,
            vec![
                Segment::Arc { to: high, centre, ccw: inward < 0.0 },
                Segment::Line { to: DVec2::new(centre.x, size.y + OVERSHOOT) },
                Segment::Line { to: DVec2::new(out, size.y + OVERSHOOT) },
                Segment::Line { to: DVec2::new(out, -OVERSHOOT) },
                Segment::Line { to: DVec2::new(centre.x, -OVERSHOOT) },
                Segment::Line { to: low },
            ],
        );
        path.ok().map(|profile| Prism { axis: Axis::T, from: -OVERSHOOT, to: size.z + OVERSHOOT, profile })
    };
    [corner(0.0, 1.0), corner(size.x, -1.0)].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A plate in a rail 24 thick, the ring 10 from its face.
    fn figures(diameter: f64, along: f64, across: f64) -> Figures {
        let screw = screwed_up::Figures::of(2.5, 60.0, false);
        Figures { diameter, centres: 15.0, metal: 2.5, depth: 2.7, inside: ring_in_rail(24.0, 15.0), wall: 5.0, along, across, screw }
    }

    /// By arithmetic a plate of 15 gives way by 2 along itself and by 7.5 across: a top that moves further is not held by it.
    #[test]
    fn a_plate_that_the_top_moves_further_than_it_gives_fails() {
        let of = |along, across| {
            let figures = figures(20.0, along, across);
            figures.broken().first().map(|broken| broken.fails)
        };
        assert_eq!((of(1.9, 7.4), of(2.1, 0.0), of(0.0, 7.6)), (None, Some(true), Some(true)));
    }

    /// Arithmetic: of a plate of 15 in a rail of 24 the ring stands 10 from the face, not 12, so that the other screw is 5 before it. With 10 between its rings
    /// the screw is 2.5 before the rail, and half its head is 4.2.
    #[test]
    fn a_driver_gets_to_the_screw_into_the_top() {
        let rings = [(24.0, 15.0, 10.0), (18.0, 15.0, 9.0), (24.0, 10.0, 7.5)];
        assert!(rings.iter().all(|(thick, centres, ring)| (ring_in_rail(*thick, *centres) - ring).abs() < 1e-9));
        assert!(figures(17.0, 0.0, 0.0).broken().is_empty());
        let short = Figures { centres: 10.0, inside: 7.5, ..figures(17.0, 0.0, 0.0) };
        let told = short.broken();
        assert!(told.len() == 1 && told[0].fails && (told[0].value - 2.5).abs() < 1e-9, "{told:?}");
    }

    /// A plate of 15 between its rings, 17 wide, whose top moves by 2.8 swings by asin(2.8 / 15) = 10.8°. Turned so far to either side, its outline stays in what
    /// is cut away, up to the face of the rail (geometry).
    #[test]
    fn a_plate_swings_in_its_recess_as_far_as_its_top_moves() {
        for across in [0.0, 2.8, 5.0, 7.5] {
            let figures = figures(17.0, 0.0, across);
            let (ring, mouth) = (figures.recess() / 2.0, figures.mouth() / 2.0);
            let is_cut = |at: DVec2| at.length() <= ring || (at.x >= -figures.behind() && at.y.abs() <= mouth) || at.x > figures.inside;
            let angle = (across / 15.0_f64).asin();
            for swing in [-angle, 0.0, angle] {
                let axis = DVec2::new(swing.cos(), swing.sin());
                let sides = (0..=60).flat_map(|step| [8.5, -8.5].map(|side| axis * (f64::from(step) / 4.0) + axis.perp() * side));
                let rim = (0..360).map(|degrees| DVec2::from_angle(f64::from(degrees).to_radians()) * 8.5);
                assert!(sides.chain(rim).all(is_cut), "{across} by {swing}");
            }
            assert!(figures.mouth() < 17.0 + 2.0 * 10.0, "no more than need be: {}", figures.mouth());
        }
    }
}
