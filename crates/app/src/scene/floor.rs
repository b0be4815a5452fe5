//! The floor: paper on which the shadow of the case lies.

use bevy::asset::uuid_handle;
use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::pbr::{MaterialPipeline, MaterialPipelineKey};
use bevy::prelude::*;
use bevy::render::render_resource::{AsBindGroup, RenderPipelineDescriptor, ShaderType, SpecializedMeshPipelineError};
use bevy::shader::ShaderRef;

use super::light::{Adapter, TO_SUN};
use super::parts::Standing;
use super::{paper, rod};

pub(super) const SHADER: Handle<Shader> = uuid_handle!("5e0a5c1e-9a7d-4a1b-8f0e-2c6d1d6f3a03");

/// What the shader knows of the floor; see `floor.wgsl`.
#[derive(Clone, Copy, Debug, Default, PartialEq, ShaderType)]
pub struct Ground {
    paper: Vec4,
    wash: Vec4,
    foot: Vec4,
    cast: Vec4,
    reach: Vec4,
}

/// Paper with a shadow on it.
#[derive(Asset, AsBindGroup, Clone, Debug, TypePath)]
pub struct Floor {
    #[uniform(0)]
    ground: Ground,
}

impl Material for Floor {
    fn vertex_shader() -> ShaderRef {
        SHADER.into()
    }

    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }

    fn enable_prepass() -> bool {
        false
    }

    fn enable_shadows() -> bool {
        false
    }

    fn specialize(
        _: &MaterialPipeline,
        descriptor: &mut RenderPipelineDescriptor,
        layout: &MeshVertexBufferLayoutRef,
        _: MaterialPipelineKey<Self>,
    ) -> Result<(), SpecializedMeshPipelineError> {
        descriptor.vertex.buffers = vec![layout.0.get_layout(&[Mesh::ATTRIBUTE_POSITION.at_shader_location(0)])?];
        Ok(())
    }
}

/// The floor's material and place, to follow the case.
#[derive(Component)]
pub struct FloorMark;

/// Half the side of the floor's square before it is scaled, mm.
const HALF: f32 = 1000.0;

/// Lays the floor.
pub fn lay(mut commands: Commands, mut meshes: ResMut<Assets<Mesh>>, mut floors: ResMut<Assets<Floor>>) {
    commands.spawn((
        FloorMark,
        Mesh3d(meshes.add(Plane3d::new(Vec3::Y, Vec2::splat(HALF)))),
        MeshMaterial3d(floors.add(Floor { ground: Ground::default() })),
        Transform::default(),
        NotShadowCaster,
        NotShadowReceiver,
    ));
}

/// The part of the floor, as least and greatest x and z, on which shadow may fall, its soft rim included.
fn shadow_falls(standing: &Standing) -> (Vec2, Vec2) {
    let (mut low, mut high) = standing.all;
    for end in rod::ends(standing) {
        (low, high) = (low.min(end), high.max(end));
    }
    let away = -TO_SUN.xz() / TO_SUN.y * high.y;
    let rim = Vec2::splat(320.0);
    (low.xz().min(low.xz() + away) - rim, high.xz().max(high.xz() + away) + rim)
}

/// Keeps the floor under the case.
pub fn follow(
    standing: Res<Standing>,
    adapter: Res<Adapter>,
    mut floors: ResMut<Assets<Floor>>,
    mut marks: Query<(&MeshMaterial3d<Floor>, &mut Transform), With<FloorMark>>,
) {
    if !standing.is_changed() {
        return;
    }
    let (low, high) = (standing.low, standing.high);
    let (least, most) = shadow_falls(&standing);
    let ground = Ground {
        paper: paper::PAPER.to_linear().to_vec4(),
        wash: paper::WASH.to_linear().to_vec4().truncate().extend(adapter.shadow_samples()),
        foot: Vec4::new(low.x, low.z, high.x, high.z),
        cast: Vec4::new(least.x, least.y, most.x, most.y),
        reach: Vec4::new(standing.together, 0.0, 0.0, 0.0),
    };
    for (handle, mut transform) in &mut marks {
        let (middle, half) = ((least + most) / 2.0, (most - least) / 2.0 / HALF);
        *transform = Transform::from_xyz(middle.x, 0.0, middle.y).with_scale(Vec3::new(half.x, 1.0, half.y));
        if let Some(mut floor) = floors.get_mut(&handle.0)
            && floor.ground != ground
        {
            floor.ground = ground;
        }
    }
}
