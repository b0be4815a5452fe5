//! Of the ways to cut the same pieces from a board, the one with the fewest cuts, and of these the one that leaves most in one piece.

use casewright_cutting::boards::{Cuts, Direction, Effort, Layout, Piece as Wanted, Task, lay};

use super::around::{Area, left_by};
use super::bench::Bench;
use super::rack::Usable;
use super::{Cut, Marked, Piece};
use crate::design::FirstCut;

/// Boards with more pieces stay as they were found.
const MOST: usize = 60;

/// How many cuts there are, and how large the largest rest is, mm².
#[derive(Clone, Copy, Debug, PartialEq)]
struct Tidiness(usize, f64);

impl Tidiness {
    fn is_better_than(self, other: Tidiness) -> bool {
        self.0 < other.0 || self.0 == other.0 && self.1 > other.1 + 1.0
    }
}

impl Bench<'_, '_> {
    /// The same pieces on the same board, in the tidiest way that is found quickly; the first cut as the maker decides. A board on which something was laid
    /// by hand, or that has flaws which may be hidden, stays as it is.
    pub(super) fn tidied(&self, board: Marked) -> Marked {
        let Some(usable) = self.rack.entry(board.entry) else { return board };
        let by_hand = board.pieces.iter().any(|piece| piece.by_hand);
        if by_hand || board.pieces.len() > MOST || usable.stuff.flaws.iter().any(|flaw| flaw.hides) {
            return board;
        }
        let first: &[Direction] = match self.design.timber.rough.first {
            FirstCut::Crosscut if !self.rack.sheets => &[Direction::Across],
            FirstCut::Rip if !self.rack.sheets => &[Direction::Along],
            FirstCut::Either | FirstCut::Crosscut | FirstCut::Rip => &[Direction::Across, Direction::Along],
        };
        let mut best = (self.tidiness(usable, &board.pieces, &board.cuts), board);
        for first in first {
            // With no cut left over for trimming, pieces of one length come off at one cut.
            for (stages, trimming) in self.stages().into_iter().flat_map(|stages| [(stages, false), (stages, true)]) {
                let layout = lay(&self.alone(usable, &best.1.pieces, (*first, stages, trimming)), Effort::rounds(1));
                let Some(other) = self.rearranged(usable, &best.1, &layout) else { continue };
                let tidiness = self.tidiness(usable, &other.pieces, &other.cuts);
                if tidiness.is_better_than(best.0) {
                    best = (tidiness, other);
                }
            }
        }
        best.1
    }

    /// In how many stages the rack's boards may be cut.
    fn stages(&self) -> Vec<Option<u8>> {
        let most = if self.rack.sheets { self.design.timber.rough.sheets.stages() } else { Some(3) };
        if most == Some(2) { vec![most] } else { vec![Some(2), most] }
    }

    fn tidiness(&self, usable: &Usable<'_>, pieces: &[Piece], cuts: &[Cut]) -> Tidiness {
        let areas: Vec<Area> = pieces.iter().map(|piece| Area::new([piece.x, piece.y], [piece.length, piece.width])).collect();
        let left = left_by(usable.area, cuts, self.kerfs());
        let free = left.iter().filter(|left| !areas.iter().any(|piece| piece.common(left).is_some()));
        Tidiness(cuts.len(), free.map(Area::measure).fold(0.0, f64::max))
    }

    /// The board by itself, each piece lying as it lies.
    fn alone(&self, usable: &Usable<'_>, pieces: &[Piece], (first, stages, trimming): (Direction, Option<u8>, bool)) -> Task {
        let more = self.more();
        let piece = |(at, piece): (usize, &Piece)| Wanted {
            id: at.to_string(),
            length: piece.length + more[0],
            width: Some(piece.width + more[1]),
            count: 1,
            turn: false,
            value: None,
        };
        Task {
            kerf: self.least_kerf(),
            trim: self.edge(),
            stock: vec![self.stock(usable, &usable.area, 1, 1.0, false)],
            pieces: pieces.iter().enumerate().map(piece).collect(),
            cuts: Cuts::Guillotine,
            stages,
            first: Some(first),
            trimming,
        }
    }

    /// The board as a layout has it; none where something finds no place.
    fn rearranged(&self, usable: &Usable<'_>, board: &Marked, layout: &Layout) -> Option<Marked> {
        let [used] = layout.used.as_slice() else { return None };
        let corner = usable.area.from.map(|at| at - self.edge());
        let placed = used.placed.iter().map(|placed| {
            let piece = board.pieces.get(placed.line)?;
            Some(Piece { x: placed.x + corner[0], y: placed.y + corner[1], ..piece.clone() })
        });
        let pieces: Vec<Piece> = placed.collect::<Option<_>>()?;
        let cuts = self.cuts(used, corner, 0).collect();
        (layout.unplaced.is_empty() && pieces.len() == board.pieces.len()).then_some(Marked { pieces, cuts, ..*board })
    }
}
