//! What comes out of which board, and in how many pieces.

use super::*;

/// Every part of timber or sheet is on some board, in all its pieces, or told.
#[test]
fn the_demo_comes_out_of_its_pile() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    assert_eq!(cutting.told, Vec::<String>::new());
    assert_eq!(cutting.left, []);
    holds(&design, &cutting);
    let wanted = model.parts.iter().filter(|part| !matches!(part.material, Material::Bought(_)) && !comes_from_offcuts(part.kind));
    for part in wanted {
        let pieces: Vec<&Piece> =
            cutting.boards.iter().flat_map(|board| &board.pieces).filter(|piece| piece.parts().any(|one| one == part.id)).collect();
        assert!(!pieces.is_empty(), "{} is on no board", part.title);
        assert!((1..=pieces.len()).all(|nth| pieces.iter().any(|piece| piece.piece as usize == nth)), "{pieces:?}");
    }
}

/// Machines take nothing shorter than 300 (common practice, no source): buttons of 50 are milled several in one length, each part in one of them.
#[test]
fn what_is_too_short_for_the_machines_is_milled_in_lengths() {
    let (model, cutting) = cut_of(&demo());
    let pieces = || cutting.boards.iter().flat_map(|board| &board.pieces);
    let solid = |piece: &&Piece| matches!(model.part(piece.part).material, Material::Solid(_));
    let shortest = pieces().filter(solid).map(|piece| piece.length).fold(f64::INFINITY, f64::min);
    assert!(shortest >= 300.0, "{shortest}");
    let buttons: Vec<_> = model.parts.iter().filter(|part| part.kind == PartKind::Button).collect();
    assert!(!buttons.is_empty());
    for button in &buttons {
        assert_eq!(pieces().filter(|piece| piece.parts().any(|part| part == button.id)).count(), 1, "{}", button.title);
    }
    for piece in pieces().filter(|piece| !piece.with.is_empty()) {
        let each: f64 = piece.parts().map(|part| model.part(part).lwt().x + 3.2).sum();
        assert!(piece.length >= each, "{piece:?}: {each} with kerfs");
    }
}

/// What the cut list gives as rough is what is cut: as many pieces of each row, as long. By hand: the shelf of the bookcase on pins that is narrowest has a rail of 234, which with 25 is shorter
/// than the 300 that the machines take and is left 300 long; two of 234 in one length are 25 + 2 × 237.2 = 499.4.
#[test]
fn what_is_cut_is_as_long_as_the_cut_list_has_it() {
    let mut bookcase: Design = crate::design::text::read(include_str!("../../../../../examples/bookcase_on_pins.ron")).expect("an example");
    bookcase.shop.pile = demo().shop.pile.into_iter().map(|stuff| Stuff { count: 6, ..stuff }).collect();
    for stuff in bookcase.shop.pile.iter_mut().filter(|stuff| !is_sheet(stuff)) {
        stuff.of.clone_from(&bookcase.timber.frame);
    }
    let mut few = 0;
    for design in [demo(), bookcase] {
        let (model, cutting) = cut_of(&design);
        let pieces = || cutting.boards.iter().flat_map(|board| &board.pieces);
        for row in CutList::of(&design, &model).rows.iter().filter(|row| row.rough.is_some() && row.lippings == 0) {
            let of_row: Vec<&Piece> = pieces().filter(|piece| row.parts.contains(&piece.part)).collect();
            if comes_from_offcuts(row.kind) || of_row.is_empty() {
                continue;
            }
            let strips = of_row.iter().filter(|piece| piece.part == of_row[0].part).count();
            assert_eq!(of_row.len(), row.blanks() * strips, "{}", row.mark);
            assert!(
                of_row.iter().all(|piece| (piece.length - piece.more[0] - row.rough_size()[0]).abs() < 1e-9),
                "{}: {of_row:?}",
                row.mark
            );
            let [length, ..] = row.finished;
            let by_hand = match row.shares.first() {
                Some(1) => (length + 25.0).max(300.0),
                Some(several) => (25.0 + *several as f64 * (length + 3.2)).max(300.0),
                None => 0.0,
            };
            assert!((row.rough_size()[0] - by_hand).abs() < 1e-9, "{}: {:?} {by_hand}", row.mark, row.rough_size());
            few += usize::from(length + 25.0 < 300.0);
        }
    }
    assert!(few > 3, "{few}");
}

/// The top of 498 is wider than any board, and than the surface planer takes, 250: it is glued up from three strips that together are as wide, each with 6 more;
/// on a wider planer from two.
#[test]
fn a_wide_top_is_glued_up_from_strips() {
    let mut design = demo();
    for (planer, strips) in [(250.0, 3), (410.0, 2)] {
        let Machine { greatest_width, .. } =
            design.shop.machines.0.iter_mut().find(|machine| machine.does == MachineWork::Flatten).expect("a planer");
        *greatest_width = Length::mm(planer);
        let (model, cutting) = cut_of(&design);
        let top = model.find("top").expect("a top");
        let glued: Vec<&Piece> = cutting.boards.iter().flat_map(|board| &board.pieces).filter(|piece| piece.part == top.id).collect();
        assert_eq!(glued.len(), strips, "{glued:?}");
        let net: f64 = glued.iter().map(|strip| strip.width - strip.more[1] - 6.0).sum();
        assert!((net - top.lwt().y).abs() < 1e-6, "{net}");
        assert!(glued.iter().any(|strip| strip.words.contains(&format!("strip 1 of {strips}"))), "{glued:?}");
    }
}

/// What finds no place on the thinnest boards that do is cut from thicker ones.
#[test]
fn thicker_boards_serve_where_the_thin_ones_end() {
    let mut design = demo();
    let thin = |stuff: &Stuff| stuff.name.starts_with('D');
    let [keeps, goes] = ["D1", "D"];
    design.shop.pile.retain(|stuff| !stuff.name.starts_with(goes) || stuff.name == keeps);
    for stuff in design.shop.pile.iter_mut().filter(|stuff| stuff.name.starts_with('C')) {
        stuff.count = 3;
    }
    let (_, cutting) = cut_of(&design);
    holds(&design, &cutting);
    assert_eq!(cutting.left, []);
    let on = |is: &dyn Fn(&Stuff) -> bool| {
        let boards = cutting.boards.iter().filter(|board| is(&design.shop.pile[board.entry]));
        boards.flat_map(|board| &board.pieces).filter(|piece| piece.words.starts_with("SL")).count()
    };
    assert!(on(&thin) > 0 && on(&|stuff| !thin(stuff)) > 0);
}

/// What thinner boards have no room for comes after what thick ones are there for: of a wider case the posts still have the boards of 60, and it is told what comes
/// out of boards that are too thick.
#[test]
fn thick_boards_are_kept_for_thick_parts() {
    let mut design = demo();
    let all = [("carcase.width".to_owned(), "2400".to_owned())];
    assert!(crate::design::decisions::set_all(&mut design, &all).is_empty());
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    for post in model.parts.iter().filter(|part| part.kind == PartKind::Post) {
        assert!(cutting.boards.iter().flat_map(|board| &board.pieces).any(|piece| piece.part == post.id), "{}", post.title);
    }
    assert!(cutting.told.iter().any(|words| words.contains("no thinner boards are left")), "{:?}", cutting.told);
}

/// Three posts of 1481 out of a board of 2440: crosscut once and ripped three times, which leaves the rest in one piece 220 wide; by rips first it would be six cuts
/// and three narrow strips.
#[test]
fn a_board_is_cut_in_the_fewest_cuts_and_its_rest_left_whole() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    let posts = |board: &&Marked| board.pieces.len() == 3 && board.pieces.iter().all(|piece| model.part(piece.part).kind == PartKind::Post);
    let board = cutting.boards.iter().find(posts).expect("a board of three posts");
    assert_eq!(board.cuts.len(), 4, "{:?}", board.cuts);
    let left = offcuts(&design, &model, &cutting);
    let of_board = left.iter().filter(|offcut| (offcut.entry, offcut.number) == (board.entry, board.number) && offcut.useful);
    assert!(of_board.clone().any(|offcut| offcut.size[0] > 900.0 && offcut.size[1] > 200.0), "{:?}", of_board.collect::<Vec<_>>());
}

/// The band saw that rips takes 1.2, the saw that crosscuts 4.1, that for sheets 2.2: pieces lie apart by the cut that parts them, and the cuts free them.
#[test]
fn each_saw_takes_its_own() {
    let mut design = demo();
    let own = |mm: f64| crate::design::Ruled::Own(Length::mm(mm));
    let rough = &mut design.timber.rough;
    (rough.rip_kerf, rough.crosscut_kerf, rough.sheet_kerf) = (own(1.2), own(4.1), own(2.2));
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    assert_eq!(cutting.left, []);
    // Somewhere two lie just so far apart.
    let pile = &design.shop.pile;
    let gaps = |way: usize, of_sheet: bool| {
        let of = |board: &&Marked| is_sheet(&pile[board.entry]) == of_sheet;
        let sides = |piece: &Piece| [[piece.x, piece.x + piece.length], [piece.y, piece.y + piece.width]];
        // Of those that lie beside each other.
        let gap = |a: &Piece, b: &Piece| {
            let ([a, b], other) = ([sides(a), sides(b)], 1 - way);
            (a[other][0] < b[other][1] && b[other][0] < a[other][1]).then(|| b[way][0] - a[way][1]).filter(|gap| *gap > 0.0)
        };
        let between =
            |board: &Marked| board.pieces.iter().flat_map(|a| board.pieces.iter().filter_map(|b| gap(a, b))).fold(f64::INFINITY, f64::min);
        cutting.boards.iter().filter(of).map(between).fold(f64::INFINITY, f64::min)
    };
    for (way, of_sheet, kerf) in [(0, false, 4.1), (1, false, 1.2), (0, true, 2.2), (1, true, 2.2)] {
        assert!((gaps(way, of_sheet) - kerf).abs() < 1e-6, "{way} {of_sheet}: {}", gaps(way, of_sheet));
    }
    // Of what is milled in one length each is crosscut: 4.1 each time.
    let button = model.parts.iter().find(|part| part.kind == PartKind::Button).expect("a button").lwt().x;
    let several =
        cutting.boards.iter().flat_map(|board| &board.pieces).find(|piece| piece.words.starts_with("BT") && !piece.with.is_empty());
    let several = several.expect("buttons in one length");
    assert!(several.length >= several.parts().count() as f64 * (button + 4.1) - 1e-6, "{several:?}");
}

/// The strips of the top are in order, alternate strips turned over, and their widths make up the top.
#[test]
fn strips_are_told_with_their_boards_widths_and_rings() {
    let mut design = demo();
    let (model, cutting) = cut_of(&design);
    let all = glued_up(&design, &model, &cutting);
    let [top] = all.as_slice() else { panic!("only the top: {all:?}") };
    assert_eq!(top.strips.iter().map(|strip| (strip.piece, strip.turned_over)).collect::<Vec<_>>(), [(1, false), (2, true), (3, false)]);
    assert!((top.strips.iter().map(|strip| strip.width).sum::<f64>() - 498.0).abs() < 1e-6);
    design.timber.rough.rings = crate::design::Rings::Matched;
    assert!(glued_up(&design, &model, &cutting)[0].strips.iter().all(|strip| !strip.turned_over));
}
