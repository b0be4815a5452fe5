//! Timber: what the tables in `assets/timber` know of species and sheets, the moisture that wood comes to, and how it moves.
//!
//! The tables name a source for every row and say of each group of figures whether it was read there, derived or recalled from memory; a
//! [`Known`] figure keeps that. An empty cell is unknown, never zero.

pub mod clearance;
mod known;
pub mod moisture;
pub mod movement;
pub(crate) mod sheets;
mod species;
mod tables;
mod timbers;

pub use clearance::{Grooved, Seasons, Travel};
pub use known::{How, Known};
pub use moisture::{Air, OutOfRange};
pub use movement::{CAUTIOUS_COEFFICIENT, Movement, Rates, Sawn, movement};
pub use sheets::{MadeAs, SheetProduct, sheet_goods};
pub use species::{Species, species};
pub use timbers::Timbers;
