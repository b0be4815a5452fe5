//! Species of timber.

use std::sync::LazyLock;

use serde::Deserialize;

use super::known::{How, Known};
use super::tables::{Group, Obtained, all_publications, known, rows};

/// A species of timber. What the table does not know is nothing, never zero.
#[derive(Clone, Debug, PartialEq)]
pub struct Species {
    /// Its name in files: `white_ash`.
    pub id: String,
    /// Its name for people: "Ash, white".
    pub name: String,
    /// Its botanical name.
    pub botanical: String,
    /// Whether it is a softwood, by botany.
    pub softwood: bool,
    /// Density at 12 % moisture, kg/m³.
    pub density: Option<Known>,
    /// Specific gravity: ovendry weight on the volume at 12 % moisture, a plain number.
    pub gravity: Option<Known>,
    /// Shrinkage across the rings from green to ovendry, % of the green size.
    pub shrink_radial: Option<Known>,
    /// Shrinkage along the rings from green to ovendry, % of the green size.
    pub shrink_tangential: Option<Known>,
    /// Change across the growth rings per percent of moisture, as a fraction of the size; good from 6 to 14 %.
    pub radial: Option<Known>,
    /// Change along the growth rings per percent of moisture, as a fraction of the size; good from 6 to 14 %.
    pub tangential: Option<Known>,
    /// Another published or derived value of [`radial`](Species::radial), to tell how far sources differ.
    pub other_radial: Option<f64>,
    /// Another value of [`tangential`](Species::tangential).
    pub other_tangential: Option<f64>,
    /// Where the other values come from.
    pub other_source: String,
    /// Modulus of elasticity along the grain at 12 % moisture, N/mm²: mean of small clear specimens, no design value.
    pub moe: Option<Known>,
    /// Modulus of rupture at 12 % moisture, N/mm²: mean of small clear specimens.
    pub mor: Option<Known>,
    /// Strength in shear along the grain at 12 % moisture, N/mm²: mean of small clear specimens.
    pub shear: Option<Known>,
    /// Stress across the grain at the proportional limit, at 12 % moisture, N/mm²: mean of small clear specimens.
    pub compression: Option<Known>,
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
    common_name: String,
    botanical_name: String,
    hardwood_or_softwood: String,
    density_12_kg_m3: Option<f64>,
    shrink_radial_pct: Option<f64>,
    shrink_tangential_pct: Option<f64>,
    coeff_radial_per_pct_mc: Option<f64>,
    coeff_tangential_per_pct_mc: Option<f64>,
    moe_mpa_12: Option<f64>,
    mor_mpa_12: Option<f64>,
    shear_parallel_mpa_12: Option<f64>,
    compression_perp_mpa_12: Option<f64>,
    source: String,
    how_obtained: How,
    note: String,
    how_density: Obtained,
    how_shrink: Obtained,
    how_coeff: Obtained,
    how_moe_mor: Obtained,
    how_shear: Obtained,
    how_compression_perp: Obtained,
    sg_12: Option<f64>,
    alt_coeff_radial: Option<f64>,
    alt_coeff_tangential: Option<f64>,
    alt_source: String,
}

const TABLE: &str = include_str!("../../../../assets/timber/species.csv");

static SPECIES: LazyLock<Vec<Species>> = LazyLock::new(|| rows::<Row>(TABLE).map(Species::from).collect());

/// Every species of the table.
pub fn species() -> &'static [Species] {
    &SPECIES
}

/// Density of wood at 12 % moisture whose specific gravity there is 1, kg/m³ (1000 and
/// 12 % of water; Wood Handbook FPL-GTR-282, chapter 4, read in a faithful copy).
const DENSITY_12: f64 = 1120.0;

impl Species {
    /// One of which nothing is known yet but its names.
    pub(crate) fn blank(id: &str, name: &str, how: How, source: &str) -> Species {
        Species {
            id: id.to_owned(),
            name: name.to_owned(),
            botanical: String::new(),
            softwood: false,
            density: None,
            gravity: None,
            shrink_radial: None,
            shrink_tangential: None,
            radial: None,
            tangential: None,
            other_radial: None,
            other_tangential: None,
            other_source: String::new(),
            moe: None,
            mor: None,
            shear: None,
            compression: None,
            note: String::new(),
            codes: String::new(),
            source: source.to_owned(),
            how,
        }
    }

    /// Specific gravity, ovendry weight on the volume at 12 % moisture, of a density at 12 %, kg/m³.
    pub(crate) fn gravity_of(density: f64) -> f64 {
        density / DENSITY_12
    }
}

impl From<Row> for Species {
    fn from(row: Row) -> Species {
        let codes = &row.source;
        let figure = |value, how, group| known(value, how, codes, group);
        let strength = |value, how| figure(value, how, Group::Strength);
        let density = figure(row.density_12_kg_m3, row.how_density, Group::Density);
        // The handbook prints the specific gravity, from which the table's density follows; elsewhere it is the other way round.
        let gravity = row.sg_12.map_or_else(
            || density.as_ref().map(|density| density.derived(Species::gravity_of(density.value))),
            |gravity| figure(Some(gravity), Obtained(Some(How::Read)), Group::Density),
        );
        Species {
            gravity,
            density,
            shrink_radial: figure(row.shrink_radial_pct, row.how_shrink, Group::Shrinkage),
            shrink_tangential: figure(row.shrink_tangential_pct, row.how_shrink, Group::Shrinkage),
            radial: figure(row.coeff_radial_per_pct_mc, row.how_coeff, Group::Movement),
            tangential: figure(row.coeff_tangential_per_pct_mc, row.how_coeff, Group::Movement),
            other_radial: row.alt_coeff_radial,
            other_tangential: row.alt_coeff_tangential,
            other_source: row.alt_source,
            moe: strength(row.moe_mpa_12, row.how_moe_mor),
            mor: strength(row.mor_mpa_12, row.how_moe_mor),
            shear: strength(row.shear_parallel_mpa_12, row.how_shear),
            compression: strength(row.compression_perp_mpa_12, row.how_compression_perp),
            source: all_publications(codes),
            id: row.id,
            name: row.common_name,
            botanical: row.botanical_name,
            softwood: row.hardwood_or_softwood == "softwood",
            note: row.note,
            how: row.how_obtained,
            codes: row.source,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The column says one of two words in every row, so that reading anything but the one as the other is right.
    #[test]
    fn ash_is_a_hardwood_and_pine_a_softwood() {
        let words = |row: &Row| ["hardwood", "softwood"].contains(&row.hardwood_or_softwood.as_str());
        assert!(rows::<Row>(TABLE).all(|row| words(&row)));
        let softwood = |id: &str| species().iter().find(|species| species.id == id).expect("a species").softwood;
        assert!(!softwood("white_ash") && softwood("scots_pine"));
    }

    #[test]
    fn every_row_of_the_table_is_read() {
        assert_eq!(species().len(), csv::Reader::from_reader(TABLE.as_bytes()).records().count());
        assert!(species().len() >= 30);
    }

    /// A figure says how it was obtained by its own group of figures, and names the publication that tells it, not the whole row's.
    #[test]
    fn a_figure_from_memory_says_so() {
        let maple = species().iter().find(|species| species.id == "red_maple").expect("red maple");
        assert_eq!(maple.how, How::Memory, "its shrinkage is recalled");
        let (shrinkage, movement) = (maple.shrink_tangential.as_ref(), maple.tangential.as_ref());
        assert_eq!(shrinkage.map(|known| known.how), Some(How::Memory));
        assert_eq!(movement.map(|known| (known.how, known.source.as_ref())), Some((How::Read, "Wood Handbook FPL-GTR-190, table 13-5")));
    }
}
