//! Panels in their grooves.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::joint::groove::Figures;
use crate::length::trimmed_to;
use crate::model::{Joint, Model};

/// A panel with more play than this in its groove rattles, mm (slip fit 0.2 to 0.4: common practice, no source).
pub const RATTLES: f64 = 0.5;
/// The least a panel reaches into its groove, mm (common practice, no source).
pub const LEAST_ENGAGED: f64 = 3.0;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut cutter_told = false;
    for joint in &model.joints {
        let JointKind::Groove(figures) = &joint.kind else { continue };
        findings.extend(thickness(model, joint, figures));
        findings.extend(engaged(model, joint, figures));
        if !cutter_told && figures.passes.is_none() {
            cutter_told = true;
            findings.push(cutter(model, joint, figures));
        }
    }
    findings
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
        rule: Rule::PanelThickness,
        seriousness,
        parts: vec![a.id, b.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("panel", panel), Figure::mm("groove", figures.width), Figure::mm("room", room)],
        message: format!("{} {message} in {}: {} in {}", a.title, b.title, mm(panel), mm(figures.width)),
        source: "slip fit 0.2 to 0.4: common practice, no source",
        remedy: Some(Remedy {
            words: "Let the grooves follow the sheet".to_owned(),
            changes: vec![
                ("joinery.groove.width_by".to_owned(), "from_sheet".to_owned()),
                ("joinery.groove.fit".to_owned(), "0.2".to_owned()),
            ],
        }),
    })
}

fn engaged(model: &Model, joint: &Joint, figures: &Figures) -> Option<Finding> {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let into = joint.contact.into;
    let edge = if into.sign() > 0.0 { a.block().max } else { a.block().min }[into.axis()];
    let reach = (edge - joint.contact.centre[into.axis()]) * into.sign();
    let seriousness = if reach <= TOUCH {
        Seriousness::WillFail
    } else if reach < LEAST_ENGAGED - TOUCH {
        Seriousness::AtRisk
    } else {
        return None;
    };
    Some(Finding {
        rule: Rule::PanelEngaged,
        seriousness,
        parts: vec![a.id, b.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("engaged", reach), Figure::mm("groove depth", figures.depth)],
        message: format!("{} reaches only {} into {}", a.title, mm(reach), b.title),
        source: "at least 3 mm: common practice, no source",
        remedy: Some(Remedy::length(
            "Give less play at the bottom".to_owned(),
            "joinery.groove.play",
            (figures.depth - LEAST_ENGAGED).clamp(0.0, 1.0),
        )),
    })
}

fn cutter(model: &Model, joint: &Joint, figures: &Figures) -> Finding {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    Finding {
        rule: Rule::GrooveCutter,
        seriousness: Seriousness::WillFail,
        parts: vec![b.id, a.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("groove", figures.width)],
        message: format!("The cutter is wider than the groove of {}", mm(figures.width)),
        source: "arithmetic",
        remedy: Some(Remedy::length(
            format!("Take a cutter of {}", mm(figures.width.floor())),
            "joinery.groove.cutter",
            figures.width.floor(),
        )),
    }
}
