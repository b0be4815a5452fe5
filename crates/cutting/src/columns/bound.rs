//! Prices of things, and the bounds that follow from them.
//!
//! Whatever the prices are, the bound holds: it is worked out in whole numbers from what a column can bring at most, which
//! [`Ceiling`] answers. Good prices only make it sharp.

use super::ceiling::Ceiling;
use super::effort::Meter;
use super::fill::sizes;
use super::task::Task;

/// Worths and costs come to no more parts than this, so that sums over all things and columns stay exact in 64 bits.
const MOST_PARTS: u64 = 1 << 36;

/// Prices of kinds, in parts of `scale`, and what a column of each shape brings by them.
#[derive(Clone, Debug)]
pub(super) struct Prices {
    pub scale: u64,
    /// Of one thing of each kind.
    pub price: Vec<u64>,
    /// What a column of each shape can bring at most. To [`super::place`] a thing brings its worth above its price, to
    /// [`super::cover`] its price.
    pub brings: Vec<u64>,
}

impl Prices {
    /// Of nothing: each column by the worth of what it can hold at most.
    pub fn free(task: &Task, meter: &mut Meter) -> Self {
        let scale = worth_scale(task);
        let values: Vec<u64> = task.kinds.iter().map(|kind| kind.worth * scale).collect();
        let brings = task.shapes.iter().map(|shape| Ceiling::new(shape, &values, &task.counts(), meter).whole).collect();
        Self { scale, price: vec![0; task.kinds.len()], brings }
    }

    /// By size, such that no column brings more than it costs.
    pub fn by_size(task: &Task, meter: &mut Meter) -> Self {
        let price = sizes(task, 1.0, 1.0);
        let brings = task.shapes.iter().map(|shape| Ceiling::new(shape, &price, &task.counts(), meter).whole).collect();
        Self { scale: cost_scale(task), price, brings }.in_proportion(task, |_| true)
    }

    /// The same, but that no column that there is plenty of brings more than it costs.
    pub fn lowered(self, task: &Task) -> Self {
        let above = |number: usize| !task.scarce(number) && self.brings[number] > task.shapes[number].cost * self.scale;
        let lowered: Vec<bool> = (0..task.shapes.len()).map(above).collect();
        if lowered.contains(&true) { self.in_proportion(task, |number| lowered[number]) } else { self }
    }

    /// The same in such proportion that the dearest of some shapes brings just what it costs.
    fn in_proportion(self, task: &Task, of: impl Fn(usize) -> bool) -> Self {
        let cost = |number: usize| u128::from(task.shapes[number].cost * self.scale);
        let brings = |number: usize| u128::from(self.brings[number].max(1));
        let dearest =
            (0..task.shapes.len()).filter(|&number| of(number)).max_by(|&a, &b| (brings(a) * cost(b)).cmp(&(brings(b) * cost(a))));
        let Some(dearest) = dearest else {
            return self;
        };
        let part = |figure: u64| u128::from(figure) * cost(dearest);
        let price = self.price.iter().map(|&price| (part(price) / brings(dearest)) as u64).collect();
        let brings = self.brings.iter().map(|&most| part(most).div_ceil(brings(dearest)) as u64).collect();
        Self { scale: self.scale, price, brings }
    }

    /// What no placement is worth more than, in parts of the scale.
    pub fn most_worth(&self, task: &Task) -> u64 {
        let columns: u64 = task.shapes.iter().zip(&self.brings).map(|(shape, brings)| brings * u64::from(shape.count)).sum();
        self.of_all(task) + columns
    }

    /// What no cover costs less than, in parts of the scale: the prices of all things, less what scarce columns bring more
    /// than they cost.
    pub fn least_cost(&self, task: &Task) -> u64 {
        let rent = |number: usize| self.whole(task, number) - task.shapes[number].cost * self.scale;
        let rents = (0..task.shapes.len()).map(|number| rent(number).saturating_mul(u64::from(task.shapes[number].count)));
        let rents = rents.fold(0, u64::saturating_add);
        self.of_all(task).saturating_sub(rents)
    }

    /// What a column costs, or where it is scarce what it brings, if that is more.
    pub fn whole(&self, task: &Task, number: usize) -> u64 {
        let cost = task.shapes[number].cost * self.scale;
        if task.scarce(number) { cost.max(self.brings[number]) } else { cost }
    }

    /// The prices of all things together.
    pub fn of_all(&self, task: &Task) -> u64 {
        task.kinds.iter().zip(&self.price).map(|(kind, price)| price * u64::from(kind.count)).sum()
    }
}

/// Parts of a unit of worth.
pub(super) fn worth_scale(task: &Task) -> u64 {
    let most = task.kinds.iter().map(|kind| kind.worth).max().unwrap_or(0);
    MOST_PARTS / most.max(1)
}

/// Parts of a unit of cost.
pub(super) fn cost_scale(task: &Task) -> u64 {
    let most = task.shapes.iter().map(|shape| shape.cost).max().unwrap_or(0);
    (MOST_PARTS / most.max(1)).max(1)
}
