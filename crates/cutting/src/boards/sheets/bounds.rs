//! Costs that no layout of sheets can beat: areas under dual-feasible functions.
//!
//! S. P. Fekete and J. Schepers, "A general framework for bounds for higher-dimensional orthogonal packing problems", Mathematical Methods of
//! Operations Research 60 (2004): whatever goes into a sheet still does so by area when each length is replaced by its
//! value under such a function. The sum over all pieces then bounds the number of sheets.

use super::super::ground::Ground;
use super::super::knapsack::{self, Ware};
use super::sort::Sort;

/// Functions of each way at most, of each family.
const MOST: usize = 60;

/// Pairs of functions that are kept.
const PAIRS: usize = 6;

/// Parts of a share for shares in whole numbers.
const ROW_PARTS: f64 = (1_u64 << 30) as f64;

/// What rounding may have added to a sum of shares: far above the error of floats.
const SAFETY: f64 = 1e-7;

/// The least cost.
pub(super) fn least_cost(ground: &Ground) -> u64 {
    let step = ground.boards.iter().fold(0, |step, board| gcd(step, board.cost)).max(1);
    let by_area = by_area(ground);
    let by_count = by_count(ground);
    by_area.max(by_count).div_ceil(step).saturating_mul(step)
}

/// By area alone, with the boards that bring most for their cost, the last of them in part.
fn by_area(ground: &Ground) -> u64 {
    let area = |size: [i64; 2]| size[0] as f64 * size[1] as f64;
    let mut needed: f64 = ground.kinds.iter().map(|kind| area(kind.size) * f64::from(kind.count)).sum();
    let mut boards: Vec<(f64, f64, f64)> =
        ground.boards.iter().map(|board| (area(board.room), board.cost as f64, f64::from(board.count))).collect();
    boards.retain(|board| board.0 > 0.0);
    boards.sort_by(|a, b| (a.1 / a.0).total_cmp(&(b.1 / b.0)));
    let mut cost = 0.0;
    for (room, price, count) in boards {
        let taken = (needed / room).min(count).max(0.0);
        cost += taken * price;
        needed -= taken * room;
    }
    ((cost * (1.0 - 1e-12) - SAFETY).max(0.0)).ceil() as u64
}

/// By the number of boards, all of them as large as the largest either way, each at the price of the cheapest.
fn by_count(ground: &Ground) -> u64 {
    let Some(cheapest) = ground.boards.iter().map(|board| board.cost).min() else {
        return 0;
    };
    let most = pairs(largest(ground), &Sort::all(ground)).first().map_or(0.0, |pair| pair.sum);
    let count = (most - SAFETY).ceil().max(0.0) as u64;
    count.saturating_mul(cheapest)
}

/// A room as large as the largest either way.
fn largest(ground: &Ground) -> [i64; 2] {
    [0, 1].map(|way| ground.boards.iter().map(|board| board.room[way]).max().unwrap_or(0))
}

/// What sorts count for under a function of each way.
pub(super) struct Product {
    pub prices: Vec<f64>,
    /// How much goes onto each of the ground's boards at the most.
    pub most: Vec<f64>,
}

/// The products under which all pieces count for most.
pub(super) fn products(ground: &Ground, sorts: &[Sort]) -> Vec<Product> {
    let rooms = largest(ground);
    let functions = [0, 1].map(|way| functions(rooms[way], &sizes(sorts)));
    let told = |pair: Pair| {
        let most = ground.boards.iter().map(|board| {
            let one = |way: usize| row(board.room[way], way, sorts, rooms, functions[way][pair.numbers[way]].as_ref());
            one(0) * one(1)
        });
        Product { most: most.collect(), prices: pair.prices }
    };
    pairs(rooms, sorts).into_iter().map(told).collect()
}

/// The most that pieces in a row count for in a room that may be smaller than the largest.
fn row(room: i64, way: usize, sorts: &[Sort], rooms: [i64; 2], function: &dyn Fn(i64) -> f64) -> f64 {
    if room == rooms[way] {
        return 1.0;
    }
    let mut wares = Vec::new();
    for (number, sort) in sorts.iter().enumerate() {
        for (turned, _) in [false, true].into_iter().zip(sort.lies(rooms)).filter(|(_, lies)| *lies) {
            let size = sort.extent(way, turned);
            let price = (function(size) * ROW_PARTS).ceil() as u64;
            wares.push(Ware { number, size, price, most: sort.count });
        }
    }
    let unit = wares.iter().fold(0, |unit, ware| gcd(unit, ware.size.unsigned_abs())).max(1).cast_signed();
    for ware in &mut wares {
        ware.size /= unit;
    }
    (knapsack::best(room / unit, &wares, false).upper as f64 / ROW_PARTS).min(1.0)
}

fn sizes(sorts: &[Sort]) -> Vec<i64> {
    sorts.iter().flat_map(|sort| sort.size).collect()
}

/// A function of each way, by their numbers.
struct Pair {
    numbers: [usize; 2],
    /// What all pieces count for, in shares of the largest board.
    sum: f64,
    /// What one of each sort counts for.
    prices: Vec<f64>,
}

/// The pairs of functions under which all pieces count for most, best first.
fn pairs(rooms: [i64; 2], sorts: &[Sort]) -> Vec<Pair> {
    let lies: Vec<[bool; 2]> = sorts.iter().map(|sort| sort.lies(rooms)).collect();
    let shares = [0, 1].map(|way| {
        let of = |function: &dyn Fn(i64) -> f64| {
            let each = sorts.iter().zip(&lies);
            let both = |(sort, lies): (&Sort, &[bool; 2])| {
                [0, 1].map(|turned| if lies[turned] { function(sort.extent(way, turned == 1)) } else { 0.0 })
            };
            each.map(both).collect::<Vec<[f64; 2]>>()
        };
        functions(rooms[way], &sizes(sorts)).iter().map(|function| of(function.as_ref())).collect::<Vec<_>>()
    });
    let prices = |along: &[[f64; 2]], across: &[[f64; 2]]| -> Vec<f64> {
        let price = |((along, across), lies): ((&[f64; 2], &[f64; 2]), &[bool; 2])| {
            let (straight, turned) = (along[0] * across[0], along[1] * across[1]);
            match lies {
                [true, true] => straight.min(turned),
                [true, false] => straight,
                [false, _] => turned,
            }
        };
        along.iter().zip(across).zip(&lies).map(price).collect()
    };
    let mut best: Vec<Pair> = Vec::new();
    for (one, along) in shares[0].iter().enumerate() {
        for (two, across) in shares[1].iter().enumerate() {
            let prices = prices(along, across);
            let sum = prices.iter().zip(sorts).map(|(price, sort)| price * f64::from(sort.count)).sum();
            if best.len() < PAIRS || best.last().is_some_and(|last| sum > last.sum) {
                let at = best.partition_point(|pair| pair.sum >= sum);
                best.insert(at, Pair { numbers: [one, two], sum, prices });
                best.truncate(PAIRS);
            }
        }
    }
    best
}

/// Dual-feasible functions of a room: shares of it that sizes count for.
fn functions(room: i64, sizes: &[i64]) -> Vec<Box<dyn Fn(i64) -> f64>> {
    let whole = room as f64;
    let mut thresholds: Vec<i64> = sizes.iter().copied().filter(|&size| size <= room / 2 && size > 0).collect();
    thresholds.sort_unstable();
    thresholds.dedup();
    let every = thresholds.len().div_ceil(MOST).max(1);
    let mut functions: Vec<Box<dyn Fn(i64) -> f64>> = vec![Box::new(move |size| size as f64 / whole)];
    for threshold in thresholds.into_iter().step_by(every).chain([(room / 2).max(1)]) {
        functions.push(Box::new(move |size| match size {
            size if size > room - threshold => 1.0,
            size if size < threshold => 0.0,
            size => size as f64 / whole,
        }));
        let parts = room / threshold;
        functions.push(Box::new(move |size| match size {
            size if 2 * size > room => (parts - (room - size) / threshold) as f64 / parts as f64,
            size if size < threshold => 0.0,
            _ => 1.0 / parts as f64,
        }));
    }
    for parts in 1..=10_i64 {
        functions.push(Box::new(move |size| {
            let scaled = i128::from(size) * i128::from(parts + 1);
            let room = i128::from(room);
            if scaled % room == 0 { size as f64 / whole } else { (scaled / room) as f64 / parts as f64 }
        }));
    }
    functions
}

pub(super) fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
