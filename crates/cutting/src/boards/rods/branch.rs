//! From a quick answer to a proven one: branching on how many bars of each kind are taken.

use super::super::dice::Dice;
use super::super::effort::Meter;
use super::super::ground::Ground;
use super::prices::{self, Pool, Priced, Question};
use super::shares::shares;
use super::task::{Answer, Pattern, Rods};
use super::{bounds, dive, fill};

/// Powers of a size that make its first prices.
const POWERS: [f64; 5] = [1.0, 1.02, 1.06, 1.15, 1.4];

/// More sizes than this are not priced: they are laid out quickly, within the simple bounds.
const MOST_SIZES: usize = 1_500;

/// Steps of the exact search where the bars are settled.
const PACK_STEPS: u64 = 400_000;

/// Tries with chance at one choice of bars.
const TRIES: u32 = 3;

/// A part of the choices of bars that is still to be looked into.
struct Node {
    least: Vec<u32>,
    most: Vec<u32>,
    /// No answer in it costs less.
    bound: u64,
}

pub(super) struct Branching<'a, 'm, 'w> {
    rods: &'a Rods,
    meter: &'m mut Meter<'w>,
    dice: Dice,
    pool: Pool,
    pub best: Option<(u64, Answer)>,
    /// No answer costs less.
    pub bound: u64,
    nodes: Vec<Node>,
    /// The least bound of what could not be settled.
    unsettled: u64,
}

impl<'a, 'm, 'w> Branching<'a, 'm, 'w> {
    pub fn new(rods: &'a Rods, seed: u64, meter: &'m mut Meter<'w>) -> Self {
        let dice = Dice::new(seed, 0);
        Self { rods, meter, dice, pool: Pool::default(), best: None, bound: 0, nodes: Vec::new(), unsettled: u64::MAX }
    }

    /// Goes on until the answer is proven or the effort is spent.
    pub fn run(&mut self) {
        let rods = self.rods;
        self.bounded(bounds::least_cost(rods, &rods.counts));
        if let Some(answer) = fill::best_fit(rods) {
            self.offer(answer);
        }
        if self.done() || rods.sizes.len() > MOST_SIZES {
            return;
        }
        self.by_size();
        if self.done() || !self.meter.goes_on() {
            return;
        }
        for size in 0..rods.sizes.len() {
            for (bar, of) in rods.bars.iter().enumerate() {
                let amount = (of.room / rods.sizes[size]).min(i64::from(rods.counts[size])) as u32;
                if amount > 0 {
                    self.pool.add(Pattern { bar, amounts: vec![(size, amount)] });
                }
            }
        }
        let most = rods.bars.iter().map(|bar| bar.count).collect();
        self.nodes.push(Node { least: vec![0; rods.bars.len()], most, bound: self.bound });
        while !self.done() && self.meter.goes_on() {
            let Some(next) = (0..self.nodes.len()).min_by_key(|&node| self.nodes[node].bound) else {
                break;
            };
            let node = self.nodes.swap_remove(next);
            if node.bound < self.limit() {
                // Until it is looked into, it stands for itself.
                self.bounded(self.open().min(node.bound));
                if self.look(&node).is_none() {
                    self.unsettled = self.unsettled.min(node.bound);
                }
            }
            if self.meter.goes_on() {
                self.bounded(self.open());
            }
        }
    }

    fn done(&self) -> bool {
        self.best.as_ref().is_some_and(|best| best.0 <= self.bound)
    }

    /// What an answer must stay below to be of use.
    fn limit(&self) -> u64 {
        self.best.as_ref().map_or(u64::MAX, |best| best.0)
    }

    /// No answer costs less than this, going by what is still open.
    fn open(&self) -> u64 {
        self.nodes.iter().map(|node| node.bound).min().unwrap_or(u64::MAX).min(self.unsettled).min(self.limit())
    }

    fn bounded(&mut self, bound: u64) {
        self.bound = self.bound.max(bound);
        self.meter.progress.bound = Ground::cost(self.bound);
    }

    fn offer(&mut self, answer: Answer) {
        let cost = self.rods.cost(&answer);
        if cost < self.limit() {
            for (pattern, _) in &answer {
                self.pool.add(pattern.clone());
            }
            self.best = Some((cost, answer));
            self.meter.progress.cost = Some(Ground::cost(cost));
            self.meter.tell();
        }
    }

    /// Pattern after pattern for prices by size.
    fn by_size(&mut self) {
        let rods = self.rods;
        let longest = rods.sizes.first().copied().unwrap_or(1) as f64;
        for power in POWERS {
            let price = |size: i64| ((size as f64 / longest).powf(power) * f64::from(1 << 30)) as u64 + 1;
            let prices: Vec<u64> = rods.sizes.iter().map(|&size| price(size)).collect();
            self.filled(&prices);
            if self.done() || !self.meter.goes_on() {
                break;
            }
        }
    }

    fn filled(&mut self, prices: &[u64]) {
        let (answer, left) = fill::by_prices(self.rods, prices, self.meter);
        for (pattern, _) in &answer {
            self.pool.add(pattern.clone());
        }
        if left.iter().all(|&left| left == 0) {
            self.offer(answer);
        }
    }

    /// Looks into a node: prices it, tries for an answer, and divides it. `None` where it could not be settled.
    fn look(&mut self, node: &Node) -> Option<()> {
        let rods = self.rods;
        // Whoever pays more than all that there is pays for nothing.
        let all = rods.bars.iter().fold(0_u64, |all, bar| all.saturating_add(bar.cost.saturating_mul(u64::from(bar.count))));
        let dearest = self.limit().saturating_sub(rods.step).min(all);
        let question =
            Question { wanted: rods.counts.clone(), least: node.least.clone(), most: node.most.clone(), dearest, strictness: 1.0 };
        let priced = prices::settle(rods, &question, &mut self.pool, self.meter)?;
        let bound = priced.least_cost.max(node.bound);
        if bound > dearest {
            return Some(());
        }
        if self.nodes.is_empty() && node.least.iter().all(|&least| least == 0) {
            self.bounded(bound);
            self.filled(&priced.whole);
        }
        if !priced.solved {
            return None;
        }
        self.tried(&question, &priced);
        if bound >= self.limit() {
            return Some(());
        }
        let Some(shares) = shares(rods, &question, &self.pool, &priced) else {
            let strict = Question { strictness: 4096.0, ..question };
            let priced = prices::settle(rods, &strict, &mut self.pool, self.meter)?;
            return (priced.least_cost > dearest).then_some(());
        };
        self.divide(node, &question, bound, &shares)
    }

    /// Tries to reach the bound of a question.
    fn tried(&mut self, question: &Question, priced: &Priced) {
        let tries = if self.rods.bars.len() == 1 { u32::MAX } else { TRIES };
        for number in 0..tries {
            let limit = self.limit().saturating_sub(self.rods.step);
            if priced.least_cost > limit || !self.meter.goes_on() {
                break;
            }
            let question = Question { dearest: question.dearest.min(limit), ..question.clone() };
            let mut dice = self.dice.clone();
            let chance = (number > 0).then_some(&mut dice);
            let answer = dive::dive(self.rods, &question, priced, &mut self.pool, chance, self.meter);
            self.dice.next();
            if let Some(answer) = answer {
                self.offer(answer);
            }
            if number == 1 && self.rods.bars.len() == 1 && self.exactly(&question) == Some(false) {
                break;
            }
        }
    }

    /// Whether there is an answer, by trying everything: where the bars are settled and the steps suffice.
    fn exactly(&mut self, question: &Question) -> Option<bool> {
        let bars = dive::settled(self.rods, question)?;
        let found = dive::pack(self.rods, question, &bars, PACK_STEPS, self.meter).ok()?;
        let possible = found.is_some();
        if let Some(answer) = found {
            self.offer(answer);
        }
        Some(possible)
    }

    /// Divides a node by the number of one kind of bar. A node of one choice is tried out.
    fn divide(&mut self, node: &Node, question: &Question, bound: u64, shares: &[(Pattern, f64)]) -> Option<()> {
        let taken = |bar: usize| shares.iter().filter(|(pattern, _)| pattern.bar == bar).map(|(_, share)| share).sum::<f64>();
        let open = (0..node.most.len()).filter(|&bar| node.least[bar] < node.most[bar]);
        // The one whose number is farthest from whole; whole ones last.
        let broken = |bar: usize| (taken(bar) - taken(bar).round()).abs();
        let Some(bar) = open.max_by(|&a, &b| broken(a).total_cmp(&broken(b))) else {
            let question = Question { dearest: self.limit().saturating_sub(self.rods.step), ..question.clone() };
            return self.exactly(&question).map(|_| ());
        };
        let number = taken(bar).floor().clamp(f64::from(node.least[bar]), f64::from(node.most[bar])) as u32;
        let mut part = |least: u32, most: u32| {
            let mut part = Node { least: node.least.clone(), most: node.most.clone(), bound };
            (part.least[bar], part.most[bar]) = (least, most);
            self.nodes.push(part);
        };
        let (least, most) = (node.least[bar], node.most[bar]);
        if broken(bar) > 1e-6 && number < most {
            part(least, number);
            part(number + 1, most);
            return Some(());
        }
        part(number, number);
        if number > least {
            part(least, number - 1);
        }
        if number < most {
            part(number + 1, most);
        }
        Some(())
    }
}
