//! Timber: what the tables in `assets/timber` know of species and sheets, the moisture that wood comes to, and how it moves.
//!
//! The tables name a source for every row and say of each group of figures whether it was read there, derived or recalled from memory; a
//! [`Known`] figure keeps that. An empty cell is unknown, never zero.

pub mod clearance;
mod known;
pub mod moisture;
pub mod movement;
mod sheets;
mod species;
mod tables;
mod timbers;

pub use clearance::{Grooved, Seasons, Travel};
pub use known::{How, Known};
pub use moisture::{Air, OutOfRange};
pub use movement::{CAUTIOUS_COEFFICIENT, Movement, Rates, Sawn, movement};
pub use sheets::{SheetProduct, sheet_goods};
pub use species::{Species, species};
pub use timbers::Timbers;

/// The species of that id in the table.
pub fn find_species(id: &str) -> Option<&'static Species> {
    species().iter().find(|species| species.id == id)
}

/// The sheet product of that id in the table.
pub fn find_sheet(id: &str) -> Option<&'static SheetProduct> {
    sheet_goods().iter().find(|sheet| sheet.id == id)
}

/// Whether a species of the table is a softwood; one that it does not know is taken as none.
pub fn is_softwood(species: &str) -> bool {
    find_species(species).is_some_and(|species| species.softwood)
}
