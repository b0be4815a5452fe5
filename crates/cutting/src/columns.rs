//! Things in rows, rows in columns.
//!
//! Things stand in stacks, stacks stand beside each other in a row, rows lie on each other in a column:
//!
//! ```text
//!            ┌───────────────────┐  ─ height
//!   top      │ ▒▒▒ ▒▒▒ ▒▒▒       │    a row's need is the largest need of its stacks, and what one stack needs
//!            ├───────────────────┤    depends on where the row is: alone, bottom, between or top
//!   between  │ ▓▓ ▓▓ ▓▓ ▓▓ ▓▓ ▓▓ │
//!            ├───────────────────┤  ─ low: the base of a row that holds such a stack lies no higher
//!   bottom   │ ████ ████ ▒▒▒     │
//!            └───────────────────┘
//!            0                   width
//! ```
//!
//! A thing may stand in several ways, each of them a [`Stack`] of its own: turned, one high, two high. A stack may
//! hold fewer things than it could.
//!
//! [`place`] takes columns that are there and stands the greatest worth in them. [`cover`] chooses the cheapest columns that
//! take everything. Each answer carries a bound that no answer can beat, and `proven` tells whether the two meet.
//!
//! How: a quick filling, row by row, keeps the best columns begun of each height (`fill`). Prices of things come from a
//! linear programme whose patterns are found as the prices ask for them (`prices`); the bound that follows is worked out in whole
//! numbers, so that it holds whatever the programme's tolerance (`bound`, `ceiling`). Better answers come from whole numbers of
//! those patterns (`whole`) and from columns emptied and filled anew (`refill`). An exact search tries what the bound
//! leaves (`search`), in columns listed row by row (`climb`).
//!
//! Widths, heights and needs are whole numbers in whatever unit the caller measures with. No clock and no random numbers:
//! the same question with the same [`Effort`] gets the same answer.

mod bound;
mod ceiling;
mod climb;
mod covering;
mod effort;
mod error;
mod fill;
mod mass;
mod pattern;
mod placing;
mod prices;
mod quick;
mod refill;
mod row;
mod search;
mod sums;
mod task;
mod whole;

pub use effort::{Effort, Progress};
pub use error::ColumnError;

/// The most things, all counts added up, that one question may have.
pub const MOST_THINGS: u64 = 20_000;

/// The most columns, all counts added up, that [`place`] takes.
pub const MOST_COLUMNS: u64 = 2_000;

/// The most stacks, those of all columns added up, that one question may have.
pub const MOST_STACKS: usize = 10_000;

/// The dearest column that is accepted.
///
/// Within it, the cost of [`MOST_THINGS`] columns stays exact in 64 bits.
pub const DEAREST: u64 = 1_000_000_000_000;

/// The heaviest thing that is accepted, in kilograms: a thousand tonnes.
pub const HEAVIEST: f64 = 1e6;

/// A kind of thing, and how many of it are to be placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Thing {
    /// The caller's name for it; no two things share one.
    pub id: u32,
    /// How many there are; 0 asks for nothing.
    pub count: u32,
    /// What it is worth to [`place`] one of them; usually 1. One of worth 0 is placed only where nothing stands in its way.
    pub worth: u32,
}

/// How high a row must be for a stack, by where the row is in its column; each above 0.
///
/// They differ by what lies above and below a row: a floor, a shelf, a top, and what is lost by rounding. They differ by so
/// little that a column never needs less height for having one more row: whatever can be placed can be left out again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Needs {
    /// As the only row of its column.
    pub alone: u32,
    /// As the lowest of several.
    pub bottom: u32,
    /// With rows below and above.
    pub between: u32,
    /// As the highest of several.
    pub top: u32,
}

impl Needs {
    /// The same need wherever the row is.
    pub fn same(need: u32) -> Self {
        Self { alone: need, bottom: need, between: need, top: need }
    }

    /// The need at one place.
    pub fn at(&self, position: Position) -> u32 {
        match position {
            Position::Alone => self.alone,
            Position::Bottom => self.bottom,
            Position::Between => self.between,
            Position::Top => self.top,
        }
    }
}

/// Where a row is in its column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Position {
    /// The only row.
    Alone,
    /// The lowest of several.
    Bottom,
    /// With rows below and above.
    Between,
    /// The highest of several.
    Top,
}

impl Position {
    /// The place of one row, counted from 0 at the bottom, in a column of so many.
    pub fn of(row: usize, rows: usize) -> Self {
        match (row, row + 1 == rows) {
            (0, true) => Self::Alone,
            (0, false) => Self::Bottom,
            (_, true) => Self::Top,
            (_, false) => Self::Between,
        }
    }
}

/// One way in which things of a kind stand in the rows of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stack {
    /// The [`Thing::id`] of what stands in it.
    pub thing: u32,
    /// How many things it holds at most; above 0. Fewer may stand in it, and it takes the same room.
    pub holds: u32,
    /// What it takes of the row's width; above 0.
    pub width: u32,
    /// How high its row must be.
    pub needs: Needs,
    /// Mass of one thing in kilograms, to the nearest milligram; 0 to [`HEAVIEST`].
    pub mass: f64,
    /// How high the base of its row may lie at most, 0 for the lowest row alone; `None` where it may lie anywhere.
    pub low: Option<u32>,
}

/// A kind of column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Width of its rows: the widths of a row's stacks come to no more.
    pub width: u32,
    /// Its height: the needs of its rows come to no more.
    pub height: u32,
    /// What one row bears in kilograms, to the nearest milligram; 0 or more, infinite for a row that bears anything.
    pub most_mass: f64,
    /// What the lowest row bears in kilograms, as it may lie on something else. Where that is less than `most_mass`, the lowest row may
    /// be left empty.
    pub bottom_mass: f64,
    /// Where the lowest row may be left empty with others above it: how high it is then, above 0 and no more than any stack needs at the
    /// bottom. It counts as a row.
    pub empty: Option<u32>,
    /// How many rows it may have; `None` for as many as it takes.
    pub most_rows: Option<u32>,
    /// What one such column costs [`cover`]; at most [`DEAREST`]. [`place`] does not ask.
    pub cost: u64,
    /// How many there are. `None` means one to [`place`], and as many as are wanted to [`cover`].
    pub count: Option<u32>,
    /// The ways in which things stand in it. A thing that none of them names does not go into this column.
    pub stacks: Vec<Stack>,
}

/// A stack as it stands in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stood {
    /// Which of [`Column::stacks`] it is, counted from 0.
    pub stack: usize,
    /// The caller's name from [`Thing::id`].
    pub thing: u32,
    /// How many things stand in it; above 0.
    pub count: u32,
}

/// A row with what stands in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// What lies below it: the sum of the needs of the rows below.
    pub base: u32,
    /// How high it must be.
    pub need: u32,
    /// From left to right; none where the lowest row is left empty.
    pub stacks: Vec<Stood>,
}

/// A column with its rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filled {
    /// Which of the given columns it is, counted from 0.
    pub column: usize,
    /// From the bottom up.
    pub rows: Vec<Row>,
}

/// Why something was not placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// It stands in none of the columns, even with nothing else in them.
    StandsNowhere,
    /// It would stand in a column, but no room was found beside what is placed.
    NoRoom,
}

/// Things that found no place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// The caller's name from [`Thing::id`].
    pub thing: u32,
    /// How many of them; above 0.
    pub count: u32,
    /// Why.
    pub reason: Reason,
}

/// The answer of [`place`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placement {
    /// Every column that there is, in the order given; some may be without rows.
    pub columns: Vec<Filled>,
    /// What found no place.
    pub left: Vec<Left>,
    /// What is placed, by its worth.
    pub worth: u64,
    /// No placement is worth more.
    pub bound: u64,
}

impl Placement {
    /// Whether no better placement exists.
    pub fn proven(&self) -> bool {
        self.worth == self.bound
    }
}

/// What any cover comes to at the least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// No cover costs less.
    Cost(u64),
    /// There is no cover: it is proven that the columns that there are do not take everything.
    TooFew,
}

/// The answer of [`cover`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cover {
    /// The columns to take, in the order of the kinds given; none without rows.
    pub columns: Vec<Filled>,
    /// What found no place: what stands nowhere, and where columns are limited and no cover was found, what has no room.
    pub left: Vec<Left>,
    /// What the columns cost together.
    pub cost: u64,
    /// What any cover of the things that stand somewhere comes to at the least.
    pub bound: Least,
}

impl Cover {
    /// Whether everything that stands in some column is placed.
    pub fn complete(&self) -> bool {
        self.left.iter().all(|left| left.reason == Reason::StandsNowhere)
    }

    /// Whether no better answer exists: the cost meets the bound with everything placed, or it is proven that not everything
    /// can be.
    ///
    /// Things that stand nowhere do not count against it: no choice of columns would take them.
    pub fn proven(&self) -> bool {
        match self.bound {
            Least::Cost(least) => self.complete() && self.cost == least,
            Least::TooFew => true,
        }
    }
}

/// Stands the greatest worth of things in the columns that there are.
///
/// A quick filling comes first, and where it places everything nothing else is tried. Then the search goes on until the
/// answer is proven or the effort is spent; the best answer so far is kept.
///
/// # Errors
///
/// A [`ColumnError`] when a number cannot be worked with. A thing that stands nowhere is no error: it is listed in
/// [`Placement::left`].
///
/// # Example
///
/// ```
/// use casewright_cutting::columns::{Column, Effort, Needs, Stack, Thing, place};
///
/// let box_ = Thing { id: 1, count: 10, worth: 1 };
/// let one_high = Stack { thing: 1, holds: 1, width: 100, needs: Needs::same(270), mass: 5.0, low: None };
/// let two_high = Stack { holds: 2, needs: Needs::same(530), ..one_high };
/// let bay = Column {
///     width: 350,
///     height: 800,
///     most_mass: 40.0,
///     bottom_mass: 40.0,
///     empty: None,
///     most_rows: None,
///     cost: 1,
///     count: None,
///     stacks: vec![one_high, two_high],
/// };
/// // One row of three stacks two high and one row of three boxes; the tenth has no room.
/// let placement = place(&[box_], &[bay], Effort::default())?;
/// assert_eq!(placement.worth, 9);
/// assert!(placement.proven());
/// # Ok::<(), casewright_cutting::columns::ColumnError>(())
/// ```
pub fn place(things: &[Thing], columns: &[Column], effort: Effort) -> Result<Placement, ColumnError> {
    let task = task::Task::new(things, columns, task::Question::Place)?;
    Ok(task.placement(&placing::place(&task, effort)))
}

/// Places everything in columns of the least total cost that it can find.
///
/// As many columns of a kind are taken as its count allows. The work is limited by the effort as in [`place`].
///
/// # Errors
///
/// A [`ColumnError`] when a number cannot be worked with. That something stands nowhere, or that there are too few columns, is
/// no error: see [`Cover::left`] and [`Cover::bound`].
///
/// # Example
///
/// ```
/// use casewright_cutting::columns::{Column, Effort, Needs, Stack, Thing, cover};
///
/// let box_ = Thing { id: 1, count: 10, worth: 1 };
/// let stack = Stack { thing: 1, holds: 1, width: 100, needs: Needs::same(270), mass: 5.0, low: None };
/// let wide = Column {
///     width: 400,
///     height: 560,
///     most_mass: 40.0,
///     bottom_mass: 40.0,
///     empty: None,
///     most_rows: None,
///     cost: 7,
///     count: None,
///     stacks: vec![stack],
/// };
/// let narrow = Column { width: 100, cost: 2, ..wide.clone() };
/// // Eight go into a wide one, two into a narrow one.
/// let cover = cover(&[box_], &[wide, narrow], Effort::default())?;
/// assert_eq!(cover.cost, 9);
/// assert!(cover.proven());
/// # Ok::<(), casewright_cutting::columns::ColumnError>(())
/// ```
pub fn cover(things: &[Thing], columns: &[Column], effort: Effort) -> Result<Cover, ColumnError> {
    let task = task::Task::new(things, columns, task::Question::Cover)?;
    Ok(task.cover(&covering::cover(&task, effort)))
}
