//! Polygons in a plane, kept in one list, and the boolean difference of them.

use glam::DVec2;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;

use crate::cutter::GRID;

/// An upright rectangle in a plane.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rect {
    pub min: DVec2,
    pub max: DVec2,
}

impl Rect {
    pub fn corners(self) -> [DVec2; 4] {
        [self.min, DVec2::new(self.max.x, self.min.y), self.max, DVec2::new(self.min.x, self.max.y)]
    }

    pub fn around(points: &[DVec2]) -> Self {
        let first = points.first().copied().unwrap_or_default();
        let grow = |r: Self, p: &DVec2| Self { min: r.min.min(*p), max: r.max.max(*p) };
        points.iter().fold(Self { min: first, max: first }, grow)
    }

    pub fn union(self, other: Self) -> Self {
        Self { min: self.min.min(other.min), max: self.max.max(other.max) }
    }

    pub fn intersection(self, other: Self) -> Self {
        Self { min: self.min.max(other.min), max: self.max.min(other.max) }
    }

    pub fn is_empty(self) -> bool {
        !(self.min.x < self.max.x && self.min.y < self.max.y)
    }

    /// Whether it is too narrow to be anything but rounding.
    pub fn is_thin(self) -> bool {
        (self.max - self.min).min_element() < 1e-6
    }

    /// Whether the two come within `slack` of each other.
    pub fn meets(self, other: Self, slack: f64) -> bool {
        self.min.cmple(other.max + slack).all() && other.min.cmple(self.max + slack).all()
    }

    /// Whether `other` lies inside with at least `margin` to spare (or out by so much, when
    /// negative).
    pub fn holds(self, other: Self, margin: f64) -> bool {
        (self.min + margin).cmple(other.min).all() && (other.max + margin).cmple(self.max).all()
    }
}

/// Polygons one after the other in one list of points.
#[derive(Default)]
pub(super) struct Contours {
    points: Vec<DVec2>,
    ends: Vec<usize>,
}

impl Contours {
    pub fn push(&mut self, points: impl IntoIterator<Item = DVec2>) {
        self.points.extend(points);
        self.ends.push(self.points.len());
    }

    pub fn len(&self) -> usize {
        self.ends.len()
    }

    pub fn get(&self, index: usize) -> &[DVec2] {
        let start = if index == 0 { 0 } else { self.ends[index - 1] };
        &self.points[start..self.ends[index]]
    }

    pub fn iter(&self) -> impl Iterator<Item = &[DVec2]> {
        (0..self.len()).map(|i| self.get(i))
    }
}

/// The integer engine, kept so that its buffers are used again.
pub(super) struct Engine {
    overlay: Overlay<i64>,
}

/// An outer outline, counter-clockwise, then its holes, clockwise.
pub(super) type Polygon = Vec<Vec<DVec2>>;

impl Engine {
    pub fn new() -> Self {
        Self { overlay: Overlay::new(64) }
    }

    pub fn begin(&mut self) {
        self.overlay.clear();
    }

    /// Adds to what is cut from. The contour is counter-clockwise.
    pub fn add_subject(&mut self, contour: &[DVec2]) {
        self.add(contour, ShapeType::Subject);
    }

    /// Adds to what is cut away. The contour is counter-clockwise.
    pub fn add_clip(&mut self, contour: &[DVec2]) {
        self.add(contour, ShapeType::Clip);
    }

    fn add(&mut self, contour: &[DVec2], role: ShapeType) {
        self.overlay.add_path_iter(contour.iter().map(|&p| to_grid(p)), role);
    }

    /// All subjects together, less all clips together.
    pub fn difference(&mut self) -> Vec<Polygon> {
        self.overlay(OverlayRule::Difference, FillRule::NonZero)
    }

    /// What subjects and clips have in common; here a contour within another is a hole in it, whichever way it turns.
    pub fn common(&mut self) -> Vec<Polygon> {
        self.overlay(OverlayRule::Intersect, FillRule::EvenOdd)
    }

    fn overlay(&mut self, rule: OverlayRule, fill: FillRule) -> Vec<Polygon> {
        let shapes = self.overlay.overlay(rule, fill);
        let outline = |contour: Vec<IntPoint<i64>>| contour.into_iter().map(from_grid).collect();
        shapes.into_iter().map(|shape| shape.into_iter().map(outline).collect()).collect()
    }
}

fn to_grid(p: DVec2) -> IntPoint<i64> {
    IntPoint::new((p.x * GRID).round() as i64, (p.y * GRID).round() as i64)
}

fn from_grid(p: IntPoint<i64>) -> DVec2 {
    DVec2::new(p.x as f64 / GRID, p.y as f64 / GRID)
}

/// What of a polygon lies where `keep` · point ≥ `least`.
///
/// A polygon that is not convex may come back in several pieces joined by edges that run to and
/// fro on the line; they enclose nothing and the engine drops them.
pub(super) fn clip(polygon: &[DVec2], keep: DVec2, least: f64, out: &mut Vec<DVec2>) {
    out.clear();
    let height = |p: DVec2| keep.dot(p) - least;
    let Some(&last) = polygon.last() else {
        return;
    };
    let (mut from, mut from_height) = (last, height(last));
    for &to in polygon {
        let to_height = height(to);
        if (from_height < 0.0) != (to_height < 0.0) {
            out.push(from.lerp(to, from_height / (from_height - to_height)));
        }
        if to_height >= 0.0 {
            out.push(to);
        }
        (from, from_height) = (to, to_height);
    }
}

/// What of a polygon lies inside a rectangle; see [`clip`].
pub(super) fn clip_to_rect(polygon: &[DVec2], rect: Rect) -> Vec<DVec2> {
    let (mut a, mut b) = (polygon.to_vec(), Vec::with_capacity(polygon.len() + 4));
    let sides = [(DVec2::X, rect.min.x), (DVec2::NEG_X, -rect.max.x), (DVec2::Y, rect.min.y), (DVec2::NEG_Y, -rect.max.y)];
    for (keep, least) in sides {
        clip(&a, keep, least, &mut b);
        std::mem::swap(&mut a, &mut b);
    }
    a
}

/// Whether a point lies inside a polygon, by counting crossings.
pub(super) fn contains(polygon: &[DVec2], point: DVec2) -> bool {
    let crossings = crate::facet::edges(polygon)
        .filter(|(a, b)| (a.y > point.y) != (b.y > point.y) && point.x < a.x + (b.x - a.x) * (point.y - a.y) / (b.y - a.y))
        .count();
    crossings % 2 == 1
}
