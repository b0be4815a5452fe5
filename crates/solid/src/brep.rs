//! The surface of a solid as true faces: planes, and cylinders wherever all facets of an arc are whole.
//!
//! ```text
//! Shape: flat faces on shared vertices ──▶ patches (a plane, or the facets of one arc) ──▶ edges where patches meet ──▶ Brep
//! ```
//!
//! A facet that some other cut clips in the middle of its chord no longer ends on its circle: there the facets stay flat, as they are
//! in the shape. A round of more than half a turn is taken as two, so that no face closes on itself.

mod ground;
mod patches;
mod rounds;

use std::collections::HashMap;

use glam::DVec3;

use crate::shape::Shape;
use ground::Ground;

/// A closed surface of true faces.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Brep {
    /// The vertices, mm; some of those of the shape, by its numbers.
    pub vertices: Vec<DVec3>,
    /// The edges, each between two faces.
    pub edges: Vec<Edge>,
    /// The faces.
    pub faces: Vec<Patch>,
}

/// An edge from one vertex to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    /// The vertices at which it begins and ends.
    pub ends: [u32; 2],
    /// Its way.
    pub curve: Curve,
}

/// The way of an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve {
    /// Straight.
    Line,
    /// Along a circle.
    Circle {
        /// Its centre, mm.
        centre: DVec3,
        /// The direction about which the edge turns right handed.
        about: DVec3,
        /// Its radius, mm.
        radius: f64,
    },
}

/// A face with its outlines.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// What it lies on.
    pub surface: Surface,
    /// Outlines of edges, each with whether it is run from its beginning to its end. On a plane the first is the outer one. Seen from
    /// outside, the face is to the left.
    pub loops: Vec<Vec<(u32, bool)>>,
}

/// What a face lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surface {
    /// A plane.
    Plane {
        /// The outward normal.
        normal: DVec3,
    },
    /// A cylinder.
    Cylinder {
        /// A point of its axis, mm.
        on: DVec3,
        /// The direction of its axis.
        along: DVec3,
        /// Its radius, mm.
        radius: f64,
        /// Whether the material is inside it, as in a rounded edge; a hole has it outside.
        solid: bool,
    },
}

impl Shape {
    /// The surface as true faces.
    pub fn brep(&self) -> Brep {
        let ground = Ground::new(self);
        let mut patches = ground.rounds();
        patches.drop_clipped(&ground);
        patches.build(&ground)
    }
}

impl Brep {
    /// The faces in bodies that hang together, each as numbers of faces.
    pub fn bodies(&self) -> Vec<Vec<usize>> {
        let mut of_edge: HashMap<u32, Vec<usize>> = HashMap::new();
        for (face, patch) in self.faces.iter().enumerate() {
            for (edge, _) in patch.loops.iter().flatten() {
                of_edge.entry(*edge).or_default().push(face);
            }
        }
        let mut seen = vec![false; self.faces.len()];
        let mut bodies = Vec::new();
        for first in 0..self.faces.len() {
            if std::mem::replace(&mut seen[first], true) {
                continue;
            }
            let mut body = vec![first];
            let mut next = 0;
            while let Some(&face) = body.get(next) {
                next += 1;
                for (edge, _) in self.faces[face].loops.iter().flatten() {
                    for &other in of_edge.get(edge).map(Vec::as_slice).unwrap_or_default() {
                        if !std::mem::replace(&mut seen[other], true) {
                            body.push(other);
                        }
                    }
                }
            }
            body.sort_unstable();
            bodies.push(body);
        }
        bodies
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec2;

    use super::*;
    use crate::{Axis, Facets, Prism, Profile, Solid};

    fn brep(prisms: Vec<Prism>) -> Brep {
        let solid = Solid { size: DVec3::new(200.0, 80.0, 30.0), prisms };
        solid.shape(Facets::ChordError(0.05)).expect("a shape").brep()
    }

    fn through(profile: Profile) -> Prism {
        Prism { axis: Axis::T, from: -1.0, to: 31.0, profile }
    }

    /// Every edge is run once each way, and each outline goes on where the last edge ended.
    fn closes(brep: &Brep) {
        let mut ways = vec![[0; 2]; brep.edges.len()];
        for outline in brep.faces.iter().flat_map(|face| &face.loops) {
            for (i, (edge, forward)) in outline.iter().enumerate() {
                ways[*edge as usize][usize::from(*forward)] += 1;
                let ends = |(edge, forward): (u32, bool)| {
                    let [a, b] = brep.edges[edge as usize].ends;
                    if forward { (a, b) } else { (b, a) }
                };
                assert_eq!(ends((*edge, *forward)).1, ends(outline[(i + 1) % outline.len()]).0);
            }
        }
        assert!(ways.iter().all(|ways| *ways == [1, 1]), "{ways:?}");
    }

    fn cylinders(brep: &Brep) -> Vec<(f64, bool)> {
        let of = |patch: &Patch| match patch.surface {
            Surface::Cylinder { radius, solid, .. } => Some((radius, solid)),
            Surface::Plane { .. } => None,
        };
        brep.faces.iter().filter_map(of).collect()
    }

    #[test]
    fn a_plain_board_has_six_faces_and_twelve_edges() {
        let brep = brep(Vec::new());
        closes(&brep);
        assert_eq!((brep.faces.len(), brep.edges.len(), brep.bodies().len()), (6, 12, 1));
    }

    #[test]
    fn a_hole_is_two_halves_of_a_cylinder() {
        let brep = brep(vec![through(Profile::circle(DVec2::new(60.0, 40.0), 12.0))]);
        closes(&brep);
        let radii = cylinders(&brep);
        assert!(radii.len() == 2 && radii.iter().all(|(radius, solid)| (radius - 12.0).abs() < 1e-6 && !solid), "{radii:?}");
        assert_eq!((brep.faces.len(), brep.edges.len()), (8, 12 + 4 + 2));
    }

    #[test]
    fn a_slot_has_round_ends_and_a_stopped_one_a_floor() {
        let slot = Profile::stadium(DVec2::new(100.0, 40.0), true, 60.0, 10.0);
        let brep = brep(vec![Prism { axis: Axis::T, from: 12.0, to: 31.0, profile: slot }]);
        closes(&brep);
        assert_eq!(cylinders(&brep), [(5.0, false), (5.0, false)]);
        assert_eq!(brep.faces.len(), 6 + 2 + 2 + 1);
    }

    #[test]
    fn a_rounded_edge_has_its_material_inside() {
        // What is left when a corner less a quarter circle is taken away.
        let corner = [(0.0, 0.0), (10.0, 0.0)].map(|(x, y)| DVec2::new(x, y));
        let quarter = crate::Segment::Arc { to: DVec2::new(0.0, 10.0), centre: DVec2::new(10.0, 10.0), ccw: false };
        let profile = Profile::path(corner[0], vec![crate::Segment::Line { to: corner[1] }, quarter]).expect("a profile");
        let brep = brep(vec![Prism { axis: Axis::L, from: -1.0, to: 201.0, profile }]);
        closes(&brep);
        assert_eq!(cylinders(&brep), [(10.0, true)]);
        assert_eq!((brep.faces.len(), brep.edges.len()), (7, 15));
    }

    #[test]
    fn a_clipped_round_stays_in_facets() {
        let hole = through(Profile::circle(DVec2::new(60.0, 40.0), 12.0));
        let groove = Prism { axis: Axis::L, from: -1.0, to: 201.0, profile: Profile::rect(DVec2::new(33.3, 20.0), DVec2::new(41.7, 31.0)) };
        let brep = brep(vec![hole, groove]);
        closes(&brep);
        assert!(cylinders(&brep).len() < 2);
    }
}
