//! Where everything stands that the case must hold, worked out beside the frames.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::contents::arrange::{Arrangement, Effort, ShelvesMay, arrange};
use casewright_core::contents::holds::{self, InRoom};
use casewright_core::{Design, Model};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::session::Session;

/// How the things in the case are shown.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Boxes {
    /// Whether they stand in their places.
    pub shown: bool,
    /// The kind for which the shelves are lit that take it, by its place in the design's list.
    pub chosen: Option<usize>,
}

/// Where everything stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// With the shelves as they lie.
    pub stay: Arrangement,
    /// With the shelves moved, where that finds a place for more.
    pub moved: Option<Arrangement>,
    /// For each kind how it goes into every room.
    pub kinds: Vec<Vec<InRoom>>,
}

impl Kept {
    /// What becomes of the things of a design; nothing where there is more than can be asked at once.
    pub fn of(design: &Design, model: &Model) -> Option<Kept> {
        let stay = arrange(design, model, ShelvesMay::Stay, Effort::default()).ok()?;
        let moved = (!stay.left.is_empty()).then(|| arrange(design, model, ShelvesMay::Move, Effort::default()).ok()).flatten();
        let kinds = design.contents.iter().map(|kind| holds::in_rooms(design, model, kind)).collect();
        Some(Kept { moved: moved.filter(|moved| moved.placed > stay.placed), stay, kinds })
    }
}

/// What was last worked out, with the generation of the model it is of.
#[derive(Resource, Default)]
pub struct Keeping {
    kept: Option<(u64, Option<Kept>)>,
    working: Beside<u64, Option<Kept>>,
}

impl Keeping {
    /// Where everything stands, once it is worked out for the model of that generation.
    pub fn of(&self, generation: u64) -> Option<&Kept> {
        self.kept.as_ref().filter(|(of, _)| *of == generation).and_then(|(_, kept)| kept.as_ref())
    }
}

/// Keeps [`Keeping`] up with the design.
pub struct KeepingPlugin;

impl Plugin for KeepingPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Keeping>().init_resource::<Boxes>().add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn follow(mut keeping: ResMut<Keeping>, derived: Res<Derived>, session: Res<Session>, mut redraw: MessageWriter<RequestRedraw>) {
    if keeping.working.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
        if let Some((generation, kept)) = keeping.working.take() {
            keeping.kept = Some((generation, kept));
        }
        return;
    }
    let known = keeping.kept.as_ref().is_some_and(|(of, _)| *of == derived.generation);
    if !known && derived.generation > 0 && derived.is_of(&session) && derived.errors.is_empty() {
        let (design, model) = (session.design().clone(), derived.model.clone());
        keeping.working.start(derived.generation, async move { Kept::of(&design, &model) });
        redraw.write(RequestRedraw);
    }
}
