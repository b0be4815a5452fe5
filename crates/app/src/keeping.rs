//! Where everything stands that the case must hold, worked out beside the frames.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::contents::arrange::{Arrangement, Displaced, Effort, Row, STEPS, ShelvesMay, arrange, arrange_after, displaced, laid};
use casewright_core::contents::holds::{InRoom, Shelves};
use casewright_core::contents::{Change, changes};
use casewright_core::design::BoxKind;
use casewright_core::loads::{carries, whole};
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
    /// What stands elsewhere than before the newest step.
    pub displaced: Vec<Displaced>,
    /// Whether all that has a place is more than the case carries in all.
    pub too_heavy: bool,
}

impl Kept {
    /// What becomes of the things of a design, which stand where they stood `before` as far as they can; nothing where there is more than can be asked at once.
    pub fn of(design: &Design, model: &Model, before: Option<(&[BoxKind], &Arrangement)>) -> Option<Kept> {
        let effort = Effort::steps(STEPS);
        let stay = match before {
            Some(before) => arrange_after(design, model, before, effort).ok()?,
            None => arrange(design, model, ShelvesMay::Stay, effort).ok()?,
        };
        let displaced = before.map_or_else(Vec::new, |before| displaced(design, before, &stay));
        let laid = || laid(design, ShelvesMay::Move, Effort::steps(STEPS)).ok().flatten();
        let moved = (!stay.left.is_empty()).then(laid).flatten();
        let shelves = Shelves::of(design, model);
        let kinds = design.contents.iter().map(|kind| shelves.take(kind)).collect();
        let stands: f64 = stay.rows.iter().map(Row::kg).sum();
        let too_heavy = whole(design, model, &carries(design, model)).is_some_and(|all| all.is_less_than(stands));
        Some(Kept { moved: moved.filter(|(_, moved)| moved.placed > stay.placed), stay, kinds, displaced, too_heavy })
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
    /// Where everything stood in designs of this piece, the newest last: what is undone stands again as it stood.
    known: Vec<(Design, Kept)>,
    /// The piece that is of.
    piece: u64,
    /// The design that is being worked on.
    asked: Option<Design>,
    /// What would give everything a place, with the generation of the model.
    changes: Option<(u64, Vec<Change>)>,
    mending: Beside<u64, Vec<Change>>,
}

/// So many designs are remembered.
const KNOWN: usize = 64;

impl Keeping {
    /// Where everything stood in a design, where that is remembered.
    fn stood(&self, design: &Design) -> Option<&Kept> {
        self.known.iter().rev().find(|(of, _)| of == design).map(|(_, kept)| kept)
    }

    /// Remembers what was worked out for the design that was asked about.
    fn remember(&mut self, kept: Option<&Kept>) {
        let (Some(design), Some(kept)) = (self.asked.take(), kept) else { return };
        self.known.push((design, kept.clone()));
        if self.known.len() > KNOWN {
            self.known.remove(0);
        }
    }

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
        keeping.remember(kept.as_ref());
        keeping.kept = Some((generation, kept));
    }
    if keeping.piece != session.piece() {
        keeping.piece = session.piece();
        keeping.known.clear();
        keeping.asked = None;
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
            let lacks = kept.as_ref().is_some_and(|kept| kept.lacks() || kept.too_heavy);
            let known = keeping.changes.as_ref().is_some_and(|(of, _)| *of == now);
            if lacks && !known && !keeping.mending.is_busy() {
                keeping.mending.start(now, async move { changes(&design) });
                redraw.write(RequestRedraw);
            }
        }
        Some(_) | None if keeping.stood(&design).is_some() => {
            let kept = keeping.stood(&design).cloned();
            keeping.kept = Some((now, kept));
            redraw.write(RequestRedraw);
        }
        Some(_) | None => {
            let model = derived.model.clone();
            let before = session.before().and_then(|before| Some((before.contents.clone(), keeping.stood(before)?.stay.clone())));
            keeping.asked = Some(design.clone());
            keeping.working.start(now, async move {
                let before = before.as_ref().map(|(contents, stood)| (contents.as_slice(), stood));
                Kept::of(&design, &model, before)
            });
            redraw.write(RequestRedraw);
        }
    }
}
