//! Glue-ups: how long, how many clamps of what length, and which diagonals tell that it is square.

use std::collections::HashSet;
use std::ops::RangeInclusive;

use glam::DVec3;

use super::GlueUp;
use crate::design::{Gluing, find_glue};
use crate::length::trimmed_to;
use crate::model::{Joint, JointId, Model, Part, PartId, PartKind};
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

impl Diagonal {
    /// By how much the two differ when one side has slipped by 1 mm along the second, mm (arithmetic: see [`diagonal_difference`]).
    pub fn slipped(&self) -> f64 {
        let [a, b] = self.sides;
        diagonal_difference(a, b, 1.0)
    }

    /// What to measure, and how much the two may differ.
    pub fn words(&self) -> String {
        let [a, b] = self.sides.map(|side| trimmed_to(side, 0));
        let [aim, most] = self.within.map(|mm| trimmed_to(mm, 1));
        format!(
            "square when both diagonals, from corner to opposite corner of {a} × {b}, are {} mm; measure both: the longer may be {most} mm longer than \
             the shorter at most, better no more than {aim} mm; a side that has slipped 1 mm along the {b} makes {} mm",
            trimmed_to(self.length, 1),
            trimmed_to(self.slipped(), 1)
        )
    }
}

/// By how much the diagonals of a case of a metre or so may differ, mm: 1/32 to 1/16 in (woodworkers' consensus on a forum, read).
pub const AIM_DIAGONALS: RangeInclusive<f64> = 0.8..=1.6;
/// Two cauls of 25 between part and jaws, mm (common practice, no source).
pub(super) const CAULS: f64 = 50.0;
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

/// What closes in one stage.
pub(super) struct Closing<'s> {
    /// The direction along which it closes.
    pub dir: Dir,
    /// The joints that close at each step.
    pub joints: &'s [Vec<JointId>],
    /// What stood together before.
    pub before: &'s [PartId],
    /// What stands together after, in the clamps.
    pub after: &'s [PartId],
}

/// One glue-up of a group.
pub(super) fn glue_up(model: &Model, gluing: &Gluing, group: usize, stage: (usize, usize), closing: &Closing<'_>) -> GlueUp {
    let (dir, joints) = (closing.dir, closing.joints.concat());
    let loose = joints.iter().any(|id| !model.joint(*id).loose.is_empty());
    let panels = closing.after.iter().any(|part| model.part(*part).kind == PartKind::Panel);
    let water = find_glue(&gluing.family).is_some_and(|glue| glue.water);
    GlueUp {
        group,
        stage,
        seconds: joints.len() as f64 * gluing.seconds,
        allowed: gluing.allowed_seconds(),
        clamps: clamps(model, dir, &joints, closing.after),
        diagonals: diagonals(model, closing),
        swells: water && loose,
        wets_panels: water && panels,
        closing: closing.joints.iter().map(Vec::len).collect(),
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

/// The diagonals of the rectangles that a stage closes: not those that were closed before, nor any where it leaves one side open.
fn diagonals(model: &Model, closing: &Closing<'_>) -> Vec<Diagonal> {
    let before = rectangles(model, closing.dir, closing.before);
    rectangles(model, closing.dir, closing.after).into_iter().filter(|closed| !before.contains(closed)).collect()
}

/// A part that is glued in at both of its ends.
struct Span {
    part: PartId,
    /// From the one shoulder to the other, mm.
    from: f64,
    to: f64,
    centre: DVec3,
    /// What it is glued to.
    ends: Vec<PartId>,
}

/// The rectangles of parts that stand together, one for each plane along `dir`: two parts that reach along it between the same two ends, side by side.
fn rectangles(model: &Model, dir: Dir, parts: &[PartId]) -> Vec<Diagonal> {
    let spans = spans(model, dir, parts);
    let others = [Dir::PlusX, Dir::PlusY, Dir::PlusZ].into_iter().filter(|other| other.axis() != dir.axis());
    others
        .filter_map(|other| {
            let third = 3 - dir.axis() - other.axis();
            let mut round: Vec<PartId> = Vec::new();
            for (index, a) in spans.iter().enumerate() {
                for b in &spans[index + 1..] {
                    let apart = (a.centre - b.centre).abs();
                    let beside = a.to.min(b.to) - a.from.max(b.from);
                    let same = beside > (a.to - a.from).max(b.to - b.from) / 2.0;
                    if same && apart[other.axis()] >= LEAST_SIDE && apart[third] < LEAST_SIDE {
                        round.extend([a.part, b.part].iter().chain(&a.ends).chain(&b.ends));
                    }
                }
            }
            // A rule is laid from shoulder to shoulder: tenons that stand out do not count, cut on or loose.
            let side = |dir: Dir| extent(model, &round, dir.axis(), Part::body);
            let sides = [side(dir), side(other)];
            let [a, b] = sides;
            (!round.is_empty() && a >= LEAST_SIDE && b >= LEAST_SIDE).then(|| Diagonal {
                along: [dir, other],
                sides,
                length: a.hypot(b),
                within: [*AIM_DIAGONALS.start(), *AIM_DIAGONALS.end()],
            })
        })
        .collect()
}

fn spans(model: &Model, dir: Dir, parts: &[PartId]) -> Vec<Span> {
    let stands: HashSet<PartId> = parts.iter().copied().collect();
    let axis = dir.axis();
    let span = |part: &PartId| {
        let ends = model
            .joints_of(*part)
            .filter(|joint| joint.glued && joint.a == *part && joint.contact.into.axis() == axis && stands.contains(&joint.b));
        let ends: Vec<&Joint> = ends.collect();
        let at = |positive: bool| {
            ends.iter().filter(move |joint| (joint.contact.into.sign() > 0.0) == positive).map(|joint| joint.contact.centre[axis])
        };
        let (from, to) = (at(false).reduce(f64::min)?, at(true).reduce(f64::max)?);
        Some(Span { part: *part, from, to, centre: model.part(*part).block().centre(), ends: ends.iter().map(|joint| joint.b).collect() })
    };
    parts.iter().filter_map(span).collect()
}
