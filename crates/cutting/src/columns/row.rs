//! What a row can hold: the best for given values, or everything that could matter.

use super::effort::Meter;
use super::pattern::RowFill;
use super::task::{ANYWHERE, Shape, Way};
use super::{Needs, Position};

/// Figures in `f64` that bound whole numbers are widened by this, so that rounding never makes a bound too small.
pub(super) const WIDER: f64 = 1.0 + 1e-9;

/// Ways that are looked at for each node of a search at most, taken over the whole search.
const LOOKS: u64 = 64;

/// Ways of a column in the order of what they bring for their width.
#[derive(Debug)]
pub(super) struct Ranked<'a> {
    shape: &'a Shape,
    values: &'a [u64],
    /// Ways of any value, best first.
    order: Vec<usize>,
    /// Value for width of each in the order.
    dense: Vec<f64>,
    /// Best value for mass from each on.
    light: Vec<f64>,
    mass_matters: bool,
}

/// Which rows are asked for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    pub position: Position,
    pub need: u32,
    /// How high its base lies.
    pub base: u32,
}

/// The best row found.
#[derive(Clone, Debug, Default)]
pub(super) struct Best {
    pub value: u64,
    pub fill: RowFill,
    /// No row is worth more.
    pub upper: u64,
    /// Steps that it took.
    pub steps: u64,
}

impl<'a> Ranked<'a> {
    /// `values` are those of each kind.
    pub fn new(shape: &'a Shape, values: &'a [u64]) -> Self {
        let density = |way: &Way| values[way.kind] as f64 * f64::from(way.holds) / f64::from(way.width);
        let mut order: Vec<usize> = (0..shape.ways.len()).filter(|&way| values[shape.ways[way].kind] > 0).collect();
        order.sort_by(|&a, &b| density(&shape.ways[b]).total_cmp(&density(&shape.ways[a])).then(a.cmp(&b)));
        let dense = order.iter().map(|&way| density(&shape.ways[way])).collect();
        let mut light: Vec<f64> = order.iter().map(|&way| values[shape.ways[way].kind] as f64 / shape.ways[way].mass as f64).collect();
        for index in (1..light.len()).rev() {
            light[index - 1] = light[index - 1].max(light[index]);
        }
        Self { shape, values, order, dense, light, mass_matters: shape.mass_matters(shape.most_mass.min(shape.bottom_mass)) }
    }

    /// The most valuable row, looked for in so many nodes at most, with a look at [`LOOKS`] ways for each.
    pub fn best(&self, room: Room, left: &mut [u32], nodes: u64) -> Best {
        let mut search = Search { ranked: self, room, left, nodes, looks: nodes * LOOKS, current: Vec::new(), best: Best::default() };
        let bears = self.shape.bears(room.position);
        let complete = search.go(0, self.shape.width, bears, 0).is_some();
        let spent = nodes - search.nodes + (nodes * LOOKS - search.looks) / 8;
        let mut best = search.best;
        best.steps = spent;
        best.upper = best.value;
        if !complete {
            let first = self.order.iter().position(|&way| left[self.shape.ways[way].kind] > 0 && room.takes(&self.shape.ways[way]));
            best.upper = first.map_or(0, |first| self.hope(first, self.shape.width, bears)).max(best.value);
        }
        best
    }

    /// What the ways from one on can bring at most in this width and mass.
    fn hope(&self, from: usize, width: u32, mass: u64) -> u64 {
        let by_width = self.dense[from] * f64::from(width);
        let by_mass = if mass == 0 && self.light[from].is_finite() { 0.0 } else { self.light[from] * mass as f64 };
        // Not a number (infinite times 0) is never the lesser of the two.
        (by_width.min(by_mass) * WIDER) as u64
    }
}

impl Room {
    fn takes(self, way: &Way) -> bool {
        way.needs.at(self.position) <= self.need && self.base <= way.low
    }
}

impl Shape {
    /// Whether a row full of the heaviest stacks weighs too much for what it bears.
    fn mass_matters(&self, bears: u64) -> bool {
        let heaviest = self.ways.iter().map(|way| way.mass as f64 * f64::from(way.holds) / f64::from(way.width)).fold(0.0, f64::max);
        heaviest * f64::from(self.width) * WIDER > bears as f64
    }
}

/// How many things may stand in one way: the most, and fewer only where that may help others.
fn amounts(way: &Way, most: u32, mass_matters: bool) -> impl Iterator<Item = u32> + use<> {
    let step = if mass_matters { 1 } else { way.holds };
    let mut next = most;
    std::iter::from_fn(move || {
        let amount = next;
        // Down to the next number that fills its stacks, so that each step frees one stack.
        next = if amount == 0 { 0 } else { (amount - 1) / step * step };
        (amount > 0).then_some(amount)
    })
}

fn most(way: &Way, left: u32, width: u32, mass: u64) -> u32 {
    let by_width = u64::from(width / way.width) * u64::from(way.holds);
    let by_mass = mass.checked_div(way.mass).unwrap_or(u64::MAX);
    by_width.min(by_mass).min(u64::from(left)) as u32
}

struct Search<'a> {
    ranked: &'a Ranked<'a>,
    room: Room,
    left: &'a mut [u32],
    nodes: u64,
    looks: u64,
    current: Vec<(usize, u32)>,
    best: Best,
}

impl Search<'_> {
    /// `None` when out of nodes.
    fn go(&mut self, from: usize, width: u32, mass: u64, value: u64) -> Option<()> {
        self.nodes = self.nodes.checked_sub(1)?;
        if value > self.best.value {
            self.best.value = value;
            self.best.fill = RowFill(self.current.clone());
        }
        for index in from..self.ranked.order.len() {
            self.looks = self.looks.checked_sub(1)?;
            let number = self.ranked.order[index];
            let way = &self.ranked.shape.ways[number];
            let most = most(way, self.left[way.kind], width, mass);
            if most == 0 || !self.room.takes(way) {
                continue;
            }
            if value + self.ranked.hope(index, width, mass) <= self.best.value {
                return Some(());
            }
            for amount in amounts(way, most, self.ranked.mass_matters) {
                self.left[way.kind] -= amount;
                self.current.push((number, amount));
                let narrower = width - amount.div_ceil(way.holds) * way.width;
                let more = value + u64::from(amount) * self.ranked.values[way.kind];
                let going = self.go(index + 1, narrower, mass - u64::from(amount) * way.mass, more);
                self.current.pop();
                self.left[way.kind] += amount;
                going?;
            }
        }
        Some(())
    }
}

/// A row as a part of columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RowKind {
    pub fill: RowFill,
    /// Kinds and how many of each, by kind.
    pub amounts: Vec<(usize, u32)>,
    pub needs: Needs,
    /// How high its base may lie.
    pub low: u32,
}

impl RowKind {
    /// The lowest row left empty: never alone, and never above another.
    pub fn empty(shape: &Shape, need: u32) -> Self {
        let never = shape.height.saturating_add(1);
        let needs = Needs { alone: never, bottom: need, between: never, top: never };
        Self { fill: RowFill::default(), amounts: Vec::new(), needs, low: ANYWHERE }
    }
}

/// What a row must bring to be worth listing.
pub(super) struct Hope<'a> {
    pub values: &'a [u64],
    /// The least value of the whole column.
    pub floor: u64,
    /// What the rest of the column can bring beside a row of these needs.
    pub beside: &'a dyn Fn(&Needs) -> u64,
}

/// Every row that weighs no more than it `bears`, to which nothing can be added without raising its needs or keeping it lower, and
/// which can be part of a column of the value hoped for. `None` when there are more than `most` or the effort is spent.
pub(super) fn every(shape: &Shape, counts: &[u32], bears: u64, hope: &Hope, most: usize, meter: &mut Meter) -> Option<Vec<RowKind>> {
    let mut dense: Vec<f64> =
        shape.ways.iter().map(|way| hope.values[way.kind] as f64 * f64::from(way.holds) / f64::from(way.width)).collect();
    for index in (1..dense.len()).rev() {
        dense[index - 1] = dense[index - 1].max(dense[index]);
    }
    let mass_matters = shape.mass_matters(bears);
    let mut listing =
        Listing { shape, hope, dense, mass_matters, left: counts.to_vec(), most, meter, current: Vec::new(), rows: Vec::new() };
    listing.go(0, shape.width, bears, 0, &Needs::same(0))?;
    let mut rows = listing.rows;
    rows.sort_by(|a, b| a.fill.cmp(&b.fill));
    Some(rows)
}

struct Listing<'a, 'm, 'e> {
    shape: &'a Shape,
    hope: &'a Hope<'a>,
    /// Best value for width from each way on.
    dense: Vec<f64>,
    mass_matters: bool,
    left: Vec<u32>,
    most: usize,
    meter: &'m mut Meter<'e>,
    current: Vec<(usize, u32)>,
    rows: Vec<RowKind>,
}

impl Listing<'_, '_, '_> {
    fn go(&mut self, from: usize, width: u32, mass: u64, value: u64, needs: &Needs) -> Option<()> {
        self.meter.spend(1)?;
        let still = self.dense.get(from).map_or(0, |dense| (dense * f64::from(width) * WIDER) as u64);
        if value.saturating_add(still).saturating_add((self.hope.beside)(needs)) < self.hope.floor {
            return Some(());
        }
        let Some(way) = self.shape.ways.get(from) else {
            return self.list(width, mass, needs);
        };
        let most = most(way, self.left[way.kind], width, mass);
        for amount in amounts(way, most, self.mass_matters) {
            self.left[way.kind] -= amount;
            self.current.push((from, amount));
            let narrower = width - amount.div_ceil(way.holds) * way.width;
            let more = value + u64::from(amount) * self.hope.values[way.kind];
            let going = self.go(from + 1, narrower, mass - u64::from(amount) * way.mass, more, &needs.with(&way.needs));
            self.current.pop();
            self.left[way.kind] += amount;
            going?;
        }
        self.go(from + 1, width, mass, value, needs)
    }

    fn list(&mut self, width: u32, mass: u64, needs: &Needs) -> Option<()> {
        let low = self.current.iter().map(|&(way, _)| self.shape.ways[way].low).min().unwrap_or(ANYWHERE);
        let taken = |number: usize| self.current.iter().find(|(way, _)| *way == number).map_or(0, |&(_, amount)| amount);
        let more = self.shape.ways.iter().enumerate().any(|(number, way)| {
            let spare = !taken(number).is_multiple_of(way.holds) || way.width <= width;
            let within = needs.with(&way.needs) == *needs && way.low >= low;
            spare && within && way.mass <= mass && self.left[way.kind] > 0
        });
        if more || self.current.is_empty() {
            return Some(());
        }
        if self.rows.len() >= self.most {
            return None;
        }
        let mut amounts: Vec<(usize, u32)> = Vec::new();
        for &(way, amount) in &self.current {
            let kind = self.shape.ways[way].kind;
            match amounts.iter_mut().find(|(other, _)| *other == kind) {
                Some((_, sum)) => *sum += amount,
                None => amounts.push((kind, amount)),
            }
        }
        amounts.sort_unstable();
        self.rows.push(RowKind { fill: RowFill(self.current.clone()), amounts, needs: *needs, low });
        Some(())
    }
}

impl Needs {
    /// The greater of both, everywhere.
    pub(super) fn with(&self, other: &Self) -> Self {
        Self {
            alone: self.alone.max(other.alone),
            bottom: self.bottom.max(other.bottom),
            between: self.between.max(other.between),
            top: self.top.max(other.top),
        }
    }
}
