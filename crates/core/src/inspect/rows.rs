//! Fixings of a top in their rows along the rails: how far from one to the next, and from a corner to the first.

use std::collections::BTreeMap;

use crate::joint::rules::Rules;
use crate::joint::{Broken, JointKind};
use crate::model::{Joint, JointId, Model, PartId, Role};

/// The most that fixings of a kind stand apart, mm, with its source; nothing for other joints.
fn most(joint: &Joint) -> Option<(f64, &'static str)> {
    const TOPS: &str = "magazines' articles on fastening table tops; half as far from a corner: common practice, no source";
    const SCREWS: &str = "common practice, no source";
    match (&joint.kind, joint.role) {
        (JointKind::Button(_), Role::ButtonToRail) => Some((300.0, TOPS)),
        (JointKind::Clip(_), Role::FixingToRail) => Some((500.0, TOPS)),
        (JointKind::Plate(_), Role::FixingToRail) => Some((450.0, TOPS)),
        (JointKind::SlottedScrew(_), Role::FixingToTop) => Some((500.0, SCREWS)),
        _ => None,
    }
}

/// The rules that rows of fixings break, each told of the first of its row.
pub(super) fn broken(model: &Model) -> Vec<(JointId, Vec<Broken>)> {
    let mut rows: BTreeMap<PartId, Vec<&Joint>> = BTreeMap::new();
    for joint in model.joints.iter().filter(|joint| most(joint).is_some()) {
        rows.entry(joint.b).or_default().push(joint);
    }
    rows.into_iter().filter_map(|(rail, row)| Some((row[0].id, of_row(model, rail, &row)?))).collect()
}

fn of_row(model: &Model, rail: PartId, row: &[&Joint]) -> Option<Vec<Broken>> {
    let (limit, source) = most(row[0])?;
    let rail = model.part(rail);
    // Along the rail.
    let axis = crate::place::Dir::nearest(rail.pose.vector(glam::DVec3::X)).axis();
    let body = rail.body();
    let mut at: Vec<f64> = row.iter().map(|joint| joint.contact.centre[axis]).collect();
    at.sort_by(f64::total_cmp);
    let apart = at.windows(2).map(|pair| pair[1] - pair[0]).fold(0.0, f64::max);
    let corner = (at[0] - body.min[axis]).max(body.max[axis] - at[at.len() - 1]);
    let rules = Rules::default()
        .at_most(limit, apart, "what holds a top stands near enough to the next", source)
        .mended_by("carcase.top.buttons.spacing", limit)
        .mended_by("carcase.top.buttons.first", FIRST)
        .at_most(limit / 2.0, corner, "what holds a top stands near enough to a corner", source)
        .mended_by("carcase.top.buttons.first", FIRST);
    Some(rules.broken())
}

/// From a corner to the first fixing, mm (magazines' articles: some 50; common practice, no source).
const FIRST: f64 = 60.0;
