//! Loose tenons: length against their mortises, thickness against the parts.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::joint::loose_tenon::{Figures, role_path};
use crate::model::{Joint, Model};

/// A tenon this share of the thinner part, or between these, is right by rule.
const THIRD: std::ops::RangeInclusive<f64> = 0.25..=0.5;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut thickness_told = Vec::new();
    for joint in &model.joints {
        let JointKind::LooseTenons(figures) = &joint.kind else { continue };
        findings.extend(too_long(model, joint, figures));
        // One word for all joints of a kind: it is one decision.
        let path = role_path(joint.role);
        if !thickness_told.contains(&path)
            && let Some(finding) = thickness(model, joint, figures)
        {
            thickness_told.push(path);
            findings.push(finding);
        }
    }
    findings
}

fn too_long(model: &Model, joint: &Joint, figures: &Figures) -> Option<Finding> {
    let room = figures.room();
    if room >= -TOUCH {
        return None;
    }
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let mut parts = vec![a.id, b.id];
    parts.extend(&joint.loose);
    let depth = figures.depth_in_end + figures.depth_in_face;
    Some(Finding {
        rule: Rule::TenonLength,
        seriousness: Seriousness::WillFail,
        parts,
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("tenon", figures.length), Figure::mm("mortises", depth), Figure::mm("too long", -room)],
        message: format!(
            "The loose tenon of {} is {} mm longer than its mortises: {} in {} and {}",
            a.title,
            mm(-room),
            mm(figures.length),
            mm(figures.depth_in_end),
            mm(figures.depth_in_face)
        ),
        source: "geometry",
        remedy: Some(Remedy::length(
            format!("Cut the tenons {} long", mm((depth - 1.0).max(8.0))),
            &format!("joinery.{}.length", role_path(joint.role)),
            (depth - 1.0).max(8.0),
        )),
    })
}

fn thickness(model: &Model, joint: &Joint, figures: &Figures) -> Option<Finding> {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    // The thinner of the two parts, measured the way of the tenon's thickness.
    let across = 3 - joint.contact.into.axis() - joint.contact.along.axis();
    let stock = a.block().size()[across].min(b.block().size()[across]);
    let share = figures.thickness / stock;
    if THIRD.contains(&share) {
        return None;
    }
    let right = (stock / 3.0).round();
    Some(Finding {
        rule: Rule::TenonThickness,
        seriousness: if share > *THIRD.end() { Seriousness::AtRisk } else { Seriousness::Note },
        parts: vec![a.id, b.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("tenon", figures.thickness), Figure::mm("stock", stock), Figure { name: "share", value: share, unit: "" }],
        message: format!("A tenon of {} in stock of {} is far from a third of it", mm(figures.thickness), mm(stock)),
        source: "a third of the stock: mortise and tenon primers; half where machine cut",
        remedy: Some(Remedy::length(
            format!("Take tenons {} thick", mm(right)),
            &format!("joinery.{}.thickness", role_path(joint.role)),
            right,
        )),
    })
}
