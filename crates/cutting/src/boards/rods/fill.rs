//! Quick answers: best fit, and pattern after pattern by prices.

use std::collections::BTreeSet;

use super::super::effort::Meter;
use super::super::knapsack::{self, Ware};
use super::task::{Answer, Pattern, Rods};

/// Puts each piece, longest first, into the bar that it fills best, and opens the bar that costs least for its length where
/// none takes it. `None` where the bars do not suffice.
pub(super) fn best_fit(rods: &Rods) -> Option<Answer> {
    let mut still: Vec<u32> = rods.bars.iter().map(|bar| bar.count).collect();
    // Room left and number of the bar, in that order, so that the first entry that is large enough is the tightest.
    let mut left: BTreeSet<(i64, usize)> = BTreeSet::new();
    let mut filled: Vec<Pattern> = Vec::new();
    for (size, (&length, &count)) in rods.sizes.iter().zip(&rods.counts).enumerate() {
        for _ in 0..count {
            let (room, number) = if let Some(&tightest) = left.range((length, 0)..).next() {
                left.remove(&tightest);
                tightest
            } else {
                let takes = (0..rods.bars.len()).filter(|&bar| still[bar] > 0 && rods.bars[bar].room >= length);
                let dear = |bar: usize| rods.bars[bar].cost as f64 / rods.bars[bar].room as f64;
                let bar = takes.min_by(|&a, &b| dear(a).total_cmp(&dear(b)))?;
                still[bar] -= 1;
                filled.push(Pattern { bar, amounts: Vec::new() });
                (rods.bars[bar].room, filled.len() - 1)
            };
            left.insert((room - length, number));
            let amounts = &mut filled[number].amounts;
            match amounts.last_mut() {
                Some((last, amount)) if *last == size => *amount += 1,
                _ => amounts.push((size, 1)),
            }
        }
    }
    Some(filled.into_iter().map(|pattern| (pattern, 1)).collect())
}

/// Cuts the pattern that brings most for its cost, as often as it can be cut, and so on until nothing is wanted or no bar is left.
/// Gives what was cut and what is left.
pub(super) fn by_prices(rods: &Rods, prices: &[u64], meter: &mut Meter) -> (Answer, Vec<u32>) {
    let mut wanted = rods.counts.clone();
    let mut still: Vec<u32> = rods.bars.iter().map(|bar| bar.count).collect();
    let mut answer = Answer::new();
    while wanted.iter().any(|&count| count > 0) {
        let wares = wares(rods, prices, &wanted);
        let brings = |bar: usize, meter: &mut Meter| {
            let best = knapsack::best(rods.bars[bar].room, &wares, false);
            meter.spend(best.steps);
            (best.value as f64 / rods.bars[bar].cost.max(1) as f64, Pattern { bar, amounts: best.amounts })
        };
        let choices = (0..still.len()).filter(|&bar| still[bar] > 0).map(|bar| brings(bar, meter));
        let best = choices.max_by(|a, b| a.0.total_cmp(&b.0)).filter(|(_, pattern)| !pattern.amounts.is_empty());
        let Some((_, pattern)) = best else {
            break;
        };
        let times = pattern.times(&wanted).min(still[pattern.bar]).max(1);
        still[pattern.bar] -= times;
        pattern.take(times, &mut wanted);
        answer.push((pattern, times));
    }
    (answer, wanted)
}

/// What is wanted, with its prices.
pub(super) fn wares(rods: &Rods, prices: &[u64], wanted: &[u32]) -> Vec<Ware> {
    let ware = |number: usize| Ware { number, size: rods.sizes[number], price: prices[number], most: wanted[number] };
    (0..rods.sizes.len()).filter(|&number| wanted[number] > 0).map(ware).collect()
}
