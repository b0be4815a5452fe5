//! The cuts of a filling, laid onto a board.

use super::super::sheet::{Place, Sheet};

/// One step of a filling: the whole first, then its near part, then its far part.
#[derive(Clone, Copy, Debug)]
pub(super) enum Step {
    Piece {
        kind: usize,
        turned: bool,
        size: [i64; 2],
    },
    /// A cut at this distance, with something on both sides of it.
    Joined {
        way: usize,
        at: i64,
    },
    /// A cut behind which nothing lies.
    Within {
        way: usize,
        size: i64,
    },
    /// A cut before which nothing lies.
    Behind {
        way: usize,
        skip: i64,
    },
}

/// What a board is filled with.
#[derive(Clone, Debug)]
pub(in super::super) struct Plan {
    pub(super) steps: Vec<Step>,
}

impl Plan {
    /// Lays it onto an empty board. `take` is asked for each piece whether there is one, and tells its area.
    pub fn lay(&self, sheet: &mut Sheet, take: &mut impl FnMut(usize) -> Option<f64>) {
        let mut steps = self.steps.iter();
        lay(sheet, 0, &mut steps, take);
        sheet.tidy();
    }
}

fn lay<'a>(sheet: &mut Sheet, node: u32, steps: &mut impl Iterator<Item = &'a Step>, take: &mut impl FnMut(usize) -> Option<f64>) {
    match steps.next() {
        Some(&Step::Piece { kind, turned, size }) => {
            if let Some(area) = take(kind) {
                sheet.put(&Place { node, turned, size, skip: [0, 0], way: 0 }, kind as u32, area);
            }
        }
        Some(&Step::Within { way, size }) => {
            let (near, _) = sheet.parted(node, way, size);
            lay(sheet, near, steps, take);
        }
        Some(&Step::Behind { way, skip }) => {
            let (_, far) = sheet.parted(node, way, skip);
            lay(sheet, far, steps, take);
        }
        Some(&Step::Joined { way, at }) => {
            let (near, far) = sheet.parted(node, way, at);
            lay(sheet, near, steps, take);
            lay(sheet, far, steps, take);
        }
        None => {}
    }
}
