//! Orders of whole cases: found, and proved on the solids.

use casewright_core::design::{Bay, BaySize, Fitting, Opening, Shelves, Side};
use casewright_core::model::BuildStage;
use casewright_core::place::Dir;
use casewright_core::sequence::{Leg, Move, SLACK, verify};
use casewright_core::{Length, Model, Sequence, Solids};
use casewright_solid::{Pose, sweep, turn};
use casewright_tests::{Case, demo};
use glam::DMat3;
use proptest::prelude::*;

use super::{assert_whole, names, order_of};

#[test]
fn the_demo_goes_together_and_every_move_is_proved() {
    let case = Case::with(&[]);
    let order = order_of(&case);
    assert_whole(&case.model, &case.solids, &order);
    // Every part but the one that all is built on moves, and each step says what to do with what.
    let mut moved = vec![false; case.model.parts.len()];
    for step in &order.steps {
        assert!(step.words.len() > 12 && step.words.ends_with(|last: char| last.is_alphanumeric()), "{}", step.words);
        for mv in &step.moves {
            assert!(!mv.legs.is_empty());
            mv.parts.iter().for_each(|part| moved[part.0] = true);
        }
    }
    assert_eq!(moved.iter().filter(|moved| !**moved).count(), 1);
}

/// As a maker does: the side frames are glued by themselves, and then joined by what stands between them.
#[test]
fn the_side_frames_are_glued_before_the_carcase() {
    let case = Case::with(&[]);
    let order = order_of(&case);
    let group = |title: &str| order.groups.iter().position(|group| group.title == title);
    let (left, right, whole) = (group("left frame"), group("right frame"), group("carcase"));
    assert!(left.is_some() && right.is_some() && left < whole && right < whole, "{left:?} {right:?} {whole:?}");
    let (left, whole) = (&order.groups[left.expect("it is there")], &order.groups[whole.expect("it is there")]);
    let mut parts: Vec<_> = names(&case.model, &left.parts).into_iter().filter(|name| !name.contains("tenon")).collect();
    parts.sort_unstable();
    assert_eq!(
        parts,
        ["panel.left.1", "panel.left.2", "post.back.left", "post.front.left", "rail.left.bottom", "rail.left.middle.1", "rail.left.top"]
    );
    assert_eq!(whole.closes.map(Dir::axis), Some(0));
    // What comes after glue-up comes after.
    let step_of = |name: &str| {
        let id = case.model.find(name).expect("a part").id;
        order.steps.iter().rposition(|step| step.moves.iter().any(|mv| mv.parts.contains(&id))).expect("it moves")
    };
    assert!(step_of("top") >= whole.steps.end);
    assert!(step_of("floor.2") < step_of("top"));
    assert!(step_of("cleat.1.1.left") < step_of("slat.1.1.1"));
    assert!(step_of("top") < step_of("button.1"));
}

/// Walks the steps from the last to the first with the solids alone: what a step brought leaves again, past all that stood when it came.
fn assert_comes_apart(model: &Model, solids: &Solids, order: &Sequence) {
    let mut heap: Vec<usize> = (0..model.parts.len()).collect();
    let mut stood = Vec::new();
    for mv in order.steps.iter().flat_map(|step| &step.moves) {
        let (from, to) = (heap[mv.parts[0].0], heap[mv.onto.0]);
        stood.push((0..heap.len()).filter(|part| heap[*part] == to).collect::<Vec<_>>());
        heap.iter_mut().filter(|number| **number == from).for_each(|number| *number = to);
    }
    let moves: Vec<&Move> = order.steps.iter().flat_map(|step| &step.moves).collect();
    for (mv, stood) in moves.into_iter().zip(&stood).rev() {
        for part in &mv.parts {
            let mut pose = model.part(*part).pose;
            for leg in mv.legs.iter().rev() {
                for other in stood.iter().map(|other| &model.parts[*other]) {
                    let (Some(own), Some(against)) = (solids.cells(*part), solids.cells(other.id)) else { continue };
                    let hit = match leg.reversed() {
                        Leg::Straight { way } => sweep(own, &pose, way, against, &other.pose, SLACK),
                        Leg::Turn { pivot, axis, angle } => turn(own, &pose, pivot, axis.vector(), angle, against, &other.pose, SLACK),
                    };
                    assert!(hit.is_none(), "{} meets {} on its way out: {hit:?}", model.part(*part).name, other.name);
                }
                pose = match leg.reversed() {
                    Leg::Straight { way } => Pose { origin: pose.origin + way, ..pose },
                    Leg::Turn { pivot, axis, angle } => {
                        let basis = DMat3::from_axis_angle(axis.vector(), angle);
                        Pose { basis, origin: pivot - basis * pivot }.then_of(&pose)
                    }
                };
            }
        }
    }
}

#[test]
fn the_order_read_backward_takes_the_demo_apart() {
    let case = Case::with(&[]);
    assert_comes_apart(&case.model, &case.solids, &order_of(&case));
}

/// Random cases of the family, of other sizes, bays, frames and shelves.
fn cases() -> impl Strategy<Value = casewright_core::Design> {
    let bays = proptest::collection::vec(proptest::collection::btree_set(2u32..26, 0..4), 1..5);
    (bays, 0u32..3, any::<[bool; 4]>(), 0.0f64..=1.0, 0.0f64..=1.0, 0.0f64..=1.0).prop_map(|(bays, middle, open, width, height, depth)| {
        let mut design = demo();
        design.carcase.width = Length::mm(300.0 * bays.len() as f64 + 200.0 + 400.0 * width);
        design.carcase.height = Length::mm(1200.0 + 400.0 * height);
        design.carcase.depth = Length::mm(420.0 + 120.0 * depth);
        // So wide that three lie side by side in the least of these depths.
        design.sawtooth.slats.width = Length::mm(118.0);
        for (side, open) in [(&mut design.carcase.left, open[0]), (&mut design.carcase.right, open[1])] {
            match side {
                Side::Frame(frame) => frame.middle_rails = middle,
                Side::Open => {}
            }
            if open {
                *side = Side::Open;
            }
        }
        if let Side::Frame(frame) = &mut design.carcase.back {
            frame.middle_rails = u32::from(open[2]);
        }
        if open[3] {
            design.carcase.top = casewright_core::design::Top::Open;
        }
        if let Opening::Split(split) = &mut design.interior {
            split.bays = bays
                .into_iter()
                .map(|shelves| {
                    let fitting = if shelves.is_empty() {
                        Fitting::Empty
                    } else {
                        // Shelves far enough apart that none lies in another.
                        let mut teeth: Vec<u32> = shelves.into_iter().collect();
                        teeth.dedup_by(|next, last| *next < *last + 5);
                        Fitting::Sawtooth(Shelves { shelves: teeth })
                    };
                    Bay { size: BaySize::Share(1.0), opening: Opening::Leaf(fitting) }
                })
                .collect();
        }
        design
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, rng_seed: proptest::test_runner::RngSeed::Fixed(41), failure_persistence: None, max_shrink_iters: 8, ..ProptestConfig::default() })]

    /// Whatever the case: the steps that are given are proved, a part is either placed or told as locked, and read backward they take it apart.
    #[test]
    fn any_case_of_the_family_gets_a_proved_order(design in cases()) {
        if let Ok(case) = Case::of(design) {
            let order = order_of(&case);
            prop_assert_eq!(verify(&case.model, &case.solids, &order), []);
            assert_comes_apart(&case.model, &case.solids, &order);
            // All that is glued goes together; what lies in the bays may find no room to be tipped in, and is told.
            for locked in &order.locked {
                for part in &locked.parts {
                    prop_assert!(case.model.part(*part).stage != BuildStage::GlueUp, "{}", case.model.part(*part).name);
                }
                prop_assert!(!locked.blocked_by.is_empty());
            }
        }
    }
}

// --- Models put together by hand ---
