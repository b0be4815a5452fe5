//! Answers made better by emptying a column or two and filling them anew.

use super::effort::Meter;
use super::fill::fill;
use super::pattern::{Pattern, RowFill};
use super::search::Answer;
use super::task::Task;

/// In how many bands columns are begun.
const BANDS: [u32; 3] = [6, 12, 24];

/// Columns with what stands in each, and what is left.
#[derive(Clone, Debug)]
pub(super) struct Standing<'a> {
    task: &'a Task<'a>,
    columns: Vec<(usize, Vec<RowFill>)>,
    pub left: Vec<u32>,
}

impl<'a> Standing<'a> {
    /// An answer in so many columns of each shape.
    pub fn new(task: &'a Task<'a>, answer: &Answer, counts: &[u32]) -> Self {
        let mut left = task.counts();
        let mut still = counts.to_vec();
        let mut columns = Vec::new();
        for (pattern, times) in answer {
            let taken = (*times).min(still[pattern.shape]);
            still[pattern.shape] -= taken;
            for _ in 0..taken {
                columns.push((pattern.shape, task.shapes[pattern.shape].settled(&pattern.rows, &mut left)));
            }
        }
        for (number, still) in still.into_iter().enumerate() {
            columns.extend((0..still).map(|_| (number, Vec::new())));
        }
        Self { task, columns, left }
    }

    pub fn answer(&self) -> Answer {
        let filled = self.columns.iter().filter(|(_, rows)| !rows.is_empty());
        filled.map(|(shape, rows)| (Pattern::new(*shape, &self.task.shapes[*shape], rows.clone(), self.left.len()), 1)).collect()
    }

    /// What is left, by values.
    fn missing(&self, values: &[u64]) -> u64 {
        self.left.iter().zip(values).map(|(&left, value)| value * u64::from(left)).sum()
    }

    /// Empties and fills until nothing is missing, or so many trials have brought nothing, or the effort is spent. What stands is never worth less by these values than before.
    pub fn refill(&mut self, values: &[u64], trials: u32, dice: &mut Dice, meter: &mut Meter) {
        let mut idle = 0;
        let mut missing = self.missing(values);
        while missing > 0 && idle < trials && !self.columns.is_empty() && meter.goes_on() {
            let first = dice.below(self.columns.len());
            let second = dice.below(self.columns.len());
            let spread = [0, 8, 24][dice.below(3)];
            // Other values each time, so that other columns come of it.
            let bent: Vec<u64> = values.iter().map(|value| value / 64 * (64 + dice.below(spread + 1) as u64) + 1).collect();
            let bands = BANDS[dice.below(BANDS.len())];
            let before = self.clone();
            for &column in &[first, second] {
                self.empty(column);
            }
            for &column in &[first, second] {
                // The second of the same two times one has been filled already.
                if self.columns[column].1.is_empty() {
                    let shape = self.columns[column].0;
                    let filled = fill(&self.task.shapes[shape], &bent, &self.left, bands);
                    meter.spend(filled.work);
                    self.columns[column].1 = self.task.shapes[shape].settled(&filled.rows, &mut self.left);
                }
            }
            let now = self.missing(values);
            idle = if now < missing { 0 } else { idle + 1 };
            if now > missing {
                *self = before;
            } else {
                missing = now;
            }
        }
    }

    fn empty(&mut self, column: usize) {
        let (shape, rows) = &mut self.columns[column];
        for (way, amount) in rows.drain(..).flat_map(|row| row.0) {
            self.left[self.task.shapes[*shape].ways[way].kind] += amount;
        }
    }
}

/// Numbers that look drawn and are the same each time: Marsaglia's xorshift ("Xorshift RNGs", Journal of Statistical
/// Software 8 (2003), number 14).
#[derive(Debug)]
pub(super) struct Dice(u64);

impl Dice {
    pub fn new() -> Self {
        Self(0x9e37_79b9_7f4a_7c15)
    }

    /// A number from 0 and below `count`, which is above 0.
    fn below(&mut self, count: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 20) % count as u64) as usize
    }
}
