//! Prices of sizes by column generation.
//!
//! P. C. Gilmore and R. E. Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9 (1961). `microlp` gives
//! no duals, so the dual is what is solved: prices are its variables, patterns its rows. Its figures are only a hint. They
//! are rounded to whole numbers, the best pattern of each bar is found for those, and the bound that follows is worked out in
//! whole numbers, so that it holds whatever the solver's tolerance.

use std::collections::HashSet;

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use super::super::effort::Meter;
use super::super::knapsack::{self, Ware};
use super::fill::wares;
use super::task::{Pattern, Rods};

/// Parts into which the dearest bar's cost is divided for prices in whole numbers.
pub(super) const SCALE: u64 = 1 << 32;

/// Above what a pattern must bring, in units of the dearest bar, to count as missing.
const TOLERANCE: f64 = 1e-7;

/// From so many sizes on, several patterns are sought at a time, so many besides the first.
const MANY_SIZES: usize = 80;
const MOST_OTHERS: usize = 8;

/// How far below its cost, in units of the dearest bar, a pattern may be that is worth keeping in a dive.
const NEARLY: f64 = 0.05;

/// Rounds of pricing at most.
const MOST_ROUNDS: usize = 2_000;

/// What is asked: how many of each size, and from how many to how many of each bar.
#[derive(Clone, Debug)]
pub(super) struct Question {
    pub wanted: Vec<u32>,
    pub least: Vec<u32>,
    pub most: Vec<u32>,
    /// An answer dearer than this is of no use.
    pub dearest: u64,
    /// How many times the dearest answer a piece that can't be cut counts for: 1, or more where it must be certain that there is
    /// no answer.
    pub strictness: f64,
}

/// Patterns that are known.
#[derive(Clone, Debug, Default)]
pub(super) struct Pool {
    pub patterns: Vec<Pattern>,
    known: HashSet<Pattern>,
}

impl Pool {
    /// Whether it is new.
    pub fn add(&mut self, pattern: Pattern) -> bool {
        let new = !pattern.amounts.is_empty() && self.known.insert(pattern.clone());
        if new {
            self.patterns.push(pattern);
        }
        new
    }

    /// Patterns clipped to what is wanted, each once; where there are many sizes only those that bring nearly their cost by these
    /// prices, or hold a single size.
    pub fn clipped(&self, rods: &Rods, price: &[f64], wanted: &[u32]) -> Pool {
        let unit = unit(rods) as f64;
        let mut pool = Pool::default();
        for pattern in &self.patterns {
            let brings: f64 = pattern.amounts.iter().map(|&(size, amount)| price[size] * f64::from(amount)).sum();
            if rods.sizes.len() < MANY_SIZES || pattern.amounts.len() == 1 || brings >= rods.bars[pattern.bar].cost as f64 / unit - NEARLY {
                pool.add(pattern.clipped(wanted));
            }
        }
        pool
    }
}

/// What pricing came to.
#[derive(Debug)]
pub(super) struct Priced {
    /// No answer to the question costs less.
    pub least_cost: u64,
    /// Price of each size in units of the dearest bar.
    pub price: Vec<f64>,
    /// What a bar may bring beyond its cost, or, below 0, must be paid beside it.
    pub rent: Vec<f64>,
    /// The prices of the best bound in whole numbers.
    pub whole: Vec<u64>,
    /// Whether no pattern is missing: the programme is solved.
    pub solved: bool,
}

/// Finds patterns until none is missing, or the bound passes the dearest answer of use. `None` where the solver fails.
pub(super) fn settle(rods: &Rods, question: &Question, pool: &mut Pool, meter: &mut Meter) -> Option<Priced> {
    let mut master = Master::new(rods, question, pool)?;
    let mut best = Priced { least_cost: 0, price: Vec::new(), rent: Vec::new(), whole: vec![0; rods.sizes.len()], solved: false };
    for _ in 0..MOST_ROUNDS {
        let whole: Vec<u64> = master.prices();
        let wares = wares(rods, &whole, &question.wanted);
        // Nearly best patterns do as long as they are missing; then the best must be found.
        let mut missing = false;
        for greatest in [false, true] {
            let found: Vec<knapsack::Best> = rods.bars.iter().map(|bar| knapsack::best(bar.room, &wares, greatest)).collect();
            meter.spend(found.iter().map(|best| best.steps).sum());
            let uppers: Vec<u64> = found.iter().map(|best| best.upper).collect();
            let bound = rods.next_cost(least_cost(rods, question, &whole, &uppers));
            if bound > best.least_cost {
                best.least_cost = bound;
                best.whole.clone_from(&whole);
            }
            let sure = found.iter().all(|best| best.value == best.upper);
            let found: Vec<Pattern> = found
                .into_iter()
                .enumerate()
                .filter(|(bar, found)| question.most[*bar] > 0 && found.value as f64 / SCALE as f64 > master.allowed(*bar) + TOLERANCE)
                .map(|(bar, found)| Pattern { bar, amounts: found.amounts })
                .collect();
            for pattern in found {
                let others = others(rods, &master, &wares, &pattern, meter);
                for pattern in std::iter::once(pattern).chain(others) {
                    if pool.add(pattern.clone()) {
                        missing = true;
                        master.add(&pattern)?;
                    }
                }
            }
            if missing || sure {
                break;
            }
        }
        best.solved = !missing;
        if !missing || best.least_cost > question.dearest || !meter.spend(pool.patterns.len() as u64 / 4) {
            break;
        }
    }
    best.price = (0..rods.sizes.len()).map(|size| master.figure(master.price[size])).collect();
    best.rent = (0..rods.bars.len()).map(|bar| master.rent(bar)).collect();
    Some(best)
}

/// More missing patterns, of what a first one leaves: so that the programme learns of most sizes at once where there are many.
fn others(rods: &Rods, master: &Master, wares: &[Ware], first: &Pattern, meter: &mut Meter) -> Vec<Pattern> {
    let mut others: Vec<Pattern> = Vec::new();
    let mut wares = wares.to_vec();
    let mut last = first.clone();
    while wares.len() >= MANY_SIZES && others.len() < MOST_OTHERS {
        for &(size, amount) in &last.amounts {
            if let Some(ware) = wares.iter_mut().find(|ware| ware.number == size) {
                ware.most = ware.most.saturating_sub(amount);
            }
        }
        let found = knapsack::best(rods.bars[first.bar].room, &wares, false);
        meter.spend(found.steps);
        if found.value as f64 / SCALE as f64 <= master.allowed(first.bar) + TOLERANCE {
            break;
        }
        last = Pattern { bar: first.bar, amounts: found.amounts };
        others.push(last.clone());
    }
    others
}

/// What any answer costs at least by prices in whole numbers and what a bar can bring by them at most.
fn least_cost(rods: &Rods, question: &Question, whole: &[u64], brings: &[u64]) -> u64 {
    let unit = unit(rods);
    let all: u128 = question.wanted.iter().zip(whole).map(|(&count, &price)| u128::from(count) * u128::from(price)).sum();
    // Down, so that no bar costs more here than it does.
    let costs: Vec<u128> = rods.bars.iter().map(|bar| u128::from(bar.cost) * u128::from(SCALE) / u128::from(unit)).collect();
    // Either each bar pays for what it brings beyond its cost, as often as it can be taken …
    let mut rented = all.cast_signed();
    for (bar, &brings) in brings.iter().enumerate() {
        let over = i128::from(brings) - costs[bar].cast_signed();
        let times = if over > 0 { question.most[bar] } else { question.least[bar] };
        rented -= over * i128::from(times);
    }
    // … or all prices come down until none brings more than its cost.
    let usable = (0..costs.len()).filter(|&bar| question.most[bar] > 0 && brings[bar] > 0);
    let share = usable.map(|bar| (costs[bar], u128::from(brings[bar]))).min_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)));
    let lowered = share.map_or(0, |(cost, brings)| if cost < brings { all * cost / brings } else { all });
    let scaled = lowered.max(rented.max(0).unsigned_abs());
    u64::try_from((scaled * u128::from(unit)).div_ceil(u128::from(SCALE))).unwrap_or(u64::MAX)
}

fn unit(rods: &Rods) -> u64 {
    rods.bars.iter().map(|bar| bar.cost).max().unwrap_or(1).max(1)
}

/// The dual programme as far as its patterns are known.
struct Master<'a> {
    rods: &'a Rods,
    unit: f64,
    solution: Option<Solution>,
    price: Vec<Variable>,
    /// What a bar may bring beyond its cost where its number is limited from above, and what is paid where it is from below.
    rents: Vec<[Option<Variable>; 2]>,
}

impl<'a> Master<'a> {
    fn new(rods: &'a Rods, question: &Question, pool: &Pool) -> Option<Self> {
        let unit = unit(rods) as f64;
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        // No piece is worth more than a whole answer of use. Where prices come up to that, there may be none.
        let highest = (question.dearest as f64 / unit + 1.0) * question.strictness;
        let most = |count: u32| if count > 0 { highest } else { 0.0 };
        let price: Vec<Variable> = question.wanted.iter().map(|&count| problem.add_var(f64::from(count), (0.0, most(count)))).collect();
        let mut rents = Vec::new();
        for bar in 0..rods.bars.len() {
            let scarce = !rods.bars[bar].endless || question.most[bar] < rods.bars[bar].count;
            let above = scarce.then(|| problem.add_var(-f64::from(question.most[bar]), (0.0, 64.0 * highest)));
            let below = (question.least[bar] > 0).then(|| problem.add_var(f64::from(question.least[bar]), (0.0, 64.0 * highest)));
            rents.push([above, below]);
        }
        let mut master = Self { rods, unit, solution: None, price, rents };
        for pattern in &pool.patterns {
            if question.most[pattern.bar] > 0 {
                let (terms, cost) = master.row(pattern);
                problem.add_constraint(terms.as_slice(), ComparisonOp::Le, cost);
            }
        }
        for bar in 0..rods.bars.len() {
            // A bar may also stay empty, and is paid for all the same.
            if let [above, Some(below)] = master.rents[bar] {
                let terms: Vec<(Variable, f64)> = above.map(|above| (above, -1.0)).into_iter().chain([(below, 1.0)]).collect();
                problem.add_constraint(terms.as_slice(), ComparisonOp::Le, rods.bars[bar].cost as f64 / unit);
            }
        }
        master.solution = Some(problem.solve().ok()?.into_solution().ok()?);
        Some(master)
    }

    fn row(&self, pattern: &Pattern) -> (Vec<(Variable, f64)>, f64) {
        let [above, below] = self.rents[pattern.bar];
        let mut terms: Vec<(Variable, f64)> = pattern.amounts.iter().map(|&(size, amount)| (self.price[size], f64::from(amount))).collect();
        terms.extend(above.map(|above| (above, -1.0)));
        terms.extend(below.map(|below| (below, 1.0)));
        (terms, self.rods.bars[pattern.bar].cost as f64 / self.unit)
    }

    fn add(&mut self, pattern: &Pattern) -> Option<()> {
        let (terms, cost) = self.row(pattern);
        let solution = self.solution.take()?;
        self.solution = Some(solution.add_constraint(&terms, ComparisonOp::Le, cost).ok()?.into_solution().ok()?);
        Some(())
    }

    fn figure(&self, variable: Variable) -> f64 {
        self.solution.as_ref().map_or(0.0, |solution| solution.var_value(variable))
    }

    fn rent(&self, bar: usize) -> f64 {
        let [above, below] = self.rents[bar].map(|rent| rent.map_or(0.0, |rent| self.figure(rent)));
        above - below
    }

    /// What a pattern may bring by the programme as it is.
    fn allowed(&self, bar: usize) -> f64 {
        self.rods.bars[bar].cost as f64 / self.unit + self.rent(bar)
    }

    fn prices(&self) -> Vec<u64> {
        self.price.iter().map(|&price| (self.figure(price).max(0.0) * SCALE as f64) as u64).collect()
    }
}
