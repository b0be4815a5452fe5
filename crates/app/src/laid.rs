//! Which part is cut from which board, worked out beside the frames while it is looked at.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Instant;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::boards::{Cutting, Effort, Progress, cut};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::panels::{AtStage, Stage};
use crate::session::Session;

/// Seconds that layouts are looked for at first.
const AT_FIRST: f64 = 2.0;
/// Seconds when more are asked for.
const LONGER: f64 = 20.0;

/// What the sheet of the stage Boards shows.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Leaf {
    /// The cut list.
    #[default]
    Parts,
    /// Boards and sheets on hand.
    OnHand,
    /// What is cut from which of them.
    Plans,
}

impl Leaf {
    /// All of them, in the order of the work.
    pub const ALL: [Leaf; 3] = [Leaf::Parts, Leaf::OnHand, Leaf::Plans];

    /// Its name.
    pub fn word(self) -> &'static str {
        match self {
            Leaf::Parts => "Cut list",
            Leaf::OnHand => "On hand",
            Leaf::Plans => "Board plans",
        }
    }
}

/// How far a search has come.
#[derive(Clone, Debug, PartialEq)]
pub struct Searched {
    /// What is laid out: "Ash, white 32 mm".
    pub name: String,
    /// Which of all it is, from 1, and how many there are.
    pub nth: [usize; 2],
    /// By how much the best layout of it may be above the least, as a share of it; none while there is no layout.
    pub gap: Option<f64>,
}

impl Searched {
    fn of(progress: &Progress<'_>) -> Searched {
        let gap = progress.cost.filter(|_| progress.bound > 0.0).map(|cost| (cost / progress.bound - 1.0).max(0.0));
        Searched { name: progress.name.to_owned(), nth: [progress.group + 1, progress.groups], gap }
    }
}

/// A search under way, as both who does it and who waits for it see it.
#[derive(Clone, Default)]
struct Search {
    stop: Arc<AtomicBool>,
    come: Arc<Mutex<Option<Searched>>>,
}

impl Search {
    fn watch(&self, progress: &Progress<'_>, begun: Instant, seconds: f64) -> ControlFlow<()> {
        if let Ok(mut come) = self.come.lock() {
            *come = Some(Searched::of(progress));
        }
        let over = self.stop.load(Ordering::Relaxed) || progress.has_had_its_share(begun.elapsed().as_secs_f64(), seconds);
        if over { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }
}

/// The layouts, and the search for better ones.
#[derive(Resource, Default)]
pub struct Laid {
    /// What was found, with the generation of the model it is of.
    found: Option<(u64, Cutting)>,
    working: Beside<u64, Cutting>,
    search: Search,
    /// More seconds are asked for.
    longer: bool,
}

impl Laid {
    /// The layouts; while others are sought, those found before, as long as they are of the model of that generation.
    pub fn found(&self, generation: u64) -> Option<&Cutting> {
        self.found.as_ref().filter(|(of, _)| *of == generation).map(|(_, cutting)| cutting)
    }

    /// How far the search has come; none where nothing is sought.
    pub fn searched(&self) -> Option<Searched> {
        self.working.is_busy().then(|| self.search.come.lock().ok().and_then(|come| come.clone())).flatten()
    }

    /// Whether something is sought.
    pub fn is_busy(&self) -> bool {
        self.working.is_busy()
    }

    /// Looks longer for better layouts, or is content with what was found so far.
    pub fn look(&mut self, longer: bool) {
        self.longer = longer;
        if !longer {
            self.search.stop.store(true, Ordering::Relaxed);
        }
    }
}

/// Keeps [`Laid`] up with the design.
pub struct LaidPlugin;

impl Plugin for LaidPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Laid>().init_resource::<Leaf>().add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn follow(
    mut laid: ResMut<Laid>,
    derived: Res<Derived>,
    session: Res<Session>,
    (stage, leaf): (Res<AtStage>, Res<Leaf>),
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let looked_at = stage.0 == Stage::Boards && *leaf == Leaf::Plans;
    let now = derived.generation;
    if laid.working.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
        if let Some((generation, cutting)) = laid.working.take() {
            laid.found = Some((generation, cutting));
        } else if laid.working.of().is_some_and(|of| *of != now) || !looked_at {
            laid.search.stop.store(true, Ordering::Relaxed);
        }
        return;
    }
    let known = laid.found(now).is_some();
    if !looked_at || !derived.is_of(&session) || !derived.errors.is_empty() || (known && !laid.longer) {
        return;
    }
    let seconds = if std::mem::take(&mut laid.longer) && known { LONGER } else { AT_FIRST };
    let (design, model) = (session.design().clone(), derived.model.clone());
    laid.search = Search::default();
    let search = laid.search.clone();
    // One core is left to the frames.
    let threads = std::thread::available_parallelism().map_or(1, |cores| cores.get().saturating_sub(1).max(1));
    laid.working.start(now, async move {
        let begun = Instant::now();
        let watch = |progress: &Progress<'_>| search.watch(progress, begun, seconds);
        cut(&design, &model, Effort { rounds: None, threads, seed: 1, watch: &watch })
    });
    redraw.write(RequestRedraw);
}
