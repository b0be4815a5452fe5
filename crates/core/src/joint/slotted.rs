//! Screws through slots under a solid top: the shank slides in a slot across the top's grain, the head under a washer.
//!
//! Slot: shank and the travel both ways and 1; round holes on the line that stays put (common practice, no source). Travel: Wood
//! Handbook FPL-GTR-190, equation 13-2. White oak flat-sawn, 200 from the fixed line, built at 8 %, 6 to 11 %: +2.2 and −1.5, a slot of
//! 5 by 10 (arithmetic).

use glam::DVec3;

use super::rules::{Broken, Rules};
use super::{Fit, Fitted, Joining, JointKind, face_and_point, local_axis};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, Contact, Feature, JointId};
use crate::place::Dir;
use crate::timber::clearance::slot_length;

/// How much larger than its shank a round hole is that lets nothing move, mm (common practice, no source).
pub const CLEARANCE: f64 = 0.2;
/// Least wood beside a slot, mm (common practice, no source).
const LEAST_BESIDE: f64 = 4.0;
/// Travel below which a round hole does, mm.
const STAYS_PUT: f64 = 0.01;
/// The share of its shank that a pilot hole takes (90 % of the root in hard wood: a careful amateur's test, with the root at some three quarters of the shank: from memory).
const PILOT: f64 = 0.68;

/// The figures of a screw in its slot, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Diameter of the shank.
    pub shank: f64,
    /// How far the top moves toward `way`, by the wettest or the driest, and against it.
    pub travel: [f64; 2],
    /// The way in which the top moves.
    pub way: Dir,
    /// Diameter of the washer.
    pub washer: f64,
    /// Thickness of the strip that the slot goes through.
    pub strip: f64,
    /// Width of the strip along the slot, where the slot lies across it; else without end.
    pub across: f64,
    /// How deep the screw goes into the top.
    pub engaged: f64,
}

impl Figures {
    /// Length of the slot, mm; the diameter of the hole on the line that stays put.
    pub fn slot(&self) -> f64 {
        if self.travel[0] + self.travel[1] < STAYS_PUT { self.width() } else { slot_length(self.shank, self.travel[0] + self.travel[1]) }
    }

    /// Width of the slot, mm.
    pub fn width(&self) -> f64 {
        self.shank + CLEARANCE
    }

    /// From the screw to the middle of its slot, along the way of the travel, mm.
    pub fn shift(&self) -> f64 {
        (self.travel[0] - self.travel[1]) / 2.0
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let hole = if self.slot() > self.width() + 1e-9 {
            // Which way the play lies follows from the moisture at which it is built.
            let [there, back] = self.travel.map(|mm| trimmed_to(mm, 1));
            let ways = [self.way, self.way.opposite()].map(Dir::words);
            format!("slot {} × {}, for {there} {} and {back} {}", trimmed(self.width()), trimmed(self.slot()), ways[0], ways[1])
        } else {
            format!("round hole {}", trimmed(self.width()))
        };
        format!("screw {} in a {hole}, washer {}", trimmed(self.shank), trimmed(self.washer))
    }

    /// Off the other way, when the screw is drawn.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        Dir::ALL.into_iter().filter(|dir| *dir != contact.into).collect()
    }

    fn fits(&self) -> Vec<Fitted> {
        let moves = self.travel[0] + self.travel[1];
        let (what, class) =
            if moves < STAYS_PUT { ("shank in its hole", Fit::Slip) } else { ("shank in slot, along it", Fit::LooseAcross) };
        vec![Fitted { what, class, clearance: self.slot() - self.shank - if moves < STAYS_PUT { 0.0 } else { moves } }]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "7 diameters of thread in side grain (from memory); draw the screw up so that the washer still slides (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        let beside = (self.across - self.slot()) / 2.0 - self.shift().abs();
        Rules::default()
            .at_least(LEAST_BESIDE, beside, "a slot leaves 4 mm of its strip on either side", PRACTICE)
            .fails_at(0.0)
            .mended_by("section", (self.across + 2.0 * (LEAST_BESIDE - beside)).ceil())
            .at_least(self.width() + 6.0, self.washer, "a washer is 6 mm larger than its slot is wide", PRACTICE)
            .mended_by("washer", (self.width() + 6.0).ceil())
            .at_least(3.0 * self.shank, self.engaged, "a screw under a top goes 3 diameters in at least", PRACTICE)
            .mended_by("shank", (self.engaged / 3.0 * 2.0).floor() / 2.0)
            .broken()
    }
}

/// Cuts the slot through the strip that receives, and the pilot hole in the top that comes down on it.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, figures: &Figures) -> JointKind {
    let joint = assembly.joint(id).clone();
    let (into, way) = (joint.contact.into.vector(), figures.way.vector());
    let strip = assembly.part(joint.b);
    let (face, centre) = face_and_point(strip, -into, joint.contact.centre + way * figures.shift());
    let slot = Feature::Recess {
        face,
        centre,
        along: local_axis(strip, way),
        length: figures.slot(),
        width: figures.width(),
        depth: figures.strip,
        round: true,
    };
    assembly.cut(joint.b, slot, Some(id));
    let (face, centre): (_, DVec3) = face_and_point(assembly.part(joint.a), into, joint.contact.centre);
    let pilot = Feature::Hole { face, centre, diameter: figures.shank * PILOT, depth: figures.engaged, sink: 0.0 };
    assembly.cut(joint.a, pilot, Some(id));
    JointKind::SlottedScrew(figures.clone())
}
