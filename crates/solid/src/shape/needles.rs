//! Triangles without height, taken out where that changes nothing.
//!
//! Where a corner of an outline lies on a straight line between two others, to within the grid, a filling may hold a triangle over all
//! three. It closes the mesh, but other programs take such needles out in ways of their own. Turning the diagonal that is its long side
//! parts its neighbour at the corner instead.

use std::collections::BTreeMap;

use super::skin::Skin;
use super::triangulate::Mesh;

/// Rounds after which needles that hold on to each other are left.
const ROUNDS: usize = 4;

/// Turns the long sides of needles that lie amid a face; whether none is left.
pub(super) fn turn_out(skin: &Skin, mesh: &mut Mesh) -> bool {
    for _ in 0..ROUNDS {
        let needles: Vec<usize> = (0..mesh.triangles.len()).filter(|&t| is_needle(skin, mesh.triangles[t])).collect();
        if needles.is_empty() {
            return true;
        }
        let mut triangle_at = edges(mesh);
        let mut turned = false;
        for needle in needles {
            turned |= turn(skin, mesh, needle, &mut triangle_at);
        }
        if !turned {
            return false;
        }
    }
    !mesh.triangles.iter().any(|&triangle| is_needle(skin, triangle))
}

/// Whether a corner lies on the opposite side, to within what vertices are welded over.
fn is_needle(skin: &Skin, triangle: [u32; 3]) -> bool {
    let [a, b, c] = triangle.map(|v| skin.positions[v as usize]);
    let longest = a.distance_squared(b).max(b.distance_squared(c)).max(c.distance_squared(a));
    let reach = skin.weld * 2.0;
    (b - a).cross(c - a).length_squared() <= reach * reach * longest
}

/// How long the needles of two triangles are together.
fn needle_length(skin: &Skin, triangles: [[u32; 3]; 2]) -> f64 {
    let longest = |[a, b, c]: [u32; 3]| {
        let [a, b, c] = [a, b, c].map(|v| skin.positions[v as usize]);
        a.distance(b).max(b.distance(c)).max(c.distance(a))
    };
    triangles.into_iter().filter(|&triangle| is_needle(skin, triangle)).map(longest).sum()
}

/// The triangle to the left of each directed edge.
fn edges(mesh: &Mesh) -> BTreeMap<(u32, u32), usize> {
    let sides = |(triangle, &[a, b, c]): (usize, &[u32; 3])| [((a, b), triangle), ((b, c), triangle), ((c, a), triangle)];
    mesh.triangles.iter().enumerate().flat_map(sides).collect()
}

/// Turns the long side of a needle, if what lies beyond it is of the same face and that leaves fewer or shorter needles; whether it did.
fn turn(skin: &Skin, mesh: &mut Mesh, needle: usize, triangle_at: &mut BTreeMap<(u32, u32), usize>) -> bool {
    let corners = mesh.triangles[needle];
    if !is_needle(skin, corners) {
        return false;
    }
    let length = |i: usize| skin.positions[corners[i] as usize].distance_squared(skin.positions[corners[(i + 1) % 3] as usize]);
    let long = (0..3).max_by(|&i, &j| length(i).total_cmp(&length(j))).unwrap_or_default();
    let (from, to, on) = (corners[long], corners[(long + 1) % 3], corners[(long + 2) % 3]);
    let Some(&beyond) = triangle_at.get(&(to, from)) else {
        return false;
    };
    let Some(apex) = mesh.triangles[beyond].into_iter().find(|&v| v != from && v != to) else {
        return false;
    };
    let new = [[on, from, apex], [apex, to, on]];
    let is_free = !triangle_at.contains_key(&(on, apex)) && !triangle_at.contains_key(&(apex, on));
    let same_face = mesh.face_of_triangle[needle] == mesh.face_of_triangle[beyond];
    let better = needle_length(skin, new) < needle_length(skin, [corners, mesh.triangles[beyond]]);
    if !same_face || !is_free || !better {
        return false;
    }
    triangle_at.remove(&(from, to));
    triangle_at.remove(&(to, from));
    for (triangle, corners) in [needle, beyond].into_iter().zip(new) {
        mesh.triangles[triangle] = corners;
        let [a, b, c] = corners;
        triangle_at.extend([((a, b), triangle), ((b, c), triangle), ((c, a), triangle)]);
    }
    true
}
