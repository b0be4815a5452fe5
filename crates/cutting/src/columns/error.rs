//! What is wrong with a question.

use super::{DEAREST, HEAVIEST, MOST_COLUMNS, MOST_STACKS, MOST_THINGS};

/// A number that cannot be worked with. Says whose, and what was given.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ColumnError {
    /// Two things share an id.
    #[error("thing {thing} is given twice; add the two counts up")]
    Twice {
        /// The id.
        thing: u32,
    },
    /// A stack names a thing that is not given.
    #[error("stack {stack} of column {column} holds thing {thing}, which is not among the things")]
    Unknown {
        /// Which column, counted from 0.
        column: usize,
        /// Which of its stacks, counted from 0.
        stack: usize,
        /// The id that was given.
        thing: u32,
    },
    /// A stack holds nothing, has no width, or needs no height somewhere.
    #[error("stack {stack} of column {column}, of thing {thing}, has 0 for {what}; it must be above 0")]
    Nothing {
        /// Which column, counted from 0.
        column: usize,
        /// Which of its stacks, counted from 0.
        stack: usize,
        /// What stands in it.
        thing: u32,
        /// Which figure.
        what: &'static str,
    },
    /// A column would need less height with one more row in it.
    #[error(
        "stack {stack} of column {column}, of thing {thing}, would need less height with another row beside its own: {alone} \
         alone is above {with} for both; count the floor, shelf and top in so that a further row never saves height"
    )]
    Saves {
        /// Which column, counted from 0.
        column: usize,
        /// Which of its stacks, counted from 0.
        stack: usize,
        /// What stands in it.
        thing: u32,
        /// What the row needs without the other.
        alone: u32,
        /// What both need together.
        with: u64,
    },
    /// The lowest row of a column may not be left empty although it bears less than the others, or needs more empty than with a stack.
    #[error(
        "the lowest row of column {column} needs {empty:?} when it is left empty; that must be above 0 and no more than the {least} of its \
         lowest stack, and be given where it bears less than the rows above it"
    )]
    Empty {
        /// Which column, counted from 0.
        column: usize,
        /// What it needs empty.
        empty: Option<u32>,
        /// What the lowest of its stacks needs at the bottom.
        least: u32,
    },
    /// A thing's mass is below 0, above [`HEAVIEST`] or not a number.
    #[error("thing {thing} weighs {mass} kg in stack {stack} of column {column}; it must be 0 to {HEAVIEST} kg")]
    Mass {
        /// Which column, counted from 0.
        column: usize,
        /// Which of its stacks, counted from 0.
        stack: usize,
        /// What stands in it.
        thing: u32,
        /// What was given.
        mass: f64,
    },
    /// What a row bears is below 0 or not a number.
    #[error("a row of column {column} bears {most_mass} kg; it must be 0 or more")]
    MostMass {
        /// Which column, counted from 0.
        column: usize,
        /// What was given.
        most_mass: f64,
    },
    /// A column costs more than [`DEAREST`].
    #[error("column {column} costs {cost}; it must be at most {DEAREST}")]
    Cost {
        /// Which column, counted from 0.
        column: usize,
        /// What was given.
        cost: u64,
    },
    /// All counts of things together pass [`MOST_THINGS`].
    #[error("{count} things are to be placed; one question takes at most {MOST_THINGS}")]
    TooManyThings {
        /// How many things were given.
        count: u64,
    },
    /// All counts of columns together pass [`MOST_COLUMNS`].
    #[error("{count} columns are given; one question takes at most {MOST_COLUMNS}")]
    TooManyColumns {
        /// How many columns were given.
        count: u64,
    },
    /// All stacks together pass [`MOST_STACKS`].
    #[error("{count} stacks are given; one question takes at most {MOST_STACKS}")]
    TooManyStacks {
        /// How many stacks were given.
        count: usize,
    },
}
