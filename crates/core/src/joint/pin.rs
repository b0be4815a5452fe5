//! Pins that a shelf lies on, in holes bored in a row.
//!
//! The row is bored whole, whatever lies on it now, so the joint of a pin cuts nothing more. Holes 10 to 13 deep that leave 4 behind
//! (common practice, no source); a pin is put in and drawn by hand, so it is a hair thinner than its hole.

use casewright_solid::{Prism, Profile};
use glam::{DVec2, DVec3};

use super::rules::{Broken, Rules};
use super::tenon::pocket_range;
use super::{Fit, Fitted, Joining, JointKind, axis_of, plane_axes};
use crate::design::Pins;
use crate::length::trimmed;
use crate::model::{Assembly, Contact, Face, Joint, JointId, Model, Role};
use crate::place::Dir;

/// The least that a pin goes into its hole, mm (common practice, no source: holes are 10 to 13 deep).
pub const LEAST_DEPTH: f64 = 10.0;
/// The least that is left behind a hole, mm (common practice, no source).
pub const LEAST_BEHIND: f64 = 4.0;

/// The most that a pin is thinner than its hole, mm (common practice, no source).
const MOST_FIT: f64 = 0.3;
/// So many diameters the holes of a row stand apart at least (EN 1995-1-1, table 8.5, for dowels of steel: from memory).
const LEAST_PITCH: f64 = 3.0;

/// The figures of a pin in its hole, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Which hole of its row, from 1.
    pub hole: u32,
    /// Diameter of the hole.
    pub diameter: f64,
    /// How deep the pin is in it.
    pub depth: f64,
    /// How far it stands out.
    pub reach: f64,
    /// How much thinner it is than its hole.
    pub fit: f64,
    /// What is left of the upright behind the hole.
    pub behind: f64,
    /// From hole to hole.
    pub pitch: f64,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!("in hole {}, Ø{} × {}", self.hole, trimmed(self.diameter), trimmed(self.depth))
    }

    /// Out of its hole.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "pin in its hole", class: Fit::GluedSnug, clearance: self.fit }]
    }

    fn strength(&self) -> &'static str {
        "30 kg on four pins are 74 N each, 1.5 N/mm² on 5 × 10: fine in hardwood (arithmetic); below some 450 kg/m³ use sleeves \
         (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        const NEAR: &str = "3 diameters: EN 1995-1-1, table 8.5, for dowels of steel, from memory";
        let usual = Pins::default();
        Rules::default()
            .at_least(LEAST_DEPTH, self.depth, "a pin goes 10 mm into its hole", PRACTICE)
            .mended_by("depth", LEAST_DEPTH)
            .at_least(0.0, self.fit, "a pin is put into its hole by hand", PRACTICE)
            .mended_by("fit", usual.fit.to_mm())
            .at_most(MOST_FIT, self.fit, "a pin does not wobble in its hole", PRACTICE)
            .mended_by("fit", usual.fit.to_mm())
            .at_least(LEAST_PITCH * self.diameter, self.pitch, "holes of a row stand 3 diameters apart", NEAR)
            .mended_by("pitch", usual.pitch.to_mm())
            .broken()
    }
}

/// How much of a pin is under a shelf that is pushed away from it to the other side as far as it goes, mm: of the joint by which the shelf lies on it.
/// Below 0 where it drops off.
pub fn under_pushed(model: &Model, on_pin: &Joint) -> f64 {
    let shelf = model.part(on_pin.a).block();
    let left = on_pin.contact.centre.x < shelf.centre().x;
    let face_of =
        |pin| model.joints.iter().find(|joint| joint.a == pin && joint.role == Role::PinToUpright).map(|joint| joint.contact.centre.x);
    let across =
        |other: &&Joint| other.a == on_pin.a && other.role == Role::ShelfToPin && (other.contact.centre.x < shelf.centre().x) != left;
    let faces = model.joints.iter().filter(across).filter_map(|other| face_of(other.b));
    let play = faces.map(|face| if left { face - shelf.max.x } else { shelf.min.x - face }).reduce(f64::min);
    on_pin.contact.extent.y - play.unwrap_or(0.0).max(0.0)
}

/// The pin in its hole; the row that the hole belongs to is there.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, pins: &Pins, hole: u32) -> JointKind {
    let joint = assembly.joint(id);
    let through = assembly.part(joint.b).block().size()[joint.contact.into.axis()];
    let depth = pins.depth.to_mm();
    JointKind::Pin(Figures {
        hole,
        diameter: pins.diameter.to_mm(),
        depth,
        reach: pins.reach.to_mm(),
        fit: pins.fit.to_mm(),
        behind: through - depth,
        pitch: pins.pitch.to_mm(),
    })
}

/// The holes of a row, each so wide and so deep.
pub(super) fn row_prisms(size: DVec3, face: Face, first: DVec3, pitch: f64, count: u32, [diameter, depth]: [f64; 2]) -> Vec<Prism> {
    let axis = face.axis();
    let (u, v) = plane_axes(axis);
    let (from, to) = pocket_range(face, size, depth);
    let hole = |index: u32| {
        let middle = first + DVec3::X * (pitch * f64::from(index));
        let profile = Profile::circle(DVec2::new(middle[u], middle[v]), diameter / 2.0);
        Prism { axis: axis_of(axis), from, to, profile }
    };
    (0..count).map(hole).collect()
}
