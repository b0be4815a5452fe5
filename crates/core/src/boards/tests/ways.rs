//! Which boards come first, and from how many strips: where another way than the plain one costs less, or leaves less without a place.

use super::*;
use crate::design::dealer;
use crate::design::shop::State;

fn pile_of(rows: &str) -> Design {
    let mut design = demo();
    let sheets = design.shop.pile.iter().filter(|stuff| is_sheet(stuff)).cloned().collect::<Vec<_>>();
    let listed = pile::read(&format!("Board,Species,Length,Width,Thickness,How many,Price,End checks,leaves\n{rows}"), Bare::Mm);
    assert_eq!(listed.bad, []);
    design.shop.pile = listed.rows.into_iter().chain(sheets).collect();
    design
}

/// The pieces of boards of an entry of that name, by what they are called.
fn on<'c>(design: &Design, cutting: &'c Cutting, name: &str) -> Vec<&'c str> {
    let of = cutting.boards.iter().filter(|board| design.shop.pile[board.entry].name == name);
    of.flat_map(|board| board.pieces.iter().map(|piece| piece.words.as_str())).collect()
}

const REST: &str = "A1,white_ash,2500,230,60,2,62,30,\nB1,white_ash,3050,260,52,1,68,40,\nC1,white_ash,3000,280,34,4,46,40,\n";

/// Leaves of 20.5 are thinner than what comes out of boards of 27, and cost a quarter more: nobody resaws for that.
#[test]
fn nothing_is_resawn_while_boards_that_cost_less_do_as_they_are() {
    let design = pile_of(&format!("{REST}R50,white_ash,1450,200,50,6,50,30,2\nD1,white_ash,3050,290,27,6,36,40,"));
    let (_, cutting) = cut_of(&design);
    holds(&design, &cutting);
    assert_eq!(cutting.left, []);
    assert_eq!(on(&design, &cutting, "R50"), [""; 0]);
}

/// 3 mm more to plane off cost less than a board eight times as dear.
#[test]
fn thicker_boards_are_taken_and_bought_where_they_cost_less() {
    let design = pile_of(&format!("{REST}D0,white_ash,3000,280,27,9,300,40,\nD1,white_ash,3050,290,31,9,36,40,"));
    let (_, cutting) = cut_of(&design);
    assert_eq!(on(&design, &cutting, "D0"), [""; 0], "{:?}", cutting.groups);
    assert_eq!(cutting.left, []);
    let mut design = design;
    let sold = "Name,Species,Length,Width,Thickness,Price,Per\nA1,white_ash,2500,230,60,62,piece\nB1,white_ash,3050,260,52,68,piece\nC1,white_ash,3000,280,34,46,piece\nD0,white_ash,3000,280,27,300,piece\nD1,white_ash,3050,290,31,36,piece\n";
    let offers = dealer::read(sold, Bare::Mm).rows;
    design.shop.pile.retain(is_sheet);
    let model = crate::derive(&design).expect("the demo");
    let bought = buy(&design, &model, &offers, Effort::rounds(1));
    let names: Vec<&str> = bought.lines.iter().map(|line| line.name.as_str()).collect();
    assert!(names.contains(&"D1") && !names.contains(&"D0"), "{names:?}");
}

/// A board that is wider than the others, or a scrap of one, does not decide the strips of a top that the others give.
#[test]
fn one_wide_board_does_not_decide_the_strips() {
    let narrow = "A1,white_ash,2500,230,60,2,62,30,\nB1,white_ash,3050,260,52,1,68,40,\nC1,white_ash,3000,180,34,8,36,40,\nD1,white_ash,3050,290,27,6,36,40,\n";
    for wide in ["", "C9,white_ash,1800,220,34,1,36,40,", "C9,white_ash,800,220,34,1,36,40,"] {
        let design = pile_of(&format!("{narrow}{wide}"));
        let (_, cutting) = cut_of(&design);
        holds(&design, &cutting);
        assert_eq!(cutting.left, [], "{wide}");
        assert!(cutting.strips.get("T1").is_some_and(|strips| *strips >= 4), "{wide}: {:?}", cutting.strips);
    }
}

/// With only thick boards on hand, and too few: what wants them comes first, not slats for which 40 of 60 mm are planed off.
#[test]
fn thick_boards_are_for_what_wants_them() {
    let design = pile_of("A1,white_ash,2500,230,60,2,62,30,\nA2,white_ash,2500,100,60,1,30,30,");
    let (_, cutting) = cut_of(&design);
    holds(&design, &cutting);
    let left: Vec<&str> = cutting.left.iter().map(|left| left.mark.as_str()).collect();
    for mark in ["P1", "P2", "P3", "P4"] {
        assert!(!left.contains(&mark), "{left:?}");
    }
}

/// What is sawn out of the rough already stands in no layout.
#[test]
fn what_is_cut_already_is_not_laid_out_again() {
    let mut design = demo();
    let model = crate::derive(&design).expect("the demo");
    for name in ["rail.front.bottom", "post.front.left"] {
        assert!(model.find(name).is_some());
        crate::design::shop::set_state(&mut design, name, State::Cut).expect("a part of it");
    }
    let (model, cutting) = cut_of(&design);
    let marks: Vec<&str> =
        cutting.boards.iter().flat_map(|board| &board.pieces).map(|piece| model.part(piece.part).mark.as_str()).collect();
    assert!(!marks.contains(&"R1") && !marks.contains(&"P1") && marks.contains(&"R3") && marks.contains(&"P2"), "{marks:?}");
}
