//! What it must hold: a box that no shelf takes.

use super::{Figure, Finding, Remedy, Rule, Seriousness, mm};
use crate::contents::{Lack, Stance, best_room};
use crate::design::{BoxKind, Design};
use crate::model::Model;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    design.contents.iter().filter(|kind| kind.count > 0).filter_map(|kind| taken_by_none(design, model, kind)).collect()
}

fn taken_by_none(design: &Design, model: &Model, kind: &BoxKind) -> Option<Finding> {
    let hand = &design.hand_room;
    let (message, place, lack) = match best_room(model, kind, hand) {
        Some((_, fit)) if fit.fits() => return None,
        Some((room, fit)) => {
            let comparative = |word: &str| {
                if word == "width" {
                    "wider"
                } else if word == "depth" {
                    "deeper"
                } else {
                    "higher"
                }
            };
            let missing: Vec<String> = fit.lack.amounts().map(|(word, by)| format!("{} mm {}", mm(by), comparative(word))).collect();
            let lying = if fit.stance == Stance::AsListed { String::new() } else { format!(", {}", fit.stance.words()) };
            let message =
                format!("No shelf takes {}{lying}: the room on {} would have to be {}", kind.name, room.name, missing.join(" and "));
            (message, Some(room.space.centre()), fit.lack)
        }
        None => {
            let size = Stance::AsListed.size(kind);
            (format!("No shelf takes {}: there is none", kind.name), None, Lack { width: size.x, depth: size.z, height: size.y })
        }
    };
    // More depth is the one lack that a single decision always mends.
    let only_depth = lack.amounts().all(|(word, _)| word == "depth");
    let remedy = only_depth.then(|| Remedy {
        words: format!("Make the case {} mm deeper", mm(lack.depth)),
        changes: vec![("carcase.depth".to_owned(), (design.carcase.depth.to_mm() + lack.depth).to_string())],
    });
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
