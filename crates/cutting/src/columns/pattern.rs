//! What stands in one column, and whether it may.

use super::Position;
use super::task::Shape;

/// What stands in a row: ways of the column, each once, with how many things stand in that way; stacks are filled one
/// after the other.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct RowFill(pub Vec<(usize, u32)>);

/// What stands in a column of one shape.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Pattern {
    pub shape: usize,
    /// How many of each kind.
    pub amounts: Vec<u32>,
    /// From the bottom up.
    pub rows: Vec<RowFill>,
}

impl Pattern {
    pub fn new(shape: usize, of: &Shape, rows: Vec<RowFill>, kinds: usize) -> Self {
        let mut amounts = vec![0; kinds];
        for &(way, amount) in rows.iter().flat_map(|row| &row.0) {
            amounts[of.ways[way].kind] += amount;
        }
        Self { shape, amounts, rows }
    }

    /// How often it can be used in full, one after the other, with so many left.
    pub fn times(&self, left: &[u32]) -> u32 {
        self.amounts.iter().zip(left).filter(|(amount, _)| **amount > 0).map(|(amount, left)| left / amount).min().unwrap_or(0)
    }

    /// Takes what it holds from what is left, as far as there is.
    pub fn take(&self, left: &mut [u32]) {
        for (left, amount) in left.iter_mut().zip(&self.amounts) {
            *left = left.saturating_sub(*amount);
        }
    }
}

impl Shape {
    /// How high a row must be; only the lowest of several may be empty.
    pub fn need(&self, row: &RowFill, position: Position) -> u32 {
        if row.0.is_empty() {
            return self.empty.unwrap_or(0);
        }
        row.0.iter().map(|&(way, _)| self.ways[way].needs.at(position)).max().unwrap_or(0)
    }

    /// Whether the rows, each of which may lie anywhere, may lie on each other like this.
    pub fn holds(&self, rows: &[RowFill]) -> bool {
        let mut base = 0_u64;
        for (index, row) in rows.iter().enumerate() {
            let position = Position::of(index, rows.len());
            let mass: u64 = row.0.iter().map(|&(way, amount)| self.ways[way].mass * u64::from(amount)).sum();
            let too_high = row.0.iter().any(|&(way, _)| base > u64::from(self.ways[way].low));
            if too_high || mass > self.bears(position) || (row.0.is_empty() && (position != Position::Bottom || self.empty.is_none())) {
                return false;
            }
            base += u64::from(self.need(row, position));
        }
        base <= u64::from(self.height) && rows.len() <= self.most_rows as usize
    }

    /// The same rows with no more things in them than are left; these are taken from what is left. Rows that come out empty
    /// are left out, which keeps a column valid, but for a lowest row that those above it need: it stays, empty.
    pub fn settled(&self, rows: &[RowFill], left: &mut [u32]) -> Vec<RowFill> {
        let settled = rows.iter().map(|row| {
            let mut kept = Vec::with_capacity(row.0.len());
            for &(way, amount) in &row.0 {
                let still = &mut left[self.ways[way].kind];
                let amount = amount.min(*still);
                *still -= amount;
                if amount > 0 {
                    kept.push((way, amount));
                }
            }
            RowFill(kept)
        });
        let mut settled: Vec<RowFill> = settled.collect();
        let lowest = settled.first().is_some_and(|row| row.0.is_empty());
        settled.retain(|row| !row.0.is_empty());
        if lowest && self.empty.is_some() && !settled.is_empty() && !self.holds(&settled) {
            settled.insert(0, RowFill::default());
        }
        settled
    }
}
