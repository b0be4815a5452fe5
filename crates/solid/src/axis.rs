//! The three axes of a part.

/// One of the three axes of a blank: along the grain, across it, through the thickness.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Axis {
    /// Along the grain; coordinate 0.
    L,
    /// Across the grain; coordinate 1.
    W,
    /// Through the thickness; coordinate 2.
    T,
}

impl Axis {
    /// The three axes in the order of their coordinates.
    pub const ALL: [Self; 3] = [Self::L, Self::W, Self::T];

    /// The coordinate this axis stands for: 0, 1 or 2.
    pub const fn index(self) -> usize {
        match self {
            Self::L => 0,
            Self::W => 1,
            Self::T => 2,
        }
    }

    /// The axis of the first profile coordinate of a prism along `self`.
    ///
    /// The order is cyclic, so that (`u`, `v`, `self`) is right handed:
    /// `L` has (`W`, `T`), `W` has (`T`, `L`), `T` has (`L`, `W`).
    #[must_use]
    pub const fn u(self) -> Self {
        match self {
            Self::L => Self::W,
            Self::W => Self::T,
            Self::T => Self::L,
        }
    }

    /// The axis of the second profile coordinate of a prism along `self`; see [`Axis::u`].
    #[must_use]
    pub const fn v(self) -> Self {
        self.u().u()
    }
}

#[cfg(test)]
mod tests {
    use super::Axis;
    use glam::DVec3;

    /// Held against the cross product of the unit vectors.
    #[test]
    fn profile_axes_and_sweep_axis_are_right_handed() {
        for axis in Axis::ALL {
            let unit = |a: Axis| DVec3::AXES[a.index()];
            assert_eq!(unit(axis.u()).cross(unit(axis.v())), unit(axis));
        }
    }
}
