//! Sizes of joints as they are cut, where that is not what is asked.

use super::{JointKind, role_path};
use crate::design::decisions::{Decision, Value};
use crate::length::trimmed;
use crate::model::{Joint, Model};

/// A size that is cut other than asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AsCut {
    /// What is cut, mm.
    pub mm: f64,
    /// In how many joints.
    pub joints: usize,
    /// Of how many that rest on the same decision.
    pub of: usize,
    /// Why it is not as asked, in words.
    pub why: &'static str,
}

impl AsCut {
    /// `cut 35 in 16 of 28 joints: mitred, to meet another tenon`.
    pub fn describe(&self) -> String {
        let joints = match (self.joints, self.of) {
            (_, 1) => String::new(),
            (some, all) if some == all => format!(" in all {all} joints"),
            (some, all) => format!(" in {some} of {all} joints"),
        };
        format!("cut {}{joints}: {}", trimmed(self.mm), self.why)
    }
}

/// What is cut of a decision on ends where that is not what it asks, be it the maker's own size or that of a rule; the size that most joints
/// have comes first. Empty for other decisions, and where all is cut as asked.
pub fn as_cut(model: &Model, decision: &Decision) -> Vec<AsCut> {
    /// Sizes nearer than this are shown as the same, mm.
    const SAME: f64 = 0.005;
    let asked = match &decision.value {
        Value::Length(length) => length.to_mm(),
        Value::Ruled { own, rule } => own.unwrap_or(*rule).to_mm(),
        Value::Number(_) | Value::Count(_) | Value::Choice { .. } | Value::Text(_) => return Vec::new(),
    };
    let path = decision.spec.path.strip_prefix("joinery.").and_then(|path| path.split_once('.'));
    let Some((group, word)) = path else { return Vec::new() };
    let sizes = |joint: &&Joint| role_path(joint.role) == Some(group);
    let cut: Vec<(f64, &'static str)> = model.joints.iter().filter(sizes).filter_map(|joint| cut_as(&joint.kind, word)).collect();
    let mut all: Vec<AsCut> = Vec::new();
    for (mm, why) in cut.iter().copied().filter(|(mm, _)| (mm - asked).abs() > SAME) {
        match all.iter_mut().find(|known| (known.mm - mm).abs() <= SAME && known.why == why) {
            Some(known) => known.joints += 1,
            None => all.push(AsCut { mm, joints: 1, of: cut.len(), why }),
        }
    }
    all.sort_by(|a, b| b.joints.cmp(&a.joints).then(b.mm.total_cmp(&a.mm)));
    all
}

/// The size of that name as cut in a joint, and why it may be another than is asked.
fn cut_as(kind: &JointKind, word: &str) -> Option<(f64, &'static str)> {
    const ROOM: &str = "as the other part has room for it";
    match kind {
        JointKind::Tenon(figures) => match word.strip_prefix("tenon.")? {
            "length" if figures.mitred => Some((figures.length, "mitred, to meet another tenon")),
            "length" if figures.through => Some((figures.length, "through the other part")),
            "length" => Some((figures.length, ROOM)),
            "thickness" => Some((figures.thickness, "thinner, so that it is 3 thicknesses long")),
            "shoulder" => {
                let [first, second] = figures.edges;
                Some((first.max(second), "a groove, a mortise or the end of the other part is near"))
            }
            _ => None,
        },
        JointKind::LooseTenons(figures) => {
            const MITRED: &str = "mitred, to meet another tenon";
            match word {
                "length" => Some((figures.length, MITRED)),
                "depth_in_face" => Some((figures.depth_in_face, MITRED)),
                "margin" => Some((figures.edge.min(figures.margin), "the part is no wider")),
                _ => None,
            }
        }
        JointKind::Dowels(figures) => match word.strip_prefix("dowels.")? {
            "diameter" => Some((figures.diameter, "thinner, so that they go in 2 diameters")),
            "length" => Some((figures.length, ROOM)),
            "margin" => Some((figures.margin, "a groove or a mortise is near, or the part is narrow")),
            _ => None,
        },
        _ => None,
    }
}
