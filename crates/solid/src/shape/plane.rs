//! The planes that faces lie in.

use glam::{DVec2, DVec3};

use super::contours::Rect;
use crate::axis::Axis;

/// A plane seen along the axis that its normal is nearest to.
///
/// With x and y the two axes after `drop` in cyclic order, the plane holds the points with
/// p\[`drop`\] = `height` + `slope` · (p\[x\], p\[y\]). Points in the plane are named by their
/// (x, y), which are the very numbers the solid was given, so that no rounding enters there. At
/// most one slope differs from zero, since every wall runs along an axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plane {
    pub drop: usize,
    /// Whether the outward normal points along the dropped axis rather than against it.
    pub positive: bool,
    pub height: f64,
    pub slope: DVec2,
}

impl Plane {
    /// The plane across an axis at `height`.
    pub fn across(axis: Axis, height: f64, positive: bool) -> Self {
        Self { drop: axis.index(), positive, height, slope: DVec2::ZERO }
    }

    /// The plane of the wall over the edge from `p` to `q` of an outline, with the normal into
    /// the prism; and the rectangle in it over that edge between two depths.
    pub fn of_wall(axis: Axis, p: DVec2, q: DVec2, depths: (f64, f64)) -> (Self, Rect) {
        let run = q - p;
        let (lo, hi) = depths;
        if run.x.abs() >= run.y.abs() {
            // Seen along v; in the plane x is the sweep and y is u.
            let slope = run.y / run.x;
            let plane = Self { drop: axis.v().index(), positive: run.x > 0.0, height: p.y - slope * p.x, slope: DVec2::new(0.0, slope) };
            let (min, max) = (p.x.min(q.x), p.x.max(q.x));
            (plane, Rect { min: DVec2::new(lo, min), max: DVec2::new(hi, max) })
        } else {
            // Seen along u; in the plane x is v and y is the sweep.
            let slope = run.x / run.y;
            let plane = Self { drop: axis.u().index(), positive: run.y < 0.0, height: p.x - slope * p.y, slope: DVec2::new(slope, 0.0) };
            let (min, max) = (p.y.min(q.y), p.y.max(q.y));
            (plane, Rect { min: DVec2::new(min, lo), max: DVec2::new(max, hi) })
        }
    }

    /// The coordinate that x of the plane stands for.
    pub fn x(&self) -> usize {
        (self.drop + 1) % 3
    }

    /// The coordinate that y of the plane stands for.
    pub fn y(&self) -> usize {
        (self.drop + 2) % 3
    }

    pub fn is_square(&self) -> bool {
        self.slope == DVec2::ZERO
    }

    pub fn normal(&self) -> DVec3 {
        let mut normal = DVec3::ZERO;
        normal[self.drop] = 1.0;
        normal[self.x()] = -self.slope.x;
        normal[self.y()] = -self.slope.y;
        let normal = normal.normalize();
        if self.positive { normal } else { -normal }
    }

    pub fn lift(&self, p: DVec2) -> DVec3 {
        let mut point = DVec3::ZERO;
        point[self.x()] = p.x;
        point[self.y()] = p.y;
        point[self.drop] = self.height + self.slope.dot(p);
        point
    }

    pub fn flatten(&self, point: DVec3) -> DVec2 {
        DVec2::new(point[self.x()], point[self.y()])
    }

    /// What of a blank of `size` the plane cuts, or nothing when it only touches the blank.
    pub fn window(&self, size: DVec3) -> Option<Rect> {
        let mut window = Rect { min: DVec2::ZERO, max: self.flatten(size) };
        let depth = size[self.drop];
        if self.is_square() {
            return (self.height > 0.0 && self.height < depth).then_some(window);
        }
        // Where the plane enters and leaves the blank along the coordinate that it slopes with.
        let along = usize::from(self.slope.x == 0.0);
        let slope = self.slope[along];
        let (a, b) = (-self.height / slope, (depth - self.height) / slope);
        window.min[along] = window.min[along].max(a.min(b));
        window.max[along] = window.max[along].min(a.max(b));
        (!window.is_empty()).then_some(window)
    }

    /// The upright box around a rectangle of the plane.
    pub fn bounds(&self, rect: Rect) -> (DVec3, DVec3) {
        let (a, b) = (self.lift(rect.min), self.lift(rect.max));
        (a.min(b), a.max(b))
    }

    /// Whether the other plane is this one, as far as it matters over a rectangle of the other.
    pub fn coincides(&self, other: &Self, over: Rect) -> bool {
        let same = |p: DVec2| (self.height + self.slope.dot(p) - other.height - other.slope.dot(p)).abs() <= 1e-6;
        self.drop == other.drop
            && self.positive == other.positive
            && (self.slope.x == 0.0) == (other.slope.x == 0.0)
            && (self.slope.y == 0.0) == (other.slope.y == 0.0)
            && same(over.min)
            && same(over.max)
            && (self.slope - other.slope).abs().max_element() <= 1e-6
    }
}
