//! Glue-ups: how long, how many clamps of what length, and which diagonals tell that it is square.

use std::ops::RangeInclusive;

use super::GlueUp;
use crate::design::{Gluing, find_glue};
use crate::model::{JointId, Model, Part, PartId, PartKind};
use crate::place::{Block, Dir};

/// Clamps of one length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamp {
    /// How many.
    pub count: usize,
    /// What lies between the jaws, cauls included, mm.
    pub length: f64,
    /// The direction in which they press.
    pub along: Dir,
}

/// Two diagonals that must be equal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagonal {
    /// The two directions of the rectangle.
    pub along: [Dir; 2],
    /// Its two sides, mm.
    pub sides: [f64; 2],
    /// How long each diagonal must be, mm.
    pub length: f64,
    /// By how much the two may differ, mm: to aim at, and at most.
    pub within: [f64; 2],
}

/// By how much the diagonals of a case of a metre or so may differ, mm: 1/32 to 1/16 in (woodworkers' consensus on a forum, read).
pub const AIM_DIAGONALS: RangeInclusive<f64> = 0.8..=1.6;
/// Two cauls of 25 between part and jaws, mm (common practice, no source).
const CAULS: f64 = 50.0;
/// Clamps stand at most so far apart along a joint, the first and the last so far from its ends, mm: 200 to 300 and 40 to 50
/// (a glue maker's technical guide, read).
const SPACING: f64 = 250.0;
const FROM_END: f64 = 45.0;
/// A rectangle with a shorter side is not measured over its diagonals, mm.
const LEAST_SIDE: f64 = 100.0;

/// By how much the two diagonals of a rectangle `a` × `b` differ when one side of it has slipped by `slip` along `b`, mm: 2 · e · b / √(a² + b²)
/// (arithmetic, for a slip that is small against the sides).
pub fn diagonal_difference(a: f64, b: f64, slip: f64) -> f64 {
    let diagonal = a.hypot(b);
    if diagonal > 0.0 { 2.0 * slip * b / diagonal } else { 0.0 }
}

/// How many clamps of `force` newtons press a joint of `length` × `width` mm at `pressure` N/mm².
///
/// Softwood wants 0.7 to 1.0, medium 1.0 to 1.4, hardwood 1.4 to 2.1 N/mm² (a glue maker's technical guide, read).
pub fn clamps_for(length: f64, width: f64, pressure: f64, force: f64) -> u32 {
    let needed = length * width * pressure;
    if needed > 0.0 && force > 0.0 { (needed / force).ceil().min(1e6) as u32 } else { 0 }
}

/// The stages of a glue-up, each a range of additions of which each closes so many joints.
pub(super) fn stages(gluing: &Gluing, closing: &[usize]) -> Vec<std::ops::Range<usize>> {
    let seconds = |joints: usize| joints as f64 * gluing.seconds;
    let split = match gluing.stages {
        crate::design::GlueStages::Few => false,
        crate::design::GlueStages::WithinOpenTime => true,
    };
    let (mut stages, mut from, mut wet) = (Vec::new(), 0, 0);
    for (index, &joints) in closing.iter().enumerate() {
        if split && wet > 0 && joints > 0 && seconds(wet + joints) > gluing.allowed_seconds() + 1e-9 {
            stages.push(from..index);
            (from, wet) = (index, 0);
        }
        wet += joints;
    }
    stages.push(from..closing.len());
    stages
}

/// One glue-up: these joints close along `dir`, and these parts lie in the clamps.
pub(super) fn glue_up(model: &Model, gluing: &Gluing, group: usize, dir: Dir, joints: Vec<JointId>, parts: &[PartId]) -> GlueUp {
    let loose = joints.iter().any(|id| !model.joint(*id).loose.is_empty());
    GlueUp {
        group,
        stage: (1, 1),
        seconds: joints.len() as f64 * gluing.seconds,
        allowed: gluing.allowed_seconds(),
        clamps: clamps(model, dir, &joints, parts),
        diagonals: diagonals(model, dir, &joints, parts),
        swells: loose && find_glue(&gluing.family).is_some_and(|glue| glue.water),
        joints,
    }
}

/// How far parts reach along an axis, each in its box.
fn extent(model: &Model, parts: &[PartId], axis: usize, of: impl Fn(&Part) -> Block) -> f64 {
    let blocks = || parts.iter().map(|part| of(model.part(*part)));
    let low = blocks().map(|block| block.min[axis]).fold(f64::INFINITY, f64::min);
    let high = blocks().map(|block| block.max[axis]).fold(f64::NEG_INFINITY, f64::max);
    (high - low).max(0.0)
}

/// A clamp for each line of joints, and more along a joint that is long.
fn clamps(model: &Model, dir: Dir, joints: &[JointId], parts: &[PartId]) -> Vec<Clamp> {
    let mut lines: Vec<([f64; 2], usize)> = Vec::new();
    for id in joints {
        let joint = model.joint(*id);
        let (u, v) = ((dir.axis() + 1) % 3, (dir.axis() + 2) % 3);
        let at = [joint.contact.centre[u], joint.contact.centre[v]];
        let long = joint.contact.extent.max_element();
        let count = if long > SPACING { ((long - 2.0 * FROM_END) / SPACING).ceil().max(1.0) as usize + 1 } else { 1 };
        // Joints one behind the other share a clamp.
        let near = |line: &[f64; 2]| (line[0] - at[0]).abs() < FROM_END && (line[1] - at[1]).abs() < FROM_END;
        match lines.iter_mut().find(|(line, _)| near(line)) {
            Some((_, most)) => *most = (*most).max(count),
            None => lines.push((at, count)),
        }
    }
    let count = lines.iter().map(|(_, count)| count).sum();
    if count == 0 { Vec::new() } else { vec![Clamp { count, length: extent(model, parts, dir.axis(), Part::block) + CAULS, along: dir }] }
}

fn diagonals(model: &Model, dir: Dir, joints: &[JointId], parts: &[PartId]) -> Vec<Diagonal> {
    if joints.len() < 4 {
        return Vec::new();
    }
    // A rule is laid from shoulder to shoulder: tenons that stand out do not count, cut on or loose.
    let bodies: Vec<PartId> =
        parts.iter().copied().filter(|part| !matches!(model.part(*part).kind, PartKind::LooseTenon | PartKind::Dowel)).collect();
    let side = |dir: Dir| extent(model, &bodies, dir.axis(), Part::body);
    let a = side(dir);
    let others = [Dir::PlusX, Dir::PlusY, Dir::PlusZ].into_iter().filter(|other| other.axis() != dir.axis());
    others
        .map(|other| (other, side(other)))
        .filter(|(_, b)| a >= LEAST_SIDE && *b >= LEAST_SIDE)
        .map(|(other, b)| Diagonal {
            along: [dir, other],
            sides: [a, b],
            length: a.hypot(b),
            within: [*AIM_DIAGONALS.start(), *AIM_DIAGONALS.end()],
        })
        .collect()
}
