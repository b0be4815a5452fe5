//! The mathematics of looking: where the eye is, what it sees of the window, how it turns, moves and comes nearer.
//!
//! Plain functions on plain values; nothing here knows a window or a camera. Lengths are millimetres in the axes of the
//! case, places on the window logical pixels from its top left corner, y downward.

use bevy::math::{Mat3, Quat, Ray3d, Rect, Vec2, Vec3};
use bevy::prelude::Dir3;

/// Angle over the height of the view: a long lens, so that uprights stay nearly upright as on a drawing.
pub const FIELD_OF_VIEW: f32 = 0.32;
/// The eye comes no nearer to what it looks at, mm.
const NEAREST: f32 = 60.0;
/// And goes no farther, mm.
const FARTHEST: f32 = 60_000.0;
/// The eye stays so far above the floor, mm.
const ABOVE_FLOOR: f32 = 25.0;
/// From straight above a case has no upright, so the eye stops short of it.
const STEEPEST: f32 = 1.5;
/// Nobody lies down to look up at a case any steeper than this.
const LOWEST: f32 = -0.6;

/// Where the eye is: it looks at `target` from `distance`, turned to the right by `yaw` from the front and up by `pitch`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Orbit {
    /// What it looks at, mm.
    pub target: Vec3,
    /// Round the upright axis, radians; 0 looks at the front, positive from the right.
    pub yaw: f32,
    /// Above the level, radians.
    pub pitch: f32,
    /// From eye to target, mm.
    pub distance: f32,
}

impl Default for Orbit {
    fn default() -> Self {
        Orbit { target: Vec3::new(600.0, 700.0, 200.0), yaw: 0.5, pitch: 0.27, distance: 6500.0 }
    }
}

impl Orbit {
    /// Turns from the case's axes to the eye's: x right, y up, z toward the eye.
    pub fn rotation(&self) -> Quat {
        Quat::from_rotation_y(self.yaw) * Quat::from_rotation_x(-self.pitch)
    }

    /// Where the eye is, mm.
    pub fn eye(&self) -> Vec3 {
        self.target + self.back() * self.distance
    }

    /// The direction from the target to the eye.
    pub fn back(&self) -> Vec3 {
        self.rotation() * Vec3::Z
    }

    /// The eye's right.
    pub fn right(&self) -> Vec3 {
        self.rotation() * Vec3::X
    }

    /// The eye's up.
    pub fn up(&self) -> Vec3 {
        self.rotation() * Vec3::Y
    }

    /// Turned about the target by angles; kept above the floor and short of straight down.
    #[must_use]
    pub fn turned(self, yaw: f32, pitch: f32) -> Orbit {
        Orbit { yaw: self.yaw + yaw, pitch: self.pitch + pitch, ..self }.kept()
    }

    /// Turned so that a drag of `by` pixels feels like turning the case by hand: once across the view is a half turn.
    #[must_use]
    pub fn dragged(self, by: Vec2, lens: &Lens) -> Orbit {
        let turn = std::f32::consts::PI / lens.area.height().max(1.0);
        self.turned(-by.x * turn, by.y * turn)
    }

    /// Moved so that what stands at `depth` mm before the eye follows the pointer by `by` pixels.
    #[must_use]
    pub fn panned(self, by: Vec2, depth: f32, lens: &Lens) -> Orbit {
        let mm = depth.max(NEAREST) / lens.focal();
        Orbit { target: self.target + (self.up() * by.y - self.right() * by.x) * mm, ..self }.kept()
    }

    /// Nearer (`factor` below 1) or farther, so that `point` stays where it is on the window.
    #[must_use]
    pub fn zoomed(self, factor: f32, point: Vec3) -> Orbit {
        let distance = (self.distance * factor).clamp(NEAREST, FARTHEST);
        let factor = distance / self.distance;
        Orbit { target: point + (self.target - point) * factor, distance, ..self }.kept()
    }

    /// Kept within reach: not under the floor, not over the top, not too near or far.
    #[must_use]
    fn kept(self) -> Orbit {
        let distance = self.distance.clamp(NEAREST, FARTHEST);
        let target = Vec3::new(self.target.x, self.target.y.clamp(-200.0, FARTHEST), self.target.z);
        let sine = ((ABOVE_FLOOR - target.y) / distance).clamp(-1.0, 0.99);
        let lowest = sine.asin().max(LOWEST);
        Orbit { target, yaw: self.yaw, pitch: self.pitch.clamp(lowest, STEEPEST.max(lowest)), distance }
    }

    /// Between two views, `t` from 0 to 1; the distance changes by equal shares, the yaw the short way round.
    #[must_use]
    pub fn between(from: Orbit, to: Orbit, t: f32) -> Orbit {
        let turn = (to.yaw - from.yaw + std::f32::consts::PI).rem_euclid(std::f32::consts::TAU) - std::f32::consts::PI;
        Orbit {
            target: from.target.lerp(to.target, t),
            yaw: from.yaw + turn * t,
            pitch: from.pitch + (to.pitch - from.pitch) * t,
            distance: from.distance * (to.distance / from.distance).powf(t),
        }
        .kept()
    }

    /// The same direction, so near and so placed that the box of `points` fills the view within its margins.
    #[must_use]
    pub fn fitted(self, points: &[Vec3], lens: &Lens) -> Orbit {
        let Some(first) = points.first() else { return self };
        let half = (lens.area.size() / 2.0 - Vec2::splat(lens.margin)).max(Vec2::splat(40.0)) / lens.focal();
        let (low, high) = points.iter().fold((*first, *first), |(low, high), point| (low.min(*point), high.max(*point)));
        let mut orbit = Orbit { target: (low + high) / 2.0, ..self };
        // Each round moves the middle of what is seen to the middle of the view; perspective makes it a little wrong again.
        for _ in 0..6 {
            let to_eye = Mat3::from_quat(orbit.rotation()).transpose();
            let seen = points.iter().map(|point| to_eye * (*point - orbit.target));
            orbit.distance = seen.clone().map(|at| at.z + (at.x.abs() / half.x).max(at.y.abs() / half.y)).fold(NEAREST, f32::max);
            let flat = seen.map(|at| at.truncate() / (orbit.distance - at.z).max(1.0));
            let (least, most) = flat.fold((Vec2::MAX, Vec2::MIN), |(least, most), at| (least.min(at), most.max(at)));
            let off = (least + most) / 2.0 * orbit.distance;
            orbit.target += orbit.right() * off.x + orbit.up() * off.y;
        }
        orbit.kept()
    }
}

/// How the eye's view lies on the window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lens {
    /// The part of the window that is not covered; the target is seen in its middle.
    pub area: Rect,
    /// Left free at its edges when something is fitted, pixels.
    pub margin: f32,
}

impl Lens {
    /// Pixels for a thing as wide as it is far away.
    pub fn focal(&self) -> f32 {
        self.area.height().max(1.0) / 2.0 / (FIELD_OF_VIEW / 2.0).tan()
    }

    /// Where a place of the case is on the window; none behind the eye.
    pub fn project(&self, orbit: &Orbit, place: Vec3) -> Option<Vec2> {
        let seen = orbit.rotation().inverse() * (place - orbit.eye());
        (seen.z < -1.0).then(|| self.area.center() + Vec2::new(seen.x, -seen.y) * (self.focal() / -seen.z))
    }

    /// How far before the eye a place is, mm.
    pub fn depth(orbit: &Orbit, place: Vec3) -> f32 {
        (orbit.eye() - place).dot(orbit.back())
    }

    /// The ray from the eye through a place on the window.
    pub fn ray(&self, orbit: &Orbit, at: Vec2) -> Ray3d {
        let off = (at - self.area.center()) / self.focal();
        let way = orbit.rotation() * Vec3::new(off.x, -off.y, -1.0);
        Ray3d { origin: orbit.eye(), direction: Dir3::new(way).unwrap_or(Dir3::NEG_Z) }
    }
}

/// How far along the line from `origin` in direction `axis` (a unit vector) the ray passes nearest, mm. None when the ray
/// looks along the line, where a hand's breadth on the window would be no or any length.
pub fn along_line(ray: Ray3d, origin: Vec3, axis: Vec3) -> Option<f32> {
    let way = *ray.direction;
    let cross = way.dot(axis);
    let sine_squared = 1.0 - cross * cross;
    if sine_squared < 1e-4 {
        return None;
    }
    let from = ray.origin - origin;
    Some((from.dot(axis) - from.dot(way) * cross) / sine_squared)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lens() -> Lens {
        Lens { area: Rect::new(300.0, 50.0, 1100.0, 800.0), margin: 40.0 }
    }

    fn case() -> Vec<Vec3> {
        (0..8)
            .map(|n| {
                Vec3::new(
                    if n & 1 == 0 { 0.0 } else { 1360.0 },
                    if n & 2 == 0 { 0.0 } else { 1480.0 },
                    if n & 4 == 0 { 0.0 } else { 470.0 },
                )
            })
            .collect()
    }

    #[test]
    fn the_target_is_seen_in_the_middle_of_the_free_area() {
        let at = lens().project(&Orbit::default(), Orbit::default().target).expect("before the eye");
        assert!(at.distance(Vec2::new(700.0, 425.0)) < 0.01);
    }

    #[test]
    fn a_ray_goes_through_what_is_seen_there() {
        let (orbit, lens, place) = (Orbit::default(), lens(), Vec3::new(120.0, 900.0, 470.0));
        let at = lens.project(&orbit, place).expect("before the eye");
        let ray = lens.ray(&orbit, at);
        assert!((place - ray.origin).cross(*ray.direction).length() < 0.05);
    }

    #[test]
    fn what_is_under_the_pointer_stays_there_while_coming_nearer() {
        let (orbit, lens, place) = (Orbit::default(), lens(), Vec3::new(1300.0, 1200.0, 470.0));
        let before = lens.project(&orbit, place).expect("before the eye");
        let after = lens.project(&orbit.zoomed(0.4, place), place).expect("before the eye");
        assert!(before.distance(after) < 0.05, "{before} {after}");
        assert!(orbit.zoomed(0.4, place).distance < orbit.distance * 0.41);
    }

    #[test]
    fn what_is_held_follows_the_pointer() {
        let (orbit, lens, place) = (Orbit::default(), lens(), Vec3::new(200.0, 1000.0, 100.0));
        let by = Vec2::new(37.0, -21.0);
        let before = lens.project(&orbit, place).expect("before the eye");
        let after = lens.project(&orbit.panned(by, Lens::depth(&orbit, place), &lens), place).expect("before the eye");
        assert!((after - before).distance(by) < 0.05);
    }

    #[test]
    fn the_whole_fits_from_every_side_and_fills_the_view() {
        let lens = lens();
        let free = lens.area.inflate(-lens.margin);
        for step in 0_u8..24 {
            let seen = Orbit { yaw: f32::from(step) * 0.27, pitch: 0.1 + f32::from(step % 5) * 0.25, ..Orbit::default() };
            let orbit = seen.fitted(&case(), &lens);
            let at: Vec<Vec2> = case().iter().map(|place| lens.project(&orbit, *place).expect("before the eye")).collect();
            assert!(at.iter().all(|at| free.inflate(4.0).contains(*at)), "{at:?}");
            let spread = |of: fn(&Vec2) -> f32| at.iter().map(of).fold(f32::MIN, f32::max) - at.iter().map(of).fold(f32::MAX, f32::min);
            let (wide, high) = (spread(|at| at.x) / free.width(), spread(|at| at.y) / free.height());
            assert!(wide.max(high) > 0.95, "{wide} {high}");
        }
    }

    #[test]
    fn the_eye_never_goes_under_the_floor_nor_over_the_top() {
        let mut orbit = Orbit::default();
        for step in 0_u16..2000 {
            let swing = f32::from(step % 97) / 97.0 - 0.5;
            orbit = orbit.turned(swing, -swing * 1.7);
            orbit = orbit.zoomed(1.0 + swing * 0.8, Vec3::new(0.0, 30.0, 400.0));
            orbit = orbit.panned(Vec2::new(40.0 * swing, -300.0 * swing), orbit.distance, &lens());
            assert!(orbit.eye().y > 0.0, "{orbit:?}");
            assert!(orbit.up().y > 0.0, "{orbit:?}");
            assert!(orbit.eye().is_finite());
        }
    }

    #[test]
    fn a_flight_starts_and_ends_where_it_should_and_turns_the_short_way() {
        let from = Orbit { yaw: 3.0, ..Orbit::default() };
        let to = Orbit { yaw: -3.0, distance: 800.0, ..Orbit::default() };
        assert!((Orbit::between(from, to, 1.0).distance - 800.0).abs() < 0.01);
        assert_eq!(Orbit::between(from, to, 0.0).target, from.target);
        let middle = Orbit::between(from, to, 0.5).yaw;
        assert!((middle - std::f32::consts::PI).abs() < 0.01, "{middle}");
    }

    #[test]
    fn a_handle_is_dragged_along_its_line() {
        let (orbit, lens) = (Orbit::default(), lens());
        let at = lens.project(&orbit, Vec3::new(1234.0, 0.0, 560.0)).expect("before the eye");
        let along = along_line(lens.ray(&orbit, at), Vec3::new(0.0, 0.0, 560.0), Vec3::X).expect("seen from the side");
        assert!((along - 1234.0).abs() < 0.1, "{along}");
        let level = Ray3d { origin: Vec3::ZERO, direction: Dir3::X };
        assert_eq!(along_line(level, Vec3::Y, Vec3::X), None);
    }
}
