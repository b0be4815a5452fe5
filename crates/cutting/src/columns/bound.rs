//! Prices of things, and the bounds that follow from them.
//!
//! Whatever the prices are, the bound holds: it is worked out in whole numbers from what a column can bring at most, which
//! [`Ceiling`] answers. Good prices only make it sharp.

use super::ceiling::Ceiling;
use super::fill::sizes;
use super::search::Prices;
use super::task::Task;

/// Prices and values stay below this, so that sums over all things stay exact in 64 bits.
const MOST_PRICE: u64 = 1 << 44;

/// Parts of a unit of worth.
pub(super) fn worth_scale(task: &Task) -> u64 {
    let most = task.kinds.iter().map(|kind| kind.worth).max().unwrap_or(0);
    MOST_PRICE / most.max(1)
}

/// Parts of a unit of cost.
pub(super) fn cost_scale(task: &Task) -> u64 {
    let most = task.shapes.iter().map(|shape| shape.cost).max().unwrap_or(0);
    (MOST_PRICE / most.max(1)).max(1)
}

/// What no placement is worth more than, in parts of the scale.
pub(super) fn most_worth(task: &Task, prices: &Prices) -> u64 {
    let left: u64 = task.kinds.iter().zip(&prices.price).map(|(kind, price)| price * u64::from(kind.count)).sum();
    let columns: u64 = task.shapes.iter().zip(&prices.most).map(|(shape, most)| most * u64::from(shape.count)).sum();
    left + columns
}

/// What no cover costs less than, in parts of the scale.
pub(super) fn least_cost(task: &Task, prices: &Prices) -> u64 {
    let things: u64 = task.kinds.iter().zip(&prices.price).map(|(kind, price)| price * u64::from(kind.count)).sum();
    let columns: u64 = task.shapes.iter().zip(&prices.most).map(|(shape, most)| most * u64::from(shape.count)).sum();
    things.saturating_sub(columns)
}

/// Prices of nothing: each column by what it can hold at most.
pub(super) fn free(task: &Task) -> Prices {
    let scale = worth_scale(task);
    let values: Vec<u64> = task.kinds.iter().map(|kind| kind.worth * scale).collect();
    let most = task.shapes.iter().map(|shape| Ceiling::new(shape, &values, &task.counts()).whole).collect();
    Prices { scale, price: vec![0; task.kinds.len()], most }
}

/// Prices by size, such that no column that there is plenty of brings more than it costs.
pub(super) fn by_size(task: &Task) -> Prices {
    let scale = cost_scale(task);
    let sizes = sizes(task, 1.0, 1.0);
    let brings: Vec<u64> = task.shapes.iter().map(|shape| Ceiling::new(shape, &sizes, &task.counts()).whole).collect();
    let cost = |number: usize| task.shapes[number].cost * scale;
    // The shape that brings the most for its cost sets the price.
    let dearest = (0..task.shapes.len())
        .max_by(|&a, &b| (u128::from(brings[a]) * u128::from(cost(b))).cmp(&(u128::from(brings[b]) * u128::from(cost(a)))));
    let price =
        |size: u64| dearest.map_or(0, |shape| (u128::from(size) * u128::from(cost(shape)) / u128::from(brings[shape].max(1))) as u64);
    Prices { scale, price: sizes.into_iter().map(price).collect(), most: vec![0; task.shapes.len()] }
}
