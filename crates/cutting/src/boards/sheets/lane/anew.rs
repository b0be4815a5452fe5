//! Where a lane begins anew when nothing comes of it any more.

use super::super::super::ground::Kind;
use super::{CHANCE, Lane, Order};

/// Choices of boards that are remembered.
const CHOICES: usize = 5;

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
        self.recreate(Order::Area, CHANCE);
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

    /// Boards drawn by chance until the limit allows no more: the first of some draws that has room enough by area, or the roomiest.
    fn choice(&mut self) -> Vec<u32> {
        let boards = &self.ground.boards;
        let area = |(kind, area): (&Kind, &f64)| area * f64::from(kind.count);
        let needed: f64 = self.ground.kinds.iter().zip(&self.weights.area).map(area).sum();
        let mut best: (f64, Vec<u32>) = (-1.0, vec![0; boards.len()]);
        for _ in 0..DRAWS {
            let mut taken = vec![0; boards.len()];
            let (mut cost, mut room) = (0_u64, 0.0);
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
                room += board.room[0] as f64 * board.room[1] as f64;
            }
            if room > best.0 || room >= needed {
                best = (room, taken);
            }
            if room >= needed {
                // By room alone the same few would be tried again and again.
                break;
            }
        }
        best.1
    }
}
