//! What is answered: which boards, what lies on them, in which order they are cut. It writes itself as JSON.

use serde::{Deserialize, Serialize};

use super::Direction;

/// The answer of [`super::lay`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Layout {
    /// The boards to cut, in the order of the stock lines given.
    pub used: Vec<Used>,
    /// What found no place.
    pub unplaced: Vec<Unplaced>,
    /// How many boards are used.
    pub count: usize,
    /// What they cost together.
    pub cost: f64,
    /// No layout of everything that fits some board by itself costs less; 0 where some of that found no place.
    pub bound: f64,
    /// Whether everything that fits some board by itself is placed and `cost` meets `bound`.
    pub proven: bool,
    /// What was wrong with the task, line by line. Such lines were left out, and everything else is laid out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub faults: Vec<Fault>,
}

impl Layout {
    /// By how much the cost may be above the least, as a share of the cost; 0 where it is proven.
    pub fn gap(&self) -> f64 {
        if self.proven || self.cost <= 0.0 { 0.0 } else { (self.cost - self.bound).max(0.0) / self.cost }
    }
}

/// A board with what is cut from it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Used {
    /// The stock's id.
    pub stock: String,
    /// Which of the stock lines given it is, counted from 0.
    pub line: usize,
    /// The pieces, in the order in which the cuts free them; never empty.
    pub placed: Vec<Placed>,
    /// The cuts in order, after the trims: each goes from edge to edge of what the cuts before it left.
    pub cuts: Vec<Cut>,
}

/// A piece in its place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Placed {
    /// The piece's id.
    pub piece: String,
    /// Which of the piece lines given it is, counted from 0.
    pub line: usize,
    /// Where it begins along the board's length, in millimetres from the untrimmed corner.
    pub x: f64,
    /// Where it begins along the board's width; 0 where only lengths count.
    pub y: f64,
    /// Whether its length lies across the board.
    pub turned: bool,
}

/// A saw cut: the kerf lies from `at` on, away from the corner; where less than a kerf is left there, all of it is sawn away.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cut {
    /// In which stage, counted from 1; one more than asked for where it trims a single piece.
    pub stage: u32,
    /// Which way the saw goes.
    pub cut: Direction,
    /// Where the kerf begins, in millimetres from the untrimmed corner: along the length for a cut across, along the width
    /// for a cut along.
    pub at: f64,
    /// Where the cut begins, in the direction in which the saw goes.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// Pieces that found no place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unplaced {
    /// The piece's id.
    pub piece: String,
    /// Which of the piece lines given it is, counted from 0.
    pub line: usize,
    /// How many; above 0.
    pub count: u32,
    /// Why.
    pub reason: Reason,
}

/// Why something was not placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reason {
    /// Its line has a fault, or one that spoils the whole task.
    Faulty,
    /// It fits no board, even with nothing else on it.
    TooLarge,
    /// It fits a board by itself, but no place was found beside the rest.
    NoRoom,
}

/// A figure that can't be worked with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fault {
    /// Where it stands, such as `stock[2].length`, lines counted from 0.
    pub field: String,
    /// The id of its line; empty for what concerns the whole task.
    pub id: String,
    /// What was found.
    pub found: String,
    /// What would do.
    pub wanted: String,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { field, id, found, wanted } = self;
        if id.is_empty() { write!(f, "{field} is {found}; {wanted}") } else { write!(f, "{field} of {id} is {found}; {wanted}") }
    }
}
