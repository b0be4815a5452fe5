//! Where a shelf is held: slats on cleats, cleats in the teeth of standards.

use super::bending::{Bending, Stress};
use super::lying::{Lying, Stuffs};
use crate::joint::JointKind;
use crate::model::{Feature, Joint, Model, Part, PartId, Role};
use crate::strength::{Properties, allowed_bearing, allowed_shear, bearing_stress, shear_along};
use crate::worked::Worked;

/// One end of a part on what holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// The part that lies there.
    pub part: PartId,
    /// What it lies on.
    pub on: PartId,
    /// The room whose boxes it bears, by its place in [`Model::rooms`].
    pub room: Option<usize>,
    /// What it presses with, N.
    pub force: f64,
    /// How wide and how long it lies, mm.
    pub lies: [f64; 2],
    /// How hard that presses across the grain.
    pub bearing: Stress,
    /// The wood that it shears.
    pub sheared: Sheared,
    /// How hard.
    pub shear: Stress,
}

/// Wood that is sheared where a part rests.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sheared {
    /// The end of a slat, so wide beside its notches and so thick, mm.
    End {
        /// What the notches leave of its width.
        width: f64,
        /// Its thickness.
        thickness: f64,
    },
    /// The tooth under a cleat at its root, along the grain, mm.
    Tooth {
        /// Thickness of the standard.
        width: f64,
        /// From its seat down to the next, or to the foot of the standard.
        root: f64,
        /// Depth of the seat.
        seat: f64,
    },
}

impl Sheared {
    fn stress(self, force: f64) -> Worked {
        match self {
            Sheared::End { width, thickness } => {
                let inputs = vec![
                    Worked::given("force", force, "N"),
                    Worked::given("width left beside the notches", width, "mm"),
                    Worked::given("thickness", thickness, "mm"),
                ];
                let formula = ("1.5 × force / (width × thickness)", "statics");
                Worked::by("shear stress at the end", 1.5 * force / (width * thickness), "N/mm²", formula, inputs)
            }
            Sheared::Tooth { width, root, seat } => shear_along(force, width, root, seat).named("shear stress in the tooth"),
        }
    }
}

impl Rest {
    /// Why it presses so hard across the grain.
    pub fn why_bearing(&self) -> Worked {
        bearing_stress(self.force, self.lies[0], self.lies[1])
    }

    /// Why it shears so hard.
    pub fn why_shear(&self) -> Worked {
        self.sheared.stress(self.force)
    }
}

/// Both ends of a slat or a cleat, by what its supports bear.
pub(super) fn of(model: &Model, stuffs: &mut Stuffs, lying: &Lying, bending: &Bending) -> Vec<Rest> {
    let mut found = Vec::with_capacity(2);
    for (index, (_, by)) in lying.held.iter().enumerate() {
        // What lifts off does not press.
        let force = bending.reaction(index).max(0.0);
        let joint = model.joints.iter().find(|joint| joint.a == lying.part && joint.b == *by);
        let Some(joint) = joint else { continue };
        let Ok(below) = stuffs.along(model, model.part(*by)) else { continue };
        found.extend(rest(model, (bending.of(), &below), joint, force).map(|rest| Rest { room: bending.room, ..rest }));
    }
    found
}

fn rest(model: &Model, (of, below): (&Properties, &Properties), joint: &Joint, force: f64) -> Option<Rest> {
    let (part, on) = (model.part(joint.a), model.part(joint.b));
    let extent = joint.contact.extent;
    let (lies, sheared, crushed, torn) = match joint.role {
        Role::SlatToCleat => {
            let width = (part.size[1].mm - notched(part, joint)).max(1.0);
            let lies = [width.min(extent.x).max(1.0), extent.y.max(1.0)];
            (lies, Sheared::End { width, thickness: part.size[2].mm }, weaker(of, below), of)
        }
        Role::CleatToStandard => {
            let JointKind::Seat(seat) = &joint.kind else { return None };
            let lies = [part.size[2].mm.min(on.size[2].mm), (extent.y - seat.play / 2.0).max(1.0)];
            // The tooth has end grain there, which bears far more than the side of the cleat.
            (lies, tooth(on, seat.tooth)?, of, below)
        }
        _ => return None,
    };
    let value = |worked: Option<Worked>| worked.map(|worked| worked.value);
    Some(Rest {
        part: part.id,
        on: on.id,
        room: None,
        force,
        lies,
        bearing: Stress { found: force / (lies[0] * lies[1]), allowed: value(allowed_bearing(crushed)) },
        shear: Stress { found: sheared.stress(force).value, allowed: value(allowed_shear(torn)) },
        sheared,
    })
}

/// What bears less across the grain.
fn weaker<'p>(a: &'p Properties, b: &'p Properties) -> &'p Properties {
    match (&a.across, &b.across) {
        (Some(first), Some(second)) if second.value < first.value => b,
        (None, Some(_)) => b,
        _ => a,
    }
}

/// How much of a slat's width is notched away at the end that a joint holds, mm.
fn notched(slat: &Part, joint: &Joint) -> f64 {
    let first_end = slat.pose.inverse().point(joint.contact.centre).x < slat.size[0].mm / 2.0;
    let notches = slat.cuts.iter().filter_map(|cut| match cut.feature {
        Feature::Notch { second_end, width, .. } if second_end != first_end => Some(width),
        _ => None,
    });
    notches.sum()
}

/// A tooth of a standard, counted from 1: sheared from its seat down to the next, which is a pitch, or to the foot of the standard.
fn tooth(standard: &Part, tooth: u32) -> Option<Sheared> {
    let teeth = standard.cuts.iter().find_map(|cut| match cut.feature {
        Feature::Teeth { first, pitch, seat, .. } => Some((first, pitch, seat)),
        _ => None,
    });
    let (first, pitch, seat) = teeth?;
    Some(Sheared::Tooth { width: standard.size[2].mm, root: if tooth <= 1 { first.min(pitch) } else { pitch }, seat })
}
