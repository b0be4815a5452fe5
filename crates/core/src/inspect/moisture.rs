//! The moisture against the range in which movement can be reckoned.

use super::{Figure, Finding, Rule, Seriousness, mm};
use crate::design::Design;
use crate::timber::movement::GOOD_FROM_TO as RANGE;

pub(super) fn check(design: &Design) -> Option<Finding> {
    let moisture = &design.timber.moisture;
    let (low, high) = (moisture.driest().min(moisture.built), moisture.wettest().max(moisture.built));
    if low >= RANGE.0 && high <= RANGE.1 {
        return None;
    }
    let figure = |name, value| Figure { name, value, unit: "%" };
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
