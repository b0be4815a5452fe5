//! Parts that run into each other when the case is at its driest or wettest, and did not when it was built.

use std::collections::{BTreeMap, HashSet};

use casewright_solid::{Cells, broad_phase, clearance, overlap};
use glam::DVec3;

use super::{Swollen, growth, swollen};
use crate::design::Design;
use crate::inspect::{Figure, Finding, Rule, Seriousness, TOUCH};
use crate::length::trimmed as mm;
use crate::model::{Model, PartId, PartKind};
use crate::shapes::Solids;

/// What runs less deep into another than this is pressed together, mm: wood gives that much (common practice, no source).
const GIVES: f64 = 0.2;

/// What runs into each other at the driest and at the wettest that the piece will be in its place; `told` is what was found before.
pub fn findings(design: &Design, model: &Model, solids: &Solids, told: &[Finding]) -> Vec<Finding> {
    let moisture = &design.timber.moisture;
    [(moisture.driest(), "driest"), (moisture.wettest(), "wettest")]
        .into_iter()
        .filter(|(then, _)| (then - moisture.built).abs() > f64::EPSILON)
        .flat_map(|(then, word)| {
            let at = format!("At its {word}, {} % moisture", mm(then));
            check(model, solids, &growth(model, moisture.built, then), &at, told)
        })
        .collect()
}

/// Every two parts that run into each other at a moisture, one finding for parts of the same kinds; `at` says when, such as "at 11 %, the wettest".
///
/// Only pairs that stood clear of each other when built. Those that touch press each other or part, which is for the checks of the joints to judge,
/// as glue across the grain is, and pairs of which a finding in `told` speaks.
pub fn check(model: &Model, solids: &Solids, growth: &[DVec3], at: &str, told: &[Finding]) -> Vec<Finding> {
    let now = swollen(model, growth);
    let cells: Vec<Option<Cells>> =
        model.parts.iter().zip(&now).map(|(part, now)| solids.cells(part.id).map(|cells| cells.stretched(now.scale))).collect();
    let boxes: Vec<(DVec3, DVec3)> = model
        .parts
        .iter()
        .zip(&cells)
        .zip(&now)
        .map(|((part, cells), now)| {
            let (min, max) = cells.as_ref().map_or((DVec3::ZERO, part.lwt()), Cells::bounds);
            now.pose.bounds_of_box(min, max)
        })
        .collect();
    let together = held_together(model);
    let mut alike: BTreeMap<(PartKind, PartKind), Vec<Struck>> = BTreeMap::new();
    for (a, b) in broad_phase(&boxes) {
        let pair = (PartId(a), PartId(b));
        if together.contains(&pair) || told.iter().any(|finding| finding.parts.contains(&pair.0) && finding.parts.contains(&pair.1)) {
            continue;
        }
        if let Some(struck) = struck(model, solids, [&cells[a], &cells[b]], [&now[a], &now[b]], pair) {
            alike.entry((model.part(pair.0).kind, model.part(pair.1).kind)).or_default().push(struck);
        }
    }
    alike.into_values().filter_map(|pairs| tell(model, &pairs, at)).collect()
}

/// Two parts that run into each other.
struct Struck {
    pair: (PartId, PartId),
    depth: f64,
    place: DVec3,
}

fn struck(model: &Model, solids: &Solids, cells: [&Option<Cells>; 2], now: [&Swollen; 2], pair: (PartId, PartId)) -> Option<Struck> {
    let found = overlap(cells[0].as_ref()?, &now[0].pose, cells[1].as_ref()?, &now[1].pose)?;
    if found.depth <= GIVES {
        return None;
    }
    let before = clearance(solids.cells(pair.0)?, &model.part(pair.0).pose, solids.cells(pair.1)?, &model.part(pair.1).pose);
    (before.distance > TOUCH).then_some(Struck { pair, depth: found.depth, place: found.deepest_at })
}

/// Pairs that glue holds: the members of a glued joint, and its loose parts with both; and what is glued on beside each other to one part.
fn held_together(model: &Model) -> HashSet<(PartId, PartId)> {
    let mut together = HashSet::new();
    for joint in model.joints.iter().filter(|joint| joint.glued) {
        let all: Vec<PartId> = [joint.a, joint.b].into_iter().chain(joint.loose.iter().copied()).collect();
        together.extend(all.iter().flat_map(|a| all.iter().map(move |b| (*a, *b))).filter(|(a, b)| a < b));
    }
    together
}

fn tell(model: &Model, pairs: &[Struck], at: &str) -> Option<Finding> {
    let worst = pairs.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))?;
    let mut parts = vec![worst.pair.0, worst.pair.1];
    for struck in pairs {
        parts.extend([struck.pair.0, struck.pair.1].iter().filter(|part| !parts.contains(part)).copied().collect::<Vec<_>>());
    }
    let (a, b) = (&model.part(worst.pair.0).title, &model.part(worst.pair.1).title);
    let more = if pairs.len() > 1 { format!("; so do {} more like them", pairs.len() - 1) } else { String::new() };
    Some(Finding {
        rule: Rule::Season,
        seriousness: Seriousness::WillFail,
        parts,
        explains: Vec::new(),
        joint: None,
        place: Some(worst.place),
        figures: vec![Figure::mm("into each other", worst.depth), Figure::count("pairs", pairs.len() as u32)],
        message: format!("{at}: {a} and {b} run {} mm into each other{more}", mm(worst.depth)),
        source: "geometry: every part grown by its own movement",
        remedies: Vec::new(),
    })
}
