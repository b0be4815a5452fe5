//! The difference of a rectangle and a convex cut right across it, without the engine.
//!
//! Where two mortises meet, each facet of the one is cut by the other from side to side; a post
//! has some two hundred such facets.

use glam::DVec2;

use super::contours::{Rect, clip_to_rect};

/// Nearer than this to a side is on it, mm.
const ON_SIDE: f64 = 1e-7;

/// What is left of `rect` without convex `cuts`. Nothing when some cut does not run right across
/// what others have left.
pub(super) fn around_strips(rect: Rect, cuts: &[Vec<DVec2>]) -> Option<Vec<Vec<DVec2>>> {
    let mut pieces = vec![rect.corners().to_vec()];
    // Upright cuts first: they leave rectangles, which can be cut again.
    let (upright, sloping): (Vec<_>, Vec<_>) = cuts.iter().partition(|cut| is_upright(cut));
    for cut in upright.into_iter().chain(sloping) {
        let mut left = Vec::with_capacity(pieces.len() + 1);
        for piece in pieces {
            let around = Rect::around(&piece);
            let part = clip_to_rect(cut, around);
            if Rect::around(&part).is_thin() {
                left.push(piece);
            } else if is_upright(&piece) {
                left.extend(around_strip(around, &part)?);
            } else {
                return None;
            }
        }
        pieces = left;
    }
    Some(pieces)
}

/// Whether a polygon is a rectangle along x and y, which may repeat corners.
fn is_upright(polygon: &[DVec2]) -> bool {
    let around = Rect::around(polygon);
    polygon.iter().all(|p| {
        let at = |a: f64, b: f64| (a - b).abs() <= 1e-12;
        (at(p.x, around.min.x) || at(p.x, around.max.x)) && (at(p.y, around.min.y) || at(p.y, around.max.y))
    }) && polygon.len() >= 4
}

/// What is left of `rect` without `cut`, a convex polygon inside it: the pieces on either side
/// of a cut that runs from one side to the opposite one. Nothing when the cut lies otherwise.
fn around_strip(rect: Rect, cut: &[DVec2]) -> Option<Vec<Vec<DVec2>>> {
    if let Some(pieces) = along_x(rect, cut) {
        return Some(pieces);
    }
    // The same with x and y exchanged; that mirrors, so the outlines are reversed both ways.
    let swap = |p: &DVec2| DVec2::new(p.y, p.x);
    let turned = Rect { min: swap(&rect.min), max: swap(&rect.max) };
    let cut: Vec<DVec2> = cut.iter().rev().map(swap).collect();
    let pieces = along_x(turned, &cut)?;
    Some(pieces.iter().map(|p| p.iter().rev().map(swap).collect()).collect())
}

/// [`around_strip`] for a cut that runs from the least x to the greatest.
fn along_x(rect: Rect, cut: &[DVec2]) -> Option<Vec<Vec<DVec2>>> {
    let n = cut.len();
    let at_left = |i: usize| cut[i % n].x <= rect.min.x + ON_SIDE;
    let at_right = |i: usize| cut[i % n].x >= rect.max.x - ON_SIDE;
    // Counter-clockwise the cut goes down its left side, along below, up its right side, back.
    let down = (0..n).find(|&i| at_left(i) && !at_left(i + 1))?;
    let up = (0..n).find(|&i| at_right(i) && !at_right(i + 1))?;
    let below: Vec<DVec2> = chain(cut, down, |p| p.x >= rect.max.x - ON_SIDE);
    let above: Vec<DVec2> = chain(cut, up, |p| p.x <= rect.min.x + ON_SIDE);
    let mut pieces = Vec::with_capacity(2);
    let low = DVec2::new(rect.max.x, rect.min.y);
    if !lies_on(&below, rect.min.y)? {
        pieces.push([rect.min, low].into_iter().chain(below.into_iter().rev()).collect());
    }
    let high = DVec2::new(rect.min.x, rect.max.y);
    if !lies_on(&above, rect.max.y)? {
        pieces.push([rect.max, high].into_iter().chain(above.into_iter().rev()).collect());
    }
    Some(pieces)
}

/// The corners from `start` to the first that `ends` the chain.
fn chain(cut: &[DVec2], start: usize, ends: impl Fn(DVec2) -> bool) -> Vec<DVec2> {
    let mut corners = Vec::with_capacity(cut.len());
    for step in 0..cut.len() {
        let corner = cut[(start + step) % cut.len()];
        corners.push(corner);
        if step > 0 && ends(corner) {
            break;
        }
    }
    corners
}

/// Whether a chain runs along the side at `y`; nothing when only some of it touches the side.
fn lies_on(chain: &[DVec2], y: f64) -> Option<bool> {
    let on = chain.iter().filter(|p| (p.y - y).abs() <= ON_SIDE).count();
    match on {
        0 => Some(false),
        n if n == chain.len() => Some(true),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{around_strip, around_strips};
    use crate::facet::area;
    use crate::shape::contours::Rect;
    use glam::DVec2;

    fn corners(points: &[(f64, f64)]) -> Vec<DVec2> {
        points.iter().map(|&(x, y)| DVec2::new(x, y)).collect()
    }

    /// Held against the area of the rectangle less those of the cuts.
    #[test]
    fn an_upright_cut_leaves_rectangles_that_are_cut_again() {
        let rect = Rect { min: DVec2::ZERO, max: DVec2::new(10.0, 20.0) };
        let sloping = corners(&[(0.0, 2.0), (10.0, 3.0), (10.0, 5.0), (0.0, 6.0)]);
        let upright = corners(&[(0.0, 12.0), (10.0, 12.0), (10.0, 15.0), (0.0, 15.0)]);
        let areas = area(&sloping) + area(&upright);
        let pieces = around_strips(rect, &[sloping, upright]).expect("both run right across");
        assert_eq!(pieces.len(), 3);
        let left: f64 = pieces.iter().map(|p| area(p)).sum();
        assert!((left - (200.0 - areas)).abs() < 1e-9);
    }

    /// Held against the area of the rectangle less that of the cut.
    #[test]
    fn cuts_from_side_to_side_leave_a_piece_on_either_side() {
        let rect = Rect { min: DVec2::ZERO, max: DVec2::new(10.0, 20.0) };
        let level = corners(&[(0.0, 5.0), (10.0, 6.0), (10.0, 9.0), (4.0, 10.0), (0.0, 8.0)]);
        let upright = corners(&[(3.0, 0.0), (5.0, 0.0), (6.0, 20.0), (2.0, 20.0)]);
        for cut in [level, upright] {
            let pieces = around_strip(rect, &cut).expect("it runs right across");
            assert_eq!(pieces.len(), 2);
            let left: f64 = pieces.iter().map(|p| area(p)).sum();
            assert!((left - (200.0 - area(&cut))).abs() < 1e-9);
            assert!(pieces.iter().all(|p| area(p) > 0.0));
        }
        let flush = corners(&[(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)]);
        assert_eq!(around_strip(rect, &flush).map(|p| p.len()), Some(1));
        let whole = corners(&[(0.0, 0.0), (10.0, 0.0), (10.0, 20.0), (0.0, 20.0)]);
        assert_eq!(around_strip(rect, &whole).map(|p| p.len()), Some(0));
        let within = corners(&[(1.0, 1.0), (2.0, 1.0), (2.0, 2.0)]);
        assert_eq!(around_strip(rect, &within), None);
    }
}
