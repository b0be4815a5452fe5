//! What is placed by hand.

use super::*;

#[test]
fn what_is_placed_by_hand_stays_and_the_rest_is_laid_around_it() {
    let mut design = demo();
    for placed in
        [by_hand("rail.front.top", "C1", 900.0, 100.0), by_hand("rail.front.bottom", "C2", 40.0, 130.0), by_hand("top", "C3", 700.0, 31.0)]
    {
        put(&mut design, placed);
    }
    put(&mut design, Placed { piece: 2, ..by_hand("top", "C4", 500.0, 40.0) });
    put(&mut design, Placed { number: 2, ..by_hand("slat.1.1.1", "D4", 500.0, 40.0) });
    let (model, cutting) = cut_of(&design);
    assert_eq!((cutting.told.as_slice(), cutting.left.as_slice()), (&[] as &[String], &[] as &[Left]));
    holds(&design, &cutting);
    for placed in &design.shop.placed {
        let is_it = |board: &&Marked| design.shop.pile[board.entry].name == placed.board && board.number == placed.number as usize;
        let board = cutting.boards.iter().find(is_it).expect("its board is cut");
        let part = model.find(&placed.part).expect("the part");
        let piece = board.pieces.iter().find(|piece| piece.part == part.id && piece.piece == placed.piece).expect("the piece is there");
        assert!(piece.by_hand && (piece.x - placed.x.to_mm()).abs() < 1e-9 && (piece.y - placed.y.to_mm()).abs() < 1e-9, "{piece:?}");
    }
    let beside = |board: &&Marked| board.pieces.iter().any(|piece| piece.by_hand) && board.pieces.iter().any(|piece| !piece.by_hand);
    assert!(cutting.boards.iter().filter(beside).count() >= 2, "the rest is laid around them");
}

/// A place where a piece can't lie is told, and the piece laid elsewhere; one over a flaw stays, and is told.
#[test]
fn a_place_that_does_not_do_is_told() {
    let told = |placed: &[Placed], why: &str| {
        let mut design = demo();
        for placed in placed {
            put(&mut design, placed.clone());
        }
        let (model, cutting) = cut_of(&design);
        holds(&design, &cutting);
        assert!(matches!(cutting.told.as_slice(), [words] if words.contains(why)), "{why}: {:?}", cutting.told);
        assert_eq!(cutting.left, [], "{why}");
        let part = model.find(&placed[0].part);
        part.is_some_and(|part| cutting.boards.iter().flat_map(|board| &board.pieces).any(|piece| piece.part == part.id && piece.by_hand))
    };
    let rail = |board, x, y| by_hand("rail.front.top", board, x, y);
    assert!(!told(&[rail("C1", 2200.0, 100.0)], "reaches beyond it"));
    assert!(!told(&[rail("Z9", 100.0, 100.0)], "no board that can be used is called so"));
    assert!(!told(&[rail("P1", 100.0, 100.0)], "does not come out of"));
    assert!(!told(&[rail("D1", 100.0, 100.0)], "does not come out of"));
    assert!(!told(&[Placed { turned: true, ..rail("C1", 100.0, 100.0) }], "grain would lie across"));
    assert!(!told(&[Placed { number: 2, ..rail("C1", 100.0, 100.0) }], "there are 1 of it"));
    assert!(!told(&[Placed { piece: 2, ..rail("C1", 100.0, 100.0) }], "it has no piece 2"));
    assert!(!told(&[by_hand("rail.front.attic", "C1", 100.0, 100.0)], "no such part"));
    assert!(told(&[rail("C1", 100.0, 100.0), by_hand("rail.front.bottom", "C1", 200.0, 150.0)], "nearer than a saw cut"));
    assert!(told(&[rail("C2", 1000.0, 60.0)], "flaw 1 (knot)"));
    assert!(told(&[rail("C1", 10.0, 100.0)], "end or edge"));
}
