//! The edges that a drawing shows.

use super::FeatureEdge;
use super::skin::Skin;
use super::stitch::Mates;

/// Surfaces that meet at less than this run on smoothly: the sine of half a degree.
const SMOOTH: f64 = 0.0087;

/// The edges where two surfaces meet at an angle.
pub(super) fn feature_edges(skin: &Skin, mates: &Mates) -> Vec<FeatureEdge> {
    let mut edges = Vec::new();
    for (edge, &mate) in mates.mate.iter().enumerate() {
        let start = skin.loop_vertices[edge];
        let end = mates.end[edge];
        if start > end || mate as usize >= mates.face.len() {
            continue;
        }
        let faces = [mates.face[edge], mates.face[mate as usize]];
        let [left, right] = faces.map(|f| &skin.faces[f as usize]);
        if left.arc.is_some() && left.origin == right.origin {
            continue;
        }
        let (a, b) = (skin.positions[start as usize], skin.positions[end as usize]);
        let sharp = |p| {
            let (m, n) = (left.normal_at(p), right.normal_at(p));
            m.cross(n).length() > SMOOTH || m.dot(n) < 0.0
        };
        if !sharp(a) && !sharp(b) {
            continue;
        }
        // Into the left face, from the edge: against the other face's normal where it bulges.
        let into_left = left.normal.cross(b - a);
        edges.push(FeatureEdge { a, b, faces, convex: into_left.dot(right.normal) < 0.0 });
    }
    edges
}
