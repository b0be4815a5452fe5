//! A part as a beam: what holds it by its joints, and its section by its sizes.

use std::fmt;
use std::sync::Arc;

use casewright_solid::Pose;
use glam::DVec3;

use super::SAME_LEVEL;
use crate::joint::JointKind;
use crate::model::{Joint, Material, Model, Part, PartId, PartKind, Role};
use crate::place::{Block, Dir};
use crate::strength::{Beam, Hold, Load, Properties, PropertiesError, Section, SectionError, Stretch, Support};

/// A part that lies level on what holds it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Lying {
    /// The part.
    pub part: PartId,
    /// The axis of the case along which it spans, 0 or 2.
    pub axis: usize,
    /// Where its first end is on that axis, mm.
    pub from: f64,
    /// Where its second end is, mm.
    pub to: f64,
    /// Where it is held on that axis, from the first end on, mm, and by what.
    pub held: Vec<(f64, PartId)>,
    /// How much of its width bears, mm.
    pub width: f64,
    /// Its thickness upward, mm.
    pub thickness: f64,
    /// What it is made of, along the span.
    pub of: Arc<Properties>,
    /// What holds it along its other edges as well.
    pub beside: Vec<PartId>,
}

/// What presses on a part: spread evenly from one place to another on the axis along which it spans, mm of the case; N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressed {
    /// From, mm.
    pub from: f64,
    /// To, mm; the same as `from` for what presses at one place.
    pub to: f64,
    /// N in all.
    pub force: f64,
}

/// A part that could not be judged, or not in every way.
#[derive(Clone, Debug, PartialEq)]
pub struct Unjudged {
    /// The part.
    pub part: PartId,
    /// What of it.
    pub asked: Asked,
    /// Why.
    pub why: Why,
}

/// Why a part could not be judged; in words a sentence without its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// A figure of its stuff is not known.
    Lacks {
        /// Which: "strength in bending".
        figure: &'static str,
        /// The stuff by its name.
        of: String,
    },
    /// Anything else.
    Other(String),
}

impl fmt::Display for Why {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Why::Lacks { figure, of } => write!(to, "no {figure} is known for {of}"),
            Why::Other(words) => to.write_str(words),
        }
    }
}

impl From<&PropertiesError> for Why {
    fn from(error: &PropertiesError) -> Why {
        match error {
            PropertiesError::NoModulus { name } => Why::Lacks { figure: "modulus of elasticity", of: name.clone() },
            PropertiesError::NotKnown { .. } => Why::Other(error.to_string()),
        }
    }
}

impl Unjudged {
    /// A part of which nothing could be judged.
    pub(super) fn all(part: PartId, why: Why) -> Unjudged {
        Unjudged { part, asked: Asked::All, why }
    }
}

/// What is asked of a part under load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Asked {
    /// How far it sags, and every stress.
    All,
    /// How hard it is stressed in bending.
    Bending,
    /// How hard it is sheared along its grain.
    Shear,
    /// How hard it presses across the grain where it lies.
    Bearing,
    /// How hard it shears the wood where it lies.
    ShearAtRest,
    /// How hard the pins under it are bent.
    PinBends,
    /// How hard the pins under it prise in their holes.
    PinPrises,
}

impl Asked {
    /// In words, to follow the name of a part: "how far it sags and how hard it is stressed".
    pub fn words(self) -> &'static str {
        match self {
            Asked::All => "sag and stress",
            Asked::Bending => "stress in bending",
            Asked::Shear => "shear along the grain",
            Asked::Bearing => "pressure across the grain where it lies",
            Asked::ShearAtRest => "shear where it lies",
            Asked::PinBends => "bending of the pins under it",
            Asked::PinPrises => "pressure of its pins at the mouths of their holes",
        }
    }
}

/// The share of its modulus along the grain that solid timber has across it: a twentieth (Wood Handbook, table 5-1 has from about 0.04 to
/// 0.11 for tangential and radial; from memory).
const ACROSS_SHARE: f64 = 1.0 / 20.0;

/// Supports closer than this are one, mm.
pub(super) const ONE_SUPPORT: f64 = 1.0;

impl Lying {
    /// The part as a beam, across its whole section, on what its joints say holds it. A board that is held along both pairs of its edges spans
    /// the stiffer way.
    ///
    /// # Errors
    /// When fewer than two things hold it, or its stiffness is not known.
    pub fn of(model: &Model, stuffs: &mut Stuffs, part: PartId) -> Result<Lying, Unjudged> {
        let it = model.part(part);
        let supports = supports(model, it);
        let ways: Vec<_> = [0, 2].into_iter().filter_map(|axis| spanning(model, stuffs, it, axis, &supports)).collect();
        let stiffest = ways.into_iter().min_by(|a, b| softness(a).total_cmp(&softness(b)));
        stiffest.unwrap_or_else(|| Err(Unjudged::all(part, Why::Other("nothing holds it at two places".to_owned()))))
    }

    /// The part as it spans along an axis of the case, held there at these places, from the first end on.
    ///
    /// # Errors
    /// When its stiffness is not known.
    pub fn along(model: &Model, stuffs: &mut Stuffs, part: &Part, axis: usize, held: Vec<(f64, PartId)>) -> Result<Lying, Unjudged> {
        let body = part.body();
        let of = if grain_along(&part.pose, axis) { stuffs.along(model, part) } else { stuffs.across(model, part) };
        let of = of.map_err(|error| Unjudged::all(part.id, Why::from(&error)))?;
        let (width, thickness) = (across(part, axis), body.size().y);
        Ok(Lying { part: part.id, axis, from: body.min[axis], to: body.max[axis], held, width, thickness, of, beside: Vec::new() })
    }

    /// How much a force between two places of its axis bends it in the middle, by place alone, beside others: as in a beam on its outermost
    /// supports, 3·L²·a − 4·a³ for a force a from the nearer one.
    pub fn bends(&self, from: f64, to: f64) -> f64 {
        let (Some((first, _)), Some((last, _))) = (self.held.first(), self.held.last()) else { return 0.0 };
        let length = last - first;
        let at = |place: f64| {
            let a = (place - first).min(last - place).max(0.0);
            3.0 * length * length * a - 4.0 * a.powi(3)
        };
        (at(from) + 4.0 * at(from.midpoint(to)) + at(to)) / 6.0
    }

    /// Its widest span, mm.
    pub fn widest(&self) -> f64 {
        self.held.windows(2).map(|pair| pair[1].0 - pair[0].0).fold(0.0, f64::max)
    }

    /// The same where no more than so much of its width bears, mm.
    #[must_use]
    pub fn narrowed(self, width: f64) -> Lying {
        Lying { width: self.width.min(width), ..self }
    }

    /// Its section.
    ///
    /// # Errors
    /// When it has no width or no thickness.
    pub fn section(&self) -> Result<Section, SectionError> {
        Section::rectangle(self.width, self.thickness, &self.of)
    }

    /// The beam under what presses on it; its own weight counts where its density is known.
    pub fn beam(&self, section: Section, pressed: &[Pressed]) -> Beam {
        let (from, length) = (self.from, self.to - self.from);
        let at = |place: f64| (place - from).clamp(0.0, length);
        let loads = pressed.iter().map(|pressed| {
            let (begin, end) = (at(pressed.from), at(pressed.to));
            if end - begin > 1e-6 {
                Load::Spread { from: begin, to: end, per_mm: pressed.force / (end - begin) }
            } else {
                Load::Point { at: begin, force: pressed.force }
            }
        });
        Beam {
            stretches: vec![Stretch { length, section }],
            supports: self.held.iter().map(|(place, _)| Support { at: at(*place), hold: Hold::Simple }).collect(),
            loads: loads.collect(),
            own_weight: self.of.density.is_some(),
        }
    }
}

/// What holds a part along the axis on which it is held at two places or more, from the first end on, mm, whatever is known of its stuff:
/// the axis of the case, and each place with what is there. Nothing where it is held at fewer.
pub(super) fn held_at(model: &Model, part: PartId) -> Option<(usize, Vec<(f64, PartId)>)> {
    let supports = supports(model, model.part(part));
    [0, 2].into_iter().find_map(|axis| held_along(axis, &supports).map(|held| (axis, held)))
}

/// What holds a part at a place of an axis: several where they are one support, as two pins of a side.
pub(super) fn sharing(model: &Model, part: PartId, axis: usize, at: f64) -> Vec<PartId> {
    let supports = supports(model, model.part(part));
    supports.iter().filter(|held| held.axis == axis && (held.at - at).abs() < ONE_SUPPORT).map(|held| held.by).collect()
}

fn held_along(axis: usize, supports: &[Held]) -> Option<Vec<(f64, PartId)>> {
    let mut held: Vec<(f64, PartId)> = supports.iter().filter(|held| held.axis == axis).map(|held| (held.at, held.by)).collect();
    held.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    held.dedup_by(|later, earlier| later.0 - earlier.0 < ONE_SUPPORT);
    (held.len() >= 2).then_some(held)
}

/// How much the widest span of a way sags for the same load a mm, but for a factor.
fn softness(way: &Result<Lying, Unjudged>) -> f64 {
    let Ok(lying) = way else { return f64::INFINITY };
    lying.widest().powi(4) / lying.of.modulus.value
}

/// A part as it spans along an axis; nothing where it is not held at two places of that axis.
fn spanning(model: &Model, stuffs: &mut Stuffs, part: &Part, axis: usize, supports: &[Held]) -> Option<Result<Lying, Unjudged>> {
    let held = held_along(axis, supports)?;
    let beside = supports.iter().filter(|held| held.axis != axis).map(|held| held.by).collect();
    Some(Lying::along(model, stuffs, part, axis, held).map(|lying| Lying { beside, ..lying }))
}

/// What parts are made of, looked up once for each stuff.
#[derive(Default)]
pub(super) struct Stuffs(Vec<(Material, bool, Result<Arc<Properties>, PropertiesError>)>);

impl Stuffs {
    /// Along its grain.
    pub fn along(&mut self, model: &Model, part: &Part) -> Result<Arc<Properties>, PropertiesError> {
        self.find(model, part, true)
    }

    fn across(&mut self, model: &Model, part: &Part) -> Result<Arc<Properties>, PropertiesError> {
        self.find(model, part, false)
    }

    fn find(&mut self, model: &Model, part: &Part, along: bool) -> Result<Arc<Properties>, PropertiesError> {
        if let Some((_, _, known)) = self.0.iter().find(|(material, way, _)| *material == part.material && *way == along) {
            return known.clone();
        }
        let found = if along {
            Properties::of(&part.material, &model.timbers)
        } else {
            Properties::across(&part.material, &model.timbers, ACROSS_SHARE)
        };
        let found = found.map(Arc::new);
        self.0.push((part.material.clone(), along, found.clone()));
        found
    }
}

/// The width of a part across an axis along which it spans, mm.
fn across(part: &Part, axis: usize) -> f64 {
    part.block().size()[2 - axis]
}

/// Whether the grain of a part runs along an axis of the case.
pub(super) fn grain_along(pose: &Pose, axis: usize) -> bool {
    let local = pose.inverse().vector(Dir::along(axis, 1.0).vector()).abs();
    local.x >= local.y && local.x >= local.z
}

/// One thing that holds a part.
struct Held {
    axis: usize,
    at: f64,
    by: PartId,
}

fn supports(model: &Model, part: &Part) -> Vec<Held> {
    let mut found: Vec<Held> =
        model.joints_of(part.id).filter(|joint| joint.a == part.id).filter_map(|joint| support(part, joint)).collect();
    if part.kind == PartKind::Top {
        found.extend(rails_under(model, part));
    }
    found
}

/// How a joint holds the part that comes up in it; nothing where it holds it from moving another way, or not at all.
fn support(part: &Part, joint: &Joint) -> Option<Held> {
    let (contact, by) = (&joint.contact, joint.b);
    match joint.role {
        Role::SlatToCleat | Role::FloorToBearer => Some(lies_on(contact.along, contact.centre, by)),
        Role::CleatToStandard => {
            let axis = contact.into.axis();
            // The contact lies at the tip of the tooth; the cleat lies on what it reaches of the seat behind it.
            let play = if let JointKind::Seat(seat) = joint.kind { seat.play } else { 0.0 };
            let at = contact.centre[axis] + contact.into.sign() * (contact.extent.y - play / 2.0) / 2.0;
            Some(Held { axis, at, by })
        }
        // From side to side; two pins of a side are one support.
        Role::ShelfToPin => Some(Held { axis: 0, at: contact.centre.x, by }),
        // From front to back, by its screws or its glue.
        Role::CleatToUpright => Some(Held { axis: 2, at: contact.centre.z, by }),
        Role::RailToPost | Role::RailToMuntin | Role::CrossRailToRail | Role::ShelfToUpright => ends_in(contact.into, contact.centre, by),
        Role::Own if contact.into == Dir::MinusY => Some(lies_on(contact.along, contact.centre, by)),
        Role::Own => ends_in(contact.into, contact.centre, by).filter(|held| {
            // An end of it, not a long edge.
            grain_along(&part.pose, held.axis)
        }),
        Role::StileToRail
        | Role::MuntinToRail
        | Role::StandardToPost
        | Role::PanelToFrame
        | Role::ButtonToRail
        | Role::ButtonToTop
        | Role::FixingToRail
        | Role::FixingToTop
        | Role::TopToPost
        | Role::BearerToRail
        | Role::FloorToFloor
        | Role::FloorRoundPost
        | Role::SpacerToStandard
        | Role::PinToUpright
        | Role::SlatRoundStandard => None,
    }
}

/// It lies on a line: it spans square to that.
fn lies_on(along: Dir, centre: DVec3, by: PartId) -> Held {
    let axis = if along.axis() == 0 { 2 } else { 0 };
    Held { axis, at: centre[axis], by }
}

fn ends_in(into: Dir, centre: DVec3, by: PartId) -> Option<Held> {
    (into.axis() != 1).then(|| Held { axis: into.axis(), at: centre[into.axis()], by })
}

/// Rails whose upper edges a top lies on.
fn rails_under(model: &Model, top: &Part) -> Vec<Held> {
    let under = top.block().min.y;
    let rails = model.parts.iter().filter(|part| matches!(part.kind, PartKind::Rail | PartKind::CrossRail));
    let carries = rails.filter(|rail| (rail.body().max.y - under).abs() < SAME_LEVEL);
    carries.map(|rail| lies_on(long_way(&rail.block()), rail.block().centre(), rail.id)).collect()
}

/// The horizontal direction in which a block is longer.
fn long_way(block: &Block) -> Dir {
    let size = block.size();
    if size.x >= size.z { Dir::PlusX } else { Dir::PlusZ }
}
