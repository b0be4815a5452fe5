//! Panels in their grooves: how thick, and cut with what.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::joint::groove::Figures;
use crate::length::trimmed_to;
use crate::model::{Joint, Model, Part};

/// A panel with more play than this in its groove rattles, mm (slip fit 0.2 to 0.4: common practice, no source).
pub const RATTLES: f64 = 0.4;

/// A panel with less play than this in its groove binds, mm (slip fit 0.1 to 0.4: common practice, no source).
const BINDS: f64 = 0.1;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut findings: Vec<Finding> = Vec::new();
    let mut cutter_told = false;
    for joint in &model.joints {
        let JointKind::Groove(figures) = &joint.kind else { continue };
        findings.extend(thickness(model, joint, figures));
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
    } else if room < BINDS - TOUCH {
        (Seriousness::AtRisk, format!("binds in its groove: {} mm of room", mm(room)))
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
        remedies: vec![wider(a, figures)],
    })
}

/// A panel as thick as the sheet, where its thickness is the maker's own; or grooves that follow the sheet, or the panel.
fn wider(panel: &Part, figures: &Figures) -> Remedy {
    const SLIP: f64 = 0.2;
    let set = |path: &str, value: String| (path.to_owned(), value);
    let thickness = panel.size[2].mm;
    if (thickness - figures.panel).abs() <= TOUCH {
        let changes = vec![set("joinery.groove.width_by", "from_sheet".to_owned()), set("joinery.groove.fit", SLIP.to_string())];
        return Remedy { words: "Let the grooves follow the sheet".to_owned(), changes };
    }
    if panel.is_own(2) {
        let path = format!("part.{}.thickness", panel.name);
        return Remedy::length(format!("Take it from the sheet of {} mm", mm(figures.panel)), &path, figures.panel);
    }
    let width = thickness + SLIP;
    let changes = vec![set("joinery.groove.width_by", "own".to_owned()), set("joinery.groove.own_width", width.to_string())];
    Remedy { words: format!("Make the grooves {} mm wide", mm(width)), changes }
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
