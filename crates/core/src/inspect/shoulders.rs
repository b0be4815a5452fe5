//! Shoulders that don't reach, and tops that do not cover.

use glam::DVec3;

use super::own_sizes::own_size_by_rule;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm, small};
use crate::design::Dimension;
use crate::joint::{JointKind, local_axis, reach};
use crate::model::{Joint, Model, Part, PartKind, Role, is_made};

/// Every shoulder that stays open, with its gap; and tops that do not cover the posts on which they lie.
pub(super) fn check(model: &Model) -> Vec<Finding> {
    let open = model.joints.iter().filter(|joint| joint.kind.has_shoulder()).filter_map(|joint| match &joint.kind {
        JointKind::Housing(figures) => short_in_housing(model, joint, figures.depth),
        _ => open(model, joint),
    });
    let tops = || model.parts.iter().filter(|part| part.kind == PartKind::Top);
    let bare = tops().flat_map(|top| [0, 2].into_iter().filter_map(|axis| uncovered(model, top, axis)));
    open.chain(bare).chain(tops().flat_map(|top| slots(model, top))).collect()
}

/// The rails that end below a top which lies on their posts, so that a slot stays open between.
fn slots(model: &Model, top: &Part) -> Vec<Finding> {
    let over = top.block();
    let under = |rail: &&Part| {
        let own = rail.block();
        let beside = [0, 2].into_iter().any(|axis| own.max[axis] <= over.min[axis] + TOUCH || own.min[axis] >= over.max[axis] - TOUCH);
        let slot = over.min.y - own.max.y;
        // One that lies lower has another rail over it.
        rail.kind == PartKind::Rail && !beside && slot > TOUCH && slot < own.size().y && rail_over(model, rail, over.min.y).is_none()
    };
    let told = |rail: &Part| {
        let slot = over.min.y - rail.block().max.y;
        let axis = local_axis(rail, DVec3::Y);
        let (word, right) = (Dimension::ALL[axis].word(), rail.size[axis].mm + slot);
        let wider = rail.is_own(axis).then(|| {
            Remedy::length(format!("Make the {word} of {} {} mm", rail.title, mm(right)), &format!("part.{}.{word}", rail.name), right)
        });
        Finding {
            explains: Vec::new(),
            rule: Rule::Shoulder,
            seriousness: Seriousness::AtRisk,
            parts: vec![rail.id, top.id],
            joint: None,
            place: Some(rail.block().centre().with_y(over.min.y)),
            figures: vec![Figure::mm("gap", slot)],
            message: format!("A slot of {} stays open between {} and {}", small(slot), rail.title, top.title),
            source: "geometry",
            remedies: wider.into_iter().collect(),
        }
    };
    model.parts.iter().filter(under).map(told).collect()
}

/// Another rail between one and what lies over it.
fn rail_over<'m>(model: &'m Model, rail: &Part, up_to: f64) -> Option<&'m Part> {
    let own = rail.block();
    let across = |other: &Part| {
        let block = other.block();
        [0, 2].into_iter().all(|axis| block.min[axis] < own.max[axis] - TOUCH && block.max[axis] > own.min[axis] + TOUCH)
    };
    let between = |other: &&Part| other.block().min.y > own.max.y - TOUCH && other.block().max.y < up_to + TOUCH;
    model.parts.iter().find(|other| other.kind == PartKind::Rail && other.id != rail.id && across(other) && between(other))
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

/// A shelf that ends before the bottom of its housing; one that is there is told with its length.
fn short_in_housing(model: &Model, joint: &Joint, depth: f64) -> Option<Finding> {
    let (shelf, side) = (model.part(joint.a), model.part(joint.b));
    let axis = local_axis(shelf, joint.contact.into.vector());
    let reach = reach(shelf, &joint.contact);
    let short = depth - reach;
    if short <= TOUCH || is_made(&shelf.size[axis]) {
        return None;
    }
    let (word, right) = (Dimension::ALL[axis].word(), shelf.size[axis].mm + short);
    let longer = shelf.is_own(axis).then(|| {
        Remedy::length(format!("Make the {word} of {} {} mm", shelf.title, mm(right)), &format!("part.{}.{word}", shelf.name), right)
    });
    let how = if reach > TOUCH { format!("reaches only {} into", small(reach)) } else { "does not reach into".to_owned() };
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::Shoulder,
        seriousness: if reach < depth * LEAST_HOUSED { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![shelf.id, side.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("reach", reach.max(0.0)), Figure::mm("depth", depth)],
        message: format!("{} {how} its housing in {}, which is {} deep", shelf.title, side.title, small(depth)),
        source: "geometry; two thirds of a housing carry its shelf at the least: common practice, no source",
        remedies: longer.into_iter().collect(),
    })
}

/// The share of a housing that a shelf fills at the least.
const LEAST_HOUSED: f64 = 2.0 / 3.0;

fn open(model: &Model, joint: &Joint) -> Option<Finding> {
    let (gap, beside) = gaps(model, joint);
    // What lies on too little of its cleats or its pins has checks of its own.
    if beside >= -TOUCH && !matches!(joint.role, Role::SlatToCleat | Role::ShelfToPin) {
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

/// A top that lies on its posts and leaves some of them bare along an axis of the case: told once, of the post that stands out farthest.
fn uncovered(model: &Model, top: &Part, axis: usize) -> Option<Finding> {
    let over = top.block();
    let bare = |post: &Part| {
        let under = post.block();
        (under.max[axis] - over.max[axis]).max(over.min[axis] - under.min[axis])
    };
    // Those that it misses altogether are told for themselves.
    let lies_on = |joint: &&Joint| joint.a == top.id && joint.role == Role::TopToPost && gaps(model, joint).1 < -TOUCH;
    let mut posts: Vec<(&Joint, f64)> = model.joints_of(top.id).filter(lies_on).map(|joint| (joint, bare(model.part(joint.b)))).collect();
    posts.retain(|(_, bare)| *bare > TOUCH);
    posts.sort_by(|a, b| b.1.total_cmp(&a.1));
    let &(joint, worst) = posts.first()?;
    let of = Dimension::ALL[local_axis(top, DVec3::AXES[axis])];
    let wider = top.is_own(of.index()).then(|| {
        let right = top.size[of.index()].mm + worst;
        Remedy::length(
            format!("Make the {} of {} {} mm", of.word(), top.title, mm(right)),
            &format!("part.{}.{}", top.name, of.word()),
            right,
        )
    });
    let more = if posts.len() > 1 { format!("; {} more like it", posts.len() - 1) } else { String::new() };
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::Shoulder,
        seriousness: Seriousness::WillFail,
        parts: std::iter::once(top.id).chain(posts.iter().map(|(joint, _)| joint.b)).collect(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("bare", worst)],
        message: format!("{} leaves {} mm of {} bare{more}", top.title, mm(worst), model.part(joint.b).title),
        source: "geometry",
        remedies: own_size_by_rule(top, of).into_iter().chain(wider).collect(),
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
