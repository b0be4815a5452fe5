//! Tasks for tests.

use casewright_cutting::boards::{Cuts, Effort, Layout, Piece, Stock, Task, lay};

use crate::check::assert_sound;

pub fn task(cuts: Cuts) -> Task {
    Task { kerf: 0.0, trim: 0.0, stock: Vec::new(), pieces: Vec::new(), cuts, stages: None, first: None, trimming: false }
}

pub fn stick(length: f64) -> Stock {
    Stock { id: format!("L{length}"), length, width: None, count: None, cost: 1.0, defects: Vec::new() }
}

pub fn rail(length: f64, count: u32) -> Piece {
    Piece { id: format!("rail {length}"), length, width: None, count, turn: false, value: None }
}

/// Lays out, and checks what must be true of any layout.
pub fn laid(task: &Task, rounds: u64) -> Layout {
    let layout = lay(task, Effort::rounds(rounds));
    assert_sound(task, &layout);
    layout
}

pub fn sheet(length: f64, width: f64) -> Stock {
    Stock { width: Some(width), ..stick(length) }
}

pub fn panel(length: f64, width: f64, count: u32) -> Piece {
    Piece { id: format!("panel {length} × {width}"), width: Some(width), ..rail(length, count) }
}
