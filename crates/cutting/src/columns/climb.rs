//! Every column of rows that could matter, from the bottom up.

use super::ceiling::Ceiling;
use super::effort::Meter;
use super::pattern::{Pattern, RowFill};
use super::row::{self, Hope, RowKind};
use super::task::{ANYWHERE, Shape};

/// More kinds of row than this are not listed.
const MOST_ROWS: usize = 3_000;

/// Columns of more rows, and shapes of more ways, are not searched: each row and way is one level of the search.
const MOST_DEPTH: u32 = 400;

/// The rows of which the columns of one shape are made, for given values.
#[derive(Debug)]
pub(super) struct Rows<'a> {
    number: usize,
    shape: &'a Shape,
    values: &'a [u64],
    counts: &'a [u32],
    ceiling: Ceiling,
    /// What may lie above others.
    kinds: Vec<RowKind>,
    /// What may be the lowest.
    bottoms: Vec<RowKind>,
    /// What each of [`Rows::kinds`] brings where nothing of it is taken yet.
    worth: Vec<u64>,
    /// Least need of a row at the top.
    least_top: u32,
    /// Least need between others of a row that may lie anywhere.
    least_between: u32,
}

/// Told of each column found and its value; answers with the value that columns must have from here on.
type Told<'a> = dyn FnMut(u64, Vec<RowFill>) -> Option<u64> + 'a;

impl<'a> Rows<'a> {
    /// Rows that can be part of a column worth `floor`. `None` when there are too many or the effort is spent.
    pub fn new(number: usize, shape: &'a Shape, values: &'a [u64], counts: &'a [u32], floor: u64, meter: &mut Meter) -> Option<Self> {
        let ceiling = Ceiling::new(shape, values, counts, meter);
        Self::under(ceiling, number, shape, values, counts, floor, meter)
    }

    /// The same where the ceiling is known.
    pub fn under(
        ceiling: Ceiling,
        number: usize,
        shape: &'a Shape,
        values: &'a [u64],
        counts: &'a [u32],
        floor: u64,
        meter: &mut Meter,
    ) -> Option<Self> {
        if shape.ways.len() > MOST_DEPTH as usize {
            return None;
        }
        let beside = |needs: &super::Needs| ceiling.beside(needs);
        let hope = Hope { values, floor, beside: &beside };
        let mut kinds = row::every(shape, counts, shape.most_mass, &hope, MOST_ROWS, meter)?;
        let mut bottoms = kinds.clone();
        if shape.bottom_mass != shape.most_mass {
            bottoms = row::every(shape, counts, shape.bottom_mass, &hope, MOST_ROWS, meter)?;
        }
        bottoms.extend(shape.empty.map(|empty| RowKind::empty(shape, empty)));
        let value = |row: &RowKind| row.amounts.iter().map(|&(kind, amount)| values[kind] * u64::from(amount)).sum::<u64>();
        let density = |row: &RowKind| value(row) as f64 / f64::from(row.needs.between);
        // Those that must stand low first, by how high their tops may come: if they can all stand low enough in any order, they can in
        // this one (Jackson, "Scheduling a production line to minimize maximum tardiness", 1955). Then the others, the best first.
        let until = |row: &RowKind| u64::from(row.low) + u64::from(row.needs.between);
        kinds.sort_by(|a, b| match (a.low == ANYWHERE, b.low == ANYWHERE) {
            (true, true) => density(b).total_cmp(&density(a)),
            (false, false) => until(a).cmp(&until(b)),
            (a, b) => a.cmp(&b),
        });
        let least_top = kinds.iter().map(|row| row.needs.top).min().unwrap_or(u32::MAX);
        let anywhere = kinds.iter().filter(|row| row.low == ANYWHERE);
        let least_between = anywhere.map(|row| row.needs.between).min().unwrap_or(u32::MAX);
        let worth = kinds.iter().map(value).collect();
        Some(Self { number, shape, values, counts, ceiling, kinds, bottoms, worth, least_top, least_between })
    }

    /// Every column worth `floor` to which no row can be added; some may hold no more than others do. `None` when the effort
    /// is spent, the columns are too deep, or `told` wants no more.
    pub fn every(&self, floor: u64, meter: &mut Meter, told: &mut Told) -> Option<()> {
        let mut climb = Climb { rows: self, left: self.counts.to_vec(), floor, chosen: Vec::new(), meter, told };
        climb.alone()?;
        if self.shape.most_rows > 1 { climb.bottom() } else { Some(()) }
    }

    /// The most valuable column worth more than `floor`. `None` when the effort is spent.
    pub fn best(&self, floor: u64, meter: &mut Meter) -> Option<Best> {
        let mut best = None;
        self.every(floor.saturating_add(1), meter, &mut |value, rows| {
            best = Some((value, rows));
            Some(value + 1)
        })?;
        Some(best.map(|(value, rows)| (value, self.pattern(&rows))))
    }

    /// The pattern of such rows, with no more of a kind than there are.
    pub fn pattern(&self, rows: &[RowFill]) -> Pattern {
        let settled = self.shape.settled(rows, &mut self.counts.to_vec());
        Pattern::new(self.number, self.shape, settled, self.counts.len())
    }
}

/// The value and pattern of a best column, if any is good enough.
pub(super) type Best = Option<(u64, Pattern)>;

struct Climb<'a, 'm, 'e> {
    rows: &'a Rows<'a>,
    left: Vec<u32>,
    floor: u64,
    chosen: Vec<&'a RowKind>,
    meter: &'m mut Meter<'e>,
    told: &'m mut Told<'m>,
}

impl<'a> Climb<'a, '_, '_> {
    fn alone(&mut self) -> Option<()> {
        for row in &self.rows.bottoms {
            if row.needs.alone <= self.rows.shape.height {
                self.emit(row, self.brings(row))?;
            }
        }
        Some(())
    }

    fn bottom(&mut self) -> Option<()> {
        for row in &self.rows.bottoms {
            let need = row.needs.bottom;
            self.with(row, need, 0, 0, |climb, value| climb.above(0, need, value))?;
        }
        Some(())
    }

    /// All that can come above a base: rows between from a kind on, then one at the top.
    fn above(&mut self, from: usize, base: u32, value: u64) -> Option<()> {
        self.meter.spend(1 + self.rows.kinds.len() as u64 / 16)?;
        let rows = self.rows;
        let shape = rows.shape;
        let count = self.chosen.len() as u32;
        let rest = shape.height - base;
        if count > MOST_DEPTH {
            return None;
        }
        if count + 2 <= shape.most_rows {
            for (index, row) in rows.kinds.iter().enumerate().skip(from) {
                let fits = row.needs.between.checked_add(rows.least_top).is_some_and(|both| both <= rest);
                // A row between that brings nothing only takes room.
                let hope = value + rows.worth[index] + rows.ceiling.above(base + row.needs.between.min(rest), count + 1);
                if fits && base <= row.low && hope >= self.floor && self.adds(row) {
                    self.with(row, row.needs.between, base, value, |climb, more| climb.above(index, base + row.needs.between, more))?;
                }
            }
        }
        for (row, worth) in rows.kinds.iter().zip(&rows.worth) {
            if row.needs.top <= rest && base <= row.low && value + worth >= self.floor {
                let more = value + self.brings(row);
                if more >= self.floor && !self.takes_more(row, rest - row.needs.top) {
                    self.emit(row, more)?;
                }
            }
        }
        Some(())
    }

    /// Goes on with one more row, unless the column cannot come to the floor with it.
    fn with(&mut self, row: &'a RowKind, need: u32, base: u32, value: u64, go_on: impl FnOnce(&mut Self, u64) -> Option<()>) -> Option<()> {
        let more = value + self.brings(row);
        let Some(top) = base.checked_add(need).filter(|&top| top <= self.rows.shape.height) else {
            return Some(());
        };
        if more + self.rows.ceiling.above(top, self.chosen.len() as u32 + 1) < self.floor {
            return Some(());
        }
        let taken: Vec<(usize, u32)> = row.amounts.iter().map(|&(kind, amount)| (kind, amount.min(self.left[kind]))).collect();
        for &(kind, amount) in &taken {
            self.left[kind] -= amount;
        }
        self.chosen.push(row);
        let going = go_on(self, more);
        self.chosen.pop();
        for &(kind, amount) in &taken {
            self.left[kind] += amount;
        }
        going
    }

    fn brings(&self, row: &RowKind) -> u64 {
        row.amounts.iter().map(|&(kind, amount)| self.rows.values[kind] * u64::from(amount.min(self.left[kind]))).sum()
    }

    fn adds(&self, row: &RowKind) -> bool {
        row.amounts.iter().any(|&(kind, _)| self.left[kind] > 0)
    }

    /// Whether one more row would go between what is chosen and this row at the top: then a fuller column is told of elsewhere.
    fn takes_more(&self, top: &RowKind, rest: u32) -> bool {
        let beyond = |row: &RowKind| {
            row.amounts.iter().any(|&(kind, _)| {
                let taken = top.amounts.iter().find(|(other, _)| *other == kind).map_or(0, |&(_, amount)| amount);
                self.left[kind] > taken
            })
        };
        top.low == ANYWHERE
            && self.rows.least_between <= rest
            && self.chosen.len() as u32 + 2 <= self.rows.shape.most_rows
            && self.rows.kinds.iter().any(|row| row.low == ANYWHERE && row.needs.between <= rest && beyond(row))
    }

    fn emit(&mut self, last: &'a RowKind, value: u64) -> Option<()> {
        if value >= self.floor {
            let rows = self.chosen.iter().chain([&last]).map(|row| row.fill.clone()).collect();
            self.meter.spend(8 + self.left.len() as u64 / 4)?;
            self.floor = (self.told)(value, rows)?;
        }
        Some(())
    }
}

/// Patterns none of which holds at most what another of them holds.
pub(super) fn undominated(mut patterns: Vec<Pattern>) -> Vec<Pattern> {
    let size = |pattern: &Pattern| pattern.amounts.iter().sum::<u32>();
    patterns.sort_by(|a, b| size(b).cmp(&size(a)).then_with(|| b.amounts.cmp(&a.amounts)));
    let mut kept: Vec<Pattern> = Vec::new();
    for pattern in patterns {
        let holds = |other: &Pattern| other.amounts.iter().zip(&pattern.amounts).all(|(other, own)| other >= own);
        if !kept.iter().any(holds) {
            kept.push(pattern);
        }
    }
    kept
}
