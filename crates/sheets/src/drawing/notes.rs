//! What is said in words beside the drawing: how it is made, in a few lines.

use casewright_core::design::{Bottom, Design, FixedLine, Sheet, Top, TopFixing};
use casewright_core::joint::JointKind;
use casewright_core::length::trimmed;
use casewright_core::model::{PartKind, Role};
use casewright_core::{Length, Model};

/// The notes, a sentence or two each; `heights` are those that found no room on the drawing.
pub(super) fn of(design: &Design, model: &Model, heights: &[String]) -> Vec<String> {
    [
        Some(frame(design, model)),
        tenons(model),
        panels(design, model),
        top(design, model),
        floor(design, model),
        shelves(design, model),
        Some(moisture(design)),
        (!heights.is_empty()).then(|| format!("Heights above the ground: {}.", heights.join("; "))),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn species<'a>(model: &'a Model, id: &'a str) -> &'a str {
    model.timbers.species(id).map_or(id, |species| &species.name)
}

fn sheet(model: &Model, sheet: &Sheet) -> String {
    let name = model.timbers.sheet(&sheet.product).map_or(sheet.product.as_str(), |product| &product.name);
    format!("{name}, {} as measured (sold as {})", sheet.measured, sheet.nominal)
}

fn frame(design: &Design, model: &Model) -> String {
    let case = &design.carcase;
    let rails = &case.rails;
    let stand = if rails.reveal == Length::ZERO {
        "flush with the posts".to_owned()
    } else {
        format!("{} back from the faces of the posts", rails.reveal)
    };
    format!(
        "Posts {} × {}. Rails {} thick, {stand}. {}.",
        case.post.width,
        case.post.depth,
        rails.thickness,
        species(model, &design.timber.frame)
    )
}

fn tenons(model: &Model) -> Option<String> {
    let joint = model.joints.iter().find(|joint| joint.role == Role::RailToPost)?;
    Some(format!("Rails to posts: {}.", joint.kind.describe()))
}

fn panels(design: &Design, model: &Model) -> Option<String> {
    let groove = model.joints.iter().find(|joint| matches!(joint.kind, JointKind::Groove(_)))?.kind.describe();
    Some(format!("Panels: {}; {groove}.", sheet(model, &design.timber.panel)))
}

fn top(design: &Design, model: &Model) -> Option<String> {
    let Top::Slab(slab) = &design.carcase.top else { return None };
    let stays = match slab.buttons.fixed {
        FixedLine::Front => "its front stays put",
        FixedLine::Centre => "its middle stays put",
        FixedLine::Back => "its back stays put",
    };
    let (role, what) = match slab.fixing {
        TopFixing::Buttons => (Role::ButtonToTop, "buttons"),
        TopFixing::Clips => (Role::FixingToTop, "clips"),
        TopFixing::Plates => (Role::FixingToTop, "figure-eight plates"),
        TopFixing::SlottedScrews => (Role::FixingToTop, "screws in slotted strips"),
    };
    let count = |role| model.joints.iter().filter(|joint| joint.role == role).count();
    // Where it moves too far for plates.
    let buttons = if role == Role::FixingToTop { count(Role::ButtonToTop) } else { 0 };
    let besides = if buttons > 0 { format!(" and {buttons} buttons") } else { String::new() };
    Some(format!("Top: {}, {} thick, on {} {what}{besides}; {stays}.", species(model, &design.timber.top), slab.thickness, count(role)))
}

fn floor(design: &Design, model: &Model) -> Option<String> {
    match &design.carcase.bottom {
        Bottom::LooseFloor(_) => Some(format!("Floor: {}; laid in after glue-up.", sheet(model, &design.timber.floor))),
        Bottom::Open => None,
    }
}

fn shelves(design: &Design, model: &Model) -> Option<String> {
    if !model.parts.iter().any(|part| part.kind == PartKind::Standard) {
        return None;
    }
    let sawtooth = &design.sawtooth;
    let (slats, cleat) = (&sawtooth.slats, &sawtooth.cleat);
    // The load may have made them thicker than was decided.
    let slat = model.parts.iter().find(|part| part.kind == PartKind::Slat);
    let thickness = trimmed(slat.map_or(slats.thickness.to_mm(), |slat| slat.size[2].mm));
    Some(format!(
        "Shelves: {} slats {} × {} on cleats {} × {}, in standards with a tooth every {}. {}.",
        slats.count,
        slats.width,
        thickness,
        cleat.height,
        cleat.thickness,
        sawtooth.pitch,
        species(model, &design.timber.shelving)
    ))
}

fn moisture(design: &Design) -> String {
    let moisture = &design.timber.moisture;
    format!(
        "Timber at {} % moisture when built; {} to {} % in its place.",
        trimmed(moisture.built),
        trimmed(moisture.driest()),
        trimmed(moisture.wettest())
    )
}
