//! Repairs of a mesh whose outlines closed but whose triangles do not.
//!
//! A diagonal inside one face may run between the same two vertices as an edge elsewhere, where
//! a knife edge of a cut just touches the face from within. It gets a vertex of its own.

use std::collections::BTreeMap;

use super::skin::Skin;
use super::stitch::closes;
use super::triangulate::Mesh;

/// Rounds after which a mesh is taken to be past mending.
const ROUNDS: usize = 6;

/// The triangles on either side of an edge, by its two vertices, the lower first.
#[derive(Default)]
struct Sides {
    ahead: Vec<usize>,
    back: Vec<usize>,
}

/// Splits triangles until the mesh closes; whether it does.
pub(super) fn mend(skin: &mut Skin, mesh: &mut Mesh) -> bool {
    for _ in 0..ROUNDS {
        if closes(&mesh.triangles, skin.positions.len()) {
            return true;
        }
        let edges = sides(mesh);
        if !split_doubled(skin, mesh, &edges) {
            return false;
        }
    }
    closes(&mesh.triangles, skin.positions.len())
}

fn sides(mesh: &Mesh) -> BTreeMap<(u32, u32), Sides> {
    let mut edges: BTreeMap<(u32, u32), Sides> = BTreeMap::new();
    for (triangle, &[a, b, c]) in mesh.triangles.iter().enumerate() {
        for (from, to) in [(a, b), (b, c), (c, a)] {
            let sides = edges.entry((from.min(to), from.max(to))).or_default();
            if from < to {
                sides.ahead.push(triangle);
            } else {
                sides.back.push(triangle);
            }
        }
    }
    edges
}

/// Gives diagonals that share both ends with another edge a vertex of their own in the middle;
/// whether there were any.
fn split_doubled(skin: &mut Skin, mesh: &mut Mesh, edges: &BTreeMap<(u32, u32), Sides>) -> bool {
    let mut touched = vec![false; mesh.triangles.len()];
    let mut any = false;
    for (&(a, b), sides) in edges {
        if sides.ahead.len() < 2 || sides.ahead.len() != sides.back.len() {
            continue;
        }
        for &left in &sides.ahead {
            let face = mesh.face_of_triangle[left];
            let mate = sides.back.iter().copied().find(|&t| mesh.face_of_triangle[t] == face);
            let Some(right) = mate else {
                continue;
            };
            // A triangle split once is another one; what is left waits for the next round.
            if touched[left] || touched[right] {
                continue;
            }
            let middle = (skin.positions[a as usize] + skin.positions[b as usize]) / 2.0;
            let vertex = skin.apart(middle);
            split(mesh, left, (a, b), vertex);
            split(mesh, right, (b, a), vertex);
            (touched[left], touched[right], any) = (true, true, true);
        }
    }
    any
}

/// Splits a triangle at a vertex on its edge from `a` to `b`.
fn split(mesh: &mut Mesh, triangle: usize, (a, b): (u32, u32), on: u32) {
    let corners = mesh.triangles[triangle];
    let Some(apex) = corners.into_iter().find(|&v| v != a && v != b) else {
        return;
    };
    mesh.triangles[triangle] = [a, on, apex];
    mesh.triangles.push([on, b, apex]);
    mesh.face_of_triangle.push(mesh.face_of_triangle[triangle]);
}
