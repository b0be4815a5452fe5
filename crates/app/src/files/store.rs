//! Designs and papers on disk.

use std::borrow::Cow;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use atomic_write_file::AtomicWriteFile;
use casewright_core::design::text;
use casewright_core::{Design, DryFit, Model, Solids};
use casewright_sheets::exchange::File;
use casewright_sheets::{How, Packed, Piece, Stop};

use super::timber;

/// Reads a design. Its values may be out of range: what was saved half way can be opened and mended.
///
/// # Errors
/// Why it is no design of this program, in sentences with file, line and field where they apply.
pub fn read(path: &Path) -> Result<Design, Vec<String>> {
    let text = std::fs::read_to_string(path).map_err(|error| vec![format!("{}: {error}", name(path))])?;
    let told = |errors: Vec<text::ReadError>| errors.iter().map(|error| format!("{}, {error}", name(path))).collect::<Vec<_>>();
    let mut design = text::parse(&text).map_err(told)?;
    // What is wrong with the table of own timber was told when the window opened.
    design.timber.library = timber::own().unwrap_or_default();
    Ok(design)
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

/// Writes a design. One that has no text leaves the file as it is.
///
/// # Errors
/// A sentence that names the file.
pub fn write_design(path: &Path, design: &Design) -> Result<(), String> {
    let told = |error: &dyn std::fmt::Display| format!("{} was not written: {error}", path.display());
    let text = text::write(design).map_err(|error| told(&error))?;
    write(path, text.as_bytes()).map_err(|error| told(&error))
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
    /// What the checks found and its order of assembly, where they are known.
    pub fit: Option<DryFit>,
}

impl ForPapers {
    /// What the checks found and the order of assembly; worked out where they aren't known.
    pub fn dry_fit(&self) -> Cow<'_, DryFit> {
        self.fit.as_ref().map_or_else(|| Cow::Owned(DryFit::of(&self.design, &self.model, &self.solids)), Cow::Borrowed)
    }
}

/// Where to save when a name was given without an extension, which is added.
///
/// # Errors
/// A sentence when that is the name of another file: the dialog has asked only about the name as it was given.
pub fn with_extension(path: PathBuf) -> Result<PathBuf, String> {
    if path.extension().is_some() {
        return Ok(path);
    }
    let full = path.with_extension("ron");
    match full.try_exists() {
        Ok(false) => Ok(full),
        Ok(true) => Err(format!("{} is there already; give that whole name to replace it", full.display())),
        Err(error) => Err(format!("{} can't be looked at: {error}", full.display())),
    }
}

/// Writes the papers into a folder, which is made if it is not there.
///
/// # Errors
/// A sentence that names the file.
pub fn write_papers(folder: &Path, from: &ForPapers) -> Result<(), String> {
    let told = |path: &Path, error: io::Error| format!("{} was not written: {error}", path.display());
    std::fs::create_dir_all(folder).map_err(|error| told(folder, error))?;
    let dry_fit = from.dry_fit();
    let how = How::default();
    let ForPapers { design, model, solids, .. } = from;
    let packed =
        Packed { design, model, solids, findings: &dry_fit.findings, order: Some(&dry_fit.order), how: &how, stop: Stop::default() };
    for piece in Piece::papers() {
        for File { name, bytes } in piece.make(&packed).map_err(|error| format!("{}: {error}", piece.word()))? {
            let path = folder.join(name);
            write(&path, &bytes).map_err(|error| told(&path, error))?;
        }
    }
    Ok(())
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

    #[test]
    fn adding_the_extension_never_leads_to_another_file() {
        let folder = tempfile::tempdir().expect("a folder");
        let (hall, porch) = (folder.path().join("hall"), folder.path().join("porch"));
        std::fs::write(folder.path().join("hall.ron"), "another design").expect("written");
        assert!(with_extension(hall.clone()).expect_err("a file of that name").contains("hall.ron"));
        assert_eq!(with_extension(porch), Ok(folder.path().join("porch.ron")));
        assert_eq!(with_extension(folder.path().join("hall.ron")), Ok(folder.path().join("hall.ron")), "the dialog asked about this one");
    }

    #[test]
    fn a_design_out_of_range_is_read_and_half_a_file_is_not() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("hall.ron");
        std::fs::write(&file, crate::DEMO.replace("width: 1360", "width: 9000")).expect("written");
        assert!((read(&file).expect("a design").carcase.width.to_mm() - 9000.0).abs() < 1e-9);
        std::fs::write(&file, &crate::DEMO[..crate::DEMO.len() / 2]).expect("written");
        assert!(read(&file).expect_err("half a design").concat().starts_with("hall.ron, line"));
    }
}
