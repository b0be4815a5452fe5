//! The smooth edges of shapes, on which the outlines of rounds may run.

use std::collections::HashMap;
use std::rc::Rc;

use super::Body;
use crate::shape::Shape;

/// Faces of which the normals differ by less than this are one plane.
const PLANE: f64 = 1e-9;

/// The edges of a shape that are no feature edges, and not within one plane.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Outlines {
    pub smooth: Vec<Smooth>,
}

/// An edge where surfaces run on smoothly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Smooth {
    /// Its vertices.
    pub ends: [u32; 2],
    /// The faces that meet in it.
    pub faces: [u32; 2],
}

/// Those of each body; bodies of one shape share them.
pub(super) fn of_each(bodies: &[Body<'_>]) -> Vec<Rc<Outlines>> {
    let mut known: HashMap<*const Shape, Rc<Outlines>> = HashMap::new();
    bodies.iter().map(|body| Rc::clone(known.entry(std::ptr::from_ref(body.shape)).or_insert_with(|| Rc::new(of(body.shape))))).collect()
}

fn of(shape: &Shape) -> Outlines {
    // Only facets of rounds run on smoothly into something.
    let mut halves: HashMap<(u32, u32), u32> = HashMap::new();
    for (number, _) in shape.faces.iter().enumerate().filter(|(_, face)| face.arc.is_some()) {
        for outline in shape.loops(number) {
            let next = outline.iter().skip(1).chain(outline.first());
            halves.extend(outline.iter().zip(next).map(|(a, b)| ((*a, *b), number as u32)));
        }
    }
    if halves.is_empty() {
        return Outlines::default();
    }
    let mut smooth = Vec::new();
    for (other, face) in shape.faces.iter().enumerate() {
        let other = other as u32;
        for outline in shape.loops(other as usize) {
            let next = outline.iter().skip(1).chain(outline.first());
            for (a, b) in outline.iter().zip(next) {
                let Some(&round) = halves.get(&(*b, *a)) else { continue };
                // Of two rounds, the edge is taken once.
                let twice = face.arc.is_some() && round < other;
                let same = shape.faces.get(round as usize).is_some_and(|it| it.normal.cross(face.normal).length() < PLANE);
                if !twice && !same && round != other {
                    smooth.push(Smooth { ends: [*a, *b], faces: [other, round] });
                }
            }
        }
    }
    // Where a round meets something at an angle there is a feature edge already.
    let place = |vertex: u32| shape.positions.get(vertex as usize).copied().unwrap_or_default();
    let sharp: std::collections::HashSet<[u32; 2]> =
        shape.edges.iter().map(|edge| edge.faces).flat_map(|[a, b]| [[a, b], [b, a]]).collect();
    smooth.retain(|edge| {
        !sharp.contains(&edge.faces)
            || !shape.edges.iter().any(|known| {
                let (a, b) = (place(edge.ends[0]), place(edge.ends[1]));
                (known.a == a && known.b == b) || (known.a == b && known.b == a)
            })
    });
    smooth.sort_by_key(|edge| (edge.faces, edge.ends));
    Outlines { smooth }
}
