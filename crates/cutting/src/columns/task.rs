//! The question in whole numbers, checked once, and the way back to the caller's words.

use std::collections::BTreeMap;

use super::mass::milligrams;
use super::pattern::{Pattern, RowFill};
use super::{
    Column, ColumnError, Cover, DEAREST, Filled, HEAVIEST, Least, Left, MOST_COLUMNS, MOST_STACKS, MOST_THINGS, Needs, Placement, Position,
    Reason, Row, Stood, Thing,
};

/// As high as it likes.
pub(super) const ANYWHERE: u32 = u32::MAX;

/// Which of the two questions is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Question {
    Place,
    Cover,
}

/// A kind of thing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    pub count: u32,
    pub worth: u64,
}

/// One way in which a kind stands in a column: a [`super::Stack`] that can hold at least one thing there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    pub kind: usize,
    pub stack: usize,
    pub holds: u32,
    pub width: u32,
    pub needs: Needs,
    /// Of one thing, in milligrams.
    pub mass: u64,
    /// How high the base of its row may lie; the greatest number where that is anywhere.
    pub low: u32,
}

/// A kind of column that there is at least one of. Columns that the caller gives one by one but that are alike are one.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    /// Which of the caller's columns, and how many of each.
    columns: Vec<(usize, u32)>,
    pub width: u32,
    pub height: u32,
    pub most_mass: u64,
    /// What the lowest row bears.
    pub bottom_mass: u64,
    /// The need of a lowest row that is left empty, where it may be.
    pub empty: Option<u32>,
    /// Never more than there are things and one that is left empty, so that it can be counted with.
    pub most_rows: u32,
    /// No way that must stand low may stand above it.
    pub low: u32,
    pub cost: u64,
    /// Never more than there are things.
    pub count: u32,
    pub ways: Vec<Way>,
}

/// The question. Only kinds that stand somewhere and are asked for are in it, so that any of them can be placed.
#[derive(Debug)]
pub(super) struct Task<'a> {
    pub kinds: Vec<Kind>,
    pub shapes: Vec<Shape>,
    /// Which of the caller's things each kind is.
    thing_of: Vec<usize>,
    things: &'a [Thing],
    columns: &'a [Column],
}

/// What the solvers found: patterns and how often each is used, and the bound.
#[derive(Clone, Debug)]
pub(super) struct Found<B> {
    pub patterns: Vec<(Pattern, u32)>,
    pub bound: B,
}

impl<'a> Task<'a> {
    /// Checks every number once; from here on they are trusted.
    pub fn new(things: &'a [Thing], columns: &'a [Column], question: Question) -> Result<Self, ColumnError> {
        let index = index_of(things)?;
        check(columns, &index, question)?;
        let total: u64 = things.iter().map(|thing| u64::from(thing.count)).sum();
        if total > MOST_THINGS {
            return Err(ColumnError::TooManyThings { count: total });
        }
        let most = total as u32;
        let mut shapes: Vec<Shape> = Vec::new();
        for (number, column) in columns.iter().enumerate() {
            let count = match (column.count, question) {
                (Some(count), _) => count.min(most),
                (None, Question::Place) => 1.min(most),
                (None, Question::Cover) => most,
            };
            let like = |shape: &&mut Shape| alike(&columns[shape.columns[0].0], column, question);
            if let Some(shape) = shapes.iter_mut().find(like) {
                shape.columns.push((number, count));
                shape.count = (shape.count + count).min(most);
            } else if count > 0 && column.most_rows != Some(0) {
                shapes.push(Shape::new(column, (number, count), most, &index));
            }
        }
        for shape in &mut shapes {
            let ways = std::mem::take(&mut shape.ways);
            // Until the kinds are numbered, `kind` is the thing's place in the caller's list.
            shape.ways = ways.into_iter().filter(|way| things[way.kind].count > 0 && shape.takes(way)).collect();
        }
        let mut stands = vec![false; things.len()];
        for way in shapes.iter().flat_map(|shape| &shape.ways) {
            stands[way.kind] = true;
        }
        let mut thing_of = Vec::new();
        let mut kinds = Vec::new();
        let mut kind_of = vec![0; things.len()];
        for (thing, given) in things.iter().enumerate().filter(|(thing, _)| stands[*thing]) {
            kind_of[thing] = kinds.len();
            thing_of.push(thing);
            kinds.push(Kind { count: given.count, worth: u64::from(given.worth) });
        }
        for shape in &mut shapes {
            for way in &mut shape.ways {
                way.kind = kind_of[way.kind];
                // Where the whole column counts as low, nothing has to ask.
                if way.low >= shape.height {
                    way.low = ANYWHERE;
                }
            }
            shape.low = shape.ways.iter().map(|way| way.low).filter(|low| *low != ANYWHERE).max().unwrap_or(0);
        }
        shapes.retain(|shape| !shape.ways.is_empty());
        Ok(Self { kinds, shapes, thing_of, things, columns })
    }

    /// How many of each kind are asked for.
    pub fn counts(&self) -> Vec<u32> {
        self.kinds.iter().map(|kind| kind.count).collect()
    }

    /// Whether there may be too few columns of a shape; where not, there is one for each thing.
    pub fn scarce(&self, number: usize) -> bool {
        self.shapes[number].count < self.kinds.iter().map(|kind| kind.count).sum()
    }

    /// What so many of each kind are worth.
    pub fn worth(&self, amounts: &[u32]) -> u64 {
        self.kinds.iter().zip(amounts).map(|(kind, &amount)| kind.worth * u64::from(amount)).sum()
    }

    /// Gives the answer of [`super::place`] in the caller's words.
    pub fn placement(&self, found: &Found<u64>) -> Placement {
        let (mut stood, left) = self.answer(&found.patterns);
        let mut columns = Vec::new();
        for (index, column) in self.columns.iter().enumerate() {
            let filled = stood.remove(&index).unwrap_or_default();
            let count = column.count.unwrap_or(1) as usize;
            let empty = count.saturating_sub(filled.len());
            columns.extend(filled.into_iter().chain(std::iter::repeat_n(Vec::new(), empty)).map(|rows| Filled { column: index, rows }));
        }
        let worth: BTreeMap<u32, u64> = self.things.iter().map(|thing| (thing.id, u64::from(thing.worth))).collect();
        let all: u64 = self.things.iter().map(|thing| u64::from(thing.worth) * u64::from(thing.count)).sum();
        let missing: u64 = left.iter().map(|left| worth[&left.thing] * u64::from(left.count)).sum();
        Placement { columns, left, worth: all - missing, bound: found.bound }
    }

    /// Gives the answer of [`super::cover`] in the caller's words.
    pub fn cover(&self, found: &Found<Least>) -> Cover {
        let (stood, left) = self.answer(&found.patterns);
        let columns: Vec<Filled> =
            stood.into_iter().flat_map(|(column, filled)| filled.into_iter().map(move |rows| Filled { column, rows })).collect();
        let cost = columns.iter().map(|filled| self.columns[filled.column].cost).sum();
        Cover { columns, left, cost, bound: found.bound }
    }

    /// The columns used, by the caller's kind of column, and what is left.
    fn answer(&self, patterns: &[(Pattern, u32)]) -> (BTreeMap<usize, Vec<Vec<Row>>>, Vec<Left>) {
        let mut still = self.counts();
        let mut stood: BTreeMap<usize, Vec<Vec<Row>>> = BTreeMap::new();
        let mut places: Vec<_> = self.shapes.iter().map(Shape::places).collect();
        for (pattern, times) in patterns {
            let shape = &self.shapes[pattern.shape];
            for _ in 0..*times {
                let rows = shape.settled(&pattern.rows, &mut still);
                if !rows.is_empty()
                    && let Some(column) = places[pattern.shape].next()
                {
                    stood.entry(column).or_default().push(self.rows(shape, &rows));
                }
            }
        }
        let mut left_of: BTreeMap<usize, u32> = self.thing_of.iter().copied().zip(still).collect();
        let mut left = Vec::new();
        for (thing, given) in self.things.iter().enumerate() {
            let (count, reason) = left_of.remove(&thing).map_or((given.count, Reason::StandsNowhere), |count| (count, Reason::NoRoom));
            if count > 0 {
                left.push(Left { thing: given.id, count, reason });
            }
        }
        (stood, left)
    }

    fn rows(&self, shape: &Shape, rows: &[RowFill]) -> Vec<Row> {
        let mut base = 0;
        let mut answer = Vec::with_capacity(rows.len());
        for (index, row) in rows.iter().enumerate() {
            let need = shape.need(row, Position::of(index, rows.len()));
            let mut stacks = Vec::new();
            for &(way, amount) in &row.0 {
                let way = &shape.ways[way];
                let thing = self.things[self.thing_of[way.kind]].id;
                let full = std::iter::repeat_n(way.holds, (amount / way.holds) as usize);
                let rest = Some(amount % way.holds).filter(|&rest| rest > 0);
                stacks.extend(full.chain(rest).map(|count| Stood { stack: way.stack, thing, count }));
            }
            answer.push(Row { base, need, stacks });
            base += need;
        }
        answer
    }
}

impl Shape {
    fn new(column: &Column, of: (usize, u32), things: u32, index: &BTreeMap<u32, usize>) -> Self {
        Self {
            columns: vec![of],
            width: column.width,
            height: column.height,
            most_mass: milligrams(column.most_mass),
            most_rows: column.most_rows.unwrap_or(u32::MAX).min(things.saturating_add(u32::from(column.empty.is_some()))),
            bottom_mass: milligrams(column.bottom_mass),
            empty: column.empty,
            low: 0,
            cost: column.cost,
            count: of.1,
            ways: column.stacks.iter().enumerate().map(|(stack, given)| way(given, stack, index[&given.thing])).collect(),
        }
    }

    /// The caller's columns, each as often as it is there.
    fn places(&self) -> impl Iterator<Item = usize> + use<> {
        self.columns.clone().into_iter().flat_map(|(column, count)| std::iter::repeat_n(column, count as usize))
    }

    /// Whether a way can be used at all: alone, for a further row never saves height (see [`saves`]), or over a lowest row left empty.
    fn takes(&self, way: &Way) -> bool {
        let alone = way.mass <= self.bottom_mass && way.needs.alone <= self.height;
        let over = |empty: u32| {
            let within = u64::from(empty) + u64::from(way.needs.top) <= u64::from(self.height);
            within && way.mass <= self.most_mass && empty <= way.low && self.most_rows > 1
        };
        way.width <= self.width && (alone || self.empty.is_some_and(over))
    }

    /// What a row bears, by where it is.
    pub fn bears(&self, position: Position) -> u64 {
        match position {
            Position::Alone | Position::Bottom => self.bottom_mass,
            Position::Between | Position::Top => self.most_mass,
        }
    }
}

/// Whether two columns differ in nothing but how many there are of them; what it costs is no matter where nothing is paid.
fn alike(one: &Column, other: &Column, question: Question) -> bool {
    let cost = if question == Question::Place { other.cost } else { one.cost };
    // The figures first, for lists of stacks are long.
    (one.width, one.height, one.empty, one.most_rows, cost) == (other.width, other.height, other.empty, other.most_rows, other.cost)
        && milligrams(one.most_mass) == milligrams(other.most_mass)
        && milligrams(one.bottom_mass) == milligrams(other.bottom_mass)
        && one.stacks == other.stacks
}

fn index_of(things: &[Thing]) -> Result<BTreeMap<u32, usize>, ColumnError> {
    let mut index = BTreeMap::new();
    for (place, thing) in things.iter().enumerate() {
        if index.insert(thing.id, place).is_some() {
            return Err(ColumnError::Twice { thing: thing.id });
        }
    }
    Ok(index)
}

fn way(given: &super::Stack, stack: usize, thing: usize) -> Way {
    let super::Stack { thing: _, holds, width, needs, mass, low } = *given;
    Way { kind: thing, stack, holds, width, needs, mass: milligrams(mass), low: low.unwrap_or(ANYWHERE) }
}

fn check(columns: &[Column], index: &BTreeMap<u32, usize>, question: Question) -> Result<(), ColumnError> {
    let stacks: usize = columns.iter().map(|column| column.stacks.len()).sum();
    if stacks > MOST_STACKS {
        return Err(ColumnError::TooManyStacks { count: stacks });
    }
    let many: u64 = columns.iter().map(|column| u64::from(column.count.unwrap_or(1))).sum();
    if question == Question::Place && many > MOST_COLUMNS {
        return Err(ColumnError::TooManyColumns { count: many });
    }
    for (column, given) in columns.iter().enumerate() {
        for most_mass in [given.most_mass, given.bottom_mass] {
            if !(0.0..).contains(&most_mass) {
                return Err(ColumnError::MostMass { column, most_mass });
            }
        }
        let least = given.stacks.iter().map(|stack| stack.needs.bottom).min().unwrap_or(u32::MAX);
        if given.empty.map_or(given.bottom_mass < given.most_mass, |empty| empty == 0 || empty > least) {
            return Err(ColumnError::Empty { column, empty: given.empty, least });
        }
        if given.cost > DEAREST {
            return Err(ColumnError::Cost { column, cost: given.cost });
        }
        for (stack, stood) in given.stacks.iter().enumerate() {
            let thing = stood.thing;
            if !index.contains_key(&thing) {
                return Err(ColumnError::Unknown { column, stack, thing });
            }
            let Needs { alone, bottom, between, top } = stood.needs;
            let figures = [
                (stood.holds, "what it holds"),
                (stood.width, "its width"),
                (alone, "its need alone"),
                (bottom, "its need at the bottom"),
                (between, "its need between"),
                (top, "its need at the top"),
            ];
            if let Some(&(_, what)) = figures.iter().find(|(figure, _)| *figure == 0) {
                return Err(ColumnError::Nothing { column, stack, thing, what });
            }
            if let Some((alone, with)) = saves(&stood.needs, given) {
                return Err(ColumnError::Saves { column, stack, thing, alone, with });
            }
            if !(0.0..=HEAVIEST).contains(&stood.mass) {
                return Err(ColumnError::Mass { column, stack, thing, mass: stood.mass });
            }
        }
    }
    Ok(())
}

/// What a row needs without some other row, and both need with it, where that is less.
///
/// Where nothing saves, taking a row away leaves a column valid, and with it taking any thing away.
fn saves(needs: &Needs, column: &Column) -> Option<(u32, u64)> {
    let least = |position: Position| column.stacks.iter().map(|stack| stack.needs.at(position)).min().unwrap_or(0);
    let (bottom, top) = (least(Position::Bottom), least(Position::Top));
    [
        (needs.alone, needs.bottom, top),
        (needs.alone, needs.top, bottom),
        (needs.top, needs.between, top),
        (needs.bottom, needs.between, bottom),
    ]
    .into_iter()
    .map(|(without, with, other)| (without, u64::from(with) + u64::from(other)))
    .find(|&(without, both)| u64::from(without) > both)
}
