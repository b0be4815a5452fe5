//! Layouts of the demo on its pile, held against what must be true of any.

mod buying;
mod by_hand;
mod cuts;
mod layouts;
mod on_hand;
mod seen;
mod side_by_side;
mod ways;

use super::*;
use crate::design::pile::{self, Flaw, Good, Stuff};
use crate::design::placed::{Placed, put};
use crate::design::{FirstCut, Machine, MachineWork};
use crate::length::Length;
use crate::table::Bare;

fn demo() -> Design {
    let mut design: Design = crate::design::text::read(include_str!("../../../../../examples/records_cabinet.ron")).expect("the demo");
    let listed = pile::read(include_str!("../../../../../examples/pile.csv"), Bare::Mm);
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
