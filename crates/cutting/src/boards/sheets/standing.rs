//! A layout as far as it has come: boards with what is cut from them, and what is left over.

use super::super::ground::Ground;
use super::sheet::Sheet;

/// Boards in use, and what has no place yet.
#[derive(Clone, Debug)]
pub(super) struct Standing {
    /// Those without pieces are not in use, and wait to be taken again.
    pub sheets: Vec<Sheet>,
    /// How many of each kind have no place.
    pub left: Vec<u32>,
    /// How many of each board are in use.
    pub taken: Vec<u32>,
    pub cost: u64,
    /// What has no place, by its weight.
    pub missing: f64,
}

/// What a piece of each kind weighs where not all have a place, and its area.
#[derive(Clone, Debug)]
pub(super) struct Weights {
    pub weight: Vec<f64>,
    pub area: Vec<f64>,
}

impl Weights {
    pub fn new(ground: &Ground, weigh: impl Fn(usize) -> f64) -> Self {
        let area = |kind: usize| ground.kinds[kind].size[0] as f64 * ground.kinds[kind].size[1] as f64;
        let kinds = 0..ground.kinds.len();
        Self { weight: kinds.clone().map(weigh).collect(), area: kinds.map(area).collect() }
    }
}

impl Standing {
    /// Nothing placed.
    pub fn new(ground: &Ground, weights: &Weights) -> Self {
        let left: Vec<u32> = ground.kinds.iter().map(|kind| kind.count).collect();
        let mut standing = Self { sheets: Vec::new(), left, taken: vec![0; ground.boards.len()], cost: 0, missing: 0.0 };
        standing.weigh(weights);
        standing
    }

    /// Weighs what is missing anew.
    pub fn weigh(&mut self, weights: &Weights) {
        self.missing = self.left.iter().zip(&weights.weight).map(|(&left, weight)| f64::from(left) * weight).sum();
    }

    pub fn complete(&self) -> bool {
        self.left.iter().all(|&left| left == 0)
    }

    /// The sum of the squares of free areas on boards in use.
    pub fn rests(&self) -> f64 {
        let square = |sheet: &Sheet, node: u32| {
            let [length, width] = sheet.node(node).size;
            (length as f64 * width as f64).powi(2)
        };
        let used = self.sheets.iter().filter(|sheet| sheet.pieces > 0);
        used.map(|sheet| sheet.free.iter().map(|&node| square(sheet, node)).sum::<f64>()).sum()
    }

    /// Takes a board, in the place of one that is not in use or as one more, and gives its number.
    pub fn open(&mut self, ground: &Ground, board: usize) -> usize {
        let fresh = Sheet::new(board, &ground.boards[board]);
        self.taken[board] += 1;
        self.cost += ground.boards[board].cost;
        if let Some(number) = self.sheets.iter().position(|sheet| sheet.pieces == 0) {
            self.sheets[number] = fresh;
            return number;
        }
        self.sheets.push(fresh);
        self.sheets.len() - 1
    }

    /// Takes all pieces off a node of a board.
    pub fn clear(&mut self, ground: &Ground, weights: &Weights, number: usize, node: u32) {
        let Self { sheets, left, taken, cost, missing } = self;
        let Some(sheet) = sheets.get_mut(number) else {
            return;
        };
        let mut area = 0.0;
        let before = sheet.pieces;
        sheet.clear(node, &mut |kind| {
            left[kind as usize] += 1;
            *missing += weights.weight[kind as usize];
            area += weights.area[kind as usize];
        });
        sheet.filled -= area;
        if before > 0 && sheet.pieces == 0 {
            taken[sheet.board] -= 1;
            *cost -= ground.boards[sheet.board].cost;
        }
    }
}
