//! Where prisms cut a plane.

use glam::DVec2;

use super::contours::{Contours, Rect, clip};
use super::plane::Plane;
use crate::cutter::Cutter;

/// Corners nearer than this to a sloping plane lie on it, mm.
const ON_PLANE: f64 = 5e-7;

/// Adds the section of a prism by the plane moved an infinitesimal step to the material's side,
/// counter-clockwise. Nothing outside `window` matters.
pub(super) fn section(plane: &Plane, cutter: &Cutter, window: Rect, out: &mut Contours) {
    let axis = cutter.axis.index();
    let depths = (cutter.lo, cutter.hi);
    if axis == plane.drop {
        if plane.is_square() {
            if within(plane, cutter) {
                out.push(cutter.outline.iter().copied());
            }
        } else {
            sloped_across_depth(plane, cutter, out);
        }
    } else if plane.is_square() || plane.slope[usize::from(axis != plane.x())] == 0.0 {
        // The plane runs along the prism's axis: strips between the crossings of its outline.
        for (a, b) in crossings(plane, cutter) {
            let (min, max) = if axis == plane.x() {
                (DVec2::new(depths.0, a), DVec2::new(depths.1, b))
            } else {
                (DVec2::new(a, depths.0), DVec2::new(b, depths.1))
            };
            out.push(Rect { min, max }.corners());
        }
    } else {
        sloped_along_prism(plane, cutter, window, out);
    }
}

/// Whether the material's side of a square plane lies between the prism's depths.
fn within(plane: &Plane, cutter: &Cutter) -> bool {
    let h = plane.height;
    if plane.positive { cutter.lo < h && h <= cutter.hi } else { cutter.lo <= h && h < cutter.hi }
}

/// The intervals in which the plane's trace runs inside the outline of a prism along the plane.
fn crossings(plane: &Plane, cutter: &Cutter) -> Vec<(f64, f64)> {
    // The outline's own coordinate that lies across the plane, and the one along it.
    let dropped = usize::from(cutter.axis.u().index() != plane.drop);
    let kept = 1 - dropped;
    let slope = plane.slope.x + plane.slope.y;
    let tolerance = if plane.is_square() { 0.0 } else { ON_PLANE };
    let height = |p: DVec2| p[dropped] - plane.height - slope * p[kept];
    // A step to the material's side decides corners that lie on the plane.
    let above = |h: f64| {
        if plane.positive { h >= -tolerance } else { h > tolerance }
    };
    let mut cuts: Vec<f64> = Vec::new();
    for (a, b) in crate::facet::edges(&cutter.outline) {
        let (ha, hb) = (height(a), height(b));
        if above(ha) == above(hb) {
            continue;
        }
        cuts.push(if ha.abs() <= tolerance {
            a[kept]
        } else if hb.abs() <= tolerance {
            b[kept]
        } else {
            a[kept] + (b[kept] - a[kept]) * (ha / (ha - hb))
        });
    }
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2).map(|pair| (pair[0], pair[1])).filter(|(a, b)| a < b).collect()
}

/// The prism runs along the dropped axis: its outline, between the lines where the plane reaches
/// its depths.
fn sloped_across_depth(plane: &Plane, cutter: &Cutter, out: &mut Contours) {
    let sloping = if plane.slope.x == 0.0 { DVec2::Y } else { DVec2::X };
    let slope = plane.slope.x + plane.slope.y;
    let (a, b) = ((cutter.lo - plane.height) / slope, (cutter.hi - plane.height) / slope);
    push_between(&cutter.outline, sloping, a.min(b), a.max(b), out);
}

/// The prism runs along the coordinate that the plane slopes with: its outline, stretched onto
/// the plane, between its depths.
fn sloped_along_prism(plane: &Plane, cutter: &Cutter, window: Rect, out: &mut Contours) {
    let along = usize::from(plane.slope.x == 0.0);
    let slope = plane.slope[along];
    let at = |m: f64| plane.height + slope * m;
    let (a, b) = (at(window.min[along]), at(window.max[along]));
    let dropped = usize::from(cutter.axis.u().index() != plane.drop);
    let across = if dropped == 0 { DVec2::X } else { DVec2::Y };
    // First cut to the window: on a gentle slope the stretched outline would reach very far.
    let (mut near, mut far) = (Vec::new(), Vec::new());
    clip(&cutter.outline, across, a.min(b) - 1.0, &mut near);
    clip(&near, -across, -(a.max(b) + 1.0), &mut far);
    let stretch = |p: &DVec2| {
        let mut point = DVec2::ZERO;
        point[along] = (p[dropped] - plane.height) / slope;
        point[1 - along] = p[1 - dropped];
        point
    };
    let mut stretched: Vec<DVec2> = far.iter().map(stretch).collect();
    // The two coordinates have changed places, and a falling slope mirrors once more.
    if slope > 0.0 {
        stretched.reverse();
    }
    let direction = if along == 0 { DVec2::X } else { DVec2::Y };
    push_between(&stretched, direction, cutter.lo, cutter.hi, out);
}

fn push_between(outline: &[DVec2], along: DVec2, least: f64, most: f64, out: &mut Contours) {
    let (mut near, mut far) = (Vec::new(), Vec::new());
    clip(outline, along, least, &mut near);
    clip(&near, -along, -most, &mut far);
    if far.len() > 2 {
        out.push(far);
    }
}
