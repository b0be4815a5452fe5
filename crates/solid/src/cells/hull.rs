//! Convex polyhedra, and cutting them by planes.

use glam::DVec3;

/// Vertices nearer than this to a cutting plane lie on it, mm.
const ON_PLANE: f64 = 1e-8;

/// Points of a cut nearer than this are one, mm.
const SAME: f64 = 1e-8;

/// The points p with `normal` · p ≤ `offset`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct HalfSpace {
    /// Of length one.
    pub normal: DVec3,
    pub offset: f64,
}

impl HalfSpace {
    /// The other side.
    pub fn flipped(self) -> Self {
        Self { normal: -self.normal, offset: -self.offset }
    }

    fn height(self, p: DVec3) -> f64 {
        let height = self.normal.dot(p) - self.offset;
        if height.abs() <= ON_PLANE { 0.0 } else { height }
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Side {
    plane: HalfSpace,
    start: u32,
    end: u32,
}

/// A convex polyhedron as polygons, each with its own corners, counter-clockwise from outside.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Hull {
    sides: Vec<Side>,
    points: Vec<DVec3>,
}

impl Hull {
    pub fn of_box(min: DVec3, max: DVec3) -> Self {
        let mut hull = Self { sides: Vec::with_capacity(6), points: Vec::with_capacity(24) };
        for axis in 0..3 {
            let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
            for far in [false, true] {
                let corner = |at_u: f64, at_v: f64| {
                    let mut p = DVec3::ZERO;
                    p[axis] = if far { max[axis] } else { min[axis] };
                    p[u] = at_u;
                    p[v] = at_v;
                    p
                };
                let mut corners = [corner(min[u], min[v]), corner(max[u], min[v]), corner(max[u], max[v]), corner(min[u], max[v])];
                let mut normal = DVec3::AXES[axis];
                if !far {
                    normal = -normal;
                    corners.reverse();
                }
                let offset = normal.dot(corners[0]);
                hull.push(HalfSpace { normal, offset }, corners);
            }
        }
        hull
    }

    fn push(&mut self, plane: HalfSpace, corners: impl IntoIterator<Item = DVec3>) {
        let start = self.points.len() as u32;
        self.points.extend(corners);
        let end = self.points.len() as u32;
        self.sides.push(Side { plane, start, end });
    }

    /// The polygons with their planes.
    pub fn sides(&self) -> impl Iterator<Item = (HalfSpace, &[DVec3])> {
        self.sides.iter().map(|s| (s.plane, &self.points[s.start as usize..s.end as usize]))
    }

    /// The planes of the sides, the one cut last first.
    pub fn planes_from_last(&self) -> impl Iterator<Item = HalfSpace> {
        self.sides.iter().rev().map(|s| s.plane)
    }

    /// The corners of all polygons, each as often as polygons meet there.
    pub fn points(&self) -> &[DVec3] {
        &self.points
    }

    pub fn bounds(&self) -> (DVec3, DVec3) {
        let first = self.points.first().copied().unwrap_or_default();
        self.points.iter().fold((first, first), |(min, max), &p| (min.min(p), max.max(p)))
    }

    /// How far the hull reaches along a direction.
    pub fn extent(&self, direction: DVec3) -> f64 {
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for p in &self.points {
            let at = direction.dot(*p);
            least = least.min(at);
            most = most.max(at);
        }
        most - least
    }

    pub fn volume_and_centre(&self) -> (f64, DVec3) {
        let Some(&apex) = self.points.first() else {
            return (0.0, DVec3::ZERO);
        };
        let (mut six_volumes, mut moment) = (0.0, DVec3::ZERO);
        for (_, corners) in self.sides() {
            let a = corners[0] - apex;
            for pair in corners[1..].windows(2) {
                let (b, c) = (pair[0] - apex, pair[1] - apex);
                let six = a.dot(b.cross(c));
                six_volumes += six;
                moment += (a + b + c) * six;
            }
        }
        if six_volumes <= 0.0 {
            return (0.0, apex);
        }
        (six_volumes / 6.0, apex + moment / (4.0 * six_volumes))
    }

    /// Whether all of `points` lie past `plane`, to within `slack`.
    pub fn is_past(points: &[DVec3], plane: HalfSpace, slack: f64) -> bool {
        points.iter().all(|p| plane.normal.dot(*p) >= plane.offset - slack)
    }

    /// The hull placed elsewhere by a rotation and a shift.
    pub fn mapped(&self, pose: &crate::pose::Pose) -> Self {
        let points: Vec<DVec3> = self.points.iter().map(|&p| pose.point(p)).collect();
        let sides = self
            .sides
            .iter()
            .map(|side| {
                let normal = pose.vector(side.plane.normal);
                Side { plane: HalfSpace { normal, offset: side.plane.offset + normal.dot(pose.origin) }, ..*side }
            })
            .collect();
        Self { sides, points }
    }

    /// The hull stretched along each axis from the origin; factors above zero.
    pub fn stretched(&self, by: DVec3) -> Self {
        let points: Vec<DVec3> = self.points.iter().map(|&p| p * by).collect();
        let sides = self
            .sides
            .iter()
            .map(|side| {
                // A normal is stretched the other way, so that it stays square to its side.
                let normal = side.plane.normal / by;
                let length = normal.length();
                Side { plane: HalfSpace { normal: normal / length, offset: side.plane.offset / length }, ..*side }
            })
            .collect();
        Self { sides, points }
    }

    /// What of the hull lies inside `plane`; nothing when that has no volume.
    pub fn inside(&self, plane: HalfSpace) -> Option<Self> {
        let (mut any_in, mut any_out) = (false, false);
        for &p in &self.points {
            let height = plane.height(p);
            any_in |= height < 0.0;
            any_out |= height > 0.0;
        }
        if !any_in {
            return None;
        }
        if !any_out {
            return Some(self.clone());
        }
        Some(self.cut(plane))
    }

    /// What two hulls have in common; nothing when that has no volume.
    pub fn common(&self, other: &Self) -> Option<Self> {
        self.sides().try_fold(other.clone(), |rest, (plane, _)| rest.inside(plane))
    }

    /// [`Hull::inside`] for a plane known to cut.
    fn cut(&self, plane: HalfSpace) -> Self {
        let mut cut = Self { sides: Vec::with_capacity(self.sides.len() + 1), points: Vec::with_capacity(self.points.len() + 8) };
        let mut rim: Vec<DVec3> = Vec::with_capacity(16);
        for (own, corners) in self.sides() {
            let start = cut.points.len();
            clip_polygon(corners, plane, &mut cut.points, &mut rim);
            let end = cut.points.len();
            if end - start < 3 {
                cut.points.truncate(start);
                continue;
            }
            cut.sides.push(Side { plane: own, start: start as u32, end: end as u32 });
        }
        around(&mut rim, plane.normal);
        if rim.len() >= 3 {
            cut.push(plane, rim);
        }
        cut
    }
}

/// Adds what of a polygon lies inside a plane to `out`, and its corners on the plane to `rim`.
fn clip_polygon(corners: &[DVec3], plane: HalfSpace, out: &mut Vec<DVec3>, rim: &mut Vec<DVec3>) {
    let Some(&last) = corners.last() else {
        return;
    };
    let start = out.len();
    let (mut from, mut from_height) = (last, plane.height(last));
    let mut inner = false;
    for &to in corners {
        let height = plane.height(to);
        if (from_height < 0.0 && height > 0.0) || (from_height > 0.0 && height < 0.0) {
            // Always from the inner end, so that the two polygons at an edge find the same point.
            let (a, b, ha, hb) = if height > 0.0 { (from, to, from_height, height) } else { (to, from, height, from_height) };
            let point = a + (b - a) * (ha / (ha - hb));
            out.push(point);
            rim.push(point);
        }
        if height <= 0.0 {
            out.push(to);
            if height == 0.0 {
                rim.push(to);
            }
            inner |= height < 0.0;
        }
        (from, from_height) = (to, height);
    }
    // A polygon that only touches the plane from beyond leaves an edge or a corner.
    if !inner {
        out.truncate(start);
    }
}

/// Puts the corners of a convex cut in order, counter-clockwise seen against `normal`, each once.
fn around(rim: &mut Vec<DVec3>, normal: DVec3) {
    let centre = rim.iter().sum::<DVec3>() / rim.len().max(1) as f64;
    let zero = normal.any_orthonormal_vector();
    let quarter = normal.cross(zero);
    let angle = |p: DVec3| (p - centre).dot(quarter).atan2((p - centre).dot(zero));
    let mut placed: Vec<(f64, DVec3)> = rim.iter().map(|&p| (angle(p), p)).collect();
    placed.sort_by(|a, b| a.0.total_cmp(&b.0));
    rim.clear();
    for (_, p) in placed {
        let repeats = |q: &DVec3| q.distance_squared(p) <= SAME * SAME;
        if !rim.last().is_some_and(repeats) && !rim.first().is_some_and(repeats) {
            rim.push(p);
        }
    }
}
