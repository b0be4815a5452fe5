//! Costs that no layout can beat, without linear programming.

use super::task::{Bar, Rods};

/// The least cost by what sizes need of the longest bar: the greatest of several dual-feasible functions, each covered by the bars
/// that bring most for their cost.
pub(super) fn least_cost(rods: &Rods, wanted: &[u32]) -> u64 {
    let Some(room) = rods.bars.iter().map(|bar| bar.room).max() else {
        return 0;
    };
    let plain = |size: i64| size;
    let mut best = covered(rods, wanted, &plain);
    // Thresholds of S. Martello and P. Toth's bound L2 ("Lower bounds and reduction procedures for the bin packing problem",
    // Discrete Applied Mathematics 28, 1990), as a function: what leaves less than the threshold takes all.
    let thresholds = rods.sizes.iter().zip(wanted).filter(|(size, count)| **count > 0 && **size <= room / 2).map(|(size, _)| *size);
    let mut thresholds: Vec<i64> = thresholds.chain([(room / 2).max(1)]).collect();
    // Many thresholds tell little more than some.
    let every = thresholds.len().div_ceil(200);
    thresholds = thresholds.into_iter().step_by(every).collect();
    for threshold in thresholds {
        let rounded = |size: i64| match size {
            size if size > room - threshold => room,
            size if size < threshold => 0,
            size => size,
        };
        best = best.max(covered_as_longest(rods, wanted, room, &rounded));
    }
    rods.next_cost(best)
}

/// The cost of bars for lengths under a function that holds for bars of all rooms.
fn covered(rods: &Rods, wanted: &[u32], length: &dyn Fn(i64) -> i64) -> u64 {
    cheapest(&rods.bars, |bar| bar.room, needed(rods, wanted, length))
}

/// The same, as if each bar were as long as the longest.
fn covered_as_longest(rods: &Rods, wanted: &[u32], room: i64, length: &dyn Fn(i64) -> i64) -> u64 {
    cheapest(&rods.bars, |_| room, needed(rods, wanted, length))
}

fn needed(rods: &Rods, wanted: &[u32], length: &dyn Fn(i64) -> i64) -> i128 {
    rods.sizes.iter().zip(wanted).map(|(&size, &count)| i128::from(length(size)) * i128::from(count)).sum()
}

/// The least cost of bars that come to a length, the last of them in part.
fn cheapest(bars: &[Bar], room: impl Fn(&Bar) -> i64, needed: i128) -> u64 {
    let mut bars: Vec<&Bar> = bars.iter().collect();
    bars.sort_by(|a, b| (a.cost as f64 / room(a) as f64).total_cmp(&(b.cost as f64 / room(b) as f64)));
    let (mut needed, mut cost) = (needed, 0_u128);
    for bar in bars {
        let room = i128::from(room(bar));
        let whole = (needed / room).min(i128::from(bar.count));
        cost += u128::from(bar.cost) * whole.unsigned_abs();
        needed -= whole * room;
        if whole < i128::from(bar.count) {
            // Down: a bound may be less, never more.
            cost += u128::from(bar.cost) * needed.unsigned_abs() / room.unsigned_abs();
            needed = 0;
        }
        if needed <= 0 {
            break;
        }
    }
    u64::try_from(cost).unwrap_or(u64::MAX)
}
