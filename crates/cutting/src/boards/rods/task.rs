//! Lengths alone: sizes, bars, and what a pattern is.

use super::super::ground::Ground;

/// A kind of bar.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Bar {
    pub room: i64,
    pub cost: u64,
    pub count: u32,
    /// Whether there are as many as it takes.
    pub endless: bool,
    /// Which of the ground's boards it is.
    pub board: usize,
}

/// Sizes to be cut from bars, in the largest step that measures all of them.
#[derive(Clone, Debug)]
pub(in super::super) struct Rods {
    /// Longest first, each once.
    pub sizes: Vec<i64>,
    /// How many of each size.
    pub counts: Vec<u32>,
    /// Worth of one of each size.
    pub values: Vec<f64>,
    /// Which kinds of the ground have a size.
    pub kinds: Vec<Vec<usize>>,
    pub bars: Vec<Bar>,
    /// All costs are multiples of this.
    pub step: u64,
}

/// What is cut from one bar: how many of which sizes, longest first.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Pattern {
    pub bar: usize,
    pub amounts: Vec<(usize, u32)>,
}

/// Patterns, each with how often it is cut.
pub(super) type Answer = Vec<(Pattern, u32)>;

impl Rods {
    pub fn new(ground: &Ground) -> Self {
        let mut order: Vec<usize> = (0..ground.kinds.len()).collect();
        // Among equal sizes the worthier comes first.
        order.sort_by(|&a, &b| {
            let (one, other) = (&ground.kinds[a], &ground.kinds[b]);
            other.size[0].cmp(&one.size[0]).then(other.value.total_cmp(&one.value))
        });
        let mut rods = Self { sizes: Vec::new(), counts: Vec::new(), values: Vec::new(), kinds: Vec::new(), bars: Vec::new(), step: 1 };
        for number in order {
            let kind = &ground.kinds[number];
            if rods.sizes.last() != Some(&kind.size[0]) {
                rods.sizes.push(kind.size[0]);
                rods.counts.push(0);
                rods.values.push(0.0);
                rods.kinds.push(Vec::new());
            }
            let last = rods.sizes.len() - 1;
            let (before, count) = (f64::from(rods.counts[last]), f64::from(kind.count));
            rods.values[last] = (rods.values[last] * before + kind.value * count) / (before + count).max(1.0);
            rods.counts[last] += kind.count;
            rods.kinds[last].push(number);
        }
        let wanted: u32 = rods.counts.iter().sum();
        // Longest first, and the cheaper first of equals, so that none is kept for which a better one is endless.
        let mut order: Vec<usize> = (0..ground.boards.len()).collect();
        order.sort_by_key(|&number| (-ground.boards[number].room[0], ground.boards[number].cost));
        for number in order {
            let board = &ground.boards[number];
            let bar = Bar { room: board.room[0], cost: board.cost, count: board.count, endless: board.count >= wanted, board: number };
            let better = |other: &Bar| other.endless && other.room >= bar.room && other.cost <= bar.cost;
            if !rods.bars.iter().any(better) {
                rods.bars.push(bar);
            }
        }
        let step = rods.sizes.iter().fold(0, |step, &size| gcd(step, size));
        if step > 1 {
            rods.sizes.iter_mut().for_each(|size| *size /= step);
            rods.bars.iter_mut().for_each(|bar| bar.room /= step);
        }
        let shortest = rods.sizes.last().copied().unwrap_or(i64::MAX);
        rods.bars.retain(|bar| bar.room >= shortest);
        rods.step = rods.bars.iter().fold(0, |step, bar| gcd(step, bar.cost.cast_signed())).max(1).cast_unsigned();
        rods
    }

    pub fn cost(&self, answer: &Answer) -> u64 {
        answer.iter().map(|(pattern, times)| self.bars[pattern.bar].cost * u64::from(*times)).sum()
    }

    /// The least cost that there can be at or above one, by the step of costs alone.
    pub fn next_cost(&self, cost: u64) -> u64 {
        cost.div_ceil(self.step).saturating_mul(self.step)
    }
}

impl Pattern {
    /// The pattern without what is not wanted.
    pub fn clipped(&self, wanted: &[u32]) -> Self {
        let amounts = self.amounts.iter().map(|&(size, amount)| (size, amount.min(wanted[size]))).filter(|(_, amount)| *amount > 0);
        Self { bar: self.bar, amounts: amounts.collect() }
    }

    /// How often it can be cut at most until something is no longer wanted.
    pub fn times(&self, wanted: &[u32]) -> u32 {
        self.amounts.iter().map(|&(size, amount)| wanted[size] / amount).min().unwrap_or(0)
    }

    /// Takes what it brings off what is wanted.
    pub fn take(&self, times: u32, wanted: &mut [u32]) {
        for &(size, amount) in &self.amounts {
            wanted[size] = wanted[size].saturating_sub(amount.saturating_mul(times));
        }
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
