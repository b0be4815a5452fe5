//! The sizes that a finding about joints, grooves and walls may be mended by: those of its joint, of the other joints in its part, and of its rails.

use super::{Knob, STEP, WHOLE, steps};
use crate::design::{Design, decisions};
use crate::inspect::{Finding, Remedy, Rule, depth_of, own_by_rule};
use crate::joint::{JointKind, sizes_path};
use crate::model::{Joint, Model, PartKind};

/// The ways back to the rules for the sizes of the joints that a finding is about, and for those of the parts that it names first.
pub(super) fn by_rule(design: &Design, model: &Model, finding: &Finding) -> Vec<Remedy> {
    let decisions = decisions::list(design);
    let of_joints = paths(model, finding).into_iter().filter_map(|(path, _)| crate::inspect::by_rule(&decisions, &path));
    let of_parts = finding.parts.iter().take(NAMED).flat_map(|part| own_by_rule(model.part(*part)));
    of_joints.chain(of_parts).collect()
}

/// The sizes that may mend, those of the joint first.
pub(super) fn knobs(design: &Design, model: &Model, finding: &Finding) -> Vec<Knob> {
    let of_joints = paths(model, finding).into_iter().flat_map(|(path, joint)| of_joint(design, &path, &joint.kind));
    of_joints.chain(of_parts(design, model, finding)).collect()
}

/// Where the sizes of the joint of a finding are decided, and of the other joints in the part that it names first where that is about what several cuts
/// leave; each with one of its joints.
fn paths<'m>(model: &'m Model, finding: &Finding) -> Vec<(String, &'m Joint)> {
    let own = finding.joint.map(|joint| model.joint(joint));
    let several = matches!(finding.rule, Rule::GrooveLeavesWood | Rule::MortisesMeet);
    let in_part = finding.parts.first().filter(|_| several).into_iter().flat_map(|part| model.joints_of(*part));
    let mut paths: Vec<(String, &Joint)> = Vec::new();
    for joint in own.into_iter().chain(in_part) {
        if let Some(path) = sizes_path(joint).filter(|path| paths.iter().all(|(known, _)| known != path)) {
            paths.push((path, joint));
        }
    }
    paths
}

fn of_joint(design: &Design, path: &str, kind: &JointKind) -> Vec<Knob> {
    let knob = |size: &str, step: f64, words: &str| steps(design, &format!("{path}.{size}"), step, words);
    let one = match kind {
        JointKind::LooseTenons(_) => {
            let margin = knob("margin", WHOLE, "begin the mortises {} mm from the edge");
            return margin.into_iter().chain(knob("width", -WHOLE, "take loose tenons {} mm wide")).collect();
        }
        JointKind::Dowels(_) => knob("deeper", -STEP, "bore the holes {} mm deeper than the dowels go"),
        JointKind::Groove(_) => knob("depth", -WHOLE, "make the grooves {} mm deep"),
        JointKind::Pin(_) => knob("depth", -WHOLE, "bore the holes for the pins {} mm deep"),
        JointKind::Button(_) => knob("tongue", WHOLE, "make the tongues {} mm long"),
        JointKind::Tenon(_)
        | JointKind::Lap(_)
        | JointKind::Bridle(_)
        | JointKind::Screws(_)
        | JointKind::Clip(_)
        | JointKind::Plate(_)
        | JointKind::SlottedScrew(_)
        | JointKind::ScrewedUp(_)
        | JointKind::Notch(_)
        | JointKind::Seat(_)
        | JointKind::Plain(_)
        | JointKind::Tongue(_)
        | JointKind::Housing(_)
        | JointKind::SlidingDovetail(_)
        | JointKind::Rabbet(_)
        | JointKind::BoxJoint(_)
        | JointKind::Dovetail(_)
        | JointKind::Breadboard(_) => None,
    };
    one.into_iter().collect()
}

/// A thicker top, or larger rails, where a finding is about one: as high, or as thick.
pub(super) fn of_parts(design: &Design, model: &Model, finding: &Finding) -> Vec<Knob> {
    let named = || finding.parts.iter().take(NAMED).map(|part| model.part(*part));
    if finding.rule != Rule::Overlap && named().any(|part| part.kind == PartKind::Top) {
        return steps(design, "carcase.top.thickness", WHOLE, "make the top {} mm thick").into_iter().collect();
    }
    let Some(rail) = named().find(|part| matches!(part.kind, PartKind::Rail | PartKind::CrossRail)) else { return Vec::new() };
    let high = depth_of(model, rail).and_then(|(path, what)| steps(design, path, WHOLE, &format!("make {what} {{}} mm high")));
    let thick = steps(design, "carcase.rails.thickness", WHOLE, "make the rails {} mm thick");
    high.into_iter().chain(thick).collect()
}

/// A finding is about the parts that it names first; the others are like them.
pub(super) const NAMED: usize = 3;
