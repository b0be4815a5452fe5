//! Panels in their grooves.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::joint::groove::Figures;
use crate::length::trimmed_to;
use crate::model::{Joint, Model, Part};

/// A panel with more play than this in its groove rattles, mm (slip fit 0.2 to 0.4: common practice, no source).
pub const RATTLES: f64 = 0.5;
/// The least a panel reaches into its groove, mm (common practice, no source).
pub const LEAST_ENGAGED: f64 = 3.0;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut findings: Vec<Finding> = Vec::new();
    let mut cutter_told = false;
    for joint in &model.joints {
        let JointKind::Groove(figures) = &joint.kind else { continue };
        for finding in thickness(model, joint, figures).into_iter().chain(engaged(model, joint, figures)) {
            tell_once(&mut findings, finding);
        }
        if !cutter_told && figures.passes.is_none() {
            cutter_told = true;
            findings.push(cutter(model, joint, figures));
        }
    }
    findings
}

/// One finding speaks for all panels that are wrong by the same figures: they rest on one decision.
fn tell_once(findings: &mut Vec<Finding>, finding: Finding) {
    let same = |known: &&mut Finding| known.rule == finding.rule && known.figures == finding.figures;
    match findings.iter_mut().find(same) {
        Some(known) => {
            known.explains.extend(finding.explains);
            for part in finding.parts {
                if !known.parts.contains(&part) {
                    known.parts.push(part);
                }
            }
        }
        None => findings.push(finding),
    }
}

fn thickness(model: &Model, joint: &Joint, figures: &Figures) -> Option<Finding> {
    // The part may be thicker than the sheet says, by the maker's own measure.
    let panel = model.part(joint.a).size[2].mm;
    let room = figures.width - panel;
    let (seriousness, message) = if room < -TOUCH {
        (Seriousness::WillFail, format!("is {} mm too thick for its groove", trimmed_to(-room, 3)))
    } else if room > RATTLES + TOUCH {
        (Seriousness::AtRisk, format!("is loose in its groove, by {} mm", mm(room)))
    } else {
        return None;
    };
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    Some(Finding {
        explains: vec![(a.id, b.id)],
        rule: Rule::PanelThickness,
        seriousness,
        parts: vec![a.id, b.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("panel", panel), Figure::mm("groove", figures.width), Figure::mm("room", room)],
        message: format!("{} {message} in {}: {} mm in {} mm", a.title, b.title, mm(panel), mm(figures.width)),
        source: "slip fit 0.2 to 0.4: common practice, no source",
        remedies: vec![wider(panel, figures)],
    })
}

/// Grooves that follow the sheet; or, where the part is not as thick as the sheet, grooves of their own width.
fn wider(panel: f64, figures: &Figures) -> Remedy {
    const SLIP: f64 = 0.2;
    let set = |path: &str, value: String| (path.to_owned(), value);
    if (panel - figures.panel).abs() <= TOUCH {
        let changes = vec![set("joinery.groove.width_by", "from_sheet".to_owned()), set("joinery.groove.fit", SLIP.to_string())];
        return Remedy { words: "Let the grooves follow the sheet".to_owned(), changes };
    }
    let width = panel + SLIP;
    let changes = vec![set("joinery.groove.width_by", "own".to_owned()), set("joinery.groove.own_width", width.to_string())];
    Remedy { words: format!("Make the grooves {} mm wide", mm(width)), changes }
}

/// How far a panel reaches into the groove of a joint, mm.
pub(super) fn reach(panel: &Part, joint: &Joint) -> f64 {
    let into = joint.contact.into;
    let edge = if into.sign() > 0.0 { panel.block().max } else { panel.block().min }[into.axis()];
    (edge - joint.contact.centre[into.axis()]) * into.sign()
}

fn engaged(model: &Model, joint: &Joint, figures: &Figures) -> Option<Finding> {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let reach = reach(a, joint);
    let seriousness = if reach <= TOUCH {
        Seriousness::WillFail
    } else if reach < LEAST_ENGAGED - TOUCH {
        Seriousness::AtRisk
    } else {
        return None;
    };
    Some(Finding {
        explains: vec![(a.id, b.id)],
        rule: Rule::PanelEngaged,
        seriousness,
        parts: vec![a.id, b.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("engaged", reach), Figure::mm("groove depth", figures.depth)],
        message: format!("{} reaches only {} mm into {}", a.title, mm(reach), b.title),
        source: "at least 3 mm: common practice, no source",
        remedies: vec![Remedy {
            words: "Give less play at the bottom".to_owned(),
            changes: vec![
                ("joinery.groove.play".to_owned(), (figures.depth - LEAST_ENGAGED).clamp(0.0, 1.0).to_string()),
                ("joinery.groove.depth".to_owned(), figures.depth.max(LEAST_ENGAGED).to_string()),
            ],
        }],
    })
}

fn cutter(model: &Model, joint: &Joint, figures: &Figures) -> Finding {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    Finding {
        explains: Vec::new(),
        rule: Rule::GrooveCutter,
        seriousness: Seriousness::WillFail,
        parts: vec![b.id, a.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("groove", figures.width)],
        message: format!("The cutter is wider than the groove of {} mm", mm(figures.width)),
        source: "arithmetic",
        remedies: vec![Remedy::length(
            format!("Take a cutter of {} mm", mm(figures.width.floor())),
            "joinery.groove.cutter",
            figures.width.floor(),
        )],
    }
}
