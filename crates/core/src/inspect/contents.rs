//! What it must hold: a box that no shelf takes.

use super::{Figure, Finding, Remedy, Rule, Seriousness, mm};
use crate::contents::{Lack, best_room};
use crate::design::Design;
use crate::model::Model;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    design
        .contents
        .iter()
        .filter(|kind| kind.count > 0)
        .filter_map(|kind| {
            let (room, lack) = best_room(model, kind);
            let Lack { width, depth, height } = lack?;
            let mut missing = Vec::new();
            for (word, amount) in [("wider", width), ("deeper", depth), ("higher", height)] {
                if amount > 0.0 {
                    missing.push(format!("{} mm {word}", mm(amount)));
                }
            }
            let (message, place) = match room {
                Some(room) => (
                    format!("No shelf takes {}: the room on {} would have to be {}", kind.name, room.name, missing.join(" and ")),
                    Some(room.space.centre()),
                ),
                None => (format!("No shelf takes {}: there is none", kind.name), None),
            };
            // More depth is the one lack that a single decision always mends.
            let remedy = (width <= 0.0 && height <= 0.0 && depth > 0.0).then(|| Remedy {
                words: format!("Make the case {} mm deeper", mm(depth)),
                changes: vec![("carcase.depth".to_owned(), (design.carcase.depth.to_mm() + depth).to_string())],
            });
            Some(Finding {
                explains: Vec::new(),
                rule: Rule::BoxFits,
                seriousness: Seriousness::WillFail,
                parts: Vec::new(),
                joint: None,
                place,
                figures: vec![
                    Figure::mm("width lacking", width.max(0.0)),
                    Figure::mm("depth lacking", depth.max(0.0)),
                    Figure::mm("height lacking", height.max(0.0)),
                ],
                message,
                source: "hand room over a box 25, beside it 3, behind it 5: common practice, no source",
                remedies: remedy.into_iter().collect(),
            })
        })
        .collect()
}
