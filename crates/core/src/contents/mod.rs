//! The things to be kept, and which room takes which.

mod fill;

use std::sync::LazyLock;

use glam::DVec3;
use serde::Deserialize;

pub use fill::{Stack, Stacking, heaviest, top_heavy};

use crate::design::BoxKind;
use crate::model::{Model, Room};

/// Hand room over a box, mm: enough for a lid to lift (common practice, no source).
pub const OVER: f64 = 25.0;
/// Room beside a box, both sides together, mm (common practice, no source: 2 to 5 an item).
pub const BESIDE: f64 = 3.0;
/// Room behind a box, mm; its front may be flush with the front of the shelf (common practice, no source).
pub const BEHIND: f64 = 5.0;

/// By how much a room is too small for a box, mm; zero or less where it is large enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lack {
    /// In width.
    pub width: f64,
    /// In depth.
    pub depth: f64,
    /// In height.
    pub height: f64,
}

impl Lack {
    fn of(room: &Room, kind: &BoxKind) -> Lack {
        let space = room.space.size();
        let need = DVec3::new(kind.width.to_mm() + BESIDE, kind.height.to_mm() + OVER, kind.depth.to_mm() + BEHIND);
        Lack { width: need.x - space.x, depth: need.z - space.z, height: need.y - space.y }
    }

    fn fits(self) -> bool {
        self.width <= 1e-9 && self.depth <= 1e-9 && self.height <= 1e-9
    }

    fn total(self) -> f64 {
        self.width.max(0.0) + self.depth.max(0.0) + self.height.max(0.0)
    }
}

/// What a room lacks for a box as it stands; nothing when it takes it.
pub fn fits(room: &Room, kind: &BoxKind) -> Option<Lack> {
    let lack = Lack::of(room, kind);
    (!lack.fits()).then_some(lack)
}

/// The rooms of the model that take a box.
pub fn rooms_for<'m>(model: &'m Model, kind: &BoxKind) -> Vec<&'m Room> {
    model.rooms.iter().filter(|room| fits(room, kind).is_none()).collect()
}

/// The room that takes a box, or comes nearest, and what it lacks.
pub fn best_room<'m>(model: &'m Model, kind: &BoxKind) -> (Option<&'m Room>, Option<Lack>) {
    let lacks = model.rooms.iter().map(|room| (room, Lack::of(room, kind)));
    match lacks.min_by(|a, b| a.1.total().total_cmp(&b.1.total())) {
        Some((room, lack)) => (Some(room), (!lack.fits()).then_some(lack)),
        None => (None, Some(Lack { width: kind.width.to_mm(), depth: kind.depth.to_mm(), height: kind.height.to_mm() })),
    }
}

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
