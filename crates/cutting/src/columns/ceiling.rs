//! What the rest of a column can bring at most.

use super::row::{Ranked, Room};
use super::task::Shape;
use super::{Needs, Position};

/// Steps into which a height is divided at most.
const MOST_CELLS: u32 = 4096;

/// The same where rows are so low that coarser steps would count them for nothing.
const MOST_CELLS_OF_LOW_ROWS: u32 = 1 << 15;

/// Columns of so many rows are told apart by how many rows may still come.
const MOST_LAYERS: u32 = 24;

/// Nodes spent on one row.
const ROW_NODES: u64 = 5_000;

/// Upper bounds by height. They let a kind stand in each row as often as there are things of it, and count heights in steps
/// that make no row higher than it is.
#[derive(Debug)]
pub(super) struct Ceiling {
    height: u32,
    step: u32,
    /// Number of rows that may come, from 0, or one layer for any number; and in each the value by height left, in steps.
    layers: Vec<Vec<u64>>,
    counted: bool,
    most_rows: u32,
    bottom: Options,
    /// By height left, where low stacks may stand anywhere and rows are not counted.
    free: Vec<u64>,
    /// What a whole column can bring.
    pub whole: u64,
}

/// The best of the rows of each height, lowest first.
type Options = Vec<(u32, u64)>;

struct Rows {
    alone: Options,
    bottom: Options,
    between: [Options; 2],
    top: [Options; 2],
}

impl Ceiling {
    /// For a column of this shape, things of these values, and so many of each kind.
    pub fn new(shape: &Shape, values: &[u64], counts: &[u32]) -> Self {
        let all: u64 = values.iter().zip(counts).map(|(value, &count)| value * u64::from(count)).sum();
        let ranked = Ranked::new(shape, values);
        let rows = Rows::new(shape, &ranked, counts);
        let lowest = shape.ways.iter().map(|way| way.needs.between.min(way.needs.top).min(way.needs.bottom)).min().unwrap_or(1);
        let mut step = shape.height.div_ceil(MOST_CELLS).max(1);
        if lowest < step && shape.height / lowest <= MOST_CELLS_OF_LOW_ROWS {
            step = lowest;
        }
        let counted = shape.most_rows < shape.height / lowest && shape.most_rows <= MOST_LAYERS;
        let mut ceiling = Self {
            height: shape.height,
            step,
            layers: Vec::new(),
            counted,
            most_rows: shape.most_rows,
            bottom: Vec::new(),
            free: Vec::new(),
            whole: 0,
        };
        let cells = (shape.height / step) as usize;
        // A row lower than a step would come for nothing.
        if lowest < step {
            ceiling.counted = false;
            ceiling.layers = vec![vec![all; cells + 1]];
            ceiling.free = vec![all; cells + 1];
        } else if counted {
            ceiling.layers.push(vec![0; cells + 1]);
            for _ in 1..=shape.most_rows {
                let under = ceiling.layers.last().cloned().unwrap_or_default();
                ceiling.layers.push(layer(shape, step, &rows, Some(&under), all));
            }
        } else {
            ceiling.layers.push(layer(shape, step, &rows, None, all));
        }
        if ceiling.free.is_empty() {
            ceiling.free = layer(&Shape { low: shape.height, ..shape.clone() }, step, &rows, None, all);
        }
        let alone = rows.alone.last().map_or(0, |&(_, value)| value);
        let several = rows.bottom.iter().map(|&(need, value)| value + ceiling.above(need, 1)).max();
        ceiling.whole = alone.max(several.filter(|_| shape.most_rows > 1).unwrap_or(0)).min(all);
        ceiling.bottom = rows.bottom;
        ceiling
    }

    /// What rows above a base can bring, with so many rows under it.
    pub fn above(&self, base: u32, rows: u32) -> u64 {
        let Some(rest) = self.height.checked_sub(base) else {
            return 0;
        };
        let layer = if self.counted { self.most_rows.saturating_sub(rows) as usize } else { 0 };
        self.layers[layer][(rest / self.step) as usize]
    }

    /// What a column can bring beside a row of these needs, wherever the row is.
    pub fn beside(&self, needs: &Needs) -> u64 {
        let taken = needs.between.min(needs.top);
        let others = self.bottom.iter().filter_map(|&(need, value)| {
            let rest = self.height.checked_sub(taken)?.checked_sub(need)?;
            Some(value + self.free[(rest / self.step) as usize])
        });
        others.max().unwrap_or(0).max(if needs.bottom <= self.height { self.above(needs.bottom, 1) } else { 0 })
    }
}

/// One layer: the best that can come into each height, the rows under it being of the layer `under`, or of this one.
fn layer(shape: &Shape, step: u32, rows: &Rows, under: Option<&Vec<u64>>, all: u64) -> Vec<u64> {
    let cells = (shape.height / step) as usize;
    let steps = |options: &Options| options.iter().map(|&(need, value)| ((need / step) as usize, value)).collect::<Vec<_>>();
    let between = rows.between.each_ref().map(steps);
    let top = rows.top.each_ref().map(steps);
    let mut best: Vec<u64> = Vec::with_capacity(cells + 1);
    for rest in 0..=cells {
        // One step up, because the base may lie anywhere in its step.
        let low = usize::from(cells - rest <= (shape.low / step) as usize + 1);
        let last = top[low].iter().take_while(|(need, _)| *need <= rest).last().map_or(0, |&(_, value)| value);
        let more = between[low]
            .iter()
            .take_while(|(need, _)| *need <= rest)
            .map(|&(need, value)| value + under.map_or_else(|| best[rest - need], |under| under[rest - need]));
        best.push(more.max().unwrap_or(0).max(last).min(all));
    }
    best
}

impl Rows {
    fn new(shape: &Shape, ranked: &Ranked, counts: &[u32]) -> Self {
        let options = |position, low| options(shape, ranked, counts, position, low);
        Self {
            alone: options(Position::Alone, true),
            bottom: options(Position::Bottom, true),
            between: [options(Position::Between, false), options(Position::Between, true)],
            top: [options(Position::Top, false), options(Position::Top, true)],
        }
    }
}

fn options(shape: &Shape, ranked: &Ranked, counts: &[u32], position: Position, low: bool) -> Options {
    let mut needs: Vec<u32> = shape.ways.iter().map(|way| way.needs.at(position)).filter(|&need| need <= shape.height).collect();
    needs.sort_unstable();
    needs.dedup();
    let mut options = Options::new();
    let mut left = counts.to_vec();
    for need in needs {
        let value = ranked.best(Room { position, need, low }, &mut left, ROW_NODES).upper;
        if options.last().is_none_or(|&(_, lower)| value > lower) && value > 0 {
            options.push((need, value));
        }
    }
    options
}
