//! Timbers side by side, worked out beside the frames while they are looked at.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::compare::{self, Candidate, MadeUp, Where};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::panels::{AtStage, Stage};
use crate::session::Session;

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// Species, for some of the solid parts.
    Timber(Where),
    /// Ways to make up the panels.
    Panels,
}

/// What could serve in place of what is there.
#[derive(Clone, Debug, PartialEq)]
pub enum Rows {
    /// Species.
    Timbers(Vec<Candidate>),
    /// Panels.
    Panels(Vec<MadeUp>),
}

/// What the maker wants to see side by side, and what was last worked out of it.
#[derive(Resource, Default)]
pub struct Compared {
    /// What is to be compared; nothing while nobody looks.
    pub wanted: Option<Of>,
    /// The last that was worked out, with what it is of and the generation of the model.
    rows: Option<(Of, u64, Rows)>,
    working: Beside<(Of, u64), Option<Rows>>,
}

impl Compared {
    /// The rows of what is wanted; those of a model that has become another meanwhile stay until the new ones are there.
    pub fn rows(&self) -> Option<&Rows> {
        self.rows.as_ref().filter(|(of, ..)| Some(*of) == self.wanted).map(|(.., rows)| rows)
    }

    /// What could serve, of the design at hand.
    fn of(design: &casewright_core::Design, of: Of) -> Option<Rows> {
        match of {
            Of::Timber(place) => compare::timbers(design, place).ok().map(Rows::Timbers),
            Of::Panels => compare::panels(design).ok().map(Rows::Panels),
        }
    }
}

/// Keeps [`Compared`] up with the design.
pub struct ComparedPlugin;

impl Plugin for ComparedPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Compared>().add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn follow(
    mut compared: ResMut<Compared>,
    derived: Res<Derived>,
    session: Res<Session>,
    stage: Res<AtStage>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if compared.working.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
        if let Some(((of, generation), Some(rows))) = compared.working.take() {
            compared.rows = Some((of, generation, rows));
        }
        return;
    }
    let Some(wanted) = compared.wanted.filter(|_| stage.0 == Stage::Timber && derived.errors.is_empty()) else { return };
    let known = compared.rows.as_ref().is_some_and(|(of, generation, _)| (*of, *generation) == (wanted, derived.generation));
    if !known && derived.is_of(&session) {
        let design = session.design().clone();
        compared.working.start((wanted, derived.generation), async move { Compared::of(&design, wanted) });
        redraw.write(RequestRedraw);
    }
}
