//! Which boards may do: choices of boards that nothing known forbids, and so what any layout costs at least.
//!
//! ```text
//! prices of pieces ──lines──▶ Need: the boards of a choice bring at least what is wanted
//!                                │
//! boards, needs ──cheapest──▶ choices of boards, the cheapest first ──parting──▶ prices that forbid one, or none
//! ```
//!
//! By any prices at all, what the boards of a choice bring at the most must come to what all pieces together are worth: a need.
//! The cheapest choice that meets all needs known bounds the cost from below. Then prices are sought that forbid it, and so on until
//! none can be found, or the bound meets the cost of a layout. The choices that are left tell the search where to look.

mod cheapest;
mod lines;
mod parting;

use std::collections::HashSet;

use super::super::ground::Ground;
use super::bounds::{self, Product};
use super::sort::Sort;
use cheapest::{Need, Price, cheapest};
use lines::Lines;
use parting::{Outcome, Parting};

/// More kinds of boards, or sorts of pieces, than this are not looked into: the simple bounds do for them.
const MOST_BOARDS: usize = 100;
const MOST_SORTS: usize = 300;

/// Variables of one programme at most.
const MOST_VARIABLES: usize = 2_000;

/// Choices that are listed at most.
const LISTED: usize = 40;

/// So much less work is done once the bound is final.
const FINAL: i64 = 8;

/// Needs at most.
const MOST_NEEDS: usize = 300;

/// What is known of the choices that cost less than the best layout.
#[derive(Debug, Default)]
pub(super) struct Known {
    needs: Vec<Need>,
    /// The cheapest that nothing forbids, without a board too many.
    pub listed: Vec<Vec<u32>>,
    /// Whether these are all of them.
    pub all: bool,
}

pub(super) struct Choices {
    sorts: Vec<Sort>,
    lines: Vec<Lines>,
    prices: Vec<Price>,
    needs: Vec<Need>,
    /// Prices that are tried before any others, the last first.
    tried_first: Vec<Product>,
    /// All costs are multiples of this.
    pub step: u64,
    /// No layout costs less.
    pub bound: u64,
    /// All boards together cost this.
    dearest: u64,
    /// The cheapest that nothing known forbids.
    listed: Vec<Vec<u32>>,
    /// Those of which is known that nothing here forbids them.
    met: HashSet<Vec<u32>>,
    /// For which limit, and by how many needs.
    listed_for: Option<(u64, usize)>,
    open: Option<(Vec<u32>, Parting)>,
    /// Work that may be spent; below 0 where more was.
    work: i64,
    /// The limit for which all has been looked into.
    done: Option<u64>,
}

impl Choices {
    pub fn new(ground: &Ground) -> Self {
        let step = ground.boards.iter().fold(0, |step, board| bounds::gcd(step, board.cost)).max(1);
        let dearest = ground.boards.iter().fold(0_u64, |all, board| all.saturating_add(board.cost.saturating_mul(u64::from(board.count))));
        let prices = ground.boards.iter().map(|board| Price { cost: board.cost, count: board.count }).collect();
        let sorts = Sort::all(ground);
        let mut choices = Self {
            sorts,
            lines: Vec::new(),
            prices,
            needs: Vec::new(),
            tried_first: Vec::new(),
            step,
            bound: bounds::least_cost(ground),
            dearest,
            listed: Vec::new(),
            met: HashSet::new(),
            listed_for: None,
            open: None,
            work: 0,
            done: None,
        };
        let few = ground.boards.len() <= MOST_BOARDS && choices.sorts.len() <= MOST_SORTS;
        if few && !ground.boards.is_empty() && !choices.sorts.is_empty() {
            choices.lines = ground.boards.iter().map(|board| Lines::new(board, &choices.sorts, ground.kerf)).collect();
            choices.first_needs(ground);
        }
        choices
    }

    /// What each sort asks for by itself, and the prices that are tried first: areas, and the best dual-feasible functions.
    fn first_needs(&mut self, ground: &Ground) {
        let Self { sorts, lines, needs, tried_first, .. } = self;
        for (number, sort) in sorts.iter().enumerate() {
            let copies: Vec<f64> = lines.iter().map(|lines| lines.copies[number]).collect();
            // What is alike everywhere says less than the areas do.
            if copies.iter().any(|&most| most < f64::from(sort.count)) {
                needs.push(Need { wanted: f64::from(sort.count), brings: copies });
            }
        }
        tried_first.extend(bounds::products(ground, sorts).into_iter().rev());
        let all: f64 = sorts.iter().map(|sort| sort.area() * f64::from(sort.count)).sum();
        let prices = sorts.iter().map(|sort| sort.area() / all.max(1.0)).collect();
        tried_first.push(Product { prices, most: vec![f64::INFINITY; lines.len()] });
    }

    /// The need of the next of the prices that are tried first; with the work that it took.
    fn try_first(&mut self) -> Option<u64> {
        let product = self.tried_first.pop()?;
        let (mut need, work) = parting::need(&self.sorts, &self.lines, &product.prices);
        for (brings, most) in need.brings.iter_mut().zip(product.most) {
            *brings = brings.min(most * (1.0 + 1e-9));
        }
        self.needs.push(need);
        Some(work)
    }

    /// Looks into choices that cost no more than a limit until the work is spent; whether the list has changed. What is spent beyond
    /// that is saved the next time.
    pub fn advance(&mut self, limit: u64, work: u64) -> bool {
        let limit = limit.min(self.dearest);
        if self.lines.is_empty() || self.bound > limit || self.done == Some(limit) {
            return false;
        }
        // Once nothing forbids the cheapest, the bound is as high as it gets; whatever else is learnt only tells the search where to look.
        let is_final = self.listed.first().is_some_and(|first| self.met.contains(first));
        self.work += work.cast_signed() / if is_final { FINAL } else { 1 };
        while self.work > 0
            && let Some(spent) = self.try_first()
        {
            self.work -= spent.cast_signed();
        }
        let mut changed = false;
        while self.work > 0 && self.bound <= limit {
            if self.listed_for != Some((limit, self.needs.len())) {
                changed |= self.list(limit);
                continue;
            }
            let Some((choice, parting)) = self.open.take().map(|(choice, parting)| (choice, Some(parting))).or_else(|| self.next()) else {
                self.done = Some(limit);
                break;
            };
            let Some(mut parting) = parting else {
                self.met.insert(choice);
                continue;
            };
            let (outcome, spent) = parting.round(&self.sorts, &self.lines);
            self.work -= spent.cast_signed();
            match outcome {
                Outcome::GoesOn => self.open = Some((choice, parting)),
                Outcome::Met => {
                    self.met.insert(choice);
                }
                Outcome::Unmet(need) => self.needs.push(need),
            }
        }
        changed
    }

    /// Lists the choices anew, and raises the bound to the cheapest.
    fn list(&mut self, limit: u64) -> bool {
        let found = cheapest(&self.prices, &self.needs, self.step, limit, LISTED);
        self.work -= found.steps.cast_signed();
        self.listed_for = Some((limit, self.needs.len()));
        // Where no choice is left within the limit, the next dearer cost is the least, or not everything has a place.
        let least = if found.least == u64::MAX { limit.saturating_add(self.step).min(self.dearest) } else { found.least };
        self.bound = self.bound.max(least);
        let changed = found.choices != self.listed;
        self.listed = found.choices;
        changed
    }

    /// The next choice to be looked into, with its programme where that can be solved.
    fn next(&mut self) -> Option<(Vec<u32>, Option<Parting>)> {
        if self.needs.len() >= MOST_NEEDS {
            return None;
        }
        let open = |choice: &&Vec<u32>| !self.met.contains(*choice) && Parting::variables(choice, &self.sorts) <= MOST_VARIABLES;
        let choice = self.listed.iter().find(open)?.clone();
        let variables = Parting::variables(&choice, &self.sorts) as u64;
        // The first solving goes over all rows again and again.
        self.work -= (variables * (variables / 4 + 1)).cast_signed();
        let parting = Parting::new(&choice, &self.sorts, &self.lines);
        Some((choice, parting))
    }

    /// What is known by now.
    pub fn known(&self) -> Known {
        Known { needs: self.needs.clone(), listed: self.listed.clone(), all: self.listed.len() < LISTED }
    }
}

impl Known {
    /// Whether nothing known forbids a choice.
    pub fn allows(&self, choice: &[u32]) -> bool {
        self.needs.iter().all(|need| need.is_met(choice))
    }
}
