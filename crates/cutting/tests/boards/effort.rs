//! How long the work goes on, and who is told.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicU64, Ordering};

use casewright_cutting::boards::{Cuts, Effort, Progress, Stock, Task, lay};

use crate::check::assert_sound;
use crate::made::{panel, rail, sheet, stick, task};

/// Sheets that can't be proven in a moment.
fn hard() -> Task {
    let pieces = (0..30_u32).map(|number| panel(f64::from(300 + number * 37 % 500), f64::from(200 + number * 53 % 400), 1)).collect();
    Task { kerf: 3.2, stock: vec![sheet(1500.0, 1000.0), Stock { cost: 0.7, ..sheet(1000.0, 1000.0) }], pieces, ..task(Cuts::Guillotine) }
}

#[test]
fn rounds_give_the_same_at_any_number_of_threads() {
    let effort = Effort { seed: 7, ..Effort::rounds(5) };
    let layout = lay(&hard(), effort);
    assert_sound(&hard(), &layout);
    for threads in [2, 3, 8] {
        assert_eq!(lay(&hard(), Effort { threads, ..effort }), layout, "{threads} threads");
    }
}

#[test]
fn whoever_watches_is_told_and_may_stop_at_any_time() {
    for stop in [1, 2, 5, 20] {
        let asked = AtomicU64::new(0);
        let watch = |progress: &Progress| {
            assert!(progress.cost.is_none_or(|cost| progress.bound <= cost + 1e-9));
            if asked.fetch_add(1, Ordering::Relaxed) >= stop { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        let layout = lay(&hard(), Effort { rounds: None, threads: 2, seed: 1, watch: &watch });
        assert_sound(&hard(), &layout);
        assert!(layout.unplaced.is_empty());
        assert!(asked.load(Ordering::Relaxed) <= stop + 4, "asked on after it said stop");
    }
}

#[test]
fn lengths_are_given_as_far_as_they_have_come() {
    let pieces = (0..40_u32).map(|number| rail(f64::from(311 + number * 71 % 700), 1 + number % 3)).collect();
    let task = Task { kerf: 3.2, stock: vec![stick(2440.0), Stock { cost: 0.8, ..stick(1900.0) }], pieces, ..task(Cuts::Lengths) };
    let stopped = lay(&task, Effort { rounds: None, threads: 1, seed: 1, watch: &|_| ControlFlow::Break(()) });
    assert_sound(&task, &stopped);
    assert!(stopped.unplaced.is_empty());
    let all = lay(&task, Effort::rounds(100));
    assert_sound(&task, &all);
    assert!(all.cost <= stopped.cost && all.bound >= stopped.bound);
}
