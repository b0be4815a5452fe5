//! Where everything stands that the case must hold, worked out beside the frames.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::contents::arrange::{Arrangement, Effort, STEPS, ShelvesMay, arrange, laid};
use casewright_core::contents::holds::{InRoom, Shelves};
use casewright_core::contents::{Change, changes};
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
    /// The case with its shelves laid so that more has a place, where that is possible, and where all stands then.
    pub moved: Option<(Design, Arrangement)>,
    /// For each kind how it goes into every room.
    pub kinds: Vec<Vec<InRoom>>,
}

impl Kept {
    /// What becomes of the things of a design; nothing where there is more than can be asked at once.
    pub fn of(design: &Design, model: &Model) -> Option<Kept> {
        let stay = arrange(design, model, ShelvesMay::Stay, Effort::steps(STEPS)).ok()?;
        let laid = || laid(design, ShelvesMay::Move, Effort::steps(STEPS)).ok().flatten();
        let moved = (!stay.left.is_empty()).then(laid).flatten();
        let shelves = Shelves::of(design, model);
        let kinds = design.contents.iter().map(|kind| shelves.take(kind)).collect();
        Some(Kept { moved: moved.filter(|(_, moved)| moved.placed > stay.placed), stay, kinds })
    }
}

impl Kept {
    /// Whether something has no place, however the shelves are laid.
    pub fn lacks(&self) -> bool {
        !self.stay.left.is_empty() && self.moved.as_ref().is_none_or(|(_, moved)| !moved.left.is_empty())
    }
}

/// What was last worked out, with the generation of the model it is of.
#[derive(Resource, Default)]
pub struct Keeping {
    kept: Option<(u64, Option<Kept>)>,
    working: Beside<u64, Option<Kept>>,
    /// What would give everything a place, with the generation of the model.
    changes: Option<(u64, Vec<Change>)>,
    mending: Beside<u64, Vec<Change>>,
}

impl Keeping {
    /// Where everything stood when it was last worked out for so many kinds, and whether that was of the model of that generation.
    pub fn last(&self, generation: u64, kinds: usize) -> Option<(&Kept, bool)> {
        let (of, kept) = self.kept.as_ref()?;
        kept.as_ref().filter(|kept| kept.kinds.len() == kinds).map(|kept| (kept, *of == generation))
    }

    /// What is shown of it: where everything stood when it was last worked out, and what would give the rest a place.
    pub fn shown(&self, generation: u64, kinds: usize) -> Option<(&Kept, Option<&[Change]>)> {
        let (kept, fresh) = self.last(generation, kinds)?;
        let changes = self.changes.as_ref().filter(|(of, _)| fresh && *of == generation).map(|(_, changes)| changes.as_slice());
        Some((kept, changes))
    }

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
    if keeping.working.is_busy() || keeping.mending.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
    }
    if let Some((generation, kept)) = keeping.working.take() {
        keeping.kept = Some((generation, kept));
    }
    if let Some((generation, changes)) = keeping.mending.take() {
        keeping.changes = Some((generation, changes));
    }
    let now = derived.generation;
    if keeping.working.is_busy() || now == 0 || !derived.is_of(&session) || !derived.errors.is_empty() {
        return;
    }
    let design = session.design().clone();
    match &keeping.kept {
        Some((of, kept)) if *of == now => {
            let lacks = kept.as_ref().is_some_and(Kept::lacks);
            let known = keeping.changes.as_ref().is_some_and(|(of, _)| *of == now);
            if lacks && !known && !keeping.mending.is_busy() {
                keeping.mending.start(now, async move { changes(&design) });
                redraw.write(RequestRedraw);
            }
        }
        Some(_) | None => {
            let model = derived.model.clone();
            keeping.working.start(now, async move { Kept::of(&design, &model) });
            redraw.write(RequestRedraw);
        }
    }
}
