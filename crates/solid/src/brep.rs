//! The surface of a solid as true faces: planes, and cylinders wherever all facets of an arc are whole.
//!
//! ```text
//! Shape: flat faces on shared vertices ──▶ patches (a plane, or the facets of one arc) ──▶ edges where patches meet ──▶ Brep
//! ```
//!
//! A facet that some other cut clips in the middle of its chord no longer ends on its circle: there the facets stay flat, as they are
//! in the shape. A round of more than half a turn is taken as two, so that no face closes on itself.

use std::collections::HashMap;
use std::f64::consts::PI;

use glam::{DVec2, DVec3};

use crate::cutter::flatten;
use crate::shape::{Arc, Shape};

/// How far a vertex may lie off its circle, and a chord out of its plane, mm.
const TRUE: f64 = 1e-5;

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

/// A directed edge of the shape.
type Half = (u32, u32);

impl Shape {
    /// The surface as true faces.
    pub fn brep(&self) -> Brep {
        let ground = Ground::new(self);
        let mut patches = ground.rounds();
        patches.drop_clipped(&ground);
        patches.build(&ground)
    }
}

/// A shape, and which face lies to the left of each of its directed edges.
struct Ground<'s> {
    shape: &'s Shape,
    face_of: HashMap<Half, u32>,
}

impl<'s> Ground<'s> {
    fn new(shape: &'s Shape) -> Ground<'s> {
        let mut face_of = HashMap::new();
        for face in 0..shape.faces.len() {
            face_of.extend(shape.loops(face).flat_map(halves).map(|half| (half, face as u32)));
        }
        Ground { shape, face_of }
    }

    fn at(&self, vertex: u32) -> DVec3 {
        self.shape.positions[vertex as usize]
    }

    fn arc(&self, face: u32) -> Option<Arc> {
        self.shape.faces[face as usize].arc
    }

    /// The face on the other side of a directed edge.
    fn across(&self, (a, b): Half) -> Option<u32> {
        self.face_of.get(&(b, a)).copied()
    }

    fn halves_of(&self, face: u32) -> impl Iterator<Item = Half> {
        self.shape.loops(face as usize).flat_map(halves)
    }

    /// Facets of one arc that touch, half a turn of it at most, as numbers of patches; a face of its own everywhere else.
    fn rounds(&self) -> Patches {
        let faces = self.shape.faces.len();
        let mut patches = Patches { of_face: vec![u32::MAX; faces], count: 0 };
        for first in 0..faces as u32 {
            if patches.of(first) != u32::MAX {
                continue;
            }
            let Some(arc) = self.arc(first) else {
                patches.add(&[first]);
                continue;
            };
            let round = self.touching(first, |_| true);
            let start = self.start(&arc, &round);
            let half = |face: u32| self.turned(&arc, start, face) >= PI - 1e-9;
            for face in round {
                if patches.of(face) == u32::MAX {
                    let side = half(face);
                    patches.add(&self.touching(face, |other| half(other) == side));
                }
            }
        }
        patches
    }

    /// The facets of the arc of `first` that hang together with it, of those that are wanted.
    fn touching(&self, first: u32, wanted: impl Fn(u32) -> bool) -> Vec<u32> {
        let of = |face: u32| (self.arc(face), self.shape.faces[face as usize].origin);
        let (arc, origin) = of(first);
        let same = |face: u32| {
            let (other, from) = of(face);
            from == origin && matches!((&arc, &other), (Some(a), Some(b)) if alike(a, b))
        };
        let mut found = vec![first];
        let mut next = 0;
        while let Some(face) = found.get(next).copied() {
            next += 1;
            let beside: Vec<u32> = self.halves_of(face).filter_map(|half| self.across(half)).collect();
            for other in beside {
                if same(other) && wanted(other) && !found.contains(&other) {
                    found.push(other);
                }
            }
        }
        found
    }

    /// The facet with which a round begins: that after the widest gap, going about the arc's axis.
    fn start(&self, arc: &Arc, round: &[u32]) -> u32 {
        let first = round[0];
        let mut by_turn: Vec<(f64, u32)> = round.iter().map(|face| (self.turned(arc, first, *face), *face)).collect();
        by_turn.sort_by(|a, b| a.0.total_cmp(&b.0));
        let gap = |i: usize| {
            let before = by_turn[(i + by_turn.len() - 1) % by_turn.len()].0;
            (by_turn[i].0 - before).rem_euclid(2.0 * PI)
        };
        (0..by_turn.len()).max_by(|a, b| gap(*a).total_cmp(&gap(*b))).map_or(first, |i| by_turn[i].1)
    }

    /// How far about the arc's axis the middle of one facet lies on from that of another, 0 to a full turn.
    fn turned(&self, arc: &Arc, from: u32, to: u32) -> f64 {
        let [from, to] = [from, to].map(|face| {
            let normal = flatten(arc.axis, self.shape.faces[face as usize].normal);
            normal.y.atan2(normal.x)
        });
        (to - from).rem_euclid(2.0 * PI)
    }
}

fn halves(outline: &[u32]) -> impl Iterator<Item = Half> + '_ {
    (0..outline.len()).map(|i| (outline[i], outline[(i + 1) % outline.len()]))
}

fn alike(a: &Arc, b: &Arc) -> bool {
    a.axis == b.axis && a.centre.distance(b.centre) < TRUE && (a.radius - b.radius).abs() < TRUE
}

/// Which faces of the shape make up which patch.
struct Patches {
    of_face: Vec<u32>,
    count: u32,
}

impl Patches {
    /// Makes one more patch, of these faces.
    fn add(&mut self, faces: &[u32]) {
        for face in faces {
            self.of_face[*face as usize] = self.count;
        }
        self.count += 1;
    }

    fn of(&self, face: u32) -> u32 {
        self.of_face[face as usize]
    }

    /// The faces of each patch.
    fn members(&self) -> Vec<Vec<u32>> {
        let mut members = vec![Vec::new(); self.count as usize];
        for (face, patch) in self.of_face.iter().enumerate() {
            members[*patch as usize].push(face as u32);
        }
        members
    }

    /// Takes apart what is not a whole piece of a cylinder, cut square or along.
    fn drop_clipped(&mut self, ground: &Ground<'_>) {
        for faces in self.members() {
            let Some(arc) = faces.first().and_then(|face| ground.arc(*face)) else { continue };
            let whole = faces.len() > 1 && faces.iter().flat_map(|face| ground.halves_of(*face)).all(|half| is_true(ground, &arc, half));
            if !whole {
                faces.iter().skip(1).for_each(|face| self.add(&[*face]));
            }
        }
    }

    /// The edges where patches meet, and the outlines they make.
    fn build(&self, ground: &Ground<'_>) -> Brep {
        let mut brep = Brep { vertices: ground.shape.positions.clone(), ..Brep::default() };
        let members = self.members();
        // Small edges that are part of an arc, with the edge and whether it is run forward.
        let mut arcs: HashMap<Half, (u32, bool)> = HashMap::new();
        let mut outlines: Vec<Vec<Vec<Half>>> = Vec::with_capacity(members.len());
        for faces in &members {
            let outline = self.outlines(ground, faces);
            if faces.len() > 1
                && let Some(arc) = faces.first().and_then(|face| ground.arc(*face))
            {
                for halves in &outline {
                    self.arcs_of(ground, &arc, halves, &mut brep.edges, &mut arcs);
                }
            }
            outlines.push(outline);
        }
        let mut lines: HashMap<Half, u32> = HashMap::new();
        for (faces, outline) in members.iter().zip(outlines) {
            let loops = outline.iter().map(|halves| edges_of(halves, &arcs, &mut lines, &mut brep.edges)).collect();
            brep.faces.push(Patch { surface: surface_of(ground, faces), loops });
        }
        brep
    }

    /// The directed edges round a patch, in loops.
    fn outlines(&self, ground: &Ground<'_>, faces: &[u32]) -> Vec<Vec<Half>> {
        if let [face] = faces {
            return ground.shape.loops(*face as usize).map(|outline| halves(outline).collect()).collect();
        }
        let patch = self.of(faces[0]);
        let inner = |half: Half| ground.across(half).is_some_and(|face| self.of(face) == patch);
        let mut next: HashMap<u32, u32> = faces.iter().flat_map(|face| ground.halves_of(*face)).filter(|half| !inner(*half)).collect();
        let mut outlines = Vec::new();
        while let Some(first) = next.keys().min().copied() {
            let mut outline = Vec::new();
            let mut at = first;
            while let Some(to) = next.remove(&at) {
                outline.push((at, to));
                at = to;
            }
            outlines.push(outline);
        }
        outlines
    }

    /// Makes an edge of each run of chords along which a round meets one and the same face.
    fn arcs_of(&self, ground: &Ground<'_>, arc: &Arc, outline: &[Half], edges: &mut Vec<Edge>, arcs: &mut HashMap<Half, (u32, bool)>) {
        let axis = DVec3::AXES[arc.axis.index()];
        // Which face a chord borders on; none for an edge along the axis.
        let beside = |half: &Half| {
            let chord = (ground.at(half.0) - ground.at(half.1))[arc.axis.index()].abs() < TRUE;
            let round = flatten(arc.axis, ground.at(half.0)).distance(flatten(arc.axis, ground.at(half.1))) >= TRUE;
            (chord && round).then(|| ground.across(*half).map(|face| self.of(face))).flatten()
        };
        for run in runs(outline, beside) {
            let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
            let [from, to] = [first.0, first.1].map(|vertex| flatten(arc.axis, ground.at(vertex)) - arc.centre);
            let about = if from.perp_dot(to) >= 0.0 { axis } else { -axis };
            let centre = lifted(arc, arc.centre, ground.at(first.0)[arc.axis.index()]);
            let number = edges.len() as u32;
            edges.push(Edge { ends: [first.0, last.1], curve: Curve::Circle { centre, about, radius: arc.radius } });
            for (a, b) in run {
                arcs.insert((a, b), (number, true));
                arcs.insert((b, a), (number, false));
            }
        }
    }
}

/// Whether an edge of a facet ends on the circle, and runs along the axis or in a plane square to it.
fn is_true(ground: &Ground<'_>, arc: &Arc, half: Half) -> bool {
    let [a, b] = [half.0, half.1].map(|vertex| ground.at(vertex));
    let on_circle = [a, b].iter().all(|at| (flatten(arc.axis, *at).distance(arc.centre) - arc.radius).abs() < TRUE);
    let (along, across) = ((a - b)[arc.axis.index()].abs(), flatten(arc.axis, a).distance(flatten(arc.axis, b)));
    let flat = |face: u32| {
        let face = &ground.shape.faces[face as usize];
        face.arc.is_none() && face.normal[arc.axis.index()].abs() > 1.0 - 1e-9
    };
    on_circle && (across < TRUE || (along < TRUE && ground.across(half).is_some_and(flat)))
}

/// The longest runs of directed edges of a closed outline for which `of` gives one and the same answer.
fn runs(outline: &[Half], of: impl Fn(&Half) -> Option<u32>) -> Vec<Vec<Half>> {
    let answers: Vec<Option<u32>> = outline.iter().map(&of).collect();
    let count = outline.len();
    // An outline that is all one run would have no ends; a round of half a turn at most has edges along its axis.
    let Some(start) = (0..count).find(|i| answers[*i] != answers[(*i + count - 1) % count]) else { return Vec::new() };
    let mut runs: Vec<(Option<u32>, Vec<Half>)> = Vec::new();
    for i in (0..count).map(|i| (start + i) % count) {
        match runs.last_mut() {
            Some((answer, run)) if *answer == answers[i] => run.push(outline[i]),
            Some(_) | None => runs.push((answers[i], vec![outline[i]])),
        }
    }
    runs.into_iter().filter(|(answer, _)| answer.is_some()).map(|(_, run)| run).collect()
}

/// The edges of an outline: small edges of one arc are one edge.
fn edges_of(
    outline: &[Half],
    arcs: &HashMap<Half, (u32, bool)>,
    lines: &mut HashMap<Half, u32>,
    edges: &mut Vec<Edge>,
) -> Vec<(u32, bool)> {
    let count = outline.len();
    let arc_at = |i: usize| arcs.get(&outline[i % count]).copied();
    // So that no arc is begun in its middle.
    let start = (0..count).find(|i| arc_at(*i).is_none() || arc_at(*i) != arc_at(i + count - 1)).unwrap_or(0);
    let mut found: Vec<(u32, bool)> = Vec::new();
    let mut last = None;
    for i in start..start + count {
        let arc = arc_at(i);
        if let Some(arc) = arc {
            if last != Some(arc) {
                found.push(arc);
            }
        } else {
            let (a, b) = outline[i % count];
            let edge = if let Some(edge) = lines.get(&(b, a)) {
                (*edge, false)
            } else {
                let edge = edges.len() as u32;
                edges.push(Edge { ends: [a, b], curve: Curve::Line });
                lines.insert((a, b), edge);
                (edge, true)
            };
            found.push(edge);
        }
        last = arc;
    }
    found
}

/// A point given across the axis of an arc and along it.
fn lifted(arc: &Arc, across: DVec2, along: f64) -> DVec3 {
    let mut point = DVec3::ZERO;
    point[arc.axis.u().index()] = across.x;
    point[arc.axis.v().index()] = across.y;
    point[arc.axis.index()] = along;
    point
}

fn surface_of(ground: &Ground<'_>, faces: &[u32]) -> Surface {
    let face = &ground.shape.faces[faces[0] as usize];
    match (faces, face.arc) {
        ([_, _, ..], Some(arc)) => {
            let corner = ground.halves_of(faces[0]).next().map_or(DVec2::ZERO, |half| flatten(arc.axis, ground.at(half.0)) - arc.centre);
            let on = lifted(&arc, arc.centre, 0.0);
            let solid = flatten(arc.axis, face.normal).dot(corner) > 0.0;
            Surface::Cylinder { on, along: DVec3::AXES[arc.axis.index()], radius: arc.radius, solid }
        }
        _ => Surface::Plane { normal: face.normal },
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
