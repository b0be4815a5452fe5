//! Files in and out: opening, saving, what is kept aside, papers and the picture. Nothing here makes the window wait.
//!
//! Dialogs, reading and writing run as tasks beside the window; [`desk`] takes in what they bring.

pub mod desk;
mod keep;
mod picture;
mod store;
mod timber;
pub mod viewer;

use std::path::PathBuf;

use bevy::prelude::*;
use casewright_core::Design;

use crate::panels::Notice;
use crate::session::Session;
use crate::{FrameSet, Start};

pub use desk::Desk;
pub(crate) use keep::put_by;
pub use store::{ForPapers, absolute, write as write_atomically};
pub(crate) use timber::configuration;

/// What is asked of files.
#[derive(Message, Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileAsk {
    /// Open another design.
    Open,
    /// Save to the file it came from.
    Save,
    /// Save to a file to be named.
    SaveAs,
    /// Name the folder that papers and files go into.
    ChooseFolder,
    /// Leave the program.
    Quit,
    /// Answer to the question that stands.
    Answer(Answer),
}

/// An answer to a question in the window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Save first, then go on.
    Save,
    /// Go on without saving.
    LeaveIt,
    /// Don't go on.
    Stay,
    /// Take what was kept aside after a crash.
    TakeKept,
    /// Leave it.
    LeaveKept,
}

/// What comes after unsaved changes are dealt with.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// Choosing another design.
    Open,
    /// Going over to a design that was read; the one at hand was changed meanwhile.
    Take {
        /// What was read.
        design: Box<Design>,
        /// The file it was read from.
        path: PathBuf,
    },
    /// Leaving.
    Quit,
}

/// A question that stands in the window.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// There are unsaved changes: what of them, before going on?
    Unsaved(Next),
    /// Changes were kept aside and never saved: take them?
    Kept {
        /// The design that was kept.
        design: Box<Design>,
        /// The file that keeps it.
        file: PathBuf,
    },
}

/// Files in and out.
pub struct FilesPlugin;

impl Plugin for FilesPlugin {
    fn build(&self, app: &mut App) {
        app.add_message::<FileAsk>()
            .init_resource::<Desk>()
            .init_resource::<keep::Keeper>()
            .init_resource::<picture::Progress>()
            .insert_resource(Session::new(crate::demo(), None))
            .add_systems(PreStartup, begin)
            .add_systems(Update, (desk::take_in, keep::keep).chain().in_set(FrameSet::Files))
            // In the frame in which it was asked for, and before anything is derived from what it opens.
            .add_systems(Update, desk::act.after(FrameSet::Ask).before(FrameSet::Derive))
            .add_systems(Update, (picture::take, desk::pace).in_set(FrameSet::Tell));
    }
}

/// Opens what the program was started with.
fn begin(start: Res<Start>, mut session: ResMut<Session>, mut notice: ResMut<Notice>, mut desk: ResMut<Desk>) {
    if let Some(file) = &start.file {
        match store::read(file) {
            Ok(design) => session.open(design, Some(store::absolute(file))),
            Err(lines) => *notice = Notice::told(format!("{} can't be opened", store::name(file)), lines),
        }
    }
    match timber::own() {
        Ok(own) if start.file.is_none() && own != casewright_core::timber::Timbers::default() => {
            let mut design = crate::demo();
            design.timber.library = own;
            session.open(design, None);
        }
        Ok(_) => {}
        Err(lines) => notice.add("Your own timber can't be read", lines),
    }
    if start.picture.is_none() {
        desk.question = keep::left_over(&session, &mut notice);
    }
}
