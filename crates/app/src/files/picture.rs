//! `--picture`: a picture of the window once the case is drawn, the papers beside it, and the end.

use std::path::Path;
use std::time::Duration;

use bevy::prelude::*;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};

use super::{desk, store};
use crate::Start;
use crate::derived::Derived;
use crate::scene::SceneReady;
use crate::session::Session;

/// Frames after the case is in the world: shaders are compiled and the eye has come to rest by then.
const FRAMES: u32 = 12;
/// And at least so long.
const WAIT: Duration = Duration::from_secs(2);
/// When all this never comes, a picture of what there is tells more than none.
const LONGEST: Duration = Duration::from_mins(1);

/// How far the picture is.
#[derive(Resource, Default)]
pub struct Progress {
    frames: u32,
    since: Option<Duration>,
    asked: bool,
}

/// Asks for the picture when the case has stood long enough.
pub fn take(
    mut commands: Commands,
    start: Res<Start>,
    time: Res<Time<Real>>,
    ready: Res<SceneReady>,
    derived: Res<Derived>,
    mut progress: ResMut<Progress>,
) {
    if start.picture.is_none() || progress.asked {
        return;
    }
    let drawn = ready.generation_drawn == derived.generation && derived.generation > 0;
    if drawn || time.elapsed() > LONGEST {
        progress.frames += 1;
        let now = time.elapsed();
        let since = *progress.since.get_or_insert(now);
        if progress.frames > FRAMES && now.saturating_sub(since) > WAIT {
            progress.asked = true;
            commands.spawn(Screenshot::primary_window()).observe(save);
        }
    }
}

fn save(taken: On<ScreenshotCaptured>, start: Res<Start>, session: Res<Session>, derived: Res<Derived>, mut exit: MessageWriter<AppExit>) {
    let Some(picture) = &start.picture else { return };
    let papers = start
        .papers
        .as_ref()
        .map_or(Ok(()), |folder| desk::for_papers(&session, &derived).and_then(|from| store::write_papers(folder, &from)));
    let outcome = write_picture(picture, taken.image.clone()).and(papers);
    match outcome {
        Ok(()) => {
            exit.write(AppExit::Success);
        }
        Err(problem) => {
            error!("{problem}");
            exit.write(AppExit::error());
        }
    }
}

fn write_picture(path: &Path, image: Image) -> Result<(), String> {
    let told = |error: &dyn std::fmt::Display| format!("{} was not written: {error}", path.display());
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|error| told(&error))?;
    }
    let image = image.try_into_dynamic().map_err(|error| told(&error))?;
    image.to_rgb8().save(path).map_err(|error| told(&error))
}
