//! Arcs as straight facets, and what is asked of the polygons that come of it.

use glam::DVec2;

use crate::profile::{Profile, SAME_POINT, Segment};

/// How finely arcs are cut into straight facets.
///
/// The corners lie on the true circle at whole fractions of a turn counted from the u axis, so
/// that concentric arcs nest and quadrants are exact; an arc's own ends are kept as well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Facets {
    /// As many facets as keep the chord within this distance of the arc, mm (above zero).
    ChordError(f64),
    /// So many facets to the full turn; taken up to a multiple of 4, between 4 and 1024.
    PerTurn(u32),
}

impl Facets {
    /// Facets to the full turn for a circle of `radius` mm: a multiple of 4 within 4 to 1024.
    pub fn per_turn(self, radius: f64) -> u32 {
        let wanted = match self {
            Self::PerTurn(count) => count,
            Self::ChordError(error) => {
                // A chord of angle a leaves its arc by r (1 - cos a/2). Twelve facets at the
                // least: a peg must look round however small it is.
                let cosine = 1.0 - error / radius;
                let step = 2.0 * cosine.clamp(-1.0, 1.0).acos();
                let count = (std::f64::consts::TAU / step).ceil();
                if count.is_finite() { (count as u32).max(12) } else { 1024 }
            }
        };
        wanted.clamp(4, 1024).next_multiple_of(4)
    }
}

/// What the straight edge that starts at a corner comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct WallTag {
    /// The segment of the profile.
    pub segment: u32,
    /// The centre of the arc that the edge is a facet of.
    pub arc: Option<DVec2>,
}

/// Calls `visit` with each corner of the faceted outline in order, and the tag of the edge that
/// starts there.
pub(crate) fn walk(profile: &Profile, facets: Facets, mut visit: impl FnMut(DVec2, WallTag)) {
    let mut from = profile.start();
    for (index, segment) in profile.segments().iter().enumerate() {
        let segment_index = index as u32;
        match *segment {
            Segment::Line { .. } => visit(from, WallTag { segment: segment_index, arc: None }),
            Segment::Arc { to, centre, ccw } => {
                let tag = WallTag { segment: segment_index, arc: Some(centre) };
                visit(from, tag);
                arc_corners(from, to, centre, ccw, facets, |corner| visit(corner, tag));
            }
        }
        from = segment.to();
    }
}

/// The corners strictly between the ends of an arc.
fn arc_corners(from: DVec2, to: DVec2, centre: DVec2, ccw: bool, facets: Facets, mut visit: impl FnMut(DVec2)) {
    let radius = from.distance(centre);
    if radius <= SAME_POINT {
        return;
    }
    let count = facets.per_turn(radius);
    let steps = f64::from(count) / std::f64::consts::TAU;
    let step_of = |p: DVec2| (p - centre).to_angle() * steps;
    let (first, mut last) = (step_of(from), step_of(to));
    let turn = f64::from(count);
    // Half a thousandth of a step: nearer to an end than that, a corner would be a sliver.
    let sliver = 5e-4;
    if ccw {
        if last <= first + sliver {
            last += turn;
        }
        let mut k = (first + sliver).ceil();
        while k < last - sliver {
            visit(centre + radius * unit(k as i64, count));
            k += 1.0;
        }
    } else {
        if last >= first - sliver {
            last -= turn;
        }
        let mut k = (first - sliver).floor();
        while k > last + sliver {
            visit(centre + radius * unit(k as i64, count));
            k -= 1.0;
        }
    }
}

/// The unit vector at `step` of `count` steps to the turn, exact at the quadrants and with the
/// same figures in all four.
fn unit(step: i64, count: u32) -> DVec2 {
    let count = i64::from(count);
    let quarter = count / 4;
    let step = step.rem_euclid(count);
    let angle = (step % quarter) as f64 * (std::f64::consts::TAU / count as f64);
    let first = DVec2::new(angle.cos(), angle.sin());
    match step / quarter {
        0 => first,
        1 => first.perp(),
        2 => -first,
        _ => -first.perp(),
    }
}

/// The signed area of a polygon, mm²; positive when counter-clockwise.
pub(crate) fn area(corners: &[DVec2]) -> f64 {
    let Some(&origin) = corners.first() else {
        return 0.0;
    };
    let twice: f64 = edges(corners).map(|(a, b)| (a - origin).perp_dot(b - origin)).sum();
    twice / 2.0
}

/// The edges of a closed polygon.
pub(crate) fn edges(corners: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
    let next = corners.iter().cycle().skip(1);
    corners.iter().copied().zip(next.copied())
}

/// Whether two edges that are not neighbours meet, or two neighbours fold onto each other.
pub(crate) fn crosses_itself(corners: &[DVec2]) -> bool {
    let count = corners.len();
    let edge = |i: usize| (corners[i], corners[(i + 1) % count]);
    for i in 0..count {
        let (a, b) = edge(i);
        let (_, after) = edge((i + 1) % count);
        let (along, onward) = (b - a, after - b);
        let folds = along.perp_dot(onward).abs() <= 1e-12 * along.length() * onward.length() && along.dot(onward) < 0.0;
        if folds {
            return true;
        }
        for j in i + 2..count {
            if i == 0 && j == count - 1 {
                continue;
            }
            let (c, d) = edge(j);
            if segments_meet(a, b, c, d) {
                return true;
            }
        }
    }
    false
}

fn segments_meet(a: DVec2, b: DVec2, c: DVec2, d: DVec2) -> bool {
    let apart = |p: DVec2, q: DVec2, r: DVec2, s: DVec2| p.x.max(q.x) < r.x.min(s.x) || p.y.max(q.y) < r.y.min(s.y);
    if apart(a, b, c, d) || apart(c, d, a, b) {
        return false;
    }
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    side(a, b, c) * side(a, b, d) <= 0.0 && side(c, d, a) * side(c, d, b) <= 0.0
}
