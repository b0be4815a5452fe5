//! Opening, saving, keeping aside.

use bevy::prelude::*;

use crate::session::Session;
use crate::{FrameSet, Start};

/// What is asked of files.
#[derive(Message, Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileAsk {
    /// Open another design.
    Open,
    /// Save to the file it came from.
    Save,
    /// Save to a file to be named.
    SaveAs,
    /// Save cut list and drawings into a folder to be named.
    SavePapers,
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

/// Files in and out.
pub struct FilesPlugin;

impl Plugin for FilesPlugin {
    fn build(&self, app: &mut App) {
        app.add_message::<FileAsk>().insert_resource(Session::new(crate::demo(), None)).add_systems(Update, nothing.in_set(FrameSet::Files));
    }
}

fn nothing(_start: Res<Start>) {}
