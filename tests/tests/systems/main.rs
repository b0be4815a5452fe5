//! Shelving systems: each complete with parts, fit, strength and setting-out, alone and mixed in one case.

mod each;
mod sawtooth;
mod setting_out;

use casewright_core::model::{Feature, Part};
use casewright_core::sequence::{self, Sequence};
use casewright_core::{Finding, seasons};
use casewright_tests::Case;

/// The heights of the places of a row or of teeth above the floor of the room, mm.
fn heights(part: &Part) -> Vec<Vec<f64>> {
    let up = |l: f64| part.pose.point(glam::DVec3::new(l, 0.0, 0.0)).y;
    let row = |first: f64, pitch: f64, count: u32| -> Vec<f64> {
        let mut all: Vec<f64> = (0..count).map(|index| up(first + pitch * f64::from(index))).collect();
        all.sort_by(f64::total_cmp);
        all
    };
    part.cuts
        .iter()
        .filter_map(|cut| match cut.feature {
            Feature::HoleRow { first, pitch, count, .. } => Some(row(first.x, pitch, count)),
            Feature::Teeth { first, pitch, count, .. } | Feature::HalfRounds { first, pitch, count, .. } => Some(row(first, pitch, count)),
            _ => None,
        })
        .collect()
}

/// What the checks, the seasons and the order have to tell of a case, but for glue and tools, which the demo has too.
fn all_findings(case: &Case) -> Vec<Finding> {
    use casewright_core::inspect::{Rule, Seriousness};
    let mut found = case.findings.clone();
    found.extend(seasons::findings(&case.design, &case.model, &case.solids, &case.findings));
    found.extend(sequence::findings(&Sequence::of(&case.design, &case.model, &case.solids), &case.model, &case.design.shop.glue));
    // That wood is pressed together by a hair is a note of the seasons, whatever holds the shelves.
    let is_pressed = |finding: &Finding| finding.rule == Rule::Season && finding.seriousness == Seriousness::Note;
    found.retain(|finding| !matches!(finding.rule, Rule::GlueTime | Rule::ToolReach) && !is_pressed(finding));
    found
}

fn told(case: &Case, findings: &[Finding]) -> String {
    let lines = findings.iter().map(|finding| format!("{:?} {:?}: {}", finding.rule, case.names(finding), finding.message));
    lines.collect::<Vec<_>>().join("\n")
}
