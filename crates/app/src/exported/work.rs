//! Making papers and files piece by piece, beside the frames; what comes of it, and how far it is.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use casewright_sheets::exchange::File;
use casewright_sheets::{BrokenOff, How, Packed, PacketError, Piece, SheetError, Stop, packet_pdf};

use super::write::{elsewhere, others, write_all};
use crate::files::{ForPapers, viewer};
use crate::panels::{Notice, words};

/// What is told of an export.
const EXPORTED: &str = "Exported";
const BROKEN_OFF: &str = "Broken off";
pub(super) const NOT_WRITTEN: &str = "Nothing was written";
const NOT_EXPORTED: &str = "Nothing is exported";
pub(super) const NOT_ALL: &str = "Not all is exported";
const NOT_PRINTED: &str = "Nothing is printed";
pub(super) const TITLES: [&str; 6] = [EXPORTED, BROKEN_OFF, NOT_WRITTEN, NOT_EXPORTED, NOT_ALL, NOT_PRINTED];

/// All papers in one.
const PACKET: &str = "packet.pdf";

/// What is being done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Doing {
    /// The order of assembly and the checks.
    #[default]
    Checks,
    /// A piece is made.
    Making(Piece),
    /// The papers are put into one.
    Binding,
    /// Files are written.
    Writing,
}

impl Doing {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Doing::Checks => "checks and order of assembly",
            Doing::Making(piece) => piece.word(),
            Doing::Binding => "all papers in one",
            Doing::Writing => "writing",
        }
    }
}

/// How far an export has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Come {
    /// How many steps are done.
    pub done: usize,
    /// How many there are.
    pub of: usize,
    /// What is being done.
    pub doing: Doing,
}

/// Files that were made and not yet written, since others of the same names are in the folder.
#[derive(Debug)]
pub struct Held {
    /// The folder.
    pub folder: PathBuf,
    /// Another that is not there yet.
    pub elsewhere: PathBuf,
    /// The names of those that would be replaced.
    pub there: Vec<String>,
    pub(super) files: Vec<File>,
}

/// What came of it.
#[derive(Debug)]
pub(super) enum Outcome {
    /// So many files are written.
    Written(PathBuf, usize),
    /// Broken off when so many were written.
    Stopped(PathBuf, usize),
    /// It has to be asked first.
    Asks(Held),
    /// It is open in the viewer, or was broken off before.
    Shown,
    /// What did not come about, and why.
    Failed(&'static str, String),
}

/// What is told of it.
pub(super) fn told(outcome: Outcome) -> Notice {
    match outcome {
        Outcome::Written(folder, count) => {
            Notice::told(EXPORTED, vec![format!("{} in {}", words::counted(count, "file is", "files are"), folder.display())])
        }
        Outcome::Stopped(_, 0) => Notice::told(BROKEN_OFF, vec!["Nothing was written.".to_owned()]),
        Outcome::Stopped(folder, count) => {
            let files = words::counted(count, "whole file is", "whole files are");
            Notice::told(BROKEN_OFF, vec![format!("{files} in {}; the others were not written.", folder.display())])
        }
        Outcome::Asks(_) | Outcome::Shown => Notice::default(),
        Outcome::Failed(what, why) => Notice::told(what, vec![why]),
    }
}

/// What papers are made from, and where it is told how far they are.
pub(super) struct Work {
    pub from: ForPapers,
    pub how: How,
    pub come: Arc<Mutex<Come>>,
    pub stop: Arc<AtomicBool>,
}

/// Says how far it is.
pub(super) fn comes(come: &Mutex<Come>, done: usize, of: usize, doing: Doing) {
    if let Ok(mut come) = come.lock() {
        *come = Come { done, of, doing };
    }
}

impl Work {
    /// Makes pieces one after the other, with all papers in one at their end where that is wanted; nothing when it was broken off, which is heard
    /// between the pages and parts of each.
    fn make(&self, pieces: &[Piece], bound: bool) -> Result<Option<Vec<File>>, String> {
        let stopped = || self.stop.load(Ordering::Relaxed);
        let of = pieces.len() + 2;
        comes(&self.come, 0, of, Doing::Checks);
        let dry_fit = self.from.dry_fit();
        let ForPapers { design, model, solids, .. } = &self.from;
        let stop = Stop::by(&stopped);
        let packed = Packed { design, model, solids, findings: &dry_fit.findings, order: Some(&dry_fit.order), how: &self.how, stop };
        let mut files: Vec<File> = Vec::new();
        let mut papers = 0;
        for (done, piece) in pieces.iter().enumerate() {
            comes(&self.come, done, of, Doing::Making(*piece));
            match piece.make(&packed) {
                Ok(made) => files.extend(made),
                Err(PacketError::BrokenOff(BrokenOff)) => return Ok(None),
                Err(error) => return Err(format!("{}: {error}", words::sentence(piece.word()))),
            }
            if piece.is_paper() {
                papers = files.len();
            }
        }
        if bound && papers > 0 {
            comes(&self.come, pieces.len(), of, Doing::Binding);
            match self.bind(files.get(..papers).unwrap_or(&[]))? {
                Some(bytes) => files.push(File { name: PACKET.to_owned(), bytes }),
                None => return Ok(None),
            }
        }
        Ok(if stopped() { None } else { Some(files) })
    }

    /// All papers in one; nothing when it was broken off.
    fn bind(&self, papers: &[File]) -> Result<Option<Vec<u8>>, String> {
        match packet_pdf(&self.from.design.name, papers, Stop::by(&|| self.stop.load(Ordering::Relaxed))) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(SheetError::BrokenOff(BrokenOff)) => Ok(None),
            Err(error) => Err(error.to_string()),
        }
    }

    /// Makes pieces and writes them into a folder, unless other files of their names are there.
    pub fn export(self, folder: PathBuf, pieces: &[Piece], bound: bool) -> Outcome {
        let files = match self.make(pieces, bound) {
            Ok(Some(files)) => files,
            Ok(None) => return Outcome::Stopped(folder, 0),
            Err(why) => return Outcome::Failed(NOT_EXPORTED, why),
        };
        let there = others(&folder, &files);
        if !there.is_empty() {
            return Outcome::Asks(Held { elsewhere: elsewhere(&folder), folder, there, files });
        }
        write_all(&folder, &files, &self.come, &self.stop)
    }

    /// Makes papers, all in one, and opens it in the system's viewer.
    pub fn print(self, pieces: &[Piece]) -> Outcome {
        let files = match self.make(pieces, false) {
            Ok(Some(files)) => files,
            Ok(None) => return Outcome::Shown,
            Err(why) => return Outcome::Failed(NOT_PRINTED, why),
        };
        comes(&self.come, pieces.len(), pieces.len() + 2, Doing::Binding);
        let shown = self.bind(&files).and_then(|bytes| match bytes {
            Some(bytes) => viewer::show(&bytes, &self.from.design.name),
            None => Ok(()),
        });
        match shown {
            Ok(()) => Outcome::Shown,
            Err(why) => Outcome::Failed(NOT_PRINTED, why),
        }
    }
}
