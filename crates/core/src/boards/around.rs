//! A board with pieces that stay where they are: the cuts that free them, and what is left to lay the rest on.
//!
//! ```text
//! ┌───────────────────────┬──────────┐
//! │ free                  │          │   each cut goes from edge to edge of what the cuts before it left, and the
//! ├──────┬─────────┬──────┤   free   │   largest rectangle that can be cut off whole is cut off first
//! │ free │  stays  │ free │          │
//! └──────┴─────────┴──────┴──────────┘
//! ```

use casewright_cutting::boards::{Cut, Direction};

use crate::design::Kerfs;

/// A rectangle on a board by its nearest and farthest corner, mm from the untrimmed corner of the board: along it, and across.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub from: [f64; 2],
    pub to: [f64; 2],
}

/// What a bench can't tell, mm.
const TOUCH: f64 = 1e-6;
/// Ends of cuts that are as near are the same, mm.
const NEAR: f64 = 1e-3;

impl Area {
    /// From where it begins, and how far it goes.
    pub fn new([x, y]: [f64; 2], [length, width]: [f64; 2]) -> Area {
        Area { from: [x, y], to: [x + length, y + width] }
    }

    /// How long and how wide it is, mm.
    pub fn size(&self) -> [f64; 2] {
        [self.to[0] - self.from[0], self.to[1] - self.from[1]]
    }

    /// mm²; nothing where it goes backward.
    pub fn measure(&self) -> f64 {
        let [length, width] = self.size();
        length.max(0.0) * width.max(0.0)
    }

    /// The least area that has both in it.
    pub fn with(&self, other: &Area) -> Area {
        Area {
            from: [self.from[0].min(other.from[0]), self.from[1].min(other.from[1])],
            to: [self.to[0].max(other.to[0]), self.to[1].max(other.to[1])],
        }
    }

    /// What two have in common, where that is more than a touch.
    pub fn common(&self, other: &Area) -> Option<Area> {
        let common = Area {
            from: [self.from[0].max(other.from[0]), self.from[1].max(other.from[1])],
            to: [self.to[0].min(other.to[0]), self.to[1].min(other.to[1])],
        };
        common.size().iter().all(|size| *size > TOUCH).then_some(common)
    }

    /// Whether it lies within another.
    pub fn is_within(&self, other: &Area) -> bool {
        (0..2).all(|way| self.from[way] >= other.from[way] - TOUCH && self.to[way] <= other.to[way] + TOUCH)
    }

    /// Whether two are one, as near as a saw can tell.
    pub fn is_same(&self, other: &Area) -> bool {
        (0..2).all(|way| (self.from[way] - other.from[way]).abs() < NEAR && (self.to[way] - other.to[way]).abs() < NEAR)
    }

    /// Whether a cut goes through it from edge to edge.
    pub fn takes(&self, cut: &Cut, kerfs: Kerfs) -> bool {
        let way = way(cut);
        let kerf = kerfs.by_way()[way];
        let across = [self.from[1 - way] - cut.from, self.to[1 - way] - cut.to];
        across.iter().all(|off| off.abs() < NEAR) && cut.at + kerf > self.from[way] - NEAR && cut.at < self.to[way] + NEAR
    }

    /// Grown by a saw cut on every side.
    pub fn grown(&self, kerfs: Kerfs) -> Area {
        let by = kerfs.by_way();
        Area { from: [0, 1].map(|way| self.from[way] - by[way]), to: [0, 1].map(|way| self.to[way] + by[way]) }
    }
}

/// Along which way a cut has its place: along the board (0) or across it (1).
pub(super) fn way(cut: &Cut) -> usize {
    usize::from(cut.cut == Direction::Along)
}

/// What the cuts about some pieces leave.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Around {
    /// The cuts in their order.
    pub cuts: Vec<Cut>,
    /// What is left to lay the rest on, apart from the pieces and from each other by the kerf.
    pub free: Vec<Area>,
}

/// Cuts pieces out of an area of a board, from edge to edge of what is left each time; nothing where no such cuts do it.
pub(super) fn around(area: Area, pieces: &[Area], kerfs: Kerfs) -> Option<Around> {
    let mut around = Around::default();
    free(area, pieces, kerfs.by_way(), 1, &mut around).then_some(around)
}

/// The direction of a cut at a place along (0) or across (1) the board.
const CUTS: [Direction; 2] = [Direction::Across, Direction::Along];

fn cut(area: &Area, way: usize, at: f64, stage: u32) -> Cut {
    Cut { stage, cut: CUTS[way], at, from: area.from[1 - way], to: area.to[1 - way] }
}

/// An area with other ends one way.
fn part(area: &Area, way: usize, from: f64, to: f64) -> Area {
    let mut part = *area;
    (part.from[way], part.to[way]) = (from, to);
    part
}

fn free(area: Area, pieces: &[Area], kerf: [f64; 2], stage: u32, out: &mut Around) -> bool {
    let Some(hull) = pieces.iter().copied().reduce(|all, piece| all.with(&piece)) else {
        out.free.push(area);
        return true;
    };
    // What can be cut off beside all of them, with the rest and where the kerf is.
    let beside = (0..2).flat_map(|way| {
        let low = (
            part(&area, way, area.from[way], hull.from[way] - kerf[way]),
            part(&area, way, hull.from[way], area.to[way]),
            hull.from[way] - kerf[way],
        );
        let high = (part(&area, way, hull.to[way] + kerf[way], area.to[way]), part(&area, way, area.from[way], hull.to[way]), hull.to[way]);
        let gaps = [hull.from[way] - area.from[way], area.to[way] - hull.to[way]];
        [(way, low, gaps[0]), (way, high, gaps[1])]
    });
    let largest = beside.filter(|(.., gap)| *gap > TOUCH).max_by(|(_, a, _), (_, b, _)| a.0.measure().total_cmp(&b.0.measure()));
    if let Some((way, (off, rest, at), _)) = largest {
        out.cuts.push(cut(&area, way, at, stage));
        if off.measure() > 0.0 {
            out.free.push(off);
        }
        return free(rest, pieces, kerf, stage + 1, out);
    }
    if pieces.len() == 1 {
        return true;
    }
    let Some((way, gap)) = widest_gap(pieces, kerf) else { return false };
    let (low, high): (Vec<Area>, Vec<Area>) = pieces.iter().partition(|piece| piece.to[way] <= gap[0] + TOUCH);
    out.cuts.push(cut(&area, way, gap[0], stage));
    free(part(&area, way, area.from[way], gap[0]), &low, kerf, stage + 1, out)
        && free(part(&area, way, gap[0] + kerf[way], area.to[way]), &high, kerf, stage + 1, out)
}

/// Where a cut goes between pieces without touching any: the way, and from where to where there is none.
fn widest_gap(pieces: &[Area], kerf: [f64; 2]) -> Option<(usize, [f64; 2])> {
    let gaps = (0..2).flat_map(|way| {
        let mut sorted: Vec<&Area> = pieces.iter().collect();
        sorted.sort_by(|a, b| a.from[way].total_cmp(&b.from[way]));
        let mut reached = f64::NEG_INFINITY;
        let mut gaps = Vec::new();
        for piece in sorted {
            if reached.is_finite() && piece.from[way] - reached >= kerf[way] - TOUCH {
                gaps.push((way, [reached, piece.from[way]]));
            }
            reached = reached.max(piece.to[way]);
        }
        gaps
    });
    gaps.max_by(|(_, a), (_, b)| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))
}

/// What cuts leave of an area, made one after the other, each through what reaches from where it begins to where it ends.
pub(super) fn left_by(area: Area, cuts: &[Cut], kerfs: Kerfs) -> Vec<Area> {
    let mut left = vec![area];
    for cut in cuts {
        // One that goes through nothing that is left changes nothing.
        let _ = cut_through(&mut left, cut, kerfs);
    }
    left
}

/// Makes a cut through one of several areas. What it was, and what came of it; nothing where the cut goes through none.
pub(super) fn cut_through(left: &mut Vec<Area>, cut: &Cut, kerfs: Kerfs) -> Option<(Area, Vec<Area>)> {
    let way = way(cut);
    let kerf = kerfs.by_way()[way];
    let at = left.iter().position(|area| area.takes(cut, kerfs))?;
    let whole = left.swap_remove(at);
    let parts = [part(&whole, way, whole.from[way], cut.at), part(&whole, way, cut.at + kerf, whole.to[way])];
    let parts: Vec<Area> = parts.into_iter().filter(|area| area.size().into_iter().all(|size| size > NEAR)).collect();
    left.extend(&parts);
    Some((whole, parts))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SAWS: Kerfs = Kerfs { crosscut: 3.2, rip: 3.2 };

    fn area(x: f64, y: f64, length: f64, width: f64) -> Area {
        Area::new([x, y], [length, width])
    }

    /// Every piece and every free rectangle lies apart from all others by the kerf, and replaying the cuts leaves just these.
    fn holds(board: Area, pieces: &[Area], kerfs: Kerfs) {
        let Around { cuts, free } = around(board, pieces, kerfs).expect("it can be cut");
        let mut left = vec![board];
        for cut in &cuts {
            let (way, kerf) = (way(cut), kerfs.by_way()[way(cut)]);
            let over = |area: &Area| (area.from[1 - way] - cut.from).abs() < TOUCH && (area.to[1 - way] - cut.to).abs() < TOUCH;
            let at = left.iter().position(|area| over(area) && cut.at + kerf > area.from[way] && cut.at < area.to[way]);
            let cut_up = left.remove(at.expect("a cut goes from edge to edge of something that is left"));
            left.extend([part(&cut_up, way, cut_up.from[way], cut.at), part(&cut_up, way, cut.at + kerf, cut_up.to[way])]);
            left.retain(|area| area.measure() > 0.0);
        }
        for wanted in pieces.iter().chain(&free) {
            assert!(left.iter().any(|area| wanted.is_within(area) && area.is_within(wanted)), "{wanted:?} in {left:?}");
        }
        assert_eq!(left.len(), pieces.len() + free.len());
    }

    #[test]
    fn one_piece_leaves_the_largest_rectangles_whole() {
        let board = area(40.0, 5.0, 2920.0, 270.0);
        holds(board, &[area(400.0, 60.0, 1000.0, 80.0)], SAWS);
        let free = around(board, &[area(40.0, 5.0, 1000.0, 80.0)], SAWS).expect("it can be cut").free;
        assert_eq!(free, [area(40.0, 88.2, 2920.0, 186.8), area(1043.2, 5.0, 1916.8, 80.0)]);
    }

    /// The band saw that rips takes 1.2, the crosscut saw 3.2: each cut its own.
    #[test]
    fn each_saw_takes_its_own() {
        let saws = Kerfs { crosscut: 3.2, rip: 1.2 };
        let board = area(40.0, 5.0, 2920.0, 270.0);
        holds(board, &[area(400.0, 60.0, 1000.0, 80.0)], saws);
        let free = around(board, &[area(40.0, 5.0, 1000.0, 80.0)], saws).expect("it can be cut").free;
        assert_eq!(free, [area(40.0, 86.2, 2920.0, 188.8), area(1043.2, 5.0, 1916.8, 80.0)]);
    }

    #[test]
    fn several_pieces_are_cut_apart_and_a_pinwheel_is_not() {
        let board = area(0.0, 0.0, 1000.0, 300.0);
        holds(board, &[area(0.0, 0.0, 500.0, 100.0), area(0.0, 103.2, 400.0, 100.0), area(600.0, 50.0, 400.0, 100.0)], SAWS);
        holds(board, &[area(0.0, 0.0, 100.0, 300.0), area(103.2, 0.0, 100.0, 300.0)], SAWS);
        let pinwheel =
            [area(0.0, 0.0, 200.0, 100.0), area(210.0, 0.0, 100.0, 200.0), area(110.0, 210.0, 200.0, 90.0), area(0.0, 110.0, 100.0, 190.0)];
        assert_eq!(around(board, &pinwheel, SAWS), None);
        assert_eq!(around(board, &[area(0.0, 0.0, 200.0, 100.0), area(100.0, 50.0, 200.0, 100.0)], SAWS), None, "they overlap");
    }
}
