//! A part laid flat: the outline of what the cuts right through it leave, with its true arcs.

use casewright_solid::{Axis, Brep, Curve, Facets, Patch, Prism, Profile, Segment, Solid, Surface};
use glam::DVec2;

/// A closed outline of lines and arcs, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Where it begins.
    pub start: DVec2,
    /// From there on, round and back to the beginning.
    pub segments: Vec<Segment>,
    /// Whether the wood is round it; else it is within.
    pub is_hole: bool,
}

/// How far arcs are from the facets they are found by, mm: less than is drawn.
const FINE: f64 = 0.01;

/// Nearer than this to a face, a cut ends in it, mm.
const AT: f64 = 1e-6;

impl Outline {
    /// That of what is cut away with a profile.
    pub fn of(profile: &Profile) -> Outline {
        Outline { start: profile.start(), segments: profile.segments().to_vec(), is_hole: true }
    }

    /// The same with every point elsewhere; `turned_over` where what was counter-clockwise is clockwise then.
    #[must_use]
    pub fn map(&self, place: impl Fn(DVec2) -> DVec2, turned_over: bool) -> Outline {
        let segments = self.segments.iter().map(|segment| match *segment {
            Segment::Line { to } => Segment::Line { to: place(to) },
            Segment::Arc { to, centre, ccw } => Segment::Arc { to: place(to), centre: place(centre), ccw: ccw != turned_over },
        });
        Outline { start: place(self.start), segments: segments.collect(), is_hole: self.is_hole }
    }

    /// Its pieces, each with where it begins.
    pub fn pieces(&self) -> impl Iterator<Item = (DVec2, Segment)> + '_ {
        let starts = std::iter::once(self.start).chain(self.segments.iter().map(Segment::to));
        starts.zip(self.segments.iter().copied())
    }

    /// How long it is, along its arcs, mm.
    pub fn length(&self) -> f64 {
        self.pieces().map(|(from, piece)| length(from, &piece)).sum()
    }
}

/// The angle that an arc turns from its beginning, 0 to a full turn, radians.
pub fn turn(from: DVec2, to: DVec2, centre: DVec2, ccw: bool) -> f64 {
    if from.distance(to) < 1e-9 {
        return std::f64::consts::TAU;
    }
    let [a, b] = [from - centre, to - centre].map(|at| at.y.atan2(at.x));
    if ccw { b - a } else { a - b }.rem_euclid(std::f64::consts::TAU)
}

fn length(from: DVec2, piece: &Segment) -> f64 {
    match *piece {
        Segment::Line { to } => from.distance(to),
        Segment::Arc { to, centre, ccw } => turn(from, to, centre, ccw) * from.distance(centre),
    }
}

/// Whether a prism goes right through a blank along an axis.
pub fn goes_through(prism: &Prism, axis: Axis, solid: &Solid) -> bool {
    prism.axis == axis && prism.from <= AT && prism.to >= solid.size[axis.index()] - AT
}

/// What the cuts right through a blank along an axis, W or T, leave of it: the outlines, L along the first coordinate and the other axis across along the
/// second, as it lies in the part's own measures. Nothing where nothing is left.
pub fn outlines(solid: &Solid, axis: Axis) -> Vec<Outline> {
    let through =
        Solid { size: solid.size, prisms: solid.prisms.iter().filter(|prism| goes_through(prism, axis, solid)).cloned().collect() };
    let Ok(shape) = through.shape(Facets::ChordError(FINE)) else { return Vec::new() };
    let brep = shape.brep();
    let lies_in_it = |patch: &&Patch| match patch.surface {
        Surface::Plane { normal } => normal[axis.index()] < -0.5 && vertices(&brep, patch).all(|at| at[axis.index()].abs() < AT),
        Surface::Cylinder { .. } => false,
    };
    // Of each face the first is the outer one.
    let loops = brep.faces.iter().filter(lies_in_it).flat_map(|patch| patch.loops.iter().enumerate());
    loops.filter_map(|(number, around)| outline(&brep, around, axis, number > 0)).collect()
}

fn vertices<'b>(brep: &'b Brep, patch: &'b Patch) -> impl Iterator<Item = glam::DVec3> + 'b {
    let edges = patch.loops.iter().flatten().filter_map(|(edge, _)| brep.edges.get(*edge as usize));
    edges.filter_map(|edge| brep.vertices.get(edge.ends[0] as usize).copied())
}

fn outline(brep: &Brep, around: &[(u32, bool)], axis: Axis, is_hole: bool) -> Option<Outline> {
    // Across L lies W in a face side, and T in a face edge; there a turn about the axis runs the other way.
    let (across, sign) = if axis == Axis::W { (2, -1.0) } else { (1, 1.0) };
    let flat = |vertex: u32| brep.vertices.get(vertex as usize).map(|at| DVec2::new(at.x, at[across]));
    let mut start = None;
    let mut segments = Vec::with_capacity(around.len());
    for (edge, forward) in around {
        let edge = brep.edges.get(*edge as usize)?;
        let [from, to] = if *forward { edge.ends } else { [edge.ends[1], edge.ends[0]] };
        start = start.or_else(|| flat(from));
        let to = flat(to)?;
        segments.push(match edge.curve {
            Curve::Line => Segment::Line { to },
            Curve::Circle { centre, about, .. } => {
                let ccw = (about[axis.index()] * sign > 0.0) == *forward;
                Segment::Arc { to, centre: DVec2::new(centre.x, centre[across]), ccw }
            }
        });
    }
    start.map(|start| Outline { start, segments, is_hole })
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;

    /// A board of 100 × 40 with a quarter circle of 10 off a corner and a hole of 12: lengths by geometry.
    #[test]
    fn arcs_stay_arcs_and_lengths_are_true() {
        let corner = Profile::path(
            DVec2::new(90.0, 0.0),
            vec![
                Segment::Line { to: DVec2::new(101.0, -1.0) },
                Segment::Line { to: DVec2::new(101.0, 10.0) },
                Segment::Line { to: DVec2::new(100.0, 10.0) },
                Segment::Arc { to: DVec2::new(90.0, 0.0), centre: DVec2::new(90.0, 10.0), ccw: false },
            ],
        );
        let hole = Profile::circle(DVec2::new(30.0, 20.0), 6.0);
        let prisms = [corner.expect("a corner"), hole].map(|profile| Prism { axis: Axis::T, from: -1.0, to: 21.0, profile });
        let found = outlines(&Solid { size: DVec3::new(100.0, 40.0, 20.0), prisms: prisms.to_vec() }, Axis::T);
        let mut lengths: Vec<f64> = found.iter().map(Outline::length).collect();
        lengths.sort_by(f64::total_cmp);
        let pi = std::f64::consts::PI;
        let wanted = [12.0 * pi, 2.0 * (100.0 + 40.0) - 20.0 + 5.0 * pi];
        assert!(
            lengths.len() == 2 && lengths.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 1e-6),
            "{lengths:?} {wanted:?}"
        );
        let arcs = |outline: &Outline| outline.segments.iter().filter(|piece| matches!(piece, Segment::Arc { .. })).count();
        assert_eq!(found.iter().map(arcs).sum::<usize>(), 3, "a hole is two halves: {found:?}");
        assert_eq!(found.iter().filter(|outline| outline.is_hole).map(arcs).collect::<Vec<_>>(), [2]);
    }

    /// A slot through the width is seen in the face edge.
    #[test]
    fn a_cut_through_the_width_is_seen_at_the_edge() {
        let slot = Prism { axis: Axis::W, from: 0.0, to: 40.0, profile: Profile::rect(DVec2::new(5.0, 20.0), DVec2::new(20.0, 30.0)) };
        let found = outlines(&Solid { size: DVec3::new(100.0, 40.0, 20.0), prisms: vec![slot] }, Axis::W);
        assert!(found.len() == 1 && (found[0].length() - (2.0 * (100.0 + 20.0) + 30.0)).abs() < 1e-9, "{found:?}");
    }
}
