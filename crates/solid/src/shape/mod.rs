//! The surface of a solid, found one supporting plane at a time.
//!
//! Every face of the result lies in a plane of the blank, of a prism's wall or of a prism's end.
//! In such a plane a point belongs to the surface when there is material just on the one side
//! and none just on the other. [`faces`] takes that difference with the sections of the prisms
//! in the plane, [`skin`] collects the outlines on welded vertices, [`stitch`] makes their edges
//! meet in pairs, [`triangulate`] fills them.

pub(crate) mod contact;
mod contours;
mod edges;
mod faces;
mod measure;
mod mend;
mod needles;
mod plane;
mod refit;
mod section;
mod skin;
mod stitch;
mod strips;
mod triangulate;

use std::ops::Range;

use glam::{DVec2, DVec3};

use self::skin::Skin;
use self::stitch::Mates;
use self::triangulate::Mesh;
use crate::axis::Axis;
use crate::cutter::{GRID, flatten, snap3};
use crate::facet::Facets;
use crate::solid::{Solid, SolidError};

/// A closed surface of triangles, with the flat faces and the edges they make.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// The vertices, mm. Equal places share one vertex, but where four faces meet in one edge
    /// the pairs of faces are kept apart by a vertex each in the middle of it.
    pub positions: Vec<DVec3>,
    /// Three vertices each, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// The outward normal at each corner of each triangle: along the radius of the true circle
    /// on facets of an arc, so that they shade as one curve; the face's own normal elsewhere.
    pub normals: Vec<[DVec3; 3]>,
    /// The face each triangle belongs to, as an index into `faces`.
    pub face_of_triangle: Vec<u32>,
    /// The flat faces: one connected outline with its holes each.
    pub faces: Vec<Face>,
    /// The edges where two surfaces meet at an angle; none between facets of one arc.
    pub edges: Vec<FeatureEdge>,
    /// The volume enclosed, mm³.
    pub volume: f64,
    /// The area of the surface, mm².
    pub area: f64,
    /// The centre of the volume, mm.
    pub centroid: DVec3,
    loops: Vec<Range<u32>>,
    loop_vertices: Vec<u32>,
}

/// A flat face.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// The outward normal, of length one.
    pub normal: DVec3,
    /// How far along `normal` the plane lies from the origin, mm.
    pub offset: f64,
    /// The surface it is part of.
    pub origin: FaceOrigin,
    /// The circle that the face is a facet of.
    pub arc: Option<Arc>,
    loops: Range<u32>,
}

/// What made a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FaceOrigin {
    /// A side of the blank.
    Blank {
        /// The axis across it.
        axis: Axis,
        /// Whether it is the side away from the origin.
        far: bool,
    },
    /// The wall of a prism.
    Wall {
        /// The number of the prism in the solid.
        prism: u32,
        /// The number of the segment of its profile.
        segment: u32,
    },
    /// The end of a prism: the floor of a pocket.
    End {
        /// The number of the prism in the solid.
        prism: u32,
        /// Whether it is the end at `to`.
        far: bool,
    },
}

/// The circle behind the facets of a curved wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// The axis of the cylinder.
    pub axis: Axis,
    /// The centre in (u, v) of the axis, mm.
    pub centre: DVec2,
    /// The radius, mm.
    pub radius: f64,
}

/// A straight edge where two surfaces meet at an angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeatureEdge {
    /// One end, mm.
    pub a: DVec3,
    /// The other end, mm.
    pub b: DVec3,
    /// The two faces that meet, as indices into [`Shape::faces`]; seen from outside with the
    /// first face to the left, the edge runs from `a` to `b`.
    pub faces: [u32; 2],
    /// Whether the material bulges here; false in an inner corner.
    pub convex: bool,
}

impl Face {
    /// The outward normal at a point of the face: radial on a facet of an arc.
    pub fn normal_at(&self, point: DVec3) -> DVec3 {
        let Some(arc) = self.arc else {
            return self.normal;
        };
        let radial = flatten(arc.axis, point) - arc.centre;
        let mut normal = DVec3::ZERO;
        normal[arc.axis.u().index()] = radial.x;
        normal[arc.axis.v().index()] = radial.y;
        let normal = normal.normalize_or(self.normal);
        if normal.dot(self.normal) < 0.0 { -normal } else { normal }
    }
}

impl Shape {
    /// The outlines of a face as vertices: first the outer one, counter-clockwise seen from
    /// outside, then the holes, clockwise. A face number out of range has none.
    pub fn loops(&self, face: usize) -> impl Iterator<Item = &[u32]> {
        let range = self.faces.get(face).map_or(0..0, |f| f.loops.clone());
        self.loops[range.start as usize..range.end as usize].iter().map(|l| &self.loop_vertices[l.start as usize..l.end as usize])
    }

    /// Whether every directed edge of a triangle occurs once, and its reverse once.
    pub fn is_watertight(&self) -> bool {
        !self.triangles.is_empty() && stitch::closes(&self.triangles, self.positions.len())
    }

    /// The least and the greatest corner of the box around the shape, mm.
    pub fn bounds(&self) -> (DVec3, DVec3) {
        let first = self.positions.first().copied().unwrap_or_default();
        let grow = |(min, max): (DVec3, DVec3), p: &DVec3| (min.min(*p), max.max(*p));
        self.positions.iter().fold((first, first), grow)
    }
}

/// How finely an attempt works: the grid of its numbers and the distance within which vertices
/// are one.
struct Fineness {
    grid: f64,
    weld: f64,
}

/// The first serves all solids whose cuts either meet or miss each other by more than the weld.
/// The others take cuts that miss by less as meeting, and round every number: by an eighth of a
/// thousandth of a millimetre, then by two thousandths.
const ATTEMPTS: [Fineness; 3] =
    [Fineness { grid: GRID, weld: 1e-5 }, Fineness { grid: 4096.0, weld: 1e-4 }, Fineness { grid: 256.0, weld: 1e-3 }];

/// The shape of a solid whose numbers have been checked.
pub(crate) fn evaluate(solid: &Solid, facets: Facets) -> Result<Shape, SolidError> {
    for fineness in &ATTEMPTS {
        if let Some(shape) = attempt(solid, facets, fineness)? {
            return Ok(shape);
        }
    }
    Err(SolidError::Open)
}

/// The shape, or nothing when its surface does not close at this fineness.
fn attempt(solid: &Solid, facets: Facets, fineness: &Fineness) -> Result<Option<Shape>, SolidError> {
    let cutters = solid.cutters(facets, fineness.grid)?;
    let size = snap3(solid.size, fineness.grid);
    let mut skin = Skin::new(fineness.weld);
    faces::collect(size, &cutters, &mut skin);
    skin.tidy();
    if skin.faces.is_empty() {
        return Err(SolidError::Empty);
    }
    let Some(closed) = close(skin) else {
        return Ok(None);
    };
    closed.finish(size).map(Some)
}

/// Outlines whose edges pair up, and triangles that fill them and close.
struct Closed {
    skin: Skin,
    mates: Mates,
    mesh: Mesh,
}

impl Closed {
    /// The shape; an error when it encloses nothing.
    fn finish(self, size: DVec3) -> Result<Shape, SolidError> {
        let Self { skin, mates, mesh } = self;
        let edges = edges::feature_edges(&skin, &mates);
        let measures = measure::measure(&skin.positions, &mesh.triangles, size / 2.0);
        if measures.volume <= 0.0 {
            return Err(SolidError::Empty);
        }
        let normals = mesh
            .triangles
            .iter()
            .zip(&mesh.face_of_triangle)
            .map(|(corners, &face)| {
                let face = &skin.faces[face as usize];
                corners.map(|v| face.normal_at(skin.positions[v as usize]))
            })
            .collect();
        Ok(Shape {
            positions: skin.positions,
            triangles: mesh.triangles,
            normals,
            face_of_triangle: mesh.face_of_triangle,
            faces: skin.faces,
            edges,
            volume: measures.volume,
            area: measures.area,
            centroid: measures.centroid,
            loops: skin.loops,
            loop_vertices: skin.loop_vertices,
        })
    }
}

/// Pairs the edges of the outlines and fills them, until the triangles close; once more where some of them are needles. Those of some
/// five in ten thousand solids crowded with coinciding faces stay.
fn close(mut skin: Skin) -> Option<Closed> {
    // Vertices added from here on are to stay apart from what lies at the same place.
    let welded = skin.positions.len();
    let mut kept = None;
    for _ in 0..2 {
        let Some(mates) = stitch::stitch(&mut skin) else {
            break;
        };
        let mut mesh = triangulate::fill(&skin);
        if mend::mend(&mut skin, &mut mesh) {
            if needles::turn_out(&skin, &mut mesh) {
                return Some(Closed { skin, mates, mesh });
            }
            kept = Some(Closed { skin: skin.clone(), mates, mesh });
        }
        if !stitch::split_wherever_touched(&mut skin, welded) {
            break;
        }
        skin.tidy();
    }
    kept
}
