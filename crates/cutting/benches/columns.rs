//! Things in rows, rows in columns. Aim: 200 things of 12 kinds in 4 columns that take them all, well under 50 ms.

use casewright_cutting::columns::{Column, Effort, Needs, Placement, Stack, Thing, place};
use divan::{Bencher, black_box};

fn main() {
    // Those are for the other bench.
    if !std::env::args().any(|argument| argument == "--sets") {
        divan::main();
    }
}

/// Twelve kinds of box, each upright, turned or two high where that goes, and 200 in all.
fn boxes() -> (Vec<Thing>, Vec<Stack>) {
    let mut things = Vec::new();
    let mut stacks = Vec::new();
    for kind in 0..12_u32 {
        let (width, height) = (110 + 23 * (kind * 5 % 12), 140 + 19 * (kind * 7 % 12));
        let mass = f64::from(width * height) / 1e4;
        things.push(Thing { id: kind, count: if kind < 8 { 17 } else { 16 }, worth: 1 });
        let mut way = |holds, width, height| {
            let needs = Needs { alone: height, bottom: height + 24, between: height + 30, top: height + 4 };
            stacks.push(Stack { thing: kind, holds, width, needs, mass, low: (mass > 10.0).then_some(1200) });
        };
        way(1, width, height);
        way(1, height, width);
        if 2 * height < 450 {
            way(2, width, 2 * height);
        }
    }
    (things, stacks)
}

/// Four columns of this height.
fn placed(height: u32, steps: u64) -> Placement {
    let (things, stacks) = boxes();
    let column =
        Column { width: 1050, height, most_mass: 60.0, bottom_mass: 60.0, empty: None, most_rows: None, cost: 1, count: Some(4), stacks };
    place(&things, &[column], Effort::steps(steps)).expect("the figures are sound")
}

#[divan::bench]
fn all_of_200_things(bencher: Bencher) {
    assert!(placed(3600, 0).left.is_empty());
    bencher.bench_local(|| black_box(placed(3600, 20_000_000)));
}

/// Columns too low for all, with the effort given to it.
#[divan::bench(sample_count = 10, args = [0, 1_000_000, 20_000_000])]
fn most_of_200_things(bencher: Bencher, steps: u64) {
    bencher.bench_local(|| black_box(placed(2400, steps)));
}
