//! Where everything stands: live while the case is dragged.

use casewright_core::contents::arrange::{Effort, ShelvesMay, arrange};
use casewright_core::contents::holds::Shelves;
use casewright_core::contents::propose::propose;
use casewright_core::derive;
use casewright_core::design::edit::{Edit, apply};
use casewright_core::design::{self, BoxKind, Design, decisions};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

fn demo() -> Design {
    design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo is in range")
}

/// A case of four bays, and 200 boxes of twelve kinds.
fn four_bays() -> Design {
    let mut design = demo();
    apply(&mut design, &Edit::AddBay);
    for (path, value) in [("carcase.width", "2600"), ("carcase.height", "1900")] {
        decisions::set(&mut design, path, value).expect("in range");
    }
    let kind = |index: u32| {
        let size = |least: u32, step: u32| f64::from(least + step * (index % 5));
        BoxKind::new(format!("kind {index}"), [size(70, 23), size(150, 40), size(60, 17)], 1.5, if index < 8 { 17 } else { 16 })
    };
    design.contents = (0..12).map(kind).collect();
    design
}

/// Every kind against every shelf and floor, once those are known.
#[divan::bench]
fn all_kinds_against_all_shelves(bencher: Bencher) {
    let design = demo();
    let model = derive(&design).expect("the demo derives");
    let shelves = Shelves::of(&design, &model);
    bencher.bench_local(|| design.contents.iter().map(|kind| black_box(shelves.take(kind)).len()).sum::<usize>());
}

/// 200 boxes into four bays whose shelves may move.
#[divan::bench]
fn arrange_200_boxes(bencher: Bencher) {
    let design = four_bays();
    let model = derive(&design).expect("the case derives");
    bencher.bench_local(|| black_box(arrange(&design, &model, ShelvesMay::Come, Effort::default())));
}

#[divan::bench(sample_count = 5)]
fn propose_a_case(bencher: Bencher) {
    let design = demo();
    bencher.bench_local(|| black_box(propose(&design, &|_| true)));
}
