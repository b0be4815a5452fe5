//! Good faces, colours, and what is to match.

use super::*;

fn names_of(design: &Design, cutting: &Cutting, parts: &[PartId]) -> Vec<(String, usize)> {
    let has = |board: &&Marked| board.pieces.iter().any(|piece| parts.contains(&piece.part));
    let mut names: Vec<_> =
        cutting.boards.iter().filter(has).map(|board| (design.shop.pile[board.entry].name.clone(), board.number)).collect();
    names.dedup();
    names
}

/// The strips of the top come from boards of one colour where colours are told; rails that are to match from one board; and where neither can be, it is told.
#[test]
fn what_is_to_match_comes_from_one_board_or_one_colour() {
    let mut design = demo();
    for (name, colour) in [("C1", "pale"), ("C2", "brown"), ("C3", "pale"), ("C4", "brown"), ("C5", "olive")] {
        design.shop.pile.iter_mut().find(|stuff| stuff.name == name).expect("on hand").colour = colour.to_owned();
    }
    design.shop.matched = vec![vec!["rail.front.top".to_owned(), "rail.front.bottom".to_owned()]];
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    assert_eq!((cutting.told.as_slice(), cutting.left.as_slice()), (&[] as &[String], &[] as &[Left]));
    let ids = |names: &[&str]| names.iter().filter_map(|name| model.find(name)).map(|part| part.id).collect::<Vec<_>>();
    assert_eq!(names_of(&design, &cutting, &ids(&["rail.front.top", "rail.front.bottom"])).len(), 1);
    let colour = |name: &str| design.shop.pile.iter().find(|stuff| stuff.name == name).expect("on hand").colour.clone();
    let mut colours: Vec<String> = names_of(&design, &cutting, &ids(&["top"])).iter().map(|(name, _)| colour(name)).collect();
    colours.dedup();
    assert_eq!(colours.len(), 1, "{colours:?}");
    for stuff in design.shop.pile.iter_mut().filter(|stuff| stuff.name.starts_with('C')) {
        (stuff.length, stuff.colour) = (Length::mm(1520.0), stuff.name.clone());
        stuff.width = Length::mm(200.0);
        stuff.flaws.clear();
    }
    let (_, cutting) = cut_of(&design);
    assert!(cutting.told.iter().any(|words| words.starts_with("T1 can't come from one board")), "{:?}", cutting.told);
}

/// Three brown boards and two white ones: the rails that are to match could come from a brown one, which the top then lacks; they come from a white one, and the top from the brown.
#[test]
fn one_set_leaves_the_other_what_it_needs() {
    let mut design = demo();
    for (name, colour) in [("C1", "brown"), ("C2", "white"), ("C3", "brown"), ("C4", "white"), ("C5", "brown")] {
        let stuff = design.shop.pile.iter_mut().find(|stuff| stuff.name == name).expect("on hand");
        (stuff.length, stuff.width, stuff.colour) = (Length::mm(1600.0), Length::mm(280.0), colour.to_owned());
        (stuff.ends, stuff.price) = (Length::mm(30.0), if colour == "brown" { 20.0 } else { 30.0 });
        stuff.flaws.clear();
    }
    design.shop.matched = vec![vec!["rail.front.top".to_owned(), "rail.front.bottom".to_owned()]];
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    assert!(!cutting.told.iter().any(|words| words.contains("can't come from")), "{:?}", cutting.told);
    let ids = |names: &[&str]| names.iter().filter_map(|name| model.find(name)).map(|part| part.id).collect::<Vec<_>>();
    assert_eq!(names_of(&design, &cutting, &ids(&["rail.front.top", "rail.front.bottom"])).len(), 1);
    let colour = |name: &str| design.shop.pile.iter().find(|stuff| stuff.name == name).expect("on hand").colour.clone();
    let top = names_of(&design, &cutting, &ids(&["top"]));
    assert!(top.len() > 1 && top.iter().all(|(name, _)| colour(name) == colour(&top[0].0)), "{top:?}");
}

/// Nothing that is seen comes from a board without a good face, nor lies over what may be hidden; what is not seen may.
#[test]
fn what_is_seen_has_the_good_faces() {
    let mut design = demo();
    for stuff in design.shop.pile.iter_mut().filter(|stuff| stuff.name.starts_with('D')) {
        let [x, y, length, width] = [0.0, 0.0, 3000.0, 60.0].map(Length::mm);
        stuff.flaws = vec![Flaw { x, y, length, width, what: "sapwood".to_owned(), hides: true }];
    }
    design.shop.pile.iter_mut().find(|stuff| stuff.name == "D4").expect("on hand").good = Good::Neither;
    let (model, cutting) = cut_of(&design);
    let seen = |piece: &&Piece| matches!(model.part(piece.part).kind, PartKind::Slat | PartKind::Post | PartKind::Top);
    let mut hidden = 0;
    for board in cutting.boards.iter().filter(|board| design.shop.pile[board.entry].name.starts_with('D')) {
        let stuff = &design.shop.pile[board.entry];
        assert!(stuff.good != Good::Neither || !board.pieces.iter().any(|piece| seen(&piece)), "{}", stuff.name);
        for piece in &board.pieces {
            let over = piece.y < 60.0 - 1e-6;
            assert!(!(over && seen(&piece)), "{piece:?}");
            hidden += usize::from(over);
        }
    }
    assert!(hidden > 0, "what is not seen lies on the sapwood");
}
