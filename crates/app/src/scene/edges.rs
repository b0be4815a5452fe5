//! Pencil lines in the case: the edges of parts, the marks of the rod, the lines of dimensions.

use bevy::asset::{RenderAssetUsages, uuid_handle};
use bevy::mesh::{Indices, MeshVertexBufferLayoutRef, PrimitiveTopology};
use bevy::pbr::{MaterialPipeline, MaterialPipelineKey};
use bevy::prelude::*;
use bevy::render::render_resource::{AsBindGroup, RenderPipelineDescriptor, ShaderType, SpecializedMeshPipelineError};
use bevy::shader::ShaderRef;
use casewright_solid::Shape;

use super::paper;

pub(super) const SHADER: Handle<Shader> = uuid_handle!("5e0a5c1e-9a7d-4a1b-8f0e-2c6d1d6f3a02");

/// What the shader knows of a pencil; see `pencil.wgsl`.
#[derive(Clone, Copy, Debug, Default, PartialEq, ShaderType)]
pub struct Stroke {
    colour: Vec4,
    accent: Vec4,
    line: Vec4,
}

/// A pencil.
#[derive(Asset, AsBindGroup, Clone, Debug, TypePath)]
pub struct Pencil {
    #[uniform(0)]
    stroke: Stroke,
}

impl Pencil {
    /// A pencil that draws lines of `width` physical pixels as dark as `opacity`, running over by `over` pixels at their ends.
    pub fn new(width: f32, opacity: f32, over: f32) -> Pencil {
        Pencil {
            stroke: Stroke {
                colour: paper::PENCIL.with_alpha(opacity).to_linear().to_vec4(),
                accent: paper::ACCENT.to_linear().to_vec4(),
                line: Vec4::new(width, 2.4, over, 0.0),
            },
        }
    }
}

impl Material for Pencil {
    fn vertex_shader() -> ShaderRef {
        SHADER.into()
    }

    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        AlphaMode::Blend
    }

    /// Lines are drawn after all that is solid, whatever the order of what is seen through.
    fn depth_bias(&self) -> f32 {
        400.0
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
        descriptor.vertex.buffers = vec![layout.0.get_layout(&[
            Mesh::ATTRIBUTE_POSITION.at_shader_location(0),
            Mesh::ATTRIBUTE_NORMAL.at_shader_location(1),
            Mesh::ATTRIBUTE_UV_0.at_shader_location(2),
        ])?];
        descriptor.primitive.cull_mode = None;
        Ok(())
    }
}

/// A straight pencil line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// One end, mm.
    pub a: Vec3,
    /// The other end, mm.
    pub b: Vec3,
    /// How dark, 0 to 1.
    pub dark: f32,
}

/// The edges of a shape; those in inner corners are drawn lighter.
pub fn edges_of(shape: &Shape) -> Vec<Line> {
    shape.edges.iter().map(|edge| Line { a: edge.a.as_vec3(), b: edge.b.as_vec3(), dark: if edge.convex { 1.0 } else { 0.7 } }).collect()
}

/// The mesh that `pencil.wgsl` draws lines from: four corners each, two at either end.
pub fn line_mesh(lines: &[Line]) -> Mesh {
    let mut positions = Vec::with_capacity(lines.len() * 4);
    let mut ways = Vec::with_capacity(lines.len() * 4);
    let mut sides = Vec::with_capacity(lines.len() * 4);
    let mut corners = Vec::with_capacity(lines.len() * 6);
    for line in lines.iter().filter(|line| line.a != line.b) {
        let first = positions.len() as u32;
        let way = line.b - line.a;
        positions.extend([line.a, line.a, line.b, line.b].map(|at| at.to_array()));
        ways.extend([way, way, -way, -way].map(|way| way.to_array()));
        // The second end looks back, so its left is the first end's right.
        sides.extend([[1.0, line.dark], [-1.0, line.dark], [-1.0, -line.dark], [1.0, -line.dark]]);
        corners.extend([0, 1, 2, 2, 1, 3].map(|corner| first + corner));
    }
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, ways)
        .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, sides)
        .with_inserted_indices(Indices::U32(corners))
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy::math::DVec3;
    use casewright_solid::{Facets, Solid};

    #[test]
    fn a_plain_board_has_twelve_edges_of_its_own_size() {
        let board = Solid { size: DVec3::new(600.0, 90.0, 20.0), prisms: Vec::new() };
        let lines = edges_of(&board.shape(Facets::ChordError(0.05)).expect("a board"));
        assert_eq!(lines.len(), 12);
        let total: f32 = lines.iter().map(|line| line.a.distance(line.b)).sum();
        assert!((total - 4.0 * (600.0 + 90.0 + 20.0)).abs() < 0.01);
        assert_eq!(line_mesh(&lines).count_vertices(), 48);
    }

    #[test]
    fn a_line_without_length_is_not_drawn() {
        let point = Line { a: Vec3::ONE, b: Vec3::ONE, dark: 1.0 };
        assert_eq!(line_mesh(&[point]).count_vertices(), 0);
    }
}
