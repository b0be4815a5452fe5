//! Layouts checked by what must be true of them, by sums done by hand, and against trying everything.

use approx::assert_abs_diff_eq;
use casewright_cutting::{Layout, LengthError, Piece, Reason, Saw, Stock, lay_out};
use proptest::prelude::*;

/// The board of the workshop sums: 2440 long, a 3.2 kerf, 15 off each end.
const BOARD: Stock = Stock { length: 2440.0, count: None };
const SAW: Saw = Saw { kerf: 3.2, trim: 15.0 };
/// Comfortably above the last figure of a float, far below what a saw can do.
const TOLERANCE: f64 = 1e-4;

fn pieces(length: f64, count: u32) -> Piece {
    Piece { id: 7, length, count }
}

/// Lays out, and checks what must be true of any layout.
fn checked(stock: &[Stock], wanted: &[Piece], saw: &Saw) -> Layout {
    let layout = lay_out(stock, wanted, saw).expect("every number given is sawable");
    assert_sound(stock, wanted, saw, &layout);
    layout
}

/// Knows the rules of sawing but nothing of how layouts are found.
fn assert_sound(stock: &[Stock], wanted: &[Piece], saw: &Saw, layout: &Layout) {
    for stick in &layout.sticks {
        assert!(!stick.pieces.is_empty());
        assert_abs_diff_eq!(stick.length, stock[stick.stock].length);
        let first = &stick.pieces[0];
        let last = &stick.pieces[stick.pieces.len() - 1];
        assert_abs_diff_eq!(first.start, saw.trim, epsilon = TOLERANCE);
        for pair in stick.pieces.windows(2) {
            let gap = pair[1].start - (pair[0].start + pair[0].length);
            assert_abs_diff_eq!(gap, saw.kerf, epsilon = TOLERANCE);
        }
        let end = last.start + last.length;
        assert!(end + saw.trim <= stick.length + TOLERANCE, "over-full: {stick:?}");
        assert_abs_diff_eq!(end + saw.trim, stick.used(), epsilon = TOLERANCE);
    }
    for (index, line) in stock.iter().enumerate() {
        let taken = layout.sticks.iter().filter(|stick| stick.stock == index).count();
        assert!(line.count.is_none_or(|count| taken <= count as usize), "more taken than there are");
    }
    for piece in wanted {
        let placed = layout.sticks.iter().flat_map(|stick| &stick.pieces);
        let here = placed.filter(|placed| is(piece, placed.id, placed.length)).count();
        let left = layout.unplaced.iter().filter(|left| is(piece, left.id, left.length)).count();
        let asked: u32 = wanted.iter().filter(|other| is(piece, other.id, other.length)).map(|p| p.count).sum();
        assert_eq!(here + left, asked as usize, "every piece once");
    }
    assert!(layout.bound <= layout.sticks.len());
}

fn is(piece: &Piece, id: u32, length: f64) -> bool {
    piece.id == id && piece.length.to_bits() == length.to_bits()
}

// The sums of the board: n pieces + (n − 1) × 3.2 + 2 × 15.

#[test]
fn three_of_720_use_2196_4() {
    let layout = checked(&[BOARD], &[pieces(720.0, 3)], &SAW);
    assert_eq!(layout.sticks.len(), 1);
    assert_abs_diff_eq!(layout.sticks[0].used(), 2196.4, epsilon = TOLERANCE);
    assert!(layout.proven());
}

#[test]
fn four_of_590_use_2399_6() {
    let layout = checked(&[BOARD], &[pieces(590.0, 4)], &SAW);
    assert_eq!(layout.sticks.len(), 1);
    assert_abs_diff_eq!(layout.sticks[0].used(), 2399.6, epsilon = TOLERANCE);
}

#[test]
fn four_of_600_just_fit() {
    let layout = checked(&[BOARD], &[pieces(600.0, 4)], &SAW);
    assert_eq!(layout.sticks.len(), 1);
    assert_abs_diff_eq!(layout.sticks[0].used(), 2439.6, epsilon = TOLERANCE);
    assert_abs_diff_eq!(layout.sticks[0].left_over, 0.4, epsilon = TOLERANCE);
}

#[test]
fn four_of_601_need_a_second_board() {
    // 2404 + 9.6 + 30 = 2443.6
    let layout = checked(&[BOARD], &[pieces(601.0, 4)], &SAW);
    assert_eq!(layout.sticks.len(), 2);
    assert!(layout.proven());

    let only = Stock { count: Some(1), ..BOARD };
    let layout = checked(&[only], &[pieces(601.0, 4)], &SAW);
    assert_eq!(layout.sticks[0].pieces.len(), 3);
    assert_eq!(layout.unplaced[0].reason, Reason::StockUsedUp);
    assert!(!layout.proven());
}

#[test]
fn pieces_that_fill_the_board_to_the_last_figure_fit() {
    // 3 × 0.1 is not 0.3 in floats; in the shop it is.
    let saw = Saw { kerf: 0.0, trim: 0.0 };
    let layout = checked(&[Stock { length: 0.3, count: None }], &[pieces(0.1, 3)], &saw);
    assert_eq!(layout.sticks.len(), 1);
}

#[test]
fn the_search_saves_a_board_where_filling_does_not() {
    // Longest first takes 44 + 34 and 33 + 33 + 33 and strands a 23; 44 + 33 + 23 and 34 + 33 + 33 fill two boards.
    let saw = Saw { kerf: 0.0, trim: 0.0 };
    let wanted = [44.0, 34.0, 33.0, 33.0, 33.0, 23.0].map(|length| pieces(length, 1));
    let layout = checked(&[Stock { length: 100.0, count: None }], &wanted, &saw);
    assert_eq!(layout.sticks.len(), 2);
    assert!(layout.proven());
}

#[test]
fn the_search_places_what_filling_left_out() {
    let saw = Saw { kerf: 0.0, trim: 0.0 };
    let wanted = [44.0, 34.0, 33.0, 33.0, 33.0, 23.0].map(|length| pieces(length, 1));
    let layout = checked(&[Stock { length: 100.0, count: Some(2) }], &wanted, &saw);
    assert!(layout.unplaced.is_empty());
}

#[test]
fn the_shorter_stock_is_taken_where_it_will_do() {
    let short = Stock { length: 1000.0, count: None };
    let layout = checked(&[BOARD, short], &[pieces(600.0, 5)], &SAW);
    let mut lengths: Vec<f64> = layout.sticks.iter().map(|stick| stick.length).collect();
    lengths.sort_by(f64::total_cmp);
    assert_eq!(lengths, [1000.0, 2440.0]);
}

#[test]
fn a_piece_longer_than_any_stick_is_unplaced_and_does_not_spoil_the_proof() {
    let layout = checked(&[BOARD], &[pieces(2410.1, 1), pieces(2410.0, 1)], &SAW);
    assert_eq!(layout.sticks.len(), 1);
    assert_eq!(layout.unplaced.len(), 1);
    assert_eq!(layout.unplaced[0].reason, Reason::TooLong);
    assert!(layout.proven());
}

#[test]
fn a_stick_shorter_than_its_trims_holds_nothing() {
    let stub = Stock { length: 20.0, count: None };
    let layout = checked(&[stub], &[pieces(1.0, 2)], &SAW);
    assert!(layout.sticks.is_empty());
    assert_eq!(layout.unplaced.len(), 2);
}

#[test]
fn nothing_asked_or_nothing_in_the_rack_is_an_answer() {
    assert!(checked(&[BOARD], &[], &SAW).proven());
    assert!(checked(&[BOARD], &[pieces(600.0, 0)], &SAW).sticks.is_empty());
    assert_eq!(checked(&[], &[pieces(600.0, 2)], &SAW).unplaced.len(), 2);
    let none = Stock { count: Some(0), ..BOARD };
    assert_eq!(checked(&[none], &[pieces(600.0, 2)], &SAW).unplaced.len(), 2);
}

#[test]
fn what_cannot_be_sawn_is_an_error_that_says_which() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 2e6] {
        let stock = Stock { length: bad, count: None };
        let refused = lay_out(&[BOARD, stock], &[], &SAW);
        assert!(matches!(refused, Err(LengthError::Stock { index: 1, .. })), "{bad}");
        let refused = lay_out(&[BOARD], &[pieces(bad, 1)], &SAW);
        assert!(matches!(refused, Err(LengthError::Piece { id: 7, .. })), "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY, -0.1, 2e6] {
        for saw in [Saw { kerf: bad, ..SAW }, Saw { trim: bad, ..SAW }] {
            let refused = lay_out(&[BOARD], &[pieces(600.0, 1)], &saw);
            assert!(matches!(refused, Err(LengthError::Saw { .. })), "{bad}");
        }
    }
    let refused = lay_out(&[BOARD], &[pieces(1.0, u32::MAX), pieces(1.0, u32::MAX)], &SAW);
    assert!(matches!(refused, Err(LengthError::TooMany { count: 8_589_934_590 })));
}

#[test]
fn the_most_pieces_are_laid_out_and_not_searched_for_ever() {
    let layout = checked(&[BOARD], &[pieces(333.0, 50_000), pieces(777.0, 50_000)], &SAW);
    assert!(layout.unplaced.is_empty());
}

/// The fewest sticks of one length, by trying every way to share the pieces out.
fn fewest_by_trying(room: f64, kerf: f64, lengths: &[f64]) -> usize {
    fn place(lengths: &[f64], loads: &mut Vec<f64>, room: f64, kerf: f64, best: &mut usize) {
        let Some((&length, rest)) = lengths.split_first() else {
            *best = loads.len().min(*best);
            return;
        };
        for stick in 0..loads.len() {
            if loads[stick] + kerf + length <= room + 1e-7 {
                loads[stick] += kerf + length;
                place(rest, loads, room, kerf, best);
                loads[stick] -= kerf + length;
            }
        }
        loads.push(length);
        place(rest, loads, room, kerf, best);
        loads.pop();
    }
    let mut best = usize::MAX;
    place(lengths, &mut Vec::new(), room, kerf, &mut best);
    best
}

/// Lengths in tenths of a millimetre, as a maker would measure them.
fn tenths(range: std::ops::Range<u32>) -> impl Strategy<Value = f64> {
    range.prop_map(|tenth| f64::from(tenth) / 10.0)
}

fn any_piece() -> impl Strategy<Value = Piece> {
    (0..20_u32, tenths(1..30_000), 0..6_u32).prop_map(|(id, length, count)| Piece { id, length, count })
}

fn any_stock() -> impl Strategy<Value = Stock> {
    (tenths(1..40_000), prop::option::of(0..8_u32)).prop_map(|(length, count)| Stock { length, count })
}

fn any_saw() -> impl Strategy<Value = Saw> {
    (tenths(0..60), tenths(0..500)).prop_map(|(kerf, trim)| Saw { kerf, trim })
}

proptest! {
    #[test]
    fn every_layout_is_sound(
        stock in prop::collection::vec(any_stock(), 0..5),
        wanted in prop::collection::vec(any_piece(), 0..12),
        saw in any_saw(),
    ) {
        let layout = checked(&stock, &wanted, &saw);
        prop_assert_eq!(lay_out(&stock, &wanted, &saw), Ok(layout));
    }

    #[test]
    fn no_layout_of_few_pieces_can_be_bettered(
        lengths in prop::collection::vec(tenths(2_000..12_000), 0..8),
        saw in any_saw(),
    ) {
        let wanted: Vec<Piece> = lengths.iter().map(|&length| pieces(length, 1)).collect();
        let layout = checked(&[BOARD], &wanted, &saw);
        let room = BOARD.length - 2.0 * saw.trim;
        prop_assert_eq!(layout.sticks.len(), fewest_by_trying(room, saw.kerf, &lengths));
        prop_assert!(layout.proven());
    }

    #[test]
    fn whatever_numbers_come_nothing_panics(length in any::<f64>(), other in any::<f64>(), saw in any::<(f64, f64)>()) {
        let stock = [Stock { length, count: None }, BOARD];
        let saw = Saw { kerf: saw.0, trim: saw.1 };
        let _ = lay_out(&stock, &[pieces(other, 3)], &saw);
    }
}
