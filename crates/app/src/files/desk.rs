//! What is under way with files, and what comes next.

use std::path::{Path, PathBuf};
use std::time::Duration;

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy::tasks::{IoTaskPool, Task, block_on, poll_once};
use bevy::winit::{UpdateMode, WinitSettings};
use casewright_core::Design;
use rfd::AsyncFileDialog;

use super::keep::{self, Keeper};
use super::store::{self, ForPapers};
use super::{Answer, FileAsk, Next, Question};
use crate::Start;
use crate::derived::Derived;
use crate::panels::{DrawAgain, Notice};
use crate::session::Session;

/// What is under way with files.
#[derive(Resource, Default)]
pub struct Desk {
    /// The question that stands.
    pub question: Option<Question>,
    running: Option<Task<Brought>>,
    /// What is to be done once the changes are saved.
    next: Option<Next>,
}

/// What a task brings.
enum Brought {
    /// The dialog was closed without an answer.
    Nothing,
    /// A file was read.
    Read(PathBuf, Result<Box<Design>, Vec<String>>),
    /// A design was written.
    Written(PathBuf, Box<Design>, Result<(), String>),
    /// Papers were written.
    Papers(PathBuf, Result<(), String>),
}

/// What acting on files may touch.
#[derive(SystemParam)]
pub struct Reach<'w> {
    desk: ResMut<'w, Desk>,
    session: ResMut<'w, Session>,
    notice: ResMut<'w, Notice>,
    keeper: ResMut<'w, Keeper>,
    derived: Res<'w, Derived>,
    exit: MessageWriter<'w, AppExit>,
}

/// Takes in what a task brought.
pub fn take_in(mut reach: Reach) {
    let Some(task) = reach.desk.running.as_mut() else { return };
    let Some(brought) = block_on(poll_once(task)) else { return };
    reach.desk.running = None;
    match brought {
        Brought::Nothing => reach.desk.next = None,
        Brought::Read(path, Ok(design)) => {
            reach.keeper.clear();
            reach.session.open(*design, Some(path));
            *reach.notice = Notice::default();
            reach.desk.question = keep::left_over(&reach.session);
        }
        Brought::Read(path, Err(lines)) => *reach.notice = Notice::told(format!("{} can't be opened", store::name(&path)), lines),
        Brought::Written(path, design, Ok(())) => {
            *reach.notice = Notice::default();
            reach.session.saved(*design, path);
            if let Some(next) = reach.desk.next.take() {
                go_on(next, &mut reach);
            }
        }
        Brought::Written(_, _, Err(error)) => {
            reach.desk.next = None;
            *reach.notice = Notice::told("It is not saved", vec![error]);
        }
        Brought::Papers(folder, Ok(())) => {
            *reach.notice = Notice::told("Papers saved", vec![format!("cut_list.csv and drawings.pdf are in {}", folder.display())]);
        }
        Brought::Papers(_, Err(error)) => *reach.notice = Notice::told("The papers are not saved", vec![error]),
    }
}

/// Acts on what is asked of files.
pub fn act(mut asked: MessageReader<FileAsk>, mut reach: Reach) {
    for ask in asked.read() {
        match *ask {
            FileAsk::Answer(answer) => answered(answer, &mut reach),
            FileAsk::Quit => unless_unsaved(Next::Quit, &mut reach),
            // One dialog at a time: a second one would hide the first.
            _ if reach.desk.running.is_some() => {}
            FileAsk::Open => unless_unsaved(Next::Open, &mut reach),
            FileAsk::Save => save(&mut reach),
            FileAsk::SaveAs => save_as(&mut reach),
            FileAsk::SavePapers => save_papers(&mut reach),
        }
    }
}

fn unless_unsaved(next: Next, reach: &mut Reach) {
    if reach.session.is_dirty() {
        reach.desk.question = Some(Question::Unsaved(next));
    } else {
        go_on(next, reach);
    }
}

fn go_on(next: Next, reach: &mut Reach) {
    match next {
        Next::Quit => {
            reach.keeper.clear();
            reach.exit.write(AppExit::Success);
        }
        Next::Open => open(reach),
    }
}

fn answered(answer: Answer, reach: &mut Reach) {
    match (reach.desk.question.take(), answer) {
        (Some(Question::Unsaved(next)), Answer::Save) => {
            reach.desk.next = Some(next);
            save(reach);
        }
        (Some(Question::Unsaved(next)), Answer::LeaveIt) => go_on(next, reach),
        (Some(Question::Kept { design, .. }), Answer::TakeKept) => reach.session.recover(*design),
        (Some(Question::Kept { file, .. }), Answer::LeaveKept) => keep::put_by(&file),
        (Some(question @ Question::Kept { .. }), Answer::Save | Answer::LeaveIt | Answer::Stay) => reach.desk.question = Some(question),
        (Some(Question::Unsaved(_)), Answer::Stay | Answer::TakeKept | Answer::LeaveKept) | (None, _) => reach.desk.next = None,
    }
}

fn open(reach: &mut Reach) {
    let Some(dialog) = dialog(reach) else { return };
    let dialog = dialog.set_title("Open a design").add_filter("Designs", &["ron"]);
    run(reach, async move {
        let Some(file) = dialog.pick_file().await else { return Brought::Nothing };
        let path = store::absolute(file.path());
        let read = store::read(&path).map(Box::new);
        Brought::Read(path, read)
    });
}

fn save(reach: &mut Reach) {
    let Some(path) = reach.session.path().map(Path::to_owned) else { return save_as(reach) };
    let design = Box::new(reach.session.design().clone());
    run(reach, async move {
        let written = store::write_design(&path, &design);
        Brought::Written(path, design, written)
    });
}

fn save_as(reach: &mut Reach) {
    let Some(dialog) = dialog(reach) else { return };
    let design = Box::new(reach.session.design().clone());
    let dialog = dialog.set_title("Save the design").add_filter("Designs", &["ron"]).set_file_name(store::file_name_for(&design.name));
    run(reach, async move {
        let Some(file) = dialog.save_file().await else { return Brought::Nothing };
        let mut path = store::absolute(file.path());
        if path.extension().is_none() {
            path.set_extension("ron");
        }
        let written = store::write_design(&path, &design);
        Brought::Written(path, design, written)
    });
}

fn save_papers(reach: &mut Reach) {
    let Some(dialog) = dialog(reach) else { return };
    let dialog = dialog.set_title("A folder for the papers");
    let from = for_papers(&reach.session, &reach.derived);
    run(reach, async move {
        let Some(folder) = dialog.pick_folder().await else { return Brought::Nothing };
        let folder = store::absolute(folder.path());
        let written = store::write_papers(&folder, &from);
        Brought::Papers(folder, written)
    });
}

/// All that papers are made of, as it stands.
pub fn for_papers(session: &Session, derived: &Derived) -> ForPapers {
    ForPapers {
        design: session.design().clone(),
        model: derived.model.clone(),
        solids: derived.solids.clone(),
        findings: derived.findings.clone(),
        cut_list: derived.cut_list.clone(),
    }
}

fn run(reach: &mut Reach, task: impl Future<Output = Brought> + Send + 'static) {
    reach.desk.running = Some(IoTaskPool::get().spawn(task));
}

/// A dialog of the desktop, in the folder of the design; tells when the desktop has none.
fn dialog(reach: &mut Reach) -> Option<AsyncFileDialog> {
    if !desktop_has_dialogs() {
        reach.desk.next = None;
        let lines =
            vec!["This desktop has no dialogs for files. Install zenity, or start with the file's name: casewright FILE".to_owned()];
        *reach.notice = Notice::told("No dialog to show", lines);
        return None;
    }
    let dialog = AsyncFileDialog::new();
    let folder = reach.session.path().and_then(Path::parent);
    Some(match folder {
        Some(folder) => dialog.set_directory(folder),
        None => dialog,
    })
}

/// Whether a desktop portal can be reached or zenity is there; without either, a dialog would just never come.
fn desktop_has_dialogs() -> bool {
    if !cfg!(target_os = "linux") {
        return true;
    }
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty());
    let bus =
        set("DBUS_SESSION_BUS_ADDRESS").is_some() || set("XDG_RUNTIME_DIR").is_some_and(|folder| Path::new(&folder).join("bus").exists());
    bus || set("PATH").is_some_and(|path| std::env::split_paths(&path).any(|folder| folder.join("zenity").exists()))
}

/// How soon the window looks again when nothing happens: often while a dialog is open, seldom else.
pub fn pace(desk: Res<Desk>, keeper: Res<Keeper>, start: Res<Start>, again: Res<DrawAgain>, mut settings: ResMut<WinitSettings>) {
    let rest = if desk.running.is_some() {
        Duration::from_millis(100)
    } else if keeper.waits() {
        Duration::from_secs(1)
    } else {
        Duration::from_secs(30)
    };
    let rest = again.take().map_or(rest, |after| rest.min(after));
    let mode = if start.picture.is_some() { UpdateMode::Continuous } else { UpdateMode::reactive_low_power(rest) };
    if settings.focused_mode != mode {
        *settings = WinitSettings { focused_mode: mode, unfocused_mode: mode };
    }
}
