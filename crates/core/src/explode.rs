//! Taken apart, and put together again step by step: where every part is at any moment of an order of assembly.
//!
//! Time runs in steps: 0 is all apart, 1 is after the first step, and as many as there are steps is all together; it may be read forward or
//! backward. When all is apart nothing overlaps: each part or sub-assembly stands clear of what it goes onto, in the direction from which
//! it comes, and no farther than it takes.

use casewright_solid::Pose;
use glam::DVec3;

use crate::model::{Model, PartId};
use crate::sequence::{Leg, Move, Sequence};

/// Room between parts when all is apart, mm.
const GAP: f64 = 25.0;
/// A turn counts as a straight leg as long as this arm times its angle when a move is played, mm.
const ARM: f64 = 250.0;

impl Sequence {
    /// How far each part of a model of so many parts has left its place at a time: rigid motions in the axes of the case, a part each.
    ///
    /// A part that is brought nowhere, such as the one that all is built on or a locked one, stays where it is.
    pub fn positions(&self, parts: usize, time: f64) -> Vec<Pose> {
        let mut frames = vec![Pose::IDENTITY; parts];
        for (number, step) in self.steps.iter().enumerate() {
            let done = (time - number as f64).clamp(0.0, 1.0);
            if done >= 1.0 {
                continue;
            }
            for mv in &step.moves {
                let frame = mv.at(done);
                for PartId(part) in &mv.parts {
                    if let Some(of) = frames.get_mut(*part) {
                        *of = frame.then_of(of);
                    }
                }
            }
        }
        frames
    }

    /// The time when all is together.
    pub fn end(&self) -> f64 {
        self.steps.len() as f64
    }
}

impl Move {
    /// How far the parts are from their place when a share of the move is done, 0 to 1.
    fn at(&self, done: f64) -> Pose {
        // From the place back out, leg by leg.
        let back: Vec<Leg> = self
            .legs
            .iter()
            .enumerate()
            .rev()
            .map(|(index, leg)| match *leg {
                Leg::Straight { way } if index == 0 => Leg::Straight { way: -way.normalize_or_zero() * self.apart },
                leg => leg.reversed(),
            })
            .collect();
        let all: f64 = back.iter().map(long).sum();
        let mut left = all * (1.0 - done);
        let mut frame = Pose::IDENTITY;
        for leg in &back {
            let long = long(leg);
            if left <= 0.0 || long <= 0.0 {
                continue;
            }
            frame = leg.portion((left / long).min(1.0)).after(&frame);
            left -= long;
        }
        frame
    }
}

fn long(leg: &Leg) -> f64 {
    match *leg {
        Leg::Straight { way } => way.length(),
        Leg::Turn { angle, .. } => ARM * angle.abs(),
    }
}

/// A part when all is apart, relative to what it was put together with: the box around it.
struct Apart {
    frame: Pose,
    low: DVec3,
    high: DVec3,
}

/// Finds how far each move begins from the end of its first leg, so that nothing overlaps when all is apart.
pub(crate) fn set_apart(model: &Model, sequence: &mut Sequence) {
    let boxed = |part: usize, frame: Pose| {
        let (low, high) = frame.then_of(&model.parts[part].pose).bounds_of(model.parts[part].lwt());
        Apart { frame, low, high }
    };
    let mut apart: Vec<Apart> = (0..model.parts.len()).map(|part| boxed(part, Pose::IDENTITY)).collect();
    // What is put together with what.
    let glued = model.glued_up();
    let mut heap: Vec<usize> = model.parts.iter().map(|part| glued.root(part.id).0).collect();
    for step in &mut sequence.steps {
        for mv in &mut step.moves {
            let standing: Vec<usize> = (0..heap.len()).filter(|part| heap[*part] == heap[mv.onto.0]).collect();
            mv.apart = 0.0;
            let Some(Leg::Straight { way }) = mv.legs.first() else { continue };
            let out = -way.normalize_or_zero();
            let before = mv.at(0.0);
            let moved: Vec<Apart> = mv.parts.iter().map(|part| boxed(part.0, before.then_of(&apart[part.0].frame))).collect();
            mv.apart = clear(&moved, &standing, &apart, out);
            let frame = mv.at(0.0);
            let (from, to) = (heap[mv.parts[0].0], heap[mv.onto.0]);
            for part in &mv.parts {
                apart[part.0] = boxed(part.0, frame.then_of(&apart[part.0].frame));
            }
            heap.iter_mut().filter(|number| **number == from).for_each(|number| *number = to);
        }
    }
}

/// How far bodies must go along `out` to stand clear of all that stands.
fn clear(moved: &[Apart], standing: &[usize], apart: &[Apart], out: DVec3) -> f64 {
    let axis = out.abs().max_position();
    let mut far = 0.0_f64;
    loop {
        let mut next = far;
        for body in moved {
            let (low, high) = (body.low + out * far, body.high + out * far);
            for other in standing.iter().map(|part| &apart[*part]) {
                let common = high.min(other.high) - low.max(other.low);
                let mut near = common.min_element() > 0.0;
                // Along the way a gap is wanted besides.
                near |= common[axis] > -GAP && (0..3).filter(|side| *side != axis).all(|side| common[side] > 0.0);
                if near {
                    let past = if out[axis] > 0.0 { other.high[axis] - body.low[axis] } else { body.high[axis] - other.low[axis] };
                    next = next.max(past + GAP);
                }
            }
        }
        if next <= far + 1e-9 {
            return far;
        }
        far = next;
    }
}
