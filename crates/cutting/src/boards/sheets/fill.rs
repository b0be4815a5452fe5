//! A whole board filled at once, by prices of the pieces: what the placing of one piece after another overlooks.
//!
//! ```text
//! room, wares ──raster──▶ sizes that cuts can come to ──joined──▶ the best of each size ──▶ Plan ──lay──▶ Sheet
//! ```
//!
//! The recursion of P. C. Gilmore and R. E. Gomory, "The theory and computation of knapsack functions", Operations Research 14 (1966): what
//! goes into a rectangle goes into the two that a cut makes of it. There are only so many of each piece, so each size keeps several
//! of its best fillings, which is as near as can be had quickly. Sizes are those that pieces side by side come to
//! (J. C. Herz, "Recursive computational procedure for two-dimensional stock cutting", IBM Journal of Research and Development 16, 1972).

mod around;
mod beam;
mod plan;

use super::super::ground::Board;
use super::fit::Rules;
use beam::Beam;
pub(super) use plan::Plan;

/// Sorts of pieces that are looked at together at most.
pub(super) const MOST_WARES: usize = 16;

/// Sizes of each way at most, and rectangles of them.
const MOST_SIZES: usize = 1_200;
const MOST_CELLS: usize = 12_000;

/// Pairs of rectangles that are joined at most.
const MOST_PAIRS: usize = 600_000;

/// A piece that may be taken.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ware {
    /// Which of the ground's kinds it is.
    pub kind: usize,
    pub size: [i64; 2],
    pub turn: bool,
    pub most: u8,
    pub price: f64,
}

/// A filling of a board that brings much, with the work that it took in joins; none where too much would have to be looked at, or nothing goes on.
pub(super) fn filled(board: &Board, wares: &[Ware], rules: &Rules) -> (Option<Plan>, u64) {
    let wares = &wares[..wares.len().min(MOST_WARES)];
    let raster = [0, 1].map(|way| raster(board.room[way], way, wares));
    let [Some(along), Some(across)] = raster else { return (None, MOST_SIZES as u64) };
    let cells = along.len() * across.len();
    if cells > MOST_CELLS || cells * (along.len() + across.len()) / 4 > MOST_PAIRS {
        return (None, MOST_SIZES as u64);
    }
    let mut beam = Beam::new([along, across], wares, rules);
    beam.run();
    let best = if board.defects.is_empty() { beam.whole(board.room) } else { around::best(&mut beam, board) };
    let plan = best.map(|best| beam.plan(best, wares));
    (plan, beam.work)
}

/// The sums of sizes one way that go into a room; none where they are too many.
fn raster(room: i64, way: usize, wares: &[Ware]) -> Option<Vec<i64>> {
    let mut sums = vec![0_i64];
    for ware in wares {
        let mut sizes = vec![ware.size[way]];
        if ware.turn {
            sizes.push(ware.size[1 - way]);
        }
        for _ in 0..ware.most {
            let before = sums.len();
            let more: Vec<i64> = sums.iter().flat_map(|sum| sizes.iter().map(move |size| sum + size)).filter(|&sum| sum <= room).collect();
            sums.extend(more);
            sums.sort_unstable();
            sums.dedup();
            if sums.len() == before {
                break;
            }
            if sums.len() > MOST_SIZES {
                return None;
            }
        }
    }
    sums.remove(0);
    (!sums.is_empty()).then_some(sums)
}
