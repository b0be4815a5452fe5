//! Loose tenons: length against their mortises, thickness against the parts.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::joint::loose_tenon::{Figures, role_path};
use crate::model::{Joint, Model};

/// The share of the thinner part that a tenon may take: a third by rule (Noyes, Handwork in Wood), to a half where it is
/// cut by machine (common practice, no source).
const THIRD: std::ops::RangeInclusive<f64> = 0.25..=0.5;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    // One word for all joints of a kind: they rest on one decision.
    let mut kinds: Vec<(&'static str, Vec<(&Joint, &Figures)>)> = Vec::new();
    for joint in &model.joints {
        let JointKind::LooseTenons(figures) = &joint.kind else { continue };
        let path = role_path(joint.role);
        match kinds.iter_mut().find(|(known, _)| *known == path) {
            Some((_, all)) => all.push((joint, figures)),
            None => kinds.push((path, vec![(joint, figures)])),
        }
    }
    kinds.iter().flat_map(|(path, all)| too_long(model, path, all).into_iter().chain(thickness(model, path, all))).collect()
}

fn too_long(model: &Model, path: &str, all: &[(&Joint, &Figures)]) -> Option<Finding> {
    let long: Vec<_> = all.iter().filter(|(_, figures)| figures.room() < -TOUCH).collect();
    let (first, figures) = long.first()?;
    let mut finding = Finding {
        rule: Rule::TenonLength,
        seriousness: Seriousness::WillFail,
        parts: Vec::new(),
        explains: Vec::new(),
        joint: Some(first.id),
        place: Some(first.contact.centre),
        figures: vec![
            Figure::mm("tenon", figures.length),
            Figure::mm("mortises", figures.depth_in_end + figures.depth_in_face),
            Figure::mm("too long", -figures.room()),
        ],
        message: format!(
            "Loose tenons of {} mm are {} mm longer than their mortises, {} and {} mm: {} and {} like it",
            mm(figures.length),
            mm(-figures.room()),
            mm(figures.depth_in_end),
            mm(figures.depth_in_face),
            model.part(first.a).title,
            long.len() - 1
        ),
        source: "geometry",
        remedies: Vec::new(),
    };
    for (joint, _) in &long {
        for &tenon in &joint.loose {
            finding.parts.push(tenon);
            finding.explains.extend([(joint.a, tenon), (joint.b, tenon)]);
        }
    }
    let right = figures.depth_in_end + figures.depth_in_face - 1.0;
    finding.remedies.push(Remedy::length(format!("Cut the tenons {} mm long", mm(right)), &format!("joinery.{path}.length"), right));
    Some(finding)
}

fn thickness(model: &Model, path: &str, all: &[(&Joint, &Figures)]) -> Option<Finding> {
    // The thinnest of all the parts that these tenons go into, measured the way of the tenon's thickness.
    let stock = |joint: &Joint| {
        let across = 3 - joint.contact.into.axis() - joint.contact.along.axis();
        model.part(joint.a).block().size()[across].min(model.part(joint.b).block().size()[across])
    };
    let (joint, figures, stock) = all.iter().map(|(joint, figures)| (joint, figures, stock(joint))).min_by(|a, b| a.2.total_cmp(&b.2))?;
    let share = figures.thickness / stock;
    if THIRD.contains(&share) {
        return None;
    }
    let right = (stock / 3.0).round();
    Some(Finding {
        rule: Rule::TenonThickness,
        seriousness: if share > *THIRD.end() { Seriousness::AtRisk } else { Seriousness::Note },
        parts: vec![joint.a, joint.b],
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("tenon", figures.thickness), Figure::mm("stock", stock), Figure { name: "share", value: share, unit: "" }],
        message: format!("A tenon of {} mm in stock of {} mm is far from a third of it", mm(figures.thickness), mm(stock)),
        source: "a third of the stock: Noyes, Handwork in Wood; to a half where machine cut: common practice, no source",
        remedies: vec![Remedy::length(format!("Take tenons {} mm thick", mm(right)), &format!("joinery.{path}.thickness"), right)],
    })
}
