//! Glue across the grain: where one part moves with the moisture and the other does not, only so much may be glued.

use glam::DVec3;

use super::voids::Voids;
use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::joint::{JointKind, local_axis};
use crate::model::{Joint, Model, Part};
use crate::place::Dir;

/// The most that may be glued across the grain of one part along the grain of the other, mm (common practice, no source: 75 to 100 in
/// hardwood).
pub const MOST_ACROSS: f64 = 75.0;
/// The same from the first to the last of a row of tenons or dowels, mm (common practice, no source): the most of that range, since the wood between
/// them is not glued, and what one tenon may be wide.
pub const MOST_ACROSS_ROW: f64 = 100.0;

pub(super) fn check(model: &Model, voids: &Voids<'_>) -> Vec<Finding> {
    model.joints.iter().filter(|joint| joint.glued).filter_map(|joint| too_wide(model, voids, joint)).collect()
}

fn too_wide(model: &Model, voids: &Voids<'_>, joint: &Joint) -> Option<Finding> {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let contact = &joint.contact;
    let across = Dir::nearest(contact.into.vector().cross(contact.along.vector()));
    let (Held { glued, most }, mover) = [contact.along, across]
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
        .max_by(|a, b| a.0.glued.total_cmp(&b.0.glued))?;
    // A joint that knows how wide it may be tells it itself.
    let told = joint.kind.broken().iter().any(|broken| (broken.value - glued).abs() <= TOUCH && broken.limit <= most);
    (glued > most + TOUCH && !told).then(|| Finding {
        rule: Rule::GlueAcross,
        seriousness: Seriousness::AtRisk,
        parts: vec![mover.id, if mover.id == a.id { b.id } else { a.id }],
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(contact.centre),
        figures: vec![Figure::mm("glued", glued), Figure::mm("most", most)],
        message: format!(
            "{} is glued to {} over {} mm across its grain, and splits or comes loose when it moves; glue {} mm of it",
            mover.title,
            if mover.id == a.id { &b.title } else { &a.title },
            mm(glued),
            mm(most)
        ),
        source: "75 to 100 mm of glue across the grain in hardwood: common practice, no source",
        remedies: Vec::new(),
    })
}

/// Whether a part moves with the moisture along a direction of the case: solid wood does, but along its grain.
fn moves_along(part: &Part, way: Dir) -> bool {
    part.material.is_boards() && local_axis(part, way.vector()) != 0
}

/// How much is held by glue across the grain, and how much may be, mm.
struct Held {
    glued: f64,
    most: f64,
}

/// How much is held by glue along a direction: from the outermost edge of its loose parts, or of its holes, to the other, since wood between two that
/// are glued can't move either; or the whole contact.
fn glued_along(model: &Model, voids: &Voids<'_>, joint: &Joint, way: Dir) -> Held {
    let axis = way.axis();
    let from_to = |(low, high): (f64, f64), (from, to): (f64, f64)| (low.min(from), high.max(to));
    let across = |pieces: &mut dyn Iterator<Item = (f64, f64)>| {
        let (mut count, mut all) = (0, None);
        for piece in pieces {
            count += 1;
            all = Some(all.map_or(piece, |all| from_to(all, piece)));
        }
        let most = if count > 1 { MOST_ACROSS_ROW } else { MOST_ACROSS };
        all.map(|(low, high)| Held { glued: high - low, most })
    };
    let piece = |low: DVec3, high: DVec3| (low[axis].min(high[axis]), low[axis].max(high[axis]));
    let loose = across(&mut joint.loose.iter().map(|loose| model.part(*loose).block()).map(|block| piece(block.min, block.max)));
    let holes = || {
        let pose = &model.part(joint.b).pose;
        let own = voids.of(joint.b).iter().filter(|void| void.joint() == Some(joint.id));
        across(&mut own.map(|void| piece(pose.point(void.low), pose.point(void.high))))
    };
    let contact = || if axis == joint.contact.along.axis() { joint.contact.extent.x } else { joint.contact.extent.y };
    // Some joints are glued over a part of their length, so that the rest can move, and know how much.
    let known = joint.kind.glued_length(&joint.contact);
    if axis == joint.contact.along.axis() && known < joint.contact.extent.x {
        return Held { glued: known, most: MOST_ACROSS };
    }
    // A haunch is too short to hold.
    if let JointKind::Tenon(figures) = &joint.kind
        && axis == joint.contact.along.axis()
        && let Some(held) = across(&mut figures.tenons.iter().copied())
    {
        return held;
    }
    loose.or_else(holes).unwrap_or_else(|| Held { glued: contact(), most: MOST_ACROSS })
}
