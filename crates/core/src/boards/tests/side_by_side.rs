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

/// The demo with these sheets of 12, a line each, and its other boards.
fn with_sheets(sheets: &str) -> Design {
    let mut design = demo();
    let text = format!("Board,Species,Length,Width,Thickness,How many,Price,End checks,Flaws\n{sheets}");
    let listed = pile::read(&text, Bare::Mm);
    assert_eq!(listed.bad, []);
    design.shop.pile.retain(|stuff| stuff.of != "veneered_mdf_12");
    design.shop.pile.extend(listed.rows);
    design
}

fn back(design: &Design, model: &Model) -> Vec<PartId> {
    let rows = neighbours::rows(design, model);
    rows.into_iter().find(|row| row.iter().all(|part| model.part(*part).name.contains(".back"))).expect("panels of the back")
}

/// The place in the row of what lies after each other: from sheet to sheet, along it and across.
fn order_of(laid: &[Laid<'_>], row: &[PartId]) -> Vec<usize> {
    laid.iter().filter_map(|(.., part, _)| row.iter().position(|other| other == part)).collect()
}

const APART: &str = "do not follow each other";

/// By hand: 343 + 361 + 485 and two saw cuts are 1,195.4 of the 1,240 that a sheet of 1,250 leaves, and the four panels of 595 and three cuts 2,389.6 of 2,470: the panels of the back lie beside each
/// other in their order on a sheet at 70 and the others on one at 40, which is no more than any other way, in however many stages sheets are cut.
#[test]
fn panels_whose_figure_goes_on_lie_beside_each_other_where_that_costs_no_more() {
    for cuts in [crate::design::SheetCuts::Two, crate::design::SheetCuts::Three, crate::design::SheetCuts::Free] {
        let mut design =
            with_sheets("P0,veneered_mdf_12,1300,1250,12.75,1,70,0,\nP1,veneered_mdf_12,2500,620,12.8,2,40,0,500 100 60 60 dent\n");
        design.timber.rough.sheets = cuts;
        let (model, cutting) = cut_of(&design);
        holds(&design, &cutting);
        let row = back(&design, &model);
        let laid = laid_of(&cutting, &row);
        let order = order_of(&laid, &row);
        assert!(row.len() == 3 && (order == [0, 1, 2] || order == [2, 1, 0]), "{cuts:?} {laid:?}");
        let on_one_sheet = |two: &[Laid<'_>]| two[0].0 == two[1].0 && (two[0].1[0] - two[1].1[0]).abs() < 1e-6;
        assert!(laid.windows(2).all(on_one_sheet), "{cuts:?} {laid:?}");
        let kerf = design.timber.kerfs(true).rip;
        let board = &cutting.boards[laid[0].0];
        let ends: Vec<f64> = laid
            .iter()
            .filter_map(|laid| board.pieces.iter().find(|piece| piece.part == laid.2))
            .map(|piece| piece.y + piece.width)
            .collect();
        assert!(laid.iter().skip(1).zip(&ends).all(|(next, end)| (next.1[1] - end - kerf).abs() < 1e-6), "{cuts:?} {laid:?}");
        let sheets = cutting.groups.iter().find(|group| group.name.contains("12 mm core")).expect("sheets");
        assert!(sheets.boards == 2 && (sheets.cost - 110.0).abs() < 1e-6, "{sheets:?}");
        assert!(cutting.told.iter().all(|words| !words.contains(APART)), "{:?}", cutting.told);
    }
}

/// On sheets that hold no more than one or two of them they follow each other from sheet to sheet, equal ones exchanged for that; where each panel fits one sheet only, and these lie in another order,
/// nothing can be done, and it is told.
#[test]
fn panels_follow_each_other_from_sheet_to_sheet_or_it_is_told() {
    let design = with_sheets("P0,veneered_mdf_12,1300,900,12.75,1,70,0,\nP1,veneered_mdf_12,2500,520,12.75,2,40,0,\n");
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    let row = back(&design, &model);
    let order = order_of(&laid_of(&cutting, &row), &row);
    assert!(order.len() == 3 && (order.is_sorted() || order.iter().rev().is_sorted()), "{order:?}");
    assert!(cutting.told.iter().all(|words| !words.contains(APART)), "{:?}", cutting.told);
    let each = "B,veneered_mdf_12,1300,378,12.75,1,20,0,\nA,veneered_mdf_12,1300,504,12.75,1,20,0,\nC,veneered_mdf_12,1300,358,12.75,1,20,0,\n\
                D,veneered_mdf_12,2500,420,12.75,1,40,0,\n";
    let design = with_sheets(each);
    let (model, cutting) = cut_of(&design);
    assert_eq!(cutting.left, []);
    let marks: Vec<&str> = back(&design, &model).iter().map(|part| model.part(*part).mark.as_str()).collect();
    assert_eq!(
        cutting.told.iter().filter(|words| words.contains(APART) && words.starts_with(&marks.join(", "))).count(),
        1,
        "{:?}",
        cutting.told
    );
}
