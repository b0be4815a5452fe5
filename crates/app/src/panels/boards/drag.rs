//! A piece taken in hand on the board plans: where it is held, where it snaps, and on which board it is let go.

use casewright_core::boards::{Piece, trims};
use casewright_core::design::Design;
use casewright_core::design::pile::Stuff;
use egui::{Pos2, Rect, vec2};

use super::plan::Plan;

/// Pixels within which a piece snaps to an edge or to its neighbour.
const SNAP: f32 = 7.0;

/// A board in the window, with what lies on it.
pub struct Target<'a> {
    /// What it is.
    pub stuff: &'a Stuff,
    /// Which of those alike, from 1.
    pub number: usize,
    /// How it is drawn.
    pub plan: Plan,
    /// What lies on it.
    pub pieces: &'a [Piece],
}

/// A piece in hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The piece as it lay.
    pub piece: Piece,
    /// Where on the piece it is held, mm from its first corner.
    pub grip: [f64; 2],
}

/// What a piece keeps from the edges and from its neighbours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Between pieces along the board, and across it, mm.
    pub kerf: [f64; 2],
    /// Off each end, mm.
    pub ends: f64,
    /// Off each edge, mm.
    pub edge: f64,
}

impl Room {
    /// As the design has it for a board.
    pub fn of(design: &Design, stuff: &Stuff) -> Room {
        let is_sheet = design.timber.timbers().sheet(&stuff.of).is_some();
        let (ends, edge) = trims(design, stuff);
        Room { kerf: design.timber.kerfs(is_sheet).by_way(), ends, edge }
    }
}

impl Held {
    /// Which of the boards it is over, and where it would lie there, mm: at an edge or beside a neighbour where it is near one.
    pub fn over<'t, 'a>(&self, targets: &'t [Target<'a>], room: impl Fn(&Stuff) -> Room, at: Pos2) -> Option<(&'t Target<'a>, [f64; 2])> {
        let target = targets.iter().find(|target| target.plan.rect.expand2(vec2(0.0, 8.0)).contains(at))?;
        let place = target.plan.place(at);
        let free = [place[0] - self.grip[0], place[1] - self.grip[1]];
        let board = [target.stuff.length.to_mm(), target.stuff.width.to_mm()];
        let others: Vec<&Piece> =
            target.pieces.iter().filter(|other| (other.part, other.piece) != (self.piece.part, self.piece.piece)).collect();
        let within = target.plan.mm(SNAP);
        Some((target, snapped(free, [self.piece.length, self.piece.width], board, &others, room(target.stuff), within)))
    }

    /// What it covers on a board at that place.
    pub fn area(&self, plan: &Plan, place: [f64; 2]) -> Rect {
        plan.area(place[0], place[1], self.piece.length, self.piece.width)
    }
}

/// The place nearest to `free` at which a piece of that size lies at an edge or a kerf from a neighbour, where that is within so many mm
/// along and across; else `free` itself, to a tenth of a millimetre. It stays within the edges where it goes between them.
fn snapped(free: [f64; 2], size: [f64; 2], board: [f64; 2], others: &[&Piece], room: Room, within: [f64; 2]) -> [f64; 2] {
    std::array::from_fn(|axis| {
        let off = if axis == 0 { room.ends } else { room.edge };
        let mut stops = vec![off, board[axis] - off - size[axis]];
        for other in others {
            let (from, long) = if axis == 0 { (other.x, other.length) } else { (other.y, other.width) };
            stops.extend([from + long + room.kerf[axis], from - room.kerf[axis] - size[axis], from]);
        }
        let free = free[axis].clamp(off.min(board[axis] - off - size[axis]), off.max(board[axis] - off - size[axis]));
        let near = stops.into_iter().min_by(|a, b| (a - free).abs().total_cmp(&(b - free).abs()));
        near.filter(|stop| (stop - free).abs() <= within[axis]).unwrap_or((free * 10.0).round() / 10.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use casewright_core::model::PartId;

    #[test]
    fn a_piece_snaps_to_an_edge_and_a_kerf_from_its_neighbour() {
        let room = Room { kerf: [3.0; 2], ends: 40.0, edge: 4.0 };
        let other = Piece {
            part: PartId(0),
            with: Vec::new(),
            piece: 1,
            mark: "R1".to_owned(),
            words: "R1".to_owned(),
            x: 40.0,
            y: 4.0,
            length: 600.0,
            width: 70.0,
            more: [0.0; 2],
            turned: false,
            by_hand: false,
        };
        let at = |free| snapped(free, [500.0, 60.0], [2400.0, 200.0], &[&other], room, [30.0, 12.0]);
        let near = |free: [f64; 2], wanted: [f64; 2], why: &str| {
            let found = at(free);
            assert!((0..2).all(|axis| (found[axis] - wanted[axis]).abs() < 1e-9), "{why}: {found:?} for {wanted:?}");
        };
        near([28.0, 10.0], [40.0, 4.0], "the corner");
        near([655.0, 9.0], [643.0, 4.0], "beyond the neighbour");
        near([45.0, 80.0], [40.0, 77.0], "above the neighbour");
        near([1875.0, 130.0], [1860.0, 136.0], "the far corner");
        near([1200.04, 105.0], [1200.0, 105.0], "near nothing");
        near([5000.0, -90.0], [1860.0, 4.0], "drawn over the end");
    }
}
