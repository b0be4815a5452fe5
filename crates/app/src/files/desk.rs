//! What is under way with files, and what comes next.

use std::path::{Path, PathBuf};
use std::time::Duration;

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy::tasks::{IoTaskPool, Task, block_on, poll_once};
use bevy::window::RequestRedraw;
use bevy::winit::{UpdateMode, WinitSettings};
use casewright_core::{Design, DryFit};
use rfd::AsyncFileDialog;

use super::keep::{self, Keeper};
use super::store::{self, ForPapers};
use super::{Answer, FileAsk, Next, Question};
use crate::Start;
use crate::derived::Derived;
use crate::exported::ExportAsk;
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
    /// What was asked for while something was running, and is done after it.
    waiting: Option<FileAsk>,
}

/// What a task brings.
enum Brought {
    /// The dialog was closed without an answer.
    Nothing,
    /// A file was read; the session was at `revision` when it was asked for.
    Read { path: PathBuf, revision: u64, read: Result<Box<Design>, Vec<String>> },
    /// A design was written.
    Written(PathBuf, Box<Design>, Result<(), String>),
    /// A folder for papers and files was named.
    Folder(PathBuf),
}

/// What acting on files may touch.
#[derive(SystemParam)]
pub struct Reach<'w> {
    desk: ResMut<'w, Desk>,
    session: ResMut<'w, Session>,
    notice: ResMut<'w, Notice>,
    keeper: ResMut<'w, Keeper>,
    exit: MessageWriter<'w, AppExit>,
    redraw: MessageWriter<'w, RequestRedraw>,
    exports: MessageWriter<'w, ExportAsk>,
}

/// Takes in what a task brought.
pub fn take_in(mut reach: Reach) {
    let Some(task) = reach.desk.running.as_mut() else { return };
    let Some(brought) = block_on(poll_once(task)) else { return };
    reach.desk.running = None;
    match brought {
        Brought::Nothing => reach.desk.next = None,
        Brought::Read { path, revision, read: Ok(design) } => {
            let next = Next::Take { design, path };
            // The window could be worked in while the dialog was open.
            if revision == reach.session.revision() { go_on(next, &mut reach) } else { unless_unsaved(next, &mut reach) }
        }
        Brought::Read { path, read: Err(lines), .. } => {
            *reach.notice = Notice::told(format!("{} can't be opened", store::name(&path)), lines);
        }
        Brought::Written(path, design, Ok(())) => {
            *reach.notice = Notice::default();
            reach.session.saved(*design, path);
            if let Some(next) = reach.desk.next.take() {
                unless_unsaved(next, &mut reach);
            }
        }
        Brought::Written(_, _, Err(error)) => {
            reach.desk.next = None;
            *reach.notice = Notice::told("It is not saved", vec![error]);
        }
        Brought::Folder(folder) => {
            reach.exports.write(ExportAsk::Into(folder.display().to_string()));
        }
    }
    reach.redraw.write(RequestRedraw);
}

/// Acts on what is asked of files, first on what had to wait.
pub fn act(mut asked: MessageReader<FileAsk>, mut reach: Reach) {
    if reach.desk.running.is_none()
        && let Some(ask) = reach.desk.waiting.take()
    {
        one(ask, &mut reach);
    }
    for ask in asked.read() {
        one(*ask, &mut reach);
    }
}

fn one(ask: FileAsk, reach: &mut Reach) {
    if reach.desk.running.is_some() && !may_go_beside(ask) {
        wait(ask, reach);
        return;
    }
    match ask {
        FileAsk::Answer(answer) => answered(answer, reach),
        FileAsk::Quit => unless_unsaved(Next::Quit, reach),
        FileAsk::Open => unless_unsaved(Next::Open, reach),
        FileAsk::Save => save(reach),
        FileAsk::SaveAs => save_as(reach),
        FileAsk::ChooseFolder => choose_folder(reach),
    }
}

/// Whether it starts nothing and ends nothing, so that what is running need not be waited for.
fn may_go_beside(ask: FileAsk) -> bool {
    match ask {
        FileAsk::Answer(Answer::Stay | Answer::TakeKept | Answer::LeaveKept) => true,
        FileAsk::Answer(Answer::Save | Answer::LeaveIt)
        | FileAsk::Open
        | FileAsk::Save
        | FileAsk::SaveAs
        | FileAsk::ChooseFolder
        | FileAsk::Quit => false,
    }
}

/// What is running is never broken off: it may be half way through a file.
fn wait(ask: FileAsk, reach: &mut Reach) {
    match ask {
        FileAsk::Quit | FileAsk::Answer(_) => {
            reach.desk.waiting = Some(ask);
            reach.notice.add("A file is still being chosen or written", vec!["That comes first; then it goes on.".to_owned()]);
        }
        FileAsk::Save => {
            reach.desk.waiting.get_or_insert(ask);
        }
        // One dialog at a time: a second one would hide the first.
        FileAsk::Open | FileAsk::SaveAs | FileAsk::ChooseFolder => {}
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
        Next::Take { design, path } => {
            reach.keeper.clear();
            reach.session.open(*design, Some(path));
            *reach.notice = Notice::default();
            reach.desk.question = keep::left_over(&reach.session, &mut reach.notice);
        }
    }
}

fn answered(answer: Answer, reach: &mut Reach) {
    match (reach.desk.question.take(), answer) {
        (Some(Question::Unsaved(next)), Answer::Save) => {
            reach.desk.next = Some(next);
            save(reach);
        }
        (Some(Question::Unsaved(next)), Answer::LeaveIt) => go_on(next, reach),
        (Some(Question::Kept { design, file }), Answer::TakeKept) => {
            reach.session.recover(*design);
            reach.keeper.adopt(file);
        }
        (Some(Question::Kept { file, .. }), Answer::LeaveKept) => match keep::put_by(&file) {
            Ok(aside) => reach.notice.add("Left, not lost", vec![format!("They are in {}.", aside.display())]),
            Err(error) => reach.notice.add("They stay where they are", vec![error]),
        },
        (Some(question @ Question::Kept { .. }), Answer::Save | Answer::LeaveIt | Answer::Stay) => reach.desk.question = Some(question),
        (Some(Question::Unsaved(_)), Answer::Stay | Answer::TakeKept | Answer::LeaveKept) | (None, _) => reach.desk.next = None,
    }
}

fn open(reach: &mut Reach) {
    let Some(dialog) = dialog(reach) else { return };
    let dialog = dialog.set_title("Open a design").add_filter("Designs", &["ron"]);
    let revision = reach.session.revision();
    run(reach, async move {
        let Some(file) = dialog.pick_file().await else { return Brought::Nothing };
        let path = store::absolute(file.path());
        let read = store::read(&path).map(Box::new);
        Brought::Read { path, revision, read }
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
        let path = store::absolute(file.path());
        match store::with_extension(path.clone()) {
            Ok(path) => {
                let written = store::write_design(&path, &design);
                Brought::Written(path, design, written)
            }
            Err(taken) => Brought::Written(path, design, Err(taken)),
        }
    });
}

fn choose_folder(reach: &mut Reach) {
    let Some(dialog) = dialog(reach) else { return };
    let dialog = dialog.set_title("A folder for papers and files");
    run(
        reach,
        async move { dialog.pick_folder().await.map_or(Brought::Nothing, |folder| Brought::Folder(store::absolute(folder.path()))) },
    );
}

/// All that papers are made of, as it stands.
///
/// # Errors
/// A sentence, while the design gives no case: papers would be of another one than the design says.
pub fn for_papers(session: &Session, derived: &Derived) -> Result<ForPapers, String> {
    if !derived.errors.is_empty() {
        return Err("As it stands this can't be built, and papers of the case before it would mislead. Mend it first.".to_owned());
    }
    let fit = derived.order().map(|order| DryFit { findings: derived.findings.clone(), order: order.clone() });
    Ok(ForPapers { design: session.design().clone(), model: derived.model.clone(), solids: derived.solids.clone(), fit })
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;
    use std::sync::atomic::{AtomicBool, Ordering};
    use std::task::Poll;

    /// The desk with a design that was changed since it was read from `hall.ron`, and nothing else of the window.
    fn desk() -> App {
        let mut app = App::new();
        let mut session = Session::new(crate::demo(), Some(PathBuf::from("hall.ron")));
        session.change(named("Hall"), None);
        app.add_plugins(MinimalPlugins)
            .add_message::<FileAsk>()
            .add_message::<ExportAsk>()
            .add_message::<RequestRedraw>()
            .init_resource::<Desk>()
            .init_resource::<Notice>()
            .init_resource::<Keeper>()
            .init_resource::<Derived>()
            .insert_resource(session)
            .add_systems(Update, (take_in, act).chain());
        app
    }

    fn named(name: &str) -> Design {
        Design { name: name.to_owned(), ..crate::demo() }
    }

    /// Something under way that brings `brought` once `done`.
    fn under_way(app: &mut App, brought: Brought) -> Arc<AtomicBool> {
        let done = Arc::new(AtomicBool::new(false));
        let (seen, mut brought) = (Arc::clone(&done), Some(brought));
        let task = std::future::poll_fn(move |context| {
            if seen.load(Ordering::Relaxed) {
                return Poll::Ready(brought.take().unwrap_or(Brought::Nothing));
            }
            context.waker().wake_by_ref();
            Poll::Pending
        });
        app.update();
        app.world_mut().resource_mut::<Desk>().running = Some(IoTaskPool::get().spawn(task));
        done
    }

    fn finish(app: &mut App, done: &AtomicBool) {
        done.store(true, Ordering::Relaxed);
        while app.world().resource::<Desk>().running.is_some() {
            app.update();
        }
        app.update();
    }

    fn question(app: &App) -> Option<&Question> {
        app.world().resource::<Desk>().question.as_ref()
    }

    fn ask(app: &mut App, ask: FileAsk) {
        app.world_mut().write_message(ask);
        app.update();
    }

    #[test]
    fn work_done_while_a_file_was_being_chosen_is_asked_about() {
        let mut app = desk();
        let revision = app.world().resource::<Session>().revision();
        let read = Ok(Box::new(named("Porch")));
        let done = under_way(&mut app, Brought::Read { path: PathBuf::from("porch.ron"), revision, read });
        app.world_mut().resource_mut::<Session>().change(named("Hallway"), None);
        finish(&mut app, &done);
        assert_eq!(app.world().resource::<Session>().design().name, "Hallway");
        assert!(matches!(question(&app), Some(Question::Unsaved(Next::Take { .. }))));
        ask(&mut app, FileAsk::Answer(Answer::LeaveIt));
        assert_eq!(app.world().resource::<Session>().design().name, "Porch");
    }

    #[test]
    fn leaving_waits_for_the_file_being_written_and_asks_when_there_is_more_to_save() {
        for more in [false, true] {
            let mut app = desk();
            let written = Brought::Written(PathBuf::from("hall.ron"), Box::new(named("Hall")), Ok(()));
            let done = under_way(&mut app, written);
            ask(&mut app, FileAsk::Quit);
            assert!(app.world().resource::<Desk>().running.is_some(), "what is written is not broken off");
            assert_eq!(app.should_exit(), None);
            if more {
                app.world_mut().resource_mut::<Session>().change(named("Hallway"), None);
            }
            finish(&mut app, &done);
            assert_eq!(matches!(question(&app), Some(Question::Unsaved(Next::Quit))), more);
            let left = !app.world().resource::<Messages<AppExit>>().is_empty();
            assert_eq!(left, !more, "it leaves only with nothing unsaved");
        }
    }

    #[test]
    fn no_papers_are_made_of_a_design_that_gives_no_case() {
        let mut wide = crate::demo();
        wide.carcase.width = casewright_core::Length::mm(9000.0);
        let mut derived = Derived::of(&crate::demo());
        assert!(for_papers(&Session::new(crate::demo(), None), &derived).is_ok());
        derived.update(&wide);
        assert!(for_papers(&Session::new(wide, None), &derived).is_err());
    }
}
