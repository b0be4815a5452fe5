//! Products in sheets.

use std::sync::{Arc, LazyLock};

use serde::{Deserialize, Serialize};

use super::known::{How, Known};
use super::species::{Species, species};
use super::tables::{Group, Obtained, all_publications, known, rows};

/// What a product in sheets is made as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MadeAs {
    /// Fibres pressed dry, bare.
    Mdf,
    /// Chips, bare.
    Particleboard,
    /// Fibres pressed wet, thin and hard.
    Hardboard,
    /// Veneers crossed, of the same timber throughout.
    Plywood,
    /// Plywood with a face veneer of a furniture timber.
    VeneeredPlywood,
    /// MDF with a veneer on both faces.
    VeneeredMdf,
    /// Solid boards glued edge to edge.
    EdgeGlued,
}

impl MadeAs {
    /// All of them.
    pub const ALL: [MadeAs; 7] = [
        MadeAs::Mdf,
        MadeAs::Particleboard,
        MadeAs::Hardboard,
        MadeAs::Plywood,
        MadeAs::VeneeredPlywood,
        MadeAs::VeneeredMdf,
        MadeAs::EdgeGlued,
    ];

    /// Its word in files.
    pub fn word(self) -> &'static str {
        match self {
            MadeAs::Mdf => "mdf",
            MadeAs::Particleboard => "particleboard",
            MadeAs::Hardboard => "hardboard",
            MadeAs::Plywood => "plywood",
            MadeAs::VeneeredPlywood => "veneered_plywood",
            MadeAs::VeneeredMdf => "veneered_mdf",
            MadeAs::EdgeGlued => "edge_glued",
        }
    }

    /// Whether it shows which way it lies.
    pub fn has_grain(self) -> bool {
        match self {
            MadeAs::Mdf | MadeAs::Particleboard | MadeAs::Hardboard => false,
            MadeAs::Plywood | MadeAs::VeneeredPlywood | MadeAs::VeneeredMdf | MadeAs::EdgeGlued => true,
        }
    }
}

/// A product in sheets. What the table does not know is nothing, never zero.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetProduct {
    /// Its name in files: `veneered_mdf_16`.
    pub id: String,
    /// Its name for people.
    pub name: String,
    /// What it is made as, where that is known.
    pub made_as: Option<MadeAs>,
    /// Whether it shows which way it lies: its parts then keep their length along the sheet.
    pub grain: bool,
    /// Thickness it is sold as, mm.
    pub nominal: Option<f64>,
    /// Mean or usual thickness, mm.
    pub thickness: Option<Known>,
    /// The greatest deviation from it, mm, as the source has it: `±0.2`, `+0 / -1.2`.
    pub tolerance: String,
    /// Density, kg/m³.
    pub density: Option<Known>,
    /// Modulus of elasticity along the sheet or its face grain, N/mm²; by its note a mean or a least requirement.
    pub moe: Option<Known>,
    /// Modulus of elasticity across it, N/mm².
    pub moe_cross: Option<Known>,
    /// Modulus of rupture along the sheet or its face grain, N/mm².
    pub mor: Option<Known>,
    /// Modulus of rupture across it, N/mm².
    pub mor_cross: Option<Known>,
    /// How much length and width grow when the air goes from 35 to 85 % relative humidity, %.
    pub expansion: Option<Known>,
    /// How much the thickness swells in 24 hours under water, %; tells nothing of humidity.
    pub swell: Option<Known>,
    /// Of solid boards glued edge to edge: what they are of, where that is told.
    pub boards: Option<Arc<Species>>,
    /// What else the table says of its figures.
    pub note: String,
    /// Codes of the sources, spelled out in `assets/timber/sources.csv`.
    pub(crate) codes: String,
    /// The sources of the whole row.
    pub source: String,
    /// The weakest way in which a figure of the row was obtained.
    pub how: How,
}

#[derive(Deserialize)]
struct Row {
    id: String,
    product: String,
    made_as: MadeAs,
    nominal_thickness_mm: Option<f64>,
    actual_thickness_mm: Option<f64>,
    thickness_tolerance_mm: String,
    density_kg_m3: Option<f64>,
    moe_mpa: Option<f64>,
    moe_cross_mpa: Option<f64>,
    mor_mpa: Option<f64>,
    mor_cross_mpa: Option<f64>,
    linear_expansion_35_85_pct: Option<f64>,
    thickness_swell_pct: Option<f64>,
    source: String,
    how_obtained: How,
    note: String,
    how_thickness: Obtained,
    how_density: Obtained,
    how_moe_mor: Obtained,
    how_expansion: Obtained,
    how_swell: Obtained,
}

const TABLE: &str = include_str!("../../../../assets/timber/sheet_goods.csv");

static SHEETS: LazyLock<Vec<SheetProduct>> = LazyLock::new(|| rows::<Row>(TABLE).map(SheetProduct::from).collect());

/// Every product of the table of sheet goods.
pub fn sheet_goods() -> &'static [SheetProduct] {
    &SHEETS
}

static OF_BOARDS: LazyLock<Vec<SheetProduct>> = LazyLock::new(|| species().iter().map(SheetProduct::edge_glued).collect());

/// Panels of boards glued edge to edge, one of every species of the table.
pub(super) fn edge_glued() -> &'static [SheetProduct] {
    &OF_BOARDS
}

/// What the names of panels of solid boards, glued edge to edge, have in common.
pub(crate) const EDGE_GLUED: &str = "edge_glued";

/// Whether a product of that id is solid boards glued edge to edge.
pub(crate) fn is_boards(id: &str) -> bool {
    id.contains(EDGE_GLUED)
}

impl SheetProduct {
    /// One of which nothing is known yet but its names.
    pub(crate) fn blank(id: &str, name: &str, how: How, source: &str) -> SheetProduct {
        SheetProduct {
            id: id.to_owned(),
            name: name.to_owned(),
            made_as: None,
            grain: true,
            nominal: None,
            thickness: None,
            tolerance: String::new(),
            density: None,
            moe: None,
            moe_cross: None,
            mor: None,
            mor_cross: None,
            expansion: None,
            swell: None,
            boards: None,
            note: String::new(),
            codes: String::new(),
            source: source.to_owned(),
            how,
        }
    }

    /// A panel of boards of a species, glued edge to edge: it is as heavy, as stiff and as strong as they are, and moves as they do.
    ///
    /// Its id is `edge_glued_` and that of the species: `edge_glued_white_oak`.
    pub(crate) fn edge_glued(of: &Species) -> SheetProduct {
        SheetProduct {
            density: of.density.clone(),
            moe: of.moe.clone(),
            mor: of.mor.clone(),
            boards: Some(Arc::new(of.clone())),
            made_as: Some(MadeAs::EdgeGlued),
            ..SheetProduct::blank(&format!("{EDGE_GLUED}_{}", of.id), &format!("Edge-glued panel, {}", of.name), of.how, &of.source)
        }
    }

    /// How much thinner and how much thicker a sheet may be, mm; nothing where no tolerance is known.
    ///
    /// ```
    /// let sheets = casewright_core::timber::sheet_goods();
    /// let of = |id: &str| sheets.iter().find(|sheet| sheet.id == id).and_then(casewright_core::timber::SheetProduct::deviation);
    /// assert_eq!(of("mdf_en622_5_12"), Some((0.2, 0.2)));
    /// assert_eq!(of("birch_plywood_12"), Some((0.5, 0.5)));
    /// assert_eq!(of("hardwood_plywood_12"), Some((1.2, 0.0)));
    /// ```
    pub fn deviation(&self) -> Option<(f64, f64)> {
        let figure = |text: &str| text.trim().parse::<f64>().ok().map(f64::abs);
        if let Some(both) = self.tolerance.strip_prefix('±') {
            return figure(both).map(|both| (both, both));
        }
        let (more, less) = self.tolerance.split_once('/')?;
        Some((figure(less)?, figure(more)?))
    }
}

impl From<Row> for SheetProduct {
    fn from(row: Row) -> SheetProduct {
        let figure = |value, how, group| known(value, how, &row.source, group);
        let strength = |value| figure(value, row.how_moe_mor, Group::Strength);
        SheetProduct {
            made_as: Some(row.made_as),
            grain: row.made_as.has_grain(),
            nominal: row.nominal_thickness_mm,
            thickness: figure(row.actual_thickness_mm, row.how_thickness, Group::Thickness),
            density: figure(row.density_kg_m3, row.how_density, Group::Density),
            moe: strength(row.moe_mpa),
            moe_cross: strength(row.moe_cross_mpa),
            mor: strength(row.mor_mpa),
            mor_cross: strength(row.mor_cross_mpa),
            expansion: figure(row.linear_expansion_35_85_pct, row.how_expansion, Group::Expansion),
            swell: figure(row.thickness_swell_pct, row.how_swell, Group::Swell),
            source: all_publications(&row.source),
            boards: None,
            id: row.id,
            name: row.product,
            tolerance: row.thickness_tolerance_mm,
            note: row.note,
            how: row.how_obtained,
            codes: row.source,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_table_is_read() {
        assert_eq!(sheet_goods().len(), csv::Reader::from_reader(TABLE.as_bytes()).records().count());
        // The names of those that are veneered or of veneers say so.
        for sheet in sheet_goods() {
            let named = ["veneer", "plywood", "edge"].iter().any(|word| sheet.name.to_lowercase().contains(word));
            assert_eq!(sheet.grain, named, "{}", sheet.name);
        }
    }
}
