//! Designs and papers on disk.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use atomic_write_file::AtomicWriteFile;
use casewright_core::design::text;
use casewright_core::{CutList, Design, Finding, Model, Solids};
use casewright_sheets::{Paper, cut_list_csv, drawing_pdf};

/// Reads a design.
///
/// # Errors
/// Every mistake in a sentence, with file, line, field and range where they apply.
pub fn read(path: &Path) -> Result<Design, Vec<String>> {
    let text = std::fs::read_to_string(path).map_err(|error| vec![format!("{}: {error}", name(path))])?;
    text::read(&text).map_err(|errors| errors.iter().map(|error| format!("{}, {error}", name(path))).collect())
}

/// Writes so that either all of it is there or the old file still is.
///
/// # Errors
/// Whatever the disk says.
pub fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = AtomicWriteFile::open(path)?;
    file.write_all(bytes)?;
    file.commit()
}

/// Writes a design.
///
/// # Errors
/// A sentence that names the file.
pub fn write_design(path: &Path, design: &Design) -> Result<(), String> {
    write(path, text::write(design).as_bytes()).map_err(|error| format!("{} was not written: {error}", path.display()))
}

/// All that papers are made of.
#[derive(Clone)]
pub struct ForPapers {
    /// The decisions.
    pub design: Design,
    /// What follows.
    pub model: Model,
    /// Its solids.
    pub solids: Solids,
    /// What the checks found.
    pub findings: Vec<Finding>,
    /// Equal parts together.
    pub cut_list: CutList,
}

/// Writes cut list and drawings into a folder, which is made if it is not there.
///
/// # Errors
/// A sentence that names the file.
pub fn write_papers(folder: &Path, from: &ForPapers) -> Result<(), String> {
    let told = |path: &Path, error: io::Error| format!("{} was not written: {error}", path.display());
    std::fs::create_dir_all(folder).map_err(|error| told(folder, error))?;
    let list = folder.join("cut_list.csv");
    write(&list, cut_list_csv(&from.cut_list).as_bytes()).map_err(|error| told(&list, error))?;
    let drawings = folder.join("drawings.pdf");
    let pdf = drawing_pdf(&from.design, &from.model, &from.solids, &from.findings, &Paper { date: None })
        .map_err(|error| format!("{} was not made: {error}", drawings.display()))?;
    write(&drawings, &pdf).map_err(|error| told(&drawings, error))
}

/// The last part of a path, for people.
pub fn name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// The path from the root, so that it stays right wherever the program goes on.
pub fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

/// A file name for a piece: `records_cabinet.ron`.
pub fn file_name_for(piece: &str) -> String {
    let word: String = piece.trim().to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '_' }).collect();
    let word = word.trim_matches('_');
    format!("{}.ron", if word.is_empty() { "case" } else { word })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_name_is_made_of_the_name() {
        assert_eq!(file_name_for("Records cabinet"), "records_cabinet.ron");
        assert_eq!(file_name_for(" / "), "case.ron");
    }
}
