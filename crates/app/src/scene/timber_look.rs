//! Timber that reads as timber: its colours, and the material whose shader draws growth rings in the board's own measures.

use bevy::asset::uuid_handle;
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::pbr::{MaterialPipeline, MaterialPipelineKey};
use bevy::prelude::*;
use bevy::render::render_resource::{AsBindGroup, RenderPipelineDescriptor, ShaderType, SpecializedMeshPipelineError};
use bevy::shader::ShaderRef;
use casewright_sheets::Wood;

use super::paper;

pub(super) const SHADER: Handle<Shader> = uuid_handle!("5e0a5c1e-9a7d-4a1b-8f0e-2c6d1d6f3a01");

/// What the shader knows of a material; see `timber.wgsl`.
#[derive(Clone, Copy, Debug, Default, PartialEq, ShaderType)]
pub struct TimberFigures {
    light: Vec4,
    dark: Vec4,
    end: Vec4,
    figure: Vec4,
    nature: Vec4,
    case_min: Vec4,
    case_max: Vec4,
    accent: Vec4,
}

/// A timber or a sheet, as it is seen.
#[derive(Asset, AsBindGroup, Clone, Debug, TypePath)]
pub struct TimberLook {
    #[uniform(0)]
    figures: TimberFigures,
    ghost: bool,
}

impl Material for TimberLook {
    fn vertex_shader() -> ShaderRef {
        SHADER.into()
    }

    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        if self.ghost { AlphaMode::Blend } else { AlphaMode::Opaque }
    }

    fn enable_shadows() -> bool {
        true
    }

    fn specialize(
        _: &MaterialPipeline,
        descriptor: &mut RenderPipelineDescriptor,
        layout: &MeshVertexBufferLayoutRef,
        _: MaterialPipelineKey<Self>,
    ) -> Result<(), SpecializedMeshPipelineError> {
        descriptor.vertex.buffers =
            vec![layout.0.get_layout(&[Mesh::ATTRIBUTE_POSITION.at_shader_location(0), Mesh::ATTRIBUTE_NORMAL.at_shader_location(1)])?];
        Ok(())
    }
}

impl TimberLook {
    /// How a wood looks.
    pub fn of(wood: &Wood) -> TimberLook {
        let colour = |hex: u32| Color::srgb_u8((hex >> 16) as u8, (hex >> 8) as u8, hex as u8).to_linear().to_vec4();
        let accent = paper::ACCENT.to_linear().to_vec4();
        TimberLook {
            figures: TimberFigures {
                light: colour(wood.light),
                dark: colour(wood.dark),
                end: colour(wood.end),
                figure: Vec4::new(wood.ring, wood.contrast, wood.pores, wood.board),
                nature: Vec4::new(if wood.sheet { 1.0 } else { 0.0 }, 1.0, wood.sheen, 0.0),
                accent,
                ..default()
            },
            ghost: false,
        }
    }

    /// The same, to be seen through.
    #[must_use]
    pub fn ghost(mut self) -> TimberLook {
        self.ghost = true;
        self.figures.nature.y = 0.13;
        self
    }

    /// Tells the room inside the case, which is darker; `together` is 1, or less as the case comes apart.
    /// Answers whether anything changed.
    pub fn stand_in(&mut self, room: (Vec3, Vec3), together: f32) -> bool {
        let (min, max) = (room.0.extend(together), room.1.extend(0.0));
        let changed = self.figures.case_min != min || self.figures.case_max != max;
        (self.figures.case_min, self.figures.case_max) = (min, max);
        changed
    }
}
