//! A view of the case as lines: the edges that are seen, and the outline of the whole.
//!
//! An edge is seen where no face stands before it. Every face that looks at the viewer is a flat polygon, so what it
//! hides of an edge is found exactly: the edge is split where it crosses the polygon's sides and where it passes through
//! its plane. Lines that lie on each other are made one.

use casewright_core::model::Part;
use casewright_core::{Model, Solids};
use casewright_solid::{FeatureEdge, Shape};
use glam::{DVec2, DVec3};

use super::faces::{Faces, Flat};
use super::merge::merge;

/// From where the case is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum View {
    /// From the front.
    Front,
    /// From the left.
    Left,
    /// From above.
    Above,
}

/// A line on paper or in a view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    /// One end.
    pub a: DVec2,
    /// The other end.
    pub b: DVec2,
}

/// What is seen in a view: across and up, mm, at full size.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Seen {
    /// Edges within the outline, and on it.
    pub edges: Vec<Line>,
    /// The outline of the whole.
    pub outline: Vec<Line>,
}

impl View {
    /// The directions of the case that run to the right and up on paper, and toward the viewer.
    fn axes(self) -> [DVec3; 3] {
        match self {
            View::Front => [DVec3::X, DVec3::Y, DVec3::Z],
            View::Left => [DVec3::Z, DVec3::Y, DVec3::NEG_X],
            View::Above => [DVec3::X, DVec3::NEG_Z, DVec3::Y],
        }
    }

    /// A point of the case as seen: across, up, and toward the viewer.
    pub fn project(self, point: DVec3) -> DVec3 {
        let [right, up, near] = self.axes();
        DVec3::new(point.dot(right), point.dot(up), point.dot(near))
    }

    /// The least and the greatest place, across and up, that parts take.
    pub fn bounds<'p>(self, parts: impl Iterator<Item = &'p Part>) -> Option<(DVec2, DVec2)> {
        parts
            .map(|part| {
                let block = part.block();
                let (a, b) = (self.project(block.min).truncate(), self.project(block.max).truncate());
                (a.min(b), a.max(b))
            })
            .reduce(|(min, max), (low, high)| (min.min(low), max.max(high)))
    }

    /// What is seen of the parts for which `shown` holds.
    pub fn look(self, model: &Model, solids: &Solids, shown: impl Fn(&Part) -> bool) -> Seen {
        let seen: Vec<(&Part, &Shape)> =
            model.parts.iter().filter(|part| shown(part)).filter_map(|part| Some((part, solids.shape(part.id)?.as_ref()))).collect();
        let mut flats = Vec::new();
        for (part, shape) in &seen {
            flats.extend((0..shape.faces.len()).filter_map(|face| self.flat(part, shape, face)));
        }
        let faces = Faces::new(flats);
        let mut lines = Seen::default();
        for (part, shape) in &seen {
            for edge in shape.edges.iter().filter(|edge| self.may_show(part, shape, edge)) {
                let [a, b] = [edge.a, edge.b].map(|end| self.project(part.pose.point(end)));
                draw(&faces, a, b, &mut lines);
            }
        }
        Seen { edges: merge(&lines.edges), outline: merge(&lines.outline) }
    }

    /// An edge of which no face looks at the viewer is behind its own part.
    fn may_show(self, part: &Part, shape: &Shape, edge: &FeatureEdge) -> bool {
        let near = self.axes()[2];
        edge.faces.iter().any(|face| shape.faces.get(*face as usize).is_some_and(|face| part.pose.vector(face.normal).dot(near) > FACING))
    }

    /// A face as it covers what is behind it; nothing when it looks away or is seen on edge.
    fn flat(self, part: &Part, shape: &Shape, face: usize) -> Option<Flat> {
        let normal = self.project(part.pose.vector(shape.faces[face].normal));
        if normal.z <= FACING {
            return None;
        }
        let seen = |vertex: &u32| self.project(part.pose.point(shape.positions[*vertex as usize]));
        let loops: Vec<Vec<DVec3>> = shape.loops(face).map(|vertices| vertices.iter().map(seen).collect()).collect();
        Flat::new(&loops, normal)
    }
}

/// Faces more on edge than this hide nothing: the cosine to the line of sight.
const FACING: f64 = 1e-6;

/// How far beside an edge it is asked whether anything is there, mm at full size. Narrower gaps are clearances, not outlines.
const BESIDE: f64 = 1.5;
/// Shorter stretches are no outline, mm at full size: where a clearance ends.
const LEAST_OUTLINE: f64 = 3.0;

fn draw(faces: &Faces, a: DVec3, b: DVec3, lines: &mut Seen) {
    let (from, to) = (a.truncate(), b.truncate());
    let length = from.distance(to);
    if length < 1e-6 {
        return;
    }
    let visible = faces.hiding(a, b).rest();
    let aside = (to - from).perp() / length * BESIDE;
    let covered = |aside: DVec2| faces.covering(from + aside, to + aside);
    let inside = covered(aside).common(&covered(-aside));
    let outline = visible.common(&inside.rest());
    let line = |(start, end): (f64, f64)| Line { a: from.lerp(to, start), b: from.lerp(to, end) };
    lines.edges.extend(visible.iter().map(line));
    lines.outline.extend(outline.iter().map(line).filter(|line| line.a.distance(line.b) > LEAST_OUTLINE || length < LEAST_OUTLINE));
}
