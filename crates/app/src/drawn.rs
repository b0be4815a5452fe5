//! The drawings as they would be printed, made beside the frames while they are looked at.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_sheets::{Drafting, Page, pages};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::panels::{AtStage, Stage};
use crate::session::Session;

/// The sheets of the case, and those on their way.
#[derive(Resource, Default)]
pub struct Drawn {
    /// The last that were drawn, with the generation of the model and whether its order of assembly was known.
    pages: Option<((u64, bool), Vec<Page>)>,
    working: Beside<(u64, bool), Vec<Page>>,
}

impl Drawn {
    /// The sheets; those of a case that has become another meanwhile stay until the new ones are there.
    pub fn pages(&self) -> &[Page] {
        self.pages.as_ref().map_or(&[], |(_, pages)| pages)
    }
}

/// Keeps [`Drawn`] up with the design.
pub struct DrawnPlugin;

impl Plugin for DrawnPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Drawn>().add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn follow(
    mut drawn: ResMut<Drawn>,
    derived: Res<Derived>,
    session: Res<Session>,
    stage: Res<AtStage>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if drawn.working.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
        if let Some(pages) = drawn.working.take() {
            drawn.pages = Some(pages);
        }
        return;
    }
    if stage.0 != Stage::Drawings || !derived.is_of(&session) || !derived.errors.is_empty() {
        return;
    }
    // With the order of assembly come the case taken apart and its stages.
    let order = derived.order().cloned();
    let of = (derived.generation, order.is_some());
    if drawn.pages.as_ref().is_some_and(|(known, _)| *known == of) {
        return;
    }
    let (design, model, solids) = (session.design().clone(), derived.model.clone(), derived.solids.clone());
    drawn.working.start(of, async move { pages(&design, &model, &solids, order.as_ref(), &Drafting::default()) });
    redraw.write(RequestRedraw);
}
