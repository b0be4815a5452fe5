//! Rules of joints that their figures break, told by every joint of itself.

use super::proof::Proof;
use super::rows;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::Design;
use crate::design::decisions::{self, BY_RULE, Decision, Value};
use crate::joint::{Broken, sizes_path};
use crate::model::{Joint, Model};

/// One finding a broken rule; joints that break it by the same figures are told together, since they rest on one decision.
pub(super) fn check(proof: &Proof<'_>, design: &Design, model: &Model) -> Vec<Finding> {
    let all = broken_rules(model);
    let mut gathered: Vec<(&Broken, Vec<&Joint>)> = Vec::new();
    for (joint, broken) in &all {
        for broken in broken {
            match gathered.iter_mut().find(|(known, joints)| same(known, broken) && alike(joints[0], joint)) {
                Some((_, joints)) => joints.push(joint),
                None => gathered.push((broken, vec![joint])),
            }
        }
    }
    if gathered.is_empty() {
        return Vec::new();
    }
    let decisions = decisions::list(design);
    let told = gathered.iter().map(|(broken, joints)| {
        // What would mend it in one joint may be what mends it in all that rest on the same sizes.
        let like = all.iter().filter(|(joint, _)| alike(joints[0], joint)).flat_map(|(_, others)| others);
        let mends = like.filter(|other| other.rule == broken.rule).flat_map(|other| &other.mends);
        let remedies = remedies(proof, &decisions, model, broken, joints[0], mends);
        Finding { remedies, ..told(model, broken, joints) }
    });
    told.collect()
}

/// Every joint with the rules it breaks, by itself and in its row.
fn broken_rules(model: &Model) -> Vec<(&Joint, Vec<Broken>)> {
    let mut all: Vec<(&Joint, Vec<Broken>)> = model.joints.iter().map(|joint| (joint, joint.kind.broken())).collect();
    for (joint, broken) in rows::broken(model) {
        if let Some((_, known)) = all.get_mut(joint.0) {
            known.extend(broken);
        }
    }
    all
}

fn same(a: &Broken, b: &Broken) -> bool {
    a.rule == b.rule && (a.value - b.value).abs() < TOUCH && (a.limit - b.limit).abs() < TOUCH
}

fn alike(a: &Joint, b: &Joint) -> bool {
    sizes_path(a) == sizes_path(b)
}

fn told(model: &Model, broken: &Broken, joints: &[&Joint]) -> Finding {
    let first = joints[0];
    let (a, b) = (model.part(first.a), model.part(first.b));
    let others = match joints.len() - 1 {
        0 => String::new(),
        1 => " and one like it".to_owned(),
        more => format!(" and {more} like it"),
    };
    let bound = if broken.value > broken.limit { "at most" } else { "at least" };
    // No figure of the maker's can be less than nothing: it is the part that has no room.
    let should = if broken.limit < 0.0 && broken.value > broken.limit {
        format!("it has {} mm too little for any such joint", mm(-broken.limit))
    } else {
        format!("it is {}, and should be {bound} {}", mm(broken.value), mm(broken.limit))
    };
    let mut parts = Vec::new();
    for part in joints.iter().flat_map(|joint| [joint.a, joint.b]) {
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    Finding {
        rule: Rule::JointRule,
        seriousness: if broken.fails { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts,
        explains: Vec::new(),
        joint: Some(first.id),
        place: Some(first.contact.centre),
        figures: vec![Figure::mm("found", broken.value), Figure::mm(bound, broken.limit)],
        message: format!("{} to {}{others}: breaks the rule that {}; {should}", a.title, b.title, broken.rule),
        source: broken.source,
        remedies: Vec::new(),
    }
}

/// Sizes back to the rules, and other values of single ones; each that mends the rule in every joint that rests on them and breaks none.
fn remedies<'b>(
    proof: &Proof<'_>,
    decisions: &[Decision],
    model: &Model,
    broken: &Broken,
    joint: &Joint,
    mends: impl Iterator<Item = &'b (&'static str, String)>,
) -> Vec<Remedy> {
    let Some(path) = sizes_path(joint) else { return Vec::new() };
    let mut remedies: Vec<Remedy> = by_rule(decisions, &path).into_iter().collect();
    for (word, value) in mends {
        let path = if word.contains('.') { (*word).to_owned() } else { format!("{path}.{word}") };
        let Some(decision) = decisions.iter().find(|decision| decision.spec.path == path) else { continue };
        let words = format!("Set “{}” to {}", decision.spec.label, spoken(decision, value));
        let remedy = Remedy { words, changes: vec![(path, value.clone())] };
        if !remedies.iter().any(|other| other.changes == remedy.changes) {
            remedies.push(remedy);
        }
    }
    let rules = |model: &Model| -> Vec<&'static str> {
        let like = broken_rules(model).into_iter().filter(|(other, _)| sizes_path(other).as_ref() == Some(&path));
        like.flat_map(|(_, broken)| broken).map(|broken| broken.rule).collect()
    };
    let before = rules(model);
    let kept = |remedy: &Remedy| {
        proof.tried(&remedy.changes).is_some_and(|tried| {
            let after = rules(&tried.model);
            after.iter().all(|rule| *rule != broken.rule && before.contains(rule))
        })
    };
    remedies.retain(kept);
    remedies
}

/// A value as it is said in a sentence.
fn spoken(decision: &Decision, value: &str) -> String {
    match &decision.value {
        Value::Choice { options, .. } => {
            let label = options.iter().find(|(word, _)| word == value).map(|(_, label)| label.to_lowercase());
            format!("“{}”", label.as_deref().unwrap_or(value))
        }
        _ if value == BY_RULE => BY_RULE.to_owned(),
        _ => format!("{value}{}", decision.spec.unit.behind()),
    }
}

/// Back to the rules, where sizes of the maker's own stand against them.
pub(crate) fn by_rule(decisions: &[Decision], path: &str) -> Option<Remedy> {
    let under = format!("{path}.");
    let own = |decision: &&Decision| decision.spec.path.starts_with(&under) && matches!(decision.value, Value::Ruled { own: Some(_), .. });
    let changes: Vec<_> = decisions.iter().filter(own).map(|decision| (decision.spec.path.clone(), BY_RULE.to_owned())).collect();
    (!changes.is_empty()).then(|| Remedy { words: "Take its sizes by rule".to_owned(), changes })
}
