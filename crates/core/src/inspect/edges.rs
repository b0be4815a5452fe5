//! Rounds and chamfers against the thickness of the part they are taken off.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::model::{Face, Feature, Model, Part, PartKind};

pub(super) fn check(model: &Model) -> Vec<Finding> {
    model.parts.iter().filter_map(too_large).collect()
}

/// How much a cut takes off the flat of an edge or end: off the face, and along T there.
fn taken(cut: &Feature) -> Option<(Face, f64)> {
    let (arris, off) = match cut {
        Feature::EdgeRound(round) => (round.arris, [round.radius; 2]),
        Feature::EdgeChamfer(chamfer) => (chamfer.arris, chamfer.off),
        _ => return None,
    };
    let upright = arris.iter().position(|face| face.axis() != 2)?;
    (arris[1 - upright].axis() == 2).then_some((arris[upright], off[upright]))
}

/// The largest round or chamfer of a part, where it takes more than half of the thickness; or two on one edge that meet.
fn too_large(part: &Part) -> Option<Finding> {
    let thickness = part.size[2].mm;
    let cuts: Vec<(Face, f64)> = part.cuts.iter().filter_map(|cut| taken(&cut.feature)).collect();
    let (face, off) = cuts.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1))?;
    if off <= thickness / 2.0 + TOUCH {
        return None;
    }
    let flat = thickness - cuts.iter().filter(|cut| cut.0 == face).map(|cut| cut.1).sum::<f64>();
    let left = if flat <= TOUCH { "nothing of it stays flat".to_owned() } else { format!("{} mm of it stay flat", mm(flat)) };
    // Only the top has its edges decided so far.
    let remedy = (part.kind == PartKind::Top)
        .then(|| Remedy::length(format!("Take {} mm", mm(thickness / 2.0)), "carcase.top.edges.size", thickness / 2.0));
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::EdgeLeavesWood,
        seriousness: Seriousness::AtRisk,
        parts: vec![part.id],
        joint: None,
        place: Some(part.block().centre()),
        figures: vec![Figure::mm("taken off", off), Figure::mm("thickness", thickness), Figure::mm("flat left", flat.max(0.0))],
        message: format!("{} mm are taken off an arris of {}, of {} mm of thickness: {left}", mm(off), part.title, mm(thickness)),
        source: "at most half of the thickness: common practice, no source",
        remedies: remedy.into_iter().collect(),
    })
}
