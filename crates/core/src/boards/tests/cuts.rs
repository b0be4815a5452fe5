//! The cuts of a board: their order, their fences, and what is told of them.

use super::*;

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

/// No board is sawn once more for a few millimetres: solid parts have 6 over anyway (common practice, no source), and where less than 5 would come off, the saw cut with it, they have so much more.
/// What a sheet gives is cut to size.
#[test]
fn nothing_is_sawn_off_for_a_few_millimetres() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    let list = CutList::of(&design, &model);
    let is_more = |piece: &Piece| piece.more.iter().any(|more| *more > 0.0);
    let mut left_on = 0;
    for board in &cutting.boards {
        let stuff = &design.shop.pile[board.entry];
        for piece in &board.pieces {
            assert!(piece.more.iter().all(|more| (0.0..=5.0).contains(more)) && !(is_sheet(stuff) && is_more(piece)), "{piece:?}");
            let row = list.rows.iter().find(|row| row.parts.contains(&piece.part)).expect("a row");
            let [long, _] = row.rough_size();
            assert!(is_sheet(stuff) || (piece.length - piece.more[0] - long).abs() < 1e-6, "{piece:?}");
            left_on += usize::from(is_more(piece));
        }
        let (_, all) = steps(&design, &model, board).expect("on hand");
        for Step { cut, of, from, .. } in all.iter().filter(|_| !is_sheet(stuff)) {
            let way = usize::from(cut.cut == Direction::Along);
            let kerf = design.timber.kerfs(false).by_way()[way];
            let (low, high) = ([from[way], cut.at], [cut.at + kerf, from[way] + of[way]]);
            let wanted = |[near, far]: [f64; 2]| {
                let across = [from[1 - way], from[1 - way] + of[1 - way]];
                board.pieces.iter().any(|piece| {
                    let [a, b] = [[piece.x, piece.x + piece.length], [piece.y, piece.y + piece.width]];
                    let (along, other) = if way == 0 { (a, b) } else { (b, a) };
                    along[0] < far - 1e-6 && along[1] > near + 1e-6 && other[0] < across[1] - 1e-6 && other[1] > across[0] + 1e-6
                })
            };
            let off = match (wanted(low), wanted(high)) {
                (true, true) => continue,
                (true, false) => of[way] - (low[1] - low[0]),
                (false, true) => of[way] - (high[1] - high[0]),
                (false, false) => panic!("{}: {cut:?} frees nothing", stuff.name),
            };
            assert!(off > 5.0 || !stuff.flaws.is_empty(), "{}: {cut:?} takes {off} off", stuff.name);
        }
    }
    assert!(left_on > 0);
}

/// Of pieces in one strip those that are as long lie beside each other: the stop is set once for them and not again after another.
#[test]
fn the_stop_is_set_once_for_what_is_as_long() {
    let design = demo();
    let (model, cutting) = cut_of(&design);
    holds(&design, &cutting);
    let mut several = 0;
    for board in &cutting.boards {
        let stuff = &design.shop.pile[board.entry];
        if !stuff.flaws.is_empty() {
            continue;
        }
        let (_, all) = steps(&design, &model, board).expect("on hand");
        // What is crosscut one after the other of one strip.
        for strip in all.chunk_by(|a, b| {
            let same = |step: &Step| (step.cut.cut, step.cut.from, step.cut.to);
            same(a) == same(b)
        }) {
            let sets: Vec<f64> =
                strip.iter().filter(|step| step.cut.cut == Direction::Across && !step.frees.is_empty()).map(|step| step.set).collect();
            let mut known: Vec<f64> = Vec::new();
            for set in sets.chunk_by(|a, b| (a - b).abs() < 0.05).filter_map(|alike| alike.first()) {
                assert!(!known.iter().any(|known| (known - set).abs() < 0.05), "{}: {sets:?}", stuff.name);
                known.push(*set);
            }
            several += usize::from(known.len() > 1);
        }
    }
    assert!(several > 0);
}
