//! Loose tenons and other loose parts of joints: room at the bottom, hold on both sides, thickness against the parts.

mod across;
mod remedies;

use super::voids::{Form, Voids};
use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::design::Design;
use crate::joint::{JointKind, local_axis};
use crate::model::{Joint, Model, Part, PartId, PartKind};
use remedies::{as_long, longer_and_deeper};

/// The least and the most room at the bottoms of a loose part, both together, mm: 0.5 to 1 each, 1.5 with adhesive mixed by hand (common
/// practice, no source).
pub const BOTTOM_ROOM: std::ops::RangeInclusive<f64> = 1.0..=3.0;

/// The least of a loose tenon that must be in each part, mm: half of the shortest in general use, 20 (from memory).
pub const LEAST_HOLD: f64 = 10.0;

pub(super) fn check(design: &Design, model: &Model, voids: &Voids<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for joint in &model.joints {
        for &loose in &joint.loose {
            // All of a row are alike.
            if let Some(finding) = seats(model, voids, joint, loose).and_then(|seats| fits(design, model, joint, loose, &seats)) {
                findings.push(finding);
                break;
            }
        }
    }
    findings.extend(across::thicknesses(model));
    findings.extend(across::own_sizes(model));
    findings.extend(model.joints.iter().filter_map(|joint| tenon_through_shim(model, joint)));
    findings
}

/// A tenon cut on a part is as long as it is: what is in a shim is not in the part that receives.
fn tenon_through_shim(model: &Model, joint: &Joint) -> Option<Finding> {
    let (JointKind::Tenon(figures), part) = (&joint.kind, model.part(joint.a)) else { return None };
    let shim = part.shim_towards(joint.contact.into);
    if shim <= 0.0 || hold_through(&joint.kind, shim) {
        return None;
    }
    let (held, least) = (figures.length - shim, least_of_tenon(figures.thickness));
    let title = &model.part(joint.b).title;
    Some(Finding {
        rule: Rule::TenonHold,
        seriousness: if held <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![joint.b, joint.a],
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("held", held), Figure::mm("least", least)],
        message: format!(
            "Through its shim of {} mm the tenon of {} reaches only {} mm into {title}; {} mm would hold",
            mm(shim),
            part.title,
            mm(held.max(0.0)),
            mm(least)
        ),
        source: "half of the shortest loose tenon in general use, 20 mm, or one and a half times the thickness: from memory",
        remedies: Vec::new(),
    })
}

/// How a loose part sits in one of the two parts of its joint, mm.
struct Seat {
    /// How much of it is in the part.
    hold: f64,
    /// Depth of the hole.
    depth: f64,
}

/// The seats of a loose part in the part that comes up and in the one that receives; `None` where one of them has no hole for it, and where
/// the two don't stand against each other, which has a finding of its own.
fn seats(model: &Model, voids: &Voids<'_>, joint: &Joint, loose: PartId) -> Option<[Seat; 2]> {
    let into = joint.contact.into;
    // A peg goes across the joint and holds otherwise.
    if local_axis(model.part(loose), into.vector()) != 0 {
        return None;
    }
    let (axis, sign) = (into.axis(), into.sign());
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    // Along the way in which the joint closes: from and to of a box.
    let along = |min: f64, max: f64| if sign > 0.0 { (min, max) } else { (-max, -min) };
    let range = |part: &Part| {
        let block = part.body();
        along(block.min[axis], block.max[axis])
    };
    let (end, face) = (range(a).1, range(b).0);
    if (end - face).abs() > TOUCH {
        return None;
    }
    let own = model.part(loose).block();
    let (back, tip) = along(own.min[axis], own.max[axis]);
    let hole = |part: &Part| {
        let centre = part.pose.inverse().point(own.centre());
        let holes = voids.of(part.id).iter().filter(|void| void.joint() == Some(joint.id));
        holes
            .filter(|void| {
                let Form::Hole { face, .. } = void.form else { return false };
                (0..3).filter(|axis| *axis != face.axis()).all(|axis| (void.low[axis]..=void.high[axis]).contains(&centre[axis]))
            })
            .map(|void| {
                let (p, q) = (part.pose.point(void.low), part.pose.point(void.high));
                along(p.min(q)[axis], p.max(q)[axis])
            })
            .reduce(|all, next| (all.0.min(next.0), all.1.max(next.1)))
    };
    let (in_a, in_b) = (hole(a)?, hole(b)?);
    // A shim that it goes through holds nothing.
    let end = end - a.shim_towards(into);
    Some([Seat { hold: end - back, depth: end - in_a.0 }, Seat { hold: tip - face, depth: in_b.1 - face }])
}

/// Length and hold of a loose part against its holes: the gravest that is wrong.
fn fits(design: &Design, model: &Model, joint: &Joint, loose: PartId, seats: &[Seat; 2]) -> Option<Finding> {
    let part = model.part(loose);
    let [in_a, in_b] = seats;
    let length = in_a.hold + in_b.hold;
    let room = in_a.depth + in_b.depth - length;
    if room < -TOUCH {
        return Some(too_long(design, model, joint, part.kind.words().1, length, [in_a, in_b]));
    }
    holds(design, model, joint, part, seats).or_else(|| bottoms(design, model, joint, part, (length, room)))
}

/// Dowels tell themselves that they go too little in, or have too little room.
fn tells_itself(joint: &Joint) -> bool {
    matches!(joint.kind, JointKind::Dowels(_))
}

/// A loose part that reaches too little into one of the two.
fn holds(design: &Design, model: &Model, joint: &Joint, part: &Part, [in_a, in_b]: &[Seat; 2]) -> Option<Finding> {
    let (words, length, least) = (part.kind.words().1, in_a.hold + in_b.hold, least_hold(part));
    let (in_the_middle, by) = [(in_a.hold, joint.a), (in_b.hold, joint.b)].into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    // Nothing keeps a short one from the bottom of the deeper hole. One that goes through a shim was set in the other part before.
    let pushed = (length - in_a.depth.max(in_b.depth)).max(0.0);
    let is_pushed = part.kind == PartKind::LooseTenon && model.part(joint.a).shim_towards(joint.contact.into) <= 0.0;
    let (held, by) = if is_pushed && pushed < in_the_middle - TOUCH && in_the_middle >= least - TOUCH {
        (pushed, if in_a.depth > in_b.depth { joint.b } else { joint.a })
    } else {
        (in_the_middle, by)
    };
    if held >= least - TOUCH || tells_itself(joint) && held > TOUCH {
        return None;
    }
    let title = &model.part(by).title;
    Some(Finding {
        rule: Rule::TenonHold,
        seriousness: if in_the_middle <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: [&[by][..], &joint.loose[..], &[joint.a, joint.b]].concat().into_iter().fold(Vec::new(), push_new),
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("held", held), Figure::mm("least", least)],
        message: if in_the_middle <= TOUCH {
            format!("{words} don't reach into {title}; {} mm would hold", mm(least))
        } else if held < in_the_middle - TOUCH {
            format!(
                "{words} of {} mm that are pushed to the bottom of the other hole reach only {} mm into {title}; {} mm would hold",
                mm(length),
                mm(held),
                mm(least)
            )
        } else {
            format!("{words} reach only {} mm into {title}; {} mm would hold", mm(held), mm(least))
        },
        source: if part.kind == PartKind::LooseTenon {
            "half of the shortest loose tenon in general use, 20 mm, or one and a half times the thickness: from memory"
        } else {
            "twice the diameter: maker's advice, read second-hand"
        },
        remedies: longer_and_deeper(design, joint, least),
    })
}

/// The room at the bottoms of its holes, for glue: too little, or too much.
fn bottoms(design: &Design, model: &Model, joint: &Joint, part: &Part, (length, room): (f64, f64)) -> Option<Finding> {
    if BOTTOM_ROOM.contains(&room) || (room - BOTTOM_ROOM.start()).abs() <= TOUCH || (room - BOTTOM_ROOM.end()).abs() <= TOUCH {
        return None;
    }
    let tight = room < *BOTTOM_ROOM.start();
    // One that was cut before its shim is shorter than its holes are deep, and holds.
    if tight && tells_itself(joint) || !tight && model.part(joint.a).shim_towards(joint.contact.into) > 0.0 {
        return None;
    }
    let words = part.kind.words().1;
    let of = format!("{} to {}", title(model, joint.a), title(model, joint.b));
    Some(Finding {
        rule: Rule::BottomRoom,
        seriousness: if tight { Seriousness::AtRisk } else { Seriousness::Note },
        parts: [&[joint.a, joint.b], &joint.loose[..]].concat(),
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("room", room), Figure::mm("least", *BOTTOM_ROOM.start()), Figure::mm("most", *BOTTOM_ROOM.end())],
        message: if tight {
            format!("{words} of {} mm leave {} mm at the bottoms for glue: {of}", mm(length), mm(room))
        } else {
            format!("The holes for {} of {} mm are {} mm too deep: {of}", words.to_lowercase(), mm(length), mm(room - BOTTOM_ROOM.end()))
        },
        source: "0.5 to 1 mm at each bottom, 1.5 mm with adhesive mixed by hand: common practice, no source",
        remedies: as_long(design, joint, least_hold(part)),
    })
}

fn push_new(mut parts: Vec<PartId>, part: PartId) -> Vec<PartId> {
    if !parts.contains(&part) {
        parts.push(part);
    }
    parts
}

fn title(model: &Model, part: PartId) -> &str {
    &model.part(part).title
}

fn too_long(design: &Design, model: &Model, joint: &Joint, words: &str, length: f64, [in_a, in_b]: [&Seat; 2]) -> Finding {
    let depths = in_a.depth + in_b.depth;
    let mut finding = Finding {
        rule: Rule::TenonLength,
        seriousness: Seriousness::WillFail,
        parts: joint.loose.clone(),
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("tenon", length), Figure::mm("mortises", depths), Figure::mm("too long", length - depths)],
        message: format!(
            "{words} of {} mm are {} mm longer than their mortises, {} and {} mm: {} to {}",
            mm(length),
            mm(length - depths),
            mm(in_a.depth),
            mm(in_b.depth),
            title(model, joint.a),
            title(model, joint.b)
        ),
        source: "geometry",
        remedies: as_long(design, joint, least_hold(model.part(joint.loose[0]))),
    };
    for &tenon in &joint.loose {
        finding.explains.extend([(joint.a, tenon), (joint.b, tenon)]);
    }
    finding
}

/// The least of a loose part that must be in each part, mm.
fn least_hold(part: &Part) -> f64 {
    let thickness = part.size[2].mm;
    if part.kind == PartKind::LooseTenon { least_of_tenon(thickness) } else { least_of_dowel(thickness) }
}

fn least_of_tenon(thickness: f64) -> f64 {
    LEAST_HOLD.max(1.5 * thickness)
}

fn least_of_dowel(diameter: f64) -> f64 {
    2.0 * diameter
}

/// Whether a joint still holds with a shim between its two parts, so many mm thick, that its tenons or dowels go through: as much of them as
/// they need is then left in the part that comes up, or of a tenon cut on it in the part that receives. Other joints have no rule for it, and
/// do not.
pub(super) fn hold_through(kind: &JointKind, shim: f64) -> bool {
    let (left, least) = match kind {
        JointKind::LooseTenons(figures) => (figures.length - figures.reach_in_face() - shim, least_of_tenon(figures.thickness)),
        JointKind::Dowels(figures) => (figures.in_end - shim, least_of_dowel(figures.diameter)),
        JointKind::Tenon(figures) => (figures.length - shim, least_of_tenon(figures.thickness)),
        JointKind::Lap(_)
        | JointKind::Bridle(_)
        | JointKind::Screws(_)
        | JointKind::Clip(_)
        | JointKind::Plate(_)
        | JointKind::SlottedScrew(_)
        | JointKind::Groove(_)
        | JointKind::Button(_)
        | JointKind::ScrewedUp(_)
        | JointKind::Notch(_)
        | JointKind::Seat(_)
        | JointKind::Pin(_)
        | JointKind::Plain(_)
        | JointKind::Tongue(_)
        | JointKind::Housing(_)
        | JointKind::SlidingDovetail(_)
        | JointKind::Rabbet(_)
        | JointKind::BoxJoint(_)
        | JointKind::Dovetail(_)
        | JointKind::Breadboard(_) => return false,
    };
    left >= least - TOUCH
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Fixing;
    use crate::joint::seat::Figures as Seated;

    /// Of joints for which no rule says that they hold through a shim, none is taken to.
    #[test]
    fn what_has_no_rule_for_a_shim_does_not_hold_through_one() {
        let plain = [Fixing::Glue, Fixing::Rest, Fixing::Screw].map(JointKind::Plain);
        for kind in plain.into_iter().chain([JointKind::Seat(Seated { tooth: 1, play: 1.0 })]) {
            assert!(!hold_through(&kind, 0.5), "{kind:?}");
        }
    }
}
