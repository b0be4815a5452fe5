//! What is screwed up to the underside of a solid top by one screw: a button, a clip, the ring of a plate.
//!
//! A button has a hole that the shank passes, or the screw would hold button and top apart; clips and plates come with theirs.
//! Screw: gauge 8, the longest in the trade that goes no more than 7 diameters into the top (from memory) and leaves 4 mm of it above (common practice, no
//! source). Pilot hole: the middle of two published charts, for the hard or the soft wood of the top, as deep as the screw goes.

use super::room::{LEAST_BEHIND, is_soft};
use super::rules::{Broken, Rules};
use super::screw::Gauge;
use super::{Joining, JointKind, face_and_point, local_axis};
use crate::length::trimmed;
use crate::model::{Assembly, Contact, Feature, JointId, Material};
use crate::place::Dir;

/// The lengths in which screws are sold, mm (from memory).
const LENGTHS: [f64; 13] = [12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0];
/// The gauge of a screw under a top (common practice, no source).
const GAUGE: Gauge = Gauge::Eight;
/// The most of a screw that goes into side grain for hold, in diameters (from memory).
const MOST_DIAMETERS: f64 = 7.0;
/// The least of it that holds a top down, in diameters (common practice, no source).
const LEAST_DIAMETERS: f64 = 3.0;

/// The figures of a screw under a top, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Its gauge.
    pub gauge: Gauge,
    /// Its length.
    pub length: f64,
    /// How much of it goes into the top, and how deep its pilot hole is.
    pub engaged: f64,
    /// Diameter of the pilot hole.
    pub pilot: f64,
    /// What is left of the top above the pilot hole, less than nothing where it comes out.
    pub above: f64,
}

impl Figures {
    /// The screw through so much of a fixing into a top so thick, of soft or of hard wood. Where even the shortest would come out, that one.
    pub fn of(through: f64, top: f64, soft: bool) -> Figures {
        let most = (top - LEAST_BEHIND).min(MOST_DIAMETERS * GAUGE.diameter());
        let reach = |length: &&f64| **length - through;
        let long = LENGTHS.iter().rev().find(|length| reach(length) > 0.0 && reach(length) <= most);
        let length = *long.or_else(|| LENGTHS.iter().find(|length| reach(length) > 0.0)).unwrap_or(&LENGTHS[LENGTHS.len() - 1]);
        let (least, greatest) = GAUGE.pilot(!soft);
        let engaged = (length - through).max(1.0);
        Figures { gauge: GAUGE, length, engaged, pilot: f64::midpoint(least, greatest), above: top - engaged }
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let [length, pilot, deep] = [self.length, self.pilot, self.engaged].map(trimmed);
        format!("screw gauge {} × {length}, in a pilot hole {pilot} × {deep}", self.gauge.number())
    }

    /// Away, and sideways all round: once the screw is drawn nothing is in the way.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        Dir::ALL.into_iter().filter(|dir| *dir != contact.into).collect()
    }

    /// It is drawn up to its top by the screw.
    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "7 diameters of thread in side grain (from memory); run a steel screw before a brass one (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        if self.above <= 0.0 {
            // That it comes out is told, and is the graver.
            return Vec::new();
        }
        let least = LEAST_DIAMETERS * self.gauge.diameter();
        Rules::default()
            .at_least(least, self.engaged, "a screw under a top goes 3 diameters in at least", "common practice, no source")
            .broken()
    }
}

/// Bores the hole of the shank in what is of wood, and the pilot hole in the top that receives.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, through: f64) -> JointKind {
    let joint = assembly.joint(id).clone();
    let into = joint.contact.into.vector();
    let top = assembly.part(joint.b);
    let figures = Figures::of(through, top.lwt()[local_axis(top, into)], is_soft(top, assembly.timbers()));
    let (face, centre) = face_and_point(top, -into, joint.contact.centre);
    let pilot = Feature::Hole { face, centre, diameter: figures.pilot, depth: figures.engaged, sink: 0.0 };
    assembly.cut(joint.b, pilot, Some(id));
    let fixing = assembly.part(joint.a);
    if matches!(fixing.material, Material::Solid(_)) {
        let (face, centre) = face_and_point(fixing, -into, joint.contact.centre);
        let depth = fixing.lwt()[face.axis()];
        assembly.cut(joint.a, Feature::Hole { face, centre, diameter: figures.gauge.shank_hole(), depth, sink: 0.0 }, Some(id));
    }
    JointKind::ScrewedUp(figures)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Arithmetic: a button of 19 under a top of 24 leaves 20 for the screw; 40 would be 1 too long, so 35, which goes 16 in. A clip of 2: 20, 18 in. Pilot 3 in
    /// hard wood, the middle of 2.8 and 3.2; 2.4 in soft (two published charts of wood screws).
    #[test]
    fn a_screw_never_comes_out_of_a_top_that_is_thick_enough() {
        let button = Figures::of(19.0, 24.0, false);
        assert_eq!((button.length, button.engaged, button.pilot), (35.0, 16.0, 3.0));
        let clip = Figures::of(2.0, 24.0, true);
        assert_eq!((clip.length, clip.engaged, clip.pilot), (20.0, 18.0, 2.4));
        for top in 12..60 {
            for through in 0..30 {
                let figures = Figures::of(f64::from(through), f64::from(top), false);
                let fits = LENGTHS.iter().any(|length| (1.0..=f64::from(top) - 4.0).contains(&(length - f64::from(through))));
                assert!(!fits || figures.engaged <= f64::from(top) - 4.0, "{through} under {top}: {figures:?}");
            }
        }
    }

    #[test]
    fn seven_diameters_are_enough() {
        assert!(Figures::of(19.0, 60.0, false).engaged <= 7.0 * 4.2);
    }
}
