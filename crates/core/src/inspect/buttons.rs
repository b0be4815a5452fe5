//! Buttons that hold the top: enough tongue in the rail when the top has shrunk.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, FixedLine, Top};
use crate::joint::JointKind;
use crate::model::Model;

/// The least of a tongue that stays in its slot, mm (common practice, no source).
pub const LEAST_HELD: f64 = 4.0;

pub(super) fn check(design: &Design, model: &Model) -> Option<Finding> {
    // The worst of them speaks for all: they rest on one decision.
    let held = model.joints.iter().filter_map(|joint| match &joint.kind {
        JointKind::Button(figures) => Some((joint, figures.held())),
        _ => None,
    });
    let (joint, held) = held.min_by(|a, b| a.1.total_cmp(&b.1))?;
    if held >= LEAST_HELD - TOUCH {
        return None;
    }
    let (button, rail) = (model.part(joint.a), model.part(joint.b));
    let lost = held <= TOUCH;
    Some(Finding {
        rule: Rule::ButtonHolds,
        seriousness: if lost { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![button.id, rail.id],
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("held", held), Figure::mm("least", LEAST_HELD)],
        message: if lost {
            format!("{} comes out of {} when the top is driest", button.title, rail.title)
        } else {
            format!("{} is held by only {} mm in {} when the top is driest", button.title, mm(held), rail.title)
        },
        source: "movement: Wood Handbook FPL-GTR-190, equation 13-2; 4 mm of tongue: common practice, no source",
        remedies: held_in_the_middle(design).into_iter().collect(),
    })
}

/// A top that is held in its middle moves half as far at either edge.
fn held_in_the_middle(design: &Design) -> Option<Remedy> {
    let Top::Slab(slab) = &design.carcase.top else { return None };
    (slab.buttons.fixed != FixedLine::Centre).then(|| Remedy {
        words: "Hold the top in the middle, so that half of its movement shows at each edge".to_owned(),
        changes: vec![("carcase.top.buttons.fixed".to_owned(), "centre".to_owned())],
    })
}
