//! Taking the joinery apart: how far each part moves when every joint opens along its own direction.
//!
//! A joint opens along the way in which it closes, so each joint says, for one axis of the case, that its coming part
//! moves a step away from its receiving part, and for the other two axes that the two stay together. Round a frame these
//! wishes can't all be met exactly (a back with three panels needs more room than the rail across it), so the moves are
//! the best compromise in the sense of least squares, with opening far stronger than staying. Loose tenons go half way.

use glam::DVec3;

use crate::model::{Model, PartId};

/// Weight of staying together against weight 1 of opening.
const TOGETHER: f64 = 0.05;
/// A pull to the place, so that parts without a joint stay and the whole doesn't drift.
const HOME: f64 = 1e-4;

/// The move of every part for joints that open one step, in the case's axes; multiply by the step in mm.
pub fn moves(model: &Model) -> Vec<DVec3> {
    let count = model.parts.len();
    let springs: Vec<Spring> = model
        .joints
        .iter()
        .filter(|joint| joint.a != joint.b)
        .map(|joint| Spring { a: joint.a.0, b: joint.b.0, axis: joint.contact.into.axis(), step: joint.contact.into.sign() })
        .collect();
    let mut moves = vec![DVec3::ZERO; count];
    for axis in 0..3 {
        let along = solve(count, &springs, axis);
        for (of, value) in moves.iter_mut().zip(along) {
            of[axis] = value;
        }
    }
    for joint in &model.joints {
        let half = (moves[joint.a.0] + moves[joint.b.0]) / 2.0;
        for PartId(tenon) in &joint.loose {
            moves[*tenon] = half;
        }
    }
    moves
}

/// A joint as a spring between two parts.
struct Spring {
    a: usize,
    b: usize,
    axis: usize,
    step: f64,
}

impl Spring {
    fn weight(&self, axis: usize) -> f64 {
        if self.axis == axis { 1.0 } else { TOGETHER }
    }

    fn wish(&self, axis: usize) -> f64 {
        if self.axis == axis { self.step } else { 0.0 }
    }
}

/// Conjugate gradients on the springs along one axis: the normal equations are symmetric and positive definite.
fn solve(count: usize, springs: &[Spring], axis: usize) -> Vec<f64> {
    let apply = |x: &[f64]| {
        let mut out: Vec<f64> = x.iter().map(|value| HOME * value).collect();
        for spring in springs {
            let pull = spring.weight(axis) * (x[spring.b] - x[spring.a]);
            out[spring.b] += pull;
            out[spring.a] -= pull;
        }
        out
    };
    let mut rest = vec![0.0; count];
    for spring in springs {
        let pull = spring.weight(axis) * spring.wish(axis);
        rest[spring.b] += pull;
        rest[spring.a] -= pull;
    }
    let mut x = vec![0.0; count];
    let mut way = rest.clone();
    let mut left = dot(&rest, &rest);
    for _ in 0..4 * count.max(8) {
        if left < 1e-16 {
            break;
        }
        let pushed = apply(&way);
        let length = left / dot(&way, &pushed);
        for index in 0..count {
            x[index] += length * way[index];
            rest[index] -= length * pushed[index];
        }
        let next = dot(&rest, &rest);
        let turn = next / left;
        left = next;
        for index in 0..count {
            way[index] = rest[index] + turn * way[index];
        }
    }
    x
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
