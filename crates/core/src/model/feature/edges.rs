//! Edges worked to a shape: rabbets along them, arrises rounded over and chamfered, faces tapered.

use casewright_solid::{Prism, Profile, Segment};
use glam::{DVec2, DVec3};

use super::channels::{from_face, overshot};
use super::{Face, Shaping, end, flag, number, side};
use crate::joint::{OVERSHOOT, axis_of, plane_axes, polygon_prism, rect_prism};
use crate::length::trimmed as mm;

/// A step along an edge: what is left is a tongue, or what is gone a seat for a back. Figures in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeRabbet {
    /// Along the back edge; else along the face edge.
    pub back_edge: bool,
    /// Taken off the back side; else off the face side.
    pub back_side: bool,
    /// Along W.
    pub width: f64,
    /// Along T.
    pub depth: f64,
    /// Where it begins along L; runs out at the first end when that is 0.
    pub from: f64,
    /// Where it ends along L; runs out at the second end when that is the length.
    pub to: f64,
}

impl Shaping for EdgeRabbet {
    fn name(&self) -> &'static str {
        "rabbet along an edge"
    }

    fn describe(&self) -> String {
        let EdgeRabbet { back_edge, back_side, width, depth, from, to } = *self;
        let edge = if back_edge { "back edge" } else { "face edge" };
        format!("{} wide, {} off the {} along the {edge}, from {} to {}", mm(width), mm(depth), side(back_side), mm(from), mm(to))
    }

    fn figures(&self) -> Vec<f64> {
        let EdgeRabbet { back_edge, back_side, width, depth, from, to } = *self;
        vec![flag(back_edge), flag(back_side), width, depth, from, to]
    }

    fn shift_along(&mut self, by: f64) {
        (self.from, self.to) = (self.from + by, self.to + by);
    }

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let range = |far: bool, extent: f64, cut: f64| if far { (extent - cut, extent + OVERSHOOT) } else { (-OVERSHOOT, cut) };
        let (w, t) = (range(self.back_edge, size.y, self.width), range(self.back_side, size.z, self.depth));
        let [from, to] = overshot([self.from <= 0.0, self.to >= size.x], [self.from, self.to], size.x);
        // Along L the profile plane is (W, T).
        vec![rect_prism(0, from, to, DVec2::new(w.0, t.0), DVec2::new(w.1, t.1))]
    }
}

/// An arris rounded over, along its whole length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeRound {
    /// The two faces that meet in it.
    pub arris: [Face; 2],
    /// Radius, mm.
    pub radius: f64,
}

/// An arris chamfered, along its whole length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeChamfer {
    /// The two faces that meet in it.
    pub arris: [Face; 2],
    /// How much is taken off each of the two faces, mm.
    pub off: [f64; 2],
}

/// A point of the profile plane of the arris, so far in from each of its two faces.
fn in_from(arris: [Face; 2], size: DVec3, along_second: f64, along_first: f64) -> DVec3 {
    let mut point = DVec3::ZERO;
    point[arris[0].axis()] = from_face(arris[0], size, along_second);
    point[arris[1].axis()] = from_face(arris[1], size, along_first);
    point
}

/// The axis along which an arris runs; none when the two faces do not meet.
fn run(arris: [Face; 2]) -> Option<usize> {
    (0..3).find(|axis| arris.iter().all(|face| face.axis() != *axis)).filter(|_| arris[0].axis() != arris[1].axis())
}

impl Shaping for EdgeRound {
    fn name(&self) -> &'static str {
        "rounded arris"
    }

    fn describe(&self) -> String {
        format!("radius {} between {} and {}", mm(self.radius), self.arris[0].words(), self.arris[1].words())
    }

    fn figures(&self) -> Vec<f64> {
        vec![number(self.arris[0]), number(self.arris[1]), self.radius]
    }

    fn shift_along(&mut self, _: f64) {}

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let (Some(axis), r) = (run(self.arris), self.radius) else { return Vec::new() };
        if r <= 0.0 {
            return Vec::new();
        }
        let (u, v) = plane_axes(axis);
        let place = |a: f64, b: f64| {
            let point = in_from(self.arris, size, a, b);
            DVec2::new(point[u], point[v])
        };
        let (start, end, centre) = (place(0.0, r), place(r, 0.0), place(r, r));
        let path = vec![
            Segment::Arc { to: end, centre, ccw: (start - centre).perp_dot(end - centre) > 0.0 },
            Segment::Line { to: place(r, -OVERSHOOT) },
            Segment::Line { to: place(-OVERSHOOT, -OVERSHOOT) },
            Segment::Line { to: place(-OVERSHOOT, r) },
        ];
        let profile = Profile::path(start, path).ok();
        profile.map(|profile| Prism { axis: axis_of(axis), from: -OVERSHOOT, to: size[axis] + OVERSHOOT, profile }).into_iter().collect()
    }
}

impl Shaping for EdgeChamfer {
    fn name(&self) -> &'static str {
        "chamfer"
    }

    fn describe(&self) -> String {
        let [first, second] = self.arris;
        format!("{} off the {} and {} off the {}", mm(self.off[0]), first.words(), mm(self.off[1]), second.words())
    }

    fn figures(&self) -> Vec<f64> {
        vec![number(self.arris[0]), number(self.arris[1]), self.off[0], self.off[1]]
    }

    fn shift_along(&mut self, _: f64) {}

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let (Some(axis), [on_first, on_second]) = (run(self.arris), self.off) else { return Vec::new() };
        if on_first <= 0.0 || on_second <= 0.0 {
            return Vec::new();
        }
        // The sloping cut carried on past both faces by as much again.
        let corner = |a: f64, b: f64| in_from(self.arris, size, a * on_second, b * on_first);
        let corners = [corner(-1.0, 2.0), corner(2.0, -1.0), corner(-1.0, -1.0)];
        polygon_prism(axis, -OVERSHOOT, size[axis] + OVERSHOOT, &corners).into_iter().collect()
    }
}

/// A face planed to a slope toward an end, as on a tapered leg. Figures in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taper {
    /// The edge or side that slopes.
    pub face: Face,
    /// Toward the second end; else toward the first.
    pub second_end: bool,
    /// How long the slope is.
    pub length: f64,
    /// How much is off at the end.
    pub inset: f64,
}

impl Shaping for Taper {
    fn name(&self) -> &'static str {
        // As long as it is deep it is at 45°.
        if (self.length - self.inset).abs() < 1e-9 { "mitre" } else { "taper" }
    }

    fn describe(&self) -> String {
        format!("{} off the {} at the {}, over {}", mm(self.inset), self.face.words(), end(self.second_end), mm(self.length))
    }

    fn figures(&self) -> Vec<f64> {
        vec![number(self.face), flag(self.second_end), self.length, self.inset]
    }

    /// A tenon that stands out beyond the first end is not tapered; the slope begins at the shoulder.
    fn shift_along(&mut self, by: f64) {
        if !self.second_end {
            self.length += by;
        }
    }

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let Taper { face, second_end, length, inset } = *self;
        if face.axis() == 0 || length <= 0.0 || inset <= 0.0 {
            return Vec::new();
        }
        let lean = inset / length;
        let corner = |l: f64, deep: f64| {
            let mut corner = DVec3::ZERO;
            corner.x = if second_end { size.x - l } else { l };
            corner[face.axis()] = from_face(face, size, deep);
            corner
        };
        // The slope carried on past the end and past the face.
        let corners = [
            corner(-OVERSHOOT, inset + lean * OVERSHOOT),
            corner(length + OVERSHOOT, -lean * OVERSHOOT),
            corner(-OVERSHOOT, -OVERSHOOT - lean * OVERSHOOT),
        ];
        let axis = 3 - face.axis();
        polygon_prism(axis, -OVERSHOOT, size[axis] + OVERSHOOT, &corners).into_iter().collect()
    }
}
