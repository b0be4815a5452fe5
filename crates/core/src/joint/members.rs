//! What joints ask of the two parts they join: how far one reaches into the other, and where their contact lies on each.

use glam::DVec3;

use super::{face_and_point, local_axis};
use crate::model::{Assembly, Contact, Face, Feature, JointId, Part, PartId};
use crate::origin::{Origin, Size};
use crate::place::Dir;

/// How far the part that comes up reaches past the contact, mm; negative when it ends short of it.
pub(crate) fn reach(part: &Part, contact: &Contact) -> f64 {
    let (block, into) = (part.block(), contact.into);
    let edge = if into.sign() > 0.0 { block.max } else { block.min }[into.axis()];
    (edge - contact.centre[into.axis()]) * into.sign()
}

/// The same of a part as long as was planned of it so far: one that is there is measured over all that stands out at its ends.
fn planned_reach(part: &Part, contact: &Contact) -> f64 {
    let Origin::Measured { planned, .. } = &part.size[0].origin else { return reach(part, contact) };
    let mut as_planned = part.clone();
    as_planned.size[0] = Size::clone(planned);
    reach(&as_planned, contact)
}

/// Lets the part that comes up reach so far past the contact, where it is an end that comes up and ends there; an edge reaches as
/// far as it was placed. Gives the face that comes up, and how far it reaches now, mm.
pub(super) fn reach_in(assembly: &mut Assembly, id: JointId, by: &Size) -> (Face, f64) {
    const PLACED_SO: f64 = 1e-6;
    let joint = assembly.joint(id);
    let (a, contact) = (joint.a, joint.contact);
    let (face, _) = face_and_point(assembly.part(a), contact.into.vector(), contact.centre);
    if face.axis() == 0 && planned_reach(assembly.part(a), &contact).abs() <= PLACED_SO {
        assembly.stand_out(a, face, by);
    }
    (face, reach(assembly.part(a), &contact).max(0.0))
}

/// Where a contact lies along its long direction, in the measures of one part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Span {
    /// The part's axis that runs along it.
    pub axis: usize,
    /// Where it begins, on that axis.
    pub begin: f64,
    /// +1 when the axis runs the same way as the contact, else −1.
    pub sign: f64,
    /// How long it is.
    pub length: f64,
}

impl Span {
    pub(super) fn of(part: &Part, contact: &Contact) -> Span {
        let along = contact.along.vector();
        let axis = local_axis(part, along);
        let begin = part.pose.inverse().point(contact.centre - along * contact.extent.x / 2.0)[axis];
        let sign = part.pose.inverse().vector(along)[axis].signum();
        Span { axis, begin, sign, length: contact.extent.x }
    }

    /// From and to on the part's axis, in rising order, of what lies between two places along the contact.
    pub(super) fn range(&self, from: f64, to: f64) -> [f64; 2] {
        let (from, to) = (self.begin + self.sign * from, self.begin + self.sign * to);
        [from.min(to), from.max(to)]
    }

    /// A pair for the beginning and the end of the contact, in the order of the part's axis.
    pub(super) fn in_order<T: Copy>(&self, [begin, end]: [T; 2]) -> [T; 2] {
        if self.sign > 0.0 { [begin, end] } else { [end, begin] }
    }
}

/// The direction in which the end of the receiving part looks past the part that comes up, at a corner: away from the middle of the
/// receiving part, square to the contact's own directions.
pub(super) fn outward(a: &Part, b: &Part, contact: &Contact) -> Dir {
    let axis = (0..3).find(|axis| *axis != contact.into.axis() && *axis != contact.along.axis()).unwrap_or(0);
    Dir::along(axis, (a.body().centre() - b.body().centre())[axis])
}

/// A figure of the joint's own, or the one by the rule.
pub(super) fn own_or(own: Option<f64>, by_rule: f64) -> f64 {
    own.unwrap_or(by_rule)
}

/// To the nearest half millimetre: makers set no finer.
pub(super) fn half_mm(mm: f64) -> f64 {
    (mm * 2.0).round() / 2.0
}

/// The middle of a part's thickness, or of so much of it, as a place across the contact on the receiving part: the component of
/// `axis` of the point of `b` that lies level with T = `t` of `a`.
pub(super) fn level_with(a: &Part, t: f64, b: &Part, axis: usize) -> f64 {
    let lwt = a.lwt();
    b.pose.inverse().point(a.pose.point(DVec3::new(lwt.x / 2.0, lwt.y / 2.0, t)))[axis]
}

/// The ways in which a part leaves a channel: out of its mouth where it can, and along it through an open end.
pub(super) fn slides(contact: &Contact, open: [bool; 2], out: bool) -> Vec<Dir> {
    let mouth = out.then(|| contact.into.opposite());
    let begin = open[0].then(|| contact.along.opposite());
    let end = open[1].then_some(contact.along);
    mouth.into_iter().chain(begin).chain(end).collect()
}

/// Cuts the corners off what comes up: so much of its reach, and so far from the beginning and the end of it, in the order of the
/// part's own axis.
pub(super) fn cut_back(assembly: &mut Assembly, part: PartId, id: JointId, face: Face, reach: f64, off: [f64; 2]) {
    for (far, off) in [(false, off[0]), (true, off[1])] {
        if off <= 0.0 {
            continue;
        }
        let feature = if face.axis() == 0 {
            Feature::Notch { second_end: face == Face::SecondEnd, back_edge: far, length: reach, width: off }
        } else {
            Feature::Notch { second_end: far, back_edge: face == Face::BackEdge, length: off, width: reach }
        };
        assembly.cut(part, feature, Some(id));
    }
}
