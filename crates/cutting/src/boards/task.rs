//! What is asked: stock, pieces, saw and the rules of cutting. It reads and writes itself as JSON.

use serde::{Deserialize, Deserializer, Serialize};

/// The longest length, width, kerf or trim that is accepted, in millimetres: one kilometre.
pub const LONGEST: f64 = 1e6;

/// The shortest length or width that is accepted, in millimetres.
pub const SHORTEST: f64 = 0.001;

/// The dearest board that is accepted.
pub const DEAREST: f64 = 1e9;

/// The most pieces, all counts added up, that one task may have.
pub const MOST_PIECES: u64 = 100_000;

/// The most lines of stock or of pieces that one task may have.
pub const MOST_LINES: usize = 10_000;

/// Stock, pieces, and how the pieces may be cut from the stock. All measures are millimetres.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Task {
    /// Width of a saw cut; 0 to [`LONGEST`]. It lies between pieces only: an edge of the board needs none.
    #[serde(default)]
    pub kerf: f64,
    /// What comes off every end, and with [`Cuts::Guillotine`] off every edge, before anything is cut; 0 to [`LONGEST`].
    #[serde(default)]
    pub trim: f64,
    /// The boards that can be had.
    pub stock: Vec<Stock>,
    /// What is wanted.
    pub pieces: Vec<Piece>,
    /// Whether widths count.
    #[serde(default)]
    pub cuts: Cuts,
    /// In how many stages a board is cut: the cuts of a stage are all in one direction, those of the next across them. 2 or 3;
    /// `None` for as many as it takes. Asked of [`Cuts::Guillotine`] alone.
    #[serde(default)]
    pub stages: Option<u8>,
    /// Direction of the first stage; `None` for either, board by board.
    #[serde(default)]
    pub first: Option<Direction>,
    /// Whether one more cut may follow the last stage that does nothing but trim a single piece to its size.
    #[serde(default)]
    pub trimming: bool,
}

/// A kind of board, and how many of it can be had.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// The caller's name for it; a whole number will do too.
    #[serde(deserialize_with = "name")]
    pub id: String,
    /// Length as it lies in the rack, ends included; [`SHORTEST`] to [`LONGEST`].
    pub length: f64,
    /// Width likewise; left out where only lengths count.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<f64>,
    /// How many there are; `None` for as many as it takes.
    #[serde(default)]
    pub count: Option<u32>,
    /// What one costs, in any currency or measure; 0 to [`DEAREST`], to the nearest thousandth. 1 where it is left out,
    /// so that the fewest boards are the cheapest.
    #[serde(default = "one")]
    pub cost: f64,
    /// Where no piece may lie.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub defects: Vec<Zone>,
}

/// A rectangle on a board that no piece may touch. A cut may go through it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Zone {
    /// Where it begins along the length, from the untrimmed corner; 0 or more.
    pub x: f64,
    /// Where it begins along the width, from the same corner; 0 or more.
    #[serde(default)]
    pub y: f64,
    /// How far it goes along the length; [`SHORTEST`] to [`LONGEST`].
    pub length: f64,
    /// How far it goes along the width, likewise. Left out, it goes to the far edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<f64>,
}

/// A kind of piece, and how many of it are wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    /// The caller's name for it; a whole number will do too.
    #[serde(deserialize_with = "name")]
    pub id: String,
    /// Length to be cut, allowances included; [`SHORTEST`] to [`LONGEST`]. It lies along the board's length.
    pub length: f64,
    /// Width likewise; left out where only lengths count.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<f64>,
    /// How many are wanted; 1 where it is left out, and 0 asks for nothing.
    #[serde(default = "once")]
    pub count: u32,
    /// Whether its length may lie across the board: no grain holds it.
    #[serde(default)]
    pub turn: bool,
    /// What one is worth where there are not boards enough for all; 0 or more, its length or area where it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
}

/// Whether widths count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Cuts {
    /// Boards are cut to length only; widths are not asked for.
    Lengths,
    /// Every cut goes from edge to edge of what is being cut.
    #[default]
    Guillotine,
}

/// Direction of a cut on its board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Direction {
    /// Along the board's length: a rip.
    Along,
    /// Across the board's length: a crosscut.
    Across,
}

impl Direction {
    /// The other direction.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Along => Self::Across,
            Self::Across => Self::Along,
        }
    }
}

fn one() -> f64 {
    1.0
}

fn once() -> u32 {
    1
}

/// A name, or a whole number as one.
fn name<'de, D: Deserializer<'de>>(deserializer: D) -> Result<String, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged, expecting = "a name in quotes or a whole number")]
    enum Name {
        Text(String),
        Number(i64),
    }
    Ok(match Name::deserialize(deserializer)? {
        Name::Text(text) => text,
        Name::Number(number) => number.to_string(),
    })
}
