//! Grooves for panels: their width from the sheet as measured, and the passes that make them.
//!
//! Width: panel and fit, a slip fit of 0.1 to 0.4 mm (common practice, no source). A stopped groove keeps its full width and depth as
//! far as the panel reaches, so that the panel stays clear of what the cutter leaves beyond: a half round, or a ramp of √(d (D − d))
//! for a slot cutter of diameter D at depth d (40 at 10: 17.3; 150 at 10: 37.4; geometry).

use casewright_solid::Prism;
use glam::DVec3;

use super::members::{Span, cut_back, reach, slides};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Joining, JointKind, face_and_point};
use crate::design::{CutterKind, Groove, GrooveWidth, PanelCorners, Sheet};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, Contact, Feature, JointId, PartId, Stop, channel};
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
    /// What the cutter leaves where it stops.
    pub stop: Stop,
    /// Whether it runs out of the member at the beginning and at the end of the contact.
    pub open: [bool; 2],
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
        let ramp = match self.stop {
            Stop::Ramp { .. } if self.open != [true, true] => {
                format!(", ramp {}", trimmed_to(self.stop.run_out(self.width, self.depth), 1))
            }
            Stop::Ramp { .. } | Stop::Round => String::new(),
        };
        format!("groove {} × {} for {}{passes}{ramp}", trimmed(self.width), trimmed(self.depth), trimmed(self.panel))
    }

    /// Out of the groove, and along it where it is open; a part that has four grooves round it can go none of its four ways until
    /// one of them is off.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        slides(contact, self.open, true)
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "never glued, so that the panel is free (common practice, no source)"
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "panel in groove, in thickness", class: Fit::Slip, clearance: self.width - self.panel }]
    }

    fn broken(&self) -> Vec<Broken> {
        let Stop::Ramp { diameter } = self.stop else { return Vec::new() };
        Rules::default().at_most(cutter_reach(diameter), self.depth, CUTTER_REACHES, "common practice, no source").broken()
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

/// Room left between the end of a tongue and the ramp or the round of its groove, mm (common practice, no source).
pub(super) const CLEAR_OF_STOP: f64 = 1.0;
/// Room between a slot cutter's rim and the nut or bearing on its arbor, as a radius, mm (common practice, no source).
const ARBOR: f64 = 8.0;

/// The rule of a slot cutter's reach.
pub(super) const CUTTER_REACHES: &str = "a slot cutter reaches no deeper than its arbor lets it";
/// How deep a slot cutter of that diameter reaches at most, mm.
pub(super) fn cutter_reach(diameter: f64) -> f64 {
    diameter / 2.0 - ARBOR
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
        stop: match wanted.cutter_kind {
            CutterKind::Round => Stop::Round,
            CutterKind::Slot => Stop::Ramp { diameter: wanted.cutter_diameter.to_mm() },
        },
        open: [false; 2],
    }
}

pub(super) fn prisms(feature: &Feature, size: DVec3) -> Vec<Prism> {
    let Feature::Groove { face, centre, width, depth, from, to, through, stop } = *feature else { return Vec::new() };
    channel(face, 0, centre, width, depth, [from, to], through, Some(stop), size)
}

/// Cuts the groove for a panel's edge into the member that receives it. It runs out where the panel does, and stops where it stops;
/// there the groove runs on past the panel's corners, or they are cut off.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Groove, sheet: &Sheet) -> JointKind {
    let mut figures = figures(wanted, sheet);
    let joint = assembly.joint(id);
    let (panel, contact) = (joint.a, joint.contact);
    let part = assembly.part(joint.b);
    let (face, middle) = face_and_point(part, -contact.into.vector(), contact.centre);
    // As much longer than the panel as the panel is free in the grooves that cross this one.
    let half = contact.extent.x / 2.0 + figures.play;
    let (from, to) = (middle.x - half, middle.x + half);
    let length = part.size[0].mm;
    let centre = if face.axis() == 1 { middle.z } else { middle.y };
    // Less than half its width from the end a maker runs it out.
    let through = [from <= figures.width / 2.0, to >= length - figures.width / 2.0];
    let span = Span::of(part, &contact);
    figures.open = span.in_order(through);
    let short = match wanted.corners {
        PanelCorners::Square => 0.0,
        PanelCorners::CutOff => figures.stop.run_out(figures.width, figures.depth).min(half - LEAST_FULL).max(0.0),
    };
    let from = if through[0] { from.max(0.0) } else { from + short };
    let to = if through[1] { to.min(length) } else { to - short };
    let feature = Feature::Groove { face, centre, width: figures.width, depth: figures.depth, from, to, through, stop: figures.stop };
    let part = part.id;
    assembly.cut(part, feature, Some(id));
    // The corner ends clear of what the cutter leaves; it stands the play short of where the groove does.
    let off = short - figures.play + CLEAR_OF_STOP;
    if short > 0.0 && off > 0.0 {
        cut_corners(assembly, id, panel, figures.open.map(|open| if open { 0.0 } else { off }));
    }
    JointKind::Groove(figures)
}

/// The least length of a groove at full depth, on either side of its middle, mm.
const LEAST_FULL: f64 = 1.0;

/// Cuts the corners off the edge of a panel that is in its groove: so far from the beginning and the end of the contact.
fn cut_corners(assembly: &mut Assembly, id: JointId, panel: PartId, off: [f64; 2]) {
    let contact = assembly.joint(id).contact;
    let part = assembly.part(panel);
    let (edge, _) = face_and_point(part, contact.into.vector(), contact.centre);
    let (reach, off) = (reach(part, &contact), Span::of(part, &contact).in_order(off));
    if reach > 0.0 && edge.axis() != 2 {
        cut_back(assembly, panel, id, edge, reach, off);
    }
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
