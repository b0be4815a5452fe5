//! Prisms made ready for evaluation: faceted, and with every number on the grid.

use glam::{DVec2, DVec3};

use crate::axis::Axis;
use crate::facet::{self, Facets, WallTag};
use crate::profile::{ProfileError, SAME_POINT};
use crate::solid::Prism;

/// Steps of the grid to the millimetre. All numbers are put on it, so that sums that differ in
/// their last bits meet, and so that the integer engine sees the same numbers as everything else.
pub(crate) const GRID: f64 = (1_u32 << 24) as f64;

/// The nearest number on a grid of `grid` steps to the mm.
pub(crate) fn snap(value: f64, grid: f64) -> f64 {
    (value * grid).round() / grid
}

/// [`snap`] for each coordinate.
pub(crate) fn snap3(value: DVec3, grid: f64) -> DVec3 {
    (value * grid).round() / grid
}

/// A faceted prism.
#[derive(Clone, Debug)]
pub(crate) struct Cutter {
    /// The number of the prism in its solid.
    pub prism: u32,
    pub axis: Axis,
    /// The two depths along the axis.
    pub lo: f64,
    pub hi: f64,
    /// The outline, counter-clockwise in (u, v).
    pub outline: Vec<DVec2>,
    /// What the edge from each corner of the outline comes from.
    pub tags: Vec<WallTag>,
    /// The box around the outline.
    pub outline_min: DVec2,
    pub outline_max: DVec2,
    /// The box around the prism, in the blank's coordinates.
    pub min: DVec3,
    pub max: DVec3,
    /// Whether the outline has no inward corner.
    pub convex: bool,
    /// Whether the outline is an upright rectangle.
    pub upright: bool,
}

impl Cutter {
    pub fn new(prism: usize, source: &Prism, facets: Facets, grid: f64) -> Result<Self, ProfileError> {
        let mut outline = Vec::with_capacity(32);
        let mut tags = Vec::with_capacity(32);
        facet::walk(&source.profile, facets, |corner, tag| {
            let corner = (corner * grid).round() / grid;
            match outline.last() {
                // The edge between was nothing: the next one takes its place.
                Some(last) if corner.distance_squared(*last) <= SAME_POINT * SAME_POINT => {
                    if let Some(last_tag) = tags.last_mut() {
                        *last_tag = tag;
                    }
                }
                _ => {
                    outline.push(corner);
                    tags.push(tag);
                }
            }
        });
        while outline.len() > 1 && outline[0].distance(outline[outline.len() - 1]) <= SAME_POINT {
            outline.pop();
            tags.pop();
        }
        if outline.len() < 3 || facet::area(&outline) <= SAME_POINT * SAME_POINT {
            return Err(ProfileError::NoArea);
        }
        let outline_min = outline.iter().copied().fold(outline[0], DVec2::min);
        let outline_max = outline.iter().copied().fold(outline[0], DVec2::max);
        let (lo, hi) = (snap(source.from, grid), snap(source.to, grid));
        Ok(Self {
            prism: prism as u32,
            axis: source.axis,
            lo,
            hi,
            min: lift(source.axis, outline_min, lo),
            max: lift(source.axis, outline_max, hi),
            convex: is_convex(&outline),
            upright: is_upright(&outline),
            outline,
            tags,
            outline_min,
            outline_max,
        })
    }

    /// Whether the prism may take something from a blank of `size`.
    pub fn reaches_into(&self, size: DVec3) -> bool {
        self.hi > self.lo && self.min.cmplt(size).all() && self.max.cmpgt(DVec3::ZERO).all()
    }

    /// Whether the prism's box meets or touches a box, given by its least and greatest corner.
    pub fn touches(&self, (min, max): (DVec3, DVec3)) -> bool {
        let slack = DVec3::splat(TOUCH);
        self.min.cmple(max + slack).all() && self.max.cmpge(min - slack).all()
    }

    /// The wall that starts at corner `index`: its two ends, counter-clockwise.
    pub fn wall(&self, index: usize) -> (DVec2, DVec2) {
        let next = if index + 1 == self.outline.len() { 0 } else { index + 1 };
        (self.outline[index], self.outline[next])
    }
}

/// Boxes nearer than this may touch, mm.
pub(crate) const TOUCH: f64 = 1e-4;

/// A point of a profile at a depth along the axis, in the blank's coordinates.
pub(crate) fn lift(axis: Axis, point: DVec2, depth: f64) -> DVec3 {
    match axis {
        Axis::L => DVec3::new(depth, point.x, point.y),
        Axis::W => DVec3::new(point.y, depth, point.x),
        Axis::T => DVec3::new(point.x, point.y, depth),
    }
}

/// A point seen along an axis: the reverse of [`lift`].
pub(crate) fn flatten(axis: Axis, point: DVec3) -> DVec2 {
    DVec2::new(point[axis.u().index()], point[axis.v().index()])
}

fn is_convex(outline: &[DVec2]) -> bool {
    let n = outline.len();
    (0..n).all(|i| {
        let (a, b, c) = (outline[i], outline[(i + 1) % n], outline[(i + 2) % n]);
        (b - a).perp_dot(c - b) >= -1e-9
    })
}

fn is_upright(outline: &[DVec2]) -> bool {
    let square = |(a, b): (DVec2, DVec2)| (a.x.to_bits() == b.x.to_bits()) != (a.y.to_bits() == b.y.to_bits());
    outline.len() == 4 && facet::edges(outline).all(square)
}
