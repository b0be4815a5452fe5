//! The sums of a board done by hand: n pieces, n − 1 kerfs, two trims.

use approx::assert_abs_diff_eq;
use casewright_cutting::boards::{Cuts, Layout, Task};

use crate::made::{laid, rail, stick, task};

fn on_the_board(length: f64, count: u32) -> Layout {
    laid(&Task { kerf: 3.2, trim: 15.0, stock: vec![stick(2440.0)], pieces: vec![rail(length, count)], ..task(Cuts::Lengths) }, 1)
}

/// What the pieces, their kerfs and both trims take.
fn taken(layout: &Layout, length: f64) -> f64 {
    layout.used[0].placed.iter().map(|placed| placed.x + length).fold(0.0, f64::max) + 15.0
}

#[test]
fn three_of_720_take_2196_4() {
    let layout = on_the_board(720.0, 3);
    assert_eq!(layout.count, 1);
    assert_abs_diff_eq!(taken(&layout, 720.0), 2196.4, epsilon = 1e-6);
}

#[test]
fn four_of_590_take_2399_6() {
    let layout = on_the_board(590.0, 4);
    assert_eq!(layout.count, 1);
    assert_abs_diff_eq!(taken(&layout, 590.0), 2399.6, epsilon = 1e-6);
}

#[test]
fn four_of_600_take_2439_6_and_fit() {
    let layout = on_the_board(600.0, 4);
    assert_eq!(layout.count, 1);
    assert_abs_diff_eq!(taken(&layout, 600.0), 2439.6, epsilon = 1e-6);
    // The fourth is freed by a cut of which 0.4 is left to be sawn.
    assert_eq!(layout.used[0].cuts.len(), 4);
}

#[test]
fn four_of_601_would_take_2443_6_and_need_a_second_board() {
    let layout = on_the_board(601.0, 4);
    assert_eq!(layout.count, 2);
    assert!(layout.proven);
}

#[test]
fn what_ends_with_the_board_needs_no_cut() {
    let task = Task { kerf: 3.0, stock: vec![stick(203.0)], pieces: vec![rail(100.0, 2)], ..task(Cuts::Lengths) };
    let layout = laid(&task, 1);
    assert_eq!(layout.count, 1);
    assert_eq!(layout.used[0].cuts.len(), 1);
}

#[test]
fn thirds_of_a_length_fill_it() {
    // 3 × 0.1 is not 0.3 in floats; in the shop it is.
    let layout = laid(&Task { stock: vec![stick(0.3)], pieces: vec![rail(0.1, 3)], ..task(Cuts::Lengths) }, 1);
    assert_eq!(layout.count, 1);
}
