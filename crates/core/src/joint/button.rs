//! Wooden buttons under a solid top: screwed to the top, their tongues in slots of the rails.
//!
//! The slot lies a little lower than the tongue, so that the screw draws the top down; the slot leaves room for the movement of
//! the top at its place (rules: common practice, no source; movement: Wood Handbook FPL-GTR-190, equation 13-2).

use casewright_solid::Prism;
use glam::{DVec2, DVec3};

use super::rules::{Broken, Rules};
use super::{Fit, Fitted, Joining, JointKind, OVERSHOOT, face_and_point, local_axis, rect_prism};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, Contact, Face, Feature, JointId};
use crate::place::Dir;

/// Cuts the tongue of a button, and the slot for it in the rail.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, figures: &Figures, shift: f64) -> JointKind {
    let joint = assembly.joint(id).clone();
    let contact = joint.contact;
    let (into, along) = (contact.into.vector(), contact.along.vector());
    let button = assembly.part(joint.a);
    let (end, _) = face_and_point(button, into, contact.centre);
    let (side, _) = face_and_point(button, DVec3::Y, contact.centre);
    let step = figures.step.max(0.0);
    let rabbet =
        Feature::Rabbet { second_end: end == Face::SecondEnd, back_side: side == Face::BackSide, length: figures.tongue, depth: step };
    assembly.cut(joint.a, rabbet, Some(id));
    let rail = assembly.part(joint.b);
    let middle = contact.centre - DVec3::Y * (BELOW_TONGUE / 2.0) + along * shift;
    let (face, centre) = face_and_point(rail, -into, middle);
    let slot = Feature::Mortise {
        face,
        centre,
        along: local_axis(rail, along),
        length: figures.slot,
        width: figures.tongue + BELOW_TONGUE,
        depth: figures.tongue + SLOT_ROOM,
        round: false,
    };
    assembly.cut(joint.b, slot, Some(id));
    JointKind::Button(figures.clone())
}

/// The figures of a button in its slot, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Length and thickness of the tongue.
    pub tongue: f64,
    /// Length behind the tongue, under the top.
    pub behind: f64,
    /// Across, along the rail.
    pub width: f64,
    /// From the upper face of the button down to its tongue; less than nothing where it is thinner than the tongue should be.
    pub step: f64,
    /// Between the shoulder of the button and the rail.
    pub gap: f64,
    /// Length of the slot along the rail.
    pub slot: f64,
    /// Whether the slot is so close that the top stays put there.
    pub holds: bool,
    /// How far the top moves out over this rail by the wettest, and in by the driest; along the rail for a side rail.
    pub growth: f64,
    /// The same inward.
    pub shrinkage: f64,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let moves = match (self.growth + self.shrinkage > 0.0, self.gap > 0.0) {
            (false, _) => String::new(),
            (true, true) => format!("; the top moves {} out and {} in there", trimmed_to(self.growth, 1), trimmed_to(self.shrinkage, 1)),
            (true, false) => format!("; the top moves {} along it there", trimmed_to(self.growth + self.shrinkage, 1)),
        };
        let [tongue, gap, slot] = [self.tongue, self.gap, self.slot].map(trimmed);
        let close = if self.holds { ", close, so that the top stays put there" } else { "" };
        format!("button, tongue {tongue}, {gap} free at the shoulder, slot {slot} long{close}{moves}")
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "tongue in slot, in thickness", class: Fit::Loose, clearance: BELOW_TONGUE }]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn broken(&self) -> Vec<Broken> {
        const BESIDE: &str = "three diameters from a screw to an edge, bored before: Eurocode 5, table 8.2, from memory";
        const SCREW: &str = "the screw some 19 mm from the shoulder: a magazine's article on fastening table tops";
        Rules::default()
            .at_least(TO_SCREW, self.behind, "a button is long enough behind its tongue for the screw", SCREW)
            .mended_by("length", self.tongue + 2.0 * TO_SCREW)
            .at_least(2.0 * BESIDE_SCREW, self.width, "a button is wide enough for its screw", BESIDE)
            .mended_by("width", (2.0 * BESIDE_SCREW).ceil())
            .at_least(LEAST_STEP, self.step, "a button is thicker than its tongue", "common practice, no source")
            .mended_by("thickness", self.tongue + 7.0)
            .broken()
    }

    fn strength(&self) -> &'static str {
        "the tongue must stay 4 mm in its slot when the top is driest (common practice, no source)"
    }
}

/// From the middle of the screw of a button to either side, mm: three diameters of gauge 8, bored before (Eurocode 5, table 8.2, from memory).
const BESIDE_SCREW: f64 = 3.0 * 4.2;
/// The least step from the upper face of a button down to its tongue, mm: what its shoulder draws on (common practice, no source).
const LEAST_STEP: f64 = 3.0;

/// From the shoulder of a button to its screw, mm (a magazine's article on fastening table tops).
pub const TO_SCREW: f64 = 19.0;
/// Room below the tongue in its slot, mm (common practice, no source).
pub const BELOW_TONGUE: f64 = 0.5;
/// How far the screw draws the button up, mm: its top face stands so far below the top when the tongue just touches (common practice: 0.8 to 1, no source).
pub const DRAW: f64 = 1.0;
/// Room at the bottom of a slot besides the movement, mm (common practice, no source).
pub const SLOT_ROOM: f64 = 1.0;
/// Room of a button along the slot in which it keeps the top where it is, both ends together, when it is wettest, mm (common practice, no source).
pub const CLOSE_ROOM: f64 = 0.2;

pub(super) fn rabbet_prisms(size: DVec3, second_end: bool, back_side: bool, length: f64, depth: f64) -> Vec<Prism> {
    let range = |far: bool, extent: f64, cut: f64| if far { (extent - cut, extent + OVERSHOOT) } else { (-OVERSHOOT, cut) };
    let (l, t) = (range(second_end, size.x, length), range(back_side, size.z, depth));
    // Along W the profile plane is (T, L).
    vec![rect_prism(1, -OVERSHOOT, size.y + OVERSHOOT, DVec2::new(t.0, l.0), DVec2::new(t.1, l.1))]
}
