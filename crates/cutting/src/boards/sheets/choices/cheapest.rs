//! The cheapest choices of boards that bring what is needed.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Something that every choice of boards must come to.
#[derive(Clone, Debug)]
pub(super) struct Need {
    pub wanted: f64,
    /// What one of each board brings at the most.
    pub brings: Vec<f64>,
}

impl Need {
    /// Whether a choice comes to it; what floats may have rounded off speaks for the choice.
    pub fn is_met(&self, choice: &[u32]) -> bool {
        let brought: f64 = self.brings.iter().zip(choice).map(|(brings, &count)| brings * f64::from(count)).sum();
        brought >= self.least()
    }

    fn least(&self) -> f64 {
        self.wanted * (1.0 - 1e-9)
    }
}

/// What one costs, and how many there are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Price {
    pub cost: u64,
    pub count: u32,
}

/// What was found.
#[derive(Clone, Debug, Default)]
pub(super) struct Found {
    /// In ascending order of cost: how many of each board. None of them has a board too many.
    pub choices: Vec<Vec<u32>>,
    /// No choice that meets all needs costs less; `u64::MAX` where none is within the limit.
    pub least: u64,
    /// What it took, in steps.
    pub steps: u64,
}

/// Nodes looked into at most.
const MOST_NODES: usize = 2_000;

/// A choice as far as it goes: boards before `at` are settled, of that one there are as many or more.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Node {
    least: Reverse<u64>,
    /// The farther of equals first.
    at: usize,
    number: Reverse<usize>,
    cost: u64,
    choice: Vec<u32>,
}

/// The first choices that cost no more than a limit, so many at most.
pub(super) fn cheapest(prices: &[Price], needs: &[Need], step: u64, limit: u64, most: usize) -> Found {
    let orders = needs.iter().map(|need| order(prices, need)).collect();
    let seeking = Seeking { prices, needs, orders, step };
    let mut found = Found { choices: Vec::new(), least: u64::MAX, steps: 0 };
    let mut open = BinaryHeap::new();
    let mut number = 0;
    let offer = |open: &mut BinaryHeap<Node>, number: &mut usize, at: usize, cost: u64, choice: Vec<u32>| {
        if let Some(least) = seeking.least(at, cost, &choice).filter(|&least| least <= limit) {
            *number += 1;
            open.push(Node { least: Reverse(least), at, number: Reverse(*number), cost, choice });
        }
    };
    offer(&mut open, &mut number, 0, 0, vec![0; prices.len()]);
    while let Some(node) = open.pop() {
        // Nodes come in ascending order of what they cost at least.
        if number > MOST_NODES {
            found.least = found.least.min(node.least.0);
            break;
        }
        if needs.iter().all(|need| need.is_met(&node.choice)) {
            found.least = found.least.min(node.least.0);
            found.choices.push(node.choice);
            if found.choices.len() >= most {
                break;
            }
            continue;
        }
        let Some(price) = prices.get(node.at) else { continue };
        if node.choice[node.at] < price.count {
            let mut more = node.choice.clone();
            more[node.at] += 1;
            offer(&mut open, &mut number, node.at, node.cost.saturating_add(price.cost), more);
        }
        offer(&mut open, &mut number, node.at + 1, node.cost, node.choice);
    }
    found.steps = (number * needs.len() * prices.len()) as u64 / 16;
    found
}

/// Boards in the order of what they cost for what they bring, without those that bring nothing.
fn order(prices: &[Price], need: &Need) -> Vec<usize> {
    let mut order: Vec<usize> = (0..prices.len()).filter(|&board| need.brings[board] > 0.0).collect();
    let dear = |board: usize| prices[board].cost as f64 / need.brings[board];
    order.sort_by(|&a, &b| dear(a).total_cmp(&dear(b)));
    order
}

struct Seeking<'a> {
    prices: &'a [Price],
    needs: &'a [Need],
    orders: Vec<Vec<usize>>,
    step: u64,
}

impl Seeking<'_> {
    /// What any choice costs at least that begins like this; `None` where none meets all needs.
    fn least(&self, at: usize, cost: u64, choice: &[u32]) -> Option<u64> {
        let mut more = 0.0_f64;
        for (need, order) in self.needs.iter().zip(&self.orders) {
            let brought: f64 = need.brings.iter().zip(choice).map(|(brings, &count)| brings * f64::from(count)).sum();
            let mut missing = need.least() - brought;
            let mut paid = 0.0;
            for &board in order.iter().filter(|&&board| board >= at) {
                if missing <= 0.0 {
                    break;
                }
                let Price { cost, count } = self.prices[board];
                let taken = (missing / need.brings[board]).min(f64::from(count.saturating_sub(choice[board])));
                paid += taken * cost as f64;
                missing -= taken * need.brings[board];
            }
            if missing > need.wanted * 1e-12 {
                return None;
            }
            more = more.max(paid);
        }
        let more = (more * (1.0 - 1e-9) - 1e-6).max(0.0).ceil() as u64;
        Some(cost.saturating_add(more).div_ceil(self.step).saturating_mul(self.step))
    }
}
