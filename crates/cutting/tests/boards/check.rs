//! The rules of cutting, and nothing of how layouts are found: replays the cuts and looks at what they leave.

use casewright_cutting::boards::{Cut, Cuts, Direction, Layout, Placed, Reason, Task, Used};

/// Far above the last figure of a float, far below what a saw can do.
const TOLERANCE: f64 = 1e-5;

/// A rectangle: from and to along x, from and to along y.
#[derive(Clone, Copy, Debug)]
struct Rect {
    x: (f64, f64),
    y: (f64, f64),
}

/// What a cut left, and in which stage.
#[derive(Clone, Debug)]
struct Rest {
    rect: Rect,
    stage: u32,
    /// Nothing may be cut from it any more: a trimming cut made it.
    done: bool,
}

/// Panics where the layout breaks a rule.
pub fn assert_sound(task: &Task, layout: &Layout) {
    for used in &layout.used {
        assert_board(task, used);
    }
    for (line, stock) in task.stock.iter().enumerate() {
        let taken = layout.used.iter().filter(|used| used.line == line).count();
        assert!(stock.count.is_none_or(|count| taken <= count as usize), "{taken} taken of {stock:?}");
    }
    for (line, piece) in task.pieces.iter().enumerate() {
        let placed = layout.used.iter().flat_map(|used| &used.placed).filter(|placed| placed.line == line).count();
        let left: u32 = layout.unplaced.iter().filter(|left| left.line == line).map(|left| left.count).sum();
        assert_eq!(placed + left as usize, piece.count as usize, "every piece once: {piece:?}");
    }
    for left in &layout.unplaced {
        assert!(left.count > 0);
        assert_eq!(left.piece, task.pieces[left.line].id);
    }
    let cost: f64 = layout.used.iter().map(|used| task.stock[used.line].cost).sum();
    assert!((layout.cost - cost).abs() < 0.01, "costs {cost}, said {}", layout.cost);
    assert_eq!(layout.count, layout.used.len());
    let complete = layout.unplaced.iter().all(|left| left.reason != Reason::NoRoom);
    if complete {
        assert!(layout.bound <= layout.cost + 0.01, "a bound of {} above the cost {}", layout.bound, layout.cost);
        assert_eq!(layout.proven, layout.bound >= layout.cost - 1e-9);
    } else {
        assert!(!layout.proven);
    }
}

fn assert_board(task: &Task, used: &Used) {
    let stock = &task.stock[used.line];
    assert_eq!(used.stock, stock.id);
    assert!(!used.placed.is_empty(), "an empty board is used");
    let board = trimmed(task, used.line);
    let pieces: Vec<Rect> = used.placed.iter().map(|placed| rect(task, placed)).collect();
    for (number, piece) in pieces.iter().enumerate() {
        assert!(inside(piece, &board), "{piece:?} outside {board:?}");
        for other in &pieces[..number] {
            assert!(apart(piece, other, task.kerf), "{piece:?} and {other:?} are closer than the kerf");
        }
        for zone in &stock.defects {
            let y = match (task.cuts, zone.width) {
                (Cuts::Guillotine, Some(width)) => (zone.y, zone.y + width),
                (Cuts::Guillotine, None) => (zone.y, f64::INFINITY),
                (Cuts::Lengths, _) => (f64::NEG_INFINITY, f64::INFINITY),
            };
            let zone = Rect { x: (zone.x, zone.x + zone.length), y };
            assert!(apart(piece, &zone, 0.0), "{piece:?} lies on the defect {zone:?}");
        }
    }
    assert_cuts(task, used, board, &pieces);
}

fn trimmed(task: &Task, line: usize) -> Rect {
    let stock = &task.stock[line];
    let x = (task.trim, stock.length - task.trim);
    match task.cuts {
        Cuts::Lengths => Rect { x, y: (0.0, 0.0) },
        Cuts::Guillotine => Rect { x, y: (task.trim, stock.width.expect("a sheet has a width") - task.trim) },
    }
}

fn rect(task: &Task, placed: &Placed) -> Rect {
    let piece = &task.pieces[placed.line];
    assert_eq!(placed.piece, piece.id);
    assert!(piece.turn || !placed.turned, "{piece:?} must not be turned");
    let [length, width] = match task.cuts {
        Cuts::Lengths => [piece.length, 0.0],
        Cuts::Guillotine => [piece.length, piece.width.expect("a piece has a width")],
    };
    let [length, width] = if placed.turned { [width, length] } else { [length, width] };
    Rect { x: (placed.x, placed.x + length), y: (placed.y, placed.y + width) }
}

fn inside(inner: &Rect, outer: &Rect) -> bool {
    let within = |inner: (f64, f64), outer: (f64, f64)| inner.0 >= outer.0 - TOLERANCE && inner.1 <= outer.1 + TOLERANCE;
    within(inner.x, outer.x) && within(inner.y, outer.y)
}

/// Whether there is this much between them, one way or the other.
fn apart(one: &Rect, other: &Rect, gap: f64) -> bool {
    let apart = |one: (f64, f64), other: (f64, f64)| one.1 + gap <= other.0 + TOLERANCE || other.1 + gap <= one.0 + TOLERANCE;
    // Where only lengths count, all lies in one line.
    let in_line = one.y.0 >= one.y.1;
    apart(one.x, other.x) || !in_line && apart(one.y, other.y)
}

/// Makes the cuts one after the other, and finds every piece among what they leave.
fn assert_cuts(task: &Task, used: &Used, board: Rect, pieces: &[Rect]) {
    let mut rests = vec![Rest { rect: board, stage: 1, done: false }];
    let mut first = task.first;
    for cut in &used.cuts {
        let odd = cut.stage % 2 == 1;
        // The direction of the first stage follows from any cut; all others must agree with it.
        let of_first = if odd { cut.cut } else { cut.cut.other() };
        assert_eq!(*first.get_or_insert(of_first), of_first, "the stages must alternate: {cut:?} in {:?}", used.cuts);
        let at = rests.iter().position(|rest| is_cut(rest, cut, task.cuts)).unwrap_or_else(|| panic!("{cut:?} cuts nothing of {rests:?}"));
        let rest = rests.swap_remove(at);
        let parts = halves(&rest, cut, task.kerf);
        let most = match task.cuts {
            Cuts::Lengths => 1,
            Cuts::Guillotine => task.stages.map_or(u32::MAX, u32::from),
        };
        let trims = cut.stage > most;
        if trims {
            assert!(task.trimming && cut.stage == most + 1, "{cut:?} goes beyond {most} stages");
            let held = parts.iter().map(|part| pieces.iter().filter(|piece| inside(piece, &part.rect)).count());
            let held: Vec<usize> = held.collect();
            assert!(held.iter().sum::<usize>() <= 1, "{cut:?} does more than trim a piece");
        }
        rests.extend(parts.into_iter().map(|part| Rest { done: trims, ..part }));
    }
    for piece in pieces {
        let is = |rest: &Rest| inside(piece, &rest.rect) && inside(&rest.rect, piece);
        assert!(rests.iter().any(is), "{piece:?} is not freed: {rests:?}");
    }
}

fn is_cut(rest: &Rest, cut: &Cut, cuts: Cuts) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < TOLERANCE;
    let (along, across) = match cut.cut {
        Direction::Across => (rest.rect.x, rest.rect.y),
        Direction::Along => (rest.rect.y, rest.rect.x),
    };
    let edge_to_edge = cuts == Cuts::Lengths || near(cut.from, across.0) && near(cut.to, across.1);
    !rest.done && rest.stage <= cut.stage && edge_to_edge && cut.at > along.0 - TOLERANCE && cut.at < along.1 - TOLERANCE / 2.0
}

fn halves(rest: &Rest, cut: &Cut, kerf: f64) -> Vec<Rest> {
    let part = |from: f64, to: f64| {
        let rect = match cut.cut {
            Direction::Across => Rect { x: (from, to), ..rest.rect },
            Direction::Along => Rect { y: (from, to), ..rest.rect },
        };
        Rest { rect, stage: cut.stage, done: false }
    };
    let (from, to) = match cut.cut {
        Direction::Across => rest.rect.x,
        Direction::Along => rest.rect.y,
    };
    let parts = [(from, cut.at), (cut.at + kerf, to)];
    parts.into_iter().filter(|(from, to)| to > from).map(|(from, to)| part(from, to)).collect()
}
