//! Panels that stand side by side.

use super::*;
use crate::neighbours;

/// Each piece that is one of a row: the board, where it begins on it, the part and its words.
type Laid<'c> = (usize, [f64; 2], PartId, &'c str);

fn laid_of<'c>(cutting: &'c Cutting, row: &[PartId]) -> Vec<Laid<'c>> {
    let boards = cutting.boards.iter().enumerate();
    let all =
        boards.flat_map(|(at, board)| board.pieces.iter().map(move |piece| (at, [piece.x, piece.y], piece.part, piece.words.as_str())));
    let mut laid: Vec<Laid<'_>> = all.filter(|(.., part, _)| row.contains(part)).collect();
    laid.sort_by(|a, b| a.0.cmp(&b.0).then(a.1[0].total_cmp(&b.1[0])).then(a.1[1].total_cmp(&b.1[1])));
    laid
}

/// Panels that stand side by side are cut in the order in which they stand, so that the figure goes on: on each sheet, along it and then across, the same mark is told as 1, 2, 3 of its row. Each is
/// still cut once.
#[test]
fn panels_in_a_row_are_cut_as_they_stand() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    let rows = neighbours::rows(&design, &model);
    assert!(!rows.is_empty());
    for row in &rows {
        let laid = laid_of(&cutting, row);
        assert_eq!(laid.len(), row.len(), "{laid:?}");
        let place = |part: &PartId| row.iter().position(|other| other == part).expect("in the row");
        for (.., part, words) in &laid {
            assert_eq!(*words, format!("{}, {} of {}", model.part(*part).mark, place(part) + 1, row.len()));
        }
        for mark in row.iter().map(|part| &model.part(*part).mark) {
            let of_mark = laid.iter().filter(|(.., part, _)| &model.part(*part).mark == mark);
            let order: Vec<usize> = of_mark.map(|(.., part, _)| place(part)).collect();
            assert!(order.is_sorted(), "{mark}: {order:?}");
        }
    }
    let list = CutList::of(&design, &model);
    let panel = list.rows.iter().find(|row| row.kind == PartKind::Panel && row.title.contains("ack")).expect("a back panel");
    let told = |words: &&String| words.contains("from left to right") && words.contains(&panel.mark) && words.contains("board plans");
    assert_eq!(panel.notes.iter().filter(told).count(), 1, "{:?}", panel.notes);
}

/// What is to come from one sheet with others still does, and what was put somewhere by hand stays; both are told by their place in the row.
#[test]
fn panels_that_are_held_keep_their_place() {
    let mut design = demo();
    let (model, _) = cut_of(&design);
    let rows = neighbours::rows(&design, &model);
    let row = rows.iter().find(|row| row.len() > 2).expect("three or more in a row");
    let name = |part: PartId| model.part(part).name.clone();
    let (first, last) = (row[0], row[row.len() - 1]);
    put(&mut design, by_hand(&name(last), "P1", 20.0, 20.0));
    let (model, cutting) = cut_of(&design);
    let laid = laid_of(&cutting, row);
    let held = laid.iter().find(|(.., part, _)| *part == last).expect("it is cut");
    assert_eq!((held.1, held.3), ([20.0, 20.0], format!("{}, {} of {}", model.part(last).mark, row.len(), row.len()).as_str()));
    design.shop.placed.clear();
    design.shop.matched = vec![vec![name(first), name(last)]];
    let (_, cutting) = cut_of(&design);
    let board = |part: PartId| laid_of(&cutting, row).iter().find(|(.., other, _)| *other == part).map(|laid| laid.0);
    assert!(board(first).is_some() && board(first) == board(last), "{:?}", laid_of(&cutting, row));
}
