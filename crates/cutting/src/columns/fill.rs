//! Filling one column well for given values, without a proof.

use super::Position;
use super::pattern::RowFill;
use super::row::{Ranked, Room};
use super::task::{ANYWHERE, Shape, Task};

/// Heights of row that are tried at each level at most.
const MOST_NEEDS: usize = 24;

/// Nodes spent on one row.
const ROW_NODES: u64 = 400;

/// Steps that one row counts for, beside those of looking for it.
const ROW_STEPS: u64 = 5;

/// Steps that one column counts for at most; from there it goes no higher.
const MOST_STEPS: u64 = 4_000_000;

/// A column begun, from the bottom up.
#[derive(Clone, Debug)]
struct Begun {
    base: u32,
    value: u64,
    left: Vec<u32>,
    /// Its highest row, in [`Fill::laid`].
    highest: Option<usize>,
}

struct Fill<'a> {
    shape: &'a Shape,
    ranked: Ranked<'a>,
    /// Rows with what lies under each.
    laid: Vec<(Option<usize>, RowFill)>,
    /// The best column so far: its value, its last row and what lies under that.
    best: (u64, RowFill, Option<usize>),
    work: u64,
}

/// A column filled.
#[derive(Debug)]
pub(super) struct FilledUp {
    /// From the bottom up; empty where nothing of any value is left that would stand.
    pub rows: Vec<RowFill>,
    pub value: u64,
    /// Steps that it took.
    pub work: u64,
}

/// Fills a column of this shape from what is left.
///
/// Columns are begun row by row. Of those that have come about as high as each other the most valuable are kept, in
/// `bands` bands of height.
pub(super) fn fill(shape: &Shape, values: &[u64], left: &[u32], bands: u32) -> FilledUp {
    let mut fill = Fill { shape, ranked: Ranked::new(shape, values), laid: Vec::new(), best: (0, RowFill::default(), None), work: 0 };
    let mut begun = vec![Begun { base: 0, value: 0, left: left.to_vec(), highest: None }];
    fill.finish(&begun[0], Position::Alone);
    let over = shape.empty.filter(|empty| *empty < shape.height).map(|base| {
        fill.laid.push((None, RowFill::default()));
        Begun { base, value: 0, left: left.to_vec(), highest: Some(fill.laid.len() - 1) }
    });
    for depth in 1..shape.most_rows {
        let position = if depth == 1 { Position::Bottom } else { Position::Between };
        let mut kept: Vec<Option<Begun>> = vec![None; bands as usize];
        for state in &begun {
            for next in fill.raised(state, position) {
                let band = (u64::from(next.base) * u64::from(bands) / (u64::from(shape.height) + 1)) as usize;
                if kept[band].as_ref().is_none_or(|kept| (next.value, kept.base) > (kept.value, next.base)) {
                    kept[band] = Some(next);
                }
            }
        }
        begun = kept.into_iter().flatten().collect();
        if depth == 1 {
            begun.extend(over.clone());
        }
        if begun.is_empty() || fill.work > MOST_STEPS {
            break;
        }
        for state in &begun {
            fill.finish(state, Position::Top);
        }
    }
    let (value, last, under) = fill.best;
    let mut rows = if value > 0 { vec![last] } else { Vec::new() };
    let mut under = under;
    while let Some(row) = under {
        rows.push(std::mem::take(&mut fill.laid[row].1));
        under = fill.laid[row].0;
    }
    rows.reverse();
    FilledUp { rows, value, work: fill.work }
}

impl Fill<'_> {
    /// Tries the column with one more row, and no further.
    fn finish(&mut self, state: &Begun, position: Position) {
        let room = Room { position, need: self.shape.height - state.base, base: state.base };
        let last = self.ranked.best(room, &mut state.left.clone(), ROW_NODES);
        self.work += ROW_STEPS + last.steps;
        // Without a last row it is no such column: its highest row would stand at the top.
        if last.value > 0 && state.value + last.value > self.best.0 {
            self.best = (state.value + last.value, last.fill, state.highest);
        }
    }

    /// The column with one more row of each height that matters, where another may follow.
    fn raised(&mut self, state: &Begun, position: Position) -> Vec<Begun> {
        let shape = self.shape;
        let needs_at = |position| shape.ways.iter().filter(|way| state.left[way.kind] > 0).map(move |way| way.needs.at(position));
        let Some(above) = needs_at(Position::Top).min().and_then(|top| (shape.height - state.base).checked_sub(top)) else {
            return Vec::new();
        };
        let mut needs: Vec<u32> = needs_at(position).collect();
        self.work += needs.len() as u64 / 4;
        needs.retain(|&need| need <= above);
        needs.sort_unstable();
        needs.dedup();
        let every = needs.len().div_ceil(MOST_NEEDS).max(1);
        let mut next = Vec::new();
        // From the highest down, each time below what the last row really needed.
        let mut below = u32::MAX;
        for &need in needs.iter().rev().step_by(every) {
            if need >= below {
                continue;
            }
            let mut left = state.left.clone();
            let row = self.ranked.best(Room { position, need, base: state.base }, &mut left, ROW_NODES);
            self.work += ROW_STEPS + row.steps;
            if row.value == 0 {
                break;
            }
            below = shape.need(&row.fill, position);
            for &(way, amount) in &row.fill.0 {
                left[shape.ways[way].kind] -= amount;
            }
            self.laid.push((state.highest, row.fill));
            let highest = Some(self.laid.len() - 1);
            next.push(Begun { base: state.base + below, value: state.value + row.value, left, highest });
        }
        next
    }
}

/// How much of a column each kind takes where it stands best, so that what is hard to place is worth placing early.
///
/// In parts of 2²⁴; `steep` above 1 favours the large ones, and `lifted` those that must stand low.
pub(super) fn sizes(task: &Task, steep: f64, lifted: f64) -> Vec<u64> {
    let mut least = vec![f64::INFINITY; task.kinds.len()];
    let mut low = vec![true; task.kinds.len()];
    for shape in &task.shapes {
        for way in &shape.ways {
            let of_width = f64::from(way.width) / f64::from(way.holds) / f64::from(shape.width);
            let of_mass = if way.mass == 0 { 0.0 } else { way.mass as f64 / shape.most_mass.max(shape.bottom_mass) as f64 };
            let of_height = f64::from(way.needs.between.min(shape.height)) / f64::from(shape.height);
            least[way.kind] = least[way.kind].min(of_height * of_width.max(of_mass));
            low[way.kind] &= way.low != ANYWHERE;
        }
    }
    let size = |(least, low): (f64, bool)| (least.powf(steep) * if low { lifted } else { 1.0 } * f64::from(1 << 24)) as u64 + 1;
    least.into_iter().zip(low).map(size).collect()
}

/// Worth, and among things of like worth the large ones first: they go into fewer gaps later.
pub(super) fn worths(task: &Task) -> Vec<u64> {
    let sizes = sizes(task, 1.0, 1.0);
    let largest = sizes.iter().copied().max().unwrap_or(1);
    task.kinds.iter().zip(sizes).map(|(kind, size)| kind.worth * (1 << 16) + (size << 8) / largest).collect()
}
