//! Parts of which the figure is to go on from each to the next are cut in the order in which they stand.

use super::beside::{Sound, beside_each_other, in_other_order};
use super::in_sequence::in_sequence;
use super::rack::Rack;
use super::{Cutting, Marked, Piece};
use crate::design::Design;
use crate::model::{Model, PartId};
use crate::neighbours;

/// Of parts of one mark that stand side by side each is cut where its neighbours are: from sheet to sheet, along it and across, in the order in which they stand. What was placed by hand stays as
/// it is, and so does what is to come from one board with others. Those of several marks that lie beside each other are put in that order. Their words tell which of its row each is: `BP1, 2 of 4`.
pub(super) fn as_they_stand(design: &Design, model: &Model, racks: &[Rack<'_>], cutting: &mut Cutting) {
    let rows = neighbours::rows(design, model);
    let mut marks: Vec<&str> = rows.iter().flatten().map(|part| model.part(*part).mark.as_str()).collect();
    marks.sort_unstable();
    marks.dedup();
    let is_matched = |part: PartId| design.shop.matched.iter().flatten().any(|name| *name == model.part(part).name);
    for mark in marks {
        let in_order: Vec<PartId> =
            rows.iter().flatten().copied().filter(|part| model.part(*part).mark == mark && !is_matched(*part)).collect();
        let is_of = |piece: &&mut Piece| !piece.by_hand && piece.piece == 1 && in_order.contains(&piece.part);
        let mut pieces: Vec<(usize, &mut Piece)> = Vec::new();
        for (at, board) in cutting.boards.iter_mut().enumerate() {
            pieces.extend(board.pieces.iter_mut().filter(is_of).map(|piece| (at, piece)));
        }
        pieces.sort_by(|(at, a), (other, b)| at.cmp(other).then(a.x.total_cmp(&b.x)).then(a.y.total_cmp(&b.y)));
        let laid: Vec<PartId> = pieces.iter().map(|(_, piece)| piece.part).collect();
        let wanted = in_order.iter().filter(|part| laid.contains(part));
        for ((_, piece), part) in pieces.into_iter().zip(wanted) {
            piece.part = *part;
        }
    }
    for board in &mut cutting.boards {
        let Some((rack, usable)) = racks.iter().find_map(|rack| Some((rack, rack.entry(board.entry)?))) else { continue };
        let sound = Sound { whole: usable.area, flaws: &usable.flaws(false), kerfs: design.timber.kerfs(rack.sheets) };
        for row in &rows {
            put_in_order(board, row, &sound);
        }
    }
    in_sequence(design, model, racks, &rows, cutting);
    for piece in cutting.boards.iter_mut().flat_map(|board| &mut board.pieces).filter(|piece| piece.piece == 1) {
        let Some(row) = rows.iter().find(|row| row.contains(&piece.part)) else { continue };
        let nth = row.iter().position(|part| *part == piece.part).map_or(0, |at| at + 1);
        piece.words = format!("{}, {nth} of {}", model.part(piece.part).mark, row.len());
    }
}

/// Whether a piece is a part of a row that may be moved.
pub(super) fn may_move(piece: &Piece, row: &[PartId]) -> bool {
    !piece.by_hand && piece.piece == 1 && row.contains(&piece.part)
}

/// Puts pieces of a row that lie beside each other in the order in which they stand, from one end or the other, where the cuts that part them can follow.
fn put_in_order(board: &mut Marked, row: &[PartId], sound: &Sound<'_>) {
    for way in 0..2 {
        for run in beside_each_other(board, |piece| may_move(piece, row), way, sound.kerfs) {
            let place = |at: &usize| board.pieces.get(*at).and_then(|piece| row.iter().position(|part| *part == piece.part));
            let mut sorted = run.clone();
            sorted.sort_by_key(place);
            if sorted.iter().rev().eq(&run) {
                continue;
            }
            if let Some(ordered) = in_other_order(board, &run, &sorted, way, sound) {
                *board = ordered;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::around::Area;
    use super::super::{Cut, Direction};
    use super::*;
    use crate::design::Kerfs;

    /// A sheet of 900 × 400 with panels of 100, 120 and 150 across it that are 800 long, in that order, a saw cut of 3 apart; crosscut first.
    fn sheet() -> Marked {
        let piece = |part: usize, y: f64, width: f64| {
            let words = format!("PA{part}");
            Piece {
                part: PartId(part),
                with: Vec::new(),
                piece: 1,
                mark: words.clone(),
                words,
                x: 0.0,
                y,
                length: 800.0,
                width,
                more: [0.0; 2],
                turned: false,
                by_hand: false,
            }
        };
        let along = |at: f64| Cut { stage: 2, cut: Direction::Along, at, from: 0.0, to: 800.0 };
        Marked {
            entry: 0,
            number: 1,
            pieces: vec![piece(1, 0.0, 100.0), piece(2, 103.0, 120.0), piece(3, 226.0, 150.0)],
            cuts: vec![Cut { stage: 1, cut: Direction::Across, at: 800.0, from: 0.0, to: 400.0 }, along(100.0), along(223.0), along(376.0)],
        }
    }

    fn sound(flaws: &[Area]) -> Sound<'_> {
        Sound { whole: Area::new([0.0, 0.0], [900.0, 400.0]), flaws, kerfs: Kerfs { crosscut: 3.0, rip: 3.0 } }
    }

    /// By hand: where 3 stands between the others the sheet is ripped at 100, at 100 + 3 + 150 = 253, and at 376 as before; where 2 stands in the middle already, from either end, nothing moves.
    #[test]
    fn panels_beside_each_other_are_put_in_order() {
        let in_order = |row: &[usize]| {
            let mut board = sheet();
            put_in_order(&mut board, &row.iter().map(|part| PartId(*part)).collect::<Vec<_>>(), &sound(&[]));
            board
        };
        let board = in_order(&[1, 3, 2]);
        assert_eq!(board.pieces.iter().map(|piece| piece.y).collect::<Vec<_>>(), [0.0, 256.0, 103.0]);
        assert_eq!(board.cuts.iter().map(|cut| cut.at).collect::<Vec<_>>(), [800.0, 100.0, 253.0, 376.0]);
        assert_eq!(in_order(&[1, 2, 3]), sheet());
        assert_eq!(in_order(&[3, 2, 1]), sheet());
        // One that was put there by hand stays, and so do its neighbours.
        let mut held = sheet();
        held.pieces[1].by_hand = true;
        let as_held = held.clone();
        let row = [1, 3, 2].map(PartId);
        put_in_order(&mut held, &row, &sound(&[]));
        assert_eq!(held, as_held);
        // Nor does any come to lie on a flaw that lay where the saw went.
        let mut flawed = sheet();
        put_in_order(&mut flawed, &row, &sound(&[Area::new([400.0, 224.0], [50.0, 1.0])]));
        assert_eq!(flawed, sheet());
    }
}
