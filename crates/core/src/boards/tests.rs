use super::*;
use crate::design::dealer::{self, Offer};
use crate::design::pile::{self, Flaw, Good, Stuff};
use crate::design::placed::{Placed, put};
use crate::design::{FirstCut, Machine, MachineWork};
use crate::length::Length;
use crate::table::Bare;

fn demo() -> Design {
    let mut design: Design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
    let listed = pile::read(include_str!("../../../../examples/pile.csv"), Bare::Mm);
    assert_eq!(listed.bad, []);
    design.shop.pile = listed.rows;
    design
}

fn is_sheet(stuff: &Stuff) -> bool {
    crate::timber::sheet_goods().iter().any(|sheet| sheet.id == stuff.of)
}

fn cut_of(design: &Design) -> (Model, Cutting) {
    let model = crate::derive(design).expect("the demo");
    let cutting = cut(design, &model, Effort::rounds(1));
    (model, cutting)
}

fn by_hand(part: &str, board: &str, x: f64, y: f64) -> Placed {
    let [x, y] = [x, y].map(Length::mm);
    Placed { part: part.to_owned(), piece: 1, board: board.to_owned(), number: 1, x, y, turned: false }
}

/// What must hold of any cutting: pieces lie on their boards, clear of flaws and ends and apart by the kerf, unless the maker put them there; none is cut
/// twice; and the cuts, made one after the other from edge to edge of what is left, leave each piece by itself at its size.
fn holds(design: &Design, cutting: &Cutting) {
    let mut seen = Vec::new();
    for board in &cutting.boards {
        let stuff = &design.shop.pile[board.entry];
        let kerfs = design.timber.kerfs(is_sheet(stuff)).by_way();
        let trim = if stuff.trimmed { [0.0; 2] } else { [design.timber.sticks.trim.to_mm(), design.timber.rough.edge.to_mm()] };
        let (ends, edge) = (trim[0].max(stuff.ends.to_mm()), trim[1]);
        let (length, width) = (stuff.length.to_mm(), stuff.width.to_mm());
        let rect = |piece: &Piece| [piece.x, piece.y, piece.x + piece.length, piece.y + piece.width];
        let apart = |a: [f64; 4], b: [f64; 4], by: [f64; 2]| {
            (0..2).any(|way| a[way + 2] + by[way] <= b[way] + 1e-6 || b[way + 2] + by[way] <= a[way] + 1e-6)
        };
        for (at, piece) in board.pieces.iter().enumerate() {
            assert!(!seen.contains(&(piece.part, piece.piece)), "{piece:?} is cut twice");
            seen.push((piece.part, piece.piece));
            let [x, y, far, high] = rect(piece);
            let (ends, edge) = if piece.by_hand { (0.0, 0.0) } else { (ends, edge) };
            assert!(x >= ends - 1e-6 && far <= length - ends + 1e-6 && y >= edge - 1e-6 && high <= width - edge + 1e-6, "{piece:?}");
            for other in &board.pieces[at + 1..] {
                assert!(apart(rect(piece), rect(other), kerfs), "{piece:?} {other:?}");
            }
            for Flaw { x, y, length, width, .. } in &stuff.flaws {
                let [x, y, length, width] = [x, y, length, width].map(|length| length.to_mm());
                assert!(piece.by_hand || apart(rect(piece), [x, y, x + length, y + width], [0.0; 2]), "{piece:?}");
            }
        }
        let hull = board.pieces.iter().map(rect).fold([ends, edge, length - ends, width - edge], |all, one| {
            [all[0].min(one[0]), all[1].min(one[1]), all[2].max(one[2]), all[3].max(one[3])]
        });
        let mut left = vec![hull];
        for cut in &board.cuts {
            let way = usize::from(cut.cut == Direction::Along);
            let kerf = kerfs[way];
            let over = |rect: &[f64; 4]| (rect[1 - way] - cut.from).abs() < 1e-4 && (rect[3 - way] - cut.to).abs() < 1e-4;
            let into = |rect: &[f64; 4]| cut.at + kerf > rect[way] - 1e-6 && cut.at < rect[way + 2] + 1e-6;
            let at = left.iter().position(|rect| over(rect) && into(rect)).unwrap_or_else(|| panic!("{}: {cut:?} in {left:?}", stuff.name));
            let (mut low, mut high) = (left[at], left.remove(at));
            (low[way + 2], high[way]) = (cut.at, cut.at + kerf);
            left.extend([low, high].into_iter().filter(|rect| rect[2] > rect[0] && rect[3] > rect[1]));
        }
        for piece in &board.pieces {
            let same = |other: &[f64; 4]| rect(piece).iter().zip(other).all(|(a, b)| (a - b).abs() < 1e-4);
            assert!(left.iter().any(same), "{}: {piece:?} is not by itself: {left:?}", stuff.name);
        }
    }
}

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
        let net: f64 = glued.iter().map(|strip| strip.width - 6.0).sum();
        assert!((net - top.lwt().y).abs() < 1e-6, "{net}");
        assert!(glued.iter().any(|strip| strip.words.contains(&format!("strip 1 of {strips}"))), "{glued:?}");
    }
}

#[test]
fn what_is_wrong_with_the_pile_is_told_by_name_and_all_else_is_laid_out() {
    let mut design = demo();
    let mut odd = |name: &str, change: &dyn Fn(&mut Stuff)| {
        let mut stuff = design.shop.pile[0].clone();
        name.clone_into(&mut stuff.name);
        change(&mut stuff);
        design.shop.pile.push(stuff);
    };
    odd("Odd", &|stuff| "moon_wood".clone_into(&mut stuff.of));
    odd("Short", &|stuff| stuff.length = Length::mm(30.0));
    odd("Dear", &|stuff| stuff.price = -4.0);
    odd("Knotty", &|stuff| {
        let [x, y, length, width] = [10.0, 10.0, -5.0, 20.0].map(Length::mm);
        stuff.flaws.push(Flaw { x, y, length, width, what: "knot".to_owned(), hides: false });
    });
    let (_, cutting) = cut_of(&design);
    for (name, why) in [("Odd", "moon_wood"), ("Short", "ends"), ("Dear", "price of -4"), ("Knotty", "flaw 1")] {
        let begins = format!("On hand, \"{name}\": ");
        assert!(cutting.told.iter().any(|words| words.starts_with(&begins) && words.contains(why)), "{:?}", cutting.told);
    }
    assert_eq!((cutting.told.len(), cutting.left.len()), (4, 0), "{:?}", cutting.told);
}

/// That nothing is on hand is said once, and not of each part.
#[test]
fn an_empty_pile_is_told_once() {
    let mut design = demo();
    design.shop.pile.clear();
    let (_, cutting) = cut_of(&design);
    assert!(cutting.boards.is_empty() && cutting.left.is_empty());
    assert!(matches!(cutting.told.as_slice(), [words] if words.starts_with("Nothing is on hand")), "{:?}", cutting.told);
    // Sheets alone: what is of timber is told, by mark, with the thickness that would do.
    design.shop.pile = demo().shop.pile.into_iter().filter(|stuff| stuff.of != "white_ash").collect();
    let (_, cutting) = cut_of(&design);
    let posts = cutting.left.iter().find(|left| left.mark == "P1").expect("posts have no board");
    assert!(posts.words.contains("60 mm would do"), "{posts:?}");
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

/// A board of 51, longer than 1,500, gives two leaves of 20: 7 are planed off, 2 go with the saw cut, and 1 with flattening each leaf again (common practice, no
/// source): (51 − 7 − 2) ÷ 2 − 1. It is planed and resawn as long as it is, so that short parts gain nothing.
#[test]
fn a_board_of_fifty_one_gives_two_leaves_of_twenty() {
    let mut design = demo();
    for stuff in design.shop.pile.iter_mut().filter(|stuff| stuff.name.starts_with('D')) {
        (stuff.thickness, stuff.leaves) = (Length::mm(51.0), 2);
    }
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    assert_eq!(cutting.left, []);
    let resawn = |board: &&Marked| design.shop.pile[board.entry].leaves == 2;
    let pieces: Vec<&Piece> = cutting.boards.iter().filter(resawn).flat_map(|board| &board.pieces).collect();
    assert!(pieces.iter().any(|piece| (model.part(piece.part).lwt().z - 20.0).abs() < 1e-9), "what is 20 thick comes out of the leaves");
    assert!(pieces.iter().all(|piece| model.part(piece.part).lwt().z <= 20.0 + 0.05));
    let called: Vec<String> = cutting.boards.iter().map(|board| board.called(&design.shop.pile[board.entry])).collect();
    assert!(called.iter().any(|called| called == "D3 (leaf 1 of 2)"), "{called:?}");
    // A millimetre less is too thin, for short parts too.
    for stuff in design.shop.pile.iter_mut().filter(|stuff| stuff.leaves == 2) {
        stuff.thickness = Length::mm(50.0);
    }
    let (model, cutting) = cut_of(&design);
    let pieces = cutting.boards.iter().filter(|board| design.shop.pile[board.entry].leaves == 2).flat_map(|board| &board.pieces);
    assert!(pieces.clone().all(|piece| model.part(piece.part).lwt().z < 20.0), "{:?}", pieces.collect::<Vec<_>>());
}

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

/// What is on hand once all is cut: boards that were not touched, and what is left that is worth keeping. Of each board, pieces and offcuts together are no
/// more than the board, and but for ends, edges and saw cuts no less; and what remains can be cut up again.
#[test]
fn offcuts_go_back_into_the_pile() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    let all = offcuts(&design, &model, &cutting);
    let kerf = design.timber.sticks.kerf.to_mm();
    for board in &cutting.boards {
        let stuff = &design.shop.pile[board.entry];
        let own = all.iter().filter(|offcut| (offcut.entry, offcut.number) == (board.entry, board.number));
        let (ends, edge) = (stuff.ends.to_mm().max(15.0), 5.0);
        let whole = (stuff.length.to_mm() - 2.0 * ends) * (stuff.width.to_mm() - 2.0 * edge);
        let pieces: f64 = board.pieces.iter().map(|piece| piece.length * piece.width).sum();
        let left: f64 = own.map(|offcut| offcut.size[0] * offcut.size[1]).sum();
        let sawn: f64 = board.cuts.iter().map(|cut| (cut.to - cut.from) * kerf).sum();
        assert!(pieces + left <= whole + 1.0 && pieces + left + sawn >= whole - 1.0, "{}: {whole} {pieces} {left} {sawn}", stuff.name);
    }
    let pile = remaining(&design, &model, &cutting);
    let untouched = |stuff: &Stuff| !cutting.boards.iter().any(|board| design.shop.pile[board.entry].name == stuff.name);
    for stuff in design.shop.pile.iter().filter(|stuff| untouched(stuff)) {
        assert!(pile.contains(stuff), "{}", stuff.name);
    }
    let useful = all.iter().filter(|offcut| offcut.useful).count();
    assert!(useful > 0);
    let names: Vec<&str> = pile.iter().map(|stuff| stuff.name.as_str()).collect();
    assert_eq!(names.iter().filter(|name| name.contains('-')).count(), useful);
    assert!((1..names.len()).all(|at| !names[..at].contains(&names[at])), "{names:?}");
    assert_eq!(pile::read(&pile::write(&pile), Bare::Mm).rows, pile);
    // The flaws that lie on an offcut come with it.
    for stuff in &pile {
        for flaw in &stuff.flaws {
            assert!(
                flaw.x + flaw.length <= stuff.length + Length::mm(0.1) && flaw.y + flaw.width <= stuff.width + Length::mm(0.1),
                "{stuff:?}"
            );
        }
    }
    let mut again = design.clone();
    again.shop.pile = pile;
    let (_, cutting) = cut_of(&again);
    holds(&again, &cutting);
    // Of what is left some is thicker than these parts want.
    assert!(cutting.told.iter().all(|words| words.contains("no thinner boards are left")), "{:?}", cutting.told);
    assert!(!cutting.left.is_empty() && !cutting.boards.is_empty(), "some parts go on what is left, and not all");
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

/// What the saw is set to is what is wanted: nothing that is cut off at a fence is waste where the other part is not. On sheets, where all is cut to size at once, every cut is
/// set to a panel, and the waste is what is left.
#[test]
fn fences_are_set_to_the_pieces() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    for board in &cutting.boards {
        let stuff = &design.shop.pile[board.entry];
        let kerfs = design.timber.kerfs(is_sheet(stuff)).by_way();
        let (trims, all) = steps(&design, &model, board).expect("it is on hand");
        let whole = [trims.ends[0], trims.edges[0], stuff.length.to_mm() - trims.ends[1], stuff.width.to_mm() - trims.edges[1]];
        let mut left = vec![whole];
        for Step { cut, set, .. } in &all {
            let way = usize::from(cut.cut == Direction::Along);
            let over = |rect: &[f64; 4]| (rect[1 - way] - cut.from).abs() < 1e-4 && (rect[3 - way] - cut.to).abs() < 1e-4;
            let at = left.iter().position(|rect| over(rect) && cut.at + kerfs[way] > rect[way] - 1e-6 && cut.at < rect[way + 2] + 1e-6);
            let (mut low, mut high) = (left[at.expect("something to cut")], left.remove(at.expect("something to cut")));
            (low[way + 2], high[way]) = (cut.at, cut.at + kerfs[way]);
            let inside = |rect: &[f64; 4], piece: &&Piece| {
                piece.x >= rect[0] - 1e-4 && piece.x < rect[2] && piece.y >= rect[1] - 1e-4 && piece.y < rect[3]
            };
            let wanted = |rect: &[f64; 4]| board.pieces.iter().any(|piece| inside(rect, &piece));
            let size = |rect: &[f64; 4]| rect[way + 2] - rect[way];
            let of_one = |rect: &[f64; 4]| (size(rect) - set).abs() < 0.05 && wanted(rect);
            assert!(of_one(&low) || of_one(&high) || !(wanted(&low) || wanted(&high)), "{}: {cut:?} at {set}", stuff.name);
            let piece = |rect: &[f64; 4]| {
                board.pieces.iter().any(|piece| inside(rect, &piece) && ([piece.length, piece.width][way] - set).abs() < 0.05)
            };
            assert!(!is_sheet(stuff) || piece(&low) || piece(&high), "{}: {cut:?} at {set}, which is no panel's", stuff.name);
            left.extend([low, high].into_iter().filter(|rect| rect[2] > rect[0] + 1e-6 && rect[3] > rect[1] + 1e-6));
        }
    }
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

/// Of a board of 52 that is resawn in two, (52 − 6 − 2) ÷ 2 − 1 = 21 is left flat and clean (common practice, no source): what is kept of it is so thick and planed, is not trimmed
/// again, and slats of 20 still come out of it.
#[test]
fn what_is_left_of_a_leaf_is_planed_and_trimmed() {
    let mut design = demo();
    design.shop.pile.retain(|stuff| !stuff.name.starts_with('D'));
    design.shop.pile.push(Stuff {
        name: "D".to_owned(),
        thickness: Length::mm(52.0),
        length: Length::mm(1450.0),
        width: Length::mm(280.0),
        leaves: 2,
        count: 4,
        flaws: Vec::new(),
        ..design.shop.pile[0].clone()
    });
    let (model, cutting) = cut_of(&design);
    let kept: Vec<Stuff> =
        remaining(&design, &model, &cutting).into_iter().filter(|stuff| stuff.name.starts_with('D') && stuff.leaves == 1).collect();
    assert!(!kept.is_empty() && kept.iter().all(|stuff| stuff.planed && (stuff.thickness.to_mm() - 21.0).abs() < 1e-9), "{kept:?}");
    assert!(kept.iter().all(|stuff| stuff.trimmed || stuff.name.ends_with("leaf")), "{kept:?}");
    assert_eq!(pile::read(&pile::write(&kept), Bare::Mm).rows, kept);
    // A sawn piece of it, just as large as a slat in the rough, is one.
    let slat = CutList::of(&design, &model).rows.into_iter().find(|row| row.kind == PartKind::Slat).expect("slats");
    let [length, width] = slat.rough_size().map(Length::mm);
    design.shop.pile.retain(|stuff| stuff.name != "D");
    design.shop.pile.push(Stuff { name: "S".to_owned(), length, width, ends: Length::mm(0.0), trimmed: true, ..kept[0].clone() });
    let (_, cutting) = cut_of(&design);
    let on = cutting.boards.iter().find(|board| design.shop.pile[board.entry].name == "S").expect("it is cut");
    assert!(matches!(on.pieces.as_slice(), [one] if (one.x, one.y) == (0.0, 0.0)), "{on:?}");
}

/// What has no price beside boards that have one is not free: it counts as they do, is told, and is not chosen for it. What is paid for is.
#[test]
fn a_board_without_a_price_is_not_free() {
    let mut design = demo();
    for stuff in design.shop.pile.iter_mut().filter(|stuff| stuff.name.starts_with('D') && stuff.name != "D4") {
        stuff.price = 0.0;
    }
    let group = |design: &Design| cut_of(design).1.groups.into_iter().find(|group| group.name == "Ash, white 27 mm").expect("a group");
    let without = group(&design);
    assert!(without.without_price > 0 && without.cost_words("€").contains("without a price"), "{without:?}");
    let listed = demo();
    let by_hand = group(&listed).cost;
    // D4 costs 31 for 2.8 × 0.26 m; the others count at that by measure.
    assert!((without.cost - by_hand).abs() < 0.35 * by_hand, "{} {by_hand}", without.cost);
    for stuff in design.shop.pile.iter_mut().filter(|stuff| stuff.name.starts_with('D') && stuff.name != "D4") {
        stuff.paid = true;
    }
    let paid = group(&design);
    assert!(paid.without_price == 0 && paid.cost < 100.0 && paid.cost < without.cost, "{paid:?}");
    // And what it costs in all is told board by board.
    let (_, cutting) = cut_of(&design);
    let spent = Spent::on_hand(&design, &cutting);
    assert!(spent.lines.iter().all(|line| line.each.is_some()), "{spent:?}");
    let total: f64 = spent.worked().map(|worked| worked.value).sum();
    let groups: f64 = cutting.groups.iter().map(|group| group.cost).sum();
    assert!((total - groups).abs() < 1e-6, "{total} {groups}");
}

/// Two boards of one name, and a flaw beside the board, are told; all is laid out.
#[test]
fn names_that_come_twice_and_flaws_beside_the_board_are_told() {
    let mut design = demo();
    let mut twin = design.shop.pile[0].clone();
    let [x, y, length, width] = [2600.0, 40.0, 80.0, 70.0].map(Length::mm);
    twin.flaws.push(Flaw { x, y, length, width, what: "knot".to_owned(), hides: false });
    design.shop.pile.push(twin);
    let (_, cutting) = cut_of(&design);
    assert_eq!(cutting.left, []);
    assert!(cutting.told.iter().any(|words| words.starts_with("On hand, \"A1\": several")), "{:?}", cutting.told);
    assert!(cutting.told.iter().any(|words| words.contains("flaw 1 lies beside it")), "{:?}", cutting.told);
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

/// Each cut has its fence: the widths and lengths that the fences free are those of the pieces, every piece is freed once, and what is sawn is never wider or longer
/// than the board. A rip of what is shorter than the saw takes, and what is too heavy for one, is told.
#[test]
fn every_cut_has_its_fence_and_frees_its_pieces() {
    let mut design = demo();
    let (model, cutting) = cut_of(&design);
    for board in &cutting.boards {
        let (trims, all) = steps(&design, &model, board).expect("it is on hand");
        assert_eq!(all.len(), board.cuts.len());
        let mut freed: Vec<&String> = all.iter().flat_map(|step| &step.frees).collect();
        let mut wanted: Vec<&String> = board.pieces.iter().map(|piece| &piece.words).collect();
        freed.sort();
        wanted.sort();
        // One that fills what the trims leave needs no cut.
        assert!(freed == wanted || board.cuts.is_empty(), "{freed:?} {wanted:?}");
        let stuff = &design.shop.pile[board.entry];
        for step in &all {
            let most = if step.cut.cut == Direction::Across { step.of[0] } else { step.of[1] };
            assert!((0.0..=most).contains(&step.set), "{step:?}");
            assert!(step.of[0] <= stuff.length.to_mm() - trims.ends[0] - trims.ends[1] + 1e-6, "{step:?}");
        }
    }
    let sheet = cutting.boards.iter().find(|board| design.shop.pile[board.entry].name == "P2").expect("a sheet is cut");
    // 2.47 × 1.24 m of 18.4 mm at some 700 kg/m³ and more is over 23 kg.
    let first = |design: &Design| steps(design, &model, sheet).expect("on hand").1.first().cloned().expect("a cut");
    assert!(first(&design).cautions.iter().any(|words| words.contains("kg: two to hold it")), "{:?}", first(&design));
    design.limits.lift = 100.0;
    assert!(!first(&design).cautions.iter().any(|words| words.contains("kg")));
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

fn offers() -> Vec<Offer> {
    let listed = dealer::read(include_str!("../../../../examples/dealer.csv"), Bare::Mm);
    assert_eq!(listed.bad, []);
    listed.rows
}

/// With nothing on hand everything is bought: all parts come out of it, packs are whole, each timber and thickness has a board to spare, and the total is what a
/// calculator gives. Should any one board be bad, the rest takes its parts; with nothing to spare it does not.
#[test]
fn what_to_buy_is_enough_and_so_is_what_is_to_spare() {
    let mut design = demo();
    design.shop.pile.clear();
    let (model, offers) = (crate::derive(&design).expect("the demo"), offers());
    let bought = buy(&design, &model, &offers, Effort::rounds(1));
    assert_eq!((bought.cutting.left.as_slice(), bought.cutting.told.as_slice()), (&[] as &[Left], &[] as &[String]));
    design.shop.pile.clone_from(&bought.pile);
    holds(&design, &bought.cutting);
    let mut total = 0.0;
    for line in &bought.lines {
        let offer = &offers[line.offer];
        let cut = bought.cutting.boards.iter().filter(|board| bought.pile[board.entry].name == offer.name).count();
        assert_eq!((line.cut as usize, line.count() % offer.pack), (cut, 0), "{line:?}");
        assert!(offer.available.is_none_or(|there| line.count() <= there), "{line:?}");
        total += f64::from(line.count()) * offer.each();
    }
    assert!((bought.total - total).abs() < 1e-6, "{total}");
    for thickness in [27.0, 34.0, 60.0, 12.75, 18.4] {
        let of_it = bought.lines.iter().filter(|line| (offers[line.offer].thickness.to_mm() - thickness).abs() < 0.1);
        assert!(of_it.map(|line| line.spare + line.over).sum::<u32>() >= 1, "{thickness}: {:?}", bought.lines);
    }
    assert_eq!(bought.bad.len(), bought.cutting.boards.len());
    for bad in &bought.bad {
        assert!(!bad.marks.is_empty() && bad.left.is_empty(), "{bad:?}");
    }
    design.shop.pile.clear();
    design.timber.rough.spare = 0;
    let tight = buy(&design, &model, &offers, Effort::rounds(1));
    assert!(tight.total < bought.total);
    let posts = tight.bad.iter().find(|bad| bad.board.starts_with("Ash 60")).expect("posts come out of 60");
    assert!(posts.left.iter().any(|left| left.mark.starts_with('P')), "{posts:?}");
}

/// Where no more are to be had than are cut, that there is none to spare is told.
#[test]
fn what_can_t_be_had_to_spare_is_told() {
    let mut design = demo();
    design.shop.pile.clear();
    let (model, mut offers) = (crate::derive(&design).expect("the demo"), offers());
    let bought = buy(&design, &model, &offers, Effort::rounds(1));
    let cut = bought.lines.iter().find(|line| line.name == "Ash 60").expect("posts come out of 60").cut;
    offers.iter_mut().find(|offer| offer.name == "Ash 60").expect("it is offered").available = Some(cut);
    let tight = buy(&design, &model, &offers, Effort::rounds(1));
    assert!(tight.cutting.told.iter().any(|words| words.starts_with("Ash 60: 1 of 1 to spare")), "{:?}", tight.cutting.told);
    // What is bought, its spare with it, is what the job costs in boards and sheets.
    let mut with = design.clone();
    with.shop.pile.clone_from(&tight.pile);
    let spent = Spent::with_bought(&design, &tight);
    assert!((spent.worked().map(|worked| worked.value).sum::<f64>() - tight.total).abs() < 1e-6, "{spent:?}");
}

/// What is on hand is used first: where all comes out of it, nothing is bought; and of two offers that are alike the cheaper is bought.
#[test]
fn what_is_on_hand_is_used_first_and_the_cheaper_offer_is_taken() {
    let design = demo();
    let (model, mut all) = (crate::derive(&design).expect("the demo"), offers());
    let on_hand = buy(&design, &model, &all, Effort::rounds(2));
    assert_eq!((on_hand.lines.as_slice(), on_hand.total), (&[] as &[ToBuy], 0.0));
    let mut bare = design.clone();
    bare.shop.pile.clear();
    let dear =
        Offer { name: "Dear".to_owned(), price: 90.0, ..all.iter().find(|offer| offer.of == "veneered_mdf_12").expect("a sheet").clone() };
    all.insert(0, dear);
    let bought = buy(&bare, &model, &all, Effort::rounds(1));
    assert!(bought.lines.iter().all(|line| line.name != "Dear") && bought.lines.iter().any(|line| line.name == "Veneered MDF 12"));
}

/// A sheet that measures more than the grooves are made for is told, with the decision to change; one that measures what they are made for is not.
#[test]
fn a_sheet_that_measures_otherwise_is_told() {
    let mut design = demo();
    assert!(!cut_of(&design).1.told.iter().any(|words| words.contains("measures")));
    for stuff in design.shop.pile.iter_mut().filter(|stuff| is_sheet(stuff)) {
        stuff.thickness = Length::mm(13.6);
    }
    let (_, cutting) = cut_of(&design);
    let told: Vec<&String> = cutting.told.iter().filter(|words| words.contains("measures 13.6 mm")).collect();
    assert!(!told.is_empty() && told.iter().all(|words| words.contains("timber.panel.measured")), "{:?}", cutting.told);
}

/// What the maker decides to do first is what comes first on each board, and there is no third; where what must lie on one board does not come out of it so, that is told.
#[test]
fn boards_are_crosscut_or_ripped_first_as_is_decided() {
    for (first, way) in [(FirstCut::Crosscut, Direction::Across), (FirstCut::Rip, Direction::Along)] {
        let mut design = demo();
        design.timber.rough.first = first;
        let (model, cutting) = cut_of(&design);
        holds(&design, &cutting);
        let mut told = 0;
        for board in cutting.boards.iter().filter(|board| !is_sheet(&design.shop.pile[board.entry])) {
            let (_, steps) = steps(&design, &model, board).expect("on hand");
            let called = format!("{}: what is laid on it does not come out", board.called(&design.shop.pile[board.entry]));
            if cutting.told.iter().any(|words| words.starts_with(&called)) {
                told += 1;
                continue;
            }
            let turns = steps.windows(2).filter(|two| two[0].cut.cut != two[1].cut.cut).count();
            let both = turns > 0;
            assert!(
                turns <= 1 && (!both || steps[0].cut.cut == way),
                "{first:?}, {}: {:?}",
                design.shop.pile[board.entry].name,
                board.cuts
            );
        }
        assert!(told <= 1, "{:?}", cutting.told);
    }
}

/// One post on a board of 210 with a knot from 40 to 110 across it: at the far edge it is ripped once and crosscut once; behind the knot it would take a rip more, and leave a
/// narrower rest.
#[test]
fn a_piece_lies_at_the_edge_where_it_takes_fewest_settings() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    let board = cutting.boards.iter().find(|board| design.shop.pile[board.entry].name == "A2").expect("a board of 60");
    assert!(matches!(board.pieces.as_slice(), [one] if model.part(one.part).kind == PartKind::Post), "{board:?}");
    let (_, steps) = steps(&design, &model, board).expect("on hand");
    assert_eq!(steps.len(), 2, "{board:?}");
}

/// A total does not pass for the whole where parts have no board: what is not in it is told with it.
#[test]
fn a_total_tells_what_is_not_in_it() {
    let mut design = demo();
    design.shop.pile.clear();
    let mut offers = offers();
    for offer in offers.iter_mut().filter(|offer| (offer.thickness.to_mm() - 60.0).abs() < 1e-9) {
        offer.length = [Length::mm(1200.0); 2];
    }
    let model = crate::derive(&design).expect("the demo");
    let bought = buy(&design, &model, &offers, Effort::rounds(1));
    let left: Vec<String> = bought.cutting.left.iter().map(|left| format!("{} × {}", left.count, left.mark)).collect();
    let words = bought.total_words("€");
    assert!(left.len() == 4 && !words.contains("in all") && words.ends_with(&format!(": {}", left.join(", "))), "{words}");
}

/// Cuts that follow each other at one setting tell of what each is sawn: of what comes to the saw afresh its size, and of what a cut before left that it is that.
#[test]
fn cuts_at_one_setting_tell_what_is_sawn() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    let mut several = 0;
    for board in &cutting.boards {
        let (_, all) = steps(&design, &model, board).expect("on hand");
        let mut rest = all.as_slice();
        for run in runs(&all) {
            let (own, after) = rest.split_at(run.times);
            rest = after;
            let words = run.of_words();
            let size = own[0].of.map(|mm| trimmed_to(mm, 1)).join(" × ");
            assert!(words.contains(&size), "{size}: {words}");
            assert_eq!(run.times > 1, words.starts_with(&format!("{} times: of ", run.times)), "{words}");
            assert_eq!(words.contains("what is left"), run.of.len() < run.times, "{words}");
            for step in own.iter().filter(|step| !run.of.contains(&step.of)) {
                assert!(run.of.iter().any(|of| step.of[0] <= of[0] + 1e-6 && step.of[1] <= of[1] + 1e-6), "{step:?} {words}");
            }
            several += usize::from(run.times > 1);
        }
    }
    assert!(several > 0);
}
