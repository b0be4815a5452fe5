//! Channels: where a groove or a housing runs, how its walls lean, and what the cutter leaves where it stops.

use casewright_solid::{Prism, Profile, Segment};
use glam::{DVec2, DVec3};

use super::words::FROM;
use super::{Face, Shaping, flag, number};
use crate::joint::{OVERSHOOT, axis_of, depth_range, plane_axes, polygon_prism, rect_prism};
use crate::length::trimmed as mm;

/// What a cutter leaves where a channel stops short of the end of the part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stop {
    /// Half round in plan: a round cutter that plunges into the face.
    Round,
    /// A ramp that rises to the face in an arc: a slot cutter, or a saw.
    Ramp {
        /// Diameter of the cutter, mm.
        diameter: f64,
    },
}

impl Stop {
    /// How far a channel so `width` and `depth` reaches beyond its full width and depth where it stops, mm.
    ///
    /// A cutter of diameter D at depth d leaves a ramp of √(d (D − d)), which is √(r² − (r − d)²) (geometry); a round one half
    /// the width of its channel.
    pub fn run_out(self, width: f64, depth: f64) -> f64 {
        match self {
            Stop::Round => width / 2.0,
            Stop::Ramp { diameter } => {
                let deep = depth.min(diameter / 2.0);
                (deep * (diameter - deep)).max(0.0).sqrt()
            }
        }
    }

    pub(super) fn figure(self) -> f64 {
        match self {
            Stop::Round => 0.0,
            Stop::Ramp { diameter } => diameter,
        }
    }

    /// Where a channel is at its full width and depth, and where its ramps begin and end.
    pub(super) fn describe_ends(self, through: [bool; 2], [from, to]: [f64; 2], run_out: f64) -> String {
        let (full, ramps) = match self {
            Stop::Round => ("full", None),
            Stop::Ramp { .. } => ("full depth", Some([mm(from - run_out), mm(to + run_out)])),
        };
        let (from, to) = (mm(from), mm(to));
        match (through, ramps) {
            ([true, true], _) => "through".to_owned(),
            ([true, false], None) => format!("from the first end, {full} to {to}"),
            ([false, true], None) => format!("{full} from {from}, to the second end"),
            ([false, false], None) => format!("stopped, {full} from {from} to {to}"),
            ([true, false], Some([_, last])) => format!("from the first end, {full} to {to}, ramp ends at {last}"),
            ([false, true], Some([first, _])) => format!("{full} from {from}, to the second end, ramp begins at {first}"),
            ([false, false], Some([first, last])) => {
                format!("stopped, {full} from {from} to {to}, ramps begin at {first} and end at {last}")
            }
        }
    }
}

/// A channel in a face along one of the part's axes, most often across the grain; its walls square or undercut. Figures in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Housing {
    /// The face it is cut into.
    pub face: Face,
    /// The axis along which it runs: 0 L, 1 W, 2 T; not the one through the face.
    pub along: usize,
    /// Its middle line, on the axis of the face across it.
    pub centre: f64,
    /// How wide at the face.
    pub width: f64,
    /// How deep.
    pub depth: f64,
    /// How much each wall leans back under the face over the depth; 0 for square walls.
    pub undercut: f64,
    /// Where it begins on `along`; runs out when that is 0.
    pub from: f64,
    /// Where it ends on `along`; runs out when that is the size of the part.
    pub to: f64,
    /// Half round beyond `from` and `to` where it stops, as a round cutter leaves it; else chopped square there. Square walls only.
    pub round: bool,
}

impl Housing {
    /// The axis of its face that runs across it.
    pub fn across(&self) -> usize {
        (0..3).find(|axis| *axis != self.along && *axis != self.face.axis()).unwrap_or(self.along)
    }

    /// Whether it runs out at its beginning and at its end in a part of `size`.
    pub fn through(&self, size: DVec3) -> [bool; 2] {
        [self.from <= 0.0, self.to >= size[self.along]]
    }
}

impl Shaping for Housing {
    fn name(&self) -> &'static str {
        if self.undercut > 0.0 { "dovetail housing" } else { "housing" }
    }

    fn describe(&self) -> String {
        let Housing { face, along, centre, width, depth, undercut, from, to, round } = *self;
        let walls = if undercut > 0.0 { format!(" and {} at the bottom", mm(width + 2.0 * undercut)) } else { String::new() };
        let ends = if round { ", half round beyond" } else { "" };
        format!(
            "{} wide{walls}, {} deep, in the {}, middle {} {}, from {} to {} {}{ends}",
            mm(width),
            mm(depth),
            face.words(),
            mm(centre),
            FROM[self.across()],
            mm(from),
            mm(to),
            FROM[along.min(2)]
        )
    }

    fn figures(&self) -> Vec<f64> {
        let Housing { face, along, centre, width, depth, undercut, from, to, round } = *self;
        vec![number(face), along as f64, centre, width, depth, undercut, from, to, flag(round)]
    }

    fn shift_along(&mut self, by: f64) {
        if self.along == 0 {
            (self.from, self.to) = (self.from + by, self.to + by);
        } else if self.face.axis() != 0 {
            self.centre += by;
        } else if self.face.is_first() {
            self.depth += by;
        }
    }

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let Housing { face, along, centre, width, depth, undercut, from, to, round } = *self;
        let through = self.through(size);
        let [start, end] = overshot(through, [from, to], size[along]);
        let half = width / 2.0;
        if undercut.abs() <= f64::EPSILON {
            return channel(face, along, centre, width, depth, [from, to], through, round.then_some(Stop::Round), size);
        }
        // The walls are carried on past the face, so that no skin is left.
        let lean = undercut / depth;
        let [at_face, at_bottom] = [-OVERSHOOT, depth].map(|deep| (half + lean * deep).max(half / 2.0));
        let corner = |side: f64, half: f64, deep: f64| {
            let mut corner = DVec3::ZERO;
            corner[self.across()] = centre + side * half;
            corner[face.axis()] = from_face(face, size, deep);
            corner
        };
        let corners = [
            corner(-1.0, at_face, -OVERSHOOT),
            corner(1.0, at_face, -OVERSHOOT),
            corner(1.0, at_bottom, depth),
            corner(-1.0, at_bottom, depth),
        ];
        polygon_prism(along, start, end, &corners).into_iter().collect()
    }
}

/// The place `deep` below a face, on the face's axis.
pub(super) fn from_face(face: Face, size: DVec3, deep: f64) -> f64 {
    if face.is_first() { deep } else { size[face.axis()] - deep }
}

/// From and to, carried on past the ends where a cut runs out there.
pub(super) fn overshot(through: [bool; 2], [from, to]: [f64; 2], extent: f64) -> [f64; 2] {
    [if through[0] { -OVERSHOOT } else { from }, if through[1] { extent + OVERSHOOT } else { to }]
}

/// The prism of a square-walled channel in a face of a part of `size`, along an axis of that face, at full width and depth from and
/// to there. Where it does not run out it stops as `stop` says; chopped square when that is none.
#[expect(clippy::too_many_arguments, reason = "the figures of a channel; named by both callers")]
pub(crate) fn channel(
    face: Face,
    along: usize,
    centre: f64,
    width: f64,
    depth: f64,
    full: [f64; 2],
    through: [bool; 2],
    stop: Option<Stop>,
    size: DVec3,
) -> Vec<Prism> {
    let axis = face.axis();
    let (u, _) = plane_axes(axis);
    let (low, high) = depth_range(face, size, depth);
    let point = |l: f64, across: f64| if u == along { DVec2::new(l, across) } else { DVec2::new(across, l) };
    let [start, end] = overshot(through, full, size[along]);
    let half = width / 2.0;
    match stop {
        Some(Stop::Ramp { diameter }) if through != [true, true] => {
            let across = 3 - axis - along;
            let profile = ramped(face, along, across, depth, [start, end], through, diameter, size);
            profile.map(|profile| Prism { axis: axis_of(across), from: centre - half, to: centre + half, profile }).into_iter().collect()
        }
        Some(Stop::Round) if through != [true, true] => {
            // An end that runs out overshoots by more than its round.
            let round = |through: bool| if through { width } else { half };
            let (start, end) = (start - round(through[0]), end + round(through[1]));
            let middle = point(f64::midpoint(start, end), centre);
            vec![Prism { axis: axis_of(axis), from: low, to: high, profile: Profile::stadium(middle, u == along, end - start, width) }]
        }
        _ => vec![rect_prism(axis, low, high, point(start, centre - half), point(end, centre + half))],
    }
}

/// The outline of a channel seen from the side: level at full depth, rising in arcs of the cutter's radius where it stops.
#[expect(clippy::too_many_arguments, reason = "the figures of a channel")]
fn ramped(
    face: Face,
    along: usize,
    across: usize,
    depth: f64,
    [start, end]: [f64; 2],
    through: [bool; 2],
    diameter: f64,
    size: DVec3,
) -> Option<Profile> {
    let radius = diameter / 2.0;
    let ramp = Stop::Ramp { diameter }.run_out(0.0, depth);
    // A cutter sunk past its middle leaves an upright end above the arc.
    let arc_top = (depth - radius).max(0.0);
    let (u, _) = plane_axes(across);
    let place = |l: f64, deep: f64| {
        let deep = from_face(face, size, deep);
        if u == along { DVec2::new(l, deep) } else { DVec2::new(deep, l) }
    };
    let arc = |from: DVec2, to: DVec2, centre: DVec2| Segment::Arc { to, centre, ccw: (from - centre).perp_dot(to - centre) > 0.0 };
    let line = |l: f64, deep: f64| Segment::Line { to: place(l, deep) };
    let mut path = vec![line(end, depth)];
    if through[1] {
        path.push(line(end, -OVERSHOOT));
    } else {
        path.push(arc(place(end, depth), place(end + ramp, arc_top), place(end, depth - radius)));
        path.push(line(end + ramp, -OVERSHOOT));
    }
    if through[0] {
        path.push(line(start, -OVERSHOOT));
    } else {
        path.push(line(start - ramp, -OVERSHOOT));
        path.push(line(start - ramp, arc_top));
        path.push(arc(place(start - ramp, arc_top), place(start, depth), place(start, depth - radius)));
    }
    Profile::path(place(start, depth), path).ok()
}
