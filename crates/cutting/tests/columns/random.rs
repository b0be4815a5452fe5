//! Questions drawn from a fixed row of numbers, so that each run asks the same.

use casewright_cutting::columns::{Column, Needs, Stack, Thing};

/// Numbers by Marsaglia's xorshift ("Xorshift RNGs", Journal of Statistical Software 8 (2003), number 14).
pub struct Dice(pub u64);

impl Dice {
    /// A whole number from `from` to `to`, both among them.
    pub fn roll(&mut self, from: u32, to: u32) -> u32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        from + ((self.0 >> 20) % u64::from(to - from + 1)) as u32
    }

    fn one_in(&mut self, many: u32) -> bool {
        self.roll(1, many) == 1
    }
}

/// A handful of things, in all their variety: turned and stacked ways, heavy and low ones, needs that differ by place.
pub fn things(dice: &mut Dice, most: u32) -> Vec<Thing> {
    let kinds = dice.roll(1, 3);
    let mut still = dice.roll(1, most);
    let mut things = Vec::new();
    for id in 0..kinds {
        let count = dice.roll(0, still);
        still -= count;
        let worth = if dice.one_in(3) { dice.roll(0, 5) } else { 1 };
        things.push(Thing { id: 10 + id, count, worth });
    }
    things
}

/// A column for them, tight enough that room is the question.
pub fn column(dice: &mut Dice, things: &[Thing]) -> Column {
    let mut stacks = Vec::new();
    for thing in things {
        let (width, height) = (dice.roll(2, 7), dice.roll(5, 14));
        let mass = if dice.one_in(2) { 0.1 * f64::from(dice.roll(1, 60)) } else { 0.0 };
        let low = dice.one_in(4).then(|| dice.roll(0, 15));
        let mut way = |holds: u32, width: u32, height: u32| {
            // What is stacked higher stands higher.
            let low = low.map(|low| low.saturating_sub(height * (holds - 1) / holds));
            let needs = Needs {
                alone: height + dice.roll(0, 1),
                bottom: height + dice.roll(0, 3),
                between: height + dice.roll(0, 3),
                top: height + dice.roll(0, 1),
            };
            stacks.push(Stack { thing: thing.id, holds, width, needs, mass, low });
        };
        way(1, width, height);
        if height % 2 == 0 {
            way(1, height, width.max(4));
        }
        if width % 2 == 0 {
            way(2, width, 2 * height);
        }
    }
    let most_mass = if dice.one_in(2) { f64::from(dice.roll(2, 10)) } else { f64::INFINITY };
    // A floor that bears as much as the shelves, or more or less; where it bears less it may be left empty.
    let bottom_mass = if dice.one_in(2) { most_mass } else { f64::from(dice.roll(0, 8)) };
    let least = stacks.iter().map(|stack| stack.needs.bottom).min().unwrap_or(9);
    let empty = (bottom_mass < most_mass || dice.one_in(3)).then(|| dice.roll(1, least));
    Column {
        width: dice.roll(6, 16),
        height: dice.roll(10, 40),
        most_mass,
        bottom_mass,
        empty,
        most_rows: if dice.one_in(4) { Some(dice.roll(0, 3)) } else { None },
        cost: u64::from(dice.roll(0, 9)),
        count: if dice.one_in(2) { Some(dice.roll(0, 2)) } else { None },
        stacks,
    }
}

/// Many things of several kinds in columns of several rows, too large to try everything.
pub fn shelves(dice: &mut Dice) -> (Vec<Thing>, Vec<Column>) {
    let kinds = dice.roll(3, 9);
    let things = (0..kinds).map(|id| Thing { id, count: dice.roll(1, 12), worth: if id == 0 { 3 } else { 1 } }).collect();
    let mut stacks = Vec::new();
    for thing in 0..kinds {
        let (width, height) = (dice.roll(100, 420), dice.roll(120, 400));
        let mass = f64::from(width * height) / 1e4;
        let mut way = |holds, width, height: u32| {
            let raised = height.div_ceil(32) * 32 + 20;
            let needs = Needs { alone: height, bottom: raised + 10, between: raised, top: height };
            stacks.push(Stack { thing, holds, width, needs, mass, low: (mass > 11.0).then_some(700) });
        };
        way(1, width, height);
        way(1, height, width);
        way(2, width, 2 * height);
    }
    let column = Column {
        width: 900,
        height: dice.roll(700, 2200),
        most_mass: 45.0,
        bottom_mass: 38.0,
        empty: Some(30),
        most_rows: if dice.one_in(3) { Some(dice.roll(2, 5)) } else { None },
        cost: 95,
        count: Some(dice.roll(1, 4)),
        stacks,
    };
    let narrow = Column { width: 600, cost: 70, count: if dice.one_in(2) { Some(2) } else { None }, ..column.clone() };
    (things, vec![column, narrow])
}
