//! Notches: a corner cut out so that a part passes another, with clearance.

use casewright_solid::Prism;
use glam::{DVec2, DVec3};

use super::{Fit, Fitted, Joining, JointKind, OVERSHOOT, rect_prism};
use crate::length::trimmed;
use crate::model::{Assembly, Contact, Feature, JointId};
use crate::place::{Block, Dir};

/// The figures of a notch, as cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Free room round what it goes round, mm.
    pub clearance: f64,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!("notched round it, {} free", trimmed(self.clearance))
    }

    /// Any way but further in, as far as the notch's two walls go.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        Dir::ALL.into_iter().filter(|dir| *dir != contact.into).collect()
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "notch round what it passes", class: Fit::Loose, clearance: self.clearance }]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        ""
    }
}

/// Notches the coming part round a block of the case, with clearance.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, block: &Block, clearance: f64) -> JointKind {
    let part = assembly.part(assembly.joint(id).a);
    let inverse = part.pose.inverse();
    let (a, b) = (inverse.point(block.min), inverse.point(block.max));
    let (low, high, size) = (a.min(b), a.max(b), part.lwt());
    let second_end = low.x + high.x > size.x;
    let back_edge = low.y + high.y > size.y;
    let reach = |far: bool, low: f64, high: f64, extent: f64| if far { extent - low + clearance } else { high + clearance };
    let (length, width) = (reach(second_end, low.x, high.x, size.x), reach(back_edge, low.y, high.y, size.y));
    let part = part.id;
    if length > 0.0 && width > 0.0 {
        assembly.cut(part, Feature::Notch { second_end, back_edge, length, width }, Some(id));
    }
    JointKind::Notch(Figures { clearance })
}

pub(super) fn prisms(size: DVec3, second_end: bool, back_edge: bool, length: f64, width: f64) -> Vec<Prism> {
    let range = |far: bool, extent: f64, cut: f64| if far { (extent - cut, extent + OVERSHOOT) } else { (-OVERSHOOT, cut) };
    let (l, w) = (range(second_end, size.x, length), range(back_edge, size.y, width));
    vec![rect_prism(2, -OVERSHOOT, size.z + OVERSHOOT, DVec2::new(l.0, w.0), DVec2::new(l.1, w.1))]
}
