//! The things to be kept, and which room takes which.

pub mod arrange;
mod changes;
mod fill;
mod fits;
pub mod holds;
pub mod list;
mod mend;
pub mod propose;
mod room;
pub mod tilt;

use std::sync::LazyLock;

use serde::Deserialize;

pub use changes::{Change, Least, changes};
pub use fill::{Stack, heaviest, row_words, top_heavy};
pub use fits::{Fit, HowHigh, Lack, Pile, Stance, best_room, fit, rooms_for};
pub use mend::told_without_place;
pub(crate) use mend::{findings, lay_for_what_no_shelf_takes, without_place};
pub(crate) use room::best_in_use;

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
    /// One that is light, kg. Weigh your own.
    pub light_kg: f64,
    /// One as most are, kg.
    pub typical_kg: f64,
    /// A heavy one, kg.
    pub heavy_kg: f64,
    /// Where the size comes from.
    pub source: String,
    /// How it was obtained: read, derived or memory.
    pub status: String,
}

/// How heavy one of a kind in common use is taken to be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Weight {
    /// A light one.
    Light,
    /// As most are.
    Typical,
    /// A heavy one.
    #[default]
    Heavy,
}

impl Weight {
    /// Each, the lightest first.
    pub const ALL: [Weight; 3] = [Weight::Light, Weight::Typical, Weight::Heavy];

    /// What it is called.
    pub fn words(self) -> &'static str {
        match self {
            Weight::Light => "light",
            Weight::Typical => "typical",
            Weight::Heavy => "heavy",
        }
    }
}

impl CommonBox {
    /// Its mass, kg.
    pub fn mass(&self, weight: Weight) -> f64 {
        match weight {
            Weight::Light => self.light_kg,
            Weight::Typical => self.typical_kg,
            Weight::Heavy => self.heavy_kg,
        }
    }
}

static COMMON_BOXES: LazyLock<Vec<CommonBox>> = LazyLock::new(|| {
    let table = include_str!("../../../../assets/contents/box_sizes.csv");
    csv::Reader::from_reader(table.as_bytes()).into_deserialize().filter_map(Result::ok).collect()
});

/// Boxes in common use, from the table in `assets/contents`.
pub fn common_boxes() -> &'static [CommonBox] {
    &COMMON_BOXES
}
