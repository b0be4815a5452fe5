//! Where a lane begins anew when nothing comes of it any more.

use std::sync::Arc;

use super::super::super::ground::Kind;
use super::{CHANCE, Lane, Order, STALE, STALE_CHOICE};

/// Choices of boards that are remembered.
const CHOICES: usize = 5;

/// Of so many of those drawn the roomiest is tried.
const ROOMIER_OF: usize = 3;

/// Of so many new choices one is among the cheapest that may do.
const LISTED_ONE_IN: usize = 4;

/// The share of beginnings in which whole boards are filled at once, and of these where all boards are.
const REFILLS: f64 = 0.8;

/// So many boards are filled anew at most.
const FEW_BOARDS: usize = 10;

/// Steps that bring nothing after that before the lane begins anew: what is filled so well is soon as good as it gets.
const STALE_REFILLED: u32 = 1_000;

/// Draws of boards for one choice.
const DRAWS: u32 = 30;

impl Lane<'_> {
    /// Begins anew: from another choice of boards that the limit allows, or from half of what is there.
    pub(super) fn shake(&mut self) {
        let several = self.ground.boards.len() > 1 && self.limit < u64::MAX;
        if several {
            self.remember();
            // Half of the time one of the choices that left least over is tried on.
            let known = self.dice.below(2 * self.choices.len());
            self.allowed = match self.choices.get(known) {
                Some((_, choice)) => choice.clone(),
                None => self.choice(),
            };
        }
        for number in 0..self.standing.sheets.len() {
            let sheet = &self.standing.sheets[number];
            let beyond = self.standing.taken[sheet.board] > self.allowed[sheet.board];
            if sheet.pieces > 0 && (beyond || self.dice.below(2) == 0) {
                self.standing.clear(self.ground, &self.weights, number, 0);
            }
        }
        // With many boards there is too much to be built up again each time.
        let few = self.standing.sheets.iter().filter(|sheet| sheet.pieces > 0).count() <= FEW_BOARDS;
        let refills = several && few && !self.dear && self.dice.share() < REFILLS;
        if refills {
            if self.dice.share() < REFILLS {
                for number in (0..self.standing.sheets.len()).filter(|&number| self.standing.sheets[number].pieces > 0).collect::<Vec<_>>()
                {
                    self.standing.clear(self.ground, &self.weights, number, 0);
                }
            }
            self.refill();
        }
        self.patience = match (several, refills) {
            (true, true) => STALE_REFILLED,
            (true, false) => STALE_CHOICE,
            (false, _) => STALE,
        };
        if !self.standing.complete() {
            self.recreate(Order::Area, CHANCE);
        }
        self.spare.extend(self.saved.drain(..).map(|(_, sheet)| sheet));
        self.settle();
    }

    /// Keeps the choice of boards at hand in mind, if it is among those that left least over.
    fn remember(&mut self) {
        match self.choices.iter_mut().find(|(_, choice)| *choice == self.allowed) {
            Some((least, _)) => *least = least.min(self.least),
            None => self.choices.push((self.least, self.allowed.clone())),
        }
        self.choices.sort_by(|a, b| a.0.total_cmp(&b.0));
        self.choices.truncate(CHOICES);
    }

    /// Boards drawn by chance until the limit allows no more, to some that may do where they are known: the first of some draws that
    /// nothing forbids and that has room enough by area, or the roomiest.
    fn choice(&mut self) -> Vec<u32> {
        let known = Arc::clone(&self.known);
        let listed = &known.listed;
        // The cheapest of many lie far below the limit, and the cheapest that will do may not.
        if !listed.is_empty() && (known.all || self.dice.below(LISTED_ONE_IN) == 0) {
            let drawn = [0; ROOMIER_OF].map(|_| {
                let begin = listed[self.dice.below(listed.len())].clone();
                self.filled_up(begin)
            });
            return drawn.into_iter().max_by(|a, b| a.0.total_cmp(&b.0)).map_or_else(Vec::new, |drawn| drawn.1);
        }
        let area = |(kind, area): (&Kind, &f64)| area * f64::from(kind.count);
        let needed: f64 = self.ground.kinds.iter().zip(&self.weights.area).map(area).sum();
        let mut best: (f64, Vec<u32>) = (-1.0, vec![0; self.ground.boards.len()]);
        for _ in 0..DRAWS {
            let (room, taken) = self.filled_up(vec![0; self.ground.boards.len()]);
            let enough = room >= needed && known.allows(&taken);
            if room > best.0 || enough {
                best = (room, taken);
            }
            if enough {
                // By room alone the same few would be tried again and again.
                break;
            }
        }
        best.1
    }

    /// Draws boards to those taken until the limit allows no more; with the room that they have.
    fn filled_up(&mut self, mut taken: Vec<u32>) -> (f64, Vec<u32>) {
        let boards = &self.ground.boards;
        let mut cost = taken.iter().zip(boards).map(|(&count, board)| board.cost.saturating_mul(u64::from(count))).sum::<u64>();
        let mut open: Vec<usize> = (0..boards.len()).collect();
        while !open.is_empty() {
            let at = self.dice.below(open.len());
            let board = &boards[open[at]];
            if taken[open[at]] >= board.count || cost.saturating_add(board.cost) > self.limit {
                open.swap_remove(at);
                continue;
            }
            taken[open[at]] += 1;
            cost += board.cost;
        }
        let room = taken.iter().zip(boards).map(|(&count, board)| f64::from(count) * board.room[0] as f64 * board.room[1] as f64).sum();
        (room, taken)
    }
}
