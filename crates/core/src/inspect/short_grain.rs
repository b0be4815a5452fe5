//! Short grain: wood between a cut and the end of its part that can split away along the grain, and teeth that crumble.

use super::mortises::{has_told, named, other};
use super::voids::{Form, Void, Voids};
use super::walls::LEAST_END;
use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::joint::seat::flat_between;
use crate::model::{Feature, Material, Model, Part, PartId};

/// The least flat at the tip of a tooth, mm: less is a feather edge (common practice, no source: 2 to 3).
pub const LEAST_CREST: f64 = 2.0;

pub(super) fn check(model: &Model, voids: &Voids<'_>) -> Vec<Finding> {
    let solid = |part: &&Part| matches!(part.material, Material::Solid(_));
    model
        .parts
        .iter()
        .filter(solid)
        .flat_map(|part| {
            let near = |void: &&Void<'_>| !voids.of(part.id).iter().any(|other| is_round(other, void));
            let mut findings: Vec<Finding> = voids.of(part.id).iter().filter(near).filter_map(|void| near_end(model, part, void)).collect();
            findings.extend(part.cuts.iter().flat_map(|cut| teeth(part, &cut.feature)));
            findings
        })
        .collect()
}

/// Whether a hole lies round another of the same middle, as a countersink does round its hole: what is left to the end is told of the widest.
fn is_round(outer: &Void<'_>, inner: &Void<'_>) -> bool {
    let (Form::Hole { face: of_outer, .. }, Form::Hole { face, .. }) = (&outer.form, &inner.form) else { return false };
    let [a, b] = [outer.centre(), inner.centre()];
    let middle = (0..3).filter(|axis| *axis != face.axis()).all(|axis| (a[axis] - b[axis]).abs() < TOUCH);
    of_outer == face && outer.joint() == inner.joint() && middle && outer.low.x < inner.low.x - TOUCH
}

/// The wood between a void that lies across the grain and the nearer end.
fn near_end(model: &Model, part: &Part, void: &Void<'_>) -> Option<Finding> {
    let across = match void.form {
        Form::Hole { face, .. } => face.axis() != 0,
        Form::Channel { face, run } => face.axis() != 0 && run != 0,
        Form::Step => false,
    };
    let left = void.low.x.min(part.size[0].mm - void.high.x);
    if !across || left <= TOUCH || left >= LEAST_END - TOUCH || has_told(model, part, void) {
        return None;
    }
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::ShortGrain,
        seriousness: Seriousness::AtRisk,
        parts: std::iter::once(part.id).chain(other(model, void, part.id)).collect(),
        joint: void.joint(),
        place: Some(part.pose.point(void.centre())),
        figures: vec![Figure::mm("to the end", left), Figure::mm("least", LEAST_END)],
        message: format!(
            "The {} stands {} mm from the end of {}: the short grain between splits off",
            named(model, void, part.id),
            mm(left),
            part.title
        ),
        source: "12 to 15 mm from a mortise to the end, in hardwood: common practice, no source",
        remedies: Vec::new(),
    })
}

/// Tips of teeth, and the wood under the lowest one.
fn teeth(part: &Part, feature: &Feature) -> Vec<Finding> {
    let (first, crest, round) = match *feature {
        Feature::Teeth { first, crest, .. } => (first, crest, false),
        Feature::HalfRounds { first, pitch, radius, .. } => (first, flat_between(pitch, radius), true),
        _ => return Vec::new(),
    };
    let mut findings = Vec::new();
    if crest < LEAST_CREST - TOUCH {
        findings.push(tooth(
            part,
            vec![Figure::mm("flat", crest), Figure::mm("least", LEAST_CREST)],
            format!("The teeth of {} end in a feather edge, {} mm flat, that crumbles", part.title, mm(crest)),
            "2 to 3 mm of flat at a tip: common practice, no source",
            if round {
                let Feature::HalfRounds { pitch, .. } = *feature else { return findings };
                let seat = ((pitch - LEAST_CREST) / 2.0 * 2.0).floor() / 2.0;
                super::Remedy::length(format!("Make the half rounds {} mm deep", mm(seat)), "sawtooth.seat", seat)
            } else {
                super::Remedy::length(format!("Leave {} mm flat", mm(LEAST_CREST)), "sawtooth.crest", LEAST_CREST)
            },
        ));
    }
    if first < LEAST_END - TOUCH {
        findings.push(tooth(
            part,
            vec![Figure::mm("to the end", first), Figure::mm("least", LEAST_END)],
            format!("The lowest seat of {} stands {} mm from its foot: the short grain below it splits off", part.title, mm(first)),
            "12 to 15 mm to the end, in hardwood: common practice, no source",
            super::Remedy::length(format!("Begin {} mm up", mm(LEAST_END)), "sawtooth.first", LEAST_END),
        ));
    }
    findings
}

fn tooth(part: &Part, figures: Vec<Figure>, message: String, source: &'static str, remedy: super::Remedy) -> Finding {
    let parts: Vec<PartId> = vec![part.id];
    Finding {
        explains: Vec::new(),
        rule: Rule::ShortGrain,
        seriousness: Seriousness::AtRisk,
        parts,
        joint: None,
        place: Some(part.block().centre()),
        figures,
        message,
        source,
        remedies: vec![remedy],
    }
}
