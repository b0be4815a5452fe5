//! The work of a frame: from the design to its findings, for the demo case.

use casewright_core::design::{self, Design};
use casewright_core::{CutList, Length, ShapeCache, derive, inspect};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

fn demo() -> Design {
    design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo is in range")
}

/// Nothing remembered: every solid is made.
#[divan::bench]
fn whole_frame_from_cold(bencher: Bencher) {
    let design = demo();
    bencher.bench_local(|| {
        let model = derive(&design).expect("the demo derives");
        let solids = ShapeCache::default().shape(&model);
        black_box(inspect(&design, &model, &solids))
    });
}

/// A drag of the width: what has not changed is remembered.
#[divan::bench]
fn whole_frame_while_dragging_width(bencher: Bencher) {
    let mut design = demo();
    let mut cache = ShapeCache::default();
    let mut step = 0;
    bencher.bench_local(|| {
        step = (step + 1) % 100;
        design.carcase.width = Length::mm(1360.0 + f64::from(step));
        let model = derive(&design).expect("the demo derives");
        let solids = cache.shape(&model);
        black_box(inspect(&design, &model, &solids))
    });
}

#[divan::bench]
fn derive_alone(bencher: Bencher) {
    let design = demo();
    bencher.bench_local(|| black_box(derive(&design)));
}

#[divan::bench]
fn cut_list_alone(bencher: Bencher) {
    let design = demo();
    let model = derive(&design).expect("the demo derives");
    bencher.bench_local(|| black_box(CutList::of(&design, &model)));
}
