//! What a column, or the rest of one, can bring at most.

use super::effort::Meter;
use super::pattern::RowFill;
use super::row::{Best, Ranked, Room};
use super::task::{ANYWHERE, Shape};
use super::{Needs, Position};

/// Steps into which a height is divided at most.
const MOST_CELLS: u32 = 1 << 15;

/// Columns of so many rows are told apart by how many rows may still come.
const MOST_LAYERS: u32 = 24;

/// Columns of more ways are not looked into: they may bring all that there is.
const MOST_WAYS: usize = 400;

/// Nodes spent on one row.
const ROW_NODES: u64 = 5_000;

/// Upper bounds by height. They let a kind stand in each row as often as there are things of it, and count heights in steps
/// that make no row higher than it is.
#[derive(Debug)]
pub(super) struct Ceiling {
    height: u32,
    low: u32,
    step: u32,
    /// Number of rows that may come, from 0, or one layer for any number; and in each the value by height left, in steps.
    layers: Vec<Vec<u64>>,
    counted: bool,
    most_rows: u32,
    rows: Rows,
    /// By height left, where low stacks may stand anywhere and rows are not counted; empty where that is the one layer.
    free: Vec<u64>,
    /// What a whole column can bring.
    pub whole: u64,
}

/// The best of the rows that need so much.
#[derive(Debug)]
struct Choice {
    need: u32,
    /// No such row brings more.
    value: u64,
    fill: RowFill,
}

/// By position, lowest first but for a lowest row left empty, which is the last; and between and at the top without low stacks, and with them.
#[derive(Debug)]
struct Rows {
    alone: Vec<Choice>,
    bottom: Vec<Choice>,
    between: [Vec<Choice>; 2],
    top: [Vec<Choice>; 2],
}

impl Ceiling {
    /// For a column of this shape, things of these values, and so many of each kind.
    pub fn new(shape: &Shape, values: &[u64], counts: &[u32], meter: &mut Meter) -> Self {
        let all: u64 = values.iter().zip(counts).map(|(value, &count)| value * u64::from(count)).sum();
        if shape.ways.len() > MOST_WAYS || !meter.goes_on() {
            return Self::blind(shape, all);
        }
        let rows = Rows::new(shape, values, counts, meter);
        let lowest = shape.ways.iter().map(|way| way.needs.between.min(way.needs.top).min(way.needs.bottom)).min().unwrap_or(1);
        let step = shape.height.div_ceil(MOST_CELLS).max(1);
        let counted = shape.most_rows < shape.height / lowest && shape.most_rows <= MOST_LAYERS;
        let mut ceiling = Self {
            height: shape.height,
            low: shape.low,
            step,
            layers: Vec::new(),
            counted,
            most_rows: shape.most_rows,
            rows,
            free: Vec::new(),
            whole: 0,
        };
        let cells = (shape.height / step) as usize;
        if lowest < step {
            // A row lower than a step would come for nothing.
            ceiling.counted = false;
            ceiling.layers = vec![vec![all; cells + 1]];
        } else if counted {
            ceiling.layers.push(vec![0; cells + 1]);
            for _ in 1..=shape.most_rows {
                let layer = ceiling.layer(ceiling.layers.last(), all, shape.low, meter);
                ceiling.layers.push(layer);
            }
            ceiling.free = ceiling.layer(None, all, shape.height, meter);
        } else {
            ceiling.layers.push(ceiling.layer(None, all, shape.low, meter));
            if shape.ways.iter().any(|way| way.low != ANYWHERE) {
                ceiling.free = ceiling.layer(None, all, shape.height, meter);
            }
        }
        let alone = ceiling.rows.alone.last().map_or(0, |row| row.value);
        let several = ceiling.best_bottom().map_or(0, |row| row.value + ceiling.above(row.need, 1));
        ceiling.whole = alone.max(several).min(all);
        ceiling
    }

    /// What is known without looking: a column can bring no more than there is.
    fn blind(shape: &Shape, all: u64) -> Self {
        let rows = Rows { alone: Vec::new(), bottom: Vec::new(), between: [Vec::new(), Vec::new()], top: [Vec::new(), Vec::new()] };
        let step = shape.height.max(1);
        Self {
            height: shape.height,
            low: shape.low,
            step,
            layers: vec![vec![all; 2]],
            counted: false,
            most_rows: shape.most_rows,
            rows,
            free: Vec::new(),
            whole: all,
        }
    }

    /// What rows above a base can bring, with so many rows under it.
    pub fn above(&self, base: u32, rows: u32) -> u64 {
        self.height.checked_sub(base).map_or(0, |rest| self.layers[self.layer_of(rows)][(rest / self.step) as usize])
    }

    /// What a column can bring beside a row of these needs, wherever the row is.
    pub fn beside(&self, needs: &Needs) -> u64 {
        let free = if self.free.is_empty() { &self.layers[0] } else { &self.free };
        let taken = needs.between.min(needs.top);
        let others = self.rows.bottom.iter().filter_map(|row| {
            let rest = self.height.checked_sub(taken)?.checked_sub(row.need)?;
            Some(row.value + free[(rest / self.step) as usize])
        });
        // Where no bottom row is known there may be any.
        let others = if self.rows.bottom.is_empty() { self.layers[0].last().copied() } else { others.max() };
        others.unwrap_or(0).max(self.above(needs.bottom, 1))
    }

    /// Rows that come to the whole, but for more things of a kind than there are, and for what heights lose in steps.
    pub fn rows(&self) -> Vec<RowFill> {
        let alone = self.rows.alone.last();
        let bottom = self.best_bottom().filter(|row| alone.is_none_or(|alone| row.value + self.above(row.need, 1) > alone.value));
        let Some(bottom) = bottom else {
            return alone.map(|row| row.fill.clone()).into_iter().collect();
        };
        let mut rows = vec![bottom.fill.clone()];
        let mut base = bottom.need;
        loop {
            let low = usize::from(base <= self.low);
            let rest = self.height - base;
            let count = rows.len() as u32;
            let last = self.rows.top[low].iter().rev().find(|row| row.need <= rest);
            let top_fits =
                |row: &&Choice| self.rows.top[0].first().is_some_and(|top| u64::from(row.need) + u64::from(top.need) <= u64::from(rest));
            let between = self.rows.between[low]
                .iter()
                .filter(|_| count + 2 <= self.most_rows)
                .filter(top_fits)
                .max_by_key(|row| row.value + self.above(base + row.need, count + 1));
            match (between, last) {
                (Some(row), last) if last.is_none_or(|last| row.value + self.above(base + row.need, count + 1) > last.value) => {
                    rows.push(row.fill.clone());
                    base += row.need;
                }
                (_, last) => {
                    rows.extend(last.map(|row| row.fill.clone()));
                    return rows;
                }
            }
        }
    }

    fn best_bottom(&self) -> Option<&Choice> {
        let rows = self.rows.bottom.iter().filter(|_| self.most_rows > 1);
        rows.max_by_key(|row| row.value + self.above(row.need, 1))
    }

    fn layer_of(&self, rows: u32) -> usize {
        if self.counted { self.most_rows.saturating_sub(rows) as usize } else { 0 }
    }

    /// The best that can come into each height where low stacks stand up to `low`, the rows above a row being of the layer
    /// `above`, or of this one.
    fn layer(&self, above: Option<&Vec<u64>>, all: u64, low: u32, meter: &mut Meter) -> Vec<u64> {
        let cells = (self.height / self.step) as usize;
        let steps = |rows: &Vec<Choice>| rows.iter().map(|row| ((row.need / self.step) as usize, row.value)).collect::<Vec<_>>();
        let between = self.rows.between.each_ref().map(steps);
        let top = self.rows.top.each_ref().map(steps);
        // Each cell is far less than a step of search.
        meter.spend((cells * (1 + between[1].len()) / 16) as u64);
        let mut best: Vec<u64> = Vec::with_capacity(cells + 1);
        for rest in 0..=cells {
            // One step up, because the base may lie anywhere in its step.
            let low = usize::from(cells - rest <= (low / self.step) as usize + 1);
            let last = top[low].iter().take_while(|(need, _)| *need <= rest).last().map_or(0, |&(_, value)| value);
            let more = between[low]
                .iter()
                .take_while(|(need, _)| *need <= rest)
                .map(|&(need, value)| value + above.map_or_else(|| best[rest - need], |above| above[rest - need]));
            best.push(more.max().unwrap_or(0).max(last).min(all));
        }
        best
    }
}

impl Rows {
    fn new(shape: &Shape, values: &[u64], counts: &[u32], meter: &mut Meter) -> Self {
        let ranked = Ranked::new(shape, values);
        let mut choices = |position, low| choices(shape, &ranked, counts, position, low, meter);
        let lows = shape.ways.iter().any(|way| way.low != ANYWHERE);
        let mut both = |position| {
            let without = choices(position, false);
            let with = if lows { choices(position, true) } else { without.iter().map(Choice::again).collect() };
            [without, with]
        };
        let (between, top) = (both(Position::Between), both(Position::Top));
        let mut bottom = choices(Position::Bottom, true);
        bottom.extend(shape.empty.map(|need| Choice { need, value: 0, fill: RowFill::default() }));
        Self { alone: choices(Position::Alone, true), bottom, between, top }
    }
}

impl Choice {
    fn again(&self) -> Self {
        Self { need: self.need, value: self.value, fill: self.fill.clone() }
    }
}

fn choices(shape: &Shape, ranked: &Ranked, counts: &[u32], position: Position, low: bool, meter: &mut Meter) -> Vec<Choice> {
    let mut needs: Vec<u32> = shape.ways.iter().map(|way| way.needs.at(position)).filter(|&need| need <= shape.height).collect();
    needs.sort_unstable();
    needs.dedup();
    let mut choices: Vec<Choice> = Vec::new();
    let mut left = counts.to_vec();
    // From the highest down: the best row of one need is the best of every lower need that it keeps within.
    while let Some(need) = needs.pop() {
        let Best { upper, fill, steps, value } =
            ranked.best(Room { position, need, base: if low { 0 } else { ANYWHERE } }, &mut left, ROW_NODES);
        meter.spend(steps);
        if upper == 0 {
            break;
        }
        let needed = if upper == value { shape.need(&fill, position) } else { need };
        needs.retain(|&lower| lower < needed);
        choices.push(Choice { need: needed, value: upper, fill });
    }
    choices.reverse();
    choices
}
