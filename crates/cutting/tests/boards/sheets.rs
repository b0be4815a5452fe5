//! Sheets and boards with defects: what must be true of any layout, sums done by hand, and sheets put together again.

use casewright_cutting::boards::{Cuts, Direction, Piece, Reason, Stock, Task, Zone};
use proptest::prelude::*;

use crate::made::{laid, panel, rail, sheet, stick, task};

fn of(stock: Stock, pieces: Vec<Piece>) -> Task {
    Task { stock: vec![stock], pieces, ..task(Cuts::Guillotine) }
}

#[test]
fn the_kerf_lies_between_pieces_both_ways() {
    // 2 × 398.4 + 3.2 = 800 and 2 × 248.4 + 3.2 = 500, within a trim of 10 all round.
    let mut task = Task { kerf: 3.2, trim: 10.0, ..of(sheet(820.0, 520.0), vec![panel(398.4, 248.4, 4)]) };
    let layout = laid(&task, 1);
    assert_eq!(layout.count, 1);
    assert!(layout.proven);
    // One cut, and one through each half; nothing is cut at the edges.
    assert_eq!(layout.used[0].cuts.len(), 3);
    task.pieces = vec![panel(398.5, 248.4, 4)];
    assert_eq!(laid(&task, 1).count, 2);
}

#[test]
fn grain_holds_a_piece_and_a_free_one_turns() {
    let mut task = of(sheet(1000.0, 300.0), vec![panel(250.0, 900.0, 1)]);
    assert_eq!(laid(&task, 1).unplaced[0].reason, Reason::TooLarge);
    task.pieces[0].turn = true;
    let layout = laid(&task, 1);
    assert!(layout.used[0].placed[0].turned);
}

#[test]
fn stages_limit_what_goes_on_a_sheet() {
    // Five pieces around each other's corners, and one in the middle: 3 stages for 30 × 10 on top of 10 × 20 beside 20 × 10 over 20 × 10.
    let pieces = vec![panel(30.0, 10.0, 1), panel(10.0, 20.0, 1), panel(20.0, 10.0, 2)];
    let free = of(sheet(30.0, 30.0), pieces);
    assert_eq!(laid(&free, 2).count, 1);
    let three = Task { stages: Some(3), first: Some(Direction::Along), ..free.clone() };
    assert_eq!(laid(&three, 2).count, 1);
    // Cut across first, the top strip must be freed in the second stage and what is below in the fourth.
    let across = Task { first: Some(Direction::Across), ..three.clone() };
    assert_eq!(laid(&across, 2).count, 2);
    let two = Task { stages: Some(2), ..three };
    assert_eq!(laid(&two, 2).count, 2);
}

#[test]
fn a_trimming_cut_may_follow_the_last_stage() {
    // Side by side in one strip 20 wide, the second piece needs a third cut to come to its width.
    let strict =
        Task { stages: Some(2), first: Some(Direction::Along), ..of(sheet(60.0, 20.0), vec![panel(30.0, 20.0, 1), panel(30.0, 15.0, 1)]) };
    assert_eq!(laid(&strict, 2).count, 2);
    let trimmed = Task { trimming: true, ..strict };
    let layout = laid(&trimmed, 2);
    assert_eq!(layout.count, 1);
    assert_eq!(layout.used[0].cuts.iter().map(|cut| cut.stage).max(), Some(3));
}

#[test]
fn pieces_lie_beside_a_defect() {
    let knot = Zone { x: 450.0, y: 0.0, length: 100.0, width: Some(100.0) };
    let mut task = Task { kerf: 3.0, ..of(Stock { defects: vec![knot], ..sheet(1000.0, 100.0) }, vec![panel(447.0, 100.0, 2)]) };
    assert_eq!(laid(&task, 2).count, 1);
    task.pieces = vec![panel(451.0, 100.0, 1)];
    assert_eq!(laid(&task, 2).unplaced[0].reason, Reason::TooLarge);
}

#[test]
fn a_stick_is_cut_around_its_knots() {
    let knot = |x: f64| Zone { x, y: 0.0, length: 20.0, width: None };
    let stick = Stock { defects: vec![knot(300.0), knot(700.0)], count: Some(1), ..stick(1000.0) };
    let task = Task { kerf: 3.0, stock: vec![stick], pieces: vec![rail(380.0, 1), rail(297.0, 1), rail(277.0, 1)], ..task(Cuts::Lengths) };
    let layout = laid(&task, 4);
    assert!(layout.unplaced.is_empty());
}

#[test]
fn the_best_value_goes_on_the_only_sheet() {
    let mut task = of(Stock { count: Some(1), ..sheet(100.0, 100.0) }, vec![panel(100.0, 60.0, 1), panel(50.0, 50.0, 4)]);
    task.pieces[0].value = Some(10.0);
    task.pieces[1].value = Some(1.0);
    let layout = laid(&task, 2);
    assert_eq!(layout.unplaced.iter().map(|left| (left.line, left.count)).collect::<Vec<_>>(), [(1, 4)]);
    task.pieces[0].value = Some(3.0);
    let layout = laid(&task, 2);
    assert_eq!(layout.unplaced.iter().map(|left| (left.line, left.count)).collect::<Vec<_>>(), [(0, 1)]);
}

/// Whole sheets cut up by chance: pieces that are known to go onto so many sheets without any waste.
fn cut_up(turns: &[(u8, u8, u8)]) -> Vec<[u32; 2]> {
    let mut pieces = vec![[240, 120]];
    for &(which, way, share) in turns {
        let number = usize::from(which) % pieces.len();
        let way = usize::from(way % 2);
        let [from, part] = [pieces[number][way], pieces[number][way] * (20 + u32::from(share) % 60) / 100];
        if part > 0 && part < from {
            let mut rest = pieces[number];
            pieces[number][way] = part;
            rest[way] = from - part;
            pieces.push(rest);
        }
    }
    pieces
}

fn any_stock(defects: std::ops::Range<usize>) -> impl Strategy<Value = Stock> {
    let zone = (0..300_u32, 0..200_u32, 1..40_u32, prop::option::of(1..40_u32));
    let size = (30..300_u32, 20..200_u32, prop::option::of(0..4_u32), 0..9_u32);
    (size, prop::collection::vec(zone, defects)).prop_map(|((length, width, count, cost), zones)| {
        let zone = |(x, y, length, width): (u32, u32, u32, Option<u32>)| Zone {
            x: f64::from(x),
            y: f64::from(y),
            length: f64::from(length),
            width: width.map(f64::from),
        };
        let defects = zones.into_iter().map(zone).collect();
        Stock { count, cost: f64::from(cost), defects, ..sheet(f64::from(length), f64::from(width)) }
    })
}

fn any_task(defects: std::ops::Range<usize>) -> impl Strategy<Value = Task> {
    let piece = (10..1500_u32, 10..900_u32, 0..4_u32, any::<bool>());
    let first = prop_oneof![Just(None), Just(Some(Direction::Along)), Just(Some(Direction::Across))];
    let rules = (prop_oneof![Just(None), Just(Some(2)), Just(Some(3))], first, any::<bool>(), 0..50_u32, 0..80_u32);
    (prop::collection::vec(any_stock(defects), 1..4), prop::collection::vec(piece, 0..10), rules).prop_map(
        |(stock, pieces, (stages, first, trimming, kerf, trim))| {
            let tenth = |tenths: u32| f64::from(tenths) / 10.0;
            let piece = |(length, width, count, turn)| Piece { turn, ..panel(tenth(length), tenth(width), count) };
            let pieces = pieces.into_iter().map(piece).collect();
            Task { kerf: tenth(kerf), trim: tenth(trim), stock, pieces, stages, first, trimming, ..task(Cuts::Guillotine) }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1200))]

    #[test]
    fn every_layout_of_sheets_is_sound(task in any_task(0..1)) {
        laid(&task, 1);
    }

    #[test]
    fn every_layout_around_defects_is_sound(task in any_task(0..4)) {
        laid(&task, 1);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_sheet_that_was_cut_up_is_put_together_again(turns in prop::collection::vec(any::<(u8, u8, u8)>(), 0..6)) {
        let pieces = cut_up(&turns);
        let pieces = pieces.into_iter().map(|[length, width]| panel(f64::from(length), f64::from(width), 1)).collect();
        let layout = laid(&of(sheet(240.0, 120.0), pieces), 40);
        prop_assert_eq!(layout.count, 1);
        prop_assert!(layout.proven);
    }

    #[test]
    fn a_stick_with_knots_is_sound(
        knots in prop::collection::vec((0..900_u32, 1..60_u32), 0..4),
        pieces in prop::collection::vec((20..500_u32, 1..4_u32), 1..8),
        kerf in 0..5_u32,
    ) {
        let knot = |(x, length): (u32, u32)| Zone { x: f64::from(x), y: 0.0, length: f64::from(length), width: None };
        let stock = Stock { defects: knots.into_iter().map(knot).collect(), ..stick(1000.0) };
        let pieces = pieces.into_iter().map(|(length, count)| rail(f64::from(length), count)).collect();
        laid(&Task { kerf: f64::from(kerf), stock: vec![stock], pieces, ..task(Cuts::Lengths) }, 1);
    }

    #[test]
    fn whatever_figures_come_nothing_panics(figures in any::<[f64; 9]>(), turn in any::<bool>()) {
        let [length, width, x, y, long, wide, kerf, trim, value] = figures;
        let zone = Zone { x, y, length: long, width: Some(wide) };
        let stock = vec![Stock { defects: vec![zone], ..sheet(length, width) }, sheet(2440.0, 1220.0)];
        let pieces = vec![Piece { turn, value: Some(value), ..panel(width, long, 2) }, panel(600.0, 400.0, 3)];
        let mut task = Task { kerf, trim, stock, pieces, ..task(Cuts::Guillotine) };
        laid(&task, 1);
        (task.kerf, task.trim) = (3.2, 0.0);
        laid(&task, 1);
    }
}
