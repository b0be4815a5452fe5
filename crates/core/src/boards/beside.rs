//! Pieces that lie beside each other on a board, a saw cut apart and ending alike, and the same board with them in another order: the cuts that part them follow.

use super::around::{Area, left_by, way};
use super::{Cut, Marked, Piece};
use crate::design::Kerfs;

/// Ends and edges that are as near are one, mm.
const NEAR: f64 = 1e-3;

/// Where on a board pieces may lie, and what the saws take.
pub(super) struct Sound<'s> {
    /// What its ends and edges leave.
    pub whole: Area,
    /// Where nothing may lie.
    pub flaws: &'s [Area],
    pub kerfs: Kerfs,
}

impl Sound<'_> {
    /// Whether the cuts leave each piece by itself, and none on a flaw.
    fn takes(&self, board: &Marked) -> bool {
        let whole = board.pieces.iter().fold(self.whole, |all, piece| all.with(&area(piece)));
        let left = left_by(whole, &board.cuts, self.kerfs);
        let is_by_itself = |piece: &Piece| left.iter().any(|left| left.is_same(&area(piece)));
        let is_sound = |piece: &Piece| !self.flaws.iter().any(|flaw| flaw.common(&area(piece)).is_some());
        board.pieces.iter().all(|piece| is_by_itself(piece) && (piece.by_hand || is_sound(piece)))
    }
}

fn area(piece: &Piece) -> Area {
    Area::new([piece.x, piece.y], [piece.length, piece.width])
}

/// Runs of two pieces or more, of those that are wanted, that lie beside each other along (0) or across (1) the board: their places among its pieces, as they follow each other.
pub(super) fn beside_each_other(board: &Marked, is_wanted: impl Fn(&Piece) -> bool, along: usize, kerfs: Kerfs) -> Vec<Vec<usize>> {
    let mut pieces: Vec<(usize, Area)> =
        board.pieces.iter().enumerate().filter(|(_, piece)| is_wanted(piece)).map(|(at, piece)| (at, area(piece))).collect();
    let near = |a: f64, b: f64| (a - b).abs() < NEAR;
    pieces.sort_by(|(_, a), (_, b)| a.from[1 - along].total_cmp(&b.from[1 - along]).then(a.from[along].total_cmp(&b.from[along])));
    let follows = |a: &Area, b: &Area| {
        let ends_alike = near(a.from[1 - along], b.from[1 - along]) && near(a.to[1 - along], b.to[1 - along]);
        ends_alike && near(b.from[along] - a.to[along], kerfs.by_way()[along])
    };
    let runs = pieces.chunk_by(|(_, a), (_, b)| follows(a, b));
    runs.filter(|run| run.len() > 1).map(|run| run.iter().map(|(at, _)| *at).collect()).collect()
}

/// The board with a run of pieces in another order; none where that is the order they have, or where its cuts would no longer free them all.
pub(super) fn in_other_order(board: &Marked, run: &[usize], other: &[usize], along: usize, sound: &Sound<'_>) -> Option<Marked> {
    if run == other {
        return None;
    }
    let areas: Vec<Area> = run.iter().filter_map(|at| board.pieces.get(*at)).map(area).collect();
    let (first, kerf) = (areas.first()?, sound.kerfs.by_way()[along]);
    let mut ordered = board.clone();
    let mut from = first.from[along];
    let mut ends = Vec::new();
    for at in other {
        let piece = ordered.pieces.get_mut(*at)?;
        let (begins, size) = if along == 0 { (&mut piece.x, piece.length) } else { (&mut piece.y, piece.width) };
        *begins = from;
        ends.push(from + size);
        from += size + kerf;
    }
    // The cut behind each but the last.
    for (was, is) in areas.iter().zip(&ends).take(run.len() - 1) {
        let parts = |cut: &Cut| {
            let over = cut.from <= first.from[1 - along] + NEAR && cut.to >= first.to[1 - along] - NEAR;
            way(cut) == along && over && (cut.at - was.to[along]).abs() < NEAR
        };
        let nth = board.cuts.iter().position(parts)?;
        ordered.cuts.get_mut(nth)?.at = *is;
    }
    sound.takes(&ordered).then_some(ordered)
}
