//! From a tree to pieces in their places and cuts in their order.

use super::super::ground::{self, Ground};
use super::super::layout::{Cut, Placed, Used};
use super::super::task::{Cuts, Direction};
use super::fit::Rules;
use super::sheet::{Sheet, What};

/// The board as it is told.
pub(super) fn used(ground: &Ground, rules: &Rules, sheet: &Sheet) -> Used {
    let line = ground.boards[sheet.board].line;
    let used = Used { stock: ground.task.stock[line].id.clone(), line, placed: Vec::new(), cuts: Vec::new() };
    let mut telling = Telling { ground, rules, sheet, used };
    telling.tell(0, [0, 0]);
    telling.used
}

struct Telling<'a> {
    ground: &'a Ground<'a>,
    rules: &'a Rules,
    sheet: &'a Sheet,
    used: Used,
}

impl Telling<'_> {
    /// Tells a node that begins at a place.
    fn tell(&mut self, node: u32, at: [i64; 2]) {
        match self.sheet.node(node).what {
            What::Free | What::Gone => {}
            What::Piece { kind, turned } => {
                let line = self.ground.kinds[kind as usize].line;
                let [x, y] = self.ground.place(at);
                self.used.placed.push(Placed { piece: self.ground.task.pieces[line].id.clone(), line, x, y, turned });
            }
            What::Cut { way } => self.cut(node, way, at),
        }
    }

    fn cut(&mut self, node: u32, way: usize, at: [i64; 2]) {
        let kerf = self.rules.kerf;
        let mut children: Vec<u32> = self.sheet.children(node).collect();
        if self.ground.boards[self.sheet.board].defects.is_empty() {
            // What is free lies at the far end, where it is of most use.
            children.sort_by_key(|&child| self.sheet.node(child).what == What::Free);
        }
        let size = |child: u32| self.sheet.node(child).size[way];
        let mut ends = Vec::with_capacity(children.len());
        let mut end = at[way];
        for &child in &children {
            end += size(child);
            ends.push(end);
        }
        let mut order: Vec<usize> = (0..children.len().saturating_sub(1)).collect();
        for (number, &child) in children.iter().enumerate().take(order.len()).skip(1) {
            // A strip thinner than the saw goes with the second of the cuts beside it.
            if size(child) < kerf {
                order.swap(number - 1, number);
            }
        }
        let [from, to] = self.across(node, way, at);
        let stage = self.sheet.stage(node, self.rules.first);
        let direction = if way == ground::way(Direction::Across) { Direction::Across } else { Direction::Along };
        for number in order {
            let mut place = at;
            place[way] = ends[number] - kerf;
            self.used.cuts.push(Cut { stage, cut: direction, at: self.ground.place(place)[way], from, to });
        }
        for (&child, end) in children.iter().zip(ends) {
            let mut begin = at;
            begin[way] = end - size(child);
            self.tell(child, begin);
        }
    }

    /// From where to where a cut goes.
    fn across(&self, node: u32, way: usize, at: [i64; 2]) -> [f64; 2] {
        let other = 1 - way;
        if self.ground.task.cuts == Cuts::Lengths {
            return [0.0, 0.0];
        }
        let mut far = at;
        far[other] += self.sheet.node(node).size[other] - self.rules.kerf;
        [at, far].map(|place| self.ground.place(place)[other])
    }
}
