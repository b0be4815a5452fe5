//! The dry fit: every check, with the solids at hand. Aims: the demo under 4 ms, a wall of cases of 1,000 parts under 60 ms, and growth with
//! the number of parts no worse than n log n.

use casewright_core::design::edit::{self, Edit};
use casewright_core::design::{self, Design};
use casewright_core::model::{JointId, Model, PartId};
use casewright_core::{ShapeCache, Solids, derive, inspect};
use divan::{Bencher, black_box};
use glam::DVec3;

fn main() {
    divan::main();
}

fn demo() -> Design {
    design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo is in range")
}

/// The demo with two bays and so few shelves that it has about 125 parts.
fn small() -> Design {
    let mut design = demo();
    edit::apply(&mut design, &Edit::RemoveBay(1));
    for step in 0..7 {
        if derive(&design).expect("fewer shelves derive").parts.len() <= 125 {
            break;
        }
        edit::apply(&mut design, &Edit::RemoveShelf { bay: step % 2, shelf: 0 });
    }
    design
}

/// So many equal cases side by side, as one model.
fn wall(case: &Model, count: usize) -> Model {
    let step = case.bounds.map_or(0.0, |bounds| bounds.size().x);
    let mut wall = Model { name: case.name.clone(), ..Model::default() };
    for index in 0..count {
        let by = DVec3::X * step * index as f64;
        let (parts, joints) = (wall.parts.len(), wall.joints.len());
        let part_of = |part: PartId| PartId(part.0 + parts);
        let joint_of = |joint: JointId| JointId(joint.0 + joints);
        wall.parts.extend(case.parts.iter().cloned().map(|mut part| {
            part.id = part_of(part.id);
            part.pose.origin += by;
            part.cuts.iter_mut().for_each(|cut| cut.joint = cut.joint.map(joint_of));
            part
        }));
        wall.joints.extend(case.joints.iter().cloned().map(|mut joint| {
            joint.id = joint_of(joint.id);
            (joint.a, joint.b) = (part_of(joint.a), part_of(joint.b));
            joint.loose.iter_mut().for_each(|loose| *loose = part_of(*loose));
            joint.contact.centre += by;
            joint
        }));
        wall.rooms.extend(case.rooms.iter().cloned().map(|mut room| {
            room.space.min += by;
            room.space.max += by;
            room
        }));
    }
    wall
}

fn shaped(model: Model) -> (Model, Solids) {
    let solids = ShapeCache::default().shape(&model);
    (model, solids)
}

#[divan::bench]
fn demo_of_197_parts(bencher: Bencher) {
    let design = demo();
    let (model, solids) = shaped(derive(&design).expect("the demo derives"));
    bencher.bench_local(|| black_box(inspect(&design, &model, &solids)));
}

/// Cases of about 125 parts: 125, 250, 500, 1,000 and 2,000.
#[divan::bench(args = [1, 2, 4, 8, 16])]
fn wall_of_cases(bencher: Bencher, count: usize) {
    let design = small();
    let (model, solids) = shaped(wall(&derive(&design).expect("it derives"), count));
    bencher.bench_local(|| black_box(inspect(&design, &model, &solids)));
}
