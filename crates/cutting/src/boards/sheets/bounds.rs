//! Costs that no layout of sheets can beat: areas under dual-feasible functions.
//!
//! S. P. Fekete and J. Schepers, "A general framework for bounds for higher-dimensional orthogonal packing problems", Mathematical Methods of
//! Operations Research 60 (2004): whatever goes into a sheet still does so by area when each length is replaced by its
//! value under such a function. The sum over all pieces then bounds the number of sheets.

use super::super::ground::{Ground, Kind};

/// Functions of each way at most, of each family.
const MOST: usize = 60;

/// What rounding may have added to a sum of shares: far above the error of floats.
const SAFETY: f64 = 1e-7;

/// The least cost.
pub(in super::super) fn least_cost(ground: &Ground) -> u64 {
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
    let rooms = [0, 1].map(|way| ground.boards.iter().map(|board| board.room[way]).max().unwrap_or(0));
    let Some(cheapest) = ground.boards.iter().map(|board| board.cost).min() else {
        return 0;
    };
    let kinds = &ground.kinds;
    let lying = |kind: &Kind, way: usize, turned: bool| if turned { kind.size[1 - way] } else { kind.size[way] };
    let fits = |kind: &Kind, turned: bool| (!turned || kind.turn) && (0..2).all(|way| lying(kind, way, turned) <= rooms[way]);
    let sizes: Vec<i64> = kinds.iter().flat_map(|kind| kind.size).collect();
    let shares = [0, 1].map(|way| {
        let of = |function: &dyn Fn(i64) -> f64| {
            let both = |kind: &Kind| [false, true].map(|turned| if fits(kind, turned) { function(lying(kind, way, turned)) } else { 0.0 });
            kinds.iter().map(both).collect::<Vec<[f64; 2]>>()
        };
        functions(rooms[way], &sizes).iter().map(|function| of(function.as_ref())).collect::<Vec<_>>()
    });
    let ways: Vec<[bool; 2]> = kinds.iter().map(|kind| [false, true].map(|turned| fits(kind, turned))).collect();
    let mut most = 0.0_f64;
    for along in &shares[0] {
        for across in &shares[1] {
            let mut sum = 0.0;
            for (((kind, along), across), ways) in kinds.iter().zip(along).zip(across).zip(&ways) {
                let (straight, turned) = (along[0] * across[0], along[1] * across[1]);
                let share = match ways {
                    [true, true] => straight.min(turned),
                    [true, false] => straight,
                    [false, _] => turned,
                };
                sum += share * f64::from(kind.count);
            }
            most = most.max(sum);
        }
    }
    let count = (most - SAFETY).ceil().max(0.0) as u64;
    count.saturating_mul(cheapest)
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

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
