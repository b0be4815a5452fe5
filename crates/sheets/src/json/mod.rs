//! Parts, findings, sizes, comparisons, loads and the order of assembly for other programs. The schemas are in `assets/schema`.
//!
//! Each document carries the number of its schema. A field that is added keeps the number; one that goes or changes its
//! meaning raises it.

mod boards;
mod compare;
mod cost;
mod findings;
mod holds;
mod loads;
mod order;
mod parts;
mod propose;
mod setups;
mod sizes;
mod takeoff;
mod worked;

pub use boards::{BoardsDocument, BuyDocument, boards, buying};
pub use compare::{CompareDocument, compare_panels, compare_timbers};
pub use cost::{CostDocument, cost};
pub use findings::{CHECK_SCHEMA, CheckDocument, check};
pub use holds::{Besides, FitsDocument, HOLDS_SCHEMA, HoldsDocument, fits, holds};
pub use loads::{LoadsDocument, loads};
pub use order::{OrderDocument, order};
pub use parts::{PartsDocument, parts};
pub use propose::{ProposeDocument, proposals};
pub use setups::{SetupsDocument, setups};
pub use sizes::{SizesDocument, sizes};
pub use takeoff::{TakeOffDocument, takeoff};
pub use worked::{WorkedEntry, worked};

use glam::DVec3;

/// The version of the documents of parts, of sizes, of comparisons, of loads and of orders that this program writes.
pub const SCHEMA: u32 = 1;

/// Rounded to a millionth, so that a sum such as 12.75 + 0.2 reads 12.95 and no digit depends on the machine.
fn tidy(value: f64) -> f64 {
    // Adding zero makes no negative zero.
    (value * 1e6).round() / 1e6 + 0.0
}

/// Rounded to a hundredth, as the text tells it.
fn as_told(value: f64) -> f64 {
    (value * 1e2).round() / 1e2 + 0.0
}

fn tidy3(value: DVec3) -> [f64; 3] {
    value.to_array().map(tidy)
}
