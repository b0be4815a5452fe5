//! Glue across the grain: where one part moves with the moisture and the other does not, only so much may be glued.

use super::voids::Voids;
use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::joint::local_axis;
use crate::model::{Joint, Material, Model, Part};
use crate::place::Dir;

/// The most that may be glued across the grain of one part along the grain of the other, mm (common practice, no source: 75 to 100 in
/// hardwood).
pub const MOST_ACROSS: f64 = 75.0;

pub(super) fn check(model: &Model, voids: &Voids<'_>) -> Vec<Finding> {
    model.joints.iter().filter(|joint| joint.glued).filter_map(|joint| too_wide(model, voids, joint)).collect()
}

fn too_wide(model: &Model, voids: &Voids<'_>, joint: &Joint) -> Option<Finding> {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let contact = &joint.contact;
    let across = Dir::nearest(contact.into.vector().cross(contact.along.vector()));
    let (glued, mover) = [contact.along, across]
        .into_iter()
        .filter_map(|way| {
            // One that moves against one that does not; two that move together do each other no harm.
            let mover = match (moves_along(a, way), moves_along(b, way)) {
                (true, false) => a,
                (false, true) => b,
                (true, true) | (false, false) => return None,
            };
            Some((glued_along(model, voids, joint, way), mover))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    // A joint that knows how wide it may be tells it itself.
    let told = joint.kind.broken().iter().any(|broken| (broken.value - glued).abs() <= TOUCH && broken.limit <= MOST_ACROSS);
    (glued > MOST_ACROSS + TOUCH && !told).then(|| Finding {
        rule: Rule::GlueAcross,
        seriousness: Seriousness::AtRisk,
        parts: vec![mover.id, if mover.id == a.id { b.id } else { a.id }],
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(contact.centre),
        figures: vec![Figure::mm("glued", glued), Figure::mm("most", MOST_ACROSS)],
        message: format!(
            "{} is glued to {} over {} mm across its grain, and splits or comes loose when it moves; glue {} mm of it",
            mover.title,
            if mover.id == a.id { &b.title } else { &a.title },
            mm(glued),
            mm(MOST_ACROSS)
        ),
        source: "75 to 100 mm of glue across the grain in hardwood: common practice, no source",
        remedies: Vec::new(),
    })
}

/// Whether a part moves with the moisture along a direction of the case: solid wood does, but along its grain.
fn moves_along(part: &Part, way: Dir) -> bool {
    matches!(part.material, Material::Solid(_)) && local_axis(part, way.vector()) != 0
}

/// How much is glued along a direction, in one piece: the widest of the loose parts, or of the holes; or the whole contact.
fn glued_along(model: &Model, voids: &Voids<'_>, joint: &Joint, way: Dir) -> f64 {
    let axis = way.axis();
    let widest = |extents: &mut dyn Iterator<Item = f64>| extents.reduce(f64::max);
    let loose = widest(&mut joint.loose.iter().map(|loose| model.part(*loose).block().size()[axis]));
    let hole = || {
        let part = model.part(joint.b);
        let own = voids.of(joint.b).iter().filter(|void| void.joint() == Some(joint.id));
        widest(&mut own.map(|void| part.pose.vector(void.high - void.low).abs()[axis]))
    };
    let contact = || if axis == joint.contact.along.axis() { joint.contact.extent.x } else { joint.contact.extent.y };
    // Some joints are glued over a part of their length, so that the rest can move, and know how much.
    let known = joint.kind.glued_length(&joint.contact);
    if axis == joint.contact.along.axis() && known < joint.contact.extent.x {
        return known;
    }
    loose.or_else(hole).unwrap_or_else(contact)
}
