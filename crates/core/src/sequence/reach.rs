//! Room for a tool: cuts for what goes in after glue-up, and whether they can still be made once the case stands.

use casewright_solid::{Pose, Solid};
use glam::{DMat3, DVec3};

use super::Leg;
use super::route::Route;
use super::world::World;
use crate::design::{Tool, ToolWork};
use crate::joint::JointKind;
use crate::model::{Cut, CutState, Face, Feature, Housing, Joint, JointId, Model, Part, PartId};

/// A cut in a glued-up part for something that goes in later, and the tool that would make it then.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// The part it is cut into.
    pub part: PartId,
    /// The joint it serves.
    pub joint: JointId,
    /// What is cut.
    pub work: ToolWork,
    /// How many of them: a row has many holes.
    pub count: u32,
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
            let Some(joint) = serves(model, part, cut) else { continue };
            if stands[joint.a.0] && stands[joint.b.0] {
                continue;
            }
            let spots = Spot::all_of(part, &cut.feature);
            let Some(spot) = spots.first() else { continue };
            let mut makes = tools.iter().filter(|tool| tool.makes == spot.work);
            let Some(first) = makes.next() else { continue };
            // A tool has to get to every place of a cut.
            let kept_out = |tool: &Tool| {
                let all = spots.iter().filter_map(|spot| in_the_way(world, standing, spot, tool));
                all.max_by(|a, b| a.1.total_cmp(&b.1))
            };
            let blocked = kept_out(first);
            let mut instead = || makes.find(|tool| kept_out(tool).is_none()).map(|tool| tool.name.clone());
            all.push(Reach {
                part: part.id,
                joint: joint.id,
                work: spot.work,
                count: if let Feature::HoleRow { count, .. } = cut.feature { count } else { 1 },
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

/// The joint that a cut serves. A row of holes is bored for all the pins that may ever stand in it: it serves the first that does.
fn serves<'m>(model: &'m Model, part: &Part, cut: &Cut) -> Option<&'m Joint> {
    match (cut.joint, &cut.feature) {
        (Some(id), _) => Some(model.joint(id)),
        (None, Feature::HoleRow { .. }) => {
            model.joints_of(part.id).find(|joint| joint.b == part.id && matches!(joint.kind, JointKind::Pin(_)))
        }
        (None, _) => None,
    }
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
    /// Of the cuts that a tool might be put to later, at the ends of those that are long; the rest are shapes of the part's own ends and edges.
    fn all_of(part: &Part, feature: &Feature) -> Vec<Spot> {
        let at = |work, face, middle, along, depth| Spot::at(part, work, face, middle, along, depth);
        match *feature {
            Feature::Mortise { face, centre, along, depth, .. } => vec![at(ToolWork::Slot, face, centre, along, depth)],
            Feature::Groove { face, centre, depth, from, to, .. } => {
                let middle = f64::midpoint(from, to);
                let middle = if face.axis() == 1 { DVec3::new(middle, 0.0, centre) } else { DVec3::new(middle, centre, 0.0) };
                vec![at(ToolWork::Groove, face, middle, 0, depth)]
            }
            // A housing across a part is cut like a groove.
            Feature::Housing(Housing { face, along, centre, depth, from, to, .. }) => {
                let mut middle = DVec3::ZERO;
                middle[along] = f64::midpoint(from, to);
                if let Some(across) = (0..3).find(|axis| *axis != along && *axis != face.axis()) {
                    middle[across] = centre;
                }
                vec![at(ToolWork::Groove, face, middle, along, depth)]
            }
            Feature::Hole { face, centre, depth, .. } => vec![at(ToolWork::Hole, face, centre, (face.axis() + 1) % 3, depth)],
            Feature::HoleRow { face, first, pitch, count, depth, .. } => {
                let last = first + DVec3::X * pitch * f64::from(count.saturating_sub(1));
                [first, first.midpoint(last), last].map(|place| at(ToolWork::Hole, face, place, 0, depth)).into()
            }
            Feature::Tenon { .. }
            | Feature::Recess { .. }
            | Feature::Lap { .. }
            | Feature::Fork { .. }
            | Feature::Notch { .. }
            | Feature::Rabbet { .. }
            | Feature::Bevel { .. }
            | Feature::Teeth { .. }
            | Feature::HalfRounds { .. }
            | Feature::RoundEdges
            | Feature::RoundEnds
            | Feature::EdgeRabbet(_)
            | Feature::Tail(_)
            | Feature::EndGap(_)
            | Feature::Socket(_)
            | Feature::EdgeRound(_)
            | Feature::EdgeChamfer(_)
            | Feature::Taper(_) => Vec::new(),
        }
    }

    /// At a place of a face of a part, `along` one of its axes.
    fn at(part: &Part, work: ToolWork, face: Face, middle: DVec3, along: usize, depth: f64) -> Spot {
        let normal = outward(face);
        let mut on_face = middle;
        on_face[face.axis()] = if face.is_first() { 0.0 } else { part.lwt()[face.axis()] };
        let pose = &part.pose;
        Spot { work, middle: pose.point(on_face), out: pose.vector(normal), along: pose.vector(DVec3::AXES[along]), depth }
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
