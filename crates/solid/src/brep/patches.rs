//! Patches, each the facets of one true face, and the edges where they meet.

use std::collections::HashMap;

use glam::{DVec2, DVec3};

use super::ground::{Ground, Half, TRUE, halves, is_true, lifted};
use super::{Brep, Curve, Edge, Patch, Surface};
use crate::cutter::flatten;
use crate::shape::Arc;

/// Which faces of the shape make up which patch.
pub(super) struct Patches {
    of_face: Vec<u32>,
    count: u32,
}

impl Patches {
    /// None yet, of so many faces.
    pub fn none(faces: usize) -> Patches {
        Patches { of_face: vec![u32::MAX; faces], count: 0 }
    }

    /// Whether a face belongs to one.
    pub fn has(&self, face: u32) -> bool {
        self.of(face) != u32::MAX
    }

    /// Makes one more patch, of these faces.
    pub fn add(&mut self, faces: &[u32]) {
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
    pub fn drop_clipped(&mut self, ground: &Ground<'_>) {
        for faces in self.members() {
            let Some(arc) = faces.first().and_then(|face| ground.arc(*face)) else { continue };
            let whole = faces.len() > 1 && faces.iter().flat_map(|face| ground.halves_of(*face)).all(|half| is_true(ground, &arc, half));
            if !whole {
                faces.iter().skip(1).for_each(|face| self.add(&[*face]));
            }
        }
    }

    /// The edges where patches meet, and the outlines they make.
    pub fn build(&self, ground: &Ground<'_>) -> Brep {
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
