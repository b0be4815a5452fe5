//! What gets a part in that was left out of what is glued together already: grooves and mortises cut open to one side, or a panel made to stand between
//! beads. Each way is tried on the solids before it is told.

use std::collections::BTreeMap;

use casewright_solid::{Axis, Cells, Pose, Prism, Profile, Solid};
use glam::{DVec2, DVec3};

use super::world::World;
use super::{Leg, WayOut};
use crate::inspect::TOUCH;
use crate::joint::JointKind;
use crate::model::{Joint, JointId, Part, PartId, prism_bounds};
use crate::place::Dir;

/// Facets a full turn, for a part that is tried in another shape.
const FACETS_A_TURN: u32 = 16;
/// A part of which more than this share is cut away beside a groove or a mortise is spoilt.
const MOST_OPENED: f64 = 0.5;
/// A bead is pinned or glued to a lip of so much at least, mm (common practice, no source).
const LEAST_LIP: f64 = 4.0;
/// Room left all round a panel that stands between beads, mm (common practice, no source).
const BEAD_ROOM: f64 = 1.0;

/// Grooves and mortises cut open in the direction in which the least wood goes, so that the body comes in straight from there.
pub(super) fn opened(world: &World<'_>, body: &[usize], others: &[usize]) -> Option<WayOut> {
    let ways = Dir::ALL.into_iter().filter_map(|toward| Opening::of(world, body, others, toward));
    let least = ways.filter(|way| way.lets_in(world, body, others)).min_by(|a, b| a.volume.total_cmp(&b.volume))?;
    let joint = |id: &JointId| &world.model.joint(*id).kind;
    Some(WayOut::Opened {
        toward: least.toward,
        parts: least.prisms.keys().map(|part| PartId(*part)).collect(),
        wall: least.wall,
        grooves: least.joints.iter().all(|id| matches!(joint(id), JointKind::Groove(_))),
    })
}

/// What is cut away beside the cuts that hold a body, toward one side.
struct Opening {
    toward: Dir,
    /// By the parts that are cut.
    prisms: BTreeMap<usize, Vec<Prism>>,
    /// The joints whose cuts are opened.
    joints: Vec<JointId>,
    /// The most wood between a cut and the face, mm.
    wall: f64,
    /// All that is cut away, mm³, where nothing lies in each other.
    volume: f64,
}

impl Opening {
    /// None where something is in the way that a cut does not hold, or too much would go.
    fn of(world: &World<'_>, body: &[usize], others: &[usize], toward: Dir) -> Option<Opening> {
        let mut opening = Opening { toward, prisms: BTreeMap::new(), joints: Vec::new(), wall: 0.0, volume: 0.0 };
        let leg = Leg::Straight { way: toward.vector() * world.far };
        for (&part, &other) in body.iter().flat_map(|part| others.iter().map(move |other| (part, other))) {
            if !world.meets_one(&[part], &Pose::IDENTITY, &leg, other) {
                continue;
            }
            let (joint, held_by) = holds(world, part, other)?;
            // What is brought in comes from there; what stands is met the other way round.
            let out = if held_by == other { toward } else { toward.opposite() };
            opening.open(world, joint, held_by, out)?;
        }
        (!opening.prisms.is_empty()).then_some(opening)
    }

    fn open(&mut self, world: &World<'_>, joint: &Joint, part: usize, out: Dir) -> Option<()> {
        if self.joints.contains(&joint.id) && self.prisms.contains_key(&part) {
            return Some(());
        }
        let of = &world.model.parts[part];
        let size = of.lwt();
        let local = Dir::nearest(of.pose.inverse().vector(out.vector()));
        let axis = local.axis();
        for prism in of.cuts.iter().filter(|cut| cut.joint == Some(joint.id)).flat_map(|cut| cut.feature.prisms(size)) {
            let (low, high) = prism_bounds(&prism);
            let (mut low, mut high) = (low.max(DVec3::ZERO), high.min(size));
            let wall = if local.sign() > 0.0 { size[axis] - high[axis] } else { low[axis] };
            let across = (high - low) * (DVec3::ONE - DVec3::AXES[axis]) + DVec3::AXES[axis];
            if wall > MOST_OPENED * size[axis] {
                return None;
            }
            self.wall = self.wall.max(wall);
            self.volume += wall.max(0.0) * across.element_product();
            if local.sign() > 0.0 {
                high[axis] = size[axis] + 1.0;
            } else {
                low[axis] = -1.0;
            }
            self.prisms.entry(part).or_default().push(boxed(low, high));
        }
        self.joints.push(joint.id);
        self.prisms.contains_key(&part).then_some(())
    }

    /// Whether the body then comes out straight, and so goes in.
    fn lets_in(&self, world: &World<'_>, body: &[usize], others: &[usize]) -> bool {
        let cut = |(part, prisms): (&usize, &Vec<Prism>)| {
            let mut solid = world.model.parts[*part].solid();
            solid.prisms.extend(prisms.iter().cloned());
            Some((*part, solid.cells(FACETS_A_TURN).ok()?))
        };
        let Some(cells) = self.prisms.iter().map(cut).collect::<Option<Vec<(usize, Cells)>>>() else { return false };
        let world = world.recut(&cells);
        let leg = Leg::Straight { way: self.toward.vector() * world.far };
        world.meets(body, &Pose::IDENTITY, &leg, &world.standing(others)).is_none()
    }
}

/// The joint of a part with another, loose parts of it too, and which of the two has the cut that holds the other.
fn holds<'m>(world: &World<'m>, part: usize, other: usize) -> Option<(&'m Joint, usize)> {
    let (one, two) = (PartId(part), PartId(other));
    let is_member = |joint: &Joint, part: PartId| joint.a == part || joint.b == part;
    world.model.joints.iter().find_map(|joint| {
        if joint.loose.contains(&one) && is_member(joint, two) {
            Some((joint, other))
        } else if joint.loose.contains(&two) && is_member(joint, one) {
            Some((joint, part))
        } else if is_member(joint, one) && is_member(joint, two) && joint.loose.is_empty() {
            Some((joint, joint.b.0))
        } else {
            None
        }
    })
}

/// A panel made so small that it goes into the opening of its frame, to be held between beads.
pub(super) fn beaded(world: &World<'_>, part: usize, others: &[usize]) -> Option<WayOut> {
    let panel = &world.model.parts[part];
    let grooves = || grooves_of(world, part, others);
    let (mut low, mut high) = (DVec3::ZERO, panel.lwt());
    let inverse = panel.pose.inverse();
    for joint in grooves() {
        let local = Dir::nearest(inverse.vector(joint.contact.into.vector()));
        let (axis, at) = (local.axis(), inverse.point(joint.contact.centre)[local.axis()]);
        if local.sign() > 0.0 {
            high[axis] = high[axis].min(at - BEAD_ROOM);
        } else {
            low[axis] = low[axis].max(at + BEAD_ROOM);
        }
    }
    let all_lips = grooves().all(|joint| lips(panel, &world.model.parts[joint.b.0]).iter().all(|lip| *lip >= LEAST_LIP - TOUCH));
    let size = high - low;
    if grooves().next().is_none() || !all_lips || size.min_element() <= 0.0 {
        return None;
    }
    let cells = Solid::blank(size).cells(FACETS_A_TURN).ok()?;
    let pose = Pose { origin: panel.pose.point(low), ..panel.pose };
    let (with_new, body) = world.with(&cells, pose);
    let standing = with_new.standing(others);
    let goes_in = [1.0, -1.0].into_iter().any(|sign| {
        let leg = Leg::Straight { way: panel.pose.vector(DVec3::Z) * (sign * world.far) };
        with_new.meets(&[body], &Pose::IDENTITY, &leg, &standing).is_none()
    });
    goes_in.then_some(WayOut::Beaded([size.x, size.y]))
}

/// Whether a part stands in grooves of others.
pub(super) fn stands_in_grooves(world: &World<'_>, part: usize, others: &[usize]) -> bool {
    grooves_of(world, part, others).next().is_some()
}

fn grooves_of<'m>(world: &World<'m>, part: usize, others: &[usize]) -> impl Iterator<Item = &'m Joint> {
    let joints = world.model.joints.iter();
    joints.filter(move |joint| joint.a.0 == part && matches!(joint.kind, JointKind::Groove(_)) && others.contains(&joint.b.0))
}

/// How far what holds a panel stands out beyond the panel's two sides, mm.
fn lips(panel: &Part, by: &Part) -> [f64; 2] {
    let axis = Dir::nearest(panel.pose.vector(DVec3::Z)).axis();
    let (own, other) = (panel.block(), by.block());
    [own.min[axis] - other.min[axis], other.max[axis] - own.max[axis]]
}

fn boxed(low: DVec3, high: DVec3) -> Prism {
    let profile = Profile::rect(DVec2::new(low.y, low.z), DVec2::new(high.y, high.z));
    Prism { axis: Axis::L, from: low.x, to: high.x, profile }
}
