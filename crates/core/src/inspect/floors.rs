//! A loose floor on its bearers: enough of it lies on either when it is pushed over to the other, and it closes its bay.

use super::own_sizes::own_by_rule;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Bottom, Design, LooseFloor};
use crate::model::{Model, Part, PartId, PartKind, Role};
use crate::place::{Block, Dir};
use crate::sentence;

/// The least of a bearer that a floor lies on, mm (common practice, no source).
pub const LEAST_BORNE: f64 = 6.0;

/// Levels closer than this are one, mm: what a sheet is thinner than planned lies on its bearers all the same.
const LIES: f64 = 3.0;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let Bottom::LooseFloor(LooseFloor { clearance, .. }) = &design.carcase.bottom else { return Vec::new() };
    let of_kind = |kind: PartKind| model.parts.iter().filter(move |part| part.kind == kind);
    let clearance = clearance.to_mm();
    let mut findings: Vec<Finding> = of_kind(PartKind::Floor)
        .flat_map(|floor| of_kind(PartKind::Bearer).filter_map(move |bearer| borne(floor, bearer, clearance)))
        .collect();
    // One that lies on too little is told of already.
    let told: Vec<PartId> = findings.iter().filter_map(|finding| finding.parts.first().copied()).collect();
    let lies = |floor: &&Part| !told.contains(&floor.id) && lies_on_all(model, floor);
    findings.extend(of_kind(PartKind::Floor).filter(lies).filter_map(|floor| open(model, floor, clearance)));
    findings
}

/// Whether a floor reaches everything that it is to lie on.
fn lies_on_all(model: &Model, floor: &Part) -> bool {
    let mut on = model.joints_of(floor.id).filter(|joint| joint.a == floor.id && joint.role == Role::FloorToBearer);
    on.all(|joint| {
        let (over, under) = (floor.block(), model.part(joint.b).block());
        let both = over.max.min(under.max) - over.min.max(under.min);
        both.x > TOUCH && both.z > TOUCH
    })
}

/// The widest slot that a floor leaves at one of its edges, where it is wider than planned.
fn open(model: &Model, floor: &Part, clearance: f64) -> Option<Finding> {
    let ways = [Dir::MinusX, Dir::PlusX, Dir::MinusZ, Dir::PlusZ];
    let beside = ways.into_iter().filter_map(|way| beside(model, floor, way));
    let (other, gap) = beside.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, gap)| *gap > clearance + SLOT + TOUCH)?;
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::FloorCloses,
        seriousness: Seriousness::AtRisk,
        parts: vec![floor.id, other.id],
        joint: None,
        place: Some(floor.block().centre()),
        figures: vec![Figure::mm("open", gap), Figure::mm("planned", clearance)],
        message: format!(
            "{} leaves a slot of {} mm open beside {}, where {} mm are planned",
            floor.title,
            mm(gap),
            other.title,
            mm(clearance)
        ),
        source: "a slot 2 mm wider than planned is seen, and takes what lies at the edge: common practice, no source",
        remedies: own_by_rule(floor).collect(),
    })
}

/// What stands beside most of an edge of a floor, a rail or another floor, and how far from it, mm; none where nothing does.
fn beside<'m>(model: &'m Model, floor: &Part, way: Dir) -> Option<(&'m Part, f64)> {
    let (axis, own) = (way.axis(), floor.block());
    let along = 2 - axis;
    let forward = |block: &Block| if way.sign() > 0.0 { (block.min[axis], block.max[axis]) } else { (-block.max[axis], -block.min[axis]) };
    let edge = forward(&own).1;
    let shared = |other: &Block, on: usize| own.max[on].min(other.max[on]) - own.min[on].max(other.min[on]);
    let others = model.parts.iter().filter(|part| part.id != floor.id && matches!(part.kind, PartKind::Rail | PartKind::Floor));
    let met = others.filter_map(|part| {
        let block = part.body();
        let reaches = shared(&block, along) > (own.max[along] - own.min[along]) / 2.0 && shared(&block, 1) > TOUCH;
        let (from, to) = forward(&block);
        // What it runs into is told elsewhere, and what it is halved over closes it.
        (reaches && to > edge + TOUCH).then_some((part, (from - edge).max(0.0)))
    });
    met.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// A slot is told where it is wider than planned by more than this, mm (common practice, no source).
const SLOT: f64 = 2.0;

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
