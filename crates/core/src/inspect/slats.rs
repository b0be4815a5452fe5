//! Slats on their cleats.

use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::model::{Feature, Joint, Model, Role};

/// The least width of a slat that lies on a cleat, mm (common practice, no source).
pub const LEAST_BEARING: f64 = 12.0;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut told = Vec::new();
    let resting = model.joints.iter().filter(|joint| joint.role == Role::SlatToCleat);
    resting
        .filter_map(|joint| {
            // Both ends of a slat, and all slats of a mark, are alike.
            let mark = &model.part(joint.a).mark;
            if told.contains(&mark) {
                return None;
            }
            let finding = bearing(model, joint)?;
            told.push(mark);
            Some(finding)
        })
        .collect()
}

fn bearing(model: &Model, joint: &Joint) -> Option<Finding> {
    let (slat, cleat) = (model.part(joint.a), model.part(joint.b));
    let end_of_slat = joint.contact.centre.x < slat.block().centre().x;
    let notched: f64 = slat
        .cuts
        .iter()
        .filter_map(|cut| match cut.feature {
            Feature::Notch { second_end, width, .. } if second_end != end_of_slat => Some(width),
            _ => None,
        })
        .sum();
    let own = slat.size[1].mm - notched;
    let bearing = own.min(joint.contact.extent.x);
    let seriousness = if bearing <= TOUCH {
        Seriousness::WillFail
    } else if bearing < LEAST_BEARING - TOUCH {
        Seriousness::AtRisk
    } else {
        return None;
    };
    let message = if bearing <= TOUCH {
        format!("{} does not lie on its cleat", slat.title)
    } else {
        format!("{} lies on its cleat with only {} of its width", slat.title, mm(bearing))
    };
    Some(Finding {
        rule: Rule::SlatBears,
        seriousness,
        parts: vec![slat.id, cleat.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("bearing", bearing), Figure::mm("least", LEAST_BEARING)],
        message,
        source: "common practice, no source",
        remedy: None,
    })
}
