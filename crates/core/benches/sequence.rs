//! The order of assembly of the demo case, its solids made beforehand, and of longer cases to see how it grows.

use casewright_core::design::{self, Bay, BaySize, Design, Fitting, Opening, Shelves};
use casewright_core::{Length, Model, Sequence, ShapeCache, Solids, derive, sequence};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

fn demo() -> Design {
    design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo is in range")
}

fn worked_out(design: &Design) -> (Model, Solids) {
    let model = derive(design).expect("the case derives");
    let solids = ShapeCache::default().shape(&model);
    (model, solids)
}

/// Found and proved.
#[divan::bench]
fn order_of_the_demo(bencher: Bencher) {
    let design = demo();
    let (model, solids) = worked_out(&design);
    bencher.bench_local(|| black_box(Sequence::of(&design, &model, &solids)));
}

/// The proof alone.
#[divan::bench]
fn proof_of_the_demo(bencher: Bencher) {
    let design = demo();
    let (model, solids) = worked_out(&design);
    let found = Sequence::of(&design, &model, &solids);
    bencher.bench_local(|| black_box(sequence::verify(&model, &solids, &found)));
}

/// Bays side by side, each with three shelves.
#[divan::bench(args = [1, 2, 4, 8])]
fn order_by_bays(bencher: Bencher, bays: usize) {
    let mut design = demo();
    design.carcase.width = Length::mm(200.0 + 400.0 * bays as f64);
    if let Opening::Split(split) = &mut design.interior {
        let bay = Bay { size: BaySize::Share(1.0), opening: Opening::Leaf(Fitting::Sawtooth(Shelves { shelves: vec![8, 18, 28] })) };
        split.bays = vec![bay; bays];
    }
    let (model, solids) = worked_out(&design);
    bencher.bench_local(|| black_box(Sequence::of(&design, &model, &solids)));
}
