//! The order played step by step.

use casewright_core::Model;
use casewright_solid::Pose;
use casewright_tests::Case;
use glam::DVec3;

use super::order_of;

fn boxes(model: &Model, frames: &[Pose]) -> Vec<(DVec3, DVec3)> {
    model.parts.iter().zip(frames).map(|(part, frame)| frame.then_of(&part.pose).bounds_of(part.lwt())).collect()
}

#[test]
fn played_to_the_end_all_is_together_and_at_the_start_nothing_overlaps() {
    let case = Case::with(&[]);
    let order = order_of(&case);
    let count = case.model.parts.len();
    assert!(order.positions(count, order.end()).iter().all(|frame| *frame == Pose::IDENTITY));
    let apart = boxes(&case.model, &order.positions(count, 0.0));
    for (index, a) in apart.iter().enumerate() {
        for (other, b) in apart.iter().enumerate().skip(index + 1) {
            let common = (a.1.min(b.1) - a.0.max(b.0)).min_element();
            assert!(common <= 1e-9, "{} and {}", case.model.parts[index].name, case.model.parts[other].name);
        }
    }
}

/// What has come together stays together, and nothing jumps, forward or backward.
#[test]
fn played_step_by_step_nothing_jumps() {
    let case = Case::with(&[]);
    let order = order_of(&case);
    let count = case.model.parts.len();
    let mut last = order.positions(count, 0.0);
    let ticks = order.steps.len() * 4;
    let farthest: f64 = order.steps.iter().flat_map(|step| &step.moves).map(|mv| mv.apart).fold(0.0, f64::max) + 3000.0;
    for tick in 1..=ticks {
        let now = order.positions(count, order.end() * tick as f64 / ticks as f64);
        let step = (tick - 1) / 4;
        let moving: Vec<usize> = order.steps[step].moves.iter().flat_map(|mv| mv.parts.iter().map(|part| part.0)).collect();
        for part in 0..count {
            let centre = case.model.parts[part].block().centre();
            let way = now[part].point(centre).distance(last[part].point(centre));
            assert!(way <= farthest, "{}", case.model.parts[part].name);
            if !moving.contains(&part) {
                assert!(way < 1e-6, "{} moves in step {step}, which is not its", case.model.parts[part].name);
            }
        }
        last = now;
    }
}
