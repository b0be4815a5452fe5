//! One lane of the search: takes pieces off and puts them back, again and again, with an aim that is always one board short.
//!
//! After S. Gardeyn and T. Wauters, "A goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing problem with guillotine
//! constraints", European Journal of Operational Research 301 (2022): the cost is limited to less than that of the best layout
//! known, what then has no place is left over, and the search makes the least of that until nothing is left over.
//! Which answers are kept is decided by late acceptance (E. K. Burke and Y. Bykov, "The late acceptance hill-climbing heuristic", ibid. 258, 2017).

mod anew;
mod refill;
mod ruin;

use std::sync::Arc;

use super::super::dice::Dice;
use super::super::ground::Ground;
use super::choices::Known;
use super::fit::{self, Fit, Rules};
use super::sheet::Sheet;
use super::standing::{Standing, Weights};

/// How many steps back an answer must be better than.
const HISTORY: usize = 300;

/// The share of places that are overlooked, so that not the same is built again and again.
const BLINK: f64 = 0.02;

/// By what share losses are made uncertain at most.
const CHANCE: f64 = 2.0;

/// How much large rests count against what is missing.
const RESTS: f64 = 0.2;

/// Steps that bring nothing before a lane begins anew from other boards, or from half of its own.
const STALE: u32 = 20_000;

/// The same where there are several boards to choose from: each choice of them is tried for a while.
const STALE_CHOICE: u32 = 4_000;

/// In which order what is left is put back.
#[derive(Clone, Copy, Debug)]
enum Order {
    Area,
    Longest,
    Length,
    Width,
    Chance,
}

pub(super) struct Lane<'a> {
    ground: &'a Ground<'a>,
    rules: Rules,
    weights: Weights,
    pub dice: Dice,
    pub standing: Standing,
    /// Boards in use cost no more than this.
    pub limit: u64,
    /// What the standing is worth, less is better, and what it was worth before.
    worth: f64,
    history: Vec<f64>,
    turn: usize,
    /// What the area of a board counts for, so that rests can be weighed against what is missing.
    unit: f64,
    /// Choices of boards that left least over, with how much that was.
    choices: Vec<(f64, Vec<u32>)>,
    /// How many of each board may be taken.
    allowed: Vec<u32>,
    /// What is known of choices of boards.
    known: Arc<Known>,
    /// The least that was missing since the lane began anew, and the steps since then.
    least: f64,
    stale: u32,
    /// So many are waited for.
    patience: u32,
    /// Whether filling whole boards takes too long here.
    dear: bool,
    /// Steps that other work stood for, still to be left out.
    debt: u64,
    saved: Vec<(usize, Sheet)>,
    spare: Vec<Sheet>,
}

impl<'a> Lane<'a> {
    pub fn new(ground: &'a Ground, weights: Weights, dice: Dice) -> Self {
        let standing = Standing::new(ground, &weights);
        let area = |size: [i64; 2]| size[0] as f64 * size[1] as f64;
        let unit = ground.boards.iter().map(|board| area(board.room)).fold(1.0, f64::max);
        let allowed = ground.boards.iter().map(|board| board.count).collect();
        let rules = Rules::new(ground);
        Self {
            ground,
            rules,
            weights,
            dice,
            standing,
            limit: u64::MAX,
            worth: 0.0,
            history: Vec::new(),
            turn: 0,
            unit,
            choices: Vec::new(),
            allowed,
            known: Arc::default(),
            least: f64::INFINITY,
            stale: 0,
            patience: if ground.boards.len() > 1 { STALE_CHOICE } else { STALE },
            dear: false,
            debt: 0,
            saved: Vec::new(),
            spare: Vec::new(),
        }
    }

    /// Puts everything in its place in one go, in the best of some orders.
    pub fn begin(&mut self) {
        let mut best: Option<Standing> = None;
        for order in [Order::Area, Order::Longest, Order::Length, Order::Width] {
            self.standing = Standing::new(self.ground, &self.weights);
            self.recreate(order, 0.0);
            let standing = &self.standing;
            let better = |best: &Standing| (standing.missing, standing.cost) < (best.missing, best.cost);
            if best.as_ref().is_none_or(better) {
                best = Some(self.standing.clone());
            }
            self.saved.clear();
        }
        if let Some(best) = best {
            self.standing = best;
        }
    }

    /// Sets a new limit of cost: takes what lies on too many boards off them, those filled least first.
    pub fn aim(&mut self, limit: u64, weights: Weights) {
        self.limit = limit;
        self.weights = weights;
        self.standing.weigh(&self.weights);
        while self.standing.cost > limit {
            let sheets = self.standing.sheets.iter().enumerate().filter(|(_, sheet)| sheet.pieces > 0);
            let filled = |sheet: &Sheet| sheet.filled / (self.ground.boards[sheet.board].cost as f64).max(1e-9);
            let Some((number, _)) = sheets.min_by(|a, b| filled(a.1).total_cmp(&filled(b.1))) else {
                break;
            };
            self.standing.clear(self.ground, &self.weights, number, 0);
        }
        self.allowed = self.ground.boards.iter().map(|board| board.count).collect();
        self.choices.clear();
        self.settle();
    }

    /// Tells what is known of choices of boards; where the one at hand will not do, begins anew.
    pub fn tell(&mut self, known: &Arc<Known>) {
        self.known = Arc::clone(known);
        self.choices.retain(|(_, choice)| known.allows(choice));
        if self.limit < u64::MAX && !known.allows(&self.allowed) {
            self.shake();
            self.choices.retain(|(_, choice)| known.allows(choice));
        }
    }

    /// From here on: what was before doesn't count.
    fn settle(&mut self) {
        self.worth = self.worth_now();
        self.history = vec![self.worth; HISTORY];
        (self.least, self.stale) = (self.standing.missing, 0);
    }

    /// One step: takes some off, puts back what has a place, and keeps it if it is good enough.
    pub fn step(&mut self) {
        if self.debt > 0 {
            self.debt -= 1;
            return;
        }
        let before = (self.standing.left.clone(), self.standing.taken.clone(), self.standing.cost, self.standing.missing);
        let sheets = self.standing.sheets.len();
        self.ruin();
        let order = match self.dice.below(12) {
            0..=4 => Order::Area,
            5..=6 => Order::Longest,
            7..=8 => Order::Length,
            9..=10 => Order::Width,
            _ => Order::Chance,
        };
        let chance = CHANCE * self.dice.share();
        self.recreate(order, chance);
        let worth = self.worth_now();
        self.turn = (self.turn + 1) % HISTORY;
        if worth <= self.worth || worth <= self.history[self.turn] {
            self.worth = worth;
            self.spare.extend(self.saved.drain(..).map(|(_, sheet)| sheet));
        } else {
            while let Some((number, sheet)) = self.saved.pop() {
                let spoilt = std::mem::replace(&mut self.standing.sheets[number], sheet);
                self.spare.push(spoilt);
            }
            self.standing.sheets.truncate(sheets);
            (self.standing.left, self.standing.taken, self.standing.cost, self.standing.missing) = before;
        }
        self.spare.truncate(32);
        self.history[self.turn] = self.worth;
        if self.standing.missing < self.least - 1e-9 {
            (self.least, self.stale) = (self.standing.missing, 0);
        } else {
            self.stale += 1;
        }
        if self.stale > self.patience && !self.standing.complete() {
            self.shake();
        }
    }

    fn worth_now(&self) -> f64 {
        // Rests are squares of areas; over a board's area they are an area again.
        let scale = self.weights.area.iter().zip(&self.weights.weight).map(|(area, weight)| weight / area).fold(0.0, f64::max);
        self.standing.missing - RESTS * scale * self.standing.rests() / self.unit
    }

    /// Keeps a board as it is, to go back to.
    fn save(&mut self, number: usize) {
        if self.saved.iter().any(|(saved, _)| *saved == number) {
            return;
        }
        let Some(sheet) = self.standing.sheets.get(number) else {
            return;
        };
        let copy = match self.spare.pop() {
            Some(mut spare) => {
                spare.clone_from(sheet);
                spare
            }
            None => sheet.clone(),
        };
        self.saved.push((number, copy));
    }

    /// Puts back what has a place.
    fn recreate(&mut self, order: Order, chance: f64) {
        for kind in self.order(order) {
            while self.standing.left[kind] > 0 {
                let place = self.best_place(kind, chance).or_else(|| self.opened(kind, chance));
                let Some((number, fit)) = place else {
                    break;
                };
                self.save(number);
                self.standing.sheets[number].put(&fit.place, kind as u32, self.weights.area[kind]);
                self.standing.left[kind] -= 1;
                self.standing.missing -= self.weights.weight[kind];
            }
        }
        if self.standing.complete() {
            self.standing.missing = 0.0;
        }
    }

    /// The kinds that are left, in the order in which they are put back.
    fn order(&mut self, order: Order) -> Vec<usize> {
        let mut kinds: Vec<usize> = (0..self.standing.left.len()).filter(|&kind| self.standing.left[kind] > 0).collect();
        let size = |kind: usize| self.ground.kinds[kind].size;
        match order {
            Order::Area => kinds.sort_by(|&a, &b| self.weights.area[b].total_cmp(&self.weights.area[a])),
            Order::Longest => kinds.sort_by_key(|&kind| std::cmp::Reverse(size(kind)[0].max(size(kind)[1]))),
            Order::Length => kinds.sort_by_key(|&kind| std::cmp::Reverse(size(kind)[0])),
            Order::Width => kinds.sort_by_key(|&kind| std::cmp::Reverse(size(kind)[1])),
            Order::Chance => {
                for number in (1..kinds.len()).rev() {
                    kinds.swap(number, self.dice.below(number + 1));
                }
            }
        }
        kinds
    }

    /// The best place on the boards in use.
    fn best_place(&mut self, kind: usize, chance: f64) -> Option<(usize, Fit)> {
        let of = &self.ground.kinds[kind];
        let mut best: Option<(usize, Fit)> = None;
        for (number, sheet) in self.standing.sheets.iter().enumerate().filter(|(_, sheet)| sheet.pieces > 0) {
            for &node in &sheet.free {
                let room = sheet.node(node).size;
                let fits = of.size[0] <= room[0] && of.size[1] <= room[1] || of.turn && of.size[1] <= room[0] && of.size[0] <= room[1];
                if !fits || chance > 0.0 && self.dice.share() < BLINK {
                    continue;
                }
                let Some(fit) = fit::best(self.ground, &self.rules, sheet, node, of, chance, &mut self.dice) else {
                    continue;
                };
                if best.is_none_or(|best| fit.loss < best.1.loss) {
                    best = Some((number, fit));
                }
            }
        }
        best
    }

    /// A place on a board that is taken for it, within the limit of cost.
    fn opened(&mut self, kind: usize, chance: f64) -> Option<(usize, Fit)> {
        let of = &self.ground.kinds[kind];
        let affordable = |board: usize| {
            let there = &self.ground.boards[board];
            self.standing.taken[board] < self.allowed[board] && self.standing.cost.saturating_add(there.cost) <= self.limit
        };
        let mut choices: Vec<(f64, usize, Fit)> = Vec::new();
        for board in (0..self.ground.boards.len()).filter(|&board| affordable(board)) {
            let there = &self.ground.boards[board];
            let empty = Sheet::new(board, there);
            if let Some(fit) = fit::best(self.ground, &self.rules, &empty, 0, of, chance, &mut self.dice) {
                let price = there.cost as f64 / (there.room[0] as f64 * there.room[1] as f64);
                let luck = if chance > 0.0 { 0.5 + self.dice.share() } else { 1.0 };
                choices.push((price * luck, board, fit));
            }
        }
        let (_, board, fit) = choices.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
        // A board that waits to be taken again is kept, as one in use would be.
        if let Some(number) = self.standing.sheets.iter().position(|sheet| sheet.pieces == 0) {
            self.save(number);
        }
        Some((self.standing.open(self.ground, board), fit))
    }
}
