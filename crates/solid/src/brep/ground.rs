//! What a surface of true faces is found on: the flat faces of a shape, and how they lie beside each other.

use std::collections::HashMap;

use glam::{DVec2, DVec3};

use crate::cutter::flatten;
use crate::shape::{Arc, Shape};

/// How far a vertex may lie off its circle, and a chord out of its plane, mm.
pub(super) const TRUE: f64 = 1e-5;

/// A directed edge of the shape.
pub(super) type Half = (u32, u32);

/// A shape, and which face lies to the left of each of its directed edges.
pub(super) struct Ground<'s> {
    pub shape: &'s Shape,
    face_of: HashMap<Half, u32>,
}

impl<'s> Ground<'s> {
    pub fn new(shape: &'s Shape) -> Ground<'s> {
        let mut face_of = HashMap::new();
        for face in 0..shape.faces.len() {
            face_of.extend(shape.loops(face).flat_map(halves).map(|half| (half, face as u32)));
        }
        Ground { shape, face_of }
    }

    pub fn at(&self, vertex: u32) -> DVec3 {
        self.shape.positions[vertex as usize]
    }

    pub fn arc(&self, face: u32) -> Option<Arc> {
        self.shape.faces[face as usize].arc
    }

    /// The face on the other side of a directed edge.
    pub fn across(&self, (a, b): Half) -> Option<u32> {
        self.face_of.get(&(b, a)).copied()
    }

    pub fn halves_of(&self, face: u32) -> impl Iterator<Item = Half> {
        self.shape.loops(face as usize).flat_map(halves)
    }
}

pub(super) fn halves(outline: &[u32]) -> impl Iterator<Item = Half> + '_ {
    (0..outline.len()).map(|i| (outline[i], outline[(i + 1) % outline.len()]))
}

/// Whether an edge of a facet ends on the circle, and runs along the axis or in a plane square to it.
pub(super) fn is_true(ground: &Ground<'_>, arc: &Arc, half: Half) -> bool {
    let [a, b] = [half.0, half.1].map(|vertex| ground.at(vertex));
    let on_circle = [a, b].iter().all(|at| (flatten(arc.axis, *at).distance(arc.centre) - arc.radius).abs() < TRUE);
    let (along, across) = ((a - b)[arc.axis.index()].abs(), flatten(arc.axis, a).distance(flatten(arc.axis, b)));
    let flat = |face: u32| {
        let face = &ground.shape.faces[face as usize];
        face.arc.is_none() && face.normal[arc.axis.index()].abs() > 1.0 - 1e-9
    };
    on_circle && (across < TRUE || (along < TRUE && ground.across(half).is_some_and(flat)))
}

/// A point given across the axis of an arc and along it.
pub(super) fn lifted(arc: &Arc, across: DVec2, along: f64) -> DVec3 {
    let mut point = DVec3::ZERO;
    point[arc.axis.u().index()] = across.x;
    point[arc.axis.v().index()] = across.y;
    point[arc.axis.index()] = along;
    point
}
