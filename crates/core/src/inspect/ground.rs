//! Nothing stands below the floor of the room.

use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::model::Model;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    model
        .parts
        .iter()
        .filter_map(|part| {
            let block = part.block();
            let below = -block.min.y;
            (below > TOUCH).then(|| Finding {
                explains: Vec::new(),
                rule: Rule::AboveGround,
                seriousness: Seriousness::WillFail,
                parts: vec![part.id],
                joint: None,
                place: Some(block.centre()),
                figures: vec![Figure::mm("below the floor", below)],
                message: format!("{} reaches {} mm below the floor of the room", part.title, mm(below)),
                source: "geometry",
                remedies: Vec::new(),
            })
        })
        .collect()
}
