//! Surfaces that lie on each other.

use glam::{DVec2, DVec3};

use super::contours::{Engine, Polygon};
use super::{Face, Shape};
use crate::facet;
use crate::pose::Pose;

/// Where the surfaces of two parts lie on each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The area on which they do, mm².
    pub area: f64,
    /// The centre of that area in the world, mm.
    pub centre: DVec3,
}

/// Normals that differ by less than this still look at each other: over a metre their planes part by a tenth of a millimetre.
const OPPOSITE: f64 = 1e-4;

/// The area on which two placed parts lie on each other: where faces look at each other in planes no farther apart, and no deeper in each
/// other, than `touch` mm. Nothing where no area is left of it; edges and corners that touch have none.
///
/// Facets of two rounds count like faces, so that a dowel in its hole touches all round when both have the same facets.
pub fn contact(a: &Shape, pose_a: &Pose, b: &Shape, pose_b: &Pose, touch: f64) -> Option<Contact> {
    let b_in_a = pose_a.inverse().then_of(pose_b);
    let (a_min, a_max) = a.bounds();
    let (b_min, b_max) = b.bounds();
    let (b_min, b_max) = b_in_a.bounds_of_box(b_min, b_max);
    let apart = |least: DVec3, most: DVec3| (most - least).min_element() < -touch;
    if apart(a_min.max(b_min), a_max.min(b_max)) {
        return None;
    }
    let outlines_b: Vec<Outline> = (0..b.faces.len()).map(|face| Outline::of(b, face, &b_in_a)).collect();
    let mut engine = Engine::new();
    let (mut area, mut moment) = (0.0, DVec3::ZERO);
    for face in 0..a.faces.len() {
        let own = Outline::of(a, face, &Pose::IDENTITY);
        if apart(own.min.max(b_min), own.max.min(b_max)) {
            continue;
        }
        for other in &outlines_b {
            let opposite = (own.normal + other.normal).length() <= OPPOSITE;
            if !opposite || apart(own.min.max(other.min), own.max.min(other.max)) {
                continue;
            }
            let (common, centre) = own.common(other, touch, &mut engine);
            area += common;
            moment += centre * common;
        }
    }
    (area > NO_AREA).then(|| Contact { area, centre: pose_a.point(moment / area) })
}

/// Less than this is rounding, mm².
const NO_AREA: f64 = 1e-6;

/// The outlines of a face where it stands.
struct Outline {
    normal: DVec3,
    offset: f64,
    loops: Vec<Vec<DVec3>>,
    min: DVec3,
    max: DVec3,
}

impl Outline {
    fn of(shape: &Shape, face: usize, pose: &Pose) -> Self {
        let loops: Vec<Vec<DVec3>> =
            shape.loops(face).map(|outline| outline.iter().map(|&v| pose.point(shape.positions[v as usize])).collect()).collect();
        let Face { normal, .. } = shape.faces[face];
        let normal = pose.vector(normal);
        let (mut min, mut max) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        for &point in loops.iter().flatten() {
            min = min.min(point);
            max = max.max(point);
        }
        let offset = shape.faces[face].offset + normal.dot(pose.origin);
        Self { normal, offset, loops, min, max }
    }

    /// The area on which another face lies on this one, and its centre.
    fn common(&self, other: &Self, touch: f64, engine: &mut Engine) -> (f64, DVec3) {
        let (x, y) = upright(self.normal);
        let flat = |p: &DVec3| DVec2::new(x.dot(*p), y.dot(*p));
        engine.begin();
        for outline in &self.loops {
            engine.add_subject(&outline.iter().map(flat).collect::<Vec<_>>());
        }
        for outline in &other.loops {
            engine.add_clip(&outline.iter().map(flat).collect::<Vec<_>>());
        }
        let (mut area, mut moment) = (0.0, DVec2::ZERO);
        for polygon in engine.common() {
            let (part, centre) = area_and_centre(&polygon);
            area += part;
            moment += centre * part;
        }
        let at = if area > 0.0 { moment / area } else { DVec2::ZERO };
        let centre = x * at.x + y * at.y + self.normal * self.offset;
        // The planes may be a little out of true: what counts is how near they are where they lie on each other.
        let height = other.normal.dot(centre) - other.offset;
        if area > 0.0 && height.abs() <= touch { (area, centre) } else { (0.0, DVec3::ZERO) }
    }
}

/// Two directions in the plane across a normal, along the axes where it runs along one: then no figure is rounded.
fn upright(normal: DVec3) -> (DVec3, DVec3) {
    let drop = normal.abs().max_position();
    let x = DVec3::AXES[(drop + 1) % 3];
    let x = (x - normal * normal.dot(x)).normalize();
    (x, normal.cross(x))
}

/// The area of a polygon with holes, mm², and its centre.
fn area_and_centre(polygon: &Polygon) -> (f64, DVec2) {
    let origin = polygon.first().and_then(|outer| outer.first()).copied().unwrap_or_default();
    let (mut twice, mut moment) = (0.0, DVec2::ZERO);
    for outline in polygon {
        for (a, b) in facet::edges(outline) {
            let (a, b) = (a - origin, b - origin);
            let across = a.perp_dot(b);
            twice += across;
            moment += (a + b) * across;
        }
    }
    if twice <= 0.0 { (0.0, origin) } else { (twice / 2.0, origin + moment / (3.0 * twice)) }
}
