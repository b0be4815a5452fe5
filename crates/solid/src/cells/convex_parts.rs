//! Faceted prisms as convex bodies.

use earcut::Earcut;
use glam::DVec2;

use super::hull::HalfSpace;
use crate::axis::Axis;
use crate::cutter::{Cutter, lift};

/// A convex piece of a prism: the points inside all of its half spaces.
pub(super) struct Part {
    /// The two ends, then the walls of the prism, then the cuts between it and its sisters.
    pub planes: Vec<HalfSpace>,
}

/// The convex parts of a prism: one when its outline is convex.
pub(super) fn parts(cutter: &Cutter) -> Vec<Part> {
    let count = cutter.outline.len();
    if cutter.convex {
        return vec![part(cutter, &(0..count).collect::<Vec<_>>())];
    }
    convex_polygons(&cutter.outline).iter().map(|corners| part(cutter, corners)).collect()
}

/// The part over a convex polygon of corners of the outline.
fn part(cutter: &Cutter, corners: &[usize]) -> Part {
    let count = cutter.outline.len();
    let mut planes = Vec::with_capacity(corners.len() + 2);
    let up = lift(cutter.axis, DVec2::ZERO, 1.0);
    planes.push(HalfSpace { normal: -up, offset: -cutter.lo });
    planes.push(HalfSpace { normal: up, offset: cutter.hi });
    let is_wall = |a: usize, b: usize| (a + 1) % count == b;
    for walls in [true, false] {
        for (i, &a) in corners.iter().enumerate() {
            let b = corners[(i + 1) % corners.len()];
            if is_wall(a, b) == walls {
                planes.push(wall(cutter.axis, cutter.outline[a], cutter.outline[b]));
            }
        }
    }
    Part { planes }
}

/// The half space to the left of an edge.
fn wall(axis: Axis, a: DVec2, b: DVec2) -> HalfSpace {
    let outward = -(b - a).perp().normalize();
    HalfSpace { normal: lift(axis, outward, 0.0), offset: outward.dot(a) }
}

/// A polygon as convex ones on its own corners: triangles, joined while they stay convex.
fn convex_polygons(outline: &[DVec2]) -> Vec<Vec<usize>> {
    let mut indices: Vec<u32> = Vec::new();
    Earcut::new().earcut(outline.iter().map(DVec2::to_array), &[], &mut indices);
    let mut pieces: Vec<Vec<usize>> =
        indices.chunks_exact(3).map(|t| counter_clockwise(outline, [t[0] as usize, t[1] as usize, t[2] as usize])).collect();
    while let Some((i, j, joined)) = first_join(outline, &pieces) {
        pieces[i] = joined;
        pieces.swap_remove(j);
    }
    pieces
}

fn counter_clockwise(outline: &[DVec2], t: [usize; 3]) -> Vec<usize> {
    let [a, b, c] = t.map(|i| outline[i]);
    if (b - a).perp_dot(c - a) >= 0.0 { t.to_vec() } else { vec![t[0], t[2], t[1]] }
}

/// The first two pieces that share an edge and are convex together.
fn first_join(outline: &[DVec2], pieces: &[Vec<usize>]) -> Option<(usize, usize, Vec<usize>)> {
    for i in 0..pieces.len() {
        for j in i + 1..pieces.len() {
            if let Some(joined) = join(&pieces[i], &pieces[j])
                && is_convex(outline, &joined)
            {
                return Some((i, j, joined));
            }
        }
    }
    None
}

/// Two polygons joined over the edge that they share.
fn join(a: &[usize], b: &[usize]) -> Option<Vec<usize>> {
    for i in 0..a.len() {
        let next = (i + 1) % a.len();
        let shared = (0..b.len()).find(|&j| b[j] == a[next] && b[(j + 1) % b.len()] == a[i]);
        if let Some(j) = shared {
            // Round `a` from the far end of the edge to its near end, then round `b` back.
            let round_a = (0..a.len()).map(|k| a[(next + k) % a.len()]);
            let round_b = (2..b.len()).map(|k| b[(j + k) % b.len()]);
            return Some(round_a.chain(round_b).collect());
        }
    }
    None
}

fn is_convex(outline: &[DVec2], corners: &[usize]) -> bool {
    let n = corners.len();
    (0..n).all(|i| {
        let [a, b, c] = [i, i + 1, i + 2].map(|k| outline[corners[k % n]]);
        (b - a).perp_dot(c - b) >= 0.0
    })
}

#[cfg(test)]
mod tests {
    use super::convex_polygons;
    use crate::facet::area;
    use glam::DVec2;

    /// Held against the area of the whole.
    #[test]
    fn an_l_falls_into_two_pieces() {
        let l: Vec<DVec2> = [(0, 0), (4, 0), (4, 1), (1, 1), (1, 3), (0, 3)].map(|(x, y)| DVec2::new(f64::from(x), f64::from(y))).to_vec();
        let pieces = convex_polygons(&l);
        let areas: f64 = pieces.iter().map(|p| area(&p.iter().map(|&i| l[i]).collect::<Vec<_>>())).sum();
        assert_eq!(pieces.len(), 2);
        assert!((areas - 6.0).abs() < 1e-12);
    }
}
