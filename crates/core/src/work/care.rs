//! What whoever keeps the case must know: its air, its top, its shelves, what they carry, how it stands, and its surface.

use super::{Case, place};
use crate::derive::bay_plans;
use crate::design::{Dimension, Finish, Place, System, Wall};
use crate::length::{trimmed, trimmed_to};
use crate::loads::{Whole, carries, on_a_label, whole};
use crate::model::PartKind;
use crate::stability::CAUTIONS;
use crate::timber::{Air, Movement};

/// A heading, and what is to be known under it.
#[derive(Clone, Debug, PartialEq)]
pub struct Care {
    /// What it is about: "Air".
    pub title: &'static str,
    /// In full sentences.
    pub words: Vec<String>,
}

/// All that concerns this case.
pub(super) fn of(case: &Case<'_>) -> Vec<Care> {
    let all = [
        ("Air", air(case)),
        ("Top", top(case)),
        ("Shelves", shelves(case)),
        ("What it carries", loads(case)),
        ("How it stands", standing(case)),
        ("Surface", surface(case)),
    ];
    all.into_iter().filter(|(_, words)| !words.is_empty()).map(|(title, words)| Care { title, words }).collect()
}

/// The temperature at which the humidity of a place is told, °C (a heated room: common practice, no source).
const ROOM: f64 = 20.0;

fn air(case: &Case<'_>) -> Vec<String> {
    let moisture = &case.design.timber.moisture;
    let [driest, wettest] = [moisture.driest(), moisture.wettest()];
    let humidity = match &moisture.place {
        Place::Range { .. } => {
            let of = |percent: f64| Air::of_moisture(ROOM, percent).ok().map(|air| air.humidity);
            of(driest).zip(of(wettest)).map(|(dry, wet)| [dry, wet])
        }
        Place::Climate { winter, summer } => Some([winter.humidity.min(summer.humidity), winter.humidity.max(summer.humidity)]),
    };
    let [built, dry, wet] = [moisture.built, driest, wettest].map(|percent| trimmed_to(percent, 1));
    let made = format!("It was built at {built} % moisture, and has room to move from {dry} to {wet} %.");
    let kept = humidity.map(|air| {
        let [dry, wet] = air.map(|percent| trimmed_to(percent, 0));
        format!("Keep its room between {dry} and {wet} % relative humidity; stand it away from radiators, and out of the sun.")
    });
    kept.into_iter().chain([made]).collect()
}

fn top(case: &Case<'_>) -> Vec<String> {
    let Some(top) = case.model.parts.iter().find(|part| part.kind == PartKind::Top && part.material.is_boards()) else { return Vec::new() };
    let moisture = &case.design.timber.moisture;
    let moves = Movement::of(top, &case.model.timbers, moisture.driest(), moisture.wettest()).mm()[Dimension::Width.index()].abs();
    let mut words = vec![format!(
        "The top is solid: from dry to wet it grows from back to front by about {} mm. Leave nothing fixed to it and to the wall or the case besides what holds it now.",
        trimmed_to(moves, 1)
    )];
    let line = case.model.held_lines.iter().find(|line| line.part == top.id && line.axis == 2);
    if let Some(line) = line {
        let block = top.block();
        let share = (line.at - block.min.z) / (block.max.z - block.min.z);
        let (stays, goes) = match share {
            share if share > 0.66 => ("its front edge stays where it is", "the back moves"),
            share if share < 0.34 => ("its back edge stays where it is", "the front moves"),
            _ => ("its middle stays where it is", "front and back move"),
        };
        words.push(format!("It is held so that {stays} and {goes}."));
    }
    words
}

fn shelves(case: &Case<'_>) -> Vec<String> {
    let Ok(plans) = bay_plans(case.design) else { return Vec::new() };
    let has = |system: System| plans.iter().any(|plan| plan.fitting.system() == Some(system) && plan.fitting.shelves().is_some());
    let told = |system: System| match system {
        System::Sawtooth => {
            "To move a shelf on cleats: empty it, take out its boards, tip out both cleats, and set them into teeth of one height, left and right; count the \
             teeth from below. Lay the boards in again, the notched ones round the standards."
        }
        System::Pins => {
            "To move a shelf on pins: empty it, lift it off, and set all its pins into holes of one height, pushed home; count the holes from below."
        }
        System::Cleats => "Shelves on fixed cleats stay where they are.",
        System::Housed => "Shelves that are let into the uprights stay where they are.",
    };
    System::ALL.into_iter().filter(|system| has(*system)).map(|system| told(system).to_owned()).collect()
}

fn loads(case: &Case<'_>) -> Vec<String> {
    let each = carries(case.design, case.model);
    let all = whole(case.design, case.model, &each);
    let mut words: Vec<String> = Vec::new();
    let mut kgs: Vec<(String, Vec<&str>)> = Vec::new();
    for one in each.iter().filter(|one| one.kg.is_finite()) {
        let Some(room) = case.model.rooms.get(one.room) else { continue };
        let kg = on_a_label(Whole::on_one(all, one.kg));
        match kgs.iter_mut().find(|(known, _)| *known == kg) {
            Some((_, rooms)) => rooms.push(&room.name),
            None => kgs.push((kg, vec![&room.name])),
        }
    }
    words.extend(kgs.into_iter().map(|(kg, rooms)| format!("At most {kg} kg, evenly spread: {}.", rooms.join("; "))));
    if let Some(all) = all {
        words.push(format!("At most {} kg on all of them together.", on_a_label(all.kg)));
    }
    if !words.is_empty() {
        let hand = &case.design.hand_room;
        words.push(format!("What is heavy lies low: nothing over {} kg higher than {} mm.", trimmed(hand.heavy), hand.heavy_up_to));
    }
    words
}

fn standing(case: &Case<'_>) -> Vec<String> {
    if !place::can_hurt(case) {
        return Vec::new();
    }
    let anchored = matches!(case.design.carcase.wall, Wall::Anchored(_));
    let first = anchored.then(|| "Where it is moved to another place, anchor it there again before it is filled.".to_owned());
    first.into_iter().chain(CAUTIONS.iter().map(|words| (*words).to_owned())).collect()
}

/// Common practice, no source; what the maker of the finish says comes first.
fn surface(case: &Case<'_>) -> Vec<String> {
    let words = match case.design.timber.finish {
        Finish::Open => return Vec::new(),
        Finish::Bare => "It is bare wood: dust it dry, and dry at once what is spilt; water raises the grain.",
        Finish::DryingOil => {
            "It is oiled: dust it dry, and oil it again thinly where it looks dull. Hang oily rags flat outdoors or drown them: they catch fire by themselves."
        }
        Finish::Film => "Wipe it with a damp cloth and then dry; dry at once what is spilt, and put something under what is hot.",
    };
    vec![words.to_owned()]
}
