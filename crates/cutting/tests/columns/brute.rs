//! Every arrangement there is, one by one.

use std::collections::{BTreeSet, HashMap};

use casewright_cutting::columns::{Column, Position, Thing};

/// How many of each thing, in the order in which they are given.
type Amounts = Vec<u32>;

/// Everything that can stand in one column, nothing among it.
fn fillings(things: &[Thing], column: &Column) -> BTreeSet<Amounts> {
    let mut all = BTreeSet::from([vec![0; things.len()]]);
    let total: u32 = things.iter().map(|thing| thing.count).sum();
    // One more where the lowest is left empty.
    let most = total + u32::from(column.empty.is_some());
    for rows in 1..=most.min(column.most_rows.unwrap_or(most)) {
        raise(things, column, 0, rows, 0, &vec![0; things.len()], &mut all);
    }
    all
}

/// Row number `row` of `rows`, with every content, and the rows above it.
fn raise(things: &[Thing], column: &Column, row: u32, rows: u32, base: u32, used: &Amounts, all: &mut BTreeSet<Amounts>) {
    if row == rows {
        all.insert(used.clone());
        return;
    }
    let position = match (row == 0, row + 1 == rows) {
        (true, true) => Position::Alone,
        (true, false) => Position::Bottom,
        (false, true) => Position::Top,
        (false, false) => Position::Between,
    };
    let mut walk = Walk { things, column, base, position, content: vec![0; things.len()], all: Vec::new() };
    walk.fill(0, 0, 0, 0.0, used);
    if let (Position::Bottom, Some(empty)) = (position, column.empty) {
        walk.all.push((empty, vec![0; things.len()]));
    }
    for (need, amounts) in walk.all {
        if base + need <= column.height {
            let more = used.iter().zip(&amounts).map(|(used, amount)| used + amount).collect();
            raise(things, column, row + 1, rows, base + need, &more, all);
        }
    }
}

/// The contents of one row.
struct Walk<'a> {
    things: &'a [Thing],
    column: &'a Column,
    base: u32,
    position: Position,
    content: Amounts,
    /// Each with what it needs.
    all: Vec<(u32, Amounts)>,
}

impl Walk<'_> {
    /// Adds stacks from number `from` on to a row that has come to a width, a need and a mass, with so many things used below.
    fn fill(&mut self, from: usize, width: u32, need: u32, mass: f64, used: &Amounts) {
        for number in from..self.column.stacks.len() {
            let stack = &self.column.stacks[number];
            let thing = self.things.iter().position(|thing| thing.id == stack.thing).expect("it is given");
            if width + stack.width > self.column.width || stack.low.is_some_and(|low| self.base > low) {
                continue;
            }
            let bears = match self.position {
                Position::Alone | Position::Bottom => self.column.bottom_mass,
                Position::Between | Position::Top => self.column.most_mass,
            };
            for count in 1..=stack.holds {
                let heavier = mass + stack.mass * f64::from(count);
                if used[thing] + self.content[thing] + count > self.things[thing].count || heavier > bears + 1e-9 {
                    break;
                }
                self.content[thing] += count;
                let higher = need.max(stack.needs.at(self.position));
                self.all.push((higher, self.content.clone()));
                self.fill(number, width + stack.width, higher, heavier, used);
                self.content[thing] -= count;
            }
        }
    }
}

/// The greatest worth that can be placed.
pub fn place(things: &[Thing], columns: &[Column]) -> u64 {
    let mut totals = BTreeSet::from([vec![0; things.len()]]);
    for column in columns {
        let fillings = fillings(things, column);
        for _ in 0..column.count.unwrap_or(1) {
            let both = |total: &Amounts| {
                let sums = fillings.iter().map(|filling| total.iter().zip(filling).map(|(a, b)| a + b).collect::<Amounts>());
                sums.filter(|sum| sum.iter().zip(things).all(|(amount, thing)| *amount <= thing.count)).collect::<Vec<_>>()
            };
            totals = totals.iter().flat_map(both).collect();
        }
    }
    let worth = |total: &Amounts| total.iter().zip(things).map(|(&amount, thing)| u64::from(amount) * u64::from(thing.worth)).sum();
    totals.iter().map(worth).max().unwrap_or(0)
}

/// The least cost of columns that take everything, if they can.
pub fn cover(things: &[Thing], columns: &[Column]) -> Option<u64> {
    struct Covering<'a> {
        columns: &'a [Column],
        fillings: Vec<BTreeSet<Amounts>>,
        known: HashMap<(Amounts, Vec<u32>), Option<u64>>,
    }
    fn least(covering: &mut Covering, left: &Amounts, taken: &mut Vec<u32>) -> Option<u64> {
        if left.iter().all(|&left| left == 0) {
            return Some(0);
        }
        if let Some(&known) = covering.known.get(&(left.clone(), taken.clone())) {
            return known;
        }
        let mut best = None;
        for number in 0..covering.columns.len() {
            if covering.columns[number].count.is_some_and(|count| taken[number] >= count) {
                continue;
            }
            for filling in covering.fillings[number].clone() {
                let fits = filling.iter().zip(left).all(|(amount, left)| amount <= left);
                if fits && filling.iter().any(|&amount| amount > 0) {
                    let rest: Amounts = left.iter().zip(&filling).map(|(left, amount)| left - amount).collect();
                    taken[number] += 1;
                    let whole = least(covering, &rest, taken).map(|rest| rest + covering.columns[number].cost);
                    taken[number] -= 1;
                    best = best.into_iter().chain(whole).min();
                }
            }
        }
        covering.known.insert((left.clone(), taken.clone()), best);
        best
    }
    let fillings = columns.iter().map(|column| fillings(things, column)).collect();
    let mut covering = Covering { columns, fillings, known: HashMap::new() };
    let all: Amounts = things.iter().map(|thing| thing.count).collect();
    least(&mut covering, &all, &mut vec![0; columns.len()])
}
