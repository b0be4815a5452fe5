//! Papers and files made and written beside the frames, piece by piece, and printing by the system's viewer.
//!
//! ```text
//! ticks ──make──▶ files in memory ──▶ is one of them there already, and another? ──asked──▶ written, each whole or not at all
//! ```

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_sheets::exchange::File;
use casewright_sheets::{How, Packed, Piece, packet_pdf};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::files::desk::for_papers;
use crate::files::{ForPapers, absolute, viewer, write_atomically};
use crate::panels::{Notice, words};
use crate::session::Session;

/// What is told of an export.
const EXPORTED: &str = "Exported";
const BROKEN_OFF: &str = "Broken off";
const NOT_WRITTEN: &str = "Nothing was written";
const NOT_EXPORTED: &str = "Nothing is exported";
const NOT_ALL: &str = "Not all is exported";
const NOT_PRINTED: &str = "Nothing is printed";
const TITLES: [&str; 6] = [EXPORTED, BROKEN_OFF, NOT_WRITTEN, NOT_EXPORTED, NOT_ALL, NOT_PRINTED];

/// All papers in one.
const PACKET: &str = "packet.pdf";

/// What is asked of looking at papers, exporting and printing.
#[derive(Message, Clone, Debug, PartialEq)]
pub enum ExportAsk {
    /// Exports a piece, or leaves it out.
    Want(Piece, bool),
    /// Exports the papers in one besides, or leaves that out.
    Bound(bool),
    /// Shows a paper.
    LookAt(Piece),
    /// Makes papers so.
    So(Box<How>),
    /// Writes into that folder.
    Into(String),
    /// Makes and writes all that is wanted.
    Begin,
    /// Breaks off what is under way.
    Cancel,
    /// Deals with files that are there already.
    Settle(Settle),
    /// Shows papers in the system's viewer, which prints them.
    Print(Vec<Piece>),
}

/// What is done with files that are there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Settle {
    /// They are replaced.
    Replace,
    /// All is written into another folder.
    Elsewhere,
    /// Nothing is written.
    Leave,
}

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
    files: Vec<File>,
}

/// What came of it.
#[derive(Debug)]
enum Outcome {
    /// So many files are written.
    Written(PathBuf, usize),
    /// Broken off when so many were written.
    Stopped(PathBuf, usize),
    /// It has to be asked first.
    Asks(Held),
    Shown,
    /// What did not come about, and why.
    Failed(&'static str, String),
}

/// What is looked at and exported, how it is made, and what is under way.
#[derive(Resource)]
pub struct Export {
    /// The pieces that are exported.
    pub wanted: Vec<Piece>,
    /// Whether the papers are exported in one besides.
    pub bound: bool,
    /// The paper that is shown.
    pub looked_at: Piece,
    /// How papers are made.
    pub how: How,
    /// What waits for an answer.
    pub held: Option<Held>,
    /// The folder as typed; empty for one beside the design.
    folder: String,
    working: Beside<(), Outcome>,
    come: Arc<Mutex<Come>>,
    stop: Arc<AtomicBool>,
    /// Asked for while the case was still being worked out.
    waiting: Option<ExportAsk>,
}

impl Default for Export {
    fn default() -> Export {
        Export {
            wanted: Piece::papers().collect(),
            bound: true,
            looked_at: Piece::Drawings,
            how: How::default(),
            held: None,
            folder: String::new(),
            working: Beside::default(),
            come: Arc::default(),
            stop: Arc::default(),
            waiting: None,
        }
    }
}

impl Export {
    /// How far it is; none where nothing is under way.
    pub fn come(&self) -> Option<Come> {
        self.working.is_busy().then(|| self.come.lock().map(|come| *come).unwrap_or_default())
    }

    /// Where it is written: what was typed, or a folder beside the design, or in the home folder while the design is in no file.
    pub fn folder(&self, session: &Session) -> String {
        if !self.folder.is_empty() {
            return self.folder.clone();
        }
        let name = |stem: &str| format!("{stem} papers");
        let folder = session.path().map_or_else(
            || std::env::home_dir().unwrap_or_else(std::env::temp_dir).join(name(session.design().name.trim())),
            |path| path.with_file_name(name(&path.file_stem().unwrap_or_default().to_string_lossy())),
        );
        folder.display().to_string()
    }

    /// The pieces that are exported, in their order.
    pub fn pieces(&self) -> Vec<Piece> {
        Piece::ALL.into_iter().filter(|piece| self.wanted.contains(piece)).collect()
    }

    fn work(&mut self, from: ForPapers) -> Work {
        self.stop = Arc::default();
        self.come = Arc::default();
        Work { from, how: self.how.clone(), come: Arc::clone(&self.come), stop: Arc::clone(&self.stop) }
    }
}

/// Keeps [`Export`].
pub struct ExportPlugin;

impl Plugin for ExportPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Export>()
            .add_message::<ExportAsk>()
            .add_systems(Update, act.after(FrameSet::Ask).before(FrameSet::Derive))
            .add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn act(
    mut asked: MessageReader<ExportAsk>,
    mut export: ResMut<Export>,
    mut notice: ResMut<Notice>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    for ask in asked.read() {
        match ask {
            ExportAsk::Want(piece, wanted) => {
                export.wanted.retain(|known| known != piece);
                if *wanted {
                    export.wanted.push(*piece);
                }
            }
            ExportAsk::Bound(bound) => export.bound = *bound,
            ExportAsk::LookAt(piece) => export.looked_at = *piece,
            ExportAsk::So(how) => export.how = (**how).clone(),
            ExportAsk::Into(folder) => export.folder.clone_from(folder),
            ExportAsk::Cancel => {
                export.stop.store(true, Ordering::Relaxed);
                export.waiting = None;
            }
            ExportAsk::Begin | ExportAsk::Print(_) => export.waiting = Some(ask.clone()),
            ExportAsk::Settle(settle) => {
                let Some(Held { folder, elsewhere, files, .. }) = export.held.take() else { continue };
                let folder = match settle {
                    Settle::Replace => folder,
                    Settle::Elsewhere => elsewhere,
                    Settle::Leave => {
                        *notice = Notice::told(NOT_WRITTEN, vec!["The files that were there stay as they are.".to_owned()]);
                        continue;
                    }
                };
                let (come, stop) = (Arc::clone(&export.come), Arc::clone(&export.stop));
                export.working.start((), async move { write_all(&folder, &files, &come, &stop) });
            }
        }
        redraw.write(RequestRedraw);
    }
}

fn follow(
    mut export: ResMut<Export>,
    session: Res<Session>,
    derived: Res<Derived>,
    mut notice: ResMut<Notice>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if export.working.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
        match export.working.take() {
            Some(((), Outcome::Asks(held))) => export.held = Some(held),
            Some(((), Outcome::Shown)) | None => {}
            Some(((), outcome)) => *notice = told(outcome),
        }
        return;
    }
    if export.waiting.is_none() || !derived.is_of(&session) {
        return;
    }
    let Some(asked) = export.waiting.take() else { return };
    match for_papers(&session, &derived) {
        Ok(from) => {
            export.held = None;
            if TITLES.contains(&notice.title.as_str()) {
                // What the last one came to is past.
                *notice = Notice::default();
            }
            let work = export.work(from);
            if let ExportAsk::Print(pieces) = asked {
                export.working.start((), async move { work.print(&pieces) });
            } else {
                let (folder, pieces, bound) = (absolute(Path::new(&export.folder(&session))), export.pieces(), export.bound);
                export.working.start((), async move { work.export(folder, &pieces, bound) });
            }
        }
        Err(why) => *notice = Notice::told("No papers are made", vec![why]),
    }
    redraw.write(RequestRedraw);
}

fn told(outcome: Outcome) -> Notice {
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
struct Work {
    from: ForPapers,
    how: How,
    come: Arc<Mutex<Come>>,
    stop: Arc<AtomicBool>,
}

fn comes(come: &Mutex<Come>, done: usize, of: usize, doing: Doing) {
    if let Ok(mut come) = come.lock() {
        *come = Come { done, of, doing };
    }
}

impl Work {
    /// Makes pieces one after the other, with all papers in one at their end where that is wanted; nothing when it was broken off.
    fn make(&self, pieces: &[Piece], bound: bool) -> Result<Option<Vec<File>>, String> {
        let of = pieces.len() + 2;
        comes(&self.come, 0, of, Doing::Checks);
        let dry_fit = self.from.dry_fit();
        let ForPapers { design, model, solids, .. } = &self.from;
        let packed = Packed { design, model, solids, findings: &dry_fit.findings, order: Some(&dry_fit.order), how: &self.how };
        let mut files: Vec<File> = Vec::new();
        let mut papers = 0;
        for (done, piece) in pieces.iter().enumerate() {
            if self.stop.load(Ordering::Relaxed) {
                return Ok(None);
            }
            comes(&self.come, done, of, Doing::Making(*piece));
            files.extend(piece.make(&packed).map_err(|error| format!("{}: {error}", words::sentence(piece.word())))?);
            if piece.is_paper() {
                papers = files.len();
            }
        }
        if bound && papers > 0 {
            comes(&self.come, pieces.len(), of, Doing::Binding);
            let bytes = packet_pdf(&design.name, files.get(..papers).unwrap_or(&[])).map_err(|error| error.to_string())?;
            files.push(File { name: PACKET.to_owned(), bytes });
        }
        Ok(if self.stop.load(Ordering::Relaxed) { None } else { Some(files) })
    }

    /// Makes pieces and writes them into a folder, unless other files of their names are there.
    fn export(self, folder: PathBuf, pieces: &[Piece], bound: bool) -> Outcome {
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
    fn print(self, pieces: &[Piece]) -> Outcome {
        let files = match self.make(pieces, false) {
            Ok(Some(files)) => files,
            Ok(None) => return Outcome::Shown,
            Err(why) => return Outcome::Failed(NOT_PRINTED, why),
        };
        comes(&self.come, pieces.len(), pieces.len() + 2, Doing::Binding);
        let shown = packet_pdf(&self.from.design.name, &files)
            .map_err(|error| error.to_string())
            .and_then(|bytes| viewer::show(&bytes, &self.from.design.name));
        match shown {
            Ok(()) => Outcome::Shown,
            Err(why) => Outcome::Failed(NOT_PRINTED, why),
        }
    }
}

/// The names of files that are in a folder already with something else in them. What can't be read counts as something else.
fn others(folder: &Path, files: &[File]) -> Vec<String> {
    let differs = |file: &&File| {
        let path = folder.join(&file.name);
        path.symlink_metadata().is_ok() && std::fs::read(path).map_or(true, |bytes| bytes != file.bytes)
    };
    files.iter().filter(differs).map(|file| file.name.clone()).collect()
}

/// A folder beside this one that is not there yet: with the next number behind its name.
fn elsewhere(folder: &Path) -> PathBuf {
    let name = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut number = 2_u64;
    loop {
        let path = folder.with_file_name(format!("{name} {number}"));
        if path.symlink_metadata().is_err() {
            return path;
        }
        number += 1;
    }
}

/// Writes files into a folder, which is made where it is not there; between two of them it can be broken off.
fn write_all(folder: &Path, files: &[File], come: &Mutex<Come>, stop: &AtomicBool) -> Outcome {
    for (count, file) in files.iter().enumerate() {
        comes(come, count, files.len(), Doing::Writing);
        if stop.load(Ordering::Relaxed) {
            return Outcome::Stopped(folder.to_owned(), count);
        }
        let path = folder.join(&file.name);
        let made = path.parent().map_or(Ok(()), std::fs::create_dir_all);
        if let Err(error) = made.and_then(|()| write_atomically(&path, &file.bytes)) {
            let before = match count {
                0 => String::new(),
                count => format!("; {} before it", words::counted(count, "file was written", "files were written")),
            };
            return Outcome::Failed(NOT_ALL, format!("{} was not written: {error}{before}", path.display()));
        }
    }
    Outcome::Written(folder.to_owned(), files.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files() -> Vec<File> {
        [("a.pdf", "one"), ("step/case.step", "two"), ("b.pdf", "three")]
            .map(|(name, text)| File { name: name.to_owned(), bytes: text.as_bytes().to_vec() })
            .into()
    }

    #[test]
    fn files_are_written_whole_into_folders_that_are_made() {
        let folder = tempfile::tempdir().expect("a folder");
        let out = folder.path().join("papers");
        let outcome = write_all(&out, &files(), &Mutex::default(), &AtomicBool::new(false));
        assert!(matches!(outcome, Outcome::Written(_, 3)), "{outcome:?}");
        assert_eq!(std::fs::read_to_string(out.join("step/case.step")).expect("written"), "two");
        assert!(others(&out, &files()).is_empty(), "what is the same need not be asked about");
    }

    #[test]
    fn what_would_be_replaced_is_named_and_another_folder_offered() {
        let folder = tempfile::tempdir().expect("a folder");
        let out = folder.path().join("papers");
        std::fs::create_dir_all(&out).expect("a folder");
        std::fs::write(out.join("b.pdf"), "mine").expect("written");
        assert_eq!(others(&out, &files()), ["b.pdf"]);
        std::fs::create_dir(folder.path().join("papers 2")).expect("a folder");
        assert_eq!(elsewhere(&out), folder.path().join("papers 3"));
    }

    #[test]
    fn broken_off_leaves_nothing_half_written() {
        let folder = tempfile::tempdir().expect("a folder");
        let outcome = write_all(folder.path(), &files(), &Mutex::default(), &AtomicBool::new(true));
        assert!(matches!(outcome, Outcome::Stopped(_, 0)), "{outcome:?}");
        assert_eq!(std::fs::read_dir(folder.path()).expect("a folder").count(), 0);
        // A file in the place of a folder: what came before is whole, and it is told what was not written.
        std::fs::write(folder.path().join("step"), "in the way").expect("written");
        let outcome = write_all(folder.path(), &files(), &Mutex::default(), &AtomicBool::new(false));
        assert!(matches!(&outcome, Outcome::Failed(_, why) if why.contains("case.step") && why.contains("1 file")), "{outcome:?}");
        assert_eq!(std::fs::read_to_string(folder.path().join("a.pdf")).expect("written"), "one");
    }
}
