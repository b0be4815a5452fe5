//! Where a shelf is held: boards on cleats or pins or in housings, cleats in the teeth of standards or on screws.

use super::bending::{Bending, Stress};
use super::lying::{Lying, ONE_SUPPORT, Stuffs};
use crate::joint::room::is_soft;
use crate::joint::seat::flat_between;
use crate::joint::{JointKind, pin};
use crate::model::{Feature, Joint, JointId, Material, Model, Part, PartId, Role};
use crate::strength::{
    Properties, allowed_bearing, allowed_bending, allowed_in_a_hole, allowed_of_screw, allowed_shear, bearing_stress, pin_bending,
    pin_prising, pin_shear, screw_lateral, shear_along, steel_bending, steel_shear,
};
use crate::timber::How;
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
    /// How wide and how long it lies, mm; on a pin when it is pushed over to the other side as far as it goes.
    pub lies: [f64; 2],
    /// How hard that presses across the grain.
    pub bearing: Stress,
    /// The wood that it shears.
    pub sheared: Sheared,
    /// How hard.
    pub shear: Stress,
    /// How the pin is bent that it lies on, where it lies on one.
    pub pin: Option<PinBent>,
    /// What may be asked of all of that for years, and why.
    allowed: Allowed,
}

/// A pin that stands out of its hole under what lies on it, mm and N/mm².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinBent {
    /// Its diameter.
    pub diameter: f64,
    /// From the mouth of its hole to the middle of what lies on it.
    pub lever: f64,
    /// How deep it is in its hole.
    pub deep: f64,
    /// How hard it is bent at the mouth of its hole.
    pub bends: Stress,
    /// How hard it prises at the mouth of its hole.
    pub prises: Stress,
}

/// What may be asked for years, each where it is known.
#[derive(Clone, Debug, Default, PartialEq)]
struct Allowed {
    bearing: Option<Worked>,
    shear: Option<Worked>,
    bends: Option<Worked>,
    prises: Option<Worked>,
}

/// In which way a place where something rests is stressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RestWay {
    /// Pressed where it lies.
    Pressed,
    /// Sheared where it lies.
    Sheared,
    /// A pin is bent.
    PinBends,
    /// A pin prises in its hole.
    PinPrises,
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
        /// Whether it is half round.
        round: bool,
    },
    /// A pin, so thick, mm.
    Pin {
        /// Its diameter.
        diameter: f64,
    },
    /// A screw, so thick, mm.
    Screw {
        /// Diameter of its shank.
        diameter: f64,
    },
    /// A face that is glued, so wide and so long, mm.
    Glue {
        /// Its width.
        width: f64,
        /// Its length.
        length: f64,
    },
}

impl RestWay {
    /// In words, to follow the name of the part that gives out by it.
    pub fn words(self) -> &'static str {
        match self {
            RestWay::Pressed => "pressed where it lies",
            RestWay::Sheared => "sheared where it is loaded",
            RestWay::PinBends => "bent at its hole",
            RestWay::PinPrises => "prising at the mouth of its hole",
        }
    }
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
            Sheared::Pin { diameter } => pin_shear(force, diameter),
            Sheared::Screw { diameter } => pin_shear(force, diameter).named("shear stress in the screw"),
            Sheared::Glue { width, length } => {
                let inputs = vec![
                    Worked::given("force", force, "N"),
                    Worked::given("width glued", width, "mm"),
                    Worked::given("length glued", length, "mm"),
                ];
                Worked::by(
                    "shear stress in the glue line",
                    force / (width * length),
                    "N/mm²",
                    ("force / (width × length)", "statics"),
                    inputs,
                )
            }
            Sheared::Tooth { width, root, seat, .. } => shear_along(force, width, root, seat).named("shear stress in the tooth"),
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

    /// All its stresses, each with the part that gives out by it.
    pub fn stresses(&self) -> Vec<(RestWay, PartId, Stress)> {
        let sheared = match self.sheared {
            Sheared::Tooth { .. } | Sheared::Pin { .. } => self.on,
            Sheared::End { .. } | Sheared::Screw { .. } | Sheared::Glue { .. } => self.part,
        };
        let all = [(RestWay::Pressed, self.part, self.bearing), (RestWay::Sheared, sheared, self.shear)];
        let pin = self.pin.iter().flat_map(|pin| [(RestWay::PinBends, self.on, pin.bends), (RestWay::PinPrises, self.on, pin.prises)]);
        all.into_iter().chain(pin).collect()
    }

    /// Why each of its stresses is what it is, with what may be asked for years where that is known.
    pub fn why(&self) -> Vec<(Worked, Option<Worked>)> {
        let Allowed { bearing, shear, bends, prises } = &self.allowed;
        let pin = self.pin.iter().flat_map(|pin| {
            let bent = pin_bending(self.force, pin.diameter, pin.lever);
            [(bent, bends.clone()), (pin_prising(self.force, pin.diameter, pin.lever, pin.deep), prises.clone())]
        });
        [(self.why_bearing(), bearing.clone()), (self.why_shear(), shear.clone())].into_iter().chain(pin).collect()
    }
}

/// Both ends of a board or a cleat, by what its supports bear; what is held at one place by several shares it alike.
pub(super) fn of(model: &Model, stuffs: &mut Stuffs, lying: &Lying, bending: &Bending) -> Vec<Rest> {
    let mut bears = Vec::with_capacity(2);
    for (index, (_, by)) in lying.held.iter().enumerate() {
        // What lifts off does not press.
        let force = bending.reaction(index).max(0.0);
        let joint = model.joints.iter().find(|joint| joint.a == lying.part && joint.b == *by);
        let Some(joint) = joint else { continue };
        let together = |other: &&Joint| {
            let apart = (other.contact.centre - joint.contact.centre)[lying.axis].abs();
            other.a == lying.part && other.role == joint.role && apart < ONE_SUPPORT
        };
        let sharing: Vec<&Joint> = model.joints.iter().filter(together).collect();
        let share = force / sharing.len().max(1) as f64;
        bears.extend(sharing.into_iter().map(|joint| (joint.id, share)));
    }
    on(model, stuffs, bending, &bears)
}

/// A board on each of the joints that hold it, by what that bears, N.
pub(super) fn on(model: &Model, stuffs: &mut Stuffs, bending: &Bending, bears: &[(JointId, f64)]) -> Vec<Rest> {
    let mut found = Vec::with_capacity(bears.len());
    for (joint, force) in bears {
        let joint = model.joint(*joint);
        let below = stuffs.along(model, model.part(joint.b)).ok();
        let rest = rest(model, (bending.of(), below.as_deref()), joint, *force);
        found.extend(rest.map(|rest| {
            let pin = bent(model, stuffs, &rest);
            let (pin, bends, prises) = pin.map_or((None, None, None), |(pin, bends, prises)| (Some(pin), bends, prises));
            Rest { room: bending.room, pin, allowed: Allowed { bends, prises, ..rest.allowed }, ..rest }
        }));
    }
    found
}

/// What may be asked of an end, and how it lies.
struct Ends<'p> {
    lies: [f64; 2],
    sheared: Sheared,
    /// What is pressed across its grain, or how much may be asked there, N/mm².
    crushed: Crushed<'p>,
    /// What is sheared.
    torn: Torn<'p>,
}

enum Torn<'p> {
    Wood(Option<&'p Properties>),
    Steel,
}

enum Crushed<'p> {
    Wood(&'p Properties),
    UpTo(Option<Worked>),
}

fn rest(model: &Model, (of, below): (&Properties, Option<&Properties>), joint: &Joint, force: f64) -> Option<Rest> {
    let (part, on) = (model.part(joint.a), model.part(joint.b));
    let Ends { lies, sheared, crushed, torn } = ends(model, (of, below), joint)?;
    let allowed = match crushed {
        Crushed::Wood(wood) => allowed_bearing(wood),
        Crushed::UpTo(stress) => stress,
    };
    let allowed_there = match torn {
        Torn::Wood(wood) => wood.and_then(allowed_shear),
        Torn::Steel => Some(steel_shear()),
    };
    let sheared_by = sheared.stress(force);
    Some(Rest {
        part: part.id,
        on: on.id,
        room: None,
        force,
        lies,
        bearing: Stress::new(force / (lies[0] * lies[1]), How::Read, allowed.as_ref()),
        shear: Stress::new(sheared_by.value, sheared_by.how(), allowed_there.as_ref()),
        sheared,
        pin: None,
        allowed: Allowed { bearing: allowed, shear: allowed_there, ..Allowed::default() },
    })
}

/// How the pin is bent on which something rests, and what may be asked of it and of its hole; nothing where it lies on no pin.
fn bent(model: &Model, stuffs: &mut Stuffs, rest: &Rest) -> Option<(PinBent, Option<Worked>, Option<Worked>)> {
    let Sheared::Pin { diameter } = rest.sheared else { return None };
    let (upright, figures) = pin_in(model, rest.on)?;
    let lever = (figures.reach - rest.lies[1] / 2.0).max(0.0);
    let pin = model.part(rest.on);
    let bends = match pin.material {
        Material::Bought(_) => Some(steel_bending()),
        Material::Solid(_) | Material::Sheet(_) => stuffs.along(model, pin).ok().as_deref().and_then(allowed_bending),
    };
    let prises = stuffs.along(model, upright).ok().as_deref().and_then(|of| allowed_in_a_hole(of, diameter));
    let deep = figures.depth.max(1.0);
    let bending = pin_bending(rest.force, diameter, lever);
    let prising = pin_prising(rest.force, diameter, lever, deep);
    let bent = PinBent {
        diameter,
        lever,
        deep,
        bends: Stress::new(bending.value, bending.how(), bends.as_ref()),
        prises: Stress::new(prising.value, prising.how(), prises.as_ref()),
    };
    Some((bent, bends, prises))
}

/// The upright in which a pin is, and how.
pub(super) fn pin_in(model: &Model, pin: PartId) -> Option<(&Part, &pin::Figures)> {
    model.joints.iter().filter(|joint| joint.a == pin).find_map(|joint| match &joint.kind {
        JointKind::Pin(figures) => Some((model.part(joint.b), figures)),
        _ => None,
    })
}

fn ends<'p>(model: &Model, (of, below): (&'p Properties, Option<&'p Properties>), joint: &Joint) -> Option<Ends<'p>> {
    let (part, on) = (model.part(joint.a), model.part(joint.b));
    let extent = joint.contact.extent;
    let weaker = below.map_or(of, |below| weaker(of, below));
    Some(match (joint.role, &joint.kind) {
        (Role::SlatToCleat, _) => {
            let width = (part.size[1].mm - notched(part, joint)).max(1.0);
            let lies = [width.min(extent.x).max(1.0), extent.y.max(1.0)];
            Ends {
                lies,
                sheared: Sheared::End { width, thickness: part.size[2].mm },
                crushed: Crushed::Wood(weaker),
                torn: Torn::Wood(Some(of)),
            }
        }
        (Role::CleatToStandard, JointKind::Seat(seat)) => {
            let sheared = tooth(on, seat.tooth)?;
            let deep = (extent.y - seat.play / 2.0).max(1.0);
            // A round end lies on about half of its round (ours).
            let deep = if let Sheared::Tooth { round: true, .. } = sheared { deep / 2.0 } else { deep };
            // The tooth has end grain there, which bears far more than the side of the cleat.
            Ends { lies: [part.size[2].mm.min(on.size[2].mm), deep], sheared, crushed: Crushed::Wood(of), torn: Torn::Wood(below) }
        }
        (Role::ShelfToPin, _) => {
            let diameter = on.size[2].mm;
            // Pushed over as far as it goes it lies on less of the pin, and farther out on it.
            let lies = [diameter, pin::under_pushed(model, joint).max(1.0)];
            let torn = if let Material::Bought(_) = on.material { Torn::Steel } else { Torn::Wood(below) };
            Ends { lies, sheared: Sheared::Pin { diameter }, crushed: Crushed::Wood(weaker), torn }
        }
        (Role::ShelfToUpright, JointKind::Housing(housing)) => {
            let width = (extent.x - housing.stops[0] - housing.stops[1]).max(1.0);
            let sheared = Sheared::End { width, thickness: part.size[2].mm };
            // The upright has end grain there.
            Ends { lies: [width, housing.depth.max(1.0)], sheared, crushed: Crushed::Wood(of), torn: Torn::Wood(Some(of)) }
        }
        (Role::CleatToUpright, JointKind::Screws(screws)) => {
            let (shank, engaged) = (screws.gauge.diameter(), screws.engaged.max(1.0));
            let soft = is_soft(on, &model.timbers);
            let bears = below.and_then(|below| screw_lateral(below, soft, shank)).map(|bears| allowed_of_screw(bears, shank, engaged));
            Ends { lies: [shank, engaged], sheared: Sheared::Screw { diameter: shank }, crushed: Crushed::UpTo(bears), torn: Torn::Steel }
        }
        (Role::CleatToUpright, _) => {
            let lies = [extent.x.max(1.0), extent.y.max(1.0)];
            Ends {
                lies,
                sheared: Sheared::Glue { width: lies[0], length: lies[1] },
                crushed: Crushed::UpTo(None),
                torn: Torn::Wood(Some(of)),
            }
        }
        _ => return None,
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

/// A tooth of a standard, counted from 1: sheared from its seat down to the next, which is a pitch, or to the foot of the standard; a half
/// round one by the flat between it and the next.
fn tooth(standard: &Part, tooth: u32) -> Option<Sheared> {
    let width = standard.size[2].mm;
    let root = |first: f64, least: f64| if tooth <= 1 { first.min(least) } else { least };
    standard.cuts.iter().find_map(|cut| match cut.feature {
        Feature::Teeth { first, pitch, seat, .. } => Some(Sheared::Tooth { width, root: root(first, pitch), seat, round: false }),
        Feature::HalfRounds { first, pitch, radius, .. } => {
            Some(Sheared::Tooth { width, root: root(first, flat_between(pitch, radius)).max(1.0), seat: radius, round: true })
        }
        _ => None,
    })
}
