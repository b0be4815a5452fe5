//! Parts in the same place.

use std::collections::HashSet;

use casewright_solid::{broad_phase, overlap};

use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm, small};
use crate::model::{Model, PartId};
use crate::shapes::Solids;

/// Every pair of parts that overlap, except pairs whose cause is already told.
pub(super) fn check(model: &Model, solids: &Solids, told: &[Finding]) -> Vec<Finding> {
    let mut findings: Vec<Finding> = model
        .parts
        .iter()
        .filter_map(|part| {
            let error = solids.of(part.id).err()?;
            Some(Finding {
                explains: Vec::new(),
                rule: Rule::Solid,
                seriousness: Seriousness::WillFail,
                parts: vec![part.id],
                joint: None,
                place: Some(part.block().centre()),
                figures: Vec::new(),
                message: format!("{} can't be made: {error}", part.title),
                source: "geometry",
                remedies: Vec::new(),
            })
        })
        .collect();
    let boxes: Vec<_> = model
        .parts
        .iter()
        .map(|part| {
            let block = part.block();
            (block.min, block.max)
        })
        .collect();
    let explained: HashSet<(PartId, PartId)> =
        told.iter().flat_map(|finding| &finding.explains).map(|&(a, b)| (a.min(b), a.max(b))).collect();
    for (a, b) in broad_phase(&boxes) {
        let (a, b) = (PartId(a.min(b)), PartId(a.max(b)));
        if !explained.contains(&(a, b)) {
            findings.extend(pair(model, solids, a, b));
        }
    }
    findings
}

fn pair(model: &Model, solids: &Solids, a: PartId, b: PartId) -> Option<Finding> {
    let (first, second) = (model.part(a), model.part(b));
    let found = overlap(solids.cells(a)?, &first.pose, solids.cells(b)?, &second.pose)?;
    if found.depth <= TOUCH {
        return None;
    }
    let joint = model.joints_of(a).find(|joint| [joint.a, joint.b].contains(&b) || joint.loose.contains(&b)).map(|joint| joint.id);
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::Overlap,
        seriousness: Seriousness::WillFail,
        parts: vec![a, b],
        joint,
        place: Some(found.centre),
        figures: vec![Figure { name: "volume", value: found.volume, unit: "mm³" }, Figure::mm("depth", found.depth)],
        message: format!(
            "{} and {} are in the same place: {} deep, {}",
            first.title,
            second.title,
            small(found.depth),
            volume(found.volume)
        ),
        source: "geometry",
        remedies: Vec::new(),
    })
}

fn volume(mm3: f64) -> String {
    if mm3 >= 1000.0 { format!("{} cm³", mm(mm3 / 1000.0)) } else { format!("{} mm³", mm(mm3)) }
}
