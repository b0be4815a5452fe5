//! What was chosen in the stage "Drawings", kept in the user's configuration folder for each design by its file: the next time it is opened, it is as it was.
//! A design that was not seen before begins as the newest was left, but for what belongs to that alone.

use std::io;
use std::path::{Path, PathBuf};

use bevy::prelude::*;
use casewright_sheets::drawing::TitleBlock;
use casewright_sheets::{How, Piece};
use serde::{Deserialize, Serialize};

use crate::files::{configuration, put_by, write_atomically};

/// So many designs are remembered, those that were looked at last.
const MOST: usize = 200;

/// What is chosen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct Choices {
    /// The pieces that are exported.
    pub wanted: Vec<Piece>,
    /// Whether the papers are exported in one besides.
    pub bound: bool,
    /// The paper that is shown.
    pub looked_at: Piece,
    /// How papers are made.
    pub how: How,
    /// The folder as typed; empty for one beside the design.
    pub folder: String,
}

impl Default for Choices {
    fn default() -> Choices {
        Choices { wanted: Piece::papers().collect(), bound: true, looked_at: Piece::Drawings, how: How::default(), folder: String::new() }
    }
}

impl Choices {
    /// What another design begins with: number, date, approval and folder are those of one alone.
    fn for_another(mut self) -> Choices {
        let TitleBlock { owner, creator, .. } = std::mem::take(&mut self.how.drafting.block);
        self.how.drafting.block = TitleBlock { owner, creator, ..TitleBlock::default() };
        Choices { folder: String::new(), ..self }
    }
}

/// The file as it is written: designs by their files, the newest last.
#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(default)]
struct Book {
    designs: Vec<(String, Choices)>,
    /// Of a design that is in no file, until one is.
    newest: Choices,
}

/// Where choices are kept, and of which design those in the window are.
#[derive(Resource, Debug)]
pub(super) struct Remembered {
    /// None where the system names no folder for it: nothing is kept then.
    file: Option<PathBuf>,
    /// Counts designs as they are opened; and its file.
    pub of: Option<(u64, Option<PathBuf>)>,
}

impl Default for Remembered {
    fn default() -> Remembered {
        Remembered { file: configuration().map(|folder| folder.join("casewright").join("papers.json")), of: None }
    }
}

impl Remembered {
    /// What was chosen for the design in a file.
    ///
    /// # Errors
    /// What was kept can't be read, and where it is put by.
    pub fn recall(&self, design: Option<&Path>) -> Result<Choices, String> {
        let Book { designs, newest } = self.book()?;
        let name = design.map(named);
        let own = designs.into_iter().rev().find(|(of, _)| Some(of) == name.as_ref());
        Ok(own.map_or_else(|| newest.for_another(), |(_, choices)| choices))
    }

    /// Keeps what is chosen for the design in a file, or for whatever is opened next.
    ///
    /// # Errors
    /// Why it can't be written.
    pub fn keep(&self, design: Option<&Path>, choices: &Choices) -> Result<(), String> {
        let Some(file) = &self.file else { return Ok(()) };
        let mut book = self.book()?;
        book.newest = choices.clone();
        if let Some(name) = design.map(named) {
            book.designs.retain(|(of, _)| *of != name);
            book.designs.push((name, choices.clone()));
            let over = book.designs.len().saturating_sub(MOST);
            book.designs.drain(..over);
        }
        let told = |error: &dyn std::fmt::Display| format!("{} was not written: {error}", file.display());
        let text = serde_json::to_vec_pretty(&book).map_err(|error| told(&error))?;
        file.parent().map_or(Ok(()), std::fs::create_dir_all).and_then(|()| write_atomically(file, &text)).map_err(|error| told(&error))
    }

    /// What is in the file; one that can't be made out is put by, so that it is not written over.
    fn book(&self) -> Result<Book, String> {
        let Some(file) = &self.file else { return Ok(Book::default()) };
        let text = match std::fs::read(file) {
            Ok(text) => text,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Book::default()),
            Err(error) => return Err(format!("{} can't be read: {error}", file.display())),
        };
        serde_json::from_slice(&text).map_err(|error| {
            let aside = put_by(file).map_or_else(|error| error, |aside| format!("it is put by as {}", aside.display()));
            format!("{} can't be made out: {error}; {aside}", file.display())
        })
    }
}

fn named(path: &Path) -> String {
    crate::files::absolute(path).to_string_lossy().into_owned()
}

#[cfg(test)]
mod tests {
    use casewright_core::length::Units;
    use casewright_sheets::drawing::{Angle, Sheet};

    use super::*;

    fn chosen() -> Choices {
        let mut choices = Choices { wanted: vec![Piece::Labels, Piece::Step], bound: false, looked_at: Piece::Rod, ..Choices::default() };
        choices.folder = "/shop/papers".to_owned();
        choices.how.used = 5;
        choices.how.drafting.sheet = Sheet::Letter;
        choices.how.drafting.angle = Angle::Third;
        choices.how.drafting.units = Units::Inches;
        choices.how.drafting.block.owner = "The county".to_owned();
        choices.how.drafting.block.number = "17".to_owned();
        choices
    }

    #[test]
    fn what_was_chosen_for_a_design_is_there_when_it_is_opened_again() {
        let folder = tempfile::tempdir().expect("a folder");
        let at = || Remembered { file: Some(folder.path().join("casewright").join("papers.json")), of: None };
        let [hall, study] = ["/shop/hall.ron", "/shop/study.ron"].map(Path::new);
        assert_eq!(at().recall(Some(hall)), Ok(Choices::default()), "nothing was chosen yet");
        at().keep(Some(hall), &chosen()).expect("kept");
        assert_eq!(at().recall(Some(hall)), Ok(chosen()));
        // Another begins with the sheet and the unit of the shop, and with no number and no folder.
        let other = at().recall(Some(study)).expect("read");
        assert_eq!(
            (other.how.drafting.sheet, other.how.drafting.units, other.wanted.clone()),
            (Sheet::Letter, Units::Inches, chosen().wanted)
        );
        assert_eq!((other.how.drafting.block.owner.as_str(), other.how.drafting.block.number.as_str()), ("The county", ""));
        assert_eq!(other.folder, "");
        at().keep(Some(study), &Choices::default()).expect("kept");
        assert_eq!(at().recall(Some(hall)), Ok(chosen()), "those of the other stay");
    }

    #[test]
    fn what_cannot_be_made_out_is_put_by_and_told() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("papers.json");
        std::fs::write(&file, "{\"designs\": [[").expect("half of it");
        let remembered = Remembered { file: Some(file.clone()), of: None };
        let told = remembered.recall(None).expect_err("it is broken");
        assert!(told.contains("papers.json") && told.contains("-left"), "{told}");
        assert_eq!(std::fs::read_to_string(folder.path().join("papers.json-left")).expect("put by"), "{\"designs\": [[");
        assert!(remembered.keep(None, &chosen()).is_ok() && file.exists());
        // What an older program did not know of has its default.
        std::fs::write(&file, "{\"newest\": {\"bound\": false}}").expect("written");
        assert_eq!(remembered.recall(None), Ok(Choices { bound: false, ..Choices::default() }));
    }
}
