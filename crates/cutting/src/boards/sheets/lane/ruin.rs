//! Which pieces are taken off.

use super::super::sheet::What;
use super::Lane;

/// Of a hundred steps, those that make room for one piece first.
const FOR_ONE: usize = 80;

impl Lane<'_> {
    /// Takes some pieces off some boards.
    pub(super) fn ruin(&mut self) {
        let used: Vec<usize> = (0..self.standing.sheets.len()).filter(|&number| self.standing.sheets[number].pieces > 0).collect();
        if used.is_empty() {
            return;
        }
        if self.dice.below(100) < FOR_ONE {
            self.make_room(&used);
        }
        // Where there are several boards to choose from, whole ones are changed for others more often.
        let whole = self.dice.below(if self.ground.boards.len() > 1 { 4 } else { 20 }) == 0;
        let goal = if whole { 1 } else { 1 + self.dice.below(8) as u32 };
        let mut taken = 0;
        for _ in 0..12 {
            let number = used[self.dice.below(used.len())];
            let sheet = &self.standing.sheets[number];
            if sheet.pieces == 0 {
                continue;
            }
            let node = if whole { 0 } else { self.dice.below(sheet.nodes.len()) as u32 };
            let cuttable = match sheet.node(node).what {
                What::Free | What::Gone => false,
                What::Piece { .. } => true,
                What::Cut { .. } => whole || sheet.pieces_below(node, goal) <= goal,
            };
            if cuttable {
                taken += self.clear(number, node);
            }
            if taken >= goal {
                break;
            }
        }
    }

    /// Takes all pieces off a node; gives how many.
    fn clear(&mut self, number: usize, node: u32) -> u32 {
        self.save(number);
        let before = self.standing.sheets[number].pieces;
        self.standing.clear(self.ground, &self.weights, number, node);
        before - self.standing.sheets[number].pieces
    }

    /// Takes off what lies where a piece without a place would go: the smallest of some nodes that are large enough for it.
    fn make_room(&mut self, used: &[usize]) {
        let missing: Vec<usize> = (0..self.standing.left.len()).filter(|&kind| self.standing.left[kind] > 0).collect();
        let Some(&kind) = missing.get(self.dice.below(missing.len())) else {
            return;
        };
        let kind = &self.ground.kinds[kind];
        let fits = |room: [i64; 2]| {
            kind.size[0] <= room[0] && kind.size[1] <= room[1] || kind.turn && kind.size[1] <= room[0] && kind.size[0] <= room[1]
        };
        let mut best: Option<(f64, usize, u32)> = None;
        let tries = 1 + self.dice.below(12);
        for _ in 0..tries {
            let number = used[self.dice.below(used.len())];
            let sheet = &self.standing.sheets[number];
            let node = self.dice.below(sheet.nodes.len()) as u32;
            let size = sheet.node(node).size;
            let taken = match sheet.node(node).what {
                What::Piece { .. } | What::Cut { .. } => fits(size),
                What::Free | What::Gone => false,
            };
            let area = size[0] as f64 * size[1] as f64;
            if taken && best.is_none_or(|best| area < best.0) {
                best = Some((area, number, node));
            }
        }
        if let Some((_, number, node)) = best {
            self.clear(number, node);
        }
    }
}
