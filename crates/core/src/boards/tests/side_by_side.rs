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

/// Panels of a back that are of several widths and lie beside each other on a sheet lie there in the order in which they stand, from one end or the other, whatever the solver put first; all is still
/// cut edge to edge.
#[test]
fn panels_of_several_widths_lie_in_the_order_in_which_they_stand() {
    let mut found = 0;
    for width in ["1100", "1264", "1400", "1700", "2100"] {
        let mut design = demo();
        assert!(crate::design::decisions::set_all(&mut design, &[("carcase.width".to_owned(), width.to_owned())]).is_empty());
        let (model, cutting) = cut_of(&design);
        holds(&design, &cutting);
        for row in neighbours::rows(&design, &model) {
            let laid = laid_of(&cutting, &row);
            let in_line = |way: usize| laid.windows(2).all(|two| two[0].0 == two[1].0 && (two[0].1[way] - two[1].1[way]).abs() < 1e-6);
            if laid.len() == row.len() && laid.len() > 2 && (in_line(0) || in_line(1)) {
                let order: Vec<usize> = laid.iter().filter_map(|(.., part, _)| row.iter().position(|other| other == part)).collect();
                assert!(order.is_sorted() || order.iter().rev().is_sorted(), "{width}: {order:?} {laid:?}");
                found += 1;
            }
        }
    }
    assert!(found > 0);
}
