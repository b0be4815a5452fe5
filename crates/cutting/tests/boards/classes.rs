//! The ten published classes of two-dimensional bins, drawn anew from their distributions, against bounds worked out here.
//!
//! Classes 1 to 6: J. O. Berkey and P. Y. Wang, "Two-dimensional finite bin-packing algorithms", Journal of the Operational Research Society 38
//! (1987). Classes 7 to 10: S. Martello and D. Vigo, "Exact solution of the two-dimensional finite bin packing problem", Management
//! Science 44 (1998).

use casewright_cutting::boards::{Cuts, Piece, Task};

use crate::made::{laid, panel, sheet, task};

/// A small generator of its own: Park and Miller's, Communications of the ACM 31 (1988).
struct Draw(u64);

impl Draw {
    fn between(&mut self, from: u32, to: u32) -> u32 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        from + (self.0 % u64::from(to - from + 1)) as u32
    }
}

/// Side of the bin, and the sizes of a number of pieces.
fn drawn(class: u32, count: usize, seed: u64) -> (u32, Vec<[u32; 2]>) {
    let mut draw = Draw(seed);
    if let Some((longest, side)) = [(10, 10), (10, 30), (35, 40), (35, 100), (100, 100), (100, 300)].get(class as usize - 1) {
        return (*side, (0..count).map(|_| [draw.between(1, *longest), draw.between(1, *longest)]).collect());
    }
    // Seven in ten are of the class's own type, one in ten of each other: wide, tall, large, small.
    let own = class - 7;
    let pieces = (0..count).map(|_| {
        let turn = draw.between(0, 9);
        let others: Vec<u32> = (0..4).filter(|&other| other != own).collect();
        let kind = others.get(turn as usize).copied().unwrap_or(own);
        match kind {
            0 => [draw.between(67, 100), draw.between(1, 50)],
            1 => [draw.between(1, 50), draw.between(67, 100)],
            2 => [draw.between(50, 100), draw.between(50, 100)],
            _ => [draw.between(1, 50), draw.between(1, 50)],
        }
    });
    (100, pieces.collect())
}

/// Bins needed at least: by area, and by area when what leaves less than a threshold takes its side whole and what is smaller
/// counts for nothing, both ways (a dual-feasible function of Fekete and Schepers). Without turning.
fn bound(side: u32, pieces: &[[u32; 2]]) -> usize {
    let rounded = |size: u32, threshold: u32| match size {
        size if size > side - threshold => side,
        size if size < threshold => 0,
        size => size,
    };
    let area = |along: u32, across: u32| -> u64 {
        pieces.iter().map(|piece| u64::from(rounded(piece[0], along)) * u64::from(rounded(piece[1], across))).sum()
    };
    let sheet = u64::from(side) * u64::from(side);
    let thresholds = || 0..=side / 2;
    let all = thresholds().flat_map(|along| thresholds().map(move |across| (along, across)));
    all.map(|(along, across)| area(along, across).div_ceil(sheet)).max().unwrap_or(0) as usize
}

fn asked(side: u32, pieces: &[[u32; 2]], turn: bool) -> Task {
    let pieces = pieces.iter().map(|piece| Piece { turn, ..panel(f64::from(piece[0]), f64::from(piece[1]), 1) }).collect();
    Task { stock: vec![sheet(f64::from(side), f64::from(side))], pieces, ..task(Cuts::Guillotine) }
}

#[test]
fn the_ten_classes_come_close_to_their_bounds() {
    let (mut bins, mut least, mut turned) = (0, 0, 0);
    for class in 1..=10 {
        for count in [20, 60] {
            let (side, pieces) = drawn(class, count, u64::from(class) * 1000 + count as u64);
            let bound = bound(side, &pieces);
            let layout = laid(&asked(side, &pieces, false), 30);
            assert!(layout.count >= bound, "class {class}, {count} pieces: {} bins under the bound of {bound}", layout.count);
            // Ours knows these functions too, and more.
            assert!(layout.bound as usize >= bound, "class {class}, {count} pieces: a bound of {}, {bound} is easy", layout.bound);
            bins += layout.count;
            least += bound;
            let free = laid(&asked(side, &pieces, true), 30);
            assert!(free.bound <= layout.bound + 1e-9, "turning never needs more");
            turned += free.count;
        }
    }
    // Published methods end some 2 % above such bounds over the classes.
    assert!(bins * 100 <= least * 103, "{bins} bins, {least} at the least");
    assert!(turned <= bins, "{turned} turned, {bins} not");
}
