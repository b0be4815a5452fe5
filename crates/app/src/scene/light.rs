//! The sun, its shadow, and how much the adapter can draw.

use bevy::light::{CascadeShadowConfig, CascadeShadowConfigBuilder, DirectionalLightShadowMap, ShadowFilteringMethod};
use bevy::prelude::*;
use bevy::render::renderer::RenderAdapterInfo;

use super::camera::Eye;
use super::parts::Standing;

/// What draws: a card, or the processor by a software driver, which is given less to do.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Adapter {
    /// A graphics card, built in or not.
    #[default]
    Card,
    /// A software driver.
    Software,
}

impl Adapter {
    /// Side of the shadow map, texels.
    fn shadow_map(self) -> usize {
        match self {
            Adapter::Card => 4096,
            Adapter::Software => 2048,
        }
    }

    /// How the shadow on timber is smoothed.
    pub fn shadow_filter(self) -> ShadowFilteringMethod {
        match self {
            Adapter::Card => ShadowFilteringMethod::Gaussian,
            Adapter::Software => ShadowFilteringMethod::Hardware2x2,
        }
    }

    /// How often the shadow on the floor is looked up for each pixel.
    pub fn shadow_samples(self) -> f32 {
        match self {
            Adapter::Card => 24.0,
            Adapter::Software => 4.0,
        }
    }

    /// Samples a pixel of the picture itself.
    pub fn msaa(self) -> Msaa {
        match self {
            Adapter::Card => Msaa::Sample4,
            Adapter::Software => Msaa::Off,
        }
    }
}

/// The sun.
#[derive(Component)]
pub struct Sun;

/// From the case to the sun: over the left shoulder of who stands before it.
pub const TO_SUN: Vec3 = Vec3::new(-0.42, 0.86, 0.62);

/// Finds out what draws.
pub fn know_adapter(mut commands: Commands, info: Option<Res<RenderAdapterInfo>>) {
    let software = info.is_some_and(|info| is_software(&format!("{:?}", info.device_type)));
    let adapter = if software { Adapter::Software } else { Adapter::Card };
    commands.insert_resource(DirectionalLightShadowMap { size: adapter.shadow_map() });
    commands.insert_resource(adapter);
}

/// Whether a kind of device, as its name is printed, draws on the processor. (The type itself is not handed on by the engine.)
fn is_software(kind: &str) -> bool {
    kind == "Cpu"
}

/// Lights the sun.
pub fn rise(mut commands: Commands) {
    commands.spawn((
        Sun,
        DirectionalLight { illuminance: 1.0, shadow_maps_enabled: true, shadow_depth_bias: 2.0, shadow_normal_bias: 1.6, ..default() },
        Transform::from_translation(TO_SUN).looking_at(Vec3::ZERO, Vec3::Y),
    ));
}

/// Keeps the shadow map on the case, so that no texel is wasted on empty floor.
pub fn aim(eye: Res<Eye>, standing: Res<Standing>, mut suns: Query<&mut CascadeShadowConfig, With<Sun>>) {
    if !eye.is_changed() && !standing.is_changed() {
        return;
    }
    let orbit = eye.orbit;
    let middle = (standing.low + standing.high) / 2.0;
    let reach = (standing.high - standing.low).length() * 0.75 + standing.spread * 1.8 + 200.0;
    let off = (orbit.eye() - middle).dot(orbit.back());
    let maximum_distance = (off + reach).max(500.0);
    let minimum_distance = (off - reach).clamp(1.0, maximum_distance * 0.9);
    for mut sun in &mut suns {
        *sun = CascadeShadowConfigBuilder { num_cascades: 1, minimum_distance, maximum_distance, ..default() }.build();
    }
}
