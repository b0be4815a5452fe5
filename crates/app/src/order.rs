//! The order of assembly, and what the case bears, worked out beside the frames: it takes longer than one may.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::DryFit;
use casewright_core::loads::{self, Standing, UnderLoad};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::session::Session;

/// Keeps the order of [`Derived`] up with its model.
pub struct OrderPlugin;

impl Plugin for OrderPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Working>().add_systems(Update, (take_in, start).chain().in_set(FrameSet::Derive).after(derived::follow));
    }
}

/// The order being worked out, with the generation of the model it is of.
#[derive(Resource, Default)]
struct Working(Beside<u64, (DryFit, Loads)>);

/// What the case bears, and how it stands.
type Loads = (UnderLoad, Option<Standing>);

/// Takes in what was worked out, unless the model has become another meanwhile.
fn take_in(mut working: ResMut<Working>, mut derived: ResMut<Derived>, mut redraw: MessageWriter<RequestRedraw>) {
    if !working.0.is_busy() {
        return;
    }
    // A frame must come for it to be taken in.
    redraw.write(RequestRedraw);
    if let Some((generation, (dry_fit, loads))) = working.0.take()
        && derived.generation == generation
    {
        derived.take_dry_fit(dry_fit);
        derived.take_loads(loads);
    }
}

/// Starts on the order of a new model once the last is done, so that a drag never waits for one.
fn start(mut working: ResMut<Working>, derived: Res<Derived>, session: Res<Session>, mut redraw: MessageWriter<RequestRedraw>) {
    if working.0.is_busy() || derived.order().is_some() || derived.generation == 0 {
        return;
    }
    let (design, model, solids) = (session.design().clone(), derived.model.clone(), derived.solids.clone());
    let findings = derived.findings.clone();
    working.0.start(derived.generation, async move {
        let loads = loads::of_case(&design, &model, &solids);
        (DryFit::after(findings, &design, &model, &solids), loads)
    });
    redraw.write(RequestRedraw);
}
