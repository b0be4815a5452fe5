//! Every timber and sheet that a design may name: those of the tables, and the maker's own.

use std::sync::Arc;

use super::{SheetProduct, Species, sheet_goods, species};

/// Species and sheets by their ids: those of the tables that ship with the program, and the maker's own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Timbers {
    own_species: Arc<[Species]>,
    own_sheets: Arc<[SheetProduct]>,
}

impl Timbers {
    /// The tables and the maker's own.
    pub fn with_own(species: Vec<Species>, sheets: Vec<SheetProduct>) -> Timbers {
        Timbers { own_species: species.into(), own_sheets: sheets.into() }
    }

    /// Every species, the maker's own first.
    pub fn all_species(&self) -> impl Iterator<Item = &Species> {
        self.own_species.iter().chain(species())
    }

    /// Every sheet product, the maker's own first.
    pub fn all_sheets(&self) -> impl Iterator<Item = &SheetProduct> {
        self.own_sheets.iter().chain(sheet_goods())
    }

    /// The species of that id.
    pub fn species(&self, id: &str) -> Option<&Species> {
        self.all_species().find(|species| species.id == id)
    }

    /// The sheet product of that id.
    pub fn sheet(&self, id: &str) -> Option<&SheetProduct> {
        self.all_sheets().find(|sheet| sheet.id == id)
    }

    /// Whether a species is a softwood; one that is not known is taken as none.
    pub fn is_softwood(&self, id: &str) -> bool {
        self.species(id).is_some_and(|species| species.softwood)
    }
}
