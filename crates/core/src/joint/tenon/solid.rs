//! What a tenon and a recess are as prisms.

use casewright_solid::{Axis, Prism, Profile, Segment};
use glam::{DVec2, DVec3};

use crate::joint::{OVERSHOOT, axis_of, depth_range, plane_axes, rect_prism};
use crate::model::{Face, Feature, Step};

/// The prism of a mortise, or of a recess, which runs out where it reaches an edge or an end.
pub(in crate::joint) fn pocket_prisms(feature: &Feature, size: DVec3) -> Vec<Prism> {
    let (Feature::Mortise { face, centre, along, length, width, depth, round }
    | Feature::Recess { face, centre, along, length, width, depth, round }) = *feature
    else {
        return Vec::new();
    };
    let runs_out = matches!(feature, Feature::Recess { .. });
    let axis = face.axis();
    let (u, v) = plane_axes(axis);
    let middle = DVec2::new(centre[u], centre[v]);
    let along_u = along == u;
    let profile = if round {
        Profile::stadium(middle, along_u, length, width)
    } else {
        let half = if along_u { DVec2::new(length, width) } else { DVec2::new(width, length) } / 2.0;
        let (mut low, mut high) = (middle - half, middle + half);
        for (at, extent) in [(0, size[u]), (1, size[v])].into_iter().filter(|_| runs_out) {
            if low[at] <= 1e-6 {
                low[at] = low[at].min(-OVERSHOOT);
            }
            if high[at] >= extent - 1e-6 {
                high[at] = high[at].max(extent + OVERSHOOT);
            }
        }
        Profile::rect(low, high)
    };
    let (from, to) = if runs_out { pocket_range(face, size, depth) } else { depth_range(face, size, depth) };
    vec![Prism { axis: axis_of(axis), from, to, profile }]
}

/// The depth range of a pocket, carried on past the far face where it goes through.
pub(in crate::joint) fn pocket_range(face: Face, size: DVec3, depth: f64) -> (f64, f64) {
    if depth >= size[face.axis()] - 1e-9 { (-OVERSHOOT, size[face.axis()] + OVERSHOOT) } else { depth_range(face, size, depth) }
}

/// Everything of an end that is cut away so that its tenons and haunches stay.
pub(in crate::joint) fn tenon_prisms(feature: &Feature, size: DVec3) -> Vec<Prism> {
    let Feature::Tenon { second_end, length, along, cheeks, ref steps, mitre, round } = *feature else { return Vec::new() };
    if !(1..=2).contains(&along) {
        return Vec::new();
    }
    let end = End { second: second_end, length, size, along };
    let (extent, through) = (size[along], size[3 - along]);
    // What reaches an edge of the blank is carried on past it, so that no skin is left.
    let past = |at: f64, extent: f64| {
        if at <= 1e-9 {
            -OVERSHOOT
        } else if at >= extent - 1e-9 {
            extent + OVERSHOOT
        } else {
            at
        }
    };
    let span = |from: f64, to: f64, extent: f64| (past(from, extent), past(to, extent));
    let sides = span(cheeks.0, cheeks.1, through);
    let mut prisms = Vec::new();
    let mut cut = |reach: f64, along: (f64, f64), across: (f64, f64)| {
        if along.1 > along.0 + 1e-9 && across.1 > across.0 + 1e-9 && reach < length - 1e-9 {
            prisms.push(end.beyond(reach, along, across));
        }
    };
    // Beside the cheeks, across the whole width.
    for (from, to) in [(0.0, cheeks.0), (cheeks.1, through)] {
        if to > from + 1e-9 {
            cut(0.0, span(0.0, extent, extent), span(from, to, through));
        }
    }
    // Between the cheeks, where nothing stands out, and beyond what is shorter.
    let mut at = 0.0_f64;
    for step in steps {
        if step.from > at + 1e-9 {
            cut(0.0, span(at, step.from, extent), sides);
        }
        cut(step.reach, span(step.from, step.to, extent), sides);
        at = at.max(step.to);
    }
    if extent > at + 1e-9 {
        cut(0.0, span(at, extent, extent), sides);
    }
    prisms.extend(mitre.and_then(|first_is_long| end.mitre(cheeks, first_is_long)));
    if round {
        let tenons = steps.iter().filter(|step| step.reach >= length - 1e-9);
        prisms.extend(
            tenons.flat_map(|step| [end.rounded(step.from, 1.0, cheeks, steps), end.rounded(step.to, -1.0, cheeks, steps)]).flatten(),
        );
    }
    prisms
}

/// An end of a part from which something stands out.
struct End {
    second: bool,
    length: f64,
    size: DVec3,
    along: usize,
}

impl End {
    /// From and to along L of what lies more than `reach` beyond the shoulder.
    fn range(&self, reach: f64) -> (f64, f64) {
        if self.second { (self.size.x - self.length + reach, self.size.x + OVERSHOOT) } else { (-OVERSHOOT, self.length - reach) }
    }

    /// A point of the section: along the width, across it.
    fn point(&self, along: f64, across: f64) -> DVec2 {
        if self.along == 1 { DVec2::new(along, across) } else { DVec2::new(across, along) }
    }

    fn beyond(&self, reach: f64, along: (f64, f64), across: (f64, f64)) -> Prism {
        let (from, to) = self.range(reach);
        rect_prism(0, from, to, self.point(along.0, across.0), self.point(along.1, across.1))
    }

    /// The corner that a mitre takes off: nothing at the long cheek, as much as it is thick at the other.
    fn mitre(&self, cheeks: (f64, f64), first_is_long: bool) -> Option<Prism> {
        let (long, short, way) = if first_is_long { (cheeks.0, cheeks.1, 1.0) } else { (cheeks.1, cheeks.0, -1.0) };
        let (tip, out) = if self.second { (self.size.x, 1.0) } else { (0.0, -1.0) };
        let over = OVERSHOOT;
        let outline = [
            (long - way * over, tip + out * over),
            (short + way * over, tip - out * (cheeks.1 - cheeks.0 + over)),
            (short + way * over, tip + out * over),
        ];
        // Along W the profile plane is (T, L), along T it is (L, W).
        let point = |(across, l): (f64, f64)| if self.along == 1 { DVec2::new(across, l) } else { DVec2::new(l, across) };
        let profile = Profile::polygon(outline.map(point).to_vec()).ok()?;
        let axis = if self.along == 1 { Axis::W } else { Axis::T };
        Some(Prism { axis, from: -over, to: self.size[self.along] + over, profile })
    }

    /// The two slivers that leave an edge of a tenon half round; beyond a haunch that touches it.
    fn rounded(&self, edge: f64, inward: f64, cheeks: (f64, f64), steps: &[Step]) -> Option<Prism> {
        let radius = (cheeks.1 - cheeks.0) / 2.0;
        let haunch = steps.iter().filter(|step| step.reach < self.length - 1e-9);
        let reach = haunch.filter(|step| (step.from - edge).abs() < 1e-6 || (step.to - edge).abs() < 1e-6).map(|step| step.reach);
        let (from, to) = self.range(reach.fold(0.0, f64::max));
        let (centre, out) = (edge + inward * radius, edge - inward * OVERSHOOT);
        let at = |along: f64, across: f64| self.point(along, across);
        let (low, high) = (at(centre, cheeks.0), at(centre, cheeks.1));
        // Seen with the width to the right, the arc of the left edge runs clockwise from the lower cheek to the upper one.
        let ccw = (inward < 0.0) == (self.along == 1);
        let path = Profile::path(
            low,
            vec![
                Segment::Arc { to: high, centre: at(centre, f64::midpoint(cheeks.0, cheeks.1)), ccw },
                Segment::Line { to: at(centre, cheeks.1 + OVERSHOOT) },
                Segment::Line { to: at(out, cheeks.1 + OVERSHOOT) },
                Segment::Line { to: at(out, cheeks.0 - OVERSHOOT) },
                Segment::Line { to: at(centre, cheeks.0 - OVERSHOOT) },
                Segment::Line { to: low },
            ],
        );
        path.ok().map(|profile| Prism { axis: Axis::L, from, to, profile })
    }
}
