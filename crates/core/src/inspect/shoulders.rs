//! Shoulders that don't reach.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm, small};
use crate::design::Dimension;
use crate::joint::local_axis;
use crate::model::{Joint, Model, Role};

/// Every shoulder that stays open, with its gap.
pub(super) fn check(model: &Model) -> Vec<Finding> {
    model.joints.iter().filter(|joint| joint.kind.has_shoulder()).filter_map(|joint| open(model, joint)).collect()
}

/// How far apart the two parts are: along the way in which they close, and beside it.
pub(super) fn gaps(model: &Model, joint: &Joint) -> (f64, f64) {
    let into = joint.contact.into;
    let (a, b) = (model.part(joint.a).body(), model.part(joint.b).body());
    let apart = (a.min - b.max).max(b.min - a.max);
    let axis = into.axis();
    let along = if into.sign() > 0.0 { b.min[axis] - a.max[axis] } else { a.min[axis] - b.max[axis] };
    let beside = (0..3).filter(|other| *other != axis).map(|other| apart[other]).fold(f64::NEG_INFINITY, f64::max);
    (along, beside)
}

fn open(model: &Model, joint: &Joint) -> Option<Finding> {
    let (gap, beside) = gaps(model, joint);
    if beside >= -TOUCH && joint.role != Role::SlatToCleat {
        return Some(missing(model, joint, beside.max(0.0)));
    }
    if gap <= TOUCH {
        return None;
    }
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    // Only a size of the maker's own, and only the one along which the gap lies, can have left it open.
    let own = [a, b].into_iter().find_map(|part| {
        let axis = local_axis(part, joint.contact.into.vector());
        part.is_own(axis).then_some((part, axis))
    });
    let remedy = own.map(|(part, axis)| {
        let (word, right) = (Dimension::ALL[axis].word(), part.size[axis].mm + gap);
        Remedy::length(format!("Make the {word} of {} {} mm", part.title, mm(right)), &format!("part.{}.{word}", part.name), right)
    });
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::Shoulder,
        seriousness: Seriousness::WillFail,
        parts: vec![a.id, b.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("gap", gap)],
        message: format!("{} stays {} short of {}", a.title, small(gap), b.title),
        source: "geometry",
        remedies: remedy.into_iter().collect(),
    })
}

/// A part that passes beside what it should stand against.
fn missing(model: &Model, joint: &Joint, beside: f64) -> Finding {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    Finding {
        explains: Vec::new(),
        rule: Rule::Shoulder,
        seriousness: Seriousness::WillFail,
        parts: vec![a.id, b.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("beside", beside)],
        message: format!("{} misses {}: it passes {} mm beside it", a.title, b.title, mm(beside)),
        source: "geometry",
        remedies: Vec::new(),
    }
}
