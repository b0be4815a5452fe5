//! Turns about an axis.

use std::f64::consts::{FRAC_PI_2, TAU};

use glam::{DMat3, DVec3};

use super::body::{across_edges, corners, depth};
use super::moves::{Hit, Placed, middle, share};
use super::{Cells, THIN};
use crate::box_tree::Bounds;
use crate::pose::Pose;

/// Turns a part about an axis and tells where it first goes deeper into what stands than `slack` mm.
///
/// The axis runs through `pivot` in the world along `axis`; by the right hand for an `angle` above zero, radians. `pose` is where the
/// part starts. Nothing is sampled: a stretch of the turn is found free only when for each two convex pieces some direction parts
/// them all along it, and is halved else. What goes deeper than `slack` is always found; what stays below half of it never counts. In
/// between it may count, and so may what takes more than some hundred thousand steps to prove.
///
/// The depth of the hit is the greatest at evenly spaced angles from there on: no less than that is reached. An axis of no length turns
/// nothing.
///
/// ```
/// use casewright_solid::{Pose, Solid, turn};
/// use glam::DVec3;
///
/// // A door 400 wide and 20 thick, hung on one corner: it turns away from the side that it lies against, but not into it.
/// let door = Solid::blank(DVec3::new(400.0, 700.0, 20.0)).cells(16)?;
/// let side = Solid::blank(DVec3::new(20.0, 700.0, 500.0)).cells(16)?;
/// let beside = Pose { origin: DVec3::new(-20.0, 0.0, 0.0), ..Pose::IDENTITY };
/// let swing = |degrees: f64| turn(&door, &Pose::IDENTITY, DVec3::ZERO, DVec3::Y, degrees.to_radians(), &side, &beside, 0.01);
/// assert_eq!(swing(90.0), None);
/// let struck = swing(-5.0).expect("its other corner");
/// assert!((struck.after - (0.01_f64 / 20.0).asin()).abs() < 3e-4);
/// # Ok::<(), casewright_solid::SolidError>(())
/// ```
#[expect(clippy::too_many_arguments, reason = "two placed parts, an axis, an angle and a tolerance; a struct would only name them twice")]
pub fn turn(
    moving: &Cells,
    pose: &Pose,
    pivot: DVec3,
    axis: DVec3,
    angle: f64,
    standing: &Cells,
    standing_pose: &Pose,
    slack: f64,
) -> Option<Hit> {
    let mut search = Search::new(moving, pose, pivot, axis, standing, standing_pose, slack)?;
    let (i, j, after) = search.struck(angle)?;
    let turned = search.spin.after(after).then_of(&search.start);
    let at = standing_pose.point(middle(&moving.pieces[i], &turned, &standing.pieces[j]));
    Some(Hit { depth: search.deepest(after, angle.clamp(-TAU, TAU)), at, after: after.abs() })
}

/// Whether a part that turns about an axis goes deeper than `slack` mm into what stands: what [`turn`] finds, but no more than that.
#[expect(clippy::too_many_arguments, reason = "as for a turn")]
pub fn strikes_turning(
    moving: &Cells,
    pose: &Pose,
    pivot: DVec3,
    axis: DVec3,
    angle: f64,
    standing: &Cells,
    standing_pose: &Pose,
    slack: f64,
) -> bool {
    Search::new(moving, pose, pivot, axis, standing, standing_pose, slack).is_some_and(|mut search| search.struck(angle).is_some())
}

/// An axis to turn about.
#[derive(Clone, Copy, Debug)]
struct Spin {
    pivot: DVec3,
    axis: DVec3,
}

impl Spin {
    /// The move that turns by an angle.
    fn after(&self, angle: f64) -> Pose {
        let basis = DMat3::from_axis_angle(self.axis, angle);
        Pose { basis, origin: self.pivot - basis * self.pivot }
    }

    /// How far a point lies from the axis.
    fn radius(&self, point: DVec3) -> f64 {
        (point - self.pivot).cross(self.axis).length()
    }

    /// The least and the greatest height of points along a fixed direction while they turn from `from` to `to`, at most a quarter apart.
    fn span(&self, points: &[DVec3], direction: DVec3, from: f64, to: f64) -> (f64, f64) {
        let ((sin_a, cos_a), (sin_b, cos_b)) = (from.sin_cos(), to.sin_cos());
        let forward = (to - from).signum();
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for &point in points {
            let arm = point - self.pivot;
            let along = self.axis * self.axis.dot(arm);
            // The height is c + x cos + y sin of the angle.
            let (c, x, y) = (direction.dot(self.pivot + along), direction.dot(arm - along), direction.dot(self.axis.cross(arm)));
            let (a, b) = (x * cos_a + y * sin_a, x * cos_b + y * sin_b);
            let (rise_a, rise_b) = (forward * (y * cos_a - x * sin_a), forward * (y * cos_b - x * sin_b));
            let (mut low, mut high) = (a.min(b), a.max(b));
            if rise_a > 0.0 && rise_b < 0.0 {
                high = x.hypot(y);
            } else if rise_a < 0.0 && rise_b > 0.0 {
                low = -x.hypot(y);
            }
            least = least.min(c + low);
            most = most.max(c + high);
        }
        (least, most)
    }

    /// The upright box around all that points pass through between two angles, at most a quarter apart.
    fn bounds(&self, points: &[DVec3], from: f64, to: f64) -> Bounds {
        let [x, y, z] = DVec3::AXES.map(|axis| self.span(points, axis, from, to));
        (DVec3::new(x.0, y.0, z.0), DVec3::new(x.1, y.1, z.1))
    }
}

/// What is asked stretch by stretch.
struct Search<'a> {
    moving: &'a Cells,
    /// The moving cells where they start.
    placed: Placed<'a>,
    standing: &'a Cells,
    /// Where the moving part starts, and what it turns about, in the frame of what stands.
    start: Pose,
    spin: Spin,
    slack: f64,
    /// How far from the axis the moving part reaches, and how many steps are left.
    reach: f64,
    steps: u32,
}

/// Steps after which what is not proven free counts as struck.
const STEPS: u32 = 400_000;

/// Angles at which the depth is asked after a hit.
const LOOKS: u32 = 128;

impl<'a> Search<'a> {
    /// None for an axis of no length.
    fn new(
        moving: &'a Cells,
        pose: &Pose,
        pivot: DVec3,
        axis: DVec3,
        standing: &'a Cells,
        standing_pose: &Pose,
        slack: f64,
    ) -> Option<Self> {
        let there = standing_pose.inverse();
        let start = there.then_of(pose);
        let spin = Spin { pivot: there.point(pivot), axis: there.vector(axis.try_normalize()?) };
        let slack = slack.max(THIN);
        let (min, max) = start.bounds_of_box(moving.min, moving.max);
        let reach = corners(min, max).into_iter().map(|corner| spin.radius(corner)).fold(0.0, f64::max);
        Some(Self { moving, placed: Placed::new(moving, start), standing, start, spin, slack, reach, steps: STEPS })
    }

    /// The first pair that strikes in a turn, and where.
    fn struck(&mut self, angle: f64) -> Option<(usize, usize, f64)> {
        if !angle.is_finite() {
            return None;
        }
        let angle = angle.clamp(-TAU, TAU);
        // Along a direction a corner then turns back at most once in a stretch.
        let quarters = (angle.abs() / FRAC_PI_2).ceil().max(1.0);
        let mut quarter = 0.0;
        while quarter < quarters {
            let (from, to) = (angle * quarter / quarters, angle * (quarter + 1.0) / quarters);
            let near = self.near(from, to);
            if let Some(found) = self.first(&near, from, to) {
                return Some(found);
            }
            quarter += 1.0;
        }
        None
    }

    /// The pairs of which the boxes around all that the one passes through and around the other meet between two angles.
    fn near(&mut self, from: f64, to: f64) -> Vec<(usize, usize)> {
        let (start, spin, slack, standing) = (self.start, self.spin, self.slack, self.standing);
        let swept = |(min, max): Bounds| spin.bounds(&corners(min, max).map(|corner| start.point(corner)), from, to);
        let mut pairs = Vec::new();
        for i in self.moving.pieces_where(|bounds| share(swept(bounds), (standing.min, standing.max), slack)) {
            let own = spin.bounds(&self.placed.body(i).points, from, to);
            pairs.extend(standing.pieces_where(|bounds| share(own, bounds, slack)).into_iter().map(|j| (i, j)));
        }
        pairs
    }

    /// The first pair that strikes between two angles, and where. Pairs come in the order of the moving cells.
    fn first(&mut self, pairs: &[(usize, usize)], from: f64, to: f64) -> Option<(usize, usize, f64)> {
        let mut left = Vec::new();
        let mut swept = None;
        for &(i, j) in pairs {
            let bounds = match swept {
                Some((cell, bounds)) if cell == i => bounds,
                _ => self.bounds(i, from, to),
            };
            swept = Some((i, bounds));
            if share(bounds, self.standing.piece_bounds(j), self.slack) && !self.is_free(i, j, from, to) {
                left.push((i, j));
            }
        }
        let &(i, j) = left.first()?;
        self.steps = self.steps.saturating_sub(1);
        // No point then moves by more than half of the slack from where it was.
        if self.reach * (to - from).abs() <= self.slack / 2.0 || self.steps == 0 {
            return Some((i, j, from));
        }
        let middle = f64::midpoint(from, to);
        self.first(&left, from, middle).or_else(|| self.first(&left, middle, to))
    }

    /// The upright box around all that a cell passes through between two angles.
    fn bounds(&mut self, i: usize, from: f64, to: f64) -> Bounds {
        self.spin.bounds(&self.placed.body(i).points, from, to)
    }

    /// Whether some direction parts two cells all along a stretch, to within the slack.
    fn is_free(&mut self, i: usize, j: usize, from: f64, to: f64) -> bool {
        let (spin, slack) = (self.spin, self.slack);
        let (own, other) = (self.placed.body(i), self.standing.body(j));
        let apart = |a: (f64, f64), b: (f64, f64)| (a.1 - b.0).min(b.1 - a.0) <= slack;
        // Directions that stand, along which the one turns; then directions that turn along, in whose eyes the other turns back.
        let stands = |d: DVec3| apart(spin.span(&own.points, d, from, to), other.span(d));
        let turns = |d: DVec3| apart(own.span(d), spin.span(&other.points, d, -from, -to));
        if other.normals.iter().any(|&d| stands(d)) || own.normals.iter().any(|&d| turns(d)) {
            return true;
        }
        let middle = DMat3::from_axis_angle(spin.axis, f64::midpoint(from, to));
        let edges: Vec<DVec3> = own.edges.iter().map(|&e| middle * e).collect();
        across_edges(&edges, &other.edges).any(stands)
    }

    /// The greatest depth at angles from where it strikes to the end.
    fn deepest(&mut self, from: f64, to: f64) -> f64 {
        let mut deepest = 0.0_f64;
        for look in 0..=LOOKS {
            let angle = from + (to - from) * f64::from(look) / f64::from(LOOKS);
            let pose = self.spin.after(angle);
            for (i, j) in self.near(angle, angle) {
                let bounds = self.bounds(i, angle, angle);
                if share(bounds, self.standing.piece_bounds(j), deepest) {
                    deepest = deepest.max(depth(&self.placed.body(i).mapped(&pose), self.standing.body(j)));
                }
            }
        }
        deepest
    }
}
