//! What can't be put in: what blocks it, and which ways round do. Each way is tried before it is told.

use casewright_solid::{Axis, Pose, Prism, Profile, Solid};
use glam::DVec2;

use super::route::Route;
use super::split::Splitter;
use super::world::{Hit, World, ids};
use super::{Leg, Locked, WayOut, left_out};
use crate::design::shop::State;
use crate::joint::JointKind;
use crate::model::{PartId, PartKind};
use crate::place::Dir;

/// Facets a full turn, for a part that is tried in another shape.
const FACETS_A_TURN: u32 = 16;
/// Room left round what a part is notched for, mm (common practice, no source).
const NOTCH_ROOM: f64 = 1.0;
/// A part of which notches would take a greater share is another part.
const MOST_NOTCHED: f64 = 0.4;

/// Tells of parts without trying anything.
pub(super) fn left(parts: &[PartId], by: &[PartId], place: Option<glam::DVec3>) -> Locked {
    Locked { parts: parts.to_vec(), blocked_by: by.to_vec(), closed: false, place, ways: Vec::new() }
}

/// A loose part that goes into neither of its members.
pub(super) fn jammed(part: usize, hit: &Hit) -> Locked {
    left(&[PartId(part)], &[PartId(hit.standing)], Some(hit.place))
}

/// Parts that hold each other, so that none is to blame alone.
pub(super) fn ring(world: &World<'_>, parts: &[usize]) -> Locked {
    let first = parts.first().and_then(|&one| {
        let others: Vec<usize> = parts.iter().copied().filter(|&other| other != one).collect();
        least_met(world, &[one], &others).1.first().copied()
    });
    Locked {
        parts: ids(parts),
        blocked_by: first.iter().map(|hit| PartId(hit.standing)).collect(),
        closed: false,
        place: first.map(|hit| hit.place),
        ways: Vec::new(),
    }
}

/// Why a body that was left out of what is glued together already can't get in, and what does: the joints there are closed.
pub(super) fn left_out(world: &World<'_>, body: &[usize], others: &[usize], ways_too: bool) -> Locked {
    let mut locked = explain(world, body, others, None, ways_too);
    if !ways_too {
        return Locked { closed: true, ..locked };
    }
    locked.ways.extend(left_out::opened(world, body, others));
    if let [part] = *body {
        locked.ways.extend(left_out::beaded(world, part, others));
    }
    let not_recorded = |part: &usize| {
        let part = &world.model.parts[*part];
        part.state != State::Glued && !matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel)
    };
    if body.iter().any(not_recorded) {
        locked.ways.insert(0, WayOut::InAlready);
    }
    Locked { closed: true, ..locked }
}

/// Why a body can't get in among others, and what does, where `ways_too` asks for it. With the glue-up at hand, going in with it is tried too.
pub(super) fn explain(world: &World<'_>, body: &[usize], others: &[usize], glue_up: Option<&[Vec<usize>]>, ways_too: bool) -> Locked {
    let (_, hits) = least_met(world, body, others);
    let blocked_by: Vec<usize> = hits.iter().map(|hit| hit.standing).collect();
    let mut ways = Vec::new();
    if let Some(fixed) = glue_up
        && ways_too
        && goes_in_before(world, body, fixed)
    {
        ways.push(WayOut::Before(ids(&blocked_by)));
    }
    if let [part] = *body
        && ways_too
    {
        ways.extend(in_two_pieces(world, part, others));
        // What its grooves are to hold must not be cut off.
        if !left_out::stands_in_grooves(world, part, others) {
            ways.extend(notched(world, part, others));
        }
    }
    Locked { parts: ids(body), blocked_by: ids(&blocked_by), closed: false, place: hits.first().map(|hit| hit.place), ways }
}

/// The direction in which the fewest parts are in the way, and these: of those in which its joints open, or of all where none does.
fn least_met(world: &World<'_>, body: &[usize], others: &[usize]) -> (Dir, Vec<Hit>) {
    let hits = |dir: Dir| {
        let leg = Leg::Straight { way: dir.vector() * world.far };
        world.all_met(body, &Pose::IDENTITY, &leg, others)
    };
    let opens = |dir: &Dir| {
        // A notch says where a part passes another, not how it comes.
        let mut own = world.model.joints.iter().filter(|joint| joint.a.0 == body[0] && !matches!(joint.kind, JointKind::Notch(_)));
        own.any(|joint| joint.contact.into.opposite() == *dir)
    };
    let upward = || Dir::ALL.into_iter().filter(|dir| *dir != Dir::MinusY);
    let wanted: Vec<Dir> = upward().filter(opens).collect();
    let dirs = if wanted.is_empty() { upward().collect() } else { wanted };
    dirs.into_iter().map(|dir| (dir, hits(dir))).min_by_key(|(_, hits)| hits.len()).unwrap_or((Dir::PlusY, Vec::new()))
}

/// Whether a body can be put together with what is glued.
fn goes_in_before(world: &World<'_>, body: &[usize], fixed: &[Vec<usize>]) -> bool {
    let mut all = fixed.to_vec();
    all.push(body.to_vec());
    let set: Vec<usize> = (0..all.len()).collect();
    Splitter::new(world, &all).split(&set).stuck().is_empty()
}

/// Cut across its longer way, each half finds its way.
fn in_two_pieces(world: &World<'_>, part: usize, others: &[usize]) -> Option<WayOut> {
    let model_part = &world.model.parts[part];
    let size = model_part.lwt();
    // The pieces of a floor meet from front to back, so that both lie on both bearers.
    let axes = if size.x >= size.y || model_part.kind == PartKind::Floor { [0, 1] } else { [1, 0] };
    axes.into_iter()
        .find(|&axis| {
            let half = |first: bool| {
                let mut solid = model_part.solid();
                let middle = size[axis] / 2.0;
                let (from, to) = if first { (middle, size[axis] + 1.0) } else { (-1.0, middle) };
                solid.prisms.push(slab(axis, from, to, &solid));
                solid.cells(FACETS_A_TURN).ok()
            };
            let (Some(first), Some(second)) = (half(true), half(false)) else { return false };
            let (both, one) = world.with(&first, model_part.pose);
            let (both, other) = both.with(&second, model_part.pose);
            [(one, other), (other, one)].into_iter().any(|(leaves, stays)| {
                let standing: Vec<usize> = others.iter().copied().chain([stays]).collect();
                Route::new(&both, &[leaves], &standing).find().is_some() && Route::new(&both, &[stays], others).find().is_some()
            })
        })
        .map(WayOut::TwoPieces)
}

/// All of a blank between two places along an axis.
fn slab(axis: usize, from: f64, to: f64, solid: &Solid) -> Prism {
    let along = if axis == 0 { Axis::L } else { Axis::W };
    let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
    let profile = Profile::rect(DVec2::splat(-1.0), DVec2::new(solid.size[u] + 1.0, solid.size[v] + 1.0));
    Prism { axis: along, from, to, profile }
}

/// Notched at its rim round everything in its way through its thickness.
fn notched(world: &World<'_>, part: usize, others: &[usize]) -> Option<WayOut> {
    let model_part = &world.model.parts[part];
    let inverse = model_part.pose.inverse();
    let size = model_part.lwt();
    // Only a way square to its faces leaves notches of one outline through the thickness.
    let through = Dir::ALL.into_iter().filter(|way| *way != Dir::MinusY && Dir::nearest(inverse.vector(way.vector())).axis() == 2);
    through.into_iter().find_map(|way| {
        let leg = Leg::Straight { way: way.vector() * world.far };
        let hits = world.all_met(&[part], &Pose::IDENTITY, &leg, others);
        let mut places = Vec::new();
        for hit in &hits {
            let (low, high) = inverse.bounds_of_box(world.boxes[hit.standing].0, world.boxes[hit.standing].1);
            let clip = |value: f64, axis: usize| value.clamp(0.0, size[axis]);
            let place =
                [clip(low.x - NOTCH_ROOM, 0), clip(high.x + NOTCH_ROOM, 0), clip(low.y - NOTCH_ROOM, 1), clip(high.y + NOTCH_ROOM, 1)];
            let at_rim = place[0] <= 0.0 || place[1] >= size.x || place[2] <= 0.0 || place[3] >= size.y;
            if !at_rim {
                return None;
            }
            places.push(place);
        }
        let taken: f64 = places.iter().map(|place| (place[1] - place[0]) * (place[3] - place[2])).sum();
        if places.is_empty() || taken > MOST_NOTCHED * size.x * size.y {
            return None;
        }
        let mut solid = model_part.solid();
        solid.prisms.extend(places.iter().map(|place| {
            let out = |value: f64, axis: usize| {
                if value <= 0.0 {
                    -1.0
                } else if value >= size[axis] {
                    value + 1.0
                } else {
                    value
                }
            };
            let (min, max) = (DVec2::new(out(place[0], 0), out(place[2], 1)), DVec2::new(out(place[1], 0), out(place[3], 1)));
            Prism { axis: Axis::T, from: -1.0, to: size.z + 1.0, profile: Profile::rect(min, max) }
        }));
        let cells = solid.cells(FACETS_A_TURN).ok()?;
        let (with_new, body) = world.with(&cells, model_part.pose);
        with_new.meets(&[body], &Pose::IDENTITY, &leg, &with_new.standing(others)).is_none().then_some(WayOut::Notch(places))
    })
}
