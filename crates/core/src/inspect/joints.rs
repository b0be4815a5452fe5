//! Rules of joints that their figures break, told by every joint of itself.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::derive::derive;
use crate::design::Design;
use crate::design::decisions::{self, BY_RULE, Value};
use crate::joint::loose_tenon::role_path;
use crate::joint::{Broken, JointKind};
use crate::model::{Joint, Model};

/// One finding a broken rule; joints that break it by the same figures are told together, since they rest on one decision.
pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let mut gathered: Vec<(Broken, Vec<&Joint>)> = Vec::new();
    for joint in &model.joints {
        for broken in joint.kind.broken() {
            match gathered.iter_mut().find(|(known, joints)| same(known, &broken) && alike(joints[0], joint)) {
                Some((_, joints)) => joints.push(joint),
                None => gathered.push((broken, vec![joint])),
            }
        }
    }
    gathered.iter().map(|(broken, joints)| told(design, model, broken, joints)).collect()
}

fn same(a: &Broken, b: &Broken) -> bool {
    a.rule == b.rule && (a.value - b.value).abs() < TOUCH && (a.limit - b.limit).abs() < TOUCH
}

fn alike(a: &Joint, b: &Joint) -> bool {
    role_path(a.role) == role_path(b.role)
}

fn told(design: &Design, model: &Model, broken: &Broken, joints: &[&Joint]) -> Finding {
    let first = joints[0];
    let (a, b) = (model.part(first.a), model.part(first.b));
    let others = match joints.len() - 1 {
        0 => String::new(),
        1 => " and one like it".to_owned(),
        more => format!(" and {more} like it"),
    };
    let bound = if broken.value > broken.limit { "at most" } else { "at least" };
    let mut parts = Vec::new();
    for part in joints.iter().flat_map(|joint| [joint.a, joint.b]) {
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    Finding {
        rule: Rule::JointRule,
        seriousness: Seriousness::AtRisk,
        parts,
        explains: Vec::new(),
        joint: Some(first.id),
        place: Some(first.contact.centre),
        figures: vec![Figure::mm("found", broken.value), Figure::mm(bound, broken.limit)],
        message: format!(
            "{} to {}{others}: {}; it is {}, and should be {bound} {}",
            a.title,
            b.title,
            broken.rule,
            mm(broken.value),
            mm(broken.limit)
        ),
        source: broken.source,
        remedies: by_rule(design, first, broken).into_iter().collect(),
    }
}

/// Back to the rules, where sizes of the maker's own stand against them and the rules mend it.
fn by_rule(design: &Design, joint: &Joint, broken: &Broken) -> Option<Remedy> {
    let under = match joint.kind {
        JointKind::Tenon(_) => "tenon",
        JointKind::Dowels(_) => "dowels",
        _ => return None,
    };
    let path = format!("joinery.{}.{under}.", role_path(joint.role));
    let mut mended = design.clone();
    let mut changes = Vec::new();
    for decision in decisions::list(design) {
        if decision.spec.path.starts_with(&path) && matches!(decision.value, Value::Ruled { own: Some(_), .. }) {
            decisions::set(&mut mended, &decision.spec.path, BY_RULE).ok()?;
            changes.push((decision.spec.path, BY_RULE.to_owned()));
        }
    }
    if changes.is_empty() {
        return None;
    }
    let model = derive(&mended).ok()?;
    let kept = model.joints.get(joint.id.0).is_some_and(|joint| !joint.kind.broken().iter().any(|other| other.rule == broken.rule));
    kept.then(|| Remedy { words: "Take its sizes by rule".to_owned(), changes })
}
