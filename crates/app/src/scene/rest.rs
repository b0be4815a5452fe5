//! Rest: nothing is drawn while nothing happens.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use bevy::prelude::*;
use bevy::render::render_resource::PipelineCache;
use bevy::render::{Render, RenderApp, RenderSystems};
use bevy::window::RequestRedraw;
use bevy_egui::{EguiInput, egui};

use super::boxes::Placed;
use super::camera::Eye;
use super::parts::SceneReady;
use crate::ask::{Pointed, Sag, Season, Selection};
use crate::keeping::Boxes;

/// Frames drawn after the last change before the window rests.
const CALM: u8 = 4;

/// Whether something can't be drawn yet because its shader is still being made ready.
#[derive(Resource, Clone, Default)]
pub struct Unready(Arc<AtomicBool>);

/// Tells the window of shaders that are being made ready.
pub fn watch(app: &mut App) {
    let unready = Unready::default();
    if let Some(render) = app.get_sub_app_mut(RenderApp) {
        // Until the first frame is drawn nothing is ready.
        unready.0.store(true, Ordering::Relaxed);
        let tell = |cache: Res<PipelineCache>, unready: Res<Unready>| {
            unready.0.store(cache.waiting_pipelines().next().is_some(), Ordering::Relaxed);
        };
        render.insert_resource(unready.clone()).add_systems(Render, tell.in_set(RenderSystems::Cleanup));
    }
    app.insert_resource(unready);
}

/// What can be asked to be shown.
#[derive(bevy::ecs::system::SystemParam)]
pub struct Asked<'w> {
    selection: Res<'w, Selection>,
    pointed: Res<'w, Pointed>,
    season: Res<'w, Season>,
    sag: Res<'w, Sag>,
    boxes: Res<'w, Boxes>,
    placed: Res<'w, Placed>,
}

impl Asked<'_> {
    fn is_changed(&self) -> bool {
        let Asked { selection, pointed, season, sag, boxes, placed } = self;
        selection.is_changed()
            || pointed.is_changed()
            || season.is_changed()
            || sag.is_changed()
            || boxes.is_changed()
            || placed.is_changed()
    }
}

/// Goes on drawing while a shader is being made ready, and a few frames after what is shown has changed.
pub fn settle(
    unready: Res<Unready>,
    asked: Asked,
    eye: Res<Eye>,
    mut ready: ResMut<SceneReady>,
    mut calm: Local<u8>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if unready.0.load(Ordering::Relaxed) || asked.is_changed() || ready.is_changed() || eye.is_changed() {
        *calm = 0;
    }
    let settled = *calm >= CALM;
    if ready.settled != settled {
        // Not a change to settle after.
        ready.bypass_change_detection().settled = settled;
    }
    if !settled {
        *calm += 1;
        redraw.write(RequestRedraw);
    }
}

/// Takes out of the panels' input what says nothing new. The bridge to the panels reports the state of Shift and its like in
/// every frame, and the panels ask for another frame after every report: without this the window would never rest.
pub fn hush(mut inputs: Query<(Entity, &mut EguiInput)>, mut last: Local<Option<(Entity, egui::Modifiers)>>) {
    for (entity, mut input) in &mut inputs {
        input.events.retain(|event| match event {
            egui::Event::ModifiersChanged(modifiers) => last.replace((entity, *modifiers)) != Some((entity, *modifiers)),
            _ => true,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn modifiers_are_told_when_they_change_and_only_then() {
        let mut app = App::new();
        app.add_systems(Update, hush);
        let window = app.world_mut().spawn(EguiInput::default()).id();
        let shift = egui::Modifiers { shift: true, ..egui::Modifiers::default() };
        let mut told = Vec::new();
        for modifiers in [egui::Modifiers::default(), egui::Modifiers::default(), shift, shift] {
            let mut input = app.world_mut().get_mut::<EguiInput>(window).expect("just spawned");
            input.events = vec![egui::Event::ModifiersChanged(modifiers), egui::Event::Copy];
            app.update();
            told.push(app.world().get::<EguiInput>(window).expect("still there").events.len());
        }
        assert_eq!(told, [2, 1, 2, 1]);
    }
}
