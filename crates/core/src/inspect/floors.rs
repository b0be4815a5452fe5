//! A loose floor on its bearers: enough of it lies on either when it is pushed over to the other.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Bottom, Design, LooseFloor};
use crate::model::{Model, Part, PartKind};
use crate::sentence;

/// The least of a bearer that a floor lies on, mm (common practice, no source).
pub const LEAST_BORNE: f64 = 6.0;

/// Levels closer than this are one, mm: what a sheet is thinner than planned lies on its bearers all the same.
const LIES: f64 = 3.0;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let Bottom::LooseFloor(LooseFloor { clearance, .. }) = &design.carcase.bottom else { return Vec::new() };
    let of_kind = |kind: PartKind| model.parts.iter().filter(move |part| part.kind == kind);
    of_kind(PartKind::Floor)
        .flat_map(|floor| of_kind(PartKind::Bearer).filter_map(move |bearer| borne(floor, bearer, clearance.to_mm())))
        .collect()
}

fn borne(floor: &Part, bearer: &Part, clearance: f64) -> Option<Finding> {
    let (over, under) = (floor.block(), bearer.block());
    let along = over.max.x.min(under.max.x) - over.min.x.max(under.min.x);
    if along <= TOUCH || (over.min.y - under.max.y).abs() > LIES {
        return None;
    }
    let now = over.max.z.min(under.max.z) - over.min.z.max(under.min.z);
    // The other way it can go as far as it is free there.
    let least = now - clearance;
    (least < LEAST_BORNE - TOUCH).then(|| {
        let wanted = (LEAST_BORNE + 2.0 * clearance).ceil();
        let fails = least <= TOUCH;
        Finding {
            explains: Vec::new(),
            rule: Rule::FloorBears,
            seriousness: if fails { Seriousness::WillFail } else { Seriousness::AtRisk },
            parts: vec![floor.id, bearer.id],
            joint: None,
            place: Some(under.centre()),
            figures: vec![Figure::mm("borne", least), Figure::mm("least", LEAST_BORNE)],
            message: if fails {
                format!("{} drops off {} when it is pushed over", floor.title, bearer.title)
            } else {
                format!("{} lies on only {} mm of {} when it is pushed over", floor.title, mm(least), bearer.title)
            },
            source: "at least 6 mm of a bearer under a loose floor: common practice, no source",
            remedies: if bearer.size.iter().any(crate::origin::Size::is_measured) {
                vec![Remedy {
                    words: format!("Make {} new", sentence::inside(&bearer.title)),
                    changes: vec![(format!("made.{}.state", bearer.name), "planned".to_owned())],
                }]
            } else {
                vec![
                    Remedy::length(format!("Make the bearers {} mm", mm(wanted)), "carcase.bottom.bearer", wanted),
                    Remedy::length("Leave 1 mm free round the floor".to_owned(), "carcase.bottom.clearance", 1.0),
                ]
            },
        }
    })
}
