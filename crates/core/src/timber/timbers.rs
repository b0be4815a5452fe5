//! Every timber and sheet that a design may name: those of the tables, and the maker's own.

use std::sync::Arc;

use super::sheets::edge_glued;
use super::{Known, SheetProduct, Species, sheet_goods, species};
use crate::model::Material;

/// Species and sheets by their ids: those of the tables that ship with the program, and the maker's own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Timbers {
    own_species: Arc<[Species]>,
    own_sheets: Arc<[SheetProduct]>,
}

impl Timbers {
    /// The tables and the maker's own; panels of boards glued edge to edge there are of each species.
    pub fn with_own(species: Vec<Species>, mut sheets: Vec<SheetProduct>) -> Timbers {
        sheets.extend(species.iter().map(SheetProduct::edge_glued));
        Timbers { own_species: species.into(), own_sheets: sheets.into() }
    }

    /// These, and after them the own ones of others.
    #[must_use]
    pub fn and_then(self, others: &Timbers) -> Timbers {
        if others.own_species.is_empty() && others.own_sheets.is_empty() {
            return self;
        }
        Timbers {
            own_species: self.own_species.iter().chain(others.own_species.iter()).cloned().collect(),
            own_sheets: self.own_sheets.iter().chain(others.own_sheets.iter()).cloned().collect(),
        }
    }

    /// Every species, the maker's own first.
    pub fn all_species(&self) -> impl Iterator<Item = &Species> {
        self.own_species.iter().chain(species())
    }

    /// Every sheet product, the maker's own first, edge-glued panels of the species of the table last.
    pub fn all_sheets(&self) -> impl Iterator<Item = &SheetProduct> {
        self.own_sheets.iter().chain(sheet_goods()).chain(edge_glued())
    }

    /// The species of that id.
    pub fn species(&self, id: &str) -> Option<&Species> {
        self.all_species().find(|species| species.id == id)
    }

    /// The sheet product of that id.
    pub fn sheet(&self, id: &str) -> Option<&SheetProduct> {
        self.all_sheets().find(|sheet| sheet.id == id)
    }

    /// What a material is of, where it is solid wood: a species, or boards of one that are glued edge to edge.
    pub fn wood(&self, material: &Material) -> Option<&Species> {
        match material {
            Material::Solid(id) => self.species(id),
            Material::Sheet(id) => self.sheet(id)?.boards.as_deref(),
            Material::Bought(_) => None,
        }
    }

    /// What a material is called: its name in a table, or its id where none has it.
    pub fn name<'a>(&'a self, material: &'a Material) -> &'a str {
        match material {
            Material::Solid(id) => self.species(id).map_or(id, |species| &species.name),
            Material::Sheet(id) => self.sheet(id).map_or(id, |sheet| &sheet.name),
            Material::Bought(id) => id,
        }
    }

    /// Whether a material shows which way it lies; what is not known is taken to.
    pub fn has_grain(&self, material: &Material) -> bool {
        match material {
            Material::Solid(_) => true,
            Material::Sheet(id) => self.sheet(id).is_none_or(|sheet| sheet.grain),
            Material::Bought(_) => false,
        }
    }

    /// Which way the grain of a part of it runs.
    pub fn grain(&self, material: &Material) -> &'static str {
        match material {
            Material::Solid(_) => "along the length",
            Material::Sheet(_) if self.has_grain(material) => "face grain along the length",
            Material::Sheet(_) | Material::Bought(_) => "none",
        }
    }

    /// How heavy a material is, kg/m³, where it is known; solid timber at 12 % moisture.
    pub fn density(&self, material: &Material) -> Option<&Known> {
        match material {
            Material::Solid(id) => self.species(id)?.density.as_ref(),
            Material::Sheet(id) => self.sheet(id)?.density.as_ref(),
            Material::Bought(_) => None,
        }
    }
}
