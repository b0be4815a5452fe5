//! Where a part stands.

use glam::{DMat3, DVec3};

/// A rigid placement: world = `basis` · local + `origin`.
///
/// The columns of `basis` are the part's L, W and T directions in the world: of length one,
/// square to each other, right handed. Use exact 0 and ±1 for parts square to the case; they
/// are compared faster and without rounding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// The part's axes as columns.
    pub basis: DMat3,
    /// Where the part's own origin stands, mm.
    pub origin: DVec3,
}

impl Pose {
    /// The part's own frame.
    pub const IDENTITY: Self = Self { basis: DMat3::IDENTITY, origin: DVec3::ZERO };

    /// A point of the part in the world, mm.
    pub fn point(&self, local: DVec3) -> DVec3 {
        self.basis * local + self.origin
    }

    /// A direction of the part in the world.
    pub fn vector(&self, local: DVec3) -> DVec3 {
        self.basis * local
    }

    /// The placement that undoes this one.
    #[must_use]
    pub fn inverse(&self) -> Self {
        let basis = self.basis.transpose();
        Self { basis, origin: -(basis * self.origin) }
    }

    /// First `inner`, then `self`.
    #[must_use]
    pub fn then_of(&self, inner: &Self) -> Self {
        Self { basis: self.basis * inner.basis, origin: self.point(inner.origin) }
    }

    /// The upright box in the world around a blank of `size` mm, as its least and greatest corner.
    pub fn bounds_of(&self, size: DVec3) -> (DVec3, DVec3) {
        self.bounds_of_box(DVec3::ZERO, size)
    }

    /// The upright box in the world around the box from `min` to `max` of the part.
    pub fn bounds_of_box(&self, min: DVec3, max: DVec3) -> (DVec3, DVec3) {
        let centre = self.point((min + max) / 2.0);
        let half = (max - min) / 2.0;
        let reach = self.basis.x_axis.abs() * half.x + self.basis.y_axis.abs() * half.y + self.basis.z_axis.abs() * half.z;
        (centre - reach, centre + reach)
    }

    /// Whether every axis of the part runs along an axis of the world, either way.
    pub fn is_square(&self) -> bool {
        self.basis.to_cols_array().iter().all(|c| c.abs() <= 1e-12 || (c.abs() - 1.0).abs() <= 1e-12)
    }
}

#[cfg(test)]
mod tests {
    use super::Pose;
    use glam::{DMat3, DVec3};

    fn turned() -> Pose {
        Pose { basis: DMat3::from_rotation_z(0.3) * DMat3::from_rotation_x(-1.1), origin: DVec3::new(10.0, -4.0, 7.5) }
    }

    /// Held against the identity.
    #[test]
    fn inverse_undoes_the_placement() {
        let (pose, point) = (turned(), DVec3::new(1.0, 2.0, 3.0));
        let back = pose.inverse().point(pose.point(point));
        assert!(back.distance(point) < 1e-12);
        assert!(pose.inverse().then_of(&pose).origin.length() < 1e-12);
    }

    /// Held against the extremes of the eight corners.
    #[test]
    fn bounds_hold_the_eight_corners_tightly() {
        let (pose, size) = (turned(), DVec3::new(30.0, 20.0, 10.0));
        let corners: Vec<DVec3> = (0..8)
            .map(|i| {
                let pick = |bit: i32, s: f64| if i & bit == 0 { 0.0 } else { s };
                pose.point(DVec3::new(pick(1, size.x), pick(2, size.y), pick(4, size.z)))
            })
            .collect();
        let least = corners.iter().copied().reduce(DVec3::min).expect("eight corners");
        let most = corners.iter().copied().reduce(DVec3::max).expect("eight corners");
        let (min, max) = pose.bounds_of(size);
        assert!(min.distance(least) < 1e-12 && max.distance(most) < 1e-12);
    }

    #[test]
    fn only_quarter_turns_are_square() {
        assert!(Pose::IDENTITY.is_square());
        assert!(!turned().is_square());
    }
}
