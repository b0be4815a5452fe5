//! Grooves for panels: their width from the sheet as measured, and the passes that make them.
//!
//! Width: panel and fit, a slip fit of 0.1 to 0.4 mm (common practice, no source). A stopped groove keeps its full width as far
//! as the panel reaches and ends half round beyond, as a round cutter leaves it.

use casewright_solid::{Prism, Profile};
use glam::{DVec2, DVec3};

use super::{Joining, JointKind, OVERSHOOT, axis_of, depth_range, face_and_point, plane_axes, rect_prism};
use crate::design::{Groove, GrooveWidth, Sheet};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, Contact, Feature, JointId};
use crate::place::Dir;

/// The figures of a groove, as cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Width of the groove, mm.
    pub width: f64,
    /// Depth of the groove, mm.
    pub depth: f64,
    /// Measured thickness of the panel, mm.
    pub panel: f64,
    /// How far short of the bottom the panel ends, mm.
    pub play: f64,
    /// How the cutter makes it.
    pub passes: Option<Passes>,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let passes = self.passes.map_or_else(
            || ", too narrow for the cutter".to_owned(),
            |passes| {
                if passes.count == 1 {
                    ", 1 pass".to_owned()
                } else {
                    format!(", {} passes, the outer ones {} off centre", passes.count, trimmed_to(passes.offset, 3))
                }
            },
        );
        format!("groove {} × {} for {}{passes}", trimmed(self.width), trimmed(self.depth), trimmed(self.panel))
    }

    /// Out of the groove; a part that has four grooves round it can go none of its four ways until one of them is off.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite(), contact.along, contact.along.opposite()]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "never glued, so that the panel is free (common practice, no source)"
    }
}

/// How many passes of a cutter make a groove, and how far off the centre line the outer ones are set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passes {
    /// How many.
    pub count: u32,
    /// From the middle of the groove to the middle of the cutter in the two outer passes, mm.
    pub offset: f64,
}

/// The passes that widen a groove to `width` with a cutter of diameter `cutter`, each as wide as the cutter.
///
/// `None` when the groove is narrower than the cutter by more than a hundredth of a millimetre. A sheet sold as 12 that measures
/// 12.75, cut with a 12.7 cutter: two passes, each 0.025 off centre and half the fit besides (common practice, no source).
pub fn passes(width: f64, cutter: f64) -> Option<Passes> {
    const NO_MATTER: f64 = 0.01;
    let over = width - cutter;
    if !over.is_finite() || cutter <= 0.0 || over < -NO_MATTER {
        return None;
    }
    if over <= NO_MATTER / 2.0 {
        return Some(Passes { count: 1, offset: 0.0 });
    }
    // Between the two outer passes the cutter must leave nothing standing.
    let between = (over / cutter).ceil();
    Some(Passes { count: 1 + between as u32, offset: over / 2.0 })
}

/// The groove that the design wants for a sheet.
pub fn figures(wanted: &Groove, sheet: &Sheet) -> Figures {
    let width = match wanted.width_by {
        GrooveWidth::FromSheet => sheet.measured.to_mm() + wanted.fit.to_mm(),
        GrooveWidth::Own => wanted.own_width.to_mm(),
    };
    Figures {
        width,
        depth: wanted.depth.to_mm(),
        panel: sheet.measured.to_mm(),
        play: wanted.play.to_mm(),
        passes: passes(width, wanted.cutter.to_mm()),
    }
}

/// How far beyond its full width a stopped groove reaches, mm: the radius of the round that the cutter leaves.
pub fn run_out(width: f64) -> f64 {
    width / 2.0
}

pub(super) fn prisms(feature: &Feature, size: DVec3) -> Vec<Prism> {
    let Feature::Groove { face, centre, width, depth, from, to, through } = *feature else { return Vec::new() };
    let axis = face.axis();
    let (u, _) = plane_axes(axis);
    let (low, high) = depth_range(face, size, depth);
    // In the profile plane L is the first axis on a side (T) and the second on an edge (W).
    let point = |l: f64, across: f64| if u == 0 { DVec2::new(l, across) } else { DVec2::new(across, l) };
    let half = width / 2.0;
    let start = if through[0] { -OVERSHOOT } else { from };
    let end = if through[1] { size.x + OVERSHOOT } else { to };
    if through == [true, true] {
        return vec![rect_prism(axis, low, high, point(start, centre - half), point(end, centre + half))];
    }
    if through == [false, false] {
        let middle = point(f64::midpoint(start, end), centre);
        let profile = Profile::stadium(middle, u == 0, end - start + width, width);
        return vec![Prism { axis: axis_of(axis), from: low, to: high, profile }];
    }
    // One end runs out: a stadium that overshoots that end by more than its round.
    let (start, end) = if through[0] { (start - width, end) } else { (start, end + width) };
    let middle = point(f64::midpoint(start, end), centre);
    vec![Prism { axis: axis_of(axis), from: low, to: high, profile: Profile::stadium(middle, u == 0, end - start + width, width) }]
}

/// Cuts the groove for a panel's edge into the member that receives it. It runs out where the panel does, and stops where it stops.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Groove, sheet: &Sheet) -> JointKind {
    let figures = figures(wanted, sheet);
    let joint = assembly.joint(id);
    let contact = joint.contact;
    let part = assembly.part(joint.b);
    let (face, middle) = face_and_point(part, -contact.into.vector(), contact.centre);
    // As much longer than the panel as the panel is free in the grooves that cross this one.
    let half = contact.extent.x / 2.0 + figures.play;
    let (from, to) = (middle.x - half, middle.x + half);
    let length = part.size[0].mm;
    let centre = if face.axis() == 1 { middle.z } else { middle.y };
    let through = [from <= run_out(figures.width), to >= length - run_out(figures.width)];
    let feature =
        Feature::Groove { face, centre, width: figures.width, depth: figures.depth, from: from.max(0.0), to: to.min(length), through };
    let part = part.id;
    assembly.cut(part, feature, Some(id));
    JointKind::Groove(figures)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn passes_cover_the_whole_groove_and_no_more() {
        for step in 1..400 {
            let width = f64::from(step) * 0.1;
            for cutter in [3.0, 6.0, 6.35, 12.7] {
                let Some(passes) = passes(width, cutter) else {
                    assert!(width < cutter - 0.009);
                    continue;
                };
                assert!((2.0 * passes.offset + cutter - width).abs() <= 0.01 + 1e-9, "{width} with {cutter}");
                let step = if passes.count > 1 { 2.0 * passes.offset / f64::from(passes.count - 1) } else { 0.0 };
                assert!(step <= cutter + 1e-9);
            }
        }
    }
}
