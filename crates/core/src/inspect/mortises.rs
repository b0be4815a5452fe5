//! Mortises that meet in a part, or come out of it.

use casewright_solid::{Prism, VoidGap, void_gap};
use glam::DVec3;

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::joint::loose_tenon::role_path;
use crate::model::{Cut, Face, Feature, JointId, Model, Part, PartId};

/// The least wall between two mortises in hardwood, mm (common practice, no source: at least 3).
pub const LEAST_WALL: f64 = 3.0;
/// The least wood left behind a blind mortise, mm (common practice, no source: at least 4 behind a blind hole).
pub const LEAST_BEHIND: f64 = 4.0;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    model
        .parts
        .iter()
        .flat_map(|part| {
            let mut findings = meeting(model, part);
            findings.extend(breaking_out(model, part));
            findings
        })
        .collect()
}

/// A pocket with its prisms and their box, in the part's own measures.
pub(super) struct Pocket<'p> {
    pub(super) cut: &'p Cut,
    pub(super) prisms: Vec<Prism>,
    pub(super) low: DVec3,
    pub(super) high: DVec3,
}

pub(super) fn pockets(part: &Part) -> Vec<Pocket<'_>> {
    let size = part.lwt();
    part.cuts
        .iter()
        .filter_map(|cut| {
            let Feature::Mortise { face, centre, along, length, width, depth, .. } = cut.feature else { return None };
            let across = 3 - along - face.axis();
            let mut low = centre;
            low[along] -= length / 2.0;
            low[across] -= width / 2.0;
            let mut high = low;
            high[along] += length;
            high[across] += width;
            let deep = face.axis();
            (low[deep], high[deep]) = if face.is_first() { (0.0, depth) } else { (size[deep] - depth, size[deep]) };
            Some(Pocket { cut, prisms: cut.feature.prisms(size), low, high })
        })
        .collect()
}

fn meeting(model: &Model, part: &Part) -> Vec<Finding> {
    let all = pockets(part);
    let mut findings = Vec::new();
    for (index, a) in all.iter().enumerate() {
        for b in &all[index + 1..] {
            if apart(a, b) < LEAST_WALL {
                findings.extend(too_near(model, part, a, b));
            }
        }
    }
    findings
}

fn too_near(model: &Model, part: &Part, a: &Pocket<'_>, b: &Pocket<'_>) -> Option<Finding> {
    // The wall is measured square to the part's faces, as the rule for two mortises in a post has it.
    let (at, wall, volume) = match void_gap(part.lwt(), &a.prisms, &b.prisms).ok()?? {
        VoidGap::Overlapping { volume, centre } => (centre, 0.0, volume),
        VoidGap::Apart { at, .. } => (at, apart(a, b).max(0.0), 0.0),
    };
    if wall >= LEAST_WALL - TOUCH {
        return None;
    }
    let meets = volume > 0.0;
    let mut parts = vec![part.id];
    let joints: Vec<JointId> = [a, b].iter().filter_map(|pocket| pocket.cut.joint).collect();
    parts.extend(joints.iter().map(|joint| other(model, *joint, part.id)));
    parts.dedup();
    let others = titles(model, &parts[1..]);
    let message = if meets {
        format!("A mortise breaks {} mm into the other in {}: for {others}", mm(-apart(a, b)), part.title)
    } else {
        format!("Mortises leave a wall of {} mm in {}: for {others}", mm(wall), part.title)
    };
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::MortisesMeet,
        seriousness: if meets { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts,
        joint: joints.first().copied(),
        place: Some(part.pose.point(at)),
        figures: vec![
            Figure::mm("wall", wall),
            Figure::mm("least wall", LEAST_WALL),
            Figure { name: "volume shared", value: volume, unit: "mm³" },
        ],
        message,
        source: "a wall of 3 mm in hardwood: common practice, no source",
        remedies: remedy(model, part, &joints, LEAST_WALL + past(a, b).min(past(b, a))).into_iter().collect(),
    })
}

/// How far two pockets are apart along the axis on which they are farthest apart, mm; negative by how far one is in the other.
fn apart(a: &Pocket<'_>, b: &Pocket<'_>) -> f64 {
    (a.low - b.high).max(b.low - a.high).max_element()
}

/// How far the bottom of pocket `a` lies past the near wall of pocket `b`, mm: less depth by so much would part them.
fn past(a: &Pocket<'_>, b: &Pocket<'_>) -> f64 {
    let Feature::Mortise { face, .. } = a.cut.feature else { return f64::INFINITY };
    let deep = face.axis();
    if face.is_first() { a.high[deep] - b.low[deep] } else { b.high[deep] - a.low[deep] }
}

/// Shallower mortises where two of a kind come from two faces of one part, as of two rails in a post; wider margins between
/// two of a row. Other meetings have no cure that is sure.
fn remedy(model: &Model, part: &Part, joints: &[JointId], too_deep: f64) -> Option<Remedy> {
    let (&[first, second], joint) = (joints, model.joint(*joints.first()?)) else { return None };
    let JointKind::LooseTenons(figures) = &joint.kind else { return None };
    let (other, path) = (model.joint(second), role_path(joint.role));
    if first == second {
        return Some(Remedy::length(format!("Leave {LEAST_WALL} mm between them"), &format!("joinery.{path}.margin"), LEAST_WALL));
    }
    let two_faces = joint.contact.into.axis() != other.contact.into.axis();
    if role_path(other.role) != path || joint.b != part.id || other.b != part.id || !two_faces {
        return None;
    }
    let depth = ((figures.depth_in_face - too_deep) * 2.0).floor() / 2.0;
    let length = figures.length - (figures.depth_in_face - depth);
    Some(Remedy {
        words: format!("Go {} mm deep with tenons {} mm long; or stagger them, or mitre the tenons", mm(depth), mm(length)),
        changes: vec![(format!("joinery.{path}.depth_in_face"), depth.to_string()), (format!("joinery.{path}.length"), length.to_string())],
    })
}

fn breaking_out(model: &Model, part: &Part) -> Vec<Finding> {
    let size = part.lwt();
    let mut findings = Vec::new();
    for pocket in pockets(part) {
        let Feature::Mortise { face, depth, .. } = pocket.cut.feature else { continue };
        // Teeth take their depth from the back edge.
        let teeth = part.cuts.iter().find_map(|cut| match cut.feature {
            Feature::Teeth { seat, .. } if face == Face::FaceEdge => Some(seat),
            _ => None,
        });
        let behind = size[face.axis()] - depth - teeth.unwrap_or(0.0);
        let side = (0..3)
            .filter(|axis| *axis != face.axis())
            .map(|axis| pocket.low[axis].min(size[axis] - pocket.high[axis]))
            .fold(f64::INFINITY, f64::min);
        let through = behind <= TOUCH || side <= TOUCH;
        if face.axis() != 0 && behind >= LEAST_BEHIND - TOUCH && !through {
            continue;
        }
        if face.axis() == 0 && !through {
            continue;
        }
        let other = pocket.cut.joint.map(|joint| self::other(model, joint, part.id));
        let parts: Vec<PartId> = std::iter::once(part.id).chain(other).collect();
        findings.push(Finding {
            explains: Vec::new(),
            rule: Rule::MortiseBreaksOut,
            seriousness: if through { Seriousness::WillFail } else { Seriousness::AtRisk },
            joint: pocket.cut.joint,
            place: Some(part.pose.point((pocket.low + pocket.high) / 2.0)),
            figures: vec![Figure::mm("left", behind), Figure::mm("least", LEAST_BEHIND)],
            message: if through {
                format!("The mortise for {} breaks out of {}", titles(model, &parts[1..]), part.title)
            } else {
                format!("The mortise for {} leaves {} mm behind it in {}", titles(model, &parts[1..]), mm(behind), part.title)
            },
            source: "4 mm behind a blind mortise: common practice, no source",
            remedies: Vec::new(),
            parts,
        });
    }
    findings
}

fn other(model: &Model, joint: JointId, part: PartId) -> PartId {
    let joint = model.joint(joint);
    if joint.a == part { joint.b } else { joint.a }
}

fn titles(model: &Model, parts: &[PartId]) -> String {
    let titles: Vec<_> = parts.iter().map(|part| model.part(*part).title.as_str()).collect();
    titles.join(" and ")
}
