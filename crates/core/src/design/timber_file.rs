//! A file of the maker's own species and sheets, besides those that a design tells of: a table as those in `assets/timber`, to be kept from one
//! piece to the next.
//!
//! ```text
//! id,common_name,density_12_kg_m3,coeff_radial_per_pct_mc,coeff_tangential_per_pct_mc,source
//! olive_ash,"Ash, olive",690,0.0018,0.0030,weighed and measured here
//!
//! id,product,density_kg_m3,moe_mpa
//! yard_ply_15,"Plywood of the yard, 15",640,7000
//! ```
//!
//! A table begins with a row of column names and ends at an empty row; one with `common_name` is of species, one with `product` of sheets. Only
//! id and name must be there. Every figure counts as the maker's own, so the columns that tell how one was obtained say `own` or nothing. Columns of
//! the tables that no case asks for are passed over. A line that begins with `#` is a remark. Where `;` parts the cells, `,` may be the decimal mark.

use std::collections::HashSet;
use std::ops::RangeInclusive;

use super::own::{DENSITY, ELASTICITY, EXPANSION, MOVES, OwnSheet, OwnSpecies, STRENGTH, wrong_id};
use crate::length::trimmed_to;
use crate::timber::{MadeAs, SheetProduct, Species, Timbers, sheet_goods, species};

/// What will not do in a file of timber.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}{}: {problem}", in_column(.column))]
pub struct FileError {
    /// Line of the file, from 1.
    pub line: usize,
    /// The column by its name; empty where the whole row is meant.
    pub column: String,
    /// What was found, and what would do.
    pub problem: String,
}

fn in_column(name: &str) -> String {
    if name.is_empty() { String::new() } else { format!(", {name}") }
}

/// Reads a file of own timber.
///
/// # Errors
/// All that will not do, each with its line and column.
pub fn read(text: &str) -> Result<Timbers, Vec<FileError>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reading = Reading::default();
    let tables = tables(text);
    if tables.is_empty() {
        reading.fail(
            1,
            "",
            "the file is empty; its first row names the columns: id, common_name, … of species, or id, product, … of sheets",
        );
    }
    for (first, table) in tables {
        reading.table(first, &table);
    }
    if !reading.errors.is_empty() {
        return Err(reading.errors);
    }
    Ok(Timbers::with_own(reading.species.iter().map(Species::from).collect(), reading.sheets.iter().map(SheetProduct::from).collect()))
}

/// The tables of a file, each with the line on which it begins.
fn tables(text: &str) -> Vec<(usize, String)> {
    let mut tables: Vec<(usize, String)> = Vec::new();
    let mut inside = false;
    for (index, line) in text.lines().enumerate() {
        let empty = line.trim().trim_matches([',', ';']).is_empty();
        let remark = line.starts_with('#');
        match (empty, inside) {
            (true, _) => inside = false,
            (false, false) if remark => {}
            (false, false) => {
                tables.push((index + 1, format!("{line}\n")));
                inside = true;
            }
            (false, true) => {
                if let Some((_, table)) = tables.last_mut() {
                    table.push_str(line);
                    table.push('\n');
                }
            }
        }
    }
    tables
}

/// What a row of a table becomes.
trait Row: Default {
    /// The column that holds its name for people.
    const NAME: &'static str;
    /// Columns of the table that ships with the program that nothing of the maker's own goes by.
    const PASSED_OVER: &'static [&'static str];
    /// Columns that tell how a figure was obtained.
    const STATUS: &'static [&'static str];
    /// Id, name and source.
    fn words(&mut self) -> [&mut String; 3];
    /// Where the figure of a column goes, by how much it is multiplied on the way there, and what it may then be.
    fn figure(&mut self, column: &str) -> Option<(&mut Option<f64>, f64, RangeInclusive<f64>)>;
    /// A column that is a word; whether it is one of this table, and what was wrong with it.
    fn word(&mut self, column: &str, cell: &str) -> Option<Result<(), &'static str>>;
}

impl Row for OwnSpecies {
    const NAME: &'static str = "common_name";
    const PASSED_OVER: &'static [&'static str] = &[
        "botanical_name",
        "shrink_radial_pct",
        "shrink_tangential_pct",
        "shrink_volumetric_pct",
        "sg_12",
        "alt_coeff_radial",
        "alt_coeff_tangential",
        "alt_source",
        "note",
    ];
    const STATUS: &'static [&'static str] =
        &["how_obtained", "how_density", "how_shrink", "how_coeff", "how_moe_mor", "how_shear", "how_compression_perp"];

    fn words(&mut self) -> [&mut String; 3] {
        [&mut self.id, &mut self.name, &mut self.source]
    }

    fn figure(&mut self, column: &str) -> Option<(&mut Option<f64>, f64, RangeInclusive<f64>)> {
        Some(match column {
            "density_12_kg_m3" => (&mut self.density, 1.0, DENSITY),
            // The table has a fraction of the size, the design percent of it.
            "coeff_radial_per_pct_mc" => (&mut self.radial, 100.0, MOVES),
            "coeff_tangential_per_pct_mc" => (&mut self.tangential, 100.0, MOVES),
            "moe_mpa_12" => (&mut self.moe, 1.0, ELASTICITY),
            "mor_mpa_12" => (&mut self.mor, 1.0, STRENGTH),
            "shear_parallel_mpa_12" => (&mut self.shear, 1.0, STRENGTH),
            "compression_perp_mpa_12" => (&mut self.compression, 1.0, STRENGTH),
            _ => return None,
        })
    }

    fn word(&mut self, column: &str, cell: &str) -> Option<Result<(), &'static str>> {
        (column == "hardwood_or_softwood").then(|| {
            self.softwood = cell == "softwood";
            if ["", "hardwood", "softwood"].contains(&cell) { Ok(()) } else { Err("write hardwood or softwood") }
        })
    }
}

impl Row for OwnSheet {
    const NAME: &'static str = "product";
    const PASSED_OVER: &'static [&'static str] = &[
        "nominal_thickness_mm",
        "actual_thickness_mm",
        "actual_min_mm",
        "actual_max_mm",
        "thickness_tolerance_mm",
        "mor_cross_mpa",
        "thickness_swell_pct",
        "note",
    ];
    const STATUS: &'static [&'static str] = &["how_obtained", "how_thickness", "how_density", "how_moe_mor", "how_expansion", "how_swell"];

    fn words(&mut self) -> [&mut String; 3] {
        [&mut self.id, &mut self.name, &mut self.source]
    }

    fn figure(&mut self, column: &str) -> Option<(&mut Option<f64>, f64, RangeInclusive<f64>)> {
        Some(match column {
            "density_kg_m3" => (&mut self.density, 1.0, DENSITY),
            "linear_expansion_35_85_pct" => (&mut self.expansion, 1.0, EXPANSION),
            "moe_mpa" => (&mut self.moe, 1.0, ELASTICITY),
            "moe_cross_mpa" => (&mut self.moe_cross, 1.0, ELASTICITY),
            "mor_mpa" => (&mut self.mor, 1.0, STRENGTH),
            _ => return None,
        })
    }

    fn word(&mut self, column: &str, cell: &str) -> Option<Result<(), &'static str>> {
        const WOULD_DO: &str = "write mdf, particleboard, hardboard, plywood, veneered_plywood, veneered_mdf or edge_glued";
        (column == "made_as").then(|| {
            self.made_as = MadeAs::ALL.into_iter().find(|made_as| made_as.word() == cell);
            if cell.is_empty() || self.made_as.is_some() { Ok(()) } else { Err(WOULD_DO) }
        })
    }
}

/// What was read so far.
#[derive(Default)]
struct Reading {
    species: Vec<OwnSpecies>,
    sheets: Vec<OwnSheet>,
    errors: Vec<FileError>,
}

impl Reading {
    fn fail(&mut self, line: usize, column: &str, problem: impl Into<String>) {
        self.errors.push(FileError { line, column: column.to_owned(), problem: problem.into() });
    }

    /// One table, which begins on line `first`.
    fn table(&mut self, first: usize, text: &str) {
        let head = text.lines().next().unwrap_or_default();
        let semicolons = head.matches(';').count() > head.matches(',').count();
        let delimiter = if semicolons { b';' } else { b',' };
        let mut reader = csv::ReaderBuilder::new();
        reader.flexible(true).trim(csv::Trim::All).comment(Some(b'#')).delimiter(delimiter);
        let mut reader = reader.from_reader(text.as_bytes());
        let Ok(head) = reader.headers().cloned() else {
            return self.fail(first, "", "this row can't be read; write the names of the columns, with commas between");
        };
        let cells: Vec<(usize, csv::StringRecord)> = reader
            .records()
            .filter_map(Result::ok)
            .map(|row| (first + row.position().map_or(0, |at| at.line() as usize).saturating_sub(1), row))
            .collect();
        let has = |name: &str| head.iter().any(|column| column == name);
        let table = Table { first, head: &head, rows: &cells, decimal_comma: semicolons };
        if has(OwnSpecies::NAME) {
            let taken = species().iter().map(|species| species.id.as_str());
            let rows = self.rows(&table, taken);
            self.species.extend(rows);
        } else if has(OwnSheet::NAME) {
            let taken = sheet_goods().iter().map(|sheet| sheet.id.as_str());
            let rows = self.rows(&table, taken);
            self.sheets.extend(rows);
        } else {
            let found = head.iter().take(3).collect::<Vec<_>>().join(", ");
            self.fail(
                first,
                "",
                format!("the columns begin with {found}; a table of species has a column common_name, one of sheets a column product"),
            );
        }
    }

    fn rows<R: Row>(&mut self, table: &Table<'_>, taken: impl Iterator<Item = &'static str>) -> Vec<R> {
        self.columns::<R>(table);
        let mut taken: HashSet<String> = taken.map(str::to_owned).collect();
        let mut rows = Vec::new();
        for (line, cells) in table.rows {
            if cells.len() > table.head.len() {
                self.fail(*line, "", format!("the row has {} cells and the table {} columns", cells.len(), table.head.len()));
                continue;
            }
            let mut row = R::default();
            for (column, cell) in table.head.iter().zip(cells) {
                if let Err(problem) = put(&mut row, column, cell, table.decimal_comma) {
                    self.fail(*line, column, problem);
                }
            }
            let [id, name, _] = row.words();
            if let Some(problem) = wrong_id(id, &mut taken) {
                self.fail(*line, "id", format!("\"{id}\" will not do; {problem}"));
            }
            if name.is_empty() {
                self.fail(*line, R::NAME, "the name is missing; write what you call it");
            }
            rows.push(row);
        }
        rows
    }

    /// Tells of every column that the table does not know.
    fn columns<R: Row>(&mut self, table: &Table<'_>) {
        let known = |column: &str| {
            let mut row = R::default();
            ["id", R::NAME, "source"].contains(&column)
                || R::PASSED_OVER.contains(&column)
                || R::STATUS.contains(&column)
                || row.figure(column).is_some()
                || row.word(column, "").is_some()
        };
        if !table.head.iter().any(|column| column == "id") {
            self.fail(table.first, "id", "the column is missing; every row has a name in files, such as olive_ash");
        }
        for column in table.head.iter().filter(|column| !known(column)) {
            self.fail(table.first, column, "there is no such column; the tables in assets/timber have those that there are");
        }
    }
}

/// A table as it was read.
struct Table<'t> {
    first: usize,
    head: &'t csv::StringRecord,
    rows: &'t [(usize, csv::StringRecord)],
    decimal_comma: bool,
}

/// Puts a cell where it belongs.
fn put<R: Row>(row: &mut R, column: &str, cell: &str, decimal_comma: bool) -> Result<(), String> {
    if let Some(at) = ["id", R::NAME, "source"].iter().position(|word| *word == column) {
        cell.clone_into(row.words()[at]);
        return Ok(());
    }
    if R::STATUS.contains(&column) {
        let own = ["", "own", "none"].contains(&cell);
        return if own { Ok(()) } else { Err(format!("\"{cell}\" will not do; figures of this file are your own: write own, or nothing")) };
    }
    if let Some(read) = row.word(column, cell) {
        return read.map_err(|expected| format!("\"{cell}\" will not do; {expected}"));
    }
    let Some((slot, times, range)) = row.figure(column) else { return Ok(()) };
    if cell.is_empty() {
        return Ok(());
    }
    let text = if decimal_comma { cell.replace(',', ".") } else { cell.to_owned() };
    let (least, most) = (range.start() / times, range.end() / times);
    let wanted = format!("{} to {}", trimmed_to(least, 5), trimmed_to(most, 5));
    let value: f64 = text.parse().map_err(|_| format!("\"{cell}\" is no number; write {wanted}, or leave it empty"))?;
    if !range.contains(&(value * times)) {
        return Err(format!("{cell} is out of range; it must be {wanted}"));
    }
    *slot = Some(value * times);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::timber::How;

    const GOOD: &str = "# of my own yard\nid,common_name,hardwood_or_softwood,density_12_kg_m3,coeff_radial_per_pct_mc,\
        coeff_tangential_per_pct_mc,moe_mpa_12,source,how_density\nolive_ash,\"Ash, olive\",hardwood,690,0.0018,0.0030,12000,weighed here,own\n\
        yard_larch,Larch,softwood,,,,,,\n\nid;product;density_kg_m3;moe_mpa;linear_expansion_35_85_pct\nyard_ply_15;Plywood of the yard;640;7000;0,15\n";

    #[test]
    fn species_and_sheets_of_a_file_are_found_beside_those_of_the_tables() {
        let timbers = read(GOOD).expect("a good file");
        let ash = timbers.species("olive_ash").expect("it is there");
        assert_eq!((ash.name.as_str(), ash.softwood), ("Ash, olive", false));
        let known = |known: &Option<crate::timber::Known>| known.as_ref().map(|known| (known.value, known.how, known.source.to_string()));
        assert_eq!(known(&ash.density), Some((690.0, How::Maker, "weighed here".to_owned())));
        let rate = ash.tangential.as_ref().expect("it moves").value;
        assert!((rate - 0.0030).abs() < 1e-12, "{rate}");
        let larch = timbers.species("yard_larch").expect("it is there");
        assert!(larch.softwood && larch.density.is_none() && larch.tangential.is_none(), "what is not told is not known");
        let ply = timbers.sheet("yard_ply_15").expect("it is there");
        assert!((ply.expansion.as_ref().expect("told").value - 0.15).abs() < 1e-12, "a decimal comma");
        assert!(timbers.species("white_ash").is_some() && timbers.all_species().count() > 30);
    }

    #[test]
    fn what_will_not_do_names_line_and_column_and_says_what_would() {
        let head = "id,common_name,density_12_kg_m3,how_density,hardwood_or_softwood\n";
        for (text, says) in [
            (String::new(), "line 1: the file is empty"),
            ("name,weight\nash,700\n".to_owned(), "line 1: the columns begin with name, weight; a table of species has"),
            (format!("{head}mine,Mine,heavy,,\n"), "line 2, density_12_kg_m3: \"heavy\" is no number; write 50 to 1500, or leave it empty"),
            (
                format!("{head}mine,Mine,690,,\n\n# here\n{head}more,More,7000,,\n"),
                "line 6, density_12_kg_m3: 7000 is out of range; it must be 50 to 1500",
            ),
            (format!("{head}white_ash,Mine,,,\n"), "line 2, id: \"white_ash\" will not do; another timber has that name"),
            (format!("{head}mine,Mine,,,\nmine,Mine,,,\n"), "line 3, id: \"mine\" will not do; another timber has that name"),
            (format!("{head}My ash,Mine,,,\n"), "line 2, id: \"My ash\" will not do; write a name of small letters"),
            (format!("{head}mine,,,,\n"), "line 2, common_name: the name is missing"),
            (format!("{head}mine,Mine,690,read,\n"), "line 2, how_density: \"read\" will not do; figures of this file are your own"),
            (format!("{head}mine,Mine,690,,soft\n"), "line 2, hardwood_or_softwood: \"soft\" will not do; write hardwood or softwood"),
            (format!("{head}mine,Mine,690,,,7\n"), "line 2: the row has 6 cells and the table 5 columns"),
            ("id,common_name,weight\nmine,Mine,700\n".to_owned(), "line 1, weight: there is no such column"),
            ("common_name\nMine\n".to_owned(), "line 1, id: the column is missing"),
        ] {
            let errors = read(&text).expect_err(says);
            let told = errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
            assert!(told.contains(says), "{told}\nwanted {says}");
        }
    }

    #[test]
    fn a_design_may_name_what_only_the_file_has() {
        let text = include_str!("../../../../examples/records_cabinet.ron").replace("top: \"white_ash\"", "top: \"olive_ash\"");
        let timbers = read(GOOD).expect("a good file");
        assert!(super::super::text::read(&text).is_err(), "without the file nobody knows it");
        let design = super::super::text::read_with(&text, &timbers).expect("a design");
        let model = crate::derive(&design).expect("a case");
        assert_eq!(model.timbers.name(&model.find("top").expect("a top").material), "Ash, olive");
        // The file is no part of the design.
        let written = super::super::text::write(&design).expect("text");
        assert!(!written.contains("Ash, olive") && written.contains("olive_ash"));
        assert_eq!(super::super::text::read_with(&written, &timbers).expect("the same"), design);
    }
}
