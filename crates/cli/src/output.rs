//! Text and JSON on the standard output, and files in folders.

use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use serde::Serialize;

use crate::failure::Failure;
use crate::load;

/// Prints a text as it is.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()?;
    Ok(())
}

/// Prints a document as JSON.
pub fn print_json(document: &impl Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(document).map_err(|error| Failure::Output(error.into()))?;
    print(&format!("{text}\n"))
}

/// Which edge of its column a cell keeps to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// A table with two spaces between columns and no blanks at line ends.
pub fn table<const N: usize>(head: [(&str, Align); N], rows: &[[String; N]]) -> String {
    let widths: [usize; N] = std::array::from_fn(|column| {
        let cells = rows.iter().map(|row| width(&row[column]));
        cells.chain([width(head[column].0)]).max().unwrap_or(0)
    });
    let line = |cells: [&str; N]| {
        let padded: [String; N] = std::array::from_fn(|column| {
            let (cell, blanks) = (cells[column], " ".repeat(widths[column] - width(cells[column])));
            match head[column].1 {
                Align::Left => format!("{cell}{blanks}"),
                Align::Right => format!("{blanks}{cell}"),
            }
        });
        format!("{}\n", padded.join("  ").trim_end())
    };
    let mut text = line(head.map(|(word, _)| word));
    for row in rows {
        text += &line(std::array::from_fn(|column| row[column].as_str()));
    }
    text
}

fn width(text: &str) -> usize {
    text.chars().count()
}

/// A folder that files are written into.
pub struct Folder(PathBuf);

impl Folder {
    /// Makes it where it is not there.
    pub fn made(path: &Path) -> Result<Folder, Failure> {
        fs::create_dir_all(path).map_err(|error| unwritten(path, &error))?;
        Ok(Folder(path.to_owned()))
    }

    /// Writes a file, whole or not at all, and gives its path; a folder that its name begins with is made.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<String, Failure> {
        let path = self.0.join(name);
        if let Some(folder) = path.parent().filter(|folder| *folder != self.0) {
            fs::create_dir_all(folder).map_err(|error| unwritten(folder, &error))?;
        }
        load::write(&path, bytes).map_err(|error| unwritten(&path, &error))?;
        Ok(path.display().to_string())
    }
}

fn unwritten(path: &Path, error: &io::Error) -> Failure {
    Failure::told(format!("{}: it can't be written: {error}", path.display()))
}
