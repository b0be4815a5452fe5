//! Convex cells as corners and directions, for separating axes.

use glam::DVec3;

use super::Cell;
use super::hull::Hull;
use crate::pose::Pose;

/// Directions whose sine is below this are one: over a metre they part by a ten-thousandth of a millimetre.
const PARALLEL: f64 = 1e-7;

/// A convex polyhedron as what decides whether it stands apart from another: two of them share no volume just when they are apart
/// along a normal of the one, a normal of the other, or square to an edge of each (S. Gottschalk, M. Lin, D. Manocha, "`OBBTree`", 1996,
/// for boxes; the same argument holds for every pair of convex polyhedra).
#[derive(Clone, Debug)]
pub(crate) struct Body {
    /// The corners, each once.
    pub points: Vec<DVec3>,
    /// The normals of its sides, one of each pair that look opposite ways; of length one.
    pub normals: Vec<DVec3>,
    /// The directions of its edges, one of each that run parallel; of length one.
    pub edges: Vec<DVec3>,
}

impl Body {
    /// The cell as it stands.
    pub fn of(cell: &Cell) -> Self {
        match &cell.hull {
            Some(hull) => Self::of_hull(hull),
            None => Self { points: corners(cell.min, cell.max).to_vec(), normals: DVec3::AXES.to_vec(), edges: DVec3::AXES.to_vec() },
        }
    }

    fn of_hull(hull: &Hull) -> Self {
        let mut points = hull.points().to_vec();
        points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)).then(a.z.total_cmp(&b.z)));
        points.dedup();
        let (mut normals, mut edges) = (Vec::with_capacity(8), Vec::with_capacity(8));
        for (plane, corners) in hull.sides() {
            keep(&mut normals, plane.normal);
            let next = corners.iter().cycle().skip(1);
            for (a, b) in corners.iter().zip(next) {
                if let Some(edge) = (*b - *a).try_normalize() {
                    keep(&mut edges, edge);
                }
            }
        }
        Self { points, normals, edges }
    }

    /// The body placed elsewhere.
    pub fn mapped(&self, pose: &Pose) -> Self {
        let turned = |directions: &[DVec3]| directions.iter().map(|&d| pose.vector(d)).collect();
        Self { points: self.points.iter().map(|&p| pose.point(p)).collect(), normals: turned(&self.normals), edges: turned(&self.edges) }
    }

    /// The least and the greatest height of its corners along a direction.
    pub fn span(&self, direction: DVec3) -> (f64, f64) {
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for p in &self.points {
            let at = direction.dot(*p);
            least = least.min(at);
            most = most.max(at);
        }
        (least, most)
    }
}

/// The directions square to an edge of each, of length one.
pub(crate) fn across_edges<'a>(a: &'a [DVec3], b: &'a [DVec3]) -> impl Iterator<Item = DVec3> + 'a {
    a.iter().flat_map(move |&e| {
        b.iter().filter_map(move |&f| {
            let across = e.cross(f);
            // Parallel edges say nothing that the sides between them do not.
            (across.length_squared() > PARALLEL * PARALLEL).then(|| across.normalize())
        })
    })
}

/// How deep two bodies that stand still are in each other: the least way along any direction that parts them, mm. Zero or less when they are apart.
pub(crate) fn depth(a: &Body, b: &Body) -> f64 {
    let overlap = |direction: DVec3| {
        let (a, b) = (a.span(direction), b.span(direction));
        (a.1 - b.0).min(b.1 - a.0)
    };
    let axes = a.normals.iter().chain(&b.normals).copied().chain(across_edges(&a.edges, &b.edges));
    axes.map(overlap).fold(f64::INFINITY, f64::min)
}

/// Adds a direction, unless one along it or against it is there.
fn keep(directions: &mut Vec<DVec3>, new: DVec3) {
    if !directions.iter().any(|d| d.cross(new).length_squared() <= PARALLEL * PARALLEL) {
        directions.push(new);
    }
}

/// The eight corners of an upright box.
pub(crate) fn corners(min: DVec3, max: DVec3) -> [DVec3; 8] {
    std::array::from_fn(|i| {
        let pick = |bit: usize, axis: usize| if i & bit == 0 { min[axis] } else { max[axis] };
        DVec3::new(pick(1, 0), pick(2, 1), pick(4, 2))
    })
}
