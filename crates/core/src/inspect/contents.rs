//! What it must hold: a box that no shelf takes.

use super::{Figure, Finding, Remedy, Rule, Seriousness, mm};
use crate::contents::{Lack, Stance, best_in_use, best_room};
use crate::design::{BaySize, BoxKind, Design, Opening};
use crate::model::Model;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    design.contents.iter().filter(|kind| kind.count > 0).filter_map(|kind| taken_by_none(design, model, kind)).collect()
}

fn taken_by_none(design: &Design, model: &Model, kind: &BoxKind) -> Option<Finding> {
    let hand = &design.hand_room;
    if best_room(model, kind, hand).is_some_and(|(_, fit)| fit.fits()) {
        // What goes in as built, and not past open doors or in every season, is told with all that has no place.
        return None;
    }
    let in_use = best_in_use(design, model, kind).and_then(|(room, fit)| Some((model.rooms.get(room)?, fit)));
    let (message, place, lack) = if let Some((room, fit)) = in_use {
        let missing: Vec<String> = fit.lack.amounts().map(|(word, by)| format!("{} mm {}", mm(by), comparative(word))).collect();
        let lying = if fit.stance == Stance::AsListed { String::new() } else { format!(", {}", fit.stance.words()) };
        let message = format!("No shelf takes {}{lying}: the room on {} would have to be {}", kind.name, room.name, missing.join(" and "));
        (message, Some(room.space.centre()), fit.lack)
    } else {
        let size = Stance::AsListed.size(kind);
        (format!("No shelf takes {}: there is none", kind.name), None, Lack { width: size.x, depth: size.z, height: size.y })
    };
    let bay = in_use.map(|(room, _)| room.bay);
    let remedy = larger(design, lack, bay);
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::BoxFits,
        seriousness: Seriousness::WillFail,
        parts: Vec::new(),
        joint: None,
        place,
        figures: vec![
            Figure::mm("width lacking", lack.width.max(0.0)),
            Figure::mm("depth lacking", lack.depth.max(0.0)),
            Figure::mm("height lacking", lack.height.max(0.0)),
        ],
        message,
        source: "the hand room of the design; its usual figures are common practice, no source",
        remedies: remedy.into_iter().collect(),
    })
}

/// "wider" for width.
fn comparative(word: &str) -> &'static str {
    match word {
        "width" => "wider",
        "depth" => "deeper",
        _ => "higher",
    }
}

/// The case so much deeper and so much wider in a bay: what is lacking in height is a matter of the shelves.
fn larger(design: &Design, lack: Lack, bay: Option<usize>) -> Option<Remedy> {
    let mut changes = Vec::new();
    let mut words = Vec::new();
    for (word, by) in lack.amounts() {
        match word {
            "depth" => {
                words.push(format!("{} mm deeper", mm(by)));
                changes.push(("carcase.depth".to_owned(), (design.carcase.depth.to_mm() + by).to_string()));
            }
            "width" => {
                changes.extend(wider(design, bay?, by)?);
                words.push(format!("{} mm wider", mm(by)));
            }
            _ => return None,
        }
    }
    (!changes.is_empty()).then(|| Remedy { words: format!("Make the case {}", words.join(" and ")), changes })
}

/// What makes one bay wider, and the case with it.
fn wider(design: &Design, bay: usize, by: f64) -> Option<Vec<(String, String)>> {
    let case = ("carcase.width".to_owned(), (design.carcase.width.to_mm() + by).to_string());
    let Opening::Split(split) = &design.interior else { return Some(vec![case]) };
    // A bay that is divided again has no size of its own, and one of several that share what is left grows by a part of it only.
    let flat = split.bays.iter().all(|bay| matches!(bay.opening, Opening::Leaf(_)));
    let shares = split.bays.iter().filter(|bay| matches!(bay.size, BaySize::Share(_))).count();
    match split.bays.get(bay).filter(|_| flat)?.size {
        BaySize::Clear(clear) => Some(vec![case, (format!("interior.bays.{}.size", bay + 1), (clear.to_mm() + by).to_string())]),
        BaySize::Share(_) => (shares == 1).then(|| vec![case]),
    }
}
