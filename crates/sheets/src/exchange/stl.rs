//! A part as a mesh, in the customary binary form: a head of 80 bytes, the count, then 50 bytes a triangle.

use glam::DVec3;

use super::Kind;

/// The mesh of a part in its own measures: length along x, width along y, thickness along z, mm.
pub(super) fn of(kind: &Kind<'_>) -> Vec<u8> {
    let shape = &kind.made.shape;
    let mut bytes = Vec::with_capacity(84 + 50 * shape.triangles.len());
    let head = format!("{}, mm", kind.name);
    bytes.extend(head.bytes().chain(std::iter::repeat(b' ')).take(80));
    bytes.extend((shape.triangles.len() as u32).to_le_bytes());
    for triangle in &shape.triangles {
        let [a, b, c] = triangle.map(|vertex| shape.positions[vertex as usize]);
        for at in [(b - a).cross(c - a).normalize_or_zero(), a, b, c] {
            bytes.extend(numbers(at));
        }
        bytes.extend([0, 0]);
    }
    bytes
}

fn numbers(at: DVec3) -> impl Iterator<Item = u8> {
    at.as_vec3().to_array().into_iter().flat_map(f32::to_le_bytes)
}
