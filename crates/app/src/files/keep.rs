//! What is kept aside: unsaved changes, in a file beside the design, a few seconds after they were made.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use bevy::prelude::*;
use bevy::tasks::{IoTaskPool, Task, block_on, poll_once};
use casewright_core::design::text;

use super::{Desk, Question, store};
use crate::Start;
use crate::panels::Notice;
use crate::session::Session;

/// From a change to keeping it.
const AFTER: Duration = Duration::from_secs(3);
/// From a try that failed to the next.
const AGAIN: Duration = Duration::from_secs(10);

/// Keeps unsaved changes aside.
#[derive(Resource, Default)]
pub struct Keeper {
    /// The revision last seen, and when it came.
    seen: Option<(u64, Duration)>,
    /// The revision that is kept, and where.
    kept: Option<(u64, PathBuf)>,
    running: Option<Keeping>,
    /// When the last try failed; none when it did not.
    failed: Option<Duration>,
}

/// A revision being kept.
struct Keeping {
    revision: u64,
    file: PathBuf,
    /// Brings the new name of what another left in that place.
    task: Task<Result<Option<PathBuf>, String>>,
}

impl Keeper {
    /// Whether there is something still to keep, so that the window must not sleep for long.
    pub fn waits(&self) -> bool {
        self.running.is_some() || self.seen.is_some_and(|(revision, _)| self.kept.as_ref().is_none_or(|(kept, _)| *kept != revision))
    }

    /// Takes over a file that was kept before and is now at hand again.
    pub fn adopt(&mut self, file: PathBuf) {
        self.kept = Some((0, file));
    }

    /// Takes away what is kept: it is saved, or given up.
    pub fn clear(&mut self) {
        if let Some(Keeping { file, task, .. }) = self.running.take()
            && block_on(task).is_ok()
        {
            remove(&file);
        }
        if let Some((_, file)) = self.kept.take() {
            remove(&file);
        }
        (self.seen, self.failed) = (None, None);
    }

    /// Takes in what a try brought.
    fn take_in(&mut self, now: Duration, notice: &mut Notice) {
        let Some(running) = self.running.as_mut() else { return };
        let Some(outcome) = block_on(poll_once(&mut running.task)) else { return };
        let Some(Keeping { revision, file, .. }) = self.running.take() else { return };
        match outcome {
            Ok(aside) => {
                self.failed = None;
                if let Some(aside) = aside {
                    notice.add("A copy was put by", vec![format!("changes that another window kept are now in {}", aside.display())]);
                }
                if let Some((_, old)) = self.kept.replace((revision, file.clone()))
                    && old != file
                {
                    remove(&old);
                }
            }
            Err(error) => self.fail(now, error, notice),
        }
    }

    /// Tells the first of a row of failures; the others would say the same.
    fn fail(&mut self, now: Duration, error: String, notice: &mut Notice) {
        warn!("unsaved changes are not kept: {error}");
        if self.failed.replace(now).is_none() {
            notice.add("Unsaved changes are not kept aside", vec![error, "It is tried again and again; better save.".to_owned()]);
        }
    }
}

/// Keeps what was changed some seconds ago; takes it away once it is saved.
pub fn keep(
    time: Res<Time<Real>>,
    session: Res<Session>,
    desk: Res<Desk>,
    start: Res<Start>,
    mut keeper: ResMut<Keeper>,
    mut notice: ResMut<Notice>,
) {
    let now = time.elapsed();
    if keeper.running.is_some() {
        keeper.take_in(now, &mut notice);
    }
    // What was kept before must not be written over while it is asked about; a picture leaves no traces.
    if keeper.running.is_some() || start.picture.is_some() || matches!(desk.question, Some(Question::Kept { .. })) {
        return;
    }
    if !session.is_dirty() {
        if keeper.kept.is_some() || keeper.seen.is_some() {
            keeper.clear();
        }
        return;
    }
    let revision = session.revision();
    let since = match keeper.seen {
        Some((seen, since)) if seen == revision => since,
        _ => now,
    };
    keeper.seen = Some((revision, since));
    let is_time = now.saturating_sub(since) >= AFTER && keeper.failed.is_none_or(|failed| now.saturating_sub(failed) >= AGAIN);
    let Some(file) = file_for(session.path()).filter(|_| is_time && keeper.waits()) else { return };
    match text::write(session.design()) {
        Ok(text) => {
            let own = keeper.kept.as_ref().is_some_and(|(_, kept)| *kept == file);
            let target = file.clone();
            let task = IoTaskPool::get().spawn(async move { write(&target, &text, own) });
            keeper.running = Some(Keeping { revision, file, task });
        }
        Err(error) => keeper.fail(now, error.to_string(), &mut notice),
    }
}

/// Writes what is to be kept. What stands in its place and is not this window's `own` is put by first; its new name comes back.
fn write(file: &Path, text: &str, own: bool) -> Result<Option<PathBuf>, String> {
    let told = |error: io::Error| format!("{} was not written: {error}", file.display());
    file.parent().map_or(Ok(()), std::fs::create_dir_all).map_err(told)?;
    let aside = if own || !file.try_exists().map_err(told)? { None } else { Some(put_by(file)?) };
    store::write(file, text.as_bytes()).map_err(told)?;
    Ok(aside)
}

/// What was kept aside and never saved, where it differs from the design at hand. A copy that can't be read is put by and told.
pub fn left_over(session: &Session, notice: &mut Notice) -> Option<Question> {
    let file = file_for(session.path())?;
    if !file.try_exists().unwrap_or(true) {
        return None;
    }
    match store::read(&file) {
        Ok(design) if session.holds(&design) => {
            remove(&file);
            None
        }
        Ok(design) => Some(Question::Kept { design: Box::new(design), file }),
        Err(mut lines) => {
            lines.push(match put_by(&file) {
                Ok(aside) => format!("It is put by as {}.", aside.display()),
                Err(error) => error,
            });
            notice.add("Changes were kept the last time, and can't be read", lines);
            None
        }
    }
}

/// Puts what was kept out of the way under a name that is free, and gives that name.
///
/// # Errors
/// A sentence that names the file; it is then where it was.
pub fn put_by(file: &Path) -> Result<PathBuf, String> {
    let told = |error: io::Error| format!("{} could not be put by: {error}", file.display());
    let mut number = 1;
    let aside = loop {
        let mut name = file.as_os_str().to_owned();
        name.push(if number == 1 { "-left".to_owned() } else { format!("-left-{number}") });
        let aside = PathBuf::from(name);
        if !aside.try_exists().map_err(told)? {
            break aside;
        }
        number += 1;
    };
    std::fs::rename(file, &aside).map_err(told)?;
    Ok(aside)
}

fn remove(file: &Path) {
    match std::fs::remove_file(file) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => warn!("{} could not be removed: {error}", file.display()),
        Ok(()) | Err(_) => {}
    }
}

/// Where changes of a design are kept: beside its file, or in the user's data folder for one that has none.
fn file_for(path: Option<&Path>) -> Option<PathBuf> {
    if let Some(path) = path {
        return Some(path.with_file_name(format!(".{}.ron.autosave", path.file_stem()?.to_string_lossy())));
    }
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let data = set("XDG_DATA_HOME").or_else(|| set("HOME").map(|home| home.join(".local/share")))?;
    Some(data.join("casewright").join(".example.ron.autosave"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_are_kept_beside_their_file() {
        assert_eq!(file_for(Some(Path::new("/shop/hall.ron"))), Some(PathBuf::from("/shop/.hall.ron.autosave")));
    }

    #[test]
    fn what_another_kept_is_put_by_and_never_written_over() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join(".hall.ron.autosave");
        let read = |name: &str| std::fs::read_to_string(folder.path().join(name)).expect(name);
        for text in ["first", "second", "third"] {
            write(&file, text, false).expect("written");
        }
        write(&file, "fourth", true).expect("written");
        assert_eq!(read(".hall.ron.autosave-left"), "first");
        assert_eq!(read(".hall.ron.autosave-left-2"), "second");
        assert_eq!(read(".hall.ron.autosave"), "fourth");
    }

    #[test]
    fn a_kept_copy_that_cannot_be_read_is_put_by_and_told() {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join(".hall.ron.autosave"), "(format: 1, name: \"Ha").expect("half a design");
        let session = Session::new(crate::demo(), Some(folder.path().join("hall.ron")));
        let mut notice = Notice::default();
        assert_eq!(left_over(&session, &mut notice), None);
        assert!(notice.lines.concat().contains("-left"), "{notice:?}");
        assert!(folder.path().join(".hall.ron.autosave-left").exists() && !folder.path().join(".hall.ron.autosave").exists());
    }
}
