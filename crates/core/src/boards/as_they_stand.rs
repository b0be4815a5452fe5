//! Parts of which the figure is to go on from each to the next are cut in the order in which they stand.

use super::{Cutting, Piece};
use crate::design::Design;
use crate::model::{Model, PartId};
use crate::neighbours;

/// Of parts of one mark that stand side by side each is cut where its neighbours are: from sheet to sheet, along it and across, in the order in which they stand. What was placed by hand stays as
/// it is, and so does what is to come from one board with others. Their words tell which of its row each is: `BP1, 2 of 4`.
pub(super) fn as_they_stand(design: &Design, model: &Model, cutting: &mut Cutting) {
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
    for piece in cutting.boards.iter_mut().flat_map(|board| &mut board.pieces).filter(|piece| piece.piece == 1) {
        let Some(row) = rows.iter().find(|row| row.contains(&piece.part)) else { continue };
        let nth = row.iter().position(|part| *part == piece.part).map_or(0, |at| at + 1);
        piece.words = format!("{}, {nth} of {}", model.part(piece.part).mark, row.len());
    }
}
