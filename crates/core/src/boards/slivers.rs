//! Cuts that take off less than is worth a cut are left out: solid parts are planed to their width and crosscut to their length after, whatever they have over.

use super::around::{Area, cut_through, way};
use super::{Cut, Marked};
use crate::design::Kerfs;

/// What is taken off with a cut must be so much at least, mm, the saw cut with it: less is a splinter beside a saw cut of some 3, and a plane takes it off as soon (common practice, no source).
const WORTH_IT: f64 = 5.0;
/// Ends and edges that are as near are one, mm.
const NEAR: f64 = 1e-3;

/// A cut that takes off too little: what is left of what it goes through, and whether what it would take off lies before that.
struct Needless {
    kept: Area,
    before: bool,
    off: f64,
}

/// The board without the cuts that take off too little: its pieces are as much longer or wider. What would come off must be sound, and none of the pieces gets more than too little.
pub(super) fn without_slivers(whole: Area, flaws: &[Area], kerfs: Kerfs, mut board: Marked) -> Marked {
    let mut at = 0;
    while let Some(cut) = board.cuts.get(at).copied() {
        match needless(whole, flaws, kerfs, (&board, at, &cut)) {
            Some(needless) => {
                board.cuts.remove(at);
                leave(&mut board, way(&cut), &needless);
            }
            None => at += 1,
        }
    }
    board
}

fn needless(whole: Area, flaws: &[Area], kerfs: Kerfs, (board, at, cut): (&Marked, usize, &Cut)) -> Option<Needless> {
    let mut left = vec![whole];
    for before in board.cuts.iter().take(at) {
        let _ = cut_through(&mut left, before, kerfs);
    }
    let (sawn, parts) = cut_through(&mut left, cut, kerfs)?;
    let areas = || board.pieces.iter().map(|piece| (piece, Area::new([piece.x, piece.y], [piece.length, piece.width])));
    let is_wanted = |part: &&Area| areas().any(|(_, piece)| piece.common(part).is_some());
    let wanted: Vec<&Area> = parts.iter().filter(is_wanted).collect();
    let [kept] = wanted.as_slice() else { return None };
    let (way, kept) = (way(cut), **kept);
    let off = sawn.size()[way] - kept.size()[way];
    let before = kept.from[way] > sawn.from[way] + NEAR;
    let mut sliver = sawn;
    if before {
        sliver.to[way] = kept.from[way];
    } else {
        sliver.from[way] = kept.to[way];
    }
    let too_much = areas().any(|(piece, area)| area.is_within(&kept) && piece.more[way] + off > WORTH_IT);
    let is_sound = !flaws.iter().any(|flaw| flaw.common(&sliver).is_some());
    (off > NEAR && off <= WORTH_IT && is_sound && !too_much).then_some(Needless { kept, before, off })
}

/// Leaves on the pieces what a cut would have taken off, and lets the cuts after it reach through that.
fn leave(board: &mut Marked, way: usize, Needless { kept, before, off }: &Needless) {
    let near = |a: f64, b: f64| (a - b).abs() < NEAR;
    let (end, off) = (if *before { kept.from[way] } else { kept.to[way] }, *off);
    for piece in &mut board.pieces {
        let area = Area::new([piece.x, piece.y], [piece.length, piece.width]);
        if !area.is_within(kept) || !near(if *before { area.from[way] } else { area.to[way] }, end) {
            continue;
        }
        let (from, size) = if way == 0 { (&mut piece.x, &mut piece.length) } else { (&mut piece.y, &mut piece.width) };
        *size += off;
        *from -= if *before { off } else { 0.0 };
        piece.more[way] += off;
    }
    for cut in &mut board.cuts {
        let within = cut.at > kept.from[1 - way] - NEAR && cut.at < kept.to[1 - way] + NEAR;
        if super::around::way(cut) == way || !within {
            continue;
        }
        if *before && near(cut.from, end) {
            cut.from -= off;
        } else if !*before && near(cut.to, end) {
            cut.to += off;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Direction, Piece};
    use super::*;
    use crate::model::PartId;

    const SAWS: Kerfs = Kerfs { crosscut: 3.2, rip: 3.2 };

    fn piece(nth: usize, [x, y, length, width]: [f64; 4]) -> Piece {
        let words = format!("B{nth}");
        Piece {
            part: PartId(nth),
            with: Vec::new(),
            piece: 1,
            mark: words.clone(),
            words,
            x,
            y,
            length,
            width,
            more: [0.0; 2],
            turned: false,
            by_hand: false,
        }
    }

    /// A board of 600 × 100, ripped into 70 and what is left, 26.8, that is trimmed to `width` and crosscut to 290 twice, and what is left of that, 13.6, off.
    fn ripped(width: f64) -> Marked {
        let cut = |stage: u32, cut: Direction, at: f64, from: f64, to: f64| Cut { stage, cut, at, from, to };
        let far = 73.2 + width;
        Marked {
            entry: 0,
            number: 1,
            pieces: vec![piece(1, [0.0, 0.0, 600.0, 70.0]), piece(2, [0.0, 73.2, 290.0, width]), piece(3, [293.2, 73.2, 290.0, width])],
            cuts: vec![
                cut(1, Direction::Along, 70.0, 0.0, 600.0),
                cut(2, Direction::Along, far, 0.0, 600.0),
                cut(3, Direction::Across, 290.0, 73.2, far),
                cut(3, Direction::Across, 583.2, 73.2, far),
            ],
        }
    }

    /// By hand: of 26.8 a saw at 25 takes 1.8 off, less than it cuts: it is not set for that, and both pieces are 26.8 wide. At 20 it takes 6.8 off and is; so it is where a knot lies in what comes off.
    #[test]
    fn what_is_too_little_is_left_on() {
        let whole = Area::new([0.0, 0.0], [600.0, 100.0]);
        let left = without_slivers(whole, &[], SAWS, ripped(25.0));
        assert_eq!(left.cuts.len(), 3);
        assert!(left.cuts.iter().skip(1).all(|cut| (cut.from, cut.to) == (73.2, 100.0)), "{:?}", left.cuts);
        for piece in left.pieces.iter().skip(1) {
            assert!((piece.width - 26.8).abs() < 1e-9 && (piece.more[1] - 1.8).abs() < 1e-9 && piece.more[0] == 0.0, "{piece:?}");
        }
        assert_eq!(left.pieces[0], ripped(25.0).pieces[0]);
        assert_eq!(without_slivers(whole, &[], SAWS, ripped(20.0)), ripped(20.0));
        let knot = [Area::new([400.0, 99.0], [20.0, 40.0])];
        assert_eq!(without_slivers(whole, &knot, SAWS, ripped(25.0)), ripped(25.0));
    }
}
