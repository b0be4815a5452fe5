//! Lengths alone: against trying everything, against proven values, and what must be true of any of them.

use casewright_cutting::boards::{Cuts, Effort, Reason, Stock, Task, lay};
use proptest::prelude::*;
use serde_json::Value;

use crate::made::{laid, rail, stick, task};

#[test]
fn the_search_saves_a_board_where_filling_does_not() {
    // Longest first takes 44 + 34 and 33 + 33 + 33 and strands a 23; 44 + 33 + 23 and 34 + 33 + 33 fill two boards.
    let pieces = [(44.0, 1), (34.0, 1), (33.0, 3), (23.0, 1)].map(|(length, count)| rail(length, count)).to_vec();
    let mut task = Task { stock: vec![stick(100.0)], pieces, ..task(Cuts::Lengths) };
    let layout = laid(&task, 5);
    assert_eq!(layout.count, 2);
    assert!(layout.proven);
    task.stock[0].count = Some(2);
    assert!(laid(&task, 5).unplaced.is_empty());
}

#[test]
fn where_the_stock_does_not_suffice_the_worthiest_are_placed() {
    let mut task = Task { stock: vec![Stock { count: Some(1), ..stick(100.0) }], ..task(Cuts::Lengths) };
    task.pieces = vec![rail(60.0, 1), rail(50.0, 2)];
    task.pieces[0].value = Some(1.0);
    task.pieces[1].value = Some(5.0);
    let layout = laid(&task, 5);
    assert_eq!(layout.used[0].placed.len(), 2);
    assert_eq!((layout.unplaced[0].line, layout.unplaced[0].reason), (0, Reason::NoRoom));
}

/// Our own instances; their README tells how their values were proven.
#[test]
fn several_stock_lengths_reach_their_proven_cost() {
    let set = include_str!("../data/csp1d_multi/multi.jsonl");
    for line in set.lines() {
        let value: Value = serde_json::from_str(line).expect("the set is JSON");
        let best = value["opt_stock_length"].as_f64().expect("a length");
        let layout = laid(&linear(&value), 400);
        assert!((layout.cost - best).abs() < 1e-6 && layout.proven, "{}: {} of {best}", value["name"], layout.cost);
    }
}

/// Stock that costs as much as it is long.
pub fn linear(value: &Value) -> Task {
    let figure = |value: &Value, name: &str| value[name].as_f64().expect("a figure");
    let rows = |name: &str| value[name].as_array().expect("rows").clone();
    let mut task = Task { kerf: figure(value, "kerf"), trim: figure(value, "end_trim"), ..task(Cuts::Lengths) };
    for row in rows("stock") {
        let length = figure(&row, "length");
        task.stock.push(Stock { cost: length, count: row["qty"].as_u64().map(|count| count as u32), ..stick(length) });
    }
    task.pieces = rows("parts").iter().map(|row| rail(figure(row, "length"), figure(row, "qty") as u32)).collect();
    task
}

/// The least cost of stock without limit, by trying every way to share the pieces out.
fn least_by_trying(task: &Task) -> f64 {
    fn place(lengths: &[f64], loads: &mut Vec<f64>, task: &Task, best: &mut f64) {
        let Some((&length, rest)) = lengths.split_first() else {
            let price = |load: &f64| {
                let takes = task.stock.iter().filter(|stock| load - task.kerf + 2.0 * task.trim <= stock.length + 1e-7);
                takes.map(|stock| stock.cost).fold(f64::INFINITY, f64::min)
            };
            *best = best.min(loads.iter().map(price).sum());
            return;
        };
        for stick in 0..loads.len() {
            loads[stick] += task.kerf + length;
            place(rest, loads, task, best);
            loads[stick] -= task.kerf + length;
        }
        loads.push(length + task.kerf);
        place(rest, loads, task, best);
        loads.pop();
    }
    let lengths: Vec<f64> = task.pieces.iter().flat_map(|piece| std::iter::repeat_n(piece.length, piece.count as usize)).collect();
    let mut best = f64::INFINITY;
    place(&lengths, &mut Vec::new(), task, &mut best);
    best
}

/// Lengths in tenths of a millimetre, as a maker would measure them.
fn tenths(range: std::ops::Range<u32>) -> impl Strategy<Value = f64> {
    range.prop_map(|tenth| f64::from(tenth) / 10.0)
}

fn any_stock() -> impl Strategy<Value = Stock> {
    (tenths(1..40_000), prop::option::of(0..8_u32), 0..50_u32).prop_map(|(length, count, cost)| Stock {
        count,
        cost: f64::from(cost),
        ..stick(length)
    })
}

fn any_task() -> impl Strategy<Value = Task> {
    let pieces = prop::collection::vec((tenths(1..30_000), 0..6_u32), 0..12);
    (prop::collection::vec(any_stock(), 0..5), pieces, tenths(0..60), tenths(0..500)).prop_map(|(stock, pieces, kerf, trim)| {
        let pieces = pieces.into_iter().map(|(length, count)| rail(length, count)).collect();
        Task { kerf, trim, stock, pieces, ..task(Cuts::Lengths) }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn every_layout_is_sound_and_the_same_again(task in any_task()) {
        let layout = laid(&task, 2);
        prop_assert_eq!(lay(&task, Effort::rounds(2)), layout);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_layout_of_few_pieces_can_be_bettered(
        lengths in prop::collection::vec(tenths(2_000..12_000), 0..8),
        stock in prop::collection::vec((tenths(13_000..30_000), 1..40_u32), 1..4),
        kerf in tenths(0..60),
        trim in tenths(0..500),
    ) {
        let pieces = lengths.iter().map(|&length| rail(length, 1)).collect();
        let stock = stock.into_iter().map(|(length, cost)| Stock { cost: f64::from(cost), ..stick(length) }).collect();
        let task = Task { kerf, trim, stock, pieces, ..task(Cuts::Lengths) };
        let layout = laid(&task, 50);
        prop_assert!((layout.cost - least_by_trying(&task)).abs() < 1e-6);
        prop_assert!(layout.proven);
    }

    #[test]
    fn whatever_figures_come_nothing_panics(figures in any::<[f64; 7]>(), count in any::<u32>()) {
        let [length, other, kerf, trim, cost, third, value] = figures;
        let mut task = Task { kerf, trim, stock: vec![Stock { cost, ..stick(length) }, stick(2440.0)], ..task(Cuts::Lengths) };
        task.pieces = vec![rail(other, 3), rail(third, count), rail(600.0, 2)];
        task.pieces[0].value = Some(value);
        laid(&task, 1);
        task.kerf = 3.2;
        task.trim = 0.0;
        laid(&task, 1);
    }
}
