//! The moisture against the range in which movement can be reckoned, and against that of the place.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::Design;
use crate::timber::movement::GOOD_FROM_TO as RANGE;

pub(super) fn check(design: &Design) -> Vec<Finding> {
    rough(design).into_iter().chain(only_one_way(design)).collect()
}

/// Timber that is built wetter or drier than it will ever be in its place.
fn only_one_way(design: &Design) -> Option<Finding> {
    let moisture = &design.timber.moisture;
    let (built, driest, wettest) = (moisture.built, moisture.driest(), moisture.wettest());
    let (than, does) = if built > wettest + TOUCH {
        ("wetter", "shrinks")
    } else if built < driest - TOUCH {
        ("drier", "grows")
    } else {
        return None;
    };
    let figure = |name, value| Figure::new(name, value, "%");
    Some(Finding {
        rule: Rule::MoistureRange,
        seriousness: Seriousness::Note,
        parts: Vec::new(),
        explains: Vec::new(),
        joint: None,
        place: None,
        figures: vec![figure("built", built), figure("driest", driest), figure("wettest", wettest)],
        message: format!(
            "Built at {} % moisture it is {than} than it will ever be in its place, {} to {} %: from there it only {does}",
            mm(built),
            mm(driest),
            mm(wettest)
        ),
        source: "timber comes to the moisture of its place before it is worked: common practice, no source",
        remedies: vec![Remedy {
            words: format!("Let the timber come to between {} and {} % before it is worked, and measure it again", mm(driest), mm(wettest)),
            changes: Vec::new(),
        }],
    })
}

fn rough(design: &Design) -> Option<Finding> {
    let moisture = &design.timber.moisture;
    let (low, high) = (moisture.driest().min(moisture.built), moisture.wettest().max(moisture.built));
    if low >= RANGE.0 && high <= RANGE.1 {
        return None;
    }
    let figure = |name, value| Figure::new(name, value, "%");
    Some(Finding {
        rule: Rule::MoistureRange,
        seriousness: Seriousness::Note,
        parts: Vec::new(),
        explains: Vec::new(),
        joint: None,
        place: None,
        figures: vec![figure("driest", low), figure("wettest", high)],
        message: format!(
            "Movement is reckoned for {} to {} % moisture; outside {} to {} % it is a rough guide",
            mm(low),
            mm(high),
            RANGE.0,
            RANGE.1
        ),
        source: "Wood Handbook FPL-GTR-190, table 13-5",
        remedies: Vec::new(),
    })
}
