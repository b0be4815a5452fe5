//! Parts against the sticks they are crosscut from.

use super::{Figure, Finding, Rule, Seriousness, mm};
use crate::design::Design;
use crate::model::{Material, Model};

pub(super) fn check(design: &Design, model: &Model) -> Option<Finding> {
    let sticks = &design.timber.sticks;
    let usable = sticks.length.to_mm() - 2.0 * sticks.trim.to_mm();
    let more = design.timber.rough.length.to_mm();
    let rough = |length: f64| length + more;
    let solid = model.parts.iter().filter(|part| matches!(part.material, Material::Solid(_)));
    let long: Vec<_> = solid.filter(|part| rough(part.size[0].mm) > usable).collect();
    let longest = *long.iter().max_by(|a, b| a.size[0].mm.total_cmp(&b.size[0].mm))?;
    Some(Finding {
        rule: Rule::StickLength,
        seriousness: Seriousness::AtRisk,
        parts: long.iter().map(|part| part.id).collect(),
        explains: Vec::new(),
        joint: None,
        place: Some(longest.block().centre()),
        figures: vec![Figure::mm("rough length", rough(longest.size[0].mm)), Figure::mm("usable stick", usable)],
        message: format!(
            "{} needs {} mm in the rough, and a stick gives {} mm after its ends are trimmed",
            longest.title,
            mm(rough(longest.size[0].mm)),
            mm(usable)
        ),
        source: "arithmetic",
        remedies: Vec::new(),
    })
}
