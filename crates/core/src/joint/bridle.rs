//! Bridles: an open mortise over a tenon as wide as its part, at a corner or where an end straddles a part that passes.
//!
//! Thickness of the middle: a third of the part (common practice, no source). An open mortise and tenon corner was strongest 0.1 mm
//! tight (Elek et al. 2020, Eur. J. Wood Prod.).

use casewright_solid::Prism;
use glam::{DVec2, DVec3};

use super::fit::{Fit, Fitted};
use super::room::Frame;
use super::rules::{Broken, Rules};
use super::tenon::thickness_by_rule;
use super::{Fixing, Joining, JointKind, OVERSHOOT, face_and_point, local_axis, rect_prism};
use crate::design::Ruled;
use crate::length::{Length, trimmed};
use crate::model::{Assembly, Contact, Face, Feature, JointId, Part, Step};
use crate::origin::Size;
use crate::place::Dir;

/// A bridle that is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    /// Thickness of the tenon, mm; by rule a third of the part.
    pub thickness: Ruled,
    /// Open mortise less tenon in thickness, mm.
    pub fit: Length,
    /// Whether it is glued.
    pub glued: bool,
}

impl Default for Wanted {
    fn default() -> Wanted {
        Wanted { thickness: Ruled::ByRule, fit: Length::mm(0.1), glued: true }
    }
}

/// The figures of a bridle, as cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Thickness of the tenon, mm.
    pub thickness: f64,
    /// Length of the tenon, or of the open mortise where it straddles: the width of the other part, mm.
    pub length: f64,
    /// Thickness of the parts, mm.
    pub stock: f64,
    /// Open mortise less tenon, mm.
    pub fit: f64,
    /// The way out of the open mortise at a corner; none where an end straddles a part that passes.
    pub corner: Option<Dir>,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let words = if self.corner.is_some() { "corner bridle" } else { "bridle" };
        format!("{words}, tenon {} × {}", trimmed(self.thickness), trimmed(self.length))
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        std::iter::once(contact.into.opposite()).chain(self.corner).collect()
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "tenon in open mortise, in thickness", class: Fit::GluedSnug, clearance: self.fit }]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "two glued faces as wide as the parts; strongest 0.1 mm tight (Elek et al. 2020, Eur. J. Wood Prod.)"
    }

    fn broken(&self) -> Vec<Broken> {
        const THIRD: &str = "a third: common practice, no source";
        const FIT: &str = "Elek et al. 2020, Eur. J. Wood Prod.";
        let snug = Fit::GluedSnug.clearance();
        Rules::default()
            .at_least(self.stock / 4.0, self.thickness, "the tenon of a bridle is at least a quarter as thick as its part", THIRD)
            .at_most(self.stock / 2.0, self.thickness, "the tenon of a bridle is at most half as thick as its part", THIRD)
            .at_least(*snug.start(), self.fit, "an open mortise is no narrower than its tenon", FIT)
            .at_most(*snug.end(), self.fit, "a glued tenon has at most 0.15 mm of room in thickness", FIT)
            .broken()
    }
}

/// Cuts the end that comes up and the part that receives: at that part's end a tenon goes into an open mortise; where the part passes,
/// the end is forked and straddles it.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id).clone();
    let frame = Frame::of(&joint.contact);
    let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
    let (end, _) = face_and_point(a, frame.into, joint.contact.centre);
    // Both lie in one plane: they are thick across the contact, and the receiving part runs along it.
    let flat = end.axis() == 0 && local_axis(a, frame.across) == 2 && local_axis(b, frame.across) == 2 && local_axis(b, frame.along) == 0;
    if !flat {
        return JointKind::Plain(Fixing::Rest);
    }
    let [along_a, across_a, _] = frame.body(a);
    let [along_b, across_b, (_, behind)] = frame.body(b);
    let stock = (across_a.1.min(across_b.1) - across_a.0.max(across_b.0)).max(0.1);
    let middle = f64::midpoint(across_a.0.max(across_b.0), across_a.1.min(across_b.1));
    let thickness = wanted.thickness.or(thickness_by_rule(stock)).min(stock);
    let fit = wanted.fit.to_mm();
    let at_low = along_a.0 <= along_b.0 + 1e-6;
    let at_high = along_a.1 >= along_b.1 - 1e-6;
    let corner = match (at_low, at_high) {
        (true, false) => Some(joint.contact.along.opposite()),
        (false, true) => Some(joint.contact.along),
        _ => None,
    };
    let by = Size::ruled("tenon", behind, "as long as the part that receives it is wide", []);
    assembly.stand_out(joint.a, end, &by);
    let sides = |thick: f64| (middle - thick / 2.0, middle + thick / 2.0);
    if let Some(out) = corner {
        let a = assembly.part(joint.a);
        let cheeks = span(a, &frame, 2, sides(thickness));
        let steps = vec![Step { from: 0.0, to: a.lwt().y, reach: behind }];
        let second_end = end == Face::SecondEnd;
        assembly.cut(joint.a, Feature::Tenon { second_end, length: behind, along: 1, cheeks, steps, mitre: None, round: false }, Some(id));
        let b = assembly.part(joint.b);
        let (open, _) = face_and_point(b, out.vector(), joint.contact.centre);
        let (from, to) = span(b, &frame, 2, sides(thickness + fit));
        let deep = if at_low { along_a.1 - along_b.0 } else { along_b.1 - along_a.0 };
        assembly.cut(joint.b, Feature::Fork { second_end: open == Face::SecondEnd, length: deep, from, to }, Some(id));
    } else {
        let (from, to) = span(assembly.part(joint.a), &frame, 2, sides(thickness + fit));
        assembly.cut(joint.a, Feature::Fork { second_end: end == Face::SecondEnd, length: behind, from, to }, Some(id));
        let b = assembly.part(joint.b);
        let (low, high) = span(b, &frame, 2, sides(thickness));
        let (from, to) = span(b, &frame, 0, (along_a.0 - fit / 2.0, along_a.1 + fit / 2.0));
        for (face, depth) in [(Face::FaceSide, low), (Face::BackSide, b.lwt().z - high)] {
            if depth > 0.0 {
                assembly.cut(joint.b, Feature::Lap { face, from, to, depth }, Some(id));
            }
        }
    }
    JointKind::Bridle(Figures { thickness, length: behind, stock, fit, corner })
}

/// From and to in a part's own measures along one of its axes: of a span across the contact (T), or along it (L).
fn span(part: &Part, frame: &Frame, axis: usize, (from, to): (f64, f64)) -> (f64, f64) {
    let inverse = part.pose.inverse();
    let at = |value: f64| {
        let point = if axis == 2 { frame.point(0.0, value, 0.0) } else { frame.point(value, 0.0, 0.0) };
        inverse.point(point)[axis]
    };
    let (a, b) = (at(from), at(to));
    (a.min(b), a.max(b))
}

pub(super) fn fork_prisms(size: DVec3, second_end: bool, length: f64, from: f64, to: f64) -> Vec<Prism> {
    let l = if second_end { (size.x - length, size.x + OVERSHOOT) } else { (-OVERSHOOT, length) };
    // Along W the profile plane is (T, L).
    vec![rect_prism(1, -OVERSHOOT, size.y + OVERSHOOT, DVec2::new(from, l.0), DVec2::new(to, l.1))]
}
