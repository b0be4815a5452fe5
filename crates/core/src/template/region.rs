//! The stretch of a part that a template shows, and what is left of the wood in it.

use casewright_solid::{Axis, Prism, Solid};
use glam::{BVec4, DVec2, DVec3};

use super::{Of, Seen};
use crate::model::Part;
use crate::shapes::flat::{self, Outline};

/// So much of the part is shown beyond what is cut, mm.
const BEYOND: f64 = 40.0;

/// A stretch of a part: along it and across it, mm.
pub(super) struct Region {
    seen: Seen,
    part: DVec2,
    pub min: DVec2,
    pub max: DVec2,
}

impl Region {
    /// What is shown of a part whose cuts reach so deep and so wide.
    pub fn of(part: &Part, seen: Seen, of: Of, deep: f64, wide: f64) -> Region {
        let whole = DVec2::new(part.lwt().x, part.lwt()[seen.across()]);
        let (deep, wide) = ((deep + BEYOND).min(whole.x), (wide + BEYOND).min(whole.y));
        let along = |second: bool| if second { (whole.x - deep, whole.x) } else { (0.0, deep) };
        let (x, y) = match of {
            Of::Whole => ((0.0, whole.x), (0.0, whole.y)),
            Of::End { second } => (along(second), (0.0, whole.y)),
            Of::Corner { second, far } => (along(second), if far { (whole.y - wide, whole.y) } else { (0.0, wide) }),
        };
        Region { seen, part: whole, min: DVec2::new(x.0, y.0), max: DVec2::new(x.1, y.1) }
    }

    /// Across and along, mm.
    pub fn size(&self) -> DVec2 {
        let size = self.max - self.min;
        DVec2::new(size.y, size.x)
    }

    /// Whether the part goes on beyond the left, the right, the lower and the upper side as it is drawn.
    pub fn goes_on(&self) -> BVec4 {
        let (near, far) = (self.min.y > 1e-6, self.max.y < self.part.y - 1e-6);
        // On the face edge the face side lies at the right.
        let (left, right) = match self.seen {
            Seen::FaceSide => (near, far),
            Seen::FaceEdge => (far, near),
        };
        BVec4::new(left, right, self.min.x > 1e-6, self.max.x < self.part.x - 1e-6)
    }

    /// What is left of the wood: across from the left, along from below.
    pub fn outlines(&self, solid: &Solid) -> Vec<Outline> {
        let (axis, size) = (self.seen.axis(), self.max - self.min);
        let deep = solid.size[axis.index()];
        let (blank, back) = match self.seen {
            Seen::FaceSide => (DVec3::new(size.x, size.y, deep), -self.min),
            // The profile of a cut through the width lies in thickness and length.
            Seen::FaceEdge => (DVec3::new(size.x, deep, size.y), -DVec2::new(self.min.y, self.min.x)),
        };
        let through = solid.prisms.iter().filter(|prism| flat::goes_through(prism, axis, solid));
        let prisms = through.map(|prism| Prism { profile: prism.profile.moved(back), ..prism.clone() }).collect();
        let found = flat::outlines(&Solid { size: blank, prisms }, axis);
        found.iter().map(|outline| self.upright(outline, size.y)).collect()
    }

    /// As it is drawn, along the part up.
    fn upright(&self, outline: &Outline, wide: f64) -> Outline {
        match self.seen.axis() {
            // Seen on the face side the face edge is at the left, so along and across change places.
            Axis::T | Axis::L => outline.map(|at| DVec2::new(at.y, at.x), true),
            Axis::W => outline.map(|at| DVec2::new(wide - at.y, at.x), false),
        }
    }
}
