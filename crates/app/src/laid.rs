//! Which part is cut from which board, and what to buy, worked out beside the frames while it is looked at.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Instant;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::boards::{Buying, Cutting, Effort, Progress, buy, cut};

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
    /// What to buy from a dealer's list.
    Buying,
    /// What the whole job takes in hours and money.
    Cost,
}

impl Leaf {
    /// All of them, in the order of the work.
    pub const ALL: [Leaf; 5] = [Leaf::Parts, Leaf::OnHand, Leaf::Plans, Leaf::Buying, Leaf::Cost];

    /// Its name.
    pub fn word(self) -> &'static str {
        match self {
            Leaf::Parts => "Cut list",
            Leaf::OnHand => "On hand",
            Leaf::Plans => "Board plans",
            Leaf::Buying => "Buying",
            Leaf::Cost => "Cost",
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
    /// Does what takes some seconds, told and stopped by this search.
    fn for_seconds<T>(&self, seconds: f64, work: impl FnOnce(Effort<'_>) -> T) -> T {
        let begun = Instant::now();
        // One core is left to the frames.
        let threads = std::thread::available_parallelism().map_or(1, |cores| cores.get().saturating_sub(1).max(1));
        work(Effort { rounds: None, threads, seed: 1, watch: &|progress| self.watch(progress, begun, seconds) })
    }

    fn watch(&self, progress: &Progress<'_>, begun: Instant, seconds: f64) -> ControlFlow<()> {
        if let Ok(mut come) = self.come.lock() {
            *come = Some(Searched::of(progress));
        }
        let over = self.stop.load(Ordering::Relaxed) || progress.has_had_its_share(begun.elapsed().as_secs_f64(), seconds);
        if over { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }
}

/// What is looked for beside the frames, better and better: what was found, and the search under way.
pub struct Sought<T> {
    /// What was found, with the generation of the model it is of.
    found: Option<(u64, T)>,
    working: Beside<u64, T>,
    search: Search,
    /// More seconds are asked for.
    longer: bool,
}

impl<T: Send + 'static> Default for Sought<T> {
    fn default() -> Self {
        Sought { found: None, working: Beside::default(), search: Search::default(), longer: false }
    }
}

impl<T: Send + 'static> Sought<T> {
    /// What was found for the model of that generation, with nothing sought.
    pub fn known(generation: u64, found: T) -> Self {
        Sought { found: Some((generation, found)), ..Sought::default() }
    }

    /// What was found; while better is sought, what was found before, as long as it is of the model of that generation.
    pub fn found(&self, generation: u64) -> Option<&T> {
        self.found.as_ref().filter(|(of, _)| *of == generation).map(|(_, found)| found)
    }

    /// How far the search has come; none where nothing is sought.
    pub fn searched(&self) -> Option<Searched> {
        self.working.is_busy().then(|| self.search.come.lock().ok().and_then(|come| come.clone())).flatten()
    }

    /// Whether something is sought.
    pub fn is_busy(&self) -> bool {
        self.working.is_busy()
    }

    /// Looks longer for better, or is content with what was found so far.
    pub fn look(&mut self, longer: bool) {
        self.longer = longer;
        if !longer {
            self.search.stop.store(true, Ordering::Relaxed);
        }
    }

    /// Takes in what has come, and starts where something is looked at that is not known; whether a frame must come for what is under way.
    fn follow(&mut self, now: u64, looked_at: bool, start: impl FnOnce(f64, Search) -> (u64, Work<T>)) -> bool {
        if self.working.is_busy() {
            if let Some((generation, found)) = self.working.take() {
                self.found = Some((generation, found));
            } else if self.working.of().is_some_and(|of| *of != now) || !looked_at {
                self.search.stop.store(true, Ordering::Relaxed);
            }
            return true;
        }
        let known = self.found(now).is_some();
        if !looked_at || (known && !self.longer) {
            return false;
        }
        let seconds = if std::mem::take(&mut self.longer) && known { LONGER } else { AT_FIRST };
        self.search = Search::default();
        let (of, work) = start(seconds, self.search.clone());
        self.working.start(of, async move { work() });
        true
    }
}

/// What is done beside the frames.
type Work<T> = Box<dyn FnOnce() -> T + Send>;

/// Board plans.
#[derive(Resource, Default)]
pub struct Laid(pub Sought<Cutting>);

/// What to buy.
#[derive(Resource, Default)]
pub struct Bought(pub Sought<Buying>);

/// Keeps [`Laid`] and [`Bought`] up with the design.
pub struct LaidPlugin;

impl Plugin for LaidPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Laid>().init_resource::<Bought>().init_resource::<Leaf>();
        app.add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn follow(
    (mut laid, mut bought): (ResMut<Laid>, ResMut<Bought>),
    derived: Res<Derived>,
    session: Res<Session>,
    (stage, leaf): (Res<AtStage>, Res<Leaf>),
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let ready = stage.0 == Stage::Boards && derived.is_of(&session) && derived.errors.is_empty();
    let now = derived.generation;
    let case = || (session.design().clone(), derived.model.clone());
    let plans = laid.0.follow(now, ready && *leaf == Leaf::Plans, |seconds, search| {
        let (design, model) = case();
        (now, Box::new(move || search.for_seconds(seconds, |effort| cut(&design, &model, effort))))
    });
    let has_offers = !session.design().shop.dealer.is_empty();
    let buys = bought.0.follow(now, ready && *leaf == Leaf::Buying && has_offers, |seconds, search| {
        let (design, model) = case();
        (now, Box::new(move || search.for_seconds(seconds, |effort| buy(&design, &model, &design.shop.dealer, effort))))
    });
    if plans || buys {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
    }
}
