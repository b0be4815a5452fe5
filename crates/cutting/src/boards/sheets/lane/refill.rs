//! Boards filled at once with what is left over.

use super::super::fill::{self, MOST_WARES, Ware};
use super::super::sheet::Sheet;
use super::Lane;

/// Joins that take as long as a step.
const JOINS_A_STEP: u64 = 400;

/// Steps that one time of it may take; where it takes more, the steps themselves come farther.
const DEAREST: u64 = 6_000;

/// By what share prices are made uncertain at most.
const LUCK: f64 = 0.5;

/// How much dearer a piece is at most for being large: small ones find a place anyway.
const LARGE: f64 = 0.3;

impl Lane<'_> {
    /// Fills boards that may be taken with what has no place, one after another, by prices that chance has a hand in.
    pub(super) fn refill(&mut self) {
        let before = self.debt;
        let mut open: Vec<usize> = (0..self.ground.boards.len()).collect();
        while !open.is_empty() && !self.standing.complete() {
            let at = self.dice.below(open.len());
            let number = open[at];
            let board = &self.ground.boards[number];
            let affordable =
                self.standing.taken[number] < self.allowed[number] && self.standing.cost.saturating_add(board.cost) <= self.limit;
            if !affordable || !self.fill(number) {
                open.swap_remove(at);
            }
        }
        self.dear = self.debt - before > DEAREST;
    }

    /// Takes a board and fills it; whether anything goes onto it.
    fn fill(&mut self, number: usize) -> bool {
        let board = &self.ground.boards[number];
        let mut wares = self.wares();
        while !wares.is_empty() {
            let (plan, work) = fill::filled(board, &wares, &self.rules);
            self.debt += work / JOINS_A_STEP;
            let Some(plan) = plan else {
                // Fewer sizes come to fewer sums.
                wares.truncate(wares.len() / 2);
                continue;
            };
            let mut sheet = Sheet::new(number, board);
            let (standing, weights) = (&mut self.standing, &self.weights);
            plan.lay(&mut sheet, &mut |kind| {
                let left = standing.left.get_mut(kind).filter(|left| **left > 0)?;
                *left -= 1;
                standing.missing -= weights.weight[kind];
                Some(weights.area[kind])
            });
            if sheet.pieces == 0 {
                return false;
            }
            let opened = standing.open(self.ground, number);
            standing.sheets[opened] = sheet;
            return true;
        }
        false
    }

    /// What is left over, in an order by chance and by prices with chance in them.
    fn wares(&mut self) -> Vec<Ware> {
        let mut kinds: Vec<usize> = (0..self.standing.left.len()).filter(|&kind| self.standing.left[kind] > 0).collect();
        for number in (1..kinds.len()).rev() {
            kinds.swap(number, self.dice.below(number + 1));
        }
        kinds.truncate(MOST_WARES);
        let large = LARGE * self.dice.share();
        let greatest = kinds.iter().map(|&kind| self.weights.area[kind]).fold(0.0, f64::max);
        let luck = LUCK * self.dice.share();
        let ware = |kind: usize| {
            let of = &self.ground.kinds[kind];
            let price = self.weights.weight[kind] * (self.weights.area[kind] / greatest).powf(large);
            Ware { kind, size: of.size, turn: of.turn, most: self.standing.left[kind].min(u32::from(u8::MAX)) as u8, price }
        };
        let mut wares: Vec<Ware> = kinds.into_iter().map(ware).collect();
        for ware in &mut wares {
            ware.price *= 1.0 + luck * self.dice.share();
        }
        wares
    }
}
