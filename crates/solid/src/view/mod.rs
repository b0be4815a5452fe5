//! Solids as a drawing shows them: what of their edges is seen from afar, what is hidden, and what a plane cuts.
//!
//! ```text
//! bodies ──faces that look at the viewer──▶ Covers ─┐
//!    └────edges, and outlines of rounds────▶ each edge, split where a cover begins or ends ──▶ Stretches ──seen(), hidden()──▶ Lines
//! ```
//!
//! Nothing is sampled: every face is a flat polygon, nearness runs evenly along an edge, and so what a face hides of an edge is found from
//! where the edge crosses its outline and where it passes through its plane. Rounds are the facets of their [`Shape`], so they stand as
//! near to the truth as those do. What lies flush hides nothing: two parts that meet show the joint between them, once.

mod covers;
mod cut;
mod intervals;
mod lines;
mod outlines;

use glam::{DVec2, DVec3};

pub use cut::{CutFace, cut_face};
pub use lines::{Line, merged};

use self::covers::{Cover, Covers};
use self::intervals::Intervals;
use self::outlines::Outlines;
use crate::pose::Pose;
use crate::shape::Shape;

/// Faces more on edge than this are seen as lines: the cosine to the line of sight.
const FACING: f64 = 1e-6;

/// What lies nearer to a cutting plane than this lies in it, mm.
const IN_PLANE: f64 = 1e-9;

/// Edges shorter than this as seen are dots, mm.
const DOT: f64 = 1e-6;

/// From where solids are looked at, without perspective: three directions of length one, square to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    right: DVec3,
    up: DVec3,
    near: DVec3,
}

impl Sight {
    /// Looks so that `right` runs to the right, and `up` up as far as it is square to it; nothing for directions that are none, or one.
    ///
    /// ```
    /// use casewright_solid::view::Sight;
    /// use glam::DVec3;
    ///
    /// let from_above = Sight::new(DVec3::X, -DVec3::Z).expect("two directions");
    /// assert_eq!(from_above.see(DVec3::new(1.0, 2.0, 3.0)), DVec3::new(1.0, -3.0, 2.0));
    /// ```
    pub fn new(right: DVec3, up: DVec3) -> Option<Sight> {
        let right = right.try_normalize()?;
        let up = (up - right * up.dot(right)).try_normalize()?;
        Some(Sight { right, up, near: right.cross(up) })
    }

    /// A point as it is seen: to the right, up, and how near, mm.
    pub fn see(&self, point: DVec3) -> DVec3 {
        DVec3::new(point.dot(self.right), point.dot(self.up), point.dot(self.near))
    }

    /// The direction toward the viewer.
    pub fn near(&self) -> DVec3 {
        self.near
    }
}

/// A solid where it stands.
#[derive(Clone, Copy, Debug)]
pub struct Body<'s> {
    /// Its surface.
    pub shape: &'s Shape,
    /// Where it stands.
    pub pose: Pose,
}

impl Body<'_> {
    fn seen(&self, sight: &Sight, vertex: u32) -> DVec3 {
        sight.see(self.pose.point(self.shape.positions[vertex as usize]))
    }
}

/// What is asked of a view.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Looking {
    /// All that is nearer than this is cut away, mm along the line of sight; nothing is where there is none.
    pub cut_at: Option<f64>,
    /// Whether hidden stretches are wanted too.
    pub hidden: bool,
}

/// A stretch of an edge, all of it seen or all of it hidden.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The body it belongs to, by its place among those that were given.
    pub body: usize,
    /// The edge, by its place in [`Shape::edges`]; none where it is the outline of a round.
    pub edge: Option<usize>,
    /// One end as it is seen: to the right, up, near, mm.
    pub a: DVec3,
    /// The other end.
    pub b: DVec3,
    /// Whether something stands before it.
    pub hidden: bool,
}

/// What is seen of bodies.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct View {
    /// The edges, in stretches.
    pub stretches: Vec<Stretch>,
    /// What the plane cuts, where one does.
    pub cuts: Vec<CutFace>,
}

/// Looks at bodies.
pub fn look(bodies: &[Body<'_>], sight: &Sight, looking: Looking) -> View {
    let outlines = outlines::of_each(bodies);
    let mut covers = Vec::new();
    for (number, body) in bodies.iter().enumerate() {
        covers.extend((0..body.shape.faces.len()).filter_map(|face| cover(body, sight, number, face, looking.cut_at)));
    }
    let mut view = View::default();
    if let Some(at) = looking.cut_at {
        for (number, body) in bodies.iter().enumerate() {
            if let Some(cut) = cut_face(body, sight, at, number) {
                covers.extend(Cover::level(number, cut.loops.clone(), at));
                view.cuts.push(cut);
            }
        }
    }
    let mut covers = Covers::new(covers);
    for (number, (body, outlines)) in bodies.iter().zip(&outlines).enumerate() {
        let mut looker = Looker { body, sight, number, looking, covers: &mut covers, found: &mut view.stretches };
        looker.edges();
        looker.outlines(outlines);
    }
    view
}

/// A face as it covers what is behind it; nothing when it looks away, is seen on edge, or is cut away.
fn cover(body: &Body<'_>, sight: &Sight, number: usize, face: usize, cut_at: Option<f64>) -> Option<Cover> {
    let normal = sight.see(body.pose.vector(body.shape.faces[face].normal));
    if normal.z <= FACING {
        return None;
    }
    let loops: Vec<Vec<DVec3>> =
        body.shape.loops(face).map(|vertices| vertices.iter().map(|vertex| body.seen(sight, *vertex)).collect()).collect();
    Cover::new(number, face, &loops, normal, cut_at)
}

/// Goes through the edges of one body.
struct Looker<'a, 's> {
    body: &'a Body<'s>,
    sight: &'a Sight,
    number: usize,
    looking: Looking,
    covers: &'a mut Covers,
    found: &'a mut Vec<Stretch>,
}

impl Looker<'_, '_> {
    fn faces_viewer(&self, face: u32) -> bool {
        let normal = self.body.shape.faces.get(face as usize).map_or(DVec3::ZERO, |face| face.normal);
        self.body.pose.vector(normal).dot(self.sight.near) > FACING
    }

    fn edges(&mut self) {
        for (index, edge) in self.body.shape.edges.iter().enumerate() {
            let shows = edge.faces.iter().any(|face| self.faces_viewer(*face));
            if shows || self.looking.hidden || self.looking.cut_at.is_some() {
                let [a, b] = [edge.a, edge.b].map(|end| self.sight.see(self.body.pose.point(end)));
                self.edge(Some(index), a, b, edge.faces, shows);
            }
        }
    }

    /// A smooth edge is drawn where one of its faces looks at the viewer and the other does not.
    fn outlines(&mut self, outlines: &Outlines) {
        for smooth in &outlines.smooth {
            if self.faces_viewer(smooth.faces[0]) != self.faces_viewer(smooth.faces[1]) {
                let [a, b] = smooth.ends.map(|vertex| self.body.seen(self.sight, vertex));
                self.edge(None, a, b, smooth.faces, true);
            }
        }
    }

    fn edge(&mut self, edge: Option<usize>, a: DVec3, b: DVec3, faces: [u32; 2], shows: bool) {
        let Some((a, b)) = self.left(a, b).filter(|(a, b)| a.truncate().distance(b.truncate()) >= DOT) else { return };
        // An edge of which no face looks at the viewer is behind its own body, unless that is cut open before it.
        let hidden = if shows || self.looking.cut_at.is_some() {
            self.covers.hiding(a, b, self.number, faces)
        } else {
            Intervals::of(vec![(0.0, 1.0)])
        };
        let (body, found) = (self.number, &mut *self.found);
        let mut add = |stretches: &Intervals, hidden: bool| {
            found.extend(stretches.iter().map(|(from, to)| Stretch { body, edge, a: a.lerp(b, from), b: a.lerp(b, to), hidden }));
        };
        add(&hidden.rest(), false);
        if self.looking.hidden {
            add(&hidden.within_unit(), true);
        }
    }

    /// What the plane leaves of an edge.
    fn left(&self, a: DVec3, b: DVec3) -> Option<(DVec3, DVec3)> {
        let Some(at) = self.looking.cut_at else { return Some((a, b)) };
        let stays = |end: DVec3| end.z <= at + IN_PLANE;
        match (stays(a), stays(b)) {
            (true, true) => Some((a, b)),
            (false, false) => None,
            (true, false) => Some((a, a.lerp(b, (at - a.z) / (b.z - a.z)))),
            (false, true) => Some((b.lerp(a, (at - b.z) / (a.z - b.z)), b)),
        }
    }
}

impl View {
    /// The lines that are seen of the bodies for which `of` holds, each drawn once.
    pub fn seen(&self, of: impl Fn(usize) -> bool) -> Vec<Line> {
        merged(&self.flat(false, of))
    }

    /// The lines that are hidden of the bodies for which `of` holds, each drawn once, and none where anything is seen.
    pub fn hidden(&self, of: impl Fn(usize) -> bool) -> Vec<Line> {
        lines::hidden_only(&self.flat(false, |_| true), &self.flat(true, of))
    }

    fn flat(&self, hidden: bool, of: impl Fn(usize) -> bool) -> Vec<Line> {
        let wanted = self.stretches.iter().filter(|stretch| stretch.hidden == hidden && of(stretch.body));
        wanted.map(|stretch| Line { a: stretch.a.truncate(), b: stretch.b.truncate() }).collect()
    }

    /// The least and the greatest place, to the right and up, that is drawn on; nothing where nothing is.
    pub fn bounds(&self) -> Option<(DVec2, DVec2)> {
        let ends = self.stretches.iter().flat_map(|stretch| [stretch.a.truncate(), stretch.b.truncate()]);
        let cuts = self.cuts.iter().flat_map(|cut| cut.loops.iter().flatten().copied());
        ends.chain(cuts).map(|at| (at, at)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }
}
