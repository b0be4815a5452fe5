//! Room for a tool: cuts for what goes in after glue-up, and whether they can still be made once the case stands.

use casewright_solid::{Pose, Solid};
use glam::{DMat3, DVec3};

use super::Leg;
use super::route::Route;
use super::world::World;
use crate::design::{Tool, ToolWork};
use crate::model::{Cut, CutState, Face, Feature, JointId, Part, PartId};

/// A cut in a glued-up part for something that goes in later, and the tool that would make it then.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// The part it is cut into.
    pub part: PartId,
    /// The joint it serves.
    pub joint: JointId,
    /// What is cut.
    pub work: ToolWork,
    /// The tool in use for such cuts.
    pub tool: String,
    /// What is in the tool's way once the case is glued up, and how deep it would stand in it, mm; none when it gets in.
    pub blocked: Option<(PartId, f64)>,
    /// Whether its part is glued to others already, so that it can no longer be cut before.
    pub late: bool,
    /// Another tool of the shop that makes such cuts and gets in.
    pub instead: Option<String>,
    /// Where the cut is, in the case, mm.
    pub place: DVec3,
}

/// Facets a full turn: tools are boxes, so this says nothing.
const FACETS_A_TURN: u32 = 16;
/// A tool is taken out in so few legs, with so little patience: it is held in two hands.
const LEGS: usize = 2;
const PATIENCE: u32 = 200;

/// Every cut in a glued-up part that serves a part which goes in later, and is still to be cut.
pub(super) fn of(world: &World<'_>, standing: &[usize], tools: &[Tool]) -> Vec<Reach> {
    let model = world.model;
    let mut stands = vec![false; model.parts.len()];
    for &part in standing {
        stands[part] = true;
    }
    let mut all = Vec::new();
    for part in standing.iter().map(|&part| &model.parts[part]) {
        let is_made = |cut: &&Cut| part.state.is_cut() && cut.there != CutState::Missing;
        for cut in part.cuts.iter().filter(|cut| !is_made(cut)) {
            let (Some(joint), Some(spot)) = (cut.joint.map(|id| model.joint(id)), Spot::of(part, &cut.feature)) else { continue };
            if stands[joint.a.0] && stands[joint.b.0] {
                continue;
            }
            let mut makes = tools.iter().filter(|tool| tool.makes == spot.work);
            let Some(first) = makes.next() else { continue };
            let blocked = in_the_way(world, standing, &spot, first);
            let mut instead = || makes.find(|tool| in_the_way(world, standing, &spot, tool).is_none()).map(|tool| tool.name.clone());
            all.push(Reach {
                part: part.id,
                joint: joint.id,
                work: spot.work,
                tool: first.name.clone(),
                blocked,
                late: world.glued.is_in(part.id),
                instead: blocked.and_then(|_| instead()),
                place: spot.middle,
            });
        }
    }
    all
}

/// Where a tool works.
struct Spot {
    work: ToolWork,
    /// The middle of the cut on the face, in the case.
    middle: DVec3,
    /// Out of the face.
    out: DVec3,
    /// Along the cut.
    along: DVec3,
    depth: f64,
}

impl Spot {
    /// Of the cuts that a tool might be put to later; the rest are shapes of the part's own ends and edges.
    fn of(part: &Part, feature: &Feature) -> Option<Spot> {
        let (work, face, middle, along, depth) = match *feature {
            Feature::Mortise { face, centre, along, depth, .. } => (ToolWork::Slot, face, centre, along, depth),
            Feature::Groove { face, centre, depth, from, to, .. } => {
                let middle = f64::midpoint(from, to);
                let at = if face.axis() == 1 { DVec3::new(middle, 0.0, centre) } else { DVec3::new(middle, centre, 0.0) };
                (ToolWork::Groove, face, at, 0, depth)
            }
            _ => return None,
        };
        let normal = outward(face);
        let mut on_face = middle;
        on_face[face.axis()] = if face.is_first() { 0.0 } else { part.lwt()[face.axis()] };
        let pose = &part.pose;
        Some(Spot { work, middle: pose.point(on_face), out: pose.vector(normal), along: pose.vector(DVec3::AXES[along]), depth })
    }
}

fn outward(face: Face) -> DVec3 {
    DVec3::AXES[face.axis()] * if face.is_first() { -1.0 } else { 1.0 }
}

/// What keeps a tool from a spot, and how deep it would stand in that; the tool may be held either way up.
fn in_the_way(world: &World<'_>, standing: &[usize], spot: &Spot, tool: &Tool) -> Option<(PartId, f64)> {
    let tries = [1.0, -1.0].map(|up| held(world, standing, spot, tool, up));
    if tries.iter().any(Option::is_none) {
        return None;
    }
    tries.into_iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1))
}

fn held(world: &World<'_>, standing: &[usize], spot: &Spot, tool: &Tool, up: f64) -> Option<(PartId, f64)> {
    let size = DVec3::new(tool.length.to_mm(), tool.width.to_mm(), tool.height.to_mm());
    let along = spot.along * up;
    let across = spot.out.cross(along);
    let origin = spot.middle - along * (size.y / 2.0) - across * tool.above.to_mm();
    let pose = Pose { basis: DMat3::from_cols(spot.out, along, across), origin };
    let cells = Solid::blank(size).cells(FACETS_A_TURN).ok()?;
    let (world, body) = world.with(&cells, pose);
    let deepest = standing.iter().filter_map(|&other| world.overlap(body, other).map(|(depth, _)| (PartId(other), depth)));
    if let Some(found) = deepest.max_by(|a, b| a.1.total_cmp(&b.1)) {
        return Some(found);
    }
    // Out of the cut, and then away.
    let back = Leg::Straight { way: spot.out * spot.depth };
    let ready = world.standing(standing);
    if let Some((_, other)) = world.meets(&[body], &Pose::IDENTITY, &back, &ready) {
        return Some((PartId(other), 0.0));
    }
    let frame = back.after(&Pose::IDENTITY);
    if Route::new(&world, &[body], standing).straight(&frame, LEGS, PATIENCE).is_some() {
        return None;
    }
    let away = Leg::Straight { way: spot.out * world.far };
    world.meets(&[body], &frame, &away, &ready).map(|(_, other)| (PartId(other), 0.0))
}
