//! Papers and files made and written beside the frames, piece by piece, and printing by the system's viewer.
//!
//! ```text
//! ticks ──make──▶ files in memory ──▶ is one of them there already, and another? ──asked──▶ written, each whole or not at all
//! ```

mod remembered;
mod work;
mod write;

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_sheets::{How, Piece};

use self::remembered::{Choices, Remembered};
use self::work::{NOT_WRITTEN, Outcome, TITLES, Work, told};
use self::write::write_all;
use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::files::desk::for_papers;
use crate::files::{ForPapers, absolute};
use crate::panels::Notice;
use crate::session::Session;

pub use self::work::{Come, Doing, Held};

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
        let Choices { wanted, bound, looked_at, how, folder } = Choices::default();
        Export {
            wanted,
            bound,
            looked_at,
            how,
            held: None,
            folder,
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

    fn choices(&self) -> Choices {
        Choices {
            wanted: self.wanted.clone(),
            bound: self.bound,
            looked_at: self.looked_at,
            how: self.how.clone(),
            folder: self.folder.clone(),
        }
    }

    fn take(&mut self, choices: Choices) {
        let Choices { wanted, bound, looked_at, how, folder } = choices;
        (self.wanted, self.bound, self.looked_at, self.how, self.folder) = (wanted, bound, looked_at, how, folder);
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
            .init_resource::<Remembered>()
            .add_message::<ExportAsk>()
            .add_systems(Update, recall.after(FrameSet::Ask).before(act))
            .add_systems(Update, act.after(FrameSet::Ask).before(FrameSet::Derive))
            .add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

/// What is told where choices can't be read or kept.
const NOT_KEPT: &str = "What is chosen under Drawings is not kept";

/// Takes up what was chosen for a design when it is opened, and keeps it for one that is saved under another name.
fn recall(mut export: ResMut<Export>, mut remembered: ResMut<Remembered>, session: Res<Session>, mut notice: ResMut<Notice>) {
    let path = session.path();
    if remembered.of.as_ref().is_some_and(|(piece, of)| *piece == session.piece() && of.as_deref() == path) {
        return;
    }
    let is_another = remembered.of.as_ref().is_none_or(|(piece, _)| *piece != session.piece());
    let done =
        if is_another { remembered.recall(path).map(|choices| export.take(choices)) } else { remembered.keep(path, &export.choices()) };
    if let Err(why) = done {
        notice.add(NOT_KEPT, vec![why]);
    }
    remembered.of = Some((session.piece(), path.map(Path::to_owned)));
}

fn act(
    mut asked: MessageReader<ExportAsk>,
    mut export: ResMut<Export>,
    remembered: Res<Remembered>,
    session: Res<Session>,
    mut notice: ResMut<Notice>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let before = (!asked.is_empty()).then(|| export.choices());
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
    if before.is_some_and(|before| before != export.choices())
        && let Err(why) = remembered.keep(session.path(), &export.choices())
    {
        notice.add(NOT_KEPT, vec![why]);
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
