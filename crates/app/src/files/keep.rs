//! What is kept aside: unsaved changes, in a file beside the design, a few seconds after they were made.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use bevy::prelude::*;
use bevy::tasks::{IoTaskPool, Task, block_on, poll_once};
use casewright_core::design::text;

use super::{Desk, Question, store};
use crate::Start;
use crate::session::Session;

/// From a change to keeping it.
const AFTER: Duration = Duration::from_secs(3);

/// Keeps unsaved changes aside.
#[derive(Resource, Default)]
pub struct Keeper {
    /// The revision last seen, and when it came.
    seen: Option<(u64, Duration)>,
    /// The revision that is kept, and where.
    kept: Option<(u64, PathBuf)>,
    running: Option<Task<()>>,
}

impl Keeper {
    /// Whether there is something still to keep, so that the window must not sleep for long.
    pub fn waits(&self) -> bool {
        self.running.is_some() || self.seen.is_some_and(|(revision, _)| self.kept.as_ref().is_none_or(|(kept, _)| *kept != revision))
    }

    /// Takes away what is kept: it is saved, or given up.
    pub fn clear(&mut self) {
        if let Some(task) = self.running.take() {
            block_on(task);
        }
        if let Some((_, file)) = self.kept.take() {
            remove(&file);
        }
        self.seen = None;
    }
}

/// Keeps what was changed some seconds ago; takes it away once it is saved.
pub fn keep(time: Res<Time<Real>>, session: Res<Session>, desk: Res<Desk>, start: Res<Start>, mut keeper: ResMut<Keeper>) {
    if keeper.running.as_mut().is_some_and(|task| block_on(poll_once(task)).is_some()) {
        keeper.running = None;
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
    let (now, revision) = (time.elapsed(), session.revision());
    let since = match keeper.seen {
        Some((seen, since)) if seen == revision => since,
        _ => now,
    };
    keeper.seen = Some((revision, since));
    let file = file_for(session.path());
    let Some(file) = file.filter(|_| now.saturating_sub(since) >= AFTER && keeper.waits()) else { return };
    if let Some((_, old)) = keeper.kept.replace((revision, file.clone()))
        && old != file
    {
        remove(&old);
    }
    let text = text::write(session.design());
    keeper.running = Some(IoTaskPool::get().spawn(async move {
        let written = file.parent().map_or(Ok(()), std::fs::create_dir_all).and_then(|()| store::write(&file, text.as_bytes()));
        if let Err(error) = written {
            warn!("unsaved changes could not be kept in {}: {error}", file.display());
        }
    }));
}

/// What was kept aside and never saved, where it differs from the design at hand.
pub fn left_over(session: &Session) -> Option<Question> {
    let file = file_for(session.path())?;
    let design = store::read(&file).ok()?;
    (design != *session.design()).then(|| Question::Kept { design: Box::new(design), file })
}

/// Puts what was kept out of the way, without losing it.
pub fn put_by(file: &Path) {
    let mut aside = file.as_os_str().to_owned();
    aside.push("-left");
    if let Err(error) = std::fs::rename(file, &aside) {
        warn!("{} could not be put by: {error}", file.display());
    }
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
}
