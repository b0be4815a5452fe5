//! A case that tips too easily and is not anchored.

use super::super::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::design::{Design, Wall};
use crate::length::trimmed_to;
use crate::loads::Standing;
use crate::model::{Model, PartKind};
use crate::shapes::Solids;
use crate::stability::{Anchor, Edge};

pub(super) fn check(design: &Design, model: &Model, solids: &Solids) -> Option<Finding> {
    if design.carcase.wall != Wall::Free {
        return None;
    }
    let standing = Standing::of(design, model, solids)?;
    if standing.reasons.is_empty() {
        return None;
    }
    let by_itself = standing.reasons.iter().any(|reason| matches!(reason, Anchor::TipsByItself { .. }));
    let posts = model.parts.iter().filter(|part| part.kind == PartKind::Post);
    let push = standing.push(Edge::Front, false).map_or(0.0, |push| push.newtons.value);
    let reasons: Vec<String> = standing.reasons.iter().map(Anchor::words).collect();
    Some(Finding {
        rule: Rule::Stands,
        seriousness: if by_itself { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: posts.map(|part| part.id).collect(),
        explains: Vec::new(),
        joint: None,
        place: Some(standing.empty.centre),
        figures: vec![
            Figure { name: "push", value: push, unit: "N" },
            Figure { name: "mass", value: standing.empty.kg, unit: "kg" },
            Figure { name: "height over depth", value: standing.slender.value, unit: "" },
        ],
        message: format!(
            "It stands unanchored, and {}: empty, {} N at its top edge tip it{}",
            reasons.join(", and "),
            trimmed_to(push, 1),
            not_weighed(model, &standing)
        ),
        source: "limits ours, set with reference to EN 14749, EN 16122 and ASTM F2057 (read in summaries); anchor to the structure by local \
                 code and licensed practice",
        remedies: vec![Remedy {
            words: "Anchor it to the wall".to_owned(),
            changes: vec![("carcase.wall".to_owned(), "anchored".to_owned())],
        }],
    })
}

/// What is left out of its weight: it may stand firmer than told.
fn not_weighed(model: &Model, standing: &Standing) -> String {
    let titles: Vec<&str> = standing.not_weighed.iter().map(|part| model.part(*part).title.as_str()).collect();
    match titles.as_slice() {
        [] => String::new(),
        [one] => format!("; {one} is of no known density and left out"),
        [first, more @ ..] => format!("; {first} and {} more are of no known density and left out", more.len()),
    }
}
