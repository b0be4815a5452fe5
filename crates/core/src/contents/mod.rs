//! The things to be kept, and which room takes which.

pub mod arrange;
mod fill;
mod fits;
pub mod holds;
pub mod list;
mod mend;
pub mod propose;

use std::sync::LazyLock;

use serde::Deserialize;

pub use fill::{Stack, heaviest, row_words, top_heavy};
pub use fits::{Fit, HowHigh, Lack, Pile, Stance, best_room, fit, rooms_for};
pub use mend::{Change, changes};
pub(crate) use mend::{findings, without_place};

/// A kind of box in common use, outside sizes as it stands on a shelf.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct CommonBox {
    /// Its name in files.
    pub id: String,
    /// Its name for people.
    pub name: String,
    /// From left to right, mm.
    pub width_mm: f64,
    /// From front to back, mm.
    pub depth_mm: f64,
    /// Upward, mm.
    pub height_mm: f64,
    /// Full, kg; a heavy one. Weigh your own.
    pub mass_kg: f64,
    /// Where the size comes from.
    pub source: String,
    /// How it was obtained: read, derived or memory.
    pub status: String,
}

static COMMON_BOXES: LazyLock<Vec<CommonBox>> = LazyLock::new(|| {
    let table = include_str!("../../../../assets/contents/box_sizes.csv");
    csv::Reader::from_reader(table.as_bytes()).into_deserialize().filter_map(Result::ok).collect()
});

/// Boxes in common use, from the table in `assets/contents`.
pub fn common_boxes() -> &'static [CommonBox] {
    &COMMON_BOXES
}
