//! What is said in words beside the drawing: how it is made, in a few lines.

use casewright_core::derive::{BayPlan, bay_plans};
use casewright_core::design::{Bottom, CleatsBy, Design, FixedLine, FloorPieces, Sheet, ShelfOf, System, Teeth, Top, TopFixing};
use casewright_core::joint::JointKind;
use casewright_core::joint::seat::slope_degrees;
use casewright_core::length::{trimmed, trimmed_to};
use casewright_core::model::{PartKind, Role};
use casewright_core::{Length, Model};

use crate::figures::Wording;

/// The notes, a sentence or two each, in the unit of the paper.
pub(super) fn of(design: &Design, model: &Model, wording: &Wording) -> Vec<String> {
    let told = [
        Some(frame(design, model)),
        tenons(model),
        panels(design, model),
        top(design, model),
        floor(design, model),
        shelves(design, model),
        Some(moisture(design)),
    ];
    told.into_iter().flatten().map(|note| wording.exact(&note)).collect()
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
        Bottom::LooseFloor(floor) => {
            let pieces = match floor.pieces {
                FloorPieces::One => "",
                FloorPieces::Butted => ", two pieces a bay, edge to edge",
                FloorPieces::Lapped => ", two pieces a bay, halved over each other",
            };
            Some(format!("Floor: {}{pieces}; laid in after glue-up.", sheet(model, &design.timber.floor)))
        }
        Bottom::Open => None,
    }
}

/// What holds the shelves of each bay, a system after the other; the bays are named where not all have the same.
fn shelves(design: &Design, model: &Model) -> Option<String> {
    let plans = bay_plans(design).ok()?;
    let bays = |system: System| -> Vec<usize> {
        let has =
            |plan: &BayPlan| plan.fitting.system() == Some(system) && plan.fitting.shelves().is_some_and(|all| !all.shelves.is_empty());
        plans.iter().enumerate().filter(|(_, plan)| has(plan)).map(|(bay, _)| bay + 1).collect()
    };
    let there: Vec<(System, Vec<usize>)> =
        System::ALL.into_iter().map(|system| (system, bays(system))).filter(|(_, bays)| !bays.is_empty()).collect();
    let many = there.len() > 1;
    let told: Vec<String> = there
        .iter()
        .map(|(system, bays)| {
            let of = if many { format!("{}: ", of_bays(bays)) } else { String::new() };
            format!("{of}{}", held(design, model, *system))
        })
        .collect();
    (!told.is_empty()).then(|| format!("Shelves: {}. {}.", told.join("; "), species(model, &design.timber.shelving)))
}

/// "bay 1", "bays 1 and 3".
fn of_bays(bays: &[usize]) -> String {
    let words: Vec<String> = bays.iter().map(usize::to_string).collect();
    match words.split_last() {
        Some((last, first)) if !first.is_empty() => format!("bays {} and {last}", first.join(", ")),
        Some((one, _)) => format!("bay {one}"),
        None => String::new(),
    }
}

/// What the shelves of a system are, and what holds them.
fn held(design: &Design, model: &Model, system: System) -> String {
    let solid = format!("solid, {} thick,", design.shelf.thickness);
    let boards = |of: ShelfOf| match of {
        ShelfOf::Solid => solid.clone(),
        ShelfOf::Slats => slats(design, model),
    };
    match system {
        System::Sawtooth => {
            let sawtooth = &design.sawtooth;
            let cleat = &sawtooth.cleat;
            let teeth = match sawtooth.teeth {
                Teeth::Sloped => "a tooth".to_owned(),
                Teeth::HalfRound => format!("half rounds of {}", trimmed(2.0 * sawtooth.seat.to_mm())),
            };
            let spacers = if model.parts.iter().any(|part| part.kind == PartKind::Spacer) { ", spacers behind the cleats" } else { "" };
            let ends = match sawtooth.teeth {
                Teeth::Sloped => {
                    let [pitch, seat, crest] = [sawtooth.pitch, sawtooth.seat, sawtooth.crest].map(Length::to_mm);
                    format!(", slopes and ends of cleats at {}° from the upright", trimmed_to(slope_degrees(pitch, seat, crest), 1))
                }
                Teeth::HalfRound => String::new(),
            };
            format!(
                "{} on cleats {} × {}, in standards with {teeth} every {}{ends}{spacers}",
                boards(sawtooth.of),
                cleat.height,
                cleat.thickness,
                sawtooth.pitch
            )
        }
        System::Pins => {
            let pins = &design.pins;
            format!("{solid} on pins in holes of {}, {} deep, every {}, the first {} up", pins.diameter, pins.depth, pins.pitch, pins.first)
        }
        System::Cleats => {
            let cleats = &design.cleats;
            let by = match cleats.by {
                CleatsBy::Glue => "glued",
                CleatsBy::Screws => "screwed",
            };
            format!("{} on cleats {} × {}, {by} to their uprights", boards(cleats.of), cleats.height, cleats.thickness)
        }
        System::Housed => {
            let housing = model.joints.iter().find(|joint| joint.role == Role::ShelfToUpright);
            format!("{solid} {}", housing.map_or_else(|| "in housings".to_owned(), |joint| joint.kind.describe()))
        }
    }
}

fn slats(design: &Design, model: &Model) -> String {
    let slats = &design.sawtooth.slats;
    // The load may have made them thicker than was decided.
    let slat = model.parts.iter().find(|part| part.kind == PartKind::Slat);
    let thickness = trimmed(slat.map_or(slats.thickness.to_mm(), |slat| slat.size[2].mm));
    format!("{} slats {} × {thickness}", slats.count, slats.width)
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
