//! A case that tips too easily and is not anchored.

use super::super::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::design::{Design, Wall};
use crate::length::trimmed_to;
use crate::loads::{Push, Standing};
use crate::model::{Material, Model, PartKind};
use crate::shapes::Solids;
use crate::stability::{Anchor, Edge};

const SOURCE: &str = "limits ours, set with reference to EN 14749, EN 16122 and ASTM F2057 (read in summaries); anchor to the structure by local \
                      code and licensed practice";

pub(super) fn check(design: &Design, model: &Model, solids: &Solids) -> Option<Finding> {
    if design.carcase.wall != Wall::Free {
        return None;
    }
    let standing = Standing::of(design, model, solids)?;
    if standing.reasons.is_empty() {
        // Over its back or a side it goes only where nothing stands there: that is told with the order, as what else is to be seen to where it stands.
        let forward = |push: &Push| push.over == Edge::Front && push.is_weak(&design.limits);
        return standing.pushes.iter().any(forward).then(|| leans(design, model, &standing));
    }
    let by_itself = standing.reasons.iter().any(|reason| matches!(reason, Anchor::TipsByItself { .. }));
    let posts = model.parts.iter().filter(|part| part.kind == PartKind::Post);
    let worked = standing.push(Edge::Front, false).map(|push| push.newtons.clone());
    let push = worked.as_ref().map_or(0.0, |push| push.value);
    let reasons: Vec<String> = standing.reasons.iter().map(Anchor::words).collect();
    Some(Finding {
        rule: Rule::Stands,
        seriousness: if by_itself { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: posts.map(|part| part.id).collect(),
        explains: Vec::new(),
        joint: None,
        place: Some(standing.empty.centre),
        figures: vec![
            Figure { why: worked.map(Box::new), ..Figure::new("push", push, "N") },
            Figure::new("mass", standing.empty.kg, "kg"),
            Figure::new("height over depth", standing.slender.value, "").because(standing.slender.clone()),
        ],
        message: format!(
            "It stands unanchored, and {}: empty, {} N at its top edge tip it{}",
            reasons.join(", and "),
            trimmed_to(push, 1),
            not_weighed(model, &standing)
        ),
        source: SOURCE,
        remedies: vec![anchored()],
    })
}

fn anchored() -> Remedy {
    Remedy { words: "Anchor it to the wall".to_owned(), changes: vec![("carcase.wall".to_owned(), "anchored".to_owned())] }
}

/// A note of a case that stands by itself, but goes over backward or to a side with less than it is to stand; nothing where `told` has it already.
pub(crate) fn leaning_findings(design: &Design, model: &Model, solids: &Solids, told: &[Finding]) -> Option<Finding> {
    if design.carcase.wall != Wall::Free || told.iter().any(|finding| finding.rule == Rule::Stands) {
        return None;
    }
    let standing = Standing::of(design, model, solids).filter(|standing| standing.reasons.is_empty())?;
    let weak = standing.pushes.iter().any(|push| push.is_weak(&design.limits));
    weak.then(|| leans(design, model, &standing))
}

/// A note of a case that stands level and forward, and not as firmly on carpet, or over its back or a side, where it goes only if nothing stands there.
fn leans(design: &Design, model: &Model, standing: &Standing) -> Finding {
    let posts = model.parts.iter().filter(|part| part.kind == PartKind::Post);
    let least = standing.pushes.iter().map(|push| &push.newtons).min_by(|a, b| a.value.total_cmp(&b.value));
    Finding {
        rule: Rule::Stands,
        seriousness: Seriousness::Note,
        parts: posts.map(|part| part.id).collect(),
        explains: Vec::new(),
        joint: None,
        place: Some(standing.empty.centre),
        figures: vec![
            Figure { why: least.cloned().map(Box::new), ..Figure::new("push", least.map_or(0.0, |least| least.value), "N") },
            Figure::new("to stand", design.limits.push, "N"),
            Figure::new("mass", standing.empty.kg, "kg"),
        ],
        message: format!("Unanchored, {}{}", standing.leans_on(&design.limits).join("; "), not_weighed(model, standing)),
        source: SOURCE,
        remedies: vec![anchored()],
    }
}

/// What is left out of its weight: it may stand firmer than told.
fn not_weighed(model: &Model, standing: &Standing) -> String {
    // What is bought in, as clips and pins, weighs next to nothing.
    let parts = standing.not_weighed.iter().map(|part| model.part(*part)).filter(|part| !matches!(part.material, Material::Bought(_)));
    let titles: Vec<&str> = parts.map(|part| part.title.as_str()).collect();
    match titles.as_slice() {
        [] => String::new(),
        [one] => format!("; {one} is of no known density and left out"),
        [first, more @ ..] => format!("; {first} and {} more are of no known density and left out", more.len()),
    }
}
