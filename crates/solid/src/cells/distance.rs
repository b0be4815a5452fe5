//! How far apart two convex cells lie.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use glam::DVec3;

use super::Cell;
use super::hull::Hull;

/// Two points, one of each cell, as near as any.
#[derive(Clone, Copy, Debug)]
pub(super) struct Nearest {
    pub distance: f64,
    pub on_a: DVec3,
    pub on_b: DVec3,
}

impl Nearest {
    /// Midway between the two.
    pub fn middle(&self) -> DVec3 {
        (self.on_a + self.on_b) / 2.0
    }
}

/// The nearest points of two groups of cells that share no volume; nothing when one is empty.
pub(super) fn nearest(a: &[Cell], b: &[Cell]) -> Option<Nearest> {
    // By the distance of the boxes, which is no more than that of the cells; numbers that are not below zero keep their order as bits.
    let pairs = a.iter().enumerate().flat_map(|(i, x)| b.iter().enumerate().map(move |(j, y)| (box_gap(x, y), i, j)));
    let mut waiting: BinaryHeap<Reverse<(u64, usize, usize)>> = pairs.map(|(gap, i, j)| Reverse((gap.to_bits(), i, j))).collect();
    let mut best: Option<Nearest> = None;
    while let Some(Reverse((gap, i, j))) = waiting.pop() {
        if best.is_some_and(|b| b.distance <= f64::from_bits(gap)) {
            break;
        }
        let found = between(&a[i], &b[j]);
        if best.is_none_or(|b| found.distance < b.distance) {
            best = Some(found);
        }
    }
    best
}

/// The distance between the boxes around two cells: no more than that between the cells.
fn box_gap(a: &Cell, b: &Cell) -> f64 {
    (a.min - b.max).max(b.min - a.max).max(DVec3::ZERO).length()
}

/// The nearest points of the boxes around two cells.
fn between_boxes(a: &Cell, b: &Cell) -> Nearest {
    // Along each axis the middle of what they share, or the two that look at each other.
    let (low, high) = (a.min.max(b.min), a.max.min(b.max));
    let shared = (low + high) / 2.0;
    let (mut on_a, mut on_b) = (shared, shared);
    for axis in 0..3 {
        if low[axis] > high[axis] {
            let a_is_below = a.max[axis] < b.min[axis];
            (on_a[axis], on_b[axis]) = if a_is_below { (high[axis], low[axis]) } else { (low[axis], high[axis]) };
        }
    }
    Nearest { distance: on_a.distance(on_b), on_a, on_b }
}

/// The distance between two cells that share no volume.
///
/// Asks every corner against every side and every edge against every edge, which for convex
/// bodies apart from each other is all there is.
fn between(a: &Cell, b: &Cell) -> Nearest {
    let boxes = between_boxes(a, b);
    if a.hull.is_none() && b.hull.is_none() {
        return boxes;
    }
    let (a, b) = (a.to_hull(), b.to_hull());
    let mut best = Nearest { distance: f64::INFINITY, ..boxes };
    corners_to_sides(&a, &b, |on_a, on_b| keep(&mut best, on_a, on_b));
    corners_to_sides(&b, &a, |on_b, on_a| keep(&mut best, on_a, on_b));
    let b_edges: Vec<(DVec3, DVec3)> = edges(&b).collect();
    for (p, q) in edges(&a) {
        for &(r, s) in &b_edges {
            let (on_a, on_b) = nearest_on_segments(p, q, r, s);
            keep(&mut best, on_a, on_b);
        }
    }
    best
}

fn keep(best: &mut Nearest, on_a: DVec3, on_b: DVec3) -> f64 {
    let distance = on_a.distance(on_b);
    if distance < best.distance {
        *best = Nearest { distance, on_a, on_b };
    }
    best.distance
}

/// Each edge once: its two polygons run along it in opposite directions.
fn edges(hull: &Hull) -> impl Iterator<Item = (DVec3, DVec3)> {
    hull.sides()
        .flat_map(|(_, corners)| {
            let next = corners.iter().cycle().skip(1);
            corners.iter().copied().zip(next.copied())
        })
        .filter(|(p, q)| p.to_array() < q.to_array())
}

/// Calls `found` with each corner of the one that looks square onto a side of the other, and the point of the side below it, as long as
/// those are nearer than the least distance that it gives back.
fn corners_to_sides(corners_of: &Hull, sides_of: &Hull, mut found: impl FnMut(DVec3, DVec3) -> f64) {
    let mut best = f64::INFINITY;
    for (plane, side) in sides_of.sides() {
        for &corner in corners_of.points() {
            let height = plane.normal.dot(corner) - plane.offset;
            if height < 0.0 || height >= best {
                continue;
            }
            let foot = corner - plane.normal * height;
            let next = side.iter().cycle().skip(1);
            let inside = side.iter().zip(next).all(|(&p, &q)| (q - p).cross(foot - p).dot(plane.normal) >= 0.0);
            if inside {
                best = found(corner, foot);
            }
        }
    }
}

/// The two nearest points of two segments.
fn nearest_on_segments(p: DVec3, q: DVec3, r: DVec3, s: DVec3) -> (DVec3, DVec3) {
    let (d, e, w) = (q - p, s - r, p - r);
    let (dd, de, ee) = (d.dot(d), d.dot(e), e.dot(e));
    let (dw, ew) = (d.dot(w), e.dot(w));
    let across = dd * ee - de * de;
    // Nearest on the two lines, or anywhere when they are parallel; then back onto the segments.
    let mut t = if across > 1e-12 * dd * ee { ((de * ew - ee * dw) / across).clamp(0.0, 1.0) } else { 0.0 };
    let mut u = if ee > 0.0 { (de * t + ew) / ee } else { 0.0 };
    if !(0.0..=1.0).contains(&u) {
        u = u.clamp(0.0, 1.0);
        t = if dd > 0.0 { ((de * u - dw) / dd).clamp(0.0, 1.0) } else { 0.0 };
    }
    (p + d * t, r + e * u)
}

#[cfg(test)]
mod tests {
    use super::{Cell, between, nearest_on_segments};
    use crate::cells::hull::{HalfSpace, Hull};
    use glam::DVec3;

    /// Held against arithmetic on the coordinates.
    #[test]
    fn crossing_segments_are_nearest_where_they_cross_over() {
        let (p, q) = nearest_on_segments(
            DVec3::new(-1.0, 0.0, 0.0),
            DVec3::new(3.0, 0.0, 0.0),
            DVec3::new(1.0, -1.0, 2.0),
            DVec3::new(1.0, 5.0, 2.0),
        );
        assert_eq!((p, q), (DVec3::new(1.0, 0.0, 0.0), DVec3::new(1.0, 0.0, 2.0)));
    }

    /// Held against the distance from a point to a plane: the cut corner of the cube looks at
    /// the corner of the other.
    #[test]
    fn a_cut_corner_is_measured_square_to_the_cut() {
        let cube = Hull::of_box(DVec3::ZERO, DVec3::ONE);
        let normal = DVec3::ONE.normalize();
        let cut = cube.inside(HalfSpace { normal, offset: normal.dot(DVec3::splat(0.9)) });
        let cut = Cell::of_hull(cut.expect("most of the cube is left"));
        let other = Cell::of_box(DVec3::ONE, DVec3::splat(2.0));
        let wanted = 0.1 * 3.0_f64.sqrt();
        assert!((between(&cut, &other).distance - wanted).abs() < 1e-12);
        assert!((between(&other, &cut).distance - wanted).abs() < 1e-12);
    }
}
