//! Outlines of lines and circular arcs, the cross-sections of prisms.

use std::hash::{Hash, Hasher};

use glam::DVec2;
use thiserror::Error;

use crate::facet::{self, Facets};

/// The farthest a coordinate may lie from zero, mm: a kilometre, far past any part.
pub(crate) const MAX_COORDINATE: f64 = 1e6;

/// Points nearer than this are one point, mm.
pub(crate) const SAME_POINT: f64 = 1e-6;

/// One piece of an outline, from where the last one ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight line.
    Line {
        /// Where it ends, mm.
        to: DVec2,
    },
    /// A circular arc; a full turn when it ends where it began.
    Arc {
        /// Where it ends, mm. Must lie as far from `centre` as the beginning, to 0.001 mm.
        to: DVec2,
        /// The centre of its circle, mm.
        centre: DVec2,
        /// Whether it turns counter-clockwise.
        ccw: bool,
    },
}

impl Segment {
    /// Where the piece ends.
    pub fn to(&self) -> DVec2 {
        match *self {
            Self::Line { to } | Self::Arc { to, .. } => to,
        }
    }
}

/// Why an outline cannot be a profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum ProfileError {
    /// A coordinate is not a number, infinite, or more than a kilometre from zero.
    #[error("a coordinate of the outline is not a number or out of range")]
    OutOfRange,
    /// The outline encloses nothing.
    #[error("the outline encloses no area")]
    NoArea,
    /// The outline crosses or touches itself.
    #[error("the outline crosses itself")]
    CrossesItself,
    /// An arc ends at another distance from its centre than it began.
    #[error("segment {segment}: the ends of the arc lie at different distances from its centre")]
    UnevenArc {
        /// The number of the segment, from 0.
        segment: usize,
    },
}

/// A closed outline of lines and circular arcs, mm, counter-clockwise.
///
/// Coordinates are (u, v) in the plane across the prism's axis, see [`Axis::u`](crate::Axis::u).
/// Outlines made by [`Profile::polygon`] and [`Profile::path`] are checked there; those made by
/// [`Profile::rect`], [`Profile::circle`] and [`Profile::stadium`] can only fail by their
/// numbers, and are checked when a solid is evaluated.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    start: DVec2,
    segments: Vec<Segment>,
}

impl Profile {
    /// A rectangle between two opposite corners, given in either order.
    pub fn rect(min: DVec2, max: DVec2) -> Self {
        let (min, max) = (min.min(max), min.max(max));
        let corner = |x, y| Segment::Line { to: DVec2::new(x, y) };
        Self { start: min, segments: vec![corner(max.x, min.y), corner(max.x, max.y), corner(min.x, max.y), corner(min.x, min.y)] }
    }

    /// A polygon through `points`, closed from the last to the first.
    ///
    /// Either sense of turning is accepted and turned counter-clockwise; points that repeat
    /// their neighbour are dropped.
    ///
    /// # Errors
    /// [`ProfileError`] when a coordinate is out of range, or the outline encloses nothing or
    /// crosses itself.
    pub fn polygon(points: Vec<DVec2>) -> Result<Self, ProfileError> {
        let mut points = points.into_iter();
        let start = points.next().ok_or(ProfileError::NoArea)?;
        Self::path(start, points.map(|to| Segment::Line { to }).collect())
    }

    /// A full circle. The radius is taken without its sign.
    pub fn circle(centre: DVec2, radius: f64) -> Self {
        let start = centre + DVec2::new(radius.abs(), 0.0);
        Self { start, segments: vec![Segment::Arc { to: start, centre, ccw: true }] }
    }

    /// A slot with half-round ends around `centre`: `length` overall along u (or along v when
    /// `along_u` is false) and `width` across.
    ///
    /// A slot no longer than it is wide is a circle of that width.
    pub fn stadium(centre: DVec2, along_u: bool, length: f64, width: f64) -> Self {
        let (radius, half) = (width.abs() / 2.0, (length.abs() - width.abs()) / 2.0);
        if half <= SAME_POINT {
            return Self::circle(centre, radius);
        }
        let (along, across) = if along_u { (DVec2::X, DVec2::Y) } else { (DVec2::Y, DVec2::NEG_X) };
        let (far, near) = (centre + along * half, centre - along * half);
        let side = across * radius;
        Self {
            start: near - side,
            segments: vec![
                Segment::Line { to: far - side },
                Segment::Arc { to: far + side, centre: far, ccw: true },
                Segment::Line { to: near + side },
                Segment::Arc { to: near - side, centre: near, ccw: true },
            ],
        }
    }

    /// An outline that starts at `start` and follows `segments`; a straight line closes it when
    /// the last segment does not end at the start.
    ///
    /// Either sense of turning is accepted and turned counter-clockwise; segments of no length
    /// are dropped.
    ///
    /// # Errors
    /// [`ProfileError`] when a coordinate is out of range, an arc's ends do not lie on one
    /// circle, or the outline encloses nothing or crosses itself.
    pub fn path(start: DVec2, segments: Vec<Segment>) -> Result<Self, ProfileError> {
        let mut profile = Self { start, segments };
        profile.check_numbers()?;
        profile.close();
        let outline = profile.facets(Facets::PerTurn(32));
        let area = facet::area(&outline);
        if outline.len() < 3 {
            return Err(ProfileError::NoArea);
        }
        if facet::crosses_itself(&outline) {
            return Err(ProfileError::CrossesItself);
        }
        if area.abs() < SAME_POINT * SAME_POINT {
            return Err(ProfileError::NoArea);
        }
        if area < 0.0 {
            profile.reverse();
        }
        Ok(profile)
    }

    /// Where the outline starts, mm.
    pub fn start(&self) -> DVec2 {
        self.start
    }

    /// The pieces of the outline in order; the last ends at [`Profile::start`].
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// The outline as a polygon, counter-clockwise, the corners of arcs lying on the true circle.
    pub fn facets(&self, facets: Facets) -> Vec<DVec2> {
        let mut corners = Vec::new();
        facet::walk(self, facets, |corner, _| corners.push(corner));
        corners
    }

    /// The same outline moved by `by`, mm.
    #[must_use]
    pub fn moved(&self, by: DVec2) -> Self {
        let segments = self
            .segments
            .iter()
            .map(|segment| match *segment {
                Segment::Line { to } => Segment::Line { to: to + by },
                Segment::Arc { to, centre, ccw } => Segment::Arc { to: to + by, centre: centre + by, ccw },
            })
            .collect();
        Self { start: self.start + by, segments }
    }

    /// Whether every number is finite and in range and every arc's ends lie on one circle.
    pub(crate) fn check_numbers(&self) -> Result<(), ProfileError> {
        let fits = |p: DVec2| p.is_finite() && p.abs().max_element() <= MAX_COORDINATE;
        let mut from = self.start;
        if !fits(from) {
            return Err(ProfileError::OutOfRange);
        }
        for (index, segment) in self.segments.iter().enumerate() {
            let to = segment.to();
            if !fits(to) {
                return Err(ProfileError::OutOfRange);
            }
            if let Segment::Arc { centre, .. } = *segment {
                if !fits(centre) {
                    return Err(ProfileError::OutOfRange);
                }
                if (from.distance(centre) - to.distance(centre)).abs() > 1e-3 {
                    return Err(ProfileError::UnevenArc { segment: index });
                }
            }
            from = to;
        }
        Ok(())
    }

    /// Drops segments of no length and closes the outline.
    fn close(&mut self) {
        let mut from = self.start;
        self.segments.retain(|segment| {
            let empty = match *segment {
                Segment::Line { to } => from.distance(to) <= SAME_POINT,
                // An arc that ends where it began is a full turn, unless its circle is a point.
                Segment::Arc { to, centre, .. } => to.distance(centre) <= SAME_POINT,
            };
            if !empty {
                from = segment.to();
            }
            !empty
        });
        if from.distance(self.start) > SAME_POINT {
            self.segments.push(Segment::Line { to: self.start });
        } else if let Some(Segment::Line { to } | Segment::Arc { to, .. }) = self.segments.last_mut() {
            *to = self.start;
        }
    }

    fn reverse(&mut self) {
        let starts = std::iter::once(self.start).chain(self.segments.iter().map(Segment::to));
        let mut reversed: Vec<Segment> = starts
            .zip(&self.segments)
            .map(|(from, segment)| match *segment {
                Segment::Line { .. } => Segment::Line { to: from },
                Segment::Arc { centre, ccw, .. } => Segment::Arc { to: from, centre, ccw: !ccw },
            })
            .collect();
        reversed.reverse();
        self.segments = reversed;
    }
}

impl Hash for Profile {
    /// Hashes the bits of the numbers, so that equal profiles share one entry of a cache.
    fn hash<H: Hasher>(&self, state: &mut H) {
        hash_point(self.start, state);
        self.segments.len().hash(state);
        for segment in &self.segments {
            hash_point(segment.to(), state);
            if let Segment::Arc { centre, ccw, .. } = *segment {
                hash_point(centre, state);
                ccw.hash(state);
            }
        }
    }
}

/// Adding zero turns −0 into 0, so that numbers that compare equal also hash equal.
pub(crate) fn hash_number<H: Hasher>(number: f64, state: &mut H) {
    (number + 0.0).to_bits().hash(state);
}

fn hash_point<H: Hasher>(point: DVec2, state: &mut H) {
    hash_number(point.x, state);
    hash_number(point.y, state);
}
