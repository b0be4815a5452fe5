//! The case in 3D: parts, light, rod and dimensions; the eye that looks at them and the hand that drags them.
//!
//! ```text
//! hand ──Ask──▶ (session, derived) ──generation──▶ parts ─▶ standing ─▶ light, floor, rod, dimensions ─▶ eye
//! ```
//!
//! Mathematics without a window are in [`orbit`], [`gesture`] and [`dimensions`]; the shaders lie beside the materials that
//! use them.

#![allow(clippy::needless_pass_by_value, reason = "systems take what they ask the world for by value")]

pub mod boxes;
pub mod camera;
pub mod dimensions;
pub mod edges;
mod figures;
pub mod floor;
pub mod gesture;
pub mod handles;
pub mod light;
pub mod orbit;
pub mod paper;
pub mod parts;
pub mod picking;
mod rest;
pub mod rod;
pub mod sag;
pub mod shelves;
pub mod take_apart;
pub mod timber_look;

use bevy::prelude::*;
use bevy::shader::Shader;
use bevy::window::PrimaryWindow;
use bevy_egui::{EguiPreUpdateSet, EguiPrimaryContextPass};

use crate::FrameSet;
use crate::derived::Derived;
pub use parts::SceneReady;
pub use picking::Pick;

/// The case in 3D.
pub struct ScenePlugin;

/// Where things are on the window, for automatic tests with a real pointer. Physical pixels from the top left.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Projected {
    /// The middle of every part before the eye, by its name; it may be hidden by another part.
    pub parts: Vec<(String, Vec2)>,
    /// The handles, by the decision or the shelf they drag.
    pub handles: Vec<(String, Vec2)>,
}

impl Plugin for ScenePlugin {
    fn build(&self, app: &mut App) {
        add_shaders(app);
        rest::watch(app);
        app.add_plugins((
            MaterialPlugin::<timber_look::TimberLook>::default(),
            MaterialPlugin::<edges::Pencil>::default(),
            MaterialPlugin::<floor::Floor>::default(),
        ))
        .insert_resource(ClearColor(paper::PAPER))
        .init_resource::<SceneReady>()
        .init_resource::<Projected>()
        .init_resource::<parts::Standing>()
        .init_resource::<parts::Store>()
        .init_resource::<take_apart::Apart>()
        .init_resource::<sag::Sagging>()
        .init_resource::<boxes::Placed>()
        .init_resource::<camera::Eye>()
        .init_resource::<gesture::Hand>()
        .init_resource::<handles::Handles>()
        .init_resource::<handles::Pull>()
        .init_resource::<picking::Pick>()
        .init_resource::<dimensions::Dimensions>()
        .add_systems(Startup, (light::know_adapter, (camera::open, light::rise, floor::lay, rod::stand, dimensions::draw)).chain())
        .add_systems(PreUpdate, rest::hush.after(EguiPreUpdateSet::ProcessInput).before(EguiPreUpdateSet::BeginPass))
        .add_systems(Update, (camera::feel, camera::keys).before(FrameSet::Ask))
        .add_systems(
            Update,
            (
                (parts::keep_up, sag::bend).chain(),
                (take_apart::play, take_apart::spread).chain(),
                (take_apart::darken_inside, boxes::place),
                camera::look,
                camera::fly,
                camera::set,
                (rod::follow, dimensions::follow, light::aim, floor::follow),
                handles::follow,
                (picking::hover, picking::see_through, picking::light_up).chain(),
                project,
                rest::settle,
            )
                .chain()
                .in_set(FrameSet::Scene),
        )
        .add_systems(EguiPrimaryContextPass, figures::paint);
    }
}

/// The shaders travel inside the program.
fn add_shaders(app: &mut App) {
    let Some(mut shaders) = app.world_mut().get_resource_mut::<Assets<Shader>>() else { return };
    for (handle, text, name) in [
        (timber_look::SHADER, include_str!("timber.wgsl"), "casewright/timber.wgsl"),
        (edges::SHADER, include_str!("pencil.wgsl"), "casewright/pencil.wgsl"),
        (floor::SHADER, include_str!("floor.wgsl"), "casewright/floor.wgsl"),
    ] {
        let _ = shaders.insert(handle.id(), Shader::from_wgsl(text, name));
    }
}

/// Says where parts and handles are on the window.
fn project(
    eye: Res<camera::Eye>,
    handles: Res<handles::Handles>,
    derived: Res<Derived>,
    store: Res<parts::Store>,
    transforms: Query<(&parts::Shown, &Transform)>,
    windows: Query<&Window, With<PrimaryWindow>>,
    mut projected: ResMut<Projected>,
) {
    if !eye.is_changed() && !handles.is_changed() && !derived.is_changed() && !store.is_changed() {
        return;
    }
    let scale = windows.iter().next().map_or(1.0, Window::scale_factor);
    projected.handles = handles.places.iter().map(|(grip, at)| (grip.name(), *at * scale)).collect();
    projected.parts = derived
        .model
        .parts
        .iter()
        .filter_map(|part| {
            let (shown, transform) = transforms.get(store.entity(&part.name)?).ok()?;
            let middle = part.block().centre().as_vec3() + transform.translation - shown.home.translation;
            Some((part.name.clone(), eye.lens.project(&eye.orbit, middle)? * scale))
        })
        .collect();
}
