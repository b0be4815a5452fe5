//! Species and sheet goods from the tables in `assets/timber`, and how solid wood moves.
//!
//! The tables name a source for every row and say of each group of figures whether it was read there, derived or
//! recalled from memory. An empty cell is unknown, never zero.

use std::sync::LazyLock;

use serde::Deserialize;

/// A species of timber.
#[derive(Clone, Debug, PartialEq)]
pub struct Species {
    /// Its name in files: `white_ash`.
    pub id: String,
    /// Its name for people: "Ash, white".
    pub name: String,
    /// Whether it is a softwood, by botany.
    pub softwood: bool,
    /// Density at 12 % moisture, kg/m³, where known.
    pub density: Option<f64>,
    /// Change across the growth rings per percent of moisture, as a fraction of the size, where known.
    pub radial: Option<f64>,
    /// Change along the growth rings per percent of moisture, as a fraction of the size, where known.
    pub tangential: Option<f64>,
    /// Codes of the sources, spelled out in `assets/timber/SOURCES.md`.
    pub source: String,
    /// Weakest way in which a figure of the row was obtained: read, derived or memory.
    pub status: String,
}

/// A product in sheets.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetProduct {
    /// Its name in files: `veneered_mdf_16`.
    pub id: String,
    /// Its name for people.
    pub name: String,
    /// Density, kg/m³, where known.
    pub density: Option<f64>,
    /// Codes of the sources.
    pub source: String,
    /// Weakest way in which a figure of the row was obtained.
    pub status: String,
}

#[derive(Deserialize)]
struct SpeciesRow {
    id: String,
    common_name: String,
    hardwood_or_softwood: String,
    density_12_kg_m3: Option<f64>,
    coeff_radial_per_pct_mc: Option<f64>,
    coeff_tangential_per_pct_mc: Option<f64>,
    source: String,
    how_obtained: String,
}

#[derive(Deserialize)]
struct SheetRow {
    id: String,
    product: String,
    density_kg_m3: Option<f64>,
    source: String,
    how_obtained: String,
}

static SPECIES: LazyLock<Vec<Species>> = LazyLock::new(|| {
    rows::<SpeciesRow>(include_str!("../../../../assets/timber/species.csv"))
        .map(|row| Species {
            id: row.id,
            name: row.common_name,
            softwood: row.hardwood_or_softwood == "softwood",
            density: row.density_12_kg_m3,
            radial: row.coeff_radial_per_pct_mc,
            tangential: row.coeff_tangential_per_pct_mc,
            source: row.source,
            status: row.how_obtained,
        })
        .collect()
});

static SHEETS: LazyLock<Vec<SheetProduct>> = LazyLock::new(|| {
    rows::<SheetRow>(include_str!("../../../../assets/timber/sheet_goods.csv"))
        .map(|row| SheetProduct { id: row.id, name: row.product, density: row.density_kg_m3, source: row.source, status: row.how_obtained })
        .collect()
});

/// The rows of a table that ships with the program; a test reads every row, so a bad one is never met by a user.
fn rows<Row: for<'de> Deserialize<'de>>(table: &'static str) -> impl Iterator<Item = Row> {
    csv::Reader::from_reader(table.as_bytes()).into_deserialize().filter_map(Result::ok)
}

/// Every species of the table.
pub fn species() -> &'static [Species] {
    &SPECIES
}

/// Every product of the table of sheet goods.
pub fn sheet_goods() -> &'static [SheetProduct] {
    &SHEETS
}

/// The species of that id.
pub fn find_species(id: &str) -> Option<&'static Species> {
    SPECIES.iter().find(|species| species.id == id)
}

/// The sheet product of that id.
pub fn find_sheet(id: &str) -> Option<&'static SheetProduct> {
    SHEETS.iter().find(|sheet| sheet.id == id)
}

/// Whether a species is a softwood; one that the table does not know is taken as none.
pub fn is_softwood(species: &str) -> bool {
    find_species(species).is_some_and(|species| species.softwood)
}

/// The larger of the two movement coefficients used when the table has none for a species: that of American beech
/// along the rings, the greatest of the common cabinet woods (Wood Handbook FPL-GTR-190, table 13-5).
pub const CAUTIOUS_COEFFICIENT: f64 = 0.00431;

/// The movement of a flat-sawn or unknown board of a species: its tangential coefficient, or the cautious one.
pub fn flat_sawn_coefficient(species: &str) -> f64 {
    find_species(species).and_then(|species| species.tangential).unwrap_or(CAUTIOUS_COEFFICIENT)
}

/// How much a width across the grain changes, mm; positive when it grows.
///
/// `width` is the size at `from` percent moisture, `coefficient` the change per percent. Wood Handbook FPL-GTR-190,
/// equation 13-2, good from 6 to 14 % moisture.
pub fn movement(width: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    width * coefficient * (to - from)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The column says one of two words in every row, so that reading anything but the one as the other is right.
    #[test]
    fn ash_is_a_hardwood_and_pine_a_softwood() {
        let words = |row: &SpeciesRow| ["hardwood", "softwood"].contains(&row.hardwood_or_softwood.as_str());
        assert!(rows::<SpeciesRow>(include_str!("../../../../assets/timber/species.csv")).all(|row| words(&row)));
        assert!(!is_softwood("white_ash") && is_softwood("scots_pine") && !is_softwood("no such wood"));
    }

    #[test]
    fn every_row_of_the_tables_is_read() {
        for (table, read) in [
            (include_str!("../../../../assets/timber/species.csv"), species().len()),
            (include_str!("../../../../assets/timber/sheet_goods.csv"), sheet_goods().len()),
        ] {
            let rows = csv::Reader::from_reader(table.as_bytes()).records().count();
            assert_eq!(read, rows);
        }
        assert!(species().len() >= 30);
    }
}
