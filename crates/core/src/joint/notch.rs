//! Notches: a corner cut out so that a part passes another, with clearance.

use casewright_solid::Prism;
use glam::{DVec2, DVec3};

use super::{JointKind, OVERSHOOT, rect_prism};
use crate::derive::{Builder, Detail};
use crate::model::{Feature, JointId};

/// Notches the coming part round a block of the case, with clearance.
pub(crate) fn cut(builder: &mut Builder<'_>, id: JointId, detail: &Detail<'_>) -> JointKind {
    let Detail::Round { block, clearance } = *detail else { return JointKind::Rest };
    let part = builder.part(builder.joint(id).a);
    let inverse = part.pose.inverse();
    let (a, b) = (inverse.point(block.min), inverse.point(block.max));
    let (low, high, size) = (a.min(b), a.max(b), part.lwt());
    let second_end = low.x + high.x > size.x;
    let back_edge = low.y + high.y > size.y;
    let reach = |far: bool, low: f64, high: f64, extent: f64| if far { extent - low + clearance } else { high + clearance };
    let (length, width) = (reach(second_end, low.x, high.x, size.x), reach(back_edge, low.y, high.y, size.y));
    let part = part.id;
    if length > 0.0 && width > 0.0 {
        builder.cut(part, Feature::Notch { second_end, back_edge, length, width }, Some(id));
    }
    JointKind::Notch { clearance }
}

pub(super) fn prisms(size: DVec3, second_end: bool, back_edge: bool, length: f64, width: f64) -> Vec<Prism> {
    let range = |far: bool, extent: f64, cut: f64| if far { (extent - cut, extent + OVERSHOOT) } else { (-OVERSHOOT, cut) };
    let (l, w) = (range(second_end, size.x, length), range(back_edge, size.y, width));
    vec![rect_prism(2, -OVERSHOOT, size.z + OVERSHOOT, DVec2::new(l.0, w.0), DVec2::new(l.1, w.1))]
}
